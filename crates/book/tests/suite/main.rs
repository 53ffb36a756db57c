//! The tests of `book` from outside, in one program: one link instead of one for every file.

mod archive;
mod bad_files;
mod common;
mod corrections;
mod covers;
mod feeding;
mod kill;
mod lab_tables;
mod plan_files;
mod soil_structure;
mod tables;
mod two_writers;
mod views;
mod water;
mod weather;
mod zones;
