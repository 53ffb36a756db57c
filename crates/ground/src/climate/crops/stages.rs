//! How long the stages of growth last.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::climate::weather::YearDay;
use crate::kit::{Provenance, Refusal};

/// Longest season, d.
const LONGEST_SEASON_D: f64 = 730.0;

/// Lengths of the four stages, d.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stages {
    /// Planting to about a tenth of the ground covered.
    pub initial_d: f64,
    /// To effective full cover.
    pub development_d: f64,
    /// To the start of ripening.
    pub mid_d: f64,
    /// To harvest.
    pub late_d: f64,
}

impl Stages {
    /// Planting to harvest, d.
    #[must_use]
    pub fn total_d(&self) -> f64 {
        self.initial_d + self.development_d + self.mid_d + self.late_d
    }

    /// The same shares of a season of `days`.
    #[must_use]
    pub fn scaled_to(&self, days: f64) -> Self {
        let by = days / self.total_d();
        Self {
            initial_d: by * self.initial_d,
            development_d: by * self.development_d,
            mid_d: by * self.mid_d,
            late_d: by * self.late_d,
        }
    }
}

/// One row of the table of stage lengths.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StageRow {
    /// The lengths.
    #[serde(flatten)]
    pub stages: Stages,
    /// Months of planting, 1 to 12, in the northern half; may be empty.
    pub months: Vec<u8>,
    /// Where it was observed.
    pub region: String,
    /// How it reached this project; `None` where the farm set it.
    pub provenance: Option<Provenance>,
    /// Remark; may be empty.
    pub note: String,
}

impl StageRow {
    /// Months between a month of planting and the nearest of the row's; 7 where the row names none.
    pub(super) fn months_from(&self, month: u8) -> u8 {
        let apart = |own: &u8| {
            let apart = own.abs_diff(month);
            apart.min(12 - apart.min(12))
        };
        self.months.iter().map(apart).min().unwrap_or(7)
    }
}

/// Days from planting to harvest.
///
/// # Errors
/// A harvest on or before the planting, or more than two years after it.
pub fn season_length_d(planted: YearDay, harvested: YearDay) -> Result<f64, Refusal> {
    planted.check().map_err(|refusal| refusal.inside("planted"))?;
    harvested.check().map_err(|refusal| refusal.inside("harvested"))?;
    let days = planted.days_until(harvested);
    let show = |day: YearDay| format!("day {} of {}", day.day_of_year, day.year);
    if days <= 0 {
        return Err(Refusal::new(
            "harvested",
            format!("the harvest, {}, is not after the planting, {}", show(harvested), show(planted)),
        )
        .given(show(harvested))
        .accepted(format!("a day after {}", show(planted)))
        .example(show(planted.onward().nth(60).unwrap_or(planted))));
    }
    let days = f64::from(days);
    if days > LONGEST_SEASON_D {
        return Err(Refusal::new("harvested", format!("the harvest is {days} days after the planting"))
            .given(show(harvested))
            .accepted(format!("at most {LONGEST_SEASON_D} days after {}", show(planted)))
            .example(show(planted.onward().nth(60).unwrap_or(planted))));
    }
    Ok(days)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(year: i16, day_of_year: u16) -> YearDay {
        YearDay { year, day_of_year }
    }

    #[test]
    fn planting_after_harvest_is_refused() {
        assert_eq!(season_length_d(day(2024, 300), day(2025, 10)).unwrap(), 76.0);
        for harvest in [day(2025, 120), day(2025, 100), day(2024, 200)] {
            let refusal = season_length_d(day(2025, 120), harvest).unwrap_err();
            assert_eq!(refusal.field, "harvested");
            assert_eq!(refusal.accepted, "a day after day 120 of 2025");
        }
        assert!(season_length_d(day(2025, 1), day(2030, 1)).is_err());
        assert_eq!(season_length_d(day(2025, 366), day(2026, 1)).unwrap_err().field, "planted.day_of_year");
    }

    #[test]
    fn scaling_keeps_the_shares() {
        let stages = Stages { initial_d: 20.0, development_d: 30.0, mid_d: 40.0, late_d: 10.0 };
        let twice = stages.scaled_to(200.0);
        assert!((twice.total_d() - 200.0).abs() < 1e-9);
        assert!((twice.mid_d - 80.0).abs() < 1e-9);
    }
}
