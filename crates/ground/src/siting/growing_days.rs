//! `crop-growing-days`: how many days a place gives one crop.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::needs::needs_of;
use super::needs_method::provenance_notes;
use super::warmth::{COVER_GAINS_D, COVER_WARMS_C, FrostYear, days_given};
use crate::climate::quantities::{AirTemperature, DayOfYear};
use crate::climate::weather::{Mend, daily_keeping_means};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Input of `crop-growing-days`. Temperatures, frost dates or both are given.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GrowingDaysInput {
    /// The crop, by its key or name.
    pub crop: String,
    /// Usual mean temperature of each month in the open, January first; left out where it is not known.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub monthly_mean_c: Vec<AirTemperature>,
    /// Usual last frost of spring.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_spring_frost: Option<DayOfYear>,
    /// Usual first frost of autumn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_autumn_frost: Option<DayOfYear>,
    /// Does it grow under an unheated cover?
    #[serde(default)]
    pub covered: bool,
}

/// Output of `crop-growing-days`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct GrowingDaysOutput {
    /// Days that the place gives the crop, mean over the years.
    pub growing_d: f64,
    /// Standard deviation from year to year, d.
    pub spread_d: f64,
    /// First of them, day of the year; where temperatures are known.
    pub from_day: Option<u16>,
    /// Do the frosts bound them, and not the temperatures?
    pub by_frost: bool,
    /// Is it heat that ends or parts them?
    pub heat_ends: bool,
    /// Days between the frosts, whatever grows; where both dates are known.
    pub frost_free_d: Option<f64>,
    /// Days from the day it comes into the ground to the start of picking; nothing for perennials.
    pub picking_d: Option<f64>,
}

/// Days that a place gives one crop.
pub struct CropGrowingDays;

fn year(input: &GrowingDaysInput) -> Result<FrostYear, Refusal> {
    let months: Vec<f64> = input.monthly_mean_c.iter().map(|mean| mean.get()).collect();
    let mean_c = match <[f64; 12]>::try_from(months) {
        Ok(months) => daily_keeping_means(&months, Mend::Add),
        Err(given) if given.is_empty() => Vec::new(),
        Err(given) => {
            return Err(Refusal::new(
                "monthly_mean_c",
                format!("{} months were given; a year has twelve, January first", given.len()),
            )
            .given(given.len())
            .accepted("12 temperatures, or none")
            .example("12"));
        }
    };
    Ok(FrostYear {
        mean_c,
        last_frost: input.last_spring_frost.map(Bounded::get),
        first_frost: input.first_autumn_frost.map(Bounded::get),
        covered: input.covered,
    })
}

impl Method for CropGrowingDays {
    type Input = GrowingDaysInput;
    type Output = GrowingDaysOutput;

    const CARD: Card = Card {
        name: "crop-growing-days",
        title: "Days a place gives a crop",
        topic: Topic::Siting,
        computes: "How many days in a row a place gives a crop: as long as the usual mean temperature lies between the least and \
                   the most that the crop bears, for tender crops between the frosts.",
        validity: &[
            "Usual years: single warm and cold days do not count; frost dates stray by ten days or so.",
            "Without temperatures the days between the frosts stand in, for hardy crops with 60 more, half-hardy ones with 30 \
             (common practice).",
            "An unheated cover is taken to gain 2.75 °C and three weeks at each end (a tunnel that was measured; common \
             practice).",
        ],
        sources: &[
            Cite::new("KnottHandbook", "monthly temperatures and frost"),
            Cite::new("Savage1980", "+4.2 and +1.3 °C at the highest and lowest of the day"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        GrowingDaysInput {
            crop: "tomato".to_owned(),
            monthly_mean_c: [-6.0, -4.5, 0.5, 7.0, 13.5, 18.5, 21.5, 20.5, 15.5, 9.0, 3.0, -2.5]
                .map(AirTemperature::literal)
                .to_vec(),
            last_spring_frost: Some(DayOfYear::literal(131.0)),
            first_autumn_frost: Some(DayOfYear::literal(274.0)),
            covered: false,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let needs = needs_of(&input.crop)?;
        let year = year(input)?;
        let Some(days) = days_given(needs, &year) else {
            let missing =
                if input.last_spring_frost.is_none() { "last_spring_frost" } else { "first_autumn_frost" };
            return Err(Refusal::new(missing, "without temperatures both frost dates are needed")
                .given("nothing")
                .accepted("the day of the year, or the mean temperature of twelve months")
                .example(if missing == "last_spring_frost" { "130" } else { "275" }));
        };
        let mut notes = Vec::new();
        let frosts = year.frost_free_d();
        if needs.frost.is_tender() && frosts.is_none() {
            notes.push(Note::new(
                NoteKind::NoValue,
                "A frost date is missing: frost, which kills this crop, is left out, and the days are too many.",
            ));
        }
        if year.mean_c.is_empty() {
            notes.push(Note::new(
                NoteKind::NoValue,
                "No temperatures were given: whether it is warm enough between the frosts is not weighed.",
            ));
        }
        notes.extend(provenance_notes(needs));
        Ok(Answer::with_notes(
            GrowingDaysOutput {
                growing_d: days.mean_d,
                spread_d: days.spread_d,
                from_day: days.from_day,
                by_frost: days.by_frost,
                heat_ends: days.heat_ends,
                frost_free_d: frosts,
                picking_d: needs.picking_d,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok(needs) = needs_of(&input.crop) else { return Working::new() };
        let value = &answer.value;
        let covered = if input.covered {
            format!("; under cover {COVER_WARMS_C} °C and {COVER_GAINS_D} days at each end are added")
        } else {
            String::new()
        };
        let frosts = value.frost_free_d.map_or("not known".to_owned(), |days| format!("{days:.0} d"));
        Working::new()
            .step(
                "days given",
                "longest run of days whose mean temperature the crop bears, between the frosts if it is tender",
                format!(
                    "{:.1} to {:.1} °C; {}; frost-free time {frosts}{covered}",
                    needs.air.min_c,
                    needs.air.max_c,
                    needs.frost.words()
                ),
                format!("{:.0} d", value.growing_d),
            )
            .cite(Self::CARD.sources[0])
    }
}
