//! What a crop drinks, how deep it roots and how dry it may get, day by day.

mod day;

pub use day::{CropDay, CropStage};
