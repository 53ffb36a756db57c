//! What a plot is made of, as a weighted ensemble in log-ratio space, from any mix of evidence.

pub mod ilr;
pub mod witness;

pub use witness::{Account, SharedError, Witness};
