//! Where things lie on a farm, and what varies from place to place.
//!
//! * [`frame`]: metres about a place of the Earth.
//! * [`plane`]: areas, typed sides, and outlines that are not sound.
//! * [`sampling`]: how many cores to pull, and where.
//! * The others: how unlike readings are with distance, what lies between them and how surely, what may be shown
//!   from how many, and the parts of a plot to treat apart.

pub mod frame;
pub mod plane;
pub mod sampling;
