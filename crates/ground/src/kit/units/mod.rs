//! Measures as people write them: "2 3/16 in", "55 mm", "7/16", "2 lb 4 oz", "between 1 and 1 1/4 in".
//!
//! One reader for the command line, the forms of the app and CSV files. [`parse`] gives a number in
//! the base unit of a [`Dimension`]; [`typed`] gives a bounded quantity and refuses by field;
//! [`parse_reading`] also takes ranges and "could not see it"; [`show`] writes a value back,
//! [`in_units`] a whole sentence.

mod convert;
mod dimension;
mod parse;
mod reading;
mod reword;
mod scan;
mod show;
mod typed;
mod unit;

pub use convert::{ConvertMeasure, ConvertMeasureInput, ConvertMeasureOutput};
pub use dimension::{Dimension, UnitSystem};
pub use parse::{MeasureError, parse, parse_in};
pub use reading::{Reading, parse_reading, parse_reading_in};
pub use reword::in_units;
pub use show::{show, show_in, unit_label};
pub use typed::{TypedReading, field_unit, typed, typed_reading};
pub use unit::{Kind, Unit};

#[cfg(test)]
mod tests;
