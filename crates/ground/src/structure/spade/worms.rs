//! Earthworms in a block of ground.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Earthworms found.
    pub struct WormCount: "earthworms", "", 0.0 ..= 1000.0, example 12.0;
    /// Length, width or depth of the block.
    pub struct BlockSide: "side of the block", "cm", 10.0 ..= 60.0, example 30.5;
}

/// Litres of a cubic foot: (0.3048 m)³, exact by definition.
const LITRES_PER_FT3: f64 = 28.316_846_592;

/// How lively the ground is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WormRating {
    /// Fewer than 5 in a cubic foot.
    Few,
    /// 5 to 10.
    Fair,
    /// More than 10.
    Healthy,
}

/// Rating of worms in a cubic foot.
#[must_use]
pub fn worm_rating(per_ft3: f64) -> WormRating {
    match per_ft3 {
        n if n < 5.0 => WormRating::Few,
        n if n <= 10.0 => WormRating::Fair,
        _ => WormRating::Healthy,
    }
}

/// Input of `earthworm-count`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WormInput {
    /// Worms found, young and old.
    pub worms: WormCount,
    /// Length of the block.
    pub length_cm: BlockSide,
    /// Its width.
    pub width_cm: BlockSide,
    /// Its depth.
    pub depth_cm: BlockSide,
}

/// Output of `earthworm-count`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WormOutput {
    /// Worms in a cubic foot.
    pub per_ft3: f64,
    /// Worms under a square metre, to the depth of the block.
    pub per_m2: f64,
    /// How lively the ground is.
    pub rating: WormRating,
}

/// Earthworm count.
pub struct EarthwormCount;

impl Method for EarthwormCount {
    type Input = WormInput;
    type Output = WormOutput;

    const CARD: Card = Card {
        name: "earthworm-count",
        title: "Earthworm count",
        topic: Topic::Structure,
        computes: "Earthworms in a cubic foot of ground and under a square metre, and whether that is few. Their channels \
                   drain and air the ground and lead roots through a pan.",
        validity: &[
            "Moist ground warmer than 10 °C (50 °F), several blocks: worms lie in patches. In dry or cold ground they are deeper.",
            "More than ten in a cubic foot is healthy (read); the limit of few is common practice.",
        ],
        sources: &[Cite::new("NrcsTestKit1999", "earthworm test")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        WormInput {
            worms: WormCount::literal(12.0),
            length_cm: BlockSide::literal(30.5),
            width_cm: BlockSide::literal(30.5),
            depth_cm: BlockSide::literal(30.5),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let area_cm2 = input.length_cm.get() * input.width_cm.get();
        let litres = area_cm2 * input.depth_cm.get() / 1000.0;
        let per_ft3 = input.worms.get() / litres * LITRES_PER_FT3;
        Ok(Answer::with_notes(
            WormOutput { per_ft3, per_m2: input.worms.get() / area_cm2 * 1e4, rating: worm_rating(per_ft3) },
            vec![Note::new(NoteKind::Provenance, "The limit between few and fair is common practice.")],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "worms in a cubic foot",
                "worms / litres of the block × 28.3",
                format!(
                    "{} / ({} × {} × {} / 1000) × 28.3",
                    input.worms.get(),
                    input.length_cm.get(),
                    input.width_cm.get(),
                    input.depth_cm.get()
                ),
                format!("{:.1}", answer.value.per_ft3),
            )
            .cite(Self::CARD.sources[0])
    }
}
