//! Water moving down a profile: the Richards equation in one dimension.
//!
//! Depth runs down from the surface in cm, heads are pressure heads in cm of water, time is hours.
//! A [`Case`] is a layered [`Profile`], how wet it starts, what comes from above and what happens
//! below; a [`Solver`] runs it and fills a [`Run`] with the state at the times asked for. The solver
//! keeps its buffers: run a whole ensemble with one.

pub mod boundary;
pub mod case;
mod cells;
pub mod failure;
mod potential;
pub mod profile;
pub mod question;
pub mod record;
pub mod richards_profile;
pub mod roots;
pub mod solver;
mod stage;
mod surface;
mod tridiagonal;

pub use boundary::{Bottom, Period, Surface, Top};
pub use case::{Case, Start};
pub use failure::FlowFailure;
pub use profile::{Layer, Profile, Spacing};
pub use question::ProfileQuestion;
pub use record::{Run, Snapshot, Totals, csv};
pub use roots::{RootShape, Roots, Uptake};
pub use solver::{Options, Solver};

crate::kit::method::methods![richards_profile::RichardsProfile,];
