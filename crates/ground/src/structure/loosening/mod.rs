//! Whether to loosen, with what, how deep and at what moisture; and what does the work instead of iron.

pub mod decide;
pub mod method;
pub mod tine;
