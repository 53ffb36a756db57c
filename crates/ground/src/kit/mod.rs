//! What every method is made of: bounded quantities, refusals, notes, working, sources and the
//! trait that turns a plain function into a registered method.

pub mod chance;
pub mod method;
mod named;
pub mod note;
pub mod quantiles;
pub mod quantity;
pub mod refusal;
pub mod schema;
pub mod sentence;
mod shape;
pub mod sources;
pub mod spread;
pub(crate) mod table;
#[cfg(any(test, feature = "testing"))]
pub mod testing;
pub mod units;
pub mod working;

pub use method::{Answer, Card, Method, Registered, Topic};
pub use note::{Note, NoteKind};
pub use quantity::{Bounded, OutOfRange};
pub use refusal::Refusal;
pub use sources::{Cite, Provenance, Source};
pub use spread::Spread;
pub use working::{Step, Working};

method::methods![units::ConvertMeasure,];
