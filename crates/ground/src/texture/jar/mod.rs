//! The jar test: shaken soil settles into layers, read with a ruler.
//!
//! * [`reading`]: what a person saw, as the farm book keeps it.
//! * [`assess`](mod@assess): what that says about the soil, with its spread.
//! * [`packing`] and [`calibration`]: from settled volume to mass, and how a farm's own laboratory
//!   results sharpen it.
//! * [`layers`], [`reading_error`], [`mark_times`]: the parts of the test that stand alone.

pub mod assess;
#[cfg(test)]
mod assess_tests;
pub mod calibration;
#[cfg(test)]
mod calibration_tests;
mod draws;
mod grains;
pub mod jar_test;
pub mod layers;
pub mod mark_times;
pub mod packing;
mod plan;
pub mod reading;
pub mod reading_error;
mod settled;
pub mod tops;
mod vessel;
mod words;
mod working;

pub use assess::{JarFinding, assess, tells_nothing};
pub use calibration::Calibration;
pub use mark_times::{JarMarkTimes, JarMarkTimesInput, MarkTime};
pub use packing::{ByLayer, CalibrationPair, Packing};
pub use reading::{
    Boundary, Clarity, Dispersant, Fill, JarHeight, JarReading, JarShape, JarTemperature, Marks, TimedMark,
    Width,
};
pub use tops::{LayerTops, Top, layer_tops};
pub use words::{NOTHING_SEEN, duration};
