//! How many cores to pull, and where: numbers from the spread of a property and the error one can bear,
//! places inside any outline with strips to keep out of.
//!
//! * [`core_count`], [`composite_error`]: the arithmetic of numbers.
//! * [`variation`], [`protocol`]: tables of usual spreads and published advice.
//! * [`ground_to_sample`]: a plot less what would mislead; [`cells`] a fine grid over it.
//! * [`random_points`], [`stratified_random`], [`zigzag`], [`coverage`]: where. The same seed gives the same points.
//! * [`walking`]: in which order.

pub mod cells;
pub mod composite_error;
pub mod core_count;
pub mod coverage;
pub mod equal_area;
pub mod ground_to_sample;
pub mod means;
pub mod protocol;
pub mod random_points;
pub mod shape;
pub mod slabs;
pub mod stratified_random;
pub mod variation;
pub mod walking;
pub mod zigzag;

crate::kit::method::methods![
    core_count::CoreCount,
    composite_error::CompositeError,
    variation::PropertyVariation,
    protocol::SamplingProtocol,
    ground_to_sample::GroundToSample,
    slabs::PointInTriangle,
    random_points::RandomPoints,
    stratified_random::StratifiedRandom,
    zigzag::Zigzag,
    coverage::SpatialCoverage,
    walking::WalkingOrder,
];
