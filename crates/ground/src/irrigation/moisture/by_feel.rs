//! Available water from the feel of a handful.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::feel::{FeelGroup, FeelRow, FeelStep};
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};
use crate::texture::Class;
use crate::water::ensemble::INCHES_PER_FOOT;

/// Input of `moisture-by-feel`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MoistureByFeelInput {
    /// Texture class of the ground.
    pub class: Class,
    /// What a handful does when squeezed.
    pub step: FeelStep,
}

/// Output of `moisture-by-feel`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct MoistureByFeelOutput {
    /// Texture group the row was taken from.
    pub group: FeelGroup,
    /// What the handful should look and feel like.
    pub words: String,
    /// Least share of the available water.
    pub available_low_percent: f64,
    /// Greatest share of the available water.
    pub available_high_percent: f64,
    /// Least water missing from field capacity, inches per foot of ground.
    pub missing_low_in_ft: f64,
    /// Most water missing from field capacity, inches per foot of ground.
    pub missing_high_in_ft: f64,
    /// Middle of the range of what is missing, inches per foot of ground.
    pub missing_middle_in_ft: f64,
    /// The same in millimetres per metre of ground.
    pub missing_middle_mm_m: f64,
}

/// Moisture by feel.
pub struct MoistureByFeel;

/// Millimetres per metre in an inch per foot.
const MM_PER_M: f64 = 1000.0 / INCHES_PER_FOOT;

impl Method for MoistureByFeel {
    type Input = MoistureByFeelInput;
    type Output = MoistureByFeelOutput;

    const CARD: Card = Card {
        name: "moisture-by-feel",
        title: "Moisture by feel",
        topic: Topic::Irrigation,
        computes: "How much of its available water the ground still holds, from what a handful does when squeezed, \
                   and how much is missing per foot. It costs nothing and corrects any reckoning.",
        validity: &[
            "Good to about 5 % of the available water with experience; a beginner is a step off now and then.",
            "Feel a handful from each foot of the root zone, in three places or more.",
            "The table names neither silt, sandy clay nor silty clay; they are taken with their neighbours here.",
        ],
        sources: &[Cite::new("NrcsMoistureByFeel1998", "the table")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        MoistureByFeelInput { class: Class::Loam, step: FeelStep::Moist }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let group = FeelGroup::of(input.class);
        let row = FeelRow::of(group, input.step);
        let held = f64::midpoint(row.held_low_in_ft, row.held_high_in_ft);
        let share = f64::midpoint(row.share_low_percent, row.share_high_percent) / 100.0;
        let missing = held * (1.0 - share);
        let mut notes = Vec::new();
        if row.provenance != Provenance::Read {
            notes.push(Note::new(
                NoteKind::Provenance,
                format!("This row of the table: {}.", row.provenance.words()),
            ));
        }
        Ok(Answer::with_notes(
            MoistureByFeelOutput {
                group,
                words: row.words.clone(),
                available_low_percent: row.share_low_percent,
                available_high_percent: row.share_high_percent,
                missing_low_in_ft: row.missing_low_in_ft,
                missing_high_in_ft: row.missing_high_in_ft,
                missing_middle_in_ft: missing,
                missing_middle_mm_m: missing * MM_PER_M,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let row = FeelRow::of(answer.value.group, input.step);
        Working::new()
            .step(
                "share of the available water",
                "the row of the table for this group and step",
                row.words.as_str(),
                format!("{} to {} %", row.share_low_percent, row.share_high_percent),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "missing, middle of the range",
                "available water × (1 − share), both at their middle",
                format!(
                    "{:.2} in/ft × (1 − {:.3})",
                    f64::midpoint(row.held_low_in_ft, row.held_high_in_ft),
                    f64::midpoint(row.share_low_percent, row.share_high_percent) / 100.0
                ),
                format!(
                    "{:.2} in/ft, {:.0} mm/m",
                    answer.value.missing_middle_in_ft, answer.value.missing_middle_mm_m
                ),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_recalled_row_says_so() {
        let notes =
            |class, step| MoistureByFeel::compute(&MoistureByFeelInput { class, step }).unwrap().notes;
        assert!(notes(Class::Loam, FeelStep::Moist).is_empty());
        assert_eq!(notes(Class::Sand, FeelStep::FieldCapacity).len(), 1);
    }
}
