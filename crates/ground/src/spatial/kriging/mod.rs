//! Ordinary kriging: the best weighted mean of readings for a place or a block between them, and how far off it may be.

pub mod block;
pub mod field;
mod grid;
pub mod left_out;
pub mod left_out_method;
pub mod method;
pub mod near;

pub use field::{Estimate, Field, Nugget, Solved};
