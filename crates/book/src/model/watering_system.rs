//! How water reaches a bed.

use ground::kit::{Bounded, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

ground::quantity! {
    /// Flow of a metre of drip tape.
    pub struct TapeFlow: "flow of the drip tape", "L/h/m", 0.05 ..= 100.0, example 5.0;
    /// Flow of one emitter.
    pub struct EmitterFlow: "flow of an emitter", "L/h", 0.05 ..= 500.0, example 2.0;
    /// Distance from emitter to emitter along the line.
    pub struct EmitterSpacing: "spacing of the emitters", "m", 0.02 ..= 20.0, example 0.3;
    /// Depth of water that a sprinkler gives in an hour.
    pub struct SprinklerRate: "rate of the sprinkler", "mm/h", 0.1 ..= 200.0, example 8.0;
    /// Share of the water that reaches the roots.
    pub struct Efficiency: "efficiency of the watering", "%", 5.0 ..= 100.0, example 90.0;
    /// Share of the bed that is wetted.
    pub struct WettedShare: "share of the bed that is wetted", "%", 1.0 ..= 100.0, example 40.0;
}

/// How a bed is watered. The latest record of a bed counts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WateringSystem {
    /// The bed, or the equal beds of one record.
    pub bed: EntryId,
    /// Where the water comes from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supply: Option<EntryId>,
    /// How it is given.
    pub delivery: Delivery,
    /// Share of the water that reaches the roots; the usual one of its kind where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub efficiency_percent: Option<Efficiency>,
    /// Share of the bed that is wetted; the usual one of its kind where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wetted_percent: Option<WettedShare>,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

/// How water is given to each bed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum Delivery {
    /// Tape or pipe that drips all along.
    DripTape {
        /// Flow of a metre of it.
        flow_l_h_per_m: TapeFlow,
        /// Lines along each bed.
        lines: u16,
    },
    /// Single emitters in lines.
    Emitters {
        /// Flow of each.
        flow_l_h: EmitterFlow,
        /// From one to the next along the line.
        spacing_m: EmitterSpacing,
        /// Lines along each bed.
        lines: u16,
    },
    /// Sprinklers.
    Sprinkler {
        /// Depth in an hour.
        rate_mm_h: SprinklerRate,
    },
    /// Hose or can.
    Hand,
}

impl Delivery {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::DripTape { .. } => "drip tape",
            Self::Emitters { .. } => "emitters",
            Self::Sprinkler { .. } => "sprinkler",
            Self::Hand => "by hand",
        }
    }

    /// Depth of water an hour over the whole of a bed `length_m` long and `width_m` wide; `None` by hand.
    #[must_use]
    pub fn rate_mm_h(self, length_m: f64, width_m: f64) -> Option<f64> {
        match self {
            Self::DripTape { flow_l_h_per_m, lines } => {
                Some(flow_l_h_per_m.get() * f64::from(lines) / width_m)
            }
            Self::Emitters { flow_l_h, spacing_m, lines } => {
                let emitters = (length_m / spacing_m.get()).floor().max(1.0) * f64::from(lines);
                Some(emitters * flow_l_h.get() / (length_m * width_m))
            }
            Self::Sprinkler { rate_mm_h } => Some(rate_mm_h.get()),
            Self::Hand => None,
        }
    }
}

impl Record for WateringSystem {
    const KIND: Kind = Kind::WateringSystem;

    fn check(&self) -> Result<(), Refusal> {
        if let Delivery::DripTape { lines, .. } | Delivery::Emitters { lines, .. } = self.delivery {
            text::count("delivery.lines", lines, 1, 200, 2)?;
        }
        text::note("note", &self.note)
    }

    fn links(&self) -> Links {
        Links { bed: Some(self.bed), supply: self.supply, ..Links::default() }
    }
}
