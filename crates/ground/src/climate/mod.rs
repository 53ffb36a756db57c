//! Weather, reference evapotranspiration, and what crops drink.
//!
//! * [`sun`], [`vapour`], [`site`]: what the equations below share.
//! * [`et0`]: reference evapotranspiration by day, month and hour, with the rules for missing data.
//! * [`weather`]: days as they are recorded, gaps, normals, an ensemble of what may come, tunnels.
//! * [`season`]: day length, growing degree days, frost dates, effective rain.
//! * [`crops`]: coefficients, stages and roots of crops, day by day.

pub mod crops;
pub mod et0;
pub mod quantities;
pub mod season;
pub mod site;
pub mod sun;
pub mod units;
pub mod vapour;
pub mod weather;

pub use site::{Setting, Site, Surroundings};
