//! The jar: shaken now and marked as it settles, or read when it has settled.

mod kept_marks;
mod settled;
pub(crate) mod settling;
mod shape;
mod timed;
mod water;

pub(super) use kept_marks::KeptMarks;
pub(super) use settled::Settled;
pub(super) use timed::Timed;

use ground::kit::units::{TypedReading, UnitSystem};
use ground::texture::jar::Boundary;
use ground::texture::jar::reading::JarHeight;

use crate::form::{Form, Reader, lossless};

/// A boundary as it was seen; where nothing was typed, nothing.
fn boundary(read: &mut Reader<'_>, name: &str) -> Option<Boundary> {
    read.reading::<JarHeight>(name).map(|typed: TypedReading<JarHeight>| Boundary::from(typed))
}

/// Puts a boundary back in its field.
fn put(form: Form, name: &str, boundary: &Boundary, units: UnitSystem) -> Form {
    match boundary {
        Boundary::At { mm } => form.measure(name, Some(*mm), units),
        Boundary::Between { low_mm, high_mm } => {
            form.set(name, format!("{} to {}", lossless(*low_mm, units), lossless(*high_mm, units)))
        }
        Boundary::No => form.set(name, "not seen"),
    }
}
