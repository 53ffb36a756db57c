//! Areas of ground: on the ellipsoid, and how far a walked outline can be trusted.

mod error;
mod geodesic;

pub use error::{AreaError, AreaErrorInput, AreaErrorOutput, PlaneCorner, PositionError, area_error_m2};
pub use geodesic::{
    Corner, CornerLatitude, CornerLongitude, GeodesicArea, GeodesicAreaInput, GeodesicAreaOutput, distance_m,
    geodesic_area,
};

crate::kit::method::methods![GeodesicArea, AreaError];
