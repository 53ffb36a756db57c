//! What the grower decided about a finding.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

/// A decision.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Decision {
    /// The plot it is about.
    pub plot: EntryId,
    /// The finding it answers.
    pub finding_id: String,
    /// What was decided.
    pub choice: Choice,
    /// Why.
    #[serde(default)]
    pub reason: String,
}

/// What was decided.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Choice {
    /// It will be done.
    Accepted,
    /// Not now.
    Postponed,
    /// It will not be done.
    Refused,
}

impl Choice {
    /// Every choice.
    pub const ALL: [Self; 3] = [Self::Accepted, Self::Postponed, Self::Refused];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Accepted => "accepted",
            Self::Postponed => "postponed",
            Self::Refused => "refused",
        }
    }
}

impl Record for Decision {
    const KIND: Kind = Kind::Decision;

    fn check(&self) -> Result<(), Refusal> {
        text::name("finding_id", &self.finding_id, "crusting")?;
        text::note("reason", &self.reason)
    }

    fn links(&self) -> Links {
        Links { plot: Some(self.plot), ..Links::default() }
    }
}
