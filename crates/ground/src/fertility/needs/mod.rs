//! What crops need, what is credited, what a harvest carries away.
//!
//! [`removal`] is what harvests take, [`credits`] what the ground gives, [`forecast`] where phosphorus goes.

pub mod credits;
pub mod forecast;
pub mod pre_sidedress;
pub mod removal;

crate::kit::method::methods![
    removal::CropRemoval,
    credits::NitrogenCredits,
    pre_sidedress::PreSidedressNitrate,
    forecast::PhosphorusForecast,
];
