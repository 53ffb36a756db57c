//! How hard the ground holds its water: the published curves of water content against suction, and the ways from one to another.
