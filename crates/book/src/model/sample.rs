//! A bag of soil: cores from one plot and one depth, mixed.

use ground::kit::{Bounded, Refusal};
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::plan::Spot;
use super::{EntryId, Kind, Links, Record, text};

ground::quantity! {
    /// A depth below the surface.
    pub struct SampleDepth: "sampling depth", "cm", 0.0 ..= 500.0, example 20.0;
}

/// A sample.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Sample {
    /// The plot it was taken from.
    pub plot: EntryId,
    /// Day it was taken.
    #[schemars(with = "String", example = &"2026-04-12")]
    pub taken_on: Date,
    /// Top of the layer it was taken from.
    pub from_cm: SampleDepth,
    /// Bottom of that layer.
    pub to_cm: SampleDepth,
    /// How many cores were mixed; absent when nobody counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cores: Option<u16>,
    /// Who took it.
    #[serde(default)]
    pub taken_by: String,
    /// What stands on the bag.
    #[serde(default)]
    pub bag_label: String,
    /// The table it came in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub import: Option<EntryId>,
    /// Where on the plot it was taken, of a single place.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spot: Option<Spot>,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

impl Record for Sample {
    const KIND: Kind = Kind::Sample;

    fn check(&self) -> Result<(), Refusal> {
        if self.to_cm.get() <= self.from_cm.get() {
            return Err(Refusal::new(
                "to_cm",
                format!(
                    "the bottom of the layer must be deeper than its top, but {} to {} cm was given",
                    self.from_cm.get(),
                    self.to_cm.get()
                ),
            )
            .given(self.to_cm.get())
            .accepted(format!("more than {} cm", self.from_cm.get()))
            .example(self.from_cm.get() + 20.0));
        }
        if let Some(cores) = self.cores {
            text::count("cores", cores, 1, 500, 15)?;
        }
        if let Some(spot) = &self.spot {
            spot.check().map_err(|refusal| refusal.inside("spot"))?;
        }
        text::label("taken_by", &self.taken_by, "Ada")?;
        text::label("bag_label", &self.bag_label, "LF-1")?;
        text::note("note", &self.note)
    }

    fn links(&self) -> Links {
        let sampling_plan = self.spot.and_then(|spot| spot.plan);
        Links { plot: Some(self.plot), import: self.import, sampling_plan, ..Links::default() }
    }
}
