//! How deep a post must stand, and what pulls it out.

pub mod building_class;
pub mod cautions;
pub mod class_odds;
pub mod collar_concrete;
pub mod cone_uplift;
pub mod depth_odds;
pub mod embedment;
pub mod embedment_equations;
pub mod plate_breakout;
pub mod post_uplift;
pub mod quantities;
pub mod screw_anchor;
pub mod shaft_uplift;
pub mod soil_class;
pub mod strength;
pub mod ultimate_lateral;
pub mod unified;
pub mod us;

crate::kit::method::methods![
    building_class::PresumptiveBearing,
    soil_class::BuildingSoilClass,
    class_odds::BuildingClassOdds,
    embedment::PostEmbedment,
    depth_odds::PostDepthOdds,
    ultimate_lateral::PostUltimateLateral,
    shaft_uplift::ShaftUplift,
    cone_uplift::ConeUplift,
    plate_breakout::PlateBreakout,
    screw_anchor::ScrewAnchorUplift,
    post_uplift::PostUplift,
    collar_concrete::CollarConcrete,
];
