//! What a crop drinks, how deep it roots and how dry it may get, day by day.
//!
//! * [`catalogue`]: crops of a market garden with their published parameters, every one of which a farm may
//!   set otherwise ([`Overrides`]).
//! * [`Stages`]: how long the stages last, by month of planting, scaled to a farm's own dates.
//! * [`CropCurve`]: coefficients mended for climate, stand and mulch, and the crop of any day.
//!
//! Day 0 is the day the crop comes into this ground, as seed or as a plant: the source's stage lengths run from
//! there, and no days are taken off for transplants. A farm that sees its transplants cover the ground sooner
//! shortens the first stage.

mod catalogue;
mod coefficient_method;
mod crop;
mod curve;
mod day;
mod day_method;
mod initial;
mod initial_method;
mod mend;
mod overrides;
mod question;
mod stages;

pub use catalogue::{catalogue, find};
pub use coefficient_method::CropCoefficient;
pub use crop::{Crop, Life};
pub use curve::{CropCurve, CropSetting, bare_ground_day, crop_day};
pub use day::{CropDay, CropStage};
pub use day_method::CropDayMethod;
pub use initial::{InitialKc, Wetting, initial_kc, wetting_interval_d};
pub use initial_method::KcInitial;
pub use mend::{Coefficients, Mulch, StageClimate, Stand, climate_term};
pub use overrides::Overrides;
pub use stages::{StageRow, Stages, season_length_d};

crate::kit::method::methods![CropCoefficient, CropDayMethod, KcInitial,];
