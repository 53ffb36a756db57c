//! The decision on loosening as a method, with what to do after and what to look at next year.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::decide::{Decision, Facts, Loosening, Tool, decide};
use super::tine::{LEAST_SHANK_POWER_KW, critical_depth_cm, spacing_cm};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::structure::probe::pan::Compaction;
use crate::structure::probe::push::ProbeDepth;
use crate::structure::root_limits::RootRating;
use crate::structure::working::limits::Workable;
use crate::texture::Class;

crate::quantity! {
    /// Depth that a tool reaches.
    pub struct ToolReach: "depth the tool reaches", "cm", 5.0 ..= 120.0, example 35.0;
    /// Width of the foot of a tine.
    pub struct TineWidth: "width of the tine", "cm", 0.5 ..= 60.0, example 7.0;
}

/// Input of `loosening-decision`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LooseningInput {
    /// Texture class of the hard layer.
    pub class: Class,
    /// From `probe-transect`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub compaction: Option<Compaction>,
    /// From `root-limiting-density`, of the hard layer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density: Option<RootRating>,
    /// Depth at which the hard layer ends.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pan_bottom_cm: Option<ProbeDepth>,
    /// Does the spade show plates or a massive layer, and roots that turn aside?
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spade_confirms: Option<bool>,
    /// Does water stand for more than a day after rain?
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_stands: Option<bool>,
    /// What a handful from the hard layer says, from `ball-test`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moisture: Option<Workable>,
    /// Depth that the broadfork at hand reaches.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub broadfork_cm: Option<ToolReach>,
    /// Depth that the shanks at hand reach.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub subsoiler_cm: Option<ToolReach>,
    /// Width of their feet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tine_cm: Option<TineWidth>,
    /// Have they wings?
    #[serde(default)]
    pub winged: bool,
}

/// Output of `loosening-decision`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct LooseningOutput {
    /// What to do.
    pub what: Loosening,
    /// In a sentence.
    pub says: String,
    /// With what.
    pub tool: Option<Tool>,
    /// How deep.
    pub depth_cm: Option<f64>,
    /// Least distance between lifts or shanks.
    pub spacing_low_cm: Option<f64>,
    /// Greatest distance.
    pub spacing_high_cm: Option<f64>,
    /// Power that each shank takes at least.
    pub power_per_shank_kw: Option<f64>,
    /// Depth below which these feet press instead of lifting.
    pub critical_depth_cm: Option<f64>,
    /// What to do at once after.
    pub after: String,
    /// What to expect, and what to look at next year.
    pub expect: String,
}

/// Loosening decision.
pub struct LooseningDecision;

impl LooseningInput {
    /// The facts of the rule.
    #[must_use]
    pub fn facts(&self) -> Facts {
        Facts {
            class: self.class,
            compaction: self.compaction,
            density: self.density,
            pan_bottom_cm: self.pan_bottom_cm.map(Bounded::get),
            spade_confirms: self.spade_confirms,
            water_stands: self.water_stands,
            moisture: self.moisture,
            broadfork_cm: self.broadfork_cm.map(Bounded::get),
            subsoiler_cm: self.subsoiler_cm.map(Bounded::get),
        }
    }
}

/// The decision in a sentence.
#[must_use]
pub fn says(what: Loosening) -> &'static str {
    match what {
        Loosening::MeasureFirst => {
            "Push a probe in ten places a day or two after a soaking, or dig: nothing is known of hardness."
        }
        Loosening::Leave => "Do not loosen: roots pass, and iron would break the ways they have.",
        Loosening::CoversInstead => {
            "No iron: keep wheels and feet on permanent paths and let cover roots work through it."
        }
        Loosening::DrainFirst => "Lead the water away first: loosened wet ground falls together again.",
        Loosening::LookWithSpade => {
            "Dig a block before iron goes in: plates, a massive layer or roots that turn aside must confirm it."
        }
        Loosening::FindBottom => {
            "Push the probe deeper when the ground is moist: a shank must run just below the layer, and its bottom is not known."
        }
        Loosening::WaitUntilDrier => {
            "Wait: at that depth it would smear. It must crumble in the hand from the hard layer."
        }
        Loosening::WaitUntilMoister => {
            "Wait for a soaking and a day or two: it is too dry for a fork to lift without clods."
        }
        Loosening::Loosen => "Loosen, just below the hard layer and no deeper.",
    }
}

/// What to do at once after, or instead.
#[must_use]
pub fn after(what: Loosening) -> &'static str {
    match what {
        Loosening::Loosen | Loosening::WaitUntilDrier | Loosening::WaitUntilMoister => {
            "Sow a dense-rooted cover at once and keep every wheel and foot off it: loosened ground packs again at the first pass."
        }
        Loosening::CoversInstead => {
            "Mark beds and paths for good, and sow a deep-rooted cover in the next gap."
        }
        _ => "Keep wheels and feet on the paths.",
    }
}

