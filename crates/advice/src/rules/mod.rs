//! Every rule of advice, one file each and one line here.

mod cover_roots;
mod cracking;
mod crusting;
mod density;
mod drainage_first;
mod erosion;
mod gypsum;
mod hydrologic_group;
mod intake;
mod leaching;
mod mulch;
mod organic_matter;
mod permanent_beds;
mod ponding;
mod post_driving;
mod post_holding;
mod raised_beds;
mod salts;
mod sand_into_clay;
mod sprinklers;
mod water_holding;
mod water_table;
mod workable_after_rain;
mod working_wet;

pub(crate) use erosion::{USUAL_SLOPE_PERCENT, erosion_k};

use crate::rule::Rule;

/// All rules in the order of a page.
pub static RULES: &[&Rule] = &[
    &water_holding::RULE,
    &intake::RULE,
    &ponding::RULE,
    &crusting::RULE,
    &density::RULE,
    &workable_after_rain::RULE,
    &erosion::RULE,
    &cracking::RULE,
    &leaching::RULE,
    &water_table::RULE,
    &drainage_first::RULE,
    &raised_beds::RULE,
    &sprinklers::RULE,
    &salts::RULE,
    &organic_matter::RULE,
    &permanent_beds::RULE,
    &cover_roots::RULE,
    &mulch::RULE,
    &working_wet::RULE,
    &sand_into_clay::RULE,
    &gypsum::RULE,
    &hydrologic_group::RULE,
    &post_driving::RULE,
    &post_holding::RULE,
];
