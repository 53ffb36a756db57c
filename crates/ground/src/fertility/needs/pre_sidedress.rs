//! Nitrate in the top foot before side-dressing: whether more nitrogen is worth giving.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::credits::SoilNitrate;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Enough is in the ground from here on, ppm: the band within which guides differ.
pub const ENOUGH_PPM: (f64, f64) = (25.0, 30.0);

/// What the test says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SideDress {
    /// More is worth giving.
    Give,
    /// In the band where guides differ.
    Borderline,
    /// Nothing would be gained.
    Skip,
}

/// What nitrate in the top 30 cm says.
#[must_use]
pub fn side_dress(nitrate_n_ppm: f64) -> SideDress {
    match nitrate_n_ppm {
        ppm if ppm >= ENOUGH_PPM.1 => SideDress::Skip,
        ppm if ppm >= ENOUGH_PPM.0 => SideDress::Borderline,
        _ => SideDress::Give,
    }
}

/// Input of `pre-sidedress-nitrate`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PreSidedressInput {
    /// Nitrate nitrogen in the top 30 cm, sampled just before side-dressing.
    pub nitrate_n_ppm: SoilNitrate,
}

/// Output of `pre-sidedress-nitrate`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PreSidedressOutput {
    /// What it says.
    pub side_dress: SideDress,
    /// Short of the lower end of the band, as nitrogen to 30 cm.
    pub short_kg_ha: f64,
}

/// Pre-sidedress nitrate.
pub struct PreSidedressNitrate;

impl Method for PreSidedressNitrate {
    type Input = PreSidedressInput;
    type Output = PreSidedressOutput;

    const CARD: Card = Card {
        name: "pre-sidedress-nitrate",
        title: "Nitrate before side-dressing",
        topic: Topic::Fertility,
        computes: "Whether a crop on its way still gains from nitrogen at the row, from nitrate in the top 30 cm.",
        validity: &[
            "Sweet corn, brassicas, tomato and other long crops, sampled at the time of side-dressing.",
            "Not after a cold wet spell has washed nitrate down, nor where fertilizer was banded near the cores.",
        ],
        sources: &[Cite::new("PreSidedressNitrate", "critical level")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        PreSidedressInput { nitrate_n_ppm: SoilNitrate::literal(18.0) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ppm = input.nitrate_n_ppm.get();
        let short = (ENOUGH_PPM.0 - ppm).max(0.0);
        Ok(Answer::with_notes(
            PreSidedressOutput {
                side_dress: side_dress(ppm),
                short_kg_ha: super::credits::soil_nitrate_kg_ha(
                    short,
                    30.0,
                    super::credits::USUAL_DENSITY_G_CM3,
                ),
            },
            vec![Note::new(NoteKind::Provenance, "The critical level of 25 to 30 ppm is recalled.")],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "what the test says",
                "below 25 ppm give, from 30 ppm on skip",
                format!("{} ppm", input.nitrate_n_ppm.get()),
                match answer.value.side_dress {
                    SideDress::Give => "more is worth giving",
                    SideDress::Borderline => "in the band where guides differ",
                    SideDress::Skip => "nothing would be gained",
                },
            )
            .cite(Self::CARD.sources[0])
    }
}
