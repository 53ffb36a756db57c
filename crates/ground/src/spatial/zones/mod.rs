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

/// A map of zones as it is seen: rows from north to south, a digit a zone, anything else no cell.
#[cfg(test)]
fn drawn(rows: &[&str]) -> crate::spatial::raster::Raster<usize> {
    let columns = rows[0].len();
    let cells = rows
        .iter()
        .rev()
        .flat_map(|row| row.chars().map(|letter| letter.to_digit(10).map(|zone| zone as usize)))
        .collect();
    crate::spatial::raster::Raster { corner: [10.0, 20.0], cell_m: 2.0, columns, cells }
}
