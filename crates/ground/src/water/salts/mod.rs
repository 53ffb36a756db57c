//! Salts in the soil water: what a laboratory's reading means, what they cost, and how to wash them out.
