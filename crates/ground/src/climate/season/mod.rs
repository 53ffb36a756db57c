//! The season: how long the days are, how much warmth has gathered, when frost may come, and how much of
//! the rain counts.

pub mod day_length;
pub mod degree_days;
pub mod effective_rain;
pub mod frost;

pub use degree_days::{BaseRule, degree_days};
pub use effective_rain::{RainMethod, effective_rain_mm};
pub use frost::{DateOdds, date_odds, frost_days};

crate::kit::method::methods![
    day_length::DayLength,
    degree_days::GrowingDegreeDays,
    frost::FrostDateOdds,
    effective_rain::EffectiveRain,
];
