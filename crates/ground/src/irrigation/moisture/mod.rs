//! What the ground says of its moisture, and how that corrects the reckoning.

mod assimilate;
pub mod by_feel;
pub mod correction;
mod feel;
pub mod observation;
pub mod tension_trigger;

pub use assimilate::{Correction, LEAST_RECKONING_ERROR, correct};
pub use feel::{FeelGroup, FeelRow, FeelStep};
pub use observation::{Instrument, MoistureReading, Observation, Observed, Place, observed_shares};

crate::kit::method::methods![
    by_feel::MoistureByFeel,
    tension_trigger::TensionTrigger,
    correction::MoistureCorrection,
];
