//! Forms: fields declared once, everything typed kept, reasons beside the fields.
//!
//! A page declares its fields as a `const` list of [`Field`]; the same list draws the form, reads
//! the post (see [`Reader`]) and describes it in the OpenAPI document.

mod field;
mod group;
mod measures;
mod reader;
mod view;

pub use field::{Choice, Field, Kind, Width, join};
pub use group::{Cell, Group, GroupView, Row, Table, TableView};
pub use measures::{echo, lossless, shown_depth};
pub use reader::{Reader, in_its_row, shown};
pub use view::{Answer, FieldView, Form, Summary};
