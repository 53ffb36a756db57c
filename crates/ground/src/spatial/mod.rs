//! Where things lie on a farm, and what varies from place to place.
//!
//! * [`sampling`]: how many cores to pull, and where.

pub mod sampling;
