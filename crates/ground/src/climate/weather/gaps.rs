//! Gaps in a record, filled by stated rules alone; every filled value is marked with its rule.
//!
//! * A temperature missing on up to three days between known ones: a straight line between the neighbours.
//! * A longer gap, or one at an end: the normal of the day, where there are normals.
//! * Evapotranspiration of a day that stays without temperatures: the normal of the day.
//! * Rain: never invented unasked. It stays unknown, or is taken as none, or as the normal, as the caller says.
//! * Humidity, wind and sunlight are left to the rules of the evapotranspiration itself.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::calendar::YearDay;
use super::day::WeatherDay;
use super::normals::DailyNormals;
use crate::climate::quantities::{AirTemperature, DailyRain, ReferenceEt};
use crate::kit::Bounded;

/// A field that can be filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WeatherField {
    /// Highest temperature.
    TmaxC,
    /// Lowest temperature.
    TminC,
    /// Reference evapotranspiration.
    Et0MmD,
    /// Rain.
    RainMm,
}

/// The rule that gave a filled value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FillRule {
    /// A straight line between the days before and after.
    BetweenNeighbours,
    /// The normal of the day.
    NormalOfTheDay,
    /// Taken as none, as asked.
    TakenAsDry,
}

/// A filled value.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Fill {
    /// Place of the day, from 0.
    pub day: usize,
    /// What was missing.
    pub field: WeatherField,
    /// What was put in: °C, mm or mm/d.
    pub value: f64,
    /// By which rule.
    pub rule: FillRule,
    /// The value was held to the other temperature of its day, which it would have crossed.
    pub held: bool,
}

/// A value that no rule could give.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Left {
    /// Place of the day, from 0.
    pub day: usize,
    /// What is missing.
    pub field: WeatherField,
}

/// What to do about missing rain.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RainGap {
    /// Leave it unknown.
    #[default]
    Leave,
    /// Take it as none: the safe side when deciding whether to water.
    TakeAsDry,
    /// Take the normal of the day: right in the long run, wrong on every day.
    TakeNormal,
}

/// Rules of filling.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GapRules {
    /// Longest gap that is bridged by a straight line, d.
    pub longest_bridged_d: usize,
    /// What to do about missing rain.
    pub rain: RainGap,
}

impl Default for GapRules {
    fn default() -> Self {
        Self { longest_bridged_d: 3, rain: RainGap::Leave }
    }
}

/// A record after filling.
#[derive(Debug, Clone, PartialEq)]
pub struct FilledSeries {
    /// The days, filled where a rule could.
    pub days: Vec<WeatherDay>,
    /// What was filled and how.
    pub fills: Vec<Fill>,
    /// What is still missing.
    pub left: Vec<Left>,
}

/// Fills the gaps of days that follow each other from `first`.
#[must_use]
pub fn fill_gaps(
    first: YearDay,
    days: &[WeatherDay],
    normals: Option<&DailyNormals>,
    rules: GapRules,
) -> FilledSeries {
    let places: Vec<usize> = first.onward().take(days.len()).map(YearDay::common_index).collect();
    let mut series = FilledSeries { days: days.to_vec(), fills: Vec::new(), left: Vec::new() };
    series.temperatures(&places, normals, rules.longest_bridged_d, WeatherField::TmaxC);
    series.temperatures(&places, normals, rules.longest_bridged_d, WeatherField::TminC);
    series.evapotranspiration(&places, normals);
    series.rain(&places, normals, rules.rain);
    series.fills.sort_by_key(|fill| (fill.day, fill.field));
    series.left.sort_by_key(|left| (left.day, left.field));
    series
}

impl FilledSeries {
    fn temperature(&mut self, day: usize, field: WeatherField) -> &mut Option<AirTemperature> {
        let day = &mut self.days[day];
        if field == WeatherField::TmaxC { &mut day.tmax_c } else { &mut day.tmin_c }
    }

