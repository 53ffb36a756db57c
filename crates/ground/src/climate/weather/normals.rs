//! Twelve monthly normals as 365 daily ones.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::calendar::{MONTH_DAYS, YearDay, middle_of};
use super::day::WeatherDay;
use super::smooth::{Mend, daily_keeping_means};
use crate::climate::et0::{Neighbours, Rules, et0_month};
use crate::climate::quantities::MonthlyRain;
use crate::climate::site::Site;
use crate::kit::{Bounded, Note, NoteKind, Refusal};

crate::quantity! {
    /// Days of a month with rain.
    pub struct RainDays: "days with rain", "d", 0.0 ..= 31.0, example 11.0;
}

/// Mean depth of a rainy day where the number of rainy days is unknown, mm (our judgement).
pub const USUAL_RAINY_DAY_MM: f64 = 8.0;

/// What is usual in one month.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MonthNormals {
    /// Mean weather of the month's days: both temperatures, or `et0_mm_d` where it is published. Rain stands
    /// in `rain_mm` below, as a sum.
    pub weather: WeatherDay,
    /// Rain of the month.
    pub rain_mm: MonthlyRain,
    /// Days on which it rains; a rainy day is taken to bring 8 mm where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_days_d: Option<RainDays>,
}

/// What is usual on each day of a common year, 365 values each; every month keeps its mean.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DailyNormals {
    /// Reference evapotranspiration.
    pub et0_mm_d: Vec<f64>,
    /// Rain, mean over wet and dry days.
    pub rain_mm_d: Vec<f64>,
    /// Chance of rain, 0 to 1.
    pub wet_chance: Vec<f64>,
    /// Highest temperature, °C, where every month gives it.
    pub tmax_c: Option<Vec<f64>>,
    /// Lowest temperature, °C, where every month gives it.
    pub tmin_c: Option<Vec<f64>>,
    /// The months' reference evapotranspiration, mm/d.
    pub monthly_et0_mm_d: Vec<f64>,
    /// Rules behind each of them; `None` where the month gave the number.
    pub monthly_rules: Vec<Option<Rules>>,
    /// Months whose number of rainy days was assumed.
    pub rain_days_assumed: bool,
}

impl DailyNormals {
    /// Usual evapotranspiration and rain of a day, mm/d.
    #[must_use]
    pub fn on(&self, day: YearDay) -> (f64, f64) {
        let at = day.common_index();
        (self.et0_mm_d[at], self.rain_mm_d[at])
    }

    /// What to say beside them.
    #[must_use]
    pub fn notes(&self) -> Vec<Note> {
        let mut notes = Vec::new();
        if self.rain_days_assumed {
            notes.push(Note::new(
                NoteKind::Provenance,
                "The number of rainy days is unknown for at least one month: a rainy day is taken to bring 8 mm, which \
                 is our judgement.",
            ));
        }
        for rules in self.monthly_rules.iter().flatten() {
            for note in rules.notes() {
                if !notes.contains(&note) {
                    notes.push(note);
                }
            }
        }
        notes.push(Note::new(
            NoteKind::Method,
            "Days between the months' middles are smoothed so that every month keeps its mean (after Rymes and Myers \
             2001, recalled).",
        ));
        notes
    }
}

/// Daily normals from twelve monthly ones, January first.
///
/// # Errors
/// Another number of months, a month without evapotranspiration and temperatures, contradictions.
pub fn daily_normals(site: &Site, months: &[MonthNormals]) -> Result<DailyNormals, Refusal> {
    let months: &[MonthNormals; 12] = months.try_into().map_err(|_| {
        Refusal::new(
            "months",
            format!("{} months were given; a year has twelve, January first", months.len()),
        )
        .given(months.len())
        .accepted("12 months")
        .example("12")
    })?;
    let means: [Option<f64>; 12] = std::array::from_fn(|at| months[at].weather.mean_c());
    let mut et0 = [0.0; 12];
    let mut rain = [0.0; 12];
    let mut wet = [0.0; 12];
    let mut monthly_rules = Vec::with_capacity(12);
    for (at, month) in months.iter().enumerate() {
        let inside = |refusal: Refusal| refusal.inside(&format!("months[{at}]"));
        month.check(MONTH_DAYS[at]).map_err(inside)?;
        let inside_weather = |refusal: Refusal| refusal.inside(&format!("months[{at}].weather"));
        let middle = middle_of(at);
        if let Some(given) = month.weather.et0_mm_d {
            month.weather.check(site, middle).map_err(inside_weather)?;
            et0[at] = given.get();
            monthly_rules.push(None);
        } else {
            let (previous_c, next_c) = (means[(at + 11) % 12], means[(at + 1) % 12]);
            let neighbours = Neighbours { previous_c, next_c };
            let answer = et0_month(site, middle, &month.weather, neighbours).map_err(inside_weather)?;
            et0[at] = answer.et0_mm_d;
            monthly_rules.push(Some(answer.rules));
        }
        let length = f64::from(MONTH_DAYS[at]);
        rain[at] = month.rain_mm.get() / length;
        wet[at] = month.rainy_days(length) / length;
    }
    let temperature = |read: fn(&WeatherDay) -> Option<f64>| -> Option<Vec<f64>> {
        let mut all = [0.0; 12];
        for (slot, month) in all.iter_mut().zip(months) {
            *slot = read(&month.weather)?;
        }
        Some(daily_keeping_means(&all, Mend::Add))
    };
    let mut wet_chance = daily_keeping_means(&wet, Mend::Multiply);
    wet_chance.iter_mut().for_each(|chance| *chance = chance.min(1.0));
    Ok(DailyNormals {
        et0_mm_d: daily_keeping_means(&et0, Mend::Multiply),
        rain_mm_d: daily_keeping_means(&rain, Mend::Multiply),
        wet_chance,
        tmax_c: temperature(|day| day.tmax_c.map(Bounded::get)),
        tmin_c: temperature(|day| day.tmin_c.map(Bounded::get)),
        monthly_et0_mm_d: et0.to_vec(),
        monthly_rules,
        rain_days_assumed: months.iter().any(|month| month.rain_days_d.is_none()),
    })
}

impl MonthNormals {
    fn check(&self, length: u16) -> Result<(), Refusal> {
        if let Some(rain) = self.weather.rain_mm {
            return Err(Refusal::new(
                "weather.rain_mm",
                "the rain of a month is a sum and stands in the month's own rain_mm",
            )
            .given(rain.get())
            .accepted("nothing here")
            .example("rain_mm 80"));
        }
        let Some(days) = self.rain_days_d else { return Ok(()) };
        if days.get() > f64::from(length) {
            return Err(Refusal::new("rain_days_d", format!("the month has {length} days"))
                .given(format!("{} d", days.get()))
                .accepted(format!("0 to {length} d"))
                .example("11 d"));
        }
        if days.get() == 0.0 && self.rain_mm.get() > 0.0 {
            return Err(Refusal::new("rain_days_d", "the month has rain but no day with rain")
                .given("0 d")
                .accepted("above 0 where rain_mm is above 0")
                .example("1 d"));
        }
        Ok(())
    }

    /// Days with rain, as given or assumed.
    fn rainy_days(&self, length: f64) -> f64 {
        match self.rain_days_d {
            // A month said to be dry has no rainy days whatever their number.
            Some(days) if self.rain_mm.get() > 0.0 => days.get(),
            Some(_) => 0.0,
            None => (self.rain_mm.get() / USUAL_RAINY_DAY_MM).min(0.8 * length),
        }
    }
}
