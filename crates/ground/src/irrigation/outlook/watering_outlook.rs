//! The week ahead of one bed, as a method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::ahead::{Ahead, Allowed, ForecastDay, look_ahead};
use super::today::{BedWatering, Today, advise_today};
use crate::belief::Known;
use crate::climate::crops::{CropDay, CropStage};
use crate::irrigation::balance::available::{Depletion, RootDepth};
use crate::irrigation::balance::evaporation::STANDARD_AIR;
use crate::irrigation::balance::evaporation_layer::ReferenceEt;
use crate::irrigation::balance::root_zone_balance::{CropCoefficient, Rain};
use crate::irrigation::balance::{Amount, BedSoils, Coefficient, FractionRule, RootZone, Rules, Weather};
use crate::irrigation::hardware::drip_run_time::{
    BedLength, BedWidth, IntakeRate, Lines, LongestPulse, TapeFlow,
};
use crate::irrigation::hardware::{BedSystem, Emission, Kind, SoilIntake, efficiency_range};
use crate::kit::chance::{Chance, Fingerprint};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Chance of rain.
    pub struct RainChance: "chance of rain", "%", 0.0 ..= 100.0, example 30.0;
    /// Error of a crop's demand and the forecast behind it.
    pub struct DemandError: "error of the demand", "%", 0.0 ..= 50.0, example 10.0;
    /// Days between two runs.
    pub struct SplitDays: "days between two runs", "d", 1.0 ..= 7.0, example 2.0;
}

/// One day to come.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OutlookDay {
    /// Reference evapotranspiration.
    pub reference_et_mm_d: ReferenceEt,
    /// Rain, if it comes; under a cover none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_mm: Option<Rain>,
    /// Chance that it comes; certain where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_chance_percent: Option<RainChance>,
}

/// Input of `watering-outlook`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WateringOutlookInput {
    /// Available water of the soil, m³/m³: 5th percentile, median and 95th percentile.
    pub available_m3_m3: Known,
    /// Depth of the roots.
    pub root_depth_m: RootDepth,
    /// Allowed depletion at a demand of 5 mm a day.
    pub depletion_percent: Depletion,
    /// Whether it moves with the demand.
    pub fraction: FractionRule,
    /// Crop coefficient.
    pub crop_coefficient: CropCoefficient,
    /// Standard error of the demand; 8 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub demand_error_percent: Option<DemandError>,
    /// Depletion this morning, mm: 5th percentile, median and 95th percentile.
    pub depletion_mm: Known,
    /// Length of the bed.
    pub bed_length_m: BedLength,
    /// Width of ground that the bed's crop draws on.
    pub bed_width_m: BedWidth,
    /// Lines on the bed.
    pub lines: Lines,
    /// Flow of the tape.
    pub tape_flow_l_h_m: TapeFlow,
    /// Longest run that the ground takes in one go.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub longest_pulse_min: Option<LongestPulse>,
    /// Rate that the ground takes for as long as one likes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub intake_mm_h: Option<IntakeRate>,
    /// Days between the two runs of a split; 2 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub split_days_d: Option<SplitDays>,
    /// The days to come, today first.
    pub days: Vec<OutlookDay>,
}

/// Output of `watering-outlook`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WateringOutlookOutput {
    /// In a sentence.
    pub says: String,
    /// The days ahead without watering.
    pub ahead: Ahead,
    /// What fills the root zone today.
    pub today: Today,
}

/// The week ahead of a bed.
pub struct WateringOutlook;

/// Draws of the week.
const DRAWS: usize = 500;
/// Longest outlook, days.
const MOST_DAYS: usize = 31;

impl Method for WateringOutlook {
    type Input = WateringOutlookInput;
    type Output = WateringOutlookOutput;

