//! Structure: crusts, erosion, and how dense is too dense for roots.

pub mod crusting;
pub mod erodibility;
pub mod root_limits;
pub mod slope_steepness;

crate::kit::method::methods![
    crusting::CrustingIndex,
    erodibility::SoilErodibility,
    slope_steepness::SlopeSteepness,
    root_limits::RootLimitingDensity,
];
