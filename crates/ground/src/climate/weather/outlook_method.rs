//! `weather-outlook`: twelve normals and a forecast as odds for the days to come.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::calendar::YearDay;
use super::day::WeatherDay;
use super::generator::{ForecastDay, MOST_DAYS, MOST_MEMBERS, Outlook, Scatter, outlook};
use super::normals::{MonthNormals, RainDays, daily_normals};
use crate::climate::quantities::{AirTemperature, MonthlyRain};
use crate::climate::site::Site;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Spread, Topic, Working};

crate::quantity! {
    /// Days to look ahead.
    pub struct DaysAhead: "number of days", "", 1.0 ..= 400.0, example 14.0;
    /// Possible courses drawn.
    pub struct Members: "number of courses", "", 10.0 ..= 5000.0, example 500.0;
}

/// Input of `weather-outlook`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OutlookInput {
    /// Where.
    pub site: Site,
    /// Twelve monthly normals, January first.
    pub months: Vec<MonthNormals>,
    /// First day of the outlook.
    pub first_day: YearDay,
    /// Number of days.
    pub day_count: DaysAhead,
    /// Number of possible courses to draw.
    pub member_count: Members,
    /// Forecast of the first days.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub forecast: Vec<ForecastDay>,
}

/// One day of the outlook.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct OutlookDay {
    /// The day.
    pub date: YearDay,
    /// Usual evapotranspiration.
    pub normal_et0_mm_d: f64,
    /// Usual rain, mean over wet and dry days.
    pub normal_rain_mm_d: f64,
    /// Evapotranspiration, median and 90 % range.
    pub et0_mm_d: Spread,
    /// Rain, median and 90 % range.
    pub rain_mm: Spread,
    /// Share of the courses with rain.
    pub wet_percent: f64,
}

/// Output of `weather-outlook`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct OutlookOutput {
    /// Day by day.
    pub days: Vec<OutlookDay>,
    /// Sum of evapotranspiration, mm.
    pub total_et0_mm: Spread,
    /// Sum of rain, mm.
    pub total_rain_mm: Spread,
    /// Evapotranspiration of the months, mm/d.
    pub monthly_et0_mm_d: Vec<f64>,
}

/// Weather outlook.
pub struct WeatherOutlook;

impl Method for WeatherOutlook {
    type Input = OutlookInput;
    type Output = OutlookOutput;

    const CARD: Card = Card {
        name: "weather-outlook",
        title: "Rain and evapotranspiration to come",
        topic: Topic::Climate,
        computes: "From twelve monthly normals, and a forecast for the first days where there is one, many possible courses \
                   of daily rain and evapotranspiration: what is usual, and how far it may stray.",
        validity: &[
            "Normals of twenty to thirty years from a station with the same rain.",
            "Wet and dry days follow each other as a chain of two states with odds from the share of wet days; depths are \
             gamma, or exponential for light rain. Droughts that last for months are rarer in it than in life.",
            "How far evapotranspiration strays (25 % a day, 8 % a season, 30 % less on wet days) is our judgement.",
        ],
        sources: &[
            Cite::new("Richardson1981", "two-state Markov chain of wet and dry days"),
            Cite::new("Geng1986", "odds from the share of wet days; gamma scale from the mean depth"),
            Cite::new("MarsagliaTsang2000", "gamma deviates"),
            Cite::new("RymesMyers2001", "daily values that keep monthly means"),
            Cite::new("Fao56", "eq. 6"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let highest = [1.0, 3.0, 8.0, 15.0, 21.0, 26.0, 28.5, 27.5, 23.0, 16.0, 8.5, 3.0];
        let lowest = [-8.0, -7.0, -2.5, 3.0, 8.5, 13.5, 16.0, 15.0, 11.0, 5.0, 0.0, -5.0];
        let rain = [60.0, 52.0, 66.0, 78.0, 86.0, 92.0, 95.0, 90.0, 84.0, 80.0, 74.0, 68.0];
        let months = (0..12)
            .map(|at| MonthNormals {
                weather: WeatherDay::of_temperatures(
                    AirTemperature::literal(highest[at]),
                    AirTemperature::literal(lowest[at]),
                ),
                rain_mm: MonthlyRain::literal(rain[at]),
                rain_days_d: Some(RainDays::literal(10.0)),
            })
            .collect();
        OutlookInput {
            site: super::super::et0::PenmanMonteith::example().site,
            months,
            first_day: YearDay { year: 2025, day_of_year: 187 },
            day_count: DaysAhead::literal(10.0),
            member_count: Members::literal(200.0),
            forecast: Vec::new(),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let normals = daily_normals(&input.site, &input.months)?;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded and positive")]
        let count = |given: f64, most: usize| (given as usize).clamp(1, most);
        let ensemble = outlook(&Outlook {
            site: &input.site,
            normals: &normals,
            first: input.first_day,
            days: count(input.day_count.get(), MOST_DAYS),
            members: count(input.member_count.get(), MOST_MEMBERS),
            forecast: &input.forecast,
            scatter: Scatter::default(),
            salt: 0,
        })?;
        let wet = ensemble.wet_share_by_day();
        let days = input
            .first_day
            .onward()
            .zip(ensemble.et0_by_day())
            .zip(ensemble.rain_by_day())
            .zip(wet)
            .map(|(((date, et0_mm_d), rain_mm), wet)| {
                let (normal_et0_mm_d, normal_rain_mm_d) = normals.on(date);
                OutlookDay {
                    date,
                    normal_et0_mm_d,
                    normal_rain_mm_d,
                    et0_mm_d,
                    rain_mm,
                    wet_percent: 100.0 * wet,
                }
            })
            .collect();
        let (total_et0_mm, total_rain_mm) =
            ensemble.totals().unwrap_or_else(|| unreachable!("at least one member of one day"));
        let mut notes = normals.notes();
        notes.push(Note::new(
            NoteKind::Provenance,
            "The odds and depths of rain rest on recalled publications; how far evapotranspiration strays is our judgement.",
        ));
        Ok(Answer::with_notes(
            OutlookOutput { days, total_et0_mm, total_rain_mm, monthly_et0_mm_d: normals.monthly_et0_mm_d },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let v = &answer.value;
        let (et0, rain) = (v.total_et0_mm, v.total_rain_mm);
        Working::new()
            .step(
                "evapotranspiration of the months",
                "as given, else by et0-penman-monteith with the month's means",
                "",
                v.monthly_et0_mm_d.iter().map(|et0| format!("{et0:.1}")).collect::<Vec<_>>().join(", ") + " mm/d",
            )
            .cite(Self::CARD.sources[4])
            .step(
                "what is usual on each day",
                "smoothed steps, each month mended to its mean",
                "",
                v.days.first().map_or(String::new(), |day| {
                    format!("first day {:.2} mm/d, rain {:.2} mm/d", day.normal_et0_mm_d, day.normal_rain_mm_d)
                }),
            )
            .cite(Self::CARD.sources[3])
            .step(
                "possible courses",
                "rain after a dry day with odds 0.75 f, after a wet one 0.25 + 0.75 f; depth gamma with scale −2.16 + 1.83 m",
                format!("{} courses of {} days", input.member_count.get(), v.days.len()),
                format!(
                    "evapotranspiration {:.0} mm ({:.0} to {:.0}), rain {:.0} mm ({:.0} to {:.0})",
                    et0.median, et0.low, et0.high, rain.median, rain.low, rain.high
                ),
            )
            .cite(Self::CARD.sources[1])
    }
}
