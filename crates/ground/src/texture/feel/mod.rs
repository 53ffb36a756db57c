//! Texture by feel: ball, ribbon and rub.

pub mod accuracy;
pub mod by_feel;
pub mod path;
pub mod reading;

pub use accuracy::{likelihood, witness};
pub use path::{Answers, Asks, Next, Question, Ribbon, next, possible, prepare, questions};
pub use reading::{FeelReading, Hand, RibbonLength, Rub};