/// What to expect by when, and what to look at next year.
#[must_use]
pub fn expect(what: Loosening) -> &'static str {
    match what {
        Loosening::Loosen | Loosening::WaitUntilDrier | Loosening::WaitUntilMoister => {
            "Three quarters to four fifths of the layer may break; a gain in yield is not sure. Next year push the probe in the same places at the same moisture, and dig beside a crop: do its roots go straight down?"
        }
        Loosening::CoversInstead => {
            "Crumbs improve within a year or two; density hardly moves for several. Next year look at roots in the old root channels and repeat the slake test."
        }
        _ => "Next year repeat the probe in the same places at the same moisture.",
    }
}

impl Method for LooseningDecision {
    type Input = LooseningInput;
    type Output = LooseningOutput;

    const CARD: Card = Card {
        name: "loosening-decision",
        title: "Loosen or not",
        topic: Topic::Structure,
        computes: "Whether to loosen a hard layer, with what, how deep, how far apart and at what moisture, and what to do \
                   instead. Iron goes in only where readings and the spade agree, water is not the cause, and the ground \
                   is dry enough at depth to shatter.",
        validity: &[
            "Small farms: a broadfork, or shanks behind a tractor. The rule is a chain of published advice and common practice.",
            "Loosening does not last in sand, and does not pay everywhere else.",
        ],
        sources: &[
            Cite::new(
                "PennStateCompaction",
                "confirm by spade; run just below the layer; dry enough to shatter",
            ),
            Cite::new("MurdockCompaction", "share of points above 300 psi"),
            Cite::new("SpoorGodwin1978", "critical depth, spacing, wings"),
            Cite::new("ChenWeil2010", "roots through compacted layers"),
            Cite::new("BlancoRuis2020", "what covers change, and how slowly"),
        ],
        cautions: &[
            "Have buried services located before any deep work (in the US call 811), and know your own water and electric lines.",
            "Keep people away from a ripper at work; follow its maker's instructions. Lift a broadfork with the legs.",
        ],
    };

    fn example() -> Self::Input {
        LooseningInput {
            class: Class::Loam,
            compaction: Some(Compaction::Severe),
            density: None,
            pan_bottom_cm: Some(ProbeDepth::literal(28.0)),
            spade_confirms: Some(true),
            water_stands: Some(false),
            moisture: Some(Workable::Ready),
            broadfork_cm: Some(ToolReach::literal(35.0)),
            subsoiler_cm: None,
            tine_cm: None,
            winged: false,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let Decision { what, tool, depth_cm } = decide(&input.facts());
        let spacing = tool.zip(depth_cm).map(|(tool, depth)| spacing_cm(tool, input.winged, depth));
        let shanks = tool == Some(Tool::Subsoiler);
        let critical = input.tine_cm.filter(|_| shanks).map(|width| critical_depth_cm(width.get()));
        let mut notes = Vec::new();
        if let (Some(critical), Some(depth)) = (critical, depth_cm)
            && critical < depth
        {
            notes.push(Note::new(
                NoteKind::Method,
                format!("Feet this narrow lift only to about {critical:.0} cm; at {depth:.0} cm they press the ground aside. Use wider feet or wings."),
            ));
        }
        if what == Loosening::Loosen && input.moisture.is_none() {
            notes.push(Note::new(
                NoteKind::Method,
                "The moisture at depth was not given: squeeze a handful from the hard layer first; it must crumble.",
            ));
        }
        if what == Loosening::Loosen && input.water_stands.is_none() {
            notes.push(Note::new(
                NoteKind::Method,
                "Whether water stands after rain was not given: if it does, drain first.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "Spacing, critical depth and the broadfork's numbers are recalled or common practice.",
        ));
        Ok(Answer::with_notes(
            LooseningOutput {
                what,
                says: says(what).to_owned(),
                tool,
                depth_cm,
                spacing_low_cm: spacing.map(|pair| pair.0),
                spacing_high_cm: spacing.map(|pair| pair.1),
                power_per_shank_kw: shanks.then_some(LEAST_SHANK_POWER_KW),
                critical_depth_cm: critical,
                after: after(what).to_owned(),
                expect: expect(what).to_owned(),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let known = |what: &str, value: Option<String>| {
            format!("{what} {}", value.unwrap_or_else(|| "not known".to_owned()))
        };
        Working::new()
            .step(
                "what to do",
                "hard? then water, spade, bottom, tool, moisture, in this order",
                [
                    known("probe", input.compaction.map(|c| format!("{c:?}").to_lowercase())),
                    known("density", input.density.map(|d| format!("{d:?}").to_lowercase())),
                    known("water stands", input.water_stands.map(|b| b.to_string())),
                    known("spade confirms", input.spade_confirms.map(|b| b.to_string())),
                    known("moisture", input.moisture.map(|m| format!("{m:?}").to_lowercase())),
                ]
                .join(", "),
                answer.value.says.clone(),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "depth",
                "bottom of the layer + 2.5 cm (1 in)",
                known("bottom", input.pan_bottom_cm.map(|depth| format!("{} cm", depth.get()))),
                answer.value.depth_cm.map_or_else(|| "none".to_owned(), |depth| format!("{depth:.0} cm")),
            )
            .cite(Self::CARD.sources[0])
    }
}
