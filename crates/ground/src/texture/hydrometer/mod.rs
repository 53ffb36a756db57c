//! Texture by hydrometer: how much soil is still up in a litre of suspension after known times.

pub mod clay;
pub mod cut;
pub mod percent_finer;
pub mod reading;
pub mod texture;
pub mod two_readings;

pub use reading::{DryMass, HydrometerReading, ReadingTime, ScaleAt, ScaleReading, SuspensionTemperature};
pub use two_readings::{HydrometerFinding, assess, witness};
