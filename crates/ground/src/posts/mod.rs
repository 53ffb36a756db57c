//! How deep a post must stand, and what pulls it out.

pub mod ballast_block;
pub mod building_class;
pub mod cautions;
pub mod class_odds;
pub mod collar_concrete;
pub mod cone_uplift;
pub mod depth_odds;
pub mod driving;
pub mod embedment;
pub mod embedment_equations;
pub mod fence_brace;
pub mod fence_practice;
pub mod frost_foot;
pub mod galvanized_life;
pub mod line_wind;
pub mod plate_breakout;
pub mod post_uplift;
pub mod quantities;
pub mod scope;
pub mod screw_anchor;
pub mod shaft_uplift;
pub mod shrink_swell;
pub mod soil_class;
pub mod soil_corrosivity;
pub mod strength;
pub mod thread;
pub mod tunnel_shape;
pub mod tunnel_wind;
pub mod ultimate_lateral;
pub mod unified;
pub mod us;
pub mod wind_pressure;

crate::kit::method::methods![
    scope::PostScope,
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
    wind_pressure::WindPressure,
    tunnel_wind::TunnelWind,
    frost_foot::FrostFoot,
    shrink_swell::ShrinkSwellClass,
    driving::PostDriving,
    soil_corrosivity::SoilCorrosivity,
    galvanized_life::GalvanizedLife,
    fence_brace::FenceBrace,
    fence_practice::FencePostPractice,
    line_wind::LineWind,
    ballast_block::BallastBlock,
];
