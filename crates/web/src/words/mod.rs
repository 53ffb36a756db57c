//! Records in a grower's words: for lists, for their history, and beside each other when two differ.

pub(crate) mod covers;
mod feeding;
mod jobs;
mod plan;
mod posts;
mod record;
mod seen;
mod seen_lab;
mod seen_soil;
mod seen_water;
mod water;

pub use covers::{seeds_words, stand_words};
pub use record::{Change, Line, changes, lines, name_of, size, titled};
pub use seen::reading;
pub(crate) use water::{amount, crop_name, day_words, watered, wind_in_words};
