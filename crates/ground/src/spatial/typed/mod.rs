//! Places, sides and bearings as people write them.

mod bearing;
mod coordinates;
mod corners;
mod decimal_comma;
mod sides;

pub use bearing::{bearing_degrees, bearing_words};
pub use coordinates::{FAR_FROM_FARM_M, TypedPlace, far_from_farm, place_of};
pub use corners::{TypedCorners, corners_of};
pub use sides::{TypedSides, sides_of};
