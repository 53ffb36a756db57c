//! Where things lie: metres about a farm, areas, sampling points, maps of what varies.

pub mod frame;
