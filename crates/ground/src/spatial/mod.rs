//! The farm from above: areas, typed sides, beds, and outlines that are not sound.

pub mod plane;
