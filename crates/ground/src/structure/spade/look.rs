//! What a dug block shows: does the spade confirm a hard layer, and is the ground short of air?

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// A sign in a dug block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SpadeSign {
    /// Flat plates that lie on each other.
    Plates,
    /// A massive layer without cracks or pores.
    Massive,
    /// Roots that turn aside or thicken at a depth.
    RootsTurnAside,
    /// Roots that go straight through.
    RootsGoThrough,
    /// Worm channels that go through.
    WormChannels,
    /// Crumbs throughout.
    Crumbs,
    /// Grey or rust-coloured mottles.
    Mottles,
    /// A sour or foul smell.
    SourSmell,
}

impl SpadeSign {
    /// Every sign.
    pub const ALL: [Self; 8] = [
        Self::Plates,
        Self::Massive,
        Self::RootsTurnAside,
        Self::RootsGoThrough,
        Self::WormChannels,
        Self::Crumbs,
        Self::Mottles,
        Self::SourSmell,
    ];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Plates => "flat plates that lie on each other",
            Self::Massive => "a massive layer without cracks or pores",
            Self::RootsTurnAside => "roots that turn aside or thicken",
            Self::RootsGoThrough => "roots that go straight through",
            Self::WormChannels => "worm channels that go through",
            Self::Crumbs => "crumbs throughout",
            Self::Mottles => "grey or rusty mottles",
            Self::SourSmell => "a sour or foul smell",
        }
    }
}

/// Does the spade confirm a hard layer? Roots speak last; `None` where nothing was seen that tells, or signs of
/// one weight contradict each other.
#[must_use]
pub fn confirms(signs: &[SpadeSign]) -> Option<bool> {
    let seen = |sign| signs.contains(&sign);
    match (seen(SpadeSign::RootsTurnAside), seen(SpadeSign::RootsGoThrough)) {
        (true, false) => return Some(true),
        (false, true) => return Some(false),
        (true, true) => return None,
        (false, false) => {}
    }
    let tight = seen(SpadeSign::Plates) || seen(SpadeSign::Massive);
    let open = seen(SpadeSign::WormChannels) || seen(SpadeSign::Crumbs);
    (tight != open).then_some(tight)
}

/// Do mottles or smell say that air runs short?
#[must_use]
pub fn short_of_air(signs: &[SpadeSign]) -> bool {
    signs.iter().any(|sign| matches!(sign, SpadeSign::Mottles | SpadeSign::SourSmell))
}

/// Input of `spade-look`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LookInput {
    /// What was seen.
    pub signs: Vec<SpadeSign>,
}

/// Output of `spade-look`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct LookOutput {
    /// Whether the spade confirms a hard layer; none where it cannot be said.
    pub confirms: Option<bool>,
    /// Whether mottles or smell say that air runs short.
    pub short_of_air: bool,
    /// What it means.
    pub says: String,
}

/// Spade look.
pub struct SpadeLook;

impl Method for SpadeLook {
    type Input = LookInput;
    type Output = LookOutput;

    const CARD: Card = Card {
        name: "spade-look",
        title: "What the spade shows",
        topic: Topic::Structure,
        computes: "Whether a dug block confirms a hard layer that a probe found, and whether the ground runs short of air. \
                   A layer that roots and worms pass is best left alone, however hard the probe says it is.",
        validity: &[
            "Moist ground with growing roots in it, dug to below the layer, in three places or more.",
        ],
        sources: &[Cite::new(
            "PennStateCompaction",
            "plates, massive layers, roots that turn, worm channels",
        )],
        cautions: &["Locate buried lines before digging."],
    };

    fn example() -> Self::Input {
        LookInput { signs: vec![SpadeSign::Plates, SpadeSign::RootsTurnAside] }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (confirms, wet) = (confirms(&input.signs), short_of_air(&input.signs));
        let says = match confirms {
            Some(true) => "The spade confirms a layer that holds roots up.",
            Some(false) => "Roots and worms have ways through: leave it alone.",
            None => {
                "The block does not settle it: dig again beside a growing crop and look where its roots go."
            }
        };
        let notes = wet
            .then(|| Note::new(NoteKind::Method, "Mottles or a sour smell: water stands in it at times. Lead the water away before anything else."))
            .into_iter()
            .collect();
        Ok(Answer::with_notes(LookOutput { confirms, short_of_air: wet, says: says.to_owned() }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "whether the spade confirms it",
                "roots decide; without roots plates and massive layers against crumbs and worm channels",
                format!("{:?}", input.signs),
                answer.value.says.clone(),
            )
            .cite(Self::CARD.sources[0])
    }
}
