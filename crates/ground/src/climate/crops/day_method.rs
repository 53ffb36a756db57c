//! `crop-day`: a crop on one day after planting.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::curve::CropCurve;
use super::day::{CropDay, CropStage};
use super::question::{Growing, PlantingMonth, asked};
use super::stages::Stages;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Days after planting.
    pub struct AfterPlanting: "days after planting", "d", 0.0 ..= 800.0, example 40.0;
}

/// Input of `crop-day`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CropDayInput {
    /// Key of the crop.
    pub crop: String,
    /// Days since it came into this ground, as seed or as a plant.
    pub after_planting_d: AfterPlanting,
    /// How it is grown.
    #[serde(default)]
    pub growing: Growing,
}

/// Output of `crop-day`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CropDayOutput {
    /// The crop on that day.
    #[serde(flatten)]
    pub day: CropDay,
    /// Lengths of the stages used.
    pub stages: Stages,
    /// Where those lengths were observed.
    pub stages_from: String,
    /// Planting to harvest.
    pub season_d: f64,
}

/// A crop on one day.
pub struct CropDayMethod;

impl Method for CropDayMethod {
    type Input = CropDayInput;
    type Output = CropDayOutput;

    const CARD: Card = Card {
        name: "crop-day",
        title: "A crop on one day",
        topic: Topic::Climate,
        computes: "Stage, coefficients, cover, height and depth of roots of a crop so many days after planting: what the \
                   daily balance of the root zone is fed with.",
        validity: &[
            "Day 0 is the day the crop comes into this ground, as seed or plant; no days are taken off for transplants, \
             as in the source's table. Shorten the first stage where they cover the ground sooner.",
            "Stage lengths are examples; give the farm's own, or days to harvest, to which they are scaled.",
            "First roots of annuals are taken 0.15 m deep (recalled from Annex 8), full-grown ones as for irrigation.",
            "Cover is estimated from the basal coefficient where no cover was seen.",
            "After harvest the ground is bare, with the single coefficient of the first stage.",
        ],
        sources: &[
            Cite::new("Fao56", "Table 11"),
            Cite::new("Fao56", "eq. 66"),
            Cite::new("Fao56", "eq. 76"),
            Cite::new("Fao56", "Annex 8, eq. 8.1 and 8.2"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        CropDayInput {
            crop: "lettuce".to_owned(),
            after_planting_d: AfterPlanting::literal(40.0),
            growing: Growing { planting_month: Some(PlantingMonth::literal(4.0)), ..Growing::default() },
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let asked = asked(&input.crop, &input.growing)?;
        let curve = CropCurve::new(&asked.crop, &asked.setting);
        let day = curve.day(input.after_planting_d.get());
        let mut notes = asked.notes;
        if day.stage == CropStage::Bare {
            notes.insert(
                0,
                Note::new(
                    NoteKind::OutsideRange,
                    format!("The crop is harvested after {:.0} days: the ground is bare.", curve.season_d()),
                ),
            );
        }
        let output = CropDayOutput {
            day,
            stages: asked.setting.stages,
            stages_from: asked.row.region,
            season_d: curve.season_d(),
        };
        Ok(Answer::with_notes(output, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (v, sources) = (&answer.value, Self::CARD.sources);
        let s = v.stages;
        Working::new()
            .step(
                "the stage",
                "first, development, middle, last stage one after the other",
                format!(
                    "{:.0} + {:.0} + {:.0} + {:.0} d ({}), day {}",
                    s.initial_d,
                    s.development_d,
                    s.mid_d,
                    s.late_d,
                    v.stages_from,
                    input.after_planting_d.get()
                ),
                match v.day.stage {
                    CropStage::Bare => "bare ground",
                    CropStage::Initial => "first stage",
                    CropStage::Development => "development",
                    CropStage::Mid => "middle",
                    CropStage::Late => "last stage",
                },
            )
            .cite(sources[0])
            .step(
                "coefficients of the day",
                "a straight line between the stage before and the one after",
                "",
                format!("Kc {:.3}, Kcb {:.3}", v.day.kc, v.day.kcb),
            )
            .cite(sources[1])
            .step(
                "cover",
                "((Kcb − 0.15)/(Kcmax − 0.15))^(1 + 0.5 h)",
                "",
                format!("{:.2}", v.day.cover_fraction),
            )
            .cite(sources[2])
            .step(
                "height and roots",
                "in step with the basal coefficient as it rises, then kept",
                "",
                format!("{:.2} m high, roots {:.2} m", v.day.height_m, v.day.root_depth_m),
            )
            .cite(sources[3])
    }
}
