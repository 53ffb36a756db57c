//! How deep a post must stand, and what pulls it out.

pub mod building_class;
pub mod cautions;
pub mod class_odds;
pub mod embedment;
pub mod embedment_equations;
pub mod quantities;
pub mod soil_class;
pub mod unified;
pub mod us;

crate::kit::method::methods![
    building_class::PresumptiveBearing,
    soil_class::BuildingSoilClass,
    class_odds::BuildingClassOdds,
    embedment::PostEmbedment,
];
