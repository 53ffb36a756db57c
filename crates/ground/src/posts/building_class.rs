//! Classes of ground in building codes, and the pressures that they allow.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::us::{KPA_M_PER_PSF_FT, KPA_PER_PSF};
use crate::kit::table::rows;
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Ground as building codes class it, firm to soft.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BuildingClass {
    /// Class 1.
    CrystallineBedrock,
    /// Class 2: layered or foliated rock.
    SedimentaryRock,
    /// Class 3: gravel, sandy gravel.
    SandyGravel,
    /// Class 4: sand, silty or clayey sand, silty or clayey gravel.
    Sand,
    /// Class 5: silt, clay and their mixtures.
    SiltAndClay,
}

impl BuildingClass {
    /// Every class, firm to soft; `class as usize` is its place here.
    pub const ALL: [Self; 5] =
        [Self::CrystallineBedrock, Self::SedimentaryRock, Self::SandyGravel, Self::Sand, Self::SiltAndClay];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::CrystallineBedrock => "crystalline bedrock",
            Self::SedimentaryRock => "sedimentary rock",
            Self::SandyGravel => "gravel or sandy gravel",
            Self::Sand => "sand, silty or clayey sand",
            Self::SiltAndClay => "silt and clay",
        }
    }

    /// Number of the class in the table, 1 firm to 5 soft.
    #[must_use]
    pub fn number(self) -> u8 {
        self as u8 + 1
    }

    /// What the table allows.
    #[must_use]
    pub fn presumptive(self) -> Presumptive {
        TABLE[self as usize]
    }
}

/// Pressures allowed without tests.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Presumptive {
    /// Downward pressure on the ground under a foot, psf.
    pub vertical_psf: f64,
    /// Sideways pressure for each foot of depth, psf/ft.
    pub lateral_psf_per_ft: f64,
    /// Sliding friction as a share of the dead load; none for silt and clay.
    pub sliding_friction: Option<f64>,
    /// Sliding resistance on the contact area, psf, at most half the dead load; silt and clay only.
    pub cohesion_psf: Option<f64>,
}

impl Presumptive {
    /// Sideways pressure for each metre of depth. Below the water table half of it: ground weighs about
    /// half as much there, (120 − 62.4)/120 = 0.48 (common practice).
    #[must_use]
    pub fn lateral_kpa_m(&self, below_water: bool) -> f64 {
        self.lateral_psf_per_ft * KPA_M_PER_PSF_FT * if below_water { BELOW_WATER } else { 1.0 }
    }

    /// Downward pressure allowed, kPa.
    #[must_use]
    pub fn vertical_kpa(&self) -> f64 {
        self.vertical_psf * KPA_PER_PSF
    }
}

/// What is left of lateral bearing below the water table.
pub const BELOW_WATER: f64 = 0.5;

#[derive(Deserialize)]
struct Row {
    class: BuildingClass,
    vertical_psf: f64,
    lateral_psf_per_ft: f64,
    sliding_friction: Option<f64>,
    cohesion_psf: Option<f64>,
}

static TABLE: LazyLock<[Presumptive; 5]> = LazyLock::new(|| {
    let rows: Vec<Row> = rows("presumptive.csv", include_str!("data/presumptive.csv"));
    BuildingClass::ALL.map(|class| match rows.iter().find(|row| row.class == class) {
        Some(row) => Presumptive {
            vertical_psf: row.vertical_psf,
            lateral_psf_per_ft: row.lateral_psf_per_ft,
            sliding_friction: row.sliding_friction,
            cohesion_psf: row.cohesion_psf,
        },
        None => unreachable!("a test looks every class up"),
    })
});

/// Input of `presumptive-bearing`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PresumptiveInput {
    /// Class of the ground at a third of the depth and at the foot.
    pub class: BuildingClass,
    /// The water table stands above the foot of the post.
    #[serde(default)]
    pub below_water: bool,
    /// A lone pole that 12 mm of movement at the ground does not harm: the code doubles the lateral value.
    #[serde(default)]
    pub isolated_and_movement_harmless: bool,
}

/// Output of `presumptive-bearing`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PresumptiveOutput {
    /// Number of the class, 1 firm to 5 soft.
    pub class_number: u8,
    /// As the table prints it.
    #[serde(flatten)]
    pub table: Presumptive,
    /// Downward pressure, kPa.
    pub vertical_kpa: f64,
    /// Sideways pressure for each metre of depth after doubling and water, kPa/m.
    pub lateral_bearing_kpa_m: f64,
}

/// Presumptive bearing.
pub struct PresumptiveBearing;

impl Method for PresumptiveBearing {
    type Input = PresumptiveInput;
    type Output = PresumptiveOutput;

    const CARD: Card = Card {
        name: "presumptive-bearing",
        title: "What building codes let the ground bear",
        topic: Topic::Posts,
        computes: "The downward and sideways pressures that building codes allow for a class of ground without tests.",
        validity: &[
            "Undisturbed mineral ground. There is no value for tilled ground, fill, mud, peat, organic silt or clay.",
            "Never take a rock class from a bar or an auger that stopped: it may be one boulder.",
        ],
        sources: &[
            Cite::new("IbcSoilClasses", "Table 1806.2"),
            Cite::new("IbcFoundations", "1806.3.3, 1806.3.4"),
        ],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        PresumptiveInput {
            class: BuildingClass::SiltAndClay,
            below_water: false,
            isolated_and_movement_harmless: false,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let table = input.class.presumptive();
        let doubled = if input.isolated_and_movement_harmless { 2.0 } else { 1.0 };
        let mut notes = Vec::new();
        if input.below_water {
            let text = if input.class == BuildingClass::SiltAndClay {
                "Wet silt or clay was given half its value, by common practice; where it is soft there is no value at all: ask an engineer."
            } else {
                "Below the water table the sideways value was halved, by common practice: ground weighs about half as much there."
            };
            notes.push(Note::new(NoteKind::Provenance, text));
        }
        if input.isolated_and_movement_harmless {
            notes.push(Note::new(
                NoteKind::Method,
                "Doubled for a lone pole: never for a post of a rigid frame or a glazed wall.",
            ));
        }
        if input.class <= BuildingClass::SedimentaryRock {
            notes.push(Note::new(
                NoteKind::Safety,
                "A post on rock is pinned and grouted by someone who knows how; a bar that stopped is no proof of rock.",
            ));
        }
        Ok(Answer::with_notes(
            PresumptiveOutput {
                class_number: input.class.number(),
                table,
                vertical_kpa: table.vertical_kpa(),
                lateral_bearing_kpa_m: doubled * table.lateral_kpa_m(input.below_water),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "the row of the table",
                "by the class of the ground",
                input.class.words(),
                format!(
                    "{} psf down, {} psf sideways for each foot of depth",
                    value.table.vertical_psf, value.table.lateral_psf_per_ft
                ),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "lateral bearing",
                "psf/ft × 0.157 kPa/m, doubled for a lone pole, halved below water",
                format!("{} psf/ft", value.table.lateral_psf_per_ft),
                format!("{:.2} kPa/m", value.lateral_bearing_kpa_m),
            )
            .cite(Self::CARD.sources[1])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn softer_classes_bear_less() {
        for pair in BuildingClass::ALL.windows(2) {
            let (firm, soft) = (pair[0].presumptive(), pair[1].presumptive());
            assert!(firm.vertical_psf > soft.vertical_psf);
            assert!(firm.lateral_kpa_m(false) > soft.lateral_kpa_m(false));
            assert!(soft.lateral_kpa_m(true) < soft.lateral_kpa_m(false));
        }
    }
}
