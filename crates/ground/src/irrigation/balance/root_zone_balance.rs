//! The balance of one soil, day by day, as a table.

use super::available::{Depletion, FieldCapacity, RootDepth, WiltingPoint, ordered};
use super::engine::{Amount, Coefficient, Fluxes, FractionRule, RootZone, Rules, Watering, Weather, Wetting};
use super::evaporation::{Air, STANDARD_AIR};
use super::evaporation_layer::ReferenceEt;
use super::soils::BedSoils;
use super::stress::RootDepletion;
pub use super::table::{
    BalanceDay, BalanceInput, BalanceOutput, BalanceRow, CoefficientGiven, CropCoefficient, Evaporable, Rain,
    ReachesRoots, WaterGiven,
};
use crate::climate::crops::{CropDay, CropStage};
use crate::kit::quantity::with_unit;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// The daily balance of a root zone.
pub struct RootZoneBalance;

impl Method for RootZoneBalance {
    type Input = BalanceInput;
    type Output = BalanceOutput;

    const CARD: Card = Card {
        name: "root-zone-balance",
        title: "Root zone, day by day",
        topic: Topic::Irrigation,
        computes: "Keeps the account of the water in the root zone: what rain and watering bring, what crop and air \
                   take, what drains. It shows when watering is due and when the crop went short.",
        validity: &[
            "Even ground down to the roots. The ground below the roots is taken as full; roots that grow find it so.",
            "Rain below a fifth of the day's reference evapotranspiration is left out.",
            "No water rises from below: right where the water table is more than 1 m under the roots.",
            "Soil, crop and watering each carry an error: check the account against the ground now and then.",
        ],
        sources: &[Cite::new("Fao56", "eq. 71-88")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let day = |day: u32, et0: f64, given: Option<f64>| BalanceDay {
            day,
            reference_et_mm_d: ReferenceEt::literal(et0),
            rain_mm: None,
            irrigation_mm: given.map(WaterGiven::literal),
            crop_coefficient: CropCoefficient::literal(1.05),
            root_depth_m: RootDepth::literal(0.4),
            cover_percent: None,
            height_m: None,
            wind_m_s: None,
            rh_min_percent: None,
        };
        BalanceInput {
            field_capacity_m3_m3: FieldCapacity::literal(0.28),
            wilting_point_m3_m3: WiltingPoint::literal(0.14),
            depletion_percent: Depletion::literal(40.0),
            fraction: FractionRule::MovedByDemand,
            wetting: Wetting::EarlyInDay,
            coefficient: CoefficientGiven::Single,
            start_depletion_mm: RootDepletion::literal(10.0),
            start_surface_depletion_mm: None,
            evaporable_mm: None,
            readily_evaporable_mm: None,
            wetted_percent: None,
            efficiency_percent: Some(ReachesRoots::literal(90.0)),
            days: vec![
                day(1, 5.0, None),
                day(2, 5.5, None),
                day(3, 4.8, None),
                day(4, 5.2, Some(25.0)),
                day(5, 5.0, None),
            ],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let run = Run::of(input)?;
        Ok(Answer::with_notes(run.output, run.notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let order = match input.wetting {
            Wetting::EarlyInDay => {
                "water comes first and what is too much drains; then Dr grows by the day's loss, no further than TAW"
            }
            Wetting::LateInDay => {
                "Dr grows by the day's loss, no further than TAW; then water comes and what is too much drains (eq. 88)"
            }
        };
        let mut before = input.start_depletion_mm.get();
        answer.value.days.iter().zip(&input.days).fold(Working::new(), |working, (row, day)| {
            let working = working
                .step(
                    format!("depletion after day {}", row.day),
                    order,
                    format!(
                        "Dr {before:.2}, rain {}, given {}, Ks {:.3}, loss {:.2}, drained {:.2} mm",
                        day.rain_mm.map_or(0.0, Bounded::get),
                        day.irrigation_mm.map_or(0.0, Bounded::get),
                        row.stress_coefficient,
                        row.et_mm,
                        row.drained_mm
                    ),
                    format!("{:.2} mm of {:.1}", row.depletion_mm, row.total_available_mm),
                )
                .cite(Cite::new("Fao56", "eq. 85"));
            before = row.depletion_mm;
            working
        })
    }
}

/// A run and what to say beside it.
struct Run {
    output: BalanceOutput,
    notes: Vec<Note>,
}

impl Run {
    fn of(input: &BalanceInput) -> Result<Self, Refusal> {
        ordered(input.field_capacity_m3_m3, input.wilting_point_m3_m3)?;
        in_order(&input.days)?;
        let dual = input.coefficient == CoefficientGiven::Dual;
        let (evaporable, readily, surface) = surface_layer(input)?;
        let deepest = input.days.iter().map(|day| day.root_depth_m.get()).fold(0.0, f64::max);
        let soils = BedSoils::one(
            input.field_capacity_m3_m3.get(),
            input.wilting_point_m3_m3.get(),
            deepest,
            evaporable,
            readily,
        );
        let rules = Rules {
            wetting: input.wetting,
            coefficient: if dual { Coefficient::Dual } else { Coefficient::Single },
            fraction: input.fraction,
            watered_share: 1.0,
            least_depth_m: 0.0,
            under_canopy: false,
        };
        let mut zone = RootZone::full(&soils, &rules, input.days[0].root_depth_m.get());
        let (start, total) = (input.start_depletion_mm.get(), zone.total_available_mm[0]);
        if start > total {
            return Err(Refusal::new(
                "start_depletion_mm",
                format!(
                    "no more can be missing than the root zone of the first day holds, {total:.1} mm, but {} was given",
                    with_unit(start, "mm")
                ),
            )
            .given(with_unit(start, "mm"))
            .accepted(format!("0 to {total:.1} mm"))
            .example(format!("{:.1} mm", total / 2.0)));
        }
        zone.depletion_mm[0] = start;
        zone.surface_mm[0] = surface;
        let mut fluxes = Fluxes::of(1);
        let mut output = BalanceOutput { days: Vec::new(), et_mm: 0.0, drained_mm: 0.0, due_day: None };
        let mut ignored = 0;
        for day in &input.days {
            let et0 = day.reference_et_mm_d.get();
            let rain = day.rain_mm.map_or(0.0, Bounded::get);
            ignored += usize::from(rain > 0.0 && rain < super::step::RAIN_IGNORED * et0);
            let weather = Weather { et0_mm: Amount::Same(et0), rain_mm: Amount::Same(rain), air: air(day) };
            let watering = day.irrigation_mm.map(|given| Watering {
                gross_mm: given.get(),
                efficiency: Amount::Same(input.efficiency_percent.map_or(1.0, |share| share.get() / 100.0)),
                wetted_fraction: input.wetted_percent.map_or(1.0, |share| share.get() / 100.0),
            });
            zone.step(&soils, &rules, &crop(day, input), &weather, watering.as_ref(), &mut fluxes);
            output.et_mm += fluxes.et_mm[0];
            output.drained_mm += fluxes.drained_mm[0];
            if zone.depletion_mm[0] > fluxes.readily_available_mm[0] {
                output.due_day = output.due_day.or(Some(day.day));
            }
            output.days.push(BalanceRow {
                day: day.day,
                total_available_mm: zone.total_available_mm[0],
                readily_available_mm: fluxes.readily_available_mm[0],
                stress_coefficient: fluxes.stress[0],
                et_mm: fluxes.et_mm[0],
                evaporation_mm: fluxes.evaporation_mm[0],
                drained_mm: fluxes.drained_mm[0],
                surface_drained_mm: fluxes.surface_drained_mm[0],
                depletion_mm: zone.depletion_mm[0],
                surface_depletion_mm: if dual { zone.surface_mm[0] } else { 0.0 },
            });
        }
        let mut notes = Vec::new();
        if ignored > 0 {
            notes.push(Note::new(
                NoteKind::Method,
                format!(
                    "{ignored} day(s) of rain below a fifth of the reference evapotranspiration were left out: it dries from the leaves."
                ),
            ));
        }
        Ok(Self { output, notes })
    }
}

/// Refuses an empty table and a gap, naming the row.
fn in_order(days: &[BalanceDay]) -> Result<(), Refusal> {
    if days.is_empty() {
        return Err(Refusal::new("days", "no day was given")
            .given("an empty list")
            .accepted("one day or more, in order, without gaps")
            .example("day 1 with its reference evapotranspiration"));
    }
    if days.len() > MOST_DAYS {
        return Err(Refusal::new("days", format!("{} days were given, more than {MOST_DAYS}", days.len()))
            .given(days.len())
            .accepted(format!("1 to {MOST_DAYS} days"))
            .example("one season"));
    }
    for (place, pair) in days.windows(2).enumerate() {
        let (before, after) = (pair[0].day, pair[1].day);
        if before.checked_add(1) != Some(after) {
            return Err(Refusal::new(
                format!("days[{}].day", place + 1),
                format!("day {after} does not follow day {before}: no day may be missing or come twice"),
            )
            .given(after)
            .accepted(format!("day {}", u64::from(before) + 1))
            .example(u64::from(before) + 1));
        }
    }
    Ok(())
}

/// Ten years: more is a mistake.
const MOST_DAYS: usize = 3660;

/// Evaporable, readily evaporable and missing water of the surface layer.
fn surface_layer(input: &BalanceInput) -> Result<(f64, f64, f64), Refusal> {
    let missing = |field: &'static str, example: &'static str| {
        Refusal::new(field, format!("{field} is needed with the dual coefficient"))
            .given("nothing")
            .accepted("a depth of water in mm")
            .example(example)
    };
    if input.coefficient == CoefficientGiven::Single {
        // Followed but not used: any ordinary layer serves.
        return Ok((20.0, 8.0, 0.0));
    }
    let evaporable = input.evaporable_mm.ok_or_else(|| missing("evaporable_mm", "18"))?.get();
    let readily = input.readily_evaporable_mm.ok_or_else(|| missing("readily_evaporable_mm", "8"))?.get();
    let start =
        input.start_surface_depletion_mm.ok_or_else(|| missing("start_surface_depletion_mm", "0"))?.get();
    for (field, value) in [("readily_evaporable_mm", readily), ("start_surface_depletion_mm", start)] {
        if value > evaporable {
            return Err(Refusal::new(
                field,
                format!(
                    "the surface layer loses no more than {} in all, but {} was given",
                    with_unit(evaporable, "mm"),
                    with_unit(value, "mm")
                ),
            )
            .given(with_unit(value, "mm"))
            .accepted(format!("up to {}", with_unit(evaporable, "mm")))
            .example(with_unit(evaporable / 2.0, "mm")));
        }
    }
    Ok((evaporable, readily, start))
}

fn crop(day: &BalanceDay, input: &BalanceInput) -> CropDay {
    CropDay {
        stage: CropStage::Mid,
        kc: day.crop_coefficient.get(),
        kcb: day.crop_coefficient.get(),
        cover_fraction: day.cover_percent.map_or(0.0, |share| share.get() / 100.0),
        height_m: day.height_m.map_or(0.0, Bounded::get),
        root_depth_m: day.root_depth_m.get(),
        depletion_fraction: input.depletion_percent.get() / 100.0,
    }
}

fn air(day: &BalanceDay) -> Air {
    Air {
        wind_m_s: day.wind_m_s.map_or(STANDARD_AIR.wind_m_s, Bounded::get),
        rh_min_percent: day.rh_min_percent.map_or(STANDARD_AIR.rh_min_percent, Bounded::get),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_gap_and_a_negative_name_their_row() {
        let method = crate::registry::find("root-zone-balance").unwrap();
        let refused = |field: &str, value: serde_json::Value| {
            let mut input = method.example();
            input["days"][2][field] = value;
            method.answer(&input).unwrap_err()
        };
        let gap = refused("day", json!(5));
        assert_eq!((gap.field.as_str(), gap.accepted.as_str()), ("days[2].day", "day 3"));
        let negative = refused("rain_mm", json!(-3));
        assert_eq!(negative.field, "days[2].rain_mm");
        assert!(negative.message.contains("rain must be 0 to 500 mm"), "{negative}");
        let none = method.answer(&json!({"days": []})).unwrap_err();
        assert!(!none.message.is_empty());
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let mut input = RootZoneBalance::example();
        input.start_depletion_mm = RootDepletion::literal(57.0);
        assert_eq!(RootZoneBalance::compute(&input).unwrap_err().field, "start_depletion_mm");
        let mut input = RootZoneBalance::example();
        input.coefficient = CoefficientGiven::Dual;
        assert_eq!(RootZoneBalance::compute(&input).unwrap_err().field, "evaporable_mm");
        let mut input = RootZoneBalance::example();
        input.days.clear();
        assert_eq!(RootZoneBalance::compute(&input).unwrap_err().field, "days");
    }

    #[test]
    fn the_two_orders_differ_by_no_more_than_a_days_use() {
        let mut input = RootZoneBalance::example();
        input.days[3].irrigation_mm = Some(WaterGiven::literal(60.0));
        let early = RootZoneBalance::compute(&input).unwrap().value;
        input.wetting = Wetting::LateInDay;
        let late = RootZoneBalance::compute(&input).unwrap().value;
        let apart = early.days[3].depletion_mm - late.days[3].depletion_mm;
        assert!((apart - early.days[3].et_mm).abs() < 1e-9, "{apart}");
    }
}
