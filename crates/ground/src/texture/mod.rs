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

crate::kit::method::methods![
    class::TextureClass,
    class_census::TextureClassCensus,
    size_limit::SiltLimitConversion,
    silt_regression::SiltRegression,
    feel::by_feel::TextureByFeel,
    hydrometer::texture::HydrometerTexture,
    hydrometer::cut::HydrometerCut,
    hydrometer::clay::HydrometerClay,
    hydrometer::percent_finer::HydrometerPercentFiner,
    lab::LabTextureMethod,
    kitchen_scale::KitchenScaleTexture,
    fragments::FragmentVolume,
    fragments::FragmentModifier,
    settling::water::WaterViscosity,
    settling::time::SettlingTime,
    settling::cut::SettlingCut,
    jar::jar_test::JarTest,
    jar::calibration::JarCalibration,
    jar::mark_times::JarMarkTimes,
    jar::layers::JarLayers,
    jar::reading_error::JarReadingError,
];
