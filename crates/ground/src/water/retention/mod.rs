//! How hard the ground holds its water: the published curves of water content against suction, and the ways from one to another.
//!
//! Heads are pressure heads in cm of water: negative where the ground sucks, 0 at a water table,
//! positive below it. Suction is the head without its sign. 1 kPa (1 centibar) is 10.197 cm.

pub mod brooks_corey;
pub mod capillary;
pub mod capillary_rise;
pub mod classes;
pub mod convert;
pub mod curve;
pub mod gardner;
pub mod haverkamp;
pub mod of_class;
pub mod of_texture;
pub mod parameters;
pub mod points;
pub mod retention_convert;
pub mod van_genuchten;

pub use brooks_corey::{BrooksCorey, Theory};
pub use classes::ClassSet;
pub use curve::{Curve, CurvePoint, Retention};
pub use gardner::Gardner;
pub use haverkamp::Haverkamp;
pub use of_texture::{NoCurve, TextureCurve};
pub use van_genuchten::VanGenuchten;

crate::kit::method::methods![
    of_class::VanGenuchtenMethod,
    of_class::BrooksCoreyMethod,
    retention_convert::RetentionConvert,
    capillary_rise::CapillaryRise,
];

/// Head of water that weighs 1 kPa, cm.
pub const CM_PER_KPA: f64 = 10.197_162_129_779_283;