    fn temperatures(
        &mut self,
        places: &[usize],
        normals: Option<&DailyNormals>,
        longest: usize,
        field: WeatherField,
    ) {
        let normal = normals.and_then(|normals| match field {
            WeatherField::TmaxC => normals.tmax_c.as_deref(),
            _ => normals.tmin_c.as_deref(),
        });
        let mut at = 0;
        while at < self.days.len() {
            if self.temperature(at, field).is_some() {
                at += 1;
                continue;
            }
            let end = (at..self.days.len())
                .find(|day| self.temperature(*day, field).is_some())
                .unwrap_or(self.days.len());
            let before = at.checked_sub(1).and_then(|day| *self.temperature(day, field));
            let after = if end < self.days.len() { *self.temperature(end, field) } else { None };
            for (day, place) in places.iter().enumerate().take(end).skip(at) {
                // A day whose evapotranspiration is given needs no temperature.
                if self.days[day].et0_mm_d.is_some() {
                    continue;
                }
                #[expect(clippy::cast_precision_loss, reason = "days of a gap")]
                let line = match (before, after) {
                    (Some(before), Some(after)) if end - at <= longest => {
                        let share = (day - at + 1) as f64 / (end - at + 1) as f64;
                        let value = before.get() + share * (after.get() - before.get());
                        Some((value, FillRule::BetweenNeighbours))
                    }
                    _ => normal.map(|normal| (normal[*place], FillRule::NormalOfTheDay)),
                };
                match line {
                    Some((value, rule)) => self.put_temperature(day, field, value, rule),
                    None => self.left.push(Left { day, field }),
                }
            }
            at = end;
        }
    }

    fn put_temperature(&mut self, day: usize, field: WeatherField, value: f64, rule: FillRule) {
        let limit = match field {
            WeatherField::TmaxC => self.days[day].tmin_c.map(|low| value.max(low.get())),
            _ => self.days[day].tmax_c.map(|high| value.min(high.get())),
        };
        let kept = limit.unwrap_or(value).clamp(AirTemperature::MIN, AirTemperature::MAX);
        let held = limit.is_some_and(|limit| (limit - value).abs() > 0.0);
        *self.temperature(day, field) = AirTemperature::new(kept).ok();
        self.fills.push(Fill { day, field, value: kept, rule, held });
    }

    /// Where a temperature is still missing, the normal evapotranspiration takes its place.
    fn evapotranspiration(&mut self, places: &[usize], normals: Option<&DailyNormals>) {
        let Some(normals) = normals else { return };
        for (day, place) in places.iter().enumerate() {
            let weather = &mut self.days[day];
            if weather.et0_mm_d.is_some() || weather.mean_c().is_some() {
                continue;
            }
            let value = normals.et0_mm_d[*place].min(ReferenceEt::MAX);
            weather.et0_mm_d = ReferenceEt::new(value).ok();
            let (field, rule) = (WeatherField::Et0MmD, FillRule::NormalOfTheDay);
            self.fills.push(Fill { day, field, value, rule, held: false });
            self.left.retain(|left| left.day != day);
        }
    }

