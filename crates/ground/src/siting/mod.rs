//! Which crop suits which ground: what crops ask of a place, and what a place holds against them.
//!
//! * [`needs`]: what each crop asks for, from the tables of roots, acidity, salts and warmth.
//! * [`warmth`]: how many days a place gives a crop.
//! * [`judge`]: one possible place against one crop, limit by limit; plain arithmetic for ensembles.

pub mod growing_days;
pub mod judge;
pub mod needs;
pub mod needs_method;
pub mod siting_method;
pub mod warmth;

pub use judge::{Grade, LIMITS, Limit, Spot, Tally, Verdict, WaterWay, judge};
pub use needs::{Frost, SiteNeeds, all_needs, needs_of};
pub use warmth::{DaysGiven, FrostYear, days_given};

crate::kit::method::methods![
    needs_method::CropSiteNeeds,
    growing_days::CropGrowingDays,
    siting_method::CropSiting,
];
