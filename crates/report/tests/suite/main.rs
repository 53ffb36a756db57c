//! The tests of `report` from outside, in one program: one link instead of one for every file.

mod common;
mod field;
mod field_places;
mod labels;
mod plans;
mod sheets;