    fn rain(&mut self, places: &[usize], normals: Option<&DailyNormals>, gap: RainGap) {
        let field = WeatherField::RainMm;
        for (day, place) in places.iter().enumerate() {
            if self.days[day].rain_mm.is_some() {
                continue;
            }
            let found = match (gap, normals) {
                (RainGap::TakeAsDry, _) => Some((0.0, FillRule::TakenAsDry)),
                (RainGap::TakeNormal, Some(normals)) => {
                    Some((normals.rain_mm_d[*place].min(DailyRain::MAX), FillRule::NormalOfTheDay))
                }
                _ => None,
            };
            match found {
                Some((value, rule)) => {
                    self.days[day].rain_mm = DailyRain::new(value).ok();
                    self.fills.push(Fill { day, field, value, rule, held: false });
                }
                None => self.left.push(Left { day, field }),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FIRST: YearDay = YearDay { year: 2025, day_of_year: 364 };

    fn day(tmax: Option<f64>, tmin: Option<f64>, rain: Option<f64>) -> WeatherDay {
        WeatherDay {
            tmax_c: tmax.map(AirTemperature::literal),
            tmin_c: tmin.map(AirTemperature::literal),
            rain_mm: rain.map(DailyRain::literal),
            ..WeatherDay::default()
        }
    }

    fn normals() -> DailyNormals {
        DailyNormals {
            et0_mm_d: vec![1.5; 365],
            rain_mm_d: vec![2.0; 365],
            wet_chance: vec![0.3; 365],
            tmax_c: Some((0..365).map(f64::from).map(|day| day / 10.0).collect()),
            tmin_c: Some(vec![-1.0; 365]),
            monthly_et0_mm_d: vec![1.5; 12],
            monthly_rules: vec![None; 12],
            rain_days_assumed: false,
        }
    }

    #[test]
    fn a_short_gap_is_bridged_and_marked() {
        let days = [
            day(Some(10.0), Some(2.0), Some(0.0)),
            day(None, Some(3.0), None),
            day(None, Some(4.0), Some(1.0)),
            day(Some(16.0), Some(5.0), Some(0.0)),
        ];
        let filled = fill_gaps(FIRST, &days, None, GapRules::default());
        assert_eq!(filled.days[1].tmax_c.unwrap().get(), 12.0);
        assert_eq!(filled.days[2].tmax_c.unwrap().get(), 14.0);
        assert_eq!(filled.fills.len(), 2);
        assert!(filled.fills.iter().all(|fill| fill.rule == FillRule::BetweenNeighbours && !fill.held));
        assert_eq!(filled.left, [Left { day: 1, field: WeatherField::RainMm }], "rain is not invented");
    }

    #[test]
    fn a_long_gap_or_an_end_takes_the_normal_or_stays_open() {
        let mut days = vec![day(None, Some(1.0), Some(0.0)); 6];
        days[0] = day(Some(9.0), Some(1.0), Some(0.0));
        days[5] = day(Some(9.0), Some(1.0), Some(0.0));
        let open = fill_gaps(FIRST, &days, None, GapRules::default());
        assert_eq!(open.left.len(), 4);
        assert_eq!(open.days[2].tmax_c, None);
        let filled = fill_gaps(FIRST, &days, Some(&normals()), GapRules::default());
        assert!(filled.left.is_empty());
        // The second day is 31 December, the third 1 January of the next year.
        assert_eq!(filled.days[1].tmax_c.unwrap().get(), 36.4);
        assert_eq!(filled.fills[1].rule, FillRule::NormalOfTheDay);
        // The normal of 1 January, 0 °C, lies below that day's lowest temperature.
        assert_eq!((filled.fills[1].value, filled.fills[1].held), (1.0, true));
    }

    #[test]
    fn rain_is_filled_as_asked_alone() {
        let days = [day(Some(10.0), Some(2.0), None)];
        let with = |rain| fill_gaps(FIRST, &days, Some(&normals()), GapRules { rain, ..GapRules::default() });
        assert_eq!(with(RainGap::Leave).days[0].rain_mm, None);
        assert_eq!(with(RainGap::TakeAsDry).days[0].rain_mm.unwrap().get(), 0.0);
        assert_eq!(with(RainGap::TakeNormal).days[0].rain_mm.unwrap().get(), 2.0);
    }

    #[test]
    fn evapotranspiration_given_or_normal_needs_no_temperature() {
        let given = WeatherDay { et0_mm_d: Some(ReferenceEt::literal(3.0)), ..WeatherDay::default() };
        let filled = fill_gaps(FIRST, &[given], Some(&normals()), GapRules::default());
        assert_eq!(filled.days[0].tmax_c, None);
        let mut cold = normals();
        cold.tmax_c = None;
        let filled = fill_gaps(FIRST, &[WeatherDay::default()], Some(&cold), GapRules::default());
        assert_eq!(filled.days[0].et0_mm_d.unwrap().get(), 1.5);
        assert!(filled.left.iter().all(|left| left.field == WeatherField::RainMm));
    }
}
