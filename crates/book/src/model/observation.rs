//! An observation: who saw what, when, on which plot.

use ground::kit::Refusal;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::plan::Spot;
use super::seen::{Moisture, Seen};
use super::{EntryId, Kind, Links, Record, text};

/// An observation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Observation {
    /// The plot it speaks of.
    pub plot: EntryId,
    /// The sample it was made on, where there was one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sample: Option<EntryId>,
    /// Day it was made.
    #[schemars(with = "String", example = &"2026-04-12")]
    pub seen_on: Date,
    /// Who made it.
    #[serde(default)]
    pub seen_by: String,
    /// Anything else, doubts above all.
    #[serde(default)]
    pub note: String,
    /// The table it came in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub import: Option<EntryId>,
    /// Where on the plot, when it was not seen on a sample that says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spot: Option<Spot>,
    /// What was seen.
    pub seen: Seen,
}

impl Record for Observation {
    const KIND: Kind = Kind::Observation;

    fn check(&self) -> Result<(), Refusal> {
        text::label("seen_by", &self.seen_by, "Ada")?;
        text::note("note", &self.note)?;
        if let Some(spot) = &self.spot {
            spot.check().map_err(|refusal| refusal.inside("spot"))?;
        }
        self.seen.check().map_err(|refusal| refusal.inside("seen"))
    }

    fn links(&self) -> Links {
        let bed = match &self.seen {
            Seen::Moisture(Moisture { bed, .. }) => *bed,
            _ => None,
        };
        let sampling_plan = self.spot.and_then(|spot| spot.plan);
        Links {
            plot: Some(self.plot),
            sample: self.sample,
            bed,
            import: self.import,
            sampling_plan,
            ..Links::default()
        }
    }
}
