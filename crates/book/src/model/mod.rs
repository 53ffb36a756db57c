//! The record types: what a farm can see, have and decide.
//!
//! The kinds are listed once, in the table below. A new kind is one file here, one line in that
//! table, and one view in a migration.

mod bed;
mod decision;
mod farm;
mod id;
mod month_day;
mod note;
mod observation;
mod photo;
mod plot;
mod sample;
pub mod seen;
mod structure;
pub(crate) mod text;

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;

pub use bed::{Bed, BedLength, BedWidth};
pub use decision::{Choice, Decision};
pub use farm::{Farm, HourWorth, Latitude, Longitude, UnitSystem};
pub use id::{EntryId, NotAnId};
pub use month_day::{MONTHS, MonthDay, NotAMonthDay, month_name};
pub use note::Note;
pub use observation::Observation;
pub use photo::Photo;
pub use plot::{Place, Plot, PlotArea, PlotSide, RootDepth, Shape, Slope, Watering};
pub use sample::{Sample, SampleDepth};
pub use seen::Seen;
pub use structure::{Structure, StructureKind, StructureSide};

/// A record type.
pub trait Record:
    Serialize + DeserializeOwned + JsonSchema + Clone + PartialEq + Into<Body> + TryFrom<Body, Error = Body>
{
    /// Its kind.
    const KIND: Kind;

    /// Checks what the types cannot: fields against each other, texts, counts.
    ///
    /// # Errors
    /// The first field that is refused, in words for the person.
    fn check(&self) -> Result<(), Refusal>;

    /// The other records it points to.
    fn links(&self) -> Links {
        Links::default()
    }
}

/// What a record points to.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Links {
    /// Its plot.
    pub plot: Option<EntryId>,
    /// Its sample.
    pub sample: Option<EntryId>,
    /// Its observation.
    pub observation: Option<EntryId>,
    /// SHA-256 of the file it shows.
    pub attachment: Option<String>,
}

macro_rules! kinds {
    ($($type:ident, $name:literal, $label:literal, view $view:literal;)+) => {
        /// The kinds of record.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
        pub enum Kind {$(
            #[doc = $label]
            #[serde(rename = $name)]
            $type,
        )+}

        impl Kind {
            /// Every kind.
            pub const ALL: &'static [Self] = &[$(Self::$type),+];

            /// Its name in the file.
            #[must_use]
            pub fn name(self) -> &'static str {
                match self {$(Self::$type => $name,)+}
            }

            /// Its name for people.
            #[must_use]
            pub fn label(self) -> &'static str {
                match self {$(Self::$type => $label,)+}
            }

            /// The view of the file, and the table of the CSV export, that shows its current records.
            #[must_use]
            pub fn view(self) -> &'static str {
                match self {$(Self::$type => $view,)+}
            }

            /// The kind of that name.
            #[must_use]
            pub fn of_name(name: &str) -> Option<Self> {
                match name {$($name => Some(Self::$type),)+ _ => None}
            }
        }

        /// A record of any kind.
        // `expect` goes unheard inside this macro.
        #[allow(clippy::large_enum_variant, reason = "bodies are read one by one; whole books are held typed")]
        #[derive(Debug, Clone, PartialEq, Serialize)]
        #[serde(untagged)]
        pub enum Body {$(
            #[doc = $label]
            $type($type),
        )+}

        impl Body {
            /// Its kind.
            #[must_use]
            pub fn kind(&self) -> Kind {
                match self {$(Self::$type(_) => Kind::$type,)+}
            }

            /// Reads a record of a known kind from JSON and checks it.
            ///
            /// # Errors
            /// The field that is refused, in words for the person.
            pub fn read(kind: Kind, json: &Value) -> Result<Self, Refusal> {
                match kind {$(Kind::$type => {
                    let record: $type = ground::kit::method::read(json)?;
                    record.check()?;
                    Ok(Self::$type(record))
                })+}
            }

            /// Reads a record from the text the book holds; quick, for whole books.
            pub(crate) fn parse(kind: Kind, text: &str) -> Result<Self, serde_json::Error> {
                match kind {$(Kind::$type => serde_json::from_str(text).map(Self::$type),)+}
            }

            /// See [`Record::check`].
            pub(crate) fn check(&self) -> Result<(), Refusal> {
                match self {$(Self::$type(record) => record.check(),)+}
            }

            /// See [`Record::links`].
            #[must_use]
            pub fn links(&self) -> Links {
                match self {$(Self::$type(record) => record.links(),)+}
            }
        }

        $(
            impl From<$type> for Body {
                fn from(record: $type) -> Self {
                    Self::$type(record)
                }
            }

            impl TryFrom<Body> for $type {
                type Error = Body;

                fn try_from(body: Body) -> Result<Self, Body> {
                    match body {
                        Body::$type(record) => Ok(record),
                        other => Err(other),
                    }
                }
            }
        )+
    };
}

kinds! {
    Farm, "farm", "Farm", view "farm";
    Plot, "plot", "Plot", view "plots";
    Bed, "bed", "Bed", view "beds";
    Structure, "structure", "Structure", view "structures";
    Sample, "sample", "Sample", view "samples";
    Observation, "observation", "Observation", view "observations";
    Decision, "decision", "Decision", view "decisions";
    Note, "note", "Note", view "notes";
    Photo, "photo", "Photo", view "photos";
}
