//! The greatest rate of sprinkling the ground takes without runoff.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::intake_class::MM_PER_INCH;
use crate::kit::quantity::number;
use crate::kit::table;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;

crate::quantity! {
    /// Slope of the ground.
    pub struct GroundSlope: "slope of the ground", "%", 0.0 ..= 100.0, example 3.0;
    /// Late intake rate measured in the field.
    pub struct MeasuredIntake: "measured late intake rate", "mm/h", 0.01 ..= 2000.0, example 12.0;
}

/// Profiles of the sprinkler table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum IntakeProfile {
    /// Coarse sandy soil, alike to 1.8 m.
    CoarseSandy,
    /// Coarse sandy soil over more compact soil.
    CoarseSandyOverCompact,
    /// Light sandy loam, alike to 1.8 m.
    LightSandyLoam,
    /// Light sandy loam over more compact soil.
    LightSandyLoamOverCompact,
    /// Silt loam, alike to 1.8 m.
    SiltLoam,
    /// Silt loam over more compact soil.
    SiltLoamOverCompact,
    /// Heavy clay or clay loam.
    HeavyClayOrClayLoam,
}

impl IntakeProfile {
    /// Each profile in the order of the table.
    pub const ALL: [Self; 7] = [
        Self::CoarseSandy,
        Self::CoarseSandyOverCompact,
        Self::LightSandyLoam,
        Self::LightSandyLoamOverCompact,
        Self::SiltLoam,
        Self::SiltLoamOverCompact,
        Self::HeavyClayOrClayLoam,
    ];

    /// The profile a texture class belongs to. The table names only some classes; which of its rows
    /// stands for the others is our judgement.
    #[must_use]
    pub fn of(class: Class, compact_below: bool) -> Self {
        match (class, compact_below) {
            (Class::Sand | Class::LoamySand, false) => Self::CoarseSandy,
            (Class::Sand | Class::LoamySand, true) => Self::CoarseSandyOverCompact,
            (Class::SandyLoam, false) => Self::LightSandyLoam,
            (Class::SandyLoam, true) => Self::LightSandyLoamOverCompact,
            (Class::Loam | Class::SiltLoam | Class::Silt, false) => Self::SiltLoam,
            (Class::Loam | Class::SiltLoam | Class::Silt, true) => Self::SiltLoamOverCompact,
            _ => Self::HeavyClayOrClayLoam,
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::CoarseSandy => "coarse sandy soil, alike to 1.8 m",
            Self::CoarseSandyOverCompact => "coarse sandy soil over more compact soil",
            Self::LightSandyLoam => "light sandy loam, alike to 1.8 m",
            Self::LightSandyLoamOverCompact => "light sandy loam over more compact soil",
            Self::SiltLoam => "silt loam, alike to 1.8 m",
            Self::SiltLoamOverCompact => "silt loam over more compact soil",
            Self::HeavyClayOrClayLoam => "heavy clay or clay loam",
        }
    }
}

#[derive(Deserialize)]
struct Row {
    profile: IntakeProfile,
    slope_0_5: f64,
    slope_5_8: f64,
    slope_8_12: f64,
    slope_12_16: f64,
}

static BY_PROFILE: LazyLock<[[f64; 4]; 7]> = LazyLock::new(|| {
    let mut all = [[f64::NAN; 4]; 7];
    for row in table::rows::<Row>("sprinkler_rate.csv", include_str!("data/sprinkler_rate.csv")) {
        all[row.profile as usize] = [row.slope_0_5, row.slope_5_8, row.slope_8_12, row.slope_12_16];
    }
    all
});

/// Steepest slope of the table, percent.
pub const STEEPEST_PERCENT: f64 = 16.0;

/// Greatest sprinkler rate for a profile and slope, mm/h: the table, halved on bare or crusting
/// ground. `None` on slopes above 16 %. A slope on a limit belongs to the gentler column.
#[must_use]
pub fn greatest_rate_mm_h(profile: IntakeProfile, slope_percent: f64, bare_or_crusting: bool) -> Option<f64> {
    let column = match slope_percent {
        s if s <= 5.0 => 0,
        s if s <= 8.0 => 1,
        s if s <= 12.0 => 2,
        s if s <= STEEPEST_PERCENT => 3,
        _ => return None,
    };
    let rate = BY_PROFILE[profile as usize][column] * MM_PER_INCH;
    Some(if bare_or_crusting { rate / 2.0 } else { rate })
}

/// Input of `sprinkler-rate`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SprinklerRateInput {
    /// Row of the table. Give this or `texture_class`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub profile: Option<IntakeProfile>,
    /// Texture class of the topsoil. Give this or `profile`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub texture_class: Option<Class>,
    /// With a texture class: is the soil below more compact?
    #[serde(default)]
    pub compact_below: bool,
    /// Slope of the ground.
    pub slope_percent: GroundSlope,
    /// Is the surface bare, or does it crust?
    #[serde(default)]
    pub bare_or_crusting: bool,
    /// Late intake measured in the field: it goes before the table.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_mm_h: Option<MeasuredIntake>,
}

