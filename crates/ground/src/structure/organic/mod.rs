//! Organic matter over the years: how fast it goes, what additions leave, and the water it holds.

pub mod budget;
pub mod decay;
pub mod kinds;
pub mod water_gain;
