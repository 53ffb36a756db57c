//! The tests of `figures` from outside, in one program: one link instead of one for every file.

mod any_water;
mod ground_covers;
mod ground_water;
mod outline;
mod plan;
mod post;
mod sound;
mod years;
