//! What a plot is made of, as a weighted ensemble in log-ratio space, from any mix of evidence.

pub mod believe;
pub mod centre;
pub mod combine;
pub mod coordinates;
pub mod disagreement;
pub mod ensemble;
mod even;
pub mod evidence;
pub mod ilr;
mod sampling;
mod state;
pub mod witness;
pub mod worth;
pub mod worth_method;

pub use believe::{Belief, BeliefSummary, ClassOdds, DRAWS, Options, Prior, SharedDraws, TAILS, believe};
pub use disagreement::{Disagreement, Level};
pub use ensemble::{Assumed, Beside, Draw, Ensemble, Known, Odds, Packing, Stones};
pub use witness::{Account, SharedError, Witness};

crate::kit::method::methods![
    coordinates::IlrCoordinates,
    centre::CompositionCentre,
    combine::CombineEvidence,
    worth_method::MeasurementWorth,
];
