//! Sand, silt and clay: texture classes, and the tests that find them.

pub mod class;
pub mod class_census;
pub mod composition;
pub mod polygon;

pub mod feel;
pub mod hydrometer;
pub mod jar;
pub mod kitchen_scale;
pub mod lab;

pub use class::Class;
pub use composition::Composition;
pub use polygon::{Polygon, polygons};
