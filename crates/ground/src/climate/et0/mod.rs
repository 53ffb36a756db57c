//! Reference evapotranspiration: what a clipped, well-watered sward would use.
//!
//! FAO-56 asks for the Penman-Monteith equation even where inputs are missing, and gives a rule for each
//! missing one. [`daily`] picks the best rule that the day allows and tells which it was.

pub mod daily;
mod daily_method;
pub mod equation;
pub mod extraterrestrial;
pub mod hargreaves;
pub mod hourly;
pub mod rules;

pub use daily::{Circumstances, Et0, Et0Parts, Neighbours, et0_day, et0_month};
pub use daily_method::PenmanMonteith;
pub use rules::{HumidityRule, RadiationRule, Rules, WindRule};

crate::kit::method::methods![
    PenmanMonteith,
    hourly::HourlyEt0,
    hargreaves::Hargreaves,
    extraterrestrial::ExtraterrestrialRadiation,
];
