//! Weather, reference evapotranspiration, and what crops drink.

pub mod crops;
