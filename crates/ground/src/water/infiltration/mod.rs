//! How fast the ground takes water: Green-Ampt, ring and percolation tests, and the limits they set.
