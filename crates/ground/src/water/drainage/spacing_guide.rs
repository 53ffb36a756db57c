//! A drainage guide's spacing by subsoil, for a first idea.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::table;
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;

/// Metres in a foot.
const M_PER_FT: f64 = 0.3048;

/// Subsoils of the guide.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum GuideSubsoil {
    /// Clay loam.
    ClayLoam,
    /// Silty clay loam.
    SiltyClayLoam,
    /// Silt loam.
    SiltLoam,
    /// Loam.
    Loam,
    /// Sandy loam.
    SandyLoam,
}

impl GuideSubsoil {
    /// Each subsoil.
    pub const ALL: [Self; 5] =
        [Self::ClayLoam, Self::SiltyClayLoam, Self::SiltLoam, Self::Loam, Self::SandyLoam];

    /// The row of a texture class, where the guide has one.
    #[must_use]
    pub fn of(class: Class) -> Option<Self> {
        match class {
            Class::ClayLoam => Some(Self::ClayLoam),
            Class::SiltyClayLoam => Some(Self::SiltyClayLoam),
            Class::SiltLoam => Some(Self::SiltLoam),
            Class::Loam => Some(Self::Loam),
            Class::SandyLoam => Some(Self::SandyLoam),
            _ => None,
        }
    }
}

/// How well the ground is to be drained.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum DrainageAim {
    /// A quarter inch a day.
    Fair,
    /// Three eighths of an inch a day.
    Good,
    /// Half an inch a day: what vegetables are usually given.
    Excellent,
}

impl DrainageAim {
    /// Water led away, mm a day.
    #[must_use]
    pub fn drainage_mm_d(self) -> f64 {
        match self {
            Self::Fair => 6.35,
            Self::Good => 9.525,
            Self::Excellent => 12.7,
        }
    }
}

/// A row of the guide.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
pub struct GuideRow {
    /// Subsoil.
    pub subsoil: GuideSubsoil,
    /// Spacing at a quarter inch a day, ft.
    pub fair_ft: f64,
    /// Spacing at three eighths, ft.
    pub good_ft: f64,
    /// Spacing at half an inch, ft.
    pub excellent_ft: f64,
    /// Least depth, ft.
    pub least_depth_ft: f64,
    /// Greatest depth, ft.
    pub greatest_depth_ft: f64,
}

static ROWS: LazyLock<Vec<GuideRow>> =
    LazyLock::new(|| table::rows("spacing_guide.csv", include_str!("data/spacing_guide.csv")));

/// The guide's row of a subsoil.
#[must_use]
pub fn guide_row(subsoil: GuideSubsoil) -> GuideRow {
    match ROWS.iter().find(|row| row.subsoil == subsoil) {
        Some(row) => *row,
        None => unreachable!("a test finds every subsoil"),
    }
}

/// Spacing of the guide, m.
#[must_use]
pub fn guide_spacing_m(subsoil: GuideSubsoil, aim: DrainageAim) -> f64 {
    let row = guide_row(subsoil);
    M_PER_FT
        * match aim {
            DrainageAim::Fair => row.fair_ft,
            DrainageAim::Good => row.good_ft,
            DrainageAim::Excellent => row.excellent_ft,
        }
}

/// Input of `drain-spacing-guide`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SpacingGuideInput {
    /// Subsoil around and below the drains.
    pub subsoil: GuideSubsoil,
    /// How well the ground is to be drained.
    pub aim: DrainageAim,
}

/// Output of `drain-spacing-guide`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SpacingGuideOutput {
    /// Spacing.
    pub spacing_m: f64,
    /// Spacing as printed.
    pub spacing_ft: f64,
    /// Least depth of the drains.
    pub least_depth_m: f64,
    /// Greatest depth.
    pub greatest_depth_m: f64,
    /// Water led away.
    pub drainage_mm_d: f64,
}

/// Drain spacing from a guide.
pub struct DrainSpacingGuide;

impl Method for DrainSpacingGuide {
    type Input = SpacingGuideInput;
    type Output = SpacingGuideOutput;

    const CARD: Card = Card {
        name: "drain-spacing-guide",
        title: "Drain spacing by subsoil",
        topic: Topic::Water,
        computes: "A drainage guide's spacing and depth of pipe drains for five subsoils: a first idea before anything is measured.",
        validity: &[
            "Made for level land of the upper Midwest of the United States; local guides go before it.",
            "A measured conductivity and the drain spacing equation go before any guide.",
        ],
        sources: &[Cite::new("WrightSands2001", "drain spacing and depth")],
        cautions: &[super::DIGGING, super::TRENCHES, super::PERMITS],
    };

    fn example() -> Self::Input {
        SpacingGuideInput { subsoil: GuideSubsoil::SiltLoam, aim: DrainageAim::Excellent }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let row = guide_row(input.subsoil);
        let spacing_m = guide_spacing_m(input.subsoil, input.aim);
        Ok(Answer::with_notes(
            SpacingGuideOutput {
                spacing_m,
                spacing_ft: spacing_m / M_PER_FT,
                least_depth_m: row.least_depth_ft * M_PER_FT,
                greatest_depth_m: row.greatest_depth_ft * M_PER_FT,
                drainage_mm_d: input.aim.drainage_mm_d(),
            },
            vec![Note::new(NoteKind::Provenance, "The guide's table is recalled and was not read again.")],
        ))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "spacing",
                "row of the subsoil, column of the water to lead away",
                format!("{:.1} mm a day", answer.value.drainage_mm_d),
                format!("{:.0} ft, {:.1} m", answer.value.spacing_ft, answer.value.spacing_m),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_subsoil_has_a_row_and_wetter_aims_lie_closer() {
        for subsoil in GuideSubsoil::ALL {
            let spacings = [DrainageAim::Fair, DrainageAim::Good, DrainageAim::Excellent]
                .map(|aim| guide_spacing_m(subsoil, aim));
            assert!(spacings[0] > spacings[1] && spacings[1] > spacings[2], "{subsoil:?}");
        }
    }
}
