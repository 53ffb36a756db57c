//! Depths of fence and trellis posts by rules of thumb, to stand beside a computed depth.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::frost_foot::FrostDepth;
use super::us::M_PER_FT;
use crate::kit::table::rows;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Height of a post above the ground.
    pub struct HeightAbove: "height above the ground", "m", 0.3 ..= 12.0, example 1.63;
}

/// What a post is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PostUse {
    /// A post in the line of a fence.
    LinePost,
    /// A steel T-post.
    SteelTPost,
    /// A post in the row of a vineyard or trellis.
    VineyardPost,
    /// A post of a deer fence.
    DeerFencePost,
    /// A wooden end or brace post.
    WoodBracePost,
    /// A pipe end or brace post in concrete.
    PipeBracePostInConcrete,
}

impl PostUse {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::LinePost => "line post",
            Self::SteelTPost => "steel T-post",
            Self::VineyardPost => "vineyard or trellis post",
            Self::DeerFencePost => "deer-fence post",
            Self::WoodBracePost => "wooden end or brace post",
            Self::PipeBracePostInConcrete => "pipe end or brace post in concrete",
        }
    }
}

#[derive(Deserialize)]
struct Row {
    #[serde(rename = "use")]
    post_use: PostUse,
    from_m: f64,
    to_m: f64,
    source: RowSource,
}

#[derive(Clone, Copy, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case")]
enum RowSource {
    Read,
    Practice,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| rows("fence_practice.csv", include_str!("data/fence_practice.csv")));

/// A third of the whole post in the ground: half of its height above it, m.
#[must_use]
pub fn third_of_the_whole_m(height_above_m: f64) -> f64 {
    height_above_m / 2.0
}

/// A third of the height above the ground, as many leaflets mean it, m.
#[must_use]
pub fn third_of_the_height_m(height_above_m: f64) -> f64 {
    height_above_m / 3.0
}

/// A tenth of the whole post and two feet, as for utility poles, m.
#[must_use]
pub fn utility_pole_m(height_above_m: f64) -> f64 {
    // d = 0.1 (h + d) + 2 ft.
    (0.1 * height_above_m + 2.0 * M_PER_FT) / 0.9
}

/// Input of `fence-post-practice`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FencePracticeInput {
    /// What the post is for.
    pub post_use: PostUse,
    /// Height above the ground.
    pub height_above_m: HeightAbove,
    /// Frost depth of the local code.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frost_depth_m: Option<FrostDepth>,
}

/// Output of `fence-post-practice`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct FencePracticeOutput {
    /// Usual depth for this use, from, m.
    pub usual_from_m: f64,
    /// Usual depth for this use, to, m.
    pub usual_to_m: f64,
    /// A third of the whole post, m.
    pub third_of_the_whole_m: f64,
    /// A third of the height above ground, m.
    pub third_of_the_height_m: f64,
    /// A tenth of the whole post and two feet, m.
    pub utility_pole_m: f64,
    /// One foot below frost, m.
    pub below_frost_m: Option<f64>,
}

/// Usual depths of fence posts.
pub struct FencePostPractice;

impl Method for FencePostPractice {
    type Input = FencePracticeInput;
    type Output = FencePracticeOutput;

    const CARD: Card = Card {
        name: "fence-post-practice",
        title: "Usual depths of fence posts",
        topic: Topic::Posts,
        computes: "How deep people set posts for this use, and what the rules of thumb give, to stand beside a computed \
                   depth.",
        validity: &[
            "Rules of thumb, not engineering: they know neither ground nor wind.",
            "\u{201c}A third in the ground\u{201d} is meant of the whole post or of the height above it: the two differ by half.",
        ],
        sources: &[Cite::new("FencePractice", "depths by use and rules of thumb")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        FencePracticeInput {
            post_use: PostUse::LinePost,
            height_above_m: HeightAbove::literal(1.6256),
            frost_depth_m: Some(FrostDepth::literal(0.9)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let Some(row) = ROWS.iter().find(|row| row.post_use == input.post_use) else {
            unreachable!("a test looks every use up")
        };
        let height = input.height_above_m.get();
        let text = match row.source {
            RowSource::Read => {
                "The usual depth was read in trade or specification pages; the utility-pole rule is recalled."
            }
            RowSource::Practice => {
                "The usual depth is common practice, no source; the utility-pole rule is recalled."
            }
        };
        let notes = vec![
            Note::new(NoteKind::Provenance, text),
            Note::new(
                NoteKind::Method,
                "End, corner and gate posts carry the pull of the wires: brace them and reckon what pulls them up.",
            ),
        ];
        Ok(Answer::with_notes(
            FencePracticeOutput {
                usual_from_m: row.from_m,
                usual_to_m: row.to_m,
                third_of_the_whole_m: third_of_the_whole_m(height),
                third_of_the_height_m: third_of_the_height_m(height),
                utility_pole_m: utility_pole_m(height),
                below_frost_m: input.frost_depth_m.map(|frost| frost.get() + M_PER_FT),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let height = input.height_above_m.get();
        Working::new()
            .step(
                "a third of the whole post",
                "height above the ground / 2",
                format!("{height} / 2"),
                format!("{:.2} m", value.third_of_the_whole_m),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "a third of the height above",
                "height above the ground / 3",
                format!("{height} / 3"),
                format!("{:.2} m", value.third_of_the_height_m),
            )
            .step(
                "usual depth for this use",
                "the row of the table",
                input.post_use.words(),
                format!("{} to {} m", value.usual_from_m, value.usual_to_m),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_use_has_a_row() {
        use PostUse::{
            DeerFencePost, LinePost, PipeBracePostInConcrete, SteelTPost, VineyardPost, WoodBracePost,
        };
        for post_use in
            [LinePost, SteelTPost, VineyardPost, DeerFencePost, WoodBracePost, PipeBracePostInConcrete]
        {
            let row = ROWS.iter().find(|row| row.post_use == post_use).unwrap();
            assert!(row.from_m <= row.to_m);
        }
    }
}
