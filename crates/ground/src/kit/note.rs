//! What a person should know beside an answer: typed, so that every surface can show it alike.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::units::{UnitSystem, in_units};

/// Why a note stands beside an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum NoteKind {
    /// The input was adjusted before use (closed to 100 %, a zero replaced).
    Adjusted,
    /// Computed outside the range the source covers.
    OutsideRange,
    /// No value can be given, and why.
    NoValue,
    /// The answer leans on a recalled value or on judgement.
    Provenance,
    /// A weakness of the method itself.
    Method,
    /// Someone could be hurt.
    Safety,
}

/// A remark beside an answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Note {
    /// Why it is there.
    pub kind: NoteKind,
    /// One or two sentences for a grower.
    pub text: String,
}

impl Note {
    /// A note of `kind`.
    #[must_use]
    pub fn new(kind: NoteKind, text: impl Into<String>) -> Self {
        Self { kind, text: text.into() }
    }

    /// The same note in the units that the person reads and writes.
    #[must_use]
    pub fn in_units(&self, system: UnitSystem) -> Self {
        Self { kind: self.kind, text: in_units(&self.text, system) }
    }
}
