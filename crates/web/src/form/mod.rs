//! Forms: fields declared once, everything typed kept, reasons beside the fields.
//!
//! A page declares its fields as a `const` list of [`Field`]; the same list draws the form, reads
//! the post (see [`Reader`]) and describes it in the OpenAPI document.

mod field;
mod measures;
mod reader;
mod view;

pub use field::{Choice, Field, Kind, Width, join};
pub use measures::{echo, lossless};
pub use reader::{Reader, shown};
pub use view::{FieldView, Form, Summary};