impl SprinklerRateInput {
    fn row(&self) -> Result<IntakeProfile, Refusal> {
        let refuse = |field: &str, text: &str, said: &str| {
            Err(Refusal::new(field, text)
                .given(said)
                .accepted("one of profile and texture_class")
                .example("texture_class loam"))
        };
        match (self.profile, self.texture_class) {
            (Some(profile), None) => Ok(profile),
            (None, Some(class)) => Ok(IntakeProfile::of(class, self.compact_below)),
            (Some(_), Some(_)) => refuse(
                "profile",
                "both a profile and a texture class were given, and they may disagree",
                "both",
            ),
            (None, None) => {
                refuse("texture_class", "neither a profile nor a texture class was given", "neither")
            }
        }
    }
}

/// Where a rate comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RateBasis {
    /// The field's own intake.
    Measured,
    /// The table.
    Table,
}

/// Output of `sprinkler-rate`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SprinklerRateOutput {
    /// Greatest rate; nothing on slopes beyond the table without a measured intake.
    pub greatest_mm_h: Option<f64>,
    /// The same in inches.
    pub greatest_in_h: Option<f64>,
    /// Rate of the table, for comparison.
    pub table_mm_h: Option<f64>,
    /// Row of the table.
    pub profile: IntakeProfile,
    /// Where the rate comes from.
    pub basis: RateBasis,
}

/// Greatest sprinkler rate.
pub struct SprinklerRate;

impl Method for SprinklerRate {
    type Input = SprinklerRateInput;
    type Output = SprinklerRateOutput;

    const CARD: Card = Card {
        name: "sprinkler-rate",
        title: "How fast sprinklers may run",
        topic: Topic::Irrigation,
        computes: "The greatest rate of sprinkling that a soil takes without runoff, by its profile and slope; half of it \
                   where the surface is bare or crusts. An intake measured in the field goes before the table.",
        validity: &[
            "Average soil and tilth, slopes up to 16 %.",
            "A measured intake is taken as it is, slope and all: measure where the sprinklers will run, and late, when \
             the rate has settled.",
        ],
        sources: &[Cite::new("SprinklerHandbook1983", "suggested maximum application rates")],
        cautions: &[
            "Keep a backflow preventer between any drinking water supply and the sprinklers, as codes ask.",
        ],
    };

    fn example() -> Self::Input {
        SprinklerRateInput {
            profile: None,
            texture_class: Some(Class::SiltLoam),
            compact_below: false,
            slope_percent: GroundSlope::literal(3.0),
            bare_or_crusting: true,
            measured_mm_h: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let profile = input.row()?;
        let table_mm_h = greatest_rate_mm_h(profile, input.slope_percent.get(), input.bare_or_crusting);
        let measured = input.measured_mm_h.map(Bounded::get);
        let greatest_mm_h = measured.or(table_mm_h);
        let mut notes = Vec::new();
        if table_mm_h.is_none() {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "The table ends at a slope of 16 %: measure the intake there, or water by drip.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "The table is recalled and was not read again; halving it on bare ground is common practice without a source; \
             which row stands for a texture class is our judgement.",
        ));
        Ok(Answer::with_notes(
            SprinklerRateOutput {
                greatest_mm_h,
                greatest_in_h: greatest_mm_h.map(|rate| rate / MM_PER_INCH),
                table_mm_h,
                profile,
                basis: if measured.is_some() { RateBasis::Measured } else { RateBasis::Table },
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let said =
            |rate: Option<f64>| rate.map_or_else(|| "no value".to_owned(), |rate| format!("{rate:.2} mm/h"));
        let mut working = Working::new()
            .step(
                "rate of the table",
                if input.bare_or_crusting {
                    "row of the profile, column of the slope, halved on bare or crusting ground"
                } else {
                    "row of the profile, column of the slope"
                },
                format!("{}; {} %", answer.value.profile.words(), number(input.slope_percent.get())),
                said(answer.value.table_mm_h),
            )
            .cite(Self::CARD.sources[0]);
        if answer.value.basis == RateBasis::Measured {
            working = working.step(
                "greatest rate",
                "an intake measured in the field goes before the table",
                "the measured rate",
                said(answer.value.greatest_mm_h),
            );
        }
        working
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_full_and_falls_with_slope() {
        for profile in IntakeProfile::ALL {
            let rates =
                [2.0, 6.0, 10.0, 14.0].map(|slope| greatest_rate_mm_h(profile, slope, false).unwrap());
            assert!(rates.iter().all(|rate| *rate > 0.0));
            assert!(rates.windows(2).all(|pair| pair[0] > pair[1]), "{profile:?}: {rates:?}");
            assert!(greatest_rate_mm_h(profile, 16.1, false).is_none());
        }
    }
}
