//! `fill-weather-gaps`: a record of days, filled by stated rules and turned into evapotranspiration.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::calendar::YearDay;
use super::day::WeatherDay;
use super::gaps::{Fill, GapRules, Left, RainGap, WeatherField, fill_gaps};
use super::normals::{MonthNormals, daily_normals};
use super::water::day_water;
use crate::climate::quantities::AirTemperature;
use crate::climate::site::Site;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Longest record of one question.
const MOST_DAYS: usize = 1100;

/// Input of `fill-weather-gaps`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GapsInput {
    /// Where.
    pub site: Site,
    /// The first day of the record.
    pub first_day: YearDay,
    /// Every day from there on; `{}` where nothing is known.
    pub days: Vec<WeatherDay>,
    /// Twelve monthly normals, January first, for what cannot be bridged.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub months: Option<Vec<MonthNormals>>,
    /// What to do about missing rain.
    #[serde(default)]
    pub rain_gap: RainGap,
}

/// Output of `fill-weather-gaps`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct GapsOutput {
    /// The days after filling.
    pub days: Vec<WeatherDay>,
    /// What was filled, with its rule.
    pub fills: Vec<Fill>,
    /// What is still missing.
    pub left: Vec<Left>,
    /// Evapotranspiration of each day, mm/d; none where a temperature is still missing.
    pub et0_mm_d: Vec<Option<f64>>,
}

/// Filling of gaps.
pub struct FillWeatherGaps;

impl Method for FillWeatherGaps {
    type Input = GapsInput;
    type Output = GapsOutput;

    const CARD: Card = Card {
        name: "fill-weather-gaps",
        title: "Gaps in a weather record",
        topic: Topic::Climate,
        computes: "Fills missing days of a weather record by stated rules, marks each filled value with its rule, and gives \
                   the reference evapotranspiration of every day. Temperatures missing up to three days are bridged by a \
                   straight line; longer gaps take the normals; rain is filled only as asked.",
        validity: &[
            "Days that follow each other, at most 1100.",
            "Humidity, wind and sunlight are not filled: the evapotranspiration has its own rules for them.",
        ],
        sources: &[Cite::new("Fao56", "Annex 4, completing weather data; chapter 3, missing data")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let day = |tmax: f64, tmin: f64| {
            WeatherDay::of_temperatures(AirTemperature::literal(tmax), AirTemperature::literal(tmin))
        };
        let mut gap = day(20.0, 11.0);
        gap.tmax_c = None;
        GapsInput {
            site: super::super::et0::PenmanMonteith::example().site,
            first_day: YearDay { year: 2025, day_of_year: 187 },
            days: vec![day(21.0, 12.0), gap, day(25.0, 13.0)],
            months: None,
            rain_gap: RainGap::TakeAsDry,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        input.first_day.check().map_err(|refusal| refusal.inside("first_day"))?;
        if input.days.is_empty() || input.days.len() > MOST_DAYS {
            return Err(Refusal::new("days", format!("{} days were given", input.days.len()))
                .given(input.days.len())
                .accepted(format!("1 to {MOST_DAYS} days"))
                .example("7"));
        }
        for (at, (date, day)) in input.first_day.onward().zip(&input.days).enumerate() {
            day.check(&input.site, f64::from(date.day_of_year))
                .map_err(|refusal| refusal.inside(&format!("days[{at}]")))?;
        }
        let normals = input.months.as_ref().map(|months| daily_normals(&input.site, months)).transpose()?;
        let rules = GapRules { rain: input.rain_gap, ..GapRules::default() };
        let filled = fill_gaps(input.first_day, &input.days, normals.as_ref(), rules);
        let mut et0_mm_d = Vec::with_capacity(filled.days.len());
        for (at, (date, day)) in input.first_day.onward().zip(&filled.days).enumerate() {
            let open = filled.left.iter().any(|left| left.day == at && left.field != WeatherField::RainMm);
            et0_mm_d.push(if open {
                None
            } else {
                let water = day_water(&input.site, f64::from(date.day_of_year), day)
                    .map_err(|refusal| refusal.inside(&format!("days[{at}]")))?;
                Some(water.et0_mm_d)
            });
        }
        let mut notes = Vec::new();
        if !filled.left.is_empty() {
            notes.push(Note::new(
                NoteKind::NoValue,
                format!(
                    "{} values are still missing: no rule that was allowed could give them.",
                    filled.left.len()
                ),
            ));
        }
        if !filled.fills.is_empty() {
            notes.push(Note::new(
                NoteKind::Adjusted,
                format!("{} values were filled; each is listed with its rule.", filled.fills.len()),
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "That up to three days are bridged, and no more, is our judgement.",
        ));
        Ok(Answer::with_notes(
            GapsOutput { days: filled.days, fills: filled.fills, left: filled.left, et0_mm_d },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let v = &answer.value;
        let sum: f64 = v.et0_mm_d.iter().flatten().sum();
        Working::new()
            .step(
                "filled values",
                "up to three days between known ones by a straight line, else the normal of the day; rain as asked",
                format!("{} days", input.days.len()),
                format!("{} filled, {} still missing", v.fills.len(), v.left.len()),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "reference evapotranspiration",
                "each day by et0-penman-monteith, or as given",
                format!("{} days", v.et0_mm_d.iter().flatten().count()),
                format!("{sum:.1} mm in all"),
            )
            .cite(Self::CARD.sources[0])
    }
}
