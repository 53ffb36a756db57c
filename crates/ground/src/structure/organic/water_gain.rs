//! How much more water a percent of organic matter holds, by two schools that disagree.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Rise of the organic matter.
    pub struct OrganicGain: "rise of the organic matter", "%", 0.0 ..= 10.0, example 1.0;
    /// Depth of the layer that gains it.
    pub struct GainDepth: "depth of the layer", "mm", 10.0 ..= 600.0, example 152.4;
}

/// Soil groups for which the older regression was printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RegressionGroup {
    /// Sands.
    Sand,
    /// Silt loams.
    SiltLoam,
    /// Silty clay loams.
    SiltyClayLoam,
}

impl RegressionGroup {
    /// Available water, volume %, per percent of organic matter.
    #[must_use]
    pub fn slope(self) -> f64 {
        match self {
            Self::Sand => 2.2,
            Self::SiltLoam => 3.7,
            Self::SiltyClayLoam => 2.8,
        }
    }
}

/// Available water, volume %, per percent of organic matter in the review of sixty studies: 1.16 per percent of
/// organic carbon over 1.724.
pub const REVIEW_SLOPE: f64 = 1.16 / 1.724;

/// Available water gained, mm, at a slope in volume % per percent.
#[must_use]
pub fn water_gain_mm(slope: f64, gain_percent: f64, depth_mm: f64) -> f64 {
    slope * gain_percent / 100.0 * depth_mm
}

/// Input of `organic-matter-water`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WaterGainInput {
    /// Rise of the organic matter.
    pub gain_percent: OrganicGain,
    /// Depth of the layer.
    pub depth_mm: GainDepth,
    /// Group of the soil.
    pub group: RegressionGroup,
}

/// Output of `organic-matter-water`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WaterGainOutput {
    /// Available water gained by the review of sixty studies.
    pub review_mm: f64,
    /// Available water gained by the older regression.
    pub regression_mm: f64,
}

/// Water that organic matter holds.
pub struct OrganicMatterWater;

impl Method for OrganicMatterWater {
    type Input = WaterGainInput;
    type Output = WaterGainOutput;

    const CARD: Card = Card {
        name: "organic-matter-water",
        title: "Water that organic matter holds",
        topic: Topic::Structure,
        computes: "How much more available water a layer holds for a rise of its organic matter, by two publications that \
                   differ several times over. Plan watering on the lower one.",
        validity: &[
            "The review found more in sand and next to nothing in clay; its mean is given for every texture.",
            "The often repeated 20 000 gallons per acre for each percent fits neither.",
        ],
        sources: &[
            Cite::new("MinasnyMcBratney2018", "mean over sixty studies"),
            Cite::new("Hudson1994", "regressions for three groups of soil"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        WaterGainInput {
            gain_percent: OrganicGain::literal(1.0),
            depth_mm: GainDepth::literal(152.4),
            group: RegressionGroup::SiltLoam,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (gain, depth) = (input.gain_percent.get(), input.depth_mm.get());
        Ok(Answer::with_notes(
            WaterGainOutput {
                review_mm: water_gain_mm(REVIEW_SLOPE, gain, depth),
                regression_mm: water_gain_mm(input.group.slope(), gain, depth),
            },
            vec![Note::new(NoteKind::Provenance, "The slopes of both are recalled.")],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (gain, depth) = (input.gain_percent.get(), input.depth_mm.get());
        let step = |working: Working, slope: f64, mm: f64, at: usize| {
            working
                .step(
                    "available water gained",
                    "slope × rise / 100 × depth",
                    format!("{slope:.2} × {gain} / 100 × {depth}"),
                    format!("{mm:.1} mm"),
                )
                .cite(Self::CARD.sources[at])
        };
        let working = step(Working::new(), REVIEW_SLOPE, answer.value.review_mm, 0);
        step(working, input.group.slope(), answer.value.regression_mm, 1)
    }
}
