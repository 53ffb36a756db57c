//! When water is due, how much and for how long, with odds.

mod ahead;
mod today;
pub mod watering_outlook;

pub use ahead::{Ahead, AheadDay, Allowed, Due, ForecastDay, look_ahead};
pub use today::{BedWatering, Split, Today, advise_today};

crate::kit::method::methods![watering_outlook::WateringOutlook,];
