//! Where water stands and how to lead it away.

pub mod equivalent_depth;
pub mod field_capacity_days;
pub mod hooghoudt;
pub mod hooghoudt_method;
pub mod natural_class;
pub mod raised_bed;
pub mod signs;
pub mod spacing_guide;
pub mod table_height;
pub mod water_table;

pub use field_capacity_days::DrainingLayer;
pub use hooghoudt::Drains;
pub use natural_class::NaturalDrainage;

crate::kit::method::methods![
    water_table::WaterTableLikelihood,
    equivalent_depth::EquivalentDepth,
    hooghoudt_method::HooghoudtSpacing,
    table_height::HooghoudtWaterTable,
    spacing_guide::DrainSpacingGuide,
    raised_bed::RaisedBedHeight,
    field_capacity_days::DaysToFieldCapacity,
];

/// Cautions of any work with drains and ditches.
pub(crate) const DIGGING: &str =
    "Have buried pipes and cables located before you dig, auger or plough in drains.";
/// Trenches.
pub(crate) const TRENCHES: &str = "Never enter an unshored trench: walls cave in without warning, and codes ask for shoring from about 1.2 to 1.5 m.";
/// Permits.
pub(crate) const PERMITS: &str =
    "Drains and ditches may need a permit, for wetlands and for the outlet most of all: ask before you dig.";
