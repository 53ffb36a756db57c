//! Manganese that a soil lets crops have: an index that counts the pH.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::fertility::schemes::manganese_activity;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Manganese by Mehlich 3.
    pub struct ManganesePpm: "manganese by Mehlich 3", "ppm", 0.0 ..= 5000.0, example 10.0;
    /// pH in water.
    pub struct ManganesePh: "pH in water", "", 2.0 ..= 11.5, example 6.5;
}

/// pH below which manganese is likely to poison crops [Mississippi1584].
pub const MANGANESE_TOXIC_BELOW_PH: f64 = 5.2;

/// Input of `manganese-activity-index`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ManganeseInput {
    /// Manganese by Mehlich 3.
    pub manganese_ppm: ManganesePpm,
    /// pH in water.
    pub ph_water: ManganesePh,
}

/// Output of `manganese-activity-index`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ManganeseOutput {
    /// The index: below 25 deficient, above 100 a warning.
    pub activity_index: f64,
    /// Is the ground so acid that manganese is likely to poison crops?
    pub toxic_likely: bool,
}

/// Manganese activity index.
pub struct ManganeseActivityIndex;

impl Method for ManganeseActivityIndex {
    type Input = ManganeseInput;
    type Output = ManganeseOutput;

    const CARD: Card = Card {
        name: "manganese-activity-index",
        title: "Manganese activity index",
        topic: Topic::Fertility,
        computes: "How much of the manganese that Mehlich 3 finds a soil of this pH lets crops have: below 25 they are likely \
                   to lack it, above 100 it should be watched. Below pH 5.2 manganese is likely to poison them.",
        validity: &["Manganese by Mehlich 3 and pH in water, by the levels of one state's laboratory."],
        sources: &[
            Cite::new("RutgersRelativeLevels", "manganese activity index"),
            Cite::new("Mississippi1584", "manganese toxicity"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        ManganeseInput { manganese_ppm: ManganesePpm::literal(10.0), ph_water: ManganesePh::literal(6.5) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let toxic_likely = input.ph_water.get() < MANGANESE_TOXIC_BELOW_PH;
        let note = toxic_likely.then(|| {
            Note::new(
                NoteKind::Method,
                "Below pH 5.2 manganese is likely to poison crops: lime before anything else.",
            )
        });
        let activity_index = manganese_activity(input.manganese_ppm.get(), input.ph_water.get());
        Ok(Answer::with_notes(ManganeseOutput { activity_index, toxic_likely }, note.into_iter().collect()))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "manganese activity index",
                "101.7 + 3.75 × Mn - 15.2 × pH",
                format!("101.7 + 3.75 × {} - 15.2 × {}", input.manganese_ppm.get(), input.ph_water.get()),
                format!("{:.1}", answer.value.activity_index),
            )
            .cite(Self::CARD.sources[0])
    }
}
