//! The plan of the farm: what is drawn on it, the pictures under it, and where on it things were found.

mod outline;
mod part;
mod spot;
mod underlay;

pub use outline::{Form, Frame, MOST_POINTS, Outline, Point, enclosed_m2};
pub use part::{KeepOutWhy, PartKind, PlanPart, numbered};
pub use spot::{Located, LocatedWithin, PlanOrigin, Spot};
pub use underlay::{FixedPoint, Opacity, Underlay};
