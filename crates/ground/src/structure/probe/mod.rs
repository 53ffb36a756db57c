//! The probe: how hard the ground is by depth, where a pan begins and ends, and how much of the plot has one.

pub mod line;
pub mod pan;
pub mod push;
pub mod strength;
pub mod transect;