    const CARD: Card = Card {
        name: "watering-outlook",
        title: "When water is due",
        topic: Topic::Irrigation,
        computes: "Looks ahead over a forecast: on which day water is due and how surely, how long to run the drip \
                   today, the same in two runs, and what a missed watering would cost the crop.",
        validity: &[
            "As good as the forecast: beyond a week the odds say little.",
            "Odds are shares of 500 draws of soil, start and demand; one or two in a hundred either way are noise.",
            "Efficiency of drip 85 to 95 % is common practice without a source.",
        ],
        sources: &[Cite::new("Fao56", "eq. 81-88")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let day = |et0: f64, rain: Option<(f64, f64)>| OutlookDay {
            reference_et_mm_d: ReferenceEt::literal(et0),
            rain_mm: rain.map(|(amount, _)| Rain::literal(amount)),
            rain_chance_percent: rain.map(|(_, chance)| RainChance::literal(chance)),
        };
        WateringOutlookInput {
            available_m3_m3: Known { low: 0.11, likely: 0.14, high: 0.17 },
            root_depth_m: RootDepth::literal(0.4),
            depletion_percent: Depletion::literal(40.0),
            fraction: FractionRule::MovedByDemand,
            crop_coefficient: CropCoefficient::literal(1.05),
            demand_error_percent: None,
            depletion_mm: Known { low: 5.0, likely: 9.0, high: 13.0 },
            bed_length_m: BedLength::literal(30.0),
            bed_width_m: BedWidth::literal(0.75),
            lines: Lines::literal(2.0),
            tape_flow_l_h_m: TapeFlow::literal(5.0),
            longest_pulse_min: None,
            intake_mm_h: None,
            split_days_d: None,
            days: vec![
                day(5.0, None),
                day(5.5, None),
                day(4.5, Some((8.0, 30.0))),
                day(5.0, None),
                day(6.0, None),
                day(5.5, Some((5.0, 50.0))),
                day(5.0, None),
            ],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let drawn = Drawn::of(input)?;
        let days = drawn.days(input);
        let Some(ahead) = look_ahead(&drawn.zone, &drawn.soils, &drawn.rules, &days, Allowed::Readily) else {
            unreachable!("there are draws")
        };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 40")]
        let lines = input.lines.get().round() as u32;
        let watering = BedWatering {
            system: BedSystem {
                length_m: input.bed_length_m.get(),
                width_m: input.bed_width_m.get(),
                lines,
                emission: Emission::Tape { flow_l_h_m: input.tape_flow_l_h_m.get() },
            },
            efficiency: Amount::Each(&drawn.efficiency),
            leaching: 0.0,
            wetted_fraction: 1.0,
            intake: SoilIntake {
                longest_pulse_min: input.longest_pulse_min.map(Bounded::get),
                intake_mm_h: input.intake_mm_h.map(Bounded::get),
            },
            refill_share: 1.0,
        };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 7")]
        let split = input.split_days_d.map_or(2, |days| days.get().round() as usize);
        let today = advise_today(&drawn.zone, &drawn.soils, &drawn.rules, &days, &watering, split).map_err(
            |refusal| {
                if refusal.field == "net_mm" {
                    Refusal { field: "depletion_mm".into(), ..refusal }
                } else {
                    refusal
                }
            },
        )?;
        let notes = vec![Note::new(
            NoteKind::Provenance,
            "How far tabulated crop coefficients and drip efficiency may be off is common practice, without a source.",
        )];
        Ok(Answer::with_notes(WateringOutlookOutput { says: words(&ahead), ahead, today }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let total = 1000.0 * input.available_m3_m3.likely * input.root_depth_m.get();
        let working = Working::new()
            .step(
                "available water, middle of the draws",
                "TAW = 1000 (θfc − θwp) Zr",
                format!("1000 × {} × {}", input.available_m3_m3.likely, input.root_depth_m.get()),
                format!("{total:.1} mm"),
            )
            .cite(Cite::new("Fao56", "eq. 82"));
        let working = value.ahead.days.iter().zip(&input.days).enumerate().fold(
            working,
            |working, (at, (day, given))| {
                working
                    .step(
                        format!("day {at}, none given"),
                        "Dr + ETc − rain for every draw; due where it ends beyond p TAW",
                        format!(
                            "ET0 {} mm, rain {} mm",
                            given.reference_et_mm_d.get(),
                            given.rain_mm.map_or(0.0, Bounded::get)
                        ),
                        format!(
                            "{:.1} mm ({:.1} to {:.1}); due in {:.0} of 100",
                            day.depletion_mm.median,
                            day.depletion_mm.low,
                            day.depletion_mm.high,
                            100.0 * day.odds_due
                        ),
                    )
                    .cite(Cite::new("Fao56", "eq. 83-85"))
            },
        );
        working.step(
            "run time today",
            "net depth / efficiency / rate",
            format!("{:.1} mm at {:.2} mm/h", value.today.net_mm.median, value.today.plan.rate_mm_h),
            format!("{} min", value.today.plan.run_min),
        )
    }
}

/// The odds in a sentence.
fn words(ahead: &Ahead) -> String {
    let percent = |odds: f64| format!("{:.0} %", 100.0 * odds);
    let day = |at: usize| match at {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        at => format!("in {at} days"),
    };
    match (ahead.due, ahead.surely_due) {
        (None, _) => {
            let last = ahead.days.last().map_or(0.0, |day| day.odds_due);
            format!("Not due within {} days (odds {}).", ahead.days.len(), percent(last))
        }
        (Some(due), Some(sure)) if sure.day > due.day => format!(
            "Due {} ({}); by then {} ({}).",
            day(due.day),
            percent(due.odds),
            day(sure.day),
            percent(sure.odds)
        ),
        (Some(due), _) => format!("Due {} ({}).", day(due.day), percent(due.odds)),
    }
}

/// The draws behind an outlook.
struct Drawn {
    soils: BedSoils,
    rules: Rules,
    zone: RootZone,
    efficiency: Vec<f64>,
    rain: Vec<Vec<f64>>,
}

impl Drawn {
    fn of(input: &WateringOutlookInput) -> Result<Self, Refusal> {
        if input.days.is_empty() || input.days.len() > MOST_DAYS {
            return Err(Refusal::new("days", format!("{} days were given", input.days.len()))
                .given(input.days.len())
                .accepted(format!("1 to {MOST_DAYS} days, today first"))
                .example("seven days"));
        }
        let available = input.available_m3_m3.checked("available_m3_m3", 0.01, 0.5)?;
        let depth = input.root_depth_m.get();
        let most = 1000.0 * available.likely * depth;
        let start = input.depletion_mm.checked("depletion_mm", 0.0, most)?;
        let mut print = Fingerprint::new();
        print.bytes(b"watering outlook");
        // The same question gets the same draws.
        print.bytes(serde_json::to_string(input).unwrap_or_default().as_bytes());
        let mut chance = Chance::new(print.finish());
        let error = input.demand_error_percent.map_or(0.08, |error| error.get() / 100.0);
        let drip = efficiency_range(Kind::Drip);

        let mut soils = BedSoils::one(0.3, 0.1, depth, 20.0, 8.0);
        let layer = &mut soils.layers[0];
        layer.available_m3_m3 = (0..DRAWS).map(|_| available.draw(chance.normal(), 0.01, 0.5)).collect();
        layer.curve = vec![layer.curve[0]; DRAWS];
        layer.class = vec![layer.class[0]; DRAWS];
        soils.evaporable_mm = vec![20.0; DRAWS];
        soils.readily_evaporable_mm = vec![8.0; DRAWS];
        soils.demand_factor = (0..DRAWS).map(|_| (1.0 + error * chance.normal()).max(0.1)).collect();
        let rules = Rules {
            coefficient: Coefficient::Single,
            fraction: input.fraction,
            least_depth_m: 0.0,
            ..Rules::default()
        };
        let mut zone = RootZone::full(&soils, &rules, depth);
        for (depletion, total) in zone.depletion_mm.iter_mut().zip(&zone.total_available_mm) {
            *depletion = start.draw(chance.normal(), 0.0, *total);
        }
        let efficiency = (0..DRAWS).map(|_| drip.draw(chance.normal(), 10.0, 100.0) / 100.0).collect();
        let rain = input
            .days
            .iter()
            .map(|day| {
                let amount = day.rain_mm.map_or(0.0, Bounded::get);
                let odds = day.rain_chance_percent.map_or(1.0, |odds| odds.get() / 100.0);
                (0..DRAWS).map(|_| if chance.uniform() < odds { amount } else { 0.0 }).collect()
            })
            .collect();
        Ok(Self { soils, rules, zone, efficiency, rain })
    }

    fn days<'a>(&'a self, input: &WateringOutlookInput) -> Vec<ForecastDay<'a>> {
        let crop = CropDay {
            stage: CropStage::Mid,
            kc: input.crop_coefficient.get(),
            kcb: input.crop_coefficient.get(),
            cover_fraction: 1.0,
            height_m: 0.5,
            root_depth_m: input.root_depth_m.get(),
            depletion_fraction: input.depletion_percent.get() / 100.0,
        };
        let day = |(day, rain): (&OutlookDay, &'a Vec<f64>)| ForecastDay {
            crop,
            weather: Weather {
                et0_mm: Amount::Same(day.reference_et_mm_d.get()),
                rain_mm: Amount::Each(rain),
                air: STANDARD_AIR,
            },
        };
        input.days.iter().zip(&self.rain).map(day).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn missing_days_costs_more_and_rain_puts_it_off() {
        let input = WateringOutlook::example();
        let value = WateringOutlook::compute(&input).unwrap().value;
        for pair in value.ahead.days.windows(2) {
            assert!(pair[1].odds_due >= pair[0].odds_due && pair[1].odds_stressed >= pair[0].odds_stressed);
            assert!(pair[1].lowest_stress.low <= pair[0].lowest_stress.low);
        }
        assert_eq!(value.ahead.if_missed(2), Some(&value.ahead.days[1]));
        assert_eq!(value.ahead.if_missed(0), None);
        let due = value.ahead.due.unwrap();
        let mut wet = input;
        wet.days[1].rain_mm = Some(Rain::literal(30.0));
        wet.days[1].rain_chance_percent = None;
        let wet = WateringOutlook::compute(&wet).unwrap().value;
        assert!(wet.ahead.days[due.day].odds_due < 0.5);
    }

    #[test]
    fn two_runs_give_what_one_gives_and_what_is_used_meanwhile() {
        let value = WateringOutlook::compute(&WateringOutlook::example()).unwrap().value;
        let split = value.today.split.unwrap();
        assert_eq!(split.days_between_d, 2);
        let both = 2.0 * split.each_net_mm;
        assert!(
            both > value.today.net_mm.median + 8.0 && both < value.today.net_mm.median + 13.0,
            "{split:?}"
        );
        assert!(value.today.run_min.low < value.today.run_min.median);
        assert!(value.says.starts_with("Due "), "{}", value.says);
    }

    #[test]
    fn nonsense_is_refused_by_its_field() {
        let mut input = WateringOutlook::example();
        input.depletion_mm = Known { low: 5.0, likely: 90.0, high: 100.0 };
        assert_eq!(WateringOutlook::compute(&input).unwrap_err().field, "depletion_mm");
        let mut input = WateringOutlook::example();
        input.days.clear();
        assert_eq!(WateringOutlook::compute(&input).unwrap_err().field, "days");
    }
}
