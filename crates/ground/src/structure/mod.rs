//! Structure: crusts, erosion, how dense is too dense for roots, when the ground may be worked, what the spade
//! shows, organic matter over the years, and whether to loosen.

pub mod crusting;
pub mod density;
pub mod erodibility;
pub mod loosening;
pub mod organic;
pub mod probe;
pub mod root_limits;
pub mod slope_steepness;
pub mod spade;
pub mod working;

crate::kit::method::methods![
    crusting::CrustingIndex,
    erodibility::SoilErodibility,
    slope_steepness::SlopeSteepness,
    density::core::CoreBulkDensity,
    root_limits::RootLimitingDensity,
    density::aeration::AirAtFieldCapacity,
    density::packing::PackingDensity,
    probe::strength::PenetrationResistance,
    probe::transect::ProbeTransect,
    working::limits::ConsistencyLimits,
    working::ball::BallTest,
    working::tillage_range::TillageWaterRange,
    working::workable_days::DaysUntilWorkable,
    spade::look::SpadeLook,
    spade::slake::SlakeTest,
    spade::score::VisualStructureScore,
    spade::worms::EarthwormCount,
    organic::decay::OrganicMatterDecay,
    organic::budget::OrganicMatterBudget,
    organic::water_gain::OrganicMatterWater,
    loosening::method::LooseningDecision,
];
