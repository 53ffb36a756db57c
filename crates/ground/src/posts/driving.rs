//! How hard a post drives. Common practice, no source.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::quantities::PostDepth;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;
use crate::texture::fragments::FragmentVolumePercent;

/// Stones by volume beyond which posts are turned aside, percent.
pub const STONY_FROM_PERCENT: f64 = 35.0;

/// How wet the ground is when posts are driven.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WhenDriven {
    /// Dry.
    Dry,
    /// Moist.
    Moist,
    /// Soaked.
    Soaked,
}

impl WhenDriven {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Dry => "dry",
            Self::Moist => "moist",
            Self::Soaked => "soaked",
        }
    }
}

/// How hard a post drives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Driving {
    /// Easily.
    Easy,
    /// Easily, and holds little.
    EasyButWeak,
    /// Hard: wait until it is moist.
    Hard,
    /// Stones: a pilot hole or an auger.
    PilotHole,
}

impl Driving {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Easy => "drives easily",
            Self::EasyButWeak => "drives easily and holds little",
            Self::Hard => "drives hard",
            Self::PilotHole => "needs a pilot hole or an auger",
        }
    }
}

/// How a post drives, for hot paths.
#[must_use]
pub fn driving(class: Class, when: WhenDriven, stones_volume_percent: f64) -> Driving {
    if stones_volume_percent >= STONY_FROM_PERCENT {
        return Driving::PilotHole;
    }
    let silty = matches!(class, Class::Silt | Class::SiltLoam);
    let clayey = matches!(
        class,
        Class::ClayLoam
            | Class::SiltyClayLoam
            | Class::SandyClayLoam
            | Class::SandyClay
            | Class::SiltyClay
            | Class::Clay
    );
    let sandy = matches!(class, Class::Sand | Class::LoamySand);
    match when {
        WhenDriven::Soaked if silty || clayey => Driving::EasyButWeak,
        WhenDriven::Dry if clayey || sandy => Driving::Hard,
        _ => Driving::Easy,
    }
}

/// Input of `post-driving`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DrivingInput {
    /// Texture class of the ground that is driven through.
    pub texture: Class,
    /// How wet it is.
    pub when: WhenDriven,
    /// Stones and gravel, by volume.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stones_percent: Option<FragmentVolumePercent>,
    /// Stones larger than 75 mm are there.
    #[serde(default)]
    pub large_stones: bool,
    /// Depth at which a bar or an auger stopped.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stopped_at_m: Option<PostDepth>,
    /// Depth that the post shall reach.
    pub wanted_depth_m: PostDepth,
}

/// Output of `post-driving`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct DrivingOutput {
    /// How a post drives.
    pub driving: Driving,
    /// A bar stopped above the wanted depth.
    pub may_stop_short: bool,
}

/// Driving a post.
pub struct PostDriving;

impl Method for PostDriving {
    type Input = DrivingInput;
    type Output = DrivingOutput;

    const CARD: Card = Card {
        name: "post-driving",
        title: "How hard a post drives",
        topic: Topic::Posts,
        computes: "Whether a post drives easily, fights back or meets stones, by texture, moisture and stones.",
        validity: &[
            "Common practice, no source. Easy driving is no sign of a good hold, and hard driving no proof of one.",
            "A bar that stopped may have met one boulder: probe at three points.",
        ],
        sources: &[Cite::new("FencePractice", "driving, common practice")],
        cautions: &[
            cautions::PLANNING,
            cautions::SERVICES,
            cautions::AUTHORITY,
            cautions::COLLAR,
            "Guard fingers, eyes and ears when driving posts; never cut off a post that stopped short before asking whether it holds.",
        ],
    };

    fn example() -> Self::Input {
        DrivingInput {
            texture: Class::ClayLoam,
            when: WhenDriven::Dry,
            stones_percent: None,
            large_stones: false,
            stopped_at_m: None,
            wanted_depth_m: PostDepth::literal(0.9),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let stones = input.stones_percent.map_or(0.0, Bounded::get);
        let driving =
            if input.large_stones { Driving::PilotHole } else { driving(input.texture, input.when, stones) };
        let may_stop_short = input.stopped_at_m.is_some_and(|at| at < input.wanted_depth_m);
        let mut notes = vec![Note::new(NoteKind::Provenance, "Common practice, no source.")];
        let says = match driving {
            Driving::Easy => None,
            Driving::EasyButWeak => Some(
                "Soaked silt and clay let a post in and hold it little: do not take easy driving for a good hold.",
            ),
            Driving::Hard => Some(
                "Dry dense sand and dry clay fight the post and split it: drive when the ground is moist, and protect the end of a tube.",
            ),
            Driving::PilotHole => Some("Stones turn posts aside: make a pilot hole or auger."),
        };
        notes.extend(says.map(|text| Note::new(NoteKind::Method, text)));
        if may_stop_short {
            notes.push(Note::new(
                NoteKind::Method,
                "Something stopped the bar above the wanted depth: note the depth, probe at three points, and reckon the post anew with the depth it reaches. On a thin pan over soft ground do not stop on the pan.",
            ));
        }
        Ok(Answer::with_notes(DrivingOutput { driving, may_stop_short }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "how it drives",
                "35 % stones by volume or stones over 75 mm: pilot hole; soaked silt or clay: easy but weak; dry clay or sand: hard; else easy",
                format!("{}, {}", input.texture.name(), input.when.words()),
                answer.value.driving.words(),
            )
            .cite(Self::CARD.sources[0])
    }
}
