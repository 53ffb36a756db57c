//! A note on a plot or on the farm.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

/// A note.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Note {
    /// The plot it is about; absent when it is about the farm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plot: Option<EntryId>,
    /// The note.
    pub text: String,
}

impl Record for Note {
    const KIND: Kind = Kind::Note;

    fn check(&self) -> Result<(), Refusal> {
        if self.text.trim().is_empty() {
            return Err(Refusal::new("text", "the note is empty")
                .given("nothing")
                .accepted(format!("1 to {} characters", text::NOTE_CHARACTERS))
                .example("Stood under water after the storm"));
        }
        text::note("text", &self.text)
    }

    fn links(&self) -> Links {
        Links { plot: self.plot, ..Links::default() }
    }
}
