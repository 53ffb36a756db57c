//! How fast the ground takes water: Green-Ampt, ring and percolation tests, and the limits they set.

pub mod curve_number;
pub mod green_ampt;
pub mod green_ampt_method;
pub mod hydrologic_group;
pub mod intake_class;
pub mod intake_soil;
pub mod ksat_class;
pub mod percolation;
pub mod pulses;
pub mod ring;
pub mod ring_method;
pub mod sprinkler_rate;

pub use green_ampt::GreenAmpt;
pub use hydrologic_group::{HydrologicGroup, hydrologic_group};
pub use intake_class::IntakeClass;
pub use ksat_class::KsatClass;

crate::kit::method::methods![
    green_ampt_method::GreenAmptInfiltration,
    ring_method::RingInfiltration,
    percolation::PercolationTest,
    ksat_class::KsatClassMethod,
    hydrologic_group::HydrologicSoilGroup,
    curve_number::RunoffCurveNumber,
    sprinkler_rate::SprinklerRate,
    pulses::IrrigationPulses,
];
