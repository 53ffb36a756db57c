//! Published schemes that turn a laboratory's figure into a class and a class into a rate.
//!
//! A farm names one [`Scheme`]. [`interpret_in`] gives a figure's class under it, or says why there is
//! none; [`crop_rates`] gives what a crop needs. No gap of one scheme is filled from another.

pub mod build_up;
mod class;
pub mod class_method;
pub mod index_rate;
pub mod potato;
mod rates;
pub mod rates_method;
mod rb209;
mod scheme;
pub mod supply;
pub mod supply_method;
mod unit;
mod us;
pub mod yield_nitrogen;

pub use class::{ClassFound, Interpretation, basis_of, interpret, interpret_in, manganese_activity};
pub use rates::{CropRates, Missing, Nutrient, RateQuestion, RateRange, SchemeCrop, crop_rates, crops_of};
pub use scheme::{Scheme, Standing};
pub use unit::SoilBasis;

crate::kit::method::methods![
    class_method::SoilTestClass,
    rates_method::CropNutrientRates,
    supply_method::NitrogenSupply,
    supply_method::MeasuredSupply,
    potato::PotatoNitrogen,
    yield_nitrogen::NitrogenForYield,
    index_rate::IndexRate,
    build_up::BuildUp,
];
