//! Where things lie: metres about a farm, areas, sampling points, maps of what varies.

pub mod area;
pub mod beds;
pub mod frame;
pub mod outline;
pub mod picture_fix;
pub mod plane;
pub mod typed;
