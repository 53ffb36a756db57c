//! Total and readily available water of the root zone.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Water held after free drainage.
    pub struct FieldCapacity: "field capacity", "m³/m³", 0.01 ..= 0.8, example 0.28;
    /// Water that roots cannot draw.
    pub struct WiltingPoint: "wilting point", "m³/m³", 0.0 ..= 0.6, example 0.14;
    /// Depth from which the crop draws water.
    pub struct RootDepth: "root depth", "m", 0.02 ..= 5.0, example 0.4;
    /// Share of the available water that may be used before the crop suffers.
    pub struct Depletion: "allowed depletion", "%", 5.0 ..= 95.0, example 40.0;
    /// What the crop would use that day with water enough.
    pub struct CropUse: "crop water use", "mm/d", 0.0 ..= 20.0, example 5.0;
}

/// Total available water in mm (eq. 82).
#[must_use]
pub fn total_available_mm(field_capacity: f64, wilting_point: f64, root_depth_m: f64) -> f64 {
    1000.0 * (field_capacity - wilting_point) * root_depth_m
}

/// The depletion fraction for a day's demand: p + 0.04 (5 − ETc), within 0.1 and 0.8 (p. 162).
#[must_use]
pub fn adjusted_fraction(fraction_at_5_mm: f64, crop_use_mm_d: f64) -> f64 {
    (fraction_at_5_mm + 0.04 * (5.0 - crop_use_mm_d)).clamp(0.1, 0.8)
}

/// Refuses a field capacity that is not above the wilting point.
pub(in crate::irrigation) fn ordered(
    field_capacity: FieldCapacity,
    wilting_point: WiltingPoint,
) -> Result<(), Refusal> {
    let (held, dry) = (field_capacity.get(), wilting_point.get());
    if held > dry {
        return Ok(());
    }
    Err(Refusal::new(
        "field_capacity_m3_m3",
        format!(
            "field capacity must be above the wilting point, but {} and {} were given",
            number(held),
            number(dry)
        ),
    )
    .given(number(held))
    .accepted(format!("above {}", number(dry)))
    .example("0.28 with a wilting point of 0.14"))
}

/// Input of `total-available-water`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TotalAvailableInput {
    /// Water at field capacity, of the whole soil.
    pub field_capacity_m3_m3: FieldCapacity,
    /// Water at the wilting point, of the whole soil.
    pub wilting_point_m3_m3: WiltingPoint,
    /// Depth of the roots.
    pub root_depth_m: RootDepth,
    /// Allowed depletion at a demand of 5 mm a day.
    pub depletion_percent: Depletion,
    /// The day's demand, to move the allowed depletion with it; left alone without.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop_use_mm_d: Option<CropUse>,
}

/// Output of `total-available-water`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct TotalAvailableOutput {
    /// Water the roots can draw in all.
    pub total_available_mm: f64,
    /// Water they can draw before the crop suffers.
    pub readily_available_mm: f64,
    /// Allowed depletion, moved by the demand where one was given.
    pub depletion_percent: f64,
    /// Days at the given demand from full to the allowed depletion.
    pub days_between_d: Option<f64>,
}

/// Available water of the root zone.
pub struct TotalAvailableWater;

impl Method for TotalAvailableWater {
    type Input = TotalAvailableInput;
    type Output = TotalAvailableOutput;

    const CARD: Card = Card {
        name: "total-available-water",
        title: "Available water of the root zone",
        topic: Topic::Irrigation,
        computes: "How much water the roots can draw in all, and how much of it before the crop suffers. The second \
                   is what may be used between two waterings.",
        validity: &[
            "Even ground over the root depth; stones taken off, or their share already out of both water contents.",
            "A pan, a dense layer or a water table stops roots short of what a crop table says.",
            "The allowed depletion moves with demand and stays within 10 and 80 %.",
        ],
        sources: &[Cite::new("Fao56", "eq. 82, 83; p. 162")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        TotalAvailableInput {
            field_capacity_m3_m3: FieldCapacity::literal(0.28),
            wilting_point_m3_m3: WiltingPoint::literal(0.137),
            root_depth_m: RootDepth::literal(0.3),
            depletion_percent: Depletion::literal(40.0),
            crop_use_mm_d: Some(CropUse::literal(5.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        ordered(input.field_capacity_m3_m3, input.wilting_point_m3_m3)?;
        let total = total_available_mm(
            input.field_capacity_m3_m3.get(),
            input.wilting_point_m3_m3.get(),
            input.root_depth_m.get(),
        );
        let given = input.depletion_percent.get() / 100.0;
        let fraction = input.crop_use_mm_d.map_or(given, |demand| adjusted_fraction(given, demand.get()));
        let readily = fraction * total;
        let days =
            input.crop_use_mm_d.filter(|demand| demand.get() > 0.0).map(|demand| readily / demand.get());
        Ok(Answer::plain(TotalAvailableOutput {
            total_available_mm: total,
            readily_available_mm: readily,
            depletion_percent: 100.0 * fraction,
            days_between_d: days,
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let working = Working::new()
            .step(
                "total available water",
                "TAW = 1000 (θfc − θwp) Zr",
                format!(
                    "1000 ({} − {}) {}",
                    input.field_capacity_m3_m3.get(),
                    input.wilting_point_m3_m3.get(),
                    input.root_depth_m.get()
                ),
                format!("{:.1} mm", value.total_available_mm),
            )
            .cite(Cite::new("Fao56", "eq. 82"));
        let working = match input.crop_use_mm_d {
            Some(demand) => working
                .step(
                    "allowed depletion",
                    "p + 0.04 (5 − ETc), within 0.1 and 0.8",
                    format!("{} + 0.04 (5 − {})", input.depletion_percent.get() / 100.0, demand.get()),
                    format!("{:.2}", value.depletion_percent / 100.0),
                )
                .cite(Cite::new("Fao56", "p. 162")),
            None => working,
        };
        working
            .step(
                "readily available water",
                "RAW = p TAW",
                format!("{:.3} × {:.1}", value.depletion_percent / 100.0, value.total_available_mm),
                format!("{:.1} mm", value.readily_available_mm),
            )
            .cite(Cite::new("Fao56", "eq. 83"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_soil_that_holds_nothing_is_refused() {
        let mut input = TotalAvailableWater::example();
        input.wilting_point_m3_m3 = WiltingPoint::literal(0.3);
        assert_eq!(TotalAvailableWater::compute(&input).unwrap_err().field, "field_capacity_m3_m3");
    }

    #[test]
    fn the_fraction_stays_within_its_limits() {
        assert_eq!(adjusted_fraction(0.4, 5.0), 0.4);
        assert_eq!(adjusted_fraction(0.2, 20.0), 0.1);
        assert_eq!(adjusted_fraction(0.7, 0.0), 0.8);
    }
}
