//! Parts of a plot to treat apart: cells of a map that are alike and lie together.

pub mod borders;
pub mod cluster;
pub mod method;
pub mod outline;
pub mod worth;

pub use borders::{TOLERANCE_CELLS, zone_areas};
pub use cluster::{Zones, suggest};
pub use outline::{Ring, outline};
pub use worth::{ZoneWorth, worth};
