//! Visual evaluation of soil structure: a block's layers scored 1 to 5.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Structure quality of one layer: 1 friable, 2 intact, 3 firm, 4 compact, 5 very compact. Halves are allowed.
    pub struct LayerScore: "structure score", "", 1.0 ..= 5.0, example 2.0;
    /// Thickness of the layer.
    pub struct ScoredThickness: "thickness of the layer", "cm", 0.5 ..= 60.0, example 10.0;
}

/// One layer of the block.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ScoredLayer {
    /// How thick it is.
    pub thickness_cm: ScoredThickness,
    /// Its score.
    pub score: LayerScore,
}

/// What a block's score asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StructureRating {
    /// Below 3: keep on.
    Good,
    /// 3 to below 4: care for the long term.
    Moderate,
    /// 4 and more: act.
    Poor,
}

/// Score of a block: the mean of its layers weighted by thickness. At least one layer.
#[must_use]
pub fn block_score(layers: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (sum, depth) = layers
        .fold((0.0, 0.0), |(sum, depth), (thickness, score)| (sum + thickness * score, depth + thickness));
    sum / depth
}

/// Rating of a score.
#[must_use]
pub fn rating(score: f64) -> StructureRating {
    match score {
        score if score < 3.0 => StructureRating::Good,
        score if score < 4.0 => StructureRating::Moderate,
        _ => StructureRating::Poor,
    }
}

/// A layer that roots find hard to pass is met above this score.
pub const RESTRICTS_ABOVE: f64 = 3.5;

/// Input of `visual-structure-score`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ScoreInput {
    /// Layers of one block, top first.
    pub layers: Vec<ScoredLayer>,
}

/// Output of `visual-structure-score`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ScoreOutput {
    /// Score of the block, 1 to 5.
    pub score: f64,
    /// What it asks for.
    pub rating: StructureRating,
    /// Score of the worst layer.
    pub worst_score: f64,
    /// Depth at which that layer begins.
    pub worst_from_cm: f64,
    /// Whether that layer holds roots up.
    pub worst_restricts_roots: bool,
}

/// Visual structure score.
pub struct VisualStructureScore;

impl Method for VisualStructureScore {
    type Input = ScoreInput;
    type Output = ScoreOutput;

    const CARD: Card = Card {
        name: "visual-structure-score",
        title: "Structure score of a spade block",
        topic: Topic::Structure,
        computes: "Scores a block dug with the spade: each layer from 1 (crumbs mostly smaller than 6 mm, roots \
                   throughout) to 5 (very compact, clods above 10 cm, no pores, grey), and the block by the thickness of \
                   its layers. One bad layer can hide in a good mean, so the worst is told too.",
        validity: &[
            "Moist ground; break pieces to 1.5 to 2 cm by hand to judge their shape and pores.",
            "Ten places in a field, three to five in a small plot.",
        ],
        sources: &[
            Cite::new("Ball2007", "structure quality classes"),
            Cite::new("Guimaraes2011", "score of a block; what it asks for"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let layer = |thickness, score| ScoredLayer {
            thickness_cm: ScoredThickness::literal(thickness),
            score: LayerScore::literal(score),
        };
        ScoreInput { layers: vec![layer(6.0, 2.0), layer(14.0, 4.0)] }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.layers.is_empty() || input.layers.len() > 10 {
            return Err(Refusal::new("layers", format!("{} layers were given", input.layers.len()))
                .given(input.layers.len())
                .accepted("1 to 10 layers")
                .example("2"));
        }
        let score =
            block_score(input.layers.iter().map(|layer| (layer.thickness_cm.get(), layer.score.get())));
        let (mut worst_score, mut worst_from_cm, mut top) = (0.0, 0.0, 0.0);
        for layer in &input.layers {
            if layer.score.get() > worst_score {
                (worst_score, worst_from_cm) = (layer.score.get(), top);
            }
            top += layer.thickness_cm.get();
        }
        Ok(Answer::with_notes(
            ScoreOutput {
                score,
                rating: rating(score),
                worst_score,
                worst_from_cm,
                worst_restricts_roots: worst_score > RESTRICTS_ABOVE,
            },
            vec![Note::new(
                NoteKind::Provenance,
                "The weighting and the middle classes are recalled; that roots are restricted above 3.5 was read.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let list: Vec<String> = input
            .layers
            .iter()
            .map(|layer| format!("{} × {}", layer.score.get(), layer.thickness_cm.get()))
            .collect();
        Working::new()
            .step(
                "score of the block",
                "sum of score × thickness / depth of the block",
                list.join(" + "),
                format!("{:.1}", answer.value.score),
            )
            .cite(Self::CARD.sources[1])
    }
}
