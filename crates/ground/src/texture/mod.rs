//! Sand, silt and clay: texture classes, and the tests that find them.

pub mod class;
pub mod class_census;
pub mod composition;
pub mod measured;
pub mod polygon;
pub mod silt_regression;
pub mod size_limit;

pub mod feel;
pub mod fragments;
pub mod hydrometer;
pub mod jar;
pub mod kitchen_scale;
pub mod lab;
pub mod settling;

pub use class::Class;
pub use composition::Composition;
pub use measured::{ClassOdds, PercentError, StandardError};
pub use polygon::{Polygon, polygons};
pub use size_limit::SiltLimit;
