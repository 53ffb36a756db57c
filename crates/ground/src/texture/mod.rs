//! Sand, silt and clay: texture classes, and the tests that find them.

pub mod class;
pub mod composition;

pub mod feel;
pub mod hydrometer;
pub mod jar;
pub mod kitchen_scale;
pub mod lab;
pub mod settling;

pub use class::Class;
pub use composition::Composition;
