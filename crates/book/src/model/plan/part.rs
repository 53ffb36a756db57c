//! Something drawn on the plan.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::{EntryId, Kind, Links, Record, text};
use super::Outline;

/// Something drawn on the plan: a plot, a bed, a drain, a wet spot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlanPart {
    /// What it is.
    pub kind: PartKind,
    /// What it is called; a plot, bed or structure it shows has its own name.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Where it lies.
    pub outline: Outline,
    /// The plot it shows, or lies in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plot: Option<EntryId>,
    /// The bed it shows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bed: Option<EntryId>,
    /// The structure it shows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub structure: Option<EntryId>,
    /// Which of several equal ones, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub number: Option<u16>,
    /// Why nothing is sampled there, of a strip to keep out of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<KeepOutWhy>,
    /// The file it came in with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub import: Option<EntryId>,
    /// Anything else.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

ground::named! {
    /// What is drawn.
    PartKind {
        Plot = "plot",
        Bed = "bed",
        Tunnel = "tunnel",
        Building = "building",
        Drain = "drain or ditch",
        Post = "post",
        Tree = "tree",
        StandingWater = "standing water",
        KeepOut = "no sampling here",
        Track = "track",
        WaterPoint = "water point",
        FarmEdge = "edge of the farm",
        Other = "something else",
    }
}

ground::named! {
    /// Why soil from a place would mislead.
    KeepOutWhy {
        Edge = "field edge",
        OldFence = "old fence line",
        ManurePile = "manure or compost pile",
        BurnSpot = "burn spot",
        Spill = "spilt fertilizer, lime or fuel",
        WheelTrack = "wheel track",
        Feeding = "feeding or watering place of animals",
        Other = "something else",
    }
}

impl PlanPart {
    /// Something drawn of which only its kind and place are known.
    #[must_use]
    pub fn drawn(kind: PartKind, outline: Outline) -> Self {
        Self {
            kind,
            name: String::new(),
            outline,
            plot: None,
            bed: None,
            structure: None,
            number: None,
            why: None,
            import: None,
            note: String::new(),
        }
    }
}

impl Record for PlanPart {
    const KIND: Kind = Kind::PlanPart;

    fn check(&self) -> Result<(), Refusal> {
        text::label("name", &self.name, "East ditch")?;
        text::note("note", &self.note)?;
        let needs = |field: &str, link: Option<EntryId>| {
            if link.is_some() {
                return Ok(());
            }
            Err(Refusal::new(field, format!("a {field} on the plan must say which {field} it shows"))
                .given("nothing")
                .accepted(format!("a {field} of this farm"))
                .example("the one chosen from the list"))
        };
        match self.kind {
            PartKind::Plot => needs("plot", self.plot)?,
            PartKind::Bed => needs("bed", self.bed)?,
            _ => {}
        }
        if let Some(number) = self.number {
            text::count("number", number, 1, 10_000, 1)?;
        }
        self.outline.check().map_err(|refusal| refusal.inside("outline"))
    }

    fn links(&self) -> Links {
        Links {
            plot: self.plot,
            bed: self.bed,
            structure: self.structure,
            import: self.import,
            ..Links::default()
        }
    }
}

/// A name with its number among equal ones, where it has both: "Long beds, 2".
#[must_use]
pub fn numbered(name: &str, number: Option<u16>) -> String {
    match number {
        Some(number) if !name.is_empty() => format!("{name}, {number}"),
        _ => name.to_owned(),
    }
}
