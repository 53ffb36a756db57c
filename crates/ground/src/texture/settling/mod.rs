//! How fast grains fall through water: the physics behind the jar, the hydrometer and the pipette.

pub mod cut;
pub mod stokes;
pub mod time;
pub mod water;

pub use stokes::Fall;
