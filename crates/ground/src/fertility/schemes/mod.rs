//! Published schemes that turn a laboratory's figure into a class and a class into a rate.

mod class;
pub mod class_method;
mod scheme;
mod unit;

pub(crate) use class::read_table;
pub use class::{ClassFound, Interpretation, basis_of, interpret, interpret_in, manganese_activity};
pub use scheme::{Scheme, Standing};
pub use unit::SoilBasis;

crate::kit::method::methods![class_method::SoilTestClass,];
