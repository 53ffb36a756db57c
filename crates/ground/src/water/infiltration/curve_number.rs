//! Runoff of a storm by curve number.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::hydrologic_group::HydrologicGroup;
use super::intake_class::MM_PER_INCH;
use crate::kit::table;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Rain of one storm.
    pub struct StormRain: "rain of the storm", "mm", 0.0 ..= 1000.0, example 127.0;
    /// Runoff curve number.
    pub struct CurveNumber: "curve number", "", 1.0 ..= 100.0, example 78.0;
}

/// Covers of the curve-number table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Cover {
    /// Bare fallow ground.
    BareFallow,
    /// Row crops in straight rows, poor condition.
    StraightRowsPoor,
    /// Row crops in straight rows, good condition.
    StraightRowsGood,
    /// Row crops on the contour, good condition.
    ContouredRowsGood,
    /// Grain or a cover crop drilled close, straight, good condition.
    CloseGrainGood,
    /// Pasture, good condition.
    PastureGood,
    /// Meadow, mown and not grazed.
    Meadow,
    /// Roof or paving; a covered tunnel sheds like one.
    RoofOrPaving,
}

impl Cover {
    /// Each cover.
    pub const ALL: [Self; 8] = [
        Self::BareFallow,
        Self::StraightRowsPoor,
        Self::StraightRowsGood,
        Self::ContouredRowsGood,
        Self::CloseGrainGood,
        Self::PastureGood,
        Self::Meadow,
        Self::RoofOrPaving,
    ];
}

#[derive(Deserialize)]
struct Row {
    cover: Cover,
    a: f64,
    b: f64,
    c: f64,
    d: f64,
}

static BY_COVER: LazyLock<[[f64; 4]; 8]> = LazyLock::new(|| {
    let mut all = [[f64::NAN; 4]; 8];
    for row in table::rows::<Row>("curve_numbers.csv", include_str!("data/curve_numbers.csv")) {
        all[row.cover as usize] = [row.a, row.b, row.c, row.d];
    }
    all
});

/// Curve number of a cover on a group; a dual group counts as undrained.
#[must_use]
pub fn curve_number(cover: Cover, group: HydrologicGroup) -> f64 {
    let column = match group.when(false) {
        HydrologicGroup::A => 0,
        HydrologicGroup::B => 1,
        HydrologicGroup::C => 2,
        _ => 3,
    };
    BY_COVER[cover as usize][column]
}

/// Water the ground can keep back by curve number, mm: S = 25.4 (1000 / CN − 10).
#[must_use]
pub fn retention_mm(curve_number: f64) -> f64 {
    MM_PER_INCH * (1000.0 / curve_number - 10.0)
}

/// Runoff of a storm, mm: (P − 0.2 S)² / (P + 0.8 S) once the rain exceeds 0.2 S.
#[must_use]
pub fn storm_runoff_mm(rain_mm: f64, curve_number: f64) -> f64 {
    let keeps = retention_mm(curve_number);
    let beyond = rain_mm - 0.2 * keeps;
    if beyond <= 0.0 { 0.0 } else { beyond * beyond / (rain_mm + 0.8 * keeps) }
}

/// Input of `runoff-curve-number`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CurveNumberInput {
    /// Rain of the storm.
    pub rain_mm: StormRain,
    /// A curve number. Give this, or a cover and a group.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub curve_number: Option<CurveNumber>,
    /// Cover of the ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cover: Option<Cover>,
    /// Hydrologic soil group.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<HydrologicGroup>,
}

/// Output of `runoff-curve-number`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CurveNumberOutput {
    /// Curve number used.
    pub curve_number: f64,
    /// Water the ground can keep back at most.
    pub retention_mm: f64,
    /// Runoff.
    pub runoff_mm: f64,
    /// Runoff in inches.
    pub runoff_in: f64,
    /// Rain that went in or stayed in hollows and on leaves.
    pub kept_mm: f64,
}

/// Storm runoff by curve number.
pub struct RunoffCurveNumber;

impl Method for RunoffCurveNumber {
    type Input = CurveNumberInput;
    type Output = CurveNumberOutput;

    const CARD: Card = Card {
        name: "runoff-curve-number",
        title: "Runoff of a storm",
        topic: Topic::Water,
        computes: "Runoff of one storm from the ground's hydrologic group and its cover. On a small plot read it as a \
                   rank, to compare covers and fields, more than as a depth.",
        validity: &[
            "Made for small catchments and whole storms at average moisture beforehand; wet ground sheds more.",
            "A dual group counts as undrained.",
        ],
        sources: &[Cite::new("Tr55", "eq. 2-3, Table 2-2")],
        cautions: &["Leading runoff onto a neighbour's land or a road may need consent or a permit."],
    };

    fn example() -> Self::Input {
        CurveNumberInput {
            rain_mm: StormRain::literal(127.0),
            curve_number: None,
            cover: Some(Cover::StraightRowsGood),
            group: Some(HydrologicGroup::B),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let number = match (input.curve_number, input.cover, input.group) {
            (Some(number), None, None) => number.get(),
            (None, Some(cover), Some(group)) => curve_number(cover, group),
            _ => {
                return Err(Refusal::new(
                    "curve_number",
                    "a storm needs either a curve number, or both a cover and a hydrologic group",
                )
                .given("another choice of these")
                .accepted("curve_number alone, or cover and group")
                .example("cover straight_rows_good and group B"));
            }
        };
        let rain = input.rain_mm.get();
        let runoff_mm = storm_runoff_mm(rain, number);
        let mut notes = Vec::new();
        if input.cover.is_some() {
            notes.push(Note::new(
                NoteKind::Provenance,
                "The table of curve numbers is recalled and was not read again.",
            ));
        }
        Ok(Answer::with_notes(
            CurveNumberOutput {
                curve_number: number,
                retention_mm: retention_mm(number),
                runoff_mm,
                runoff_in: runoff_mm / MM_PER_INCH,
                kept_mm: rain - runoff_mm,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let rain = input.rain_mm.get();
        Working::new()
            .step(
                "water kept back at most",
                "S = 25.4 (1000 / CN − 10)",
                format!("25.4 × (1000 / {} − 10)", value.curve_number),
                format!("{:.1} mm", value.retention_mm),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "runoff",
                "(P − 0.2 S)² / (P + 0.8 S), nothing while P is below 0.2 S",
                format!("P = {rain} mm, 0.2 S = {:.1} mm", 0.2 * value.retention_mm),
                format!("{:.1} mm", value.runoff_mm),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tables_are_full_and_runoff_keeps_its_limits() {
        for cover in Cover::ALL {
            let by_group = [HydrologicGroup::A, HydrologicGroup::B, HydrologicGroup::C, HydrologicGroup::D]
                .map(|group| curve_number(cover, group));
            assert!(by_group.windows(2).all(|pair| pair[0] <= pair[1]), "{cover:?}: {by_group:?}");
            assert_eq!(curve_number(cover, HydrologicGroup::BD), by_group[3]);
        }
        assert_eq!(storm_runoff_mm(80.0, 100.0), 80.0);
        let mut last = 0.0;
        for rain in 0..300_u32 {
            let runoff = storm_runoff_mm(f64::from(rain), 78.0);
            assert!(runoff >= last && runoff <= f64::from(rain));
            last = runoff;
        }
    }
}
