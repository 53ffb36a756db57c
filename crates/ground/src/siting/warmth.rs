//! How many days a place gives a crop: between its frosts, and as long as the mean temperature suits it.
//!
//! # Method
//! The longest run of days whose usual mean temperature lies between the least and the most that the handbook gives
//! for the crop [KnottHandbook]; for tender crops only those between the frosts. Without usual temperatures the days
//! between the frosts stand in, hardy crops with a margin (common practice). Under an unheated cover the air is 2.75 °C
//! warmer (mean of +4.2 and +1.3 °C, [Savage1980]) and the frosts lie three weeks further apart at each end (common
//! practice).

use super::needs::{Frost, SiteNeeds};

/// Days of a year as it is reckoned here.
const YEAR_D: usize = 365;
/// What an unheated cover adds to the highest and to the lowest temperature of the day, °C [Savage1980].
pub const COVER_WARMS_HIGH_LOW_C: [f64; 2] = [4.2, 1.3];
/// What it adds to the mean, °C: the middle of both.
pub const COVER_WARMS_C: f64 = (COVER_WARMS_HIGH_LOW_C[0] + COVER_WARMS_HIGH_LOW_C[1]) / 2.0;
/// What it adds to the winter's low, °C (common practice).
pub const COVER_WARMS_WINTER_LOW_C: f64 = 3.0;
/// Days that an unheated cover gains at each end of the frost-free time (common practice: three to four weeks).
pub const COVER_GAINS_D: f64 = 21.0;
/// How far a frost date strays from year to year, d (common practice).
pub const FROST_STRAYS_D: f64 = 10.0;
/// How far the start and end of growing weather stray, d (judgement).
const WARMTH_STRAYS_D: f64 = 7.0;
/// Days outside the frosts that hardy and half-hardy crops use (common practice).
const BEYOND_FROST_D: [f64; 2] = [60.0, 30.0];

/// A place's year between its frosts.
#[derive(Debug, Clone, PartialEq)]
pub struct FrostYear {
    /// Usual mean temperature of each day of the year in the open, °C; empty where it is not known.
    pub mean_c: Vec<f64>,
    /// Usual last frost of spring, day of the year.
    pub last_frost: Option<f64>,
    /// Usual first frost of autumn, day of the year.
    pub first_frost: Option<f64>,
    /// Under an unheated cover?
    pub covered: bool,
}

/// Days that a place gives a crop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DaysGiven {
    /// Mean over the years.
    pub mean_d: f64,
    /// Standard deviation from year to year.
    pub spread_d: f64,
    /// First day of the run, day of the year; nothing where temperatures are not known.
    pub from_day: Option<u16>,
    /// Do the frosts bound it, and not the temperatures?
    pub by_frost: bool,
    /// Is it heat that ends or parts the run?
    pub heat_ends: bool,
}

impl FrostYear {
    /// Days between the frosts; nothing where a date is not known.
    #[must_use]
    pub fn frost_free_d(&self) -> Option<f64> {
        let days = self.first_frost? - self.last_frost?;
        let days = if days <= 0.0 { days + 365.0 } else { days };
        Some((days + if self.covered { 2.0 * COVER_GAINS_D } else { 0.0 }).min(365.0))
    }

    fn between_frosts(&self, day: f64) -> Option<bool> {
        let gains = if self.covered { COVER_GAINS_D } else { 0.0 };
        let from = self.last_frost? - gains;
        Some((day - from).rem_euclid(365.0) < self.frost_free_d()?)
    }

    /// First day of the year from which the mean of the air, which stands for the soil, has reached a temperature
    /// after the coldest day.
    #[must_use]
    pub fn warm_from_day(&self, at_least_c: f64) -> Option<u16> {
        let warms = if self.covered { COVER_WARMS_C } else { 0.0 };
        let coldest = (0..self.mean_c.len()).min_by(|a, b| self.mean_c[*a].total_cmp(&self.mean_c[*b]))?;
        (0..self.mean_c.len())
            .map(|step| (coldest + step) % self.mean_c.len())
            .find(|at| self.mean_c[*at] + warms >= at_least_c)
            .and_then(|at| u16::try_from(at + 1).ok())
    }
}

/// Days that a place gives a crop; nothing where neither temperatures nor frosts are known.
#[must_use]
pub fn days_given(needs: &SiteNeeds, year: &FrostYear) -> Option<DaysGiven> {
    if year.mean_c.len() != YEAR_D {
        let free = year.frost_free_d()?;
        let beyond = match needs.frost {
            Frost::Hardy => BEYOND_FROST_D[0],
            Frost::HalfHardy => BEYOND_FROST_D[1],
            Frost::Tender | Frost::VeryTender => 0.0,
        };
        return Some(DaysGiven {
            mean_d: (free + beyond).min(365.0),
            spread_d: FROST_STRAYS_D * std::f64::consts::SQRT_2,
            from_day: None,
            by_frost: true,
            heat_ends: false,
        });
    }
    let warms = if year.covered { COVER_WARMS_C } else { 0.0 };
    let mean = |at: usize| year.mean_c[at % YEAR_D] + warms;
    let frost_ok = |at: usize| {
        #[expect(clippy::cast_precision_loss, reason = "a day of the year")]
        let day = (at % YEAR_D + 1) as f64;
        !needs.frost.is_tender() || year.between_frosts(day).unwrap_or(true)
    };
    let warm = |at: usize| (needs.air.min_c..=needs.air.max_c).contains(&mean(at));
    let (mut best, mut run) = ((0, 0), 0);
    // Twice round, so that a run over the turn of the year is seen whole.
    for at in 0..2 * YEAR_D {
        run = if warm(at) && frost_ok(at) { (run + 1).min(YEAR_D) } else { 0 };
        if run > best.1 {
            best = (at + 1 - run, run);
        }
    }
    let (from, length) = best;
    let ends = [(from + YEAR_D - 1) % YEAR_D, (from + length) % YEAR_D];
    let bound = length > 0 && length < YEAR_D;
    let by_frost = bound && ends.iter().any(|at| warm(*at) && !frost_ok(*at));
    let heat_ends = if length == 0 {
        // Nowhere warm enough, or nowhere cool enough?
        (0..YEAR_D).all(|at| mean(at) > needs.air.max_c || !frost_ok(at))
    } else {
        bound && ends.iter().any(|at| mean(*at) > needs.air.max_c)
    };
    #[expect(clippy::cast_precision_loss, reason = "days of a year")]
    Some(DaysGiven {
        mean_d: length as f64,
        spread_d: std::f64::consts::SQRT_2 * if by_frost { FROST_STRAYS_D } else { WARMTH_STRAYS_D },
        from_day: u16::try_from(from % YEAR_D + 1).ok().filter(|_| length > 0),
        by_frost,
        heat_ends,
    })
}

#[cfg(test)]
mod tests {
    use super::super::needs::needs_of;
    use super::*;

    fn year(covered: bool) -> FrostYear {
        // A mean of 10 °C that swings by 12: coldest in mid-January, warmest in mid-July.
        let mean_c = (0..365)
            .map(|at| 10.0 - 12.0 * libm::cos(std::f64::consts::TAU * (at as f64 - 15.0) / 365.0))
            .collect();
        FrostYear { mean_c, last_frost: Some(130.0), first_frost: Some(275.0), covered }
    }

    #[test]
    fn frosts_and_warmth_bound_the_days() {
        let days = |crop: &str, covered| days_given(needs_of(crop).unwrap(), &year(covered)).unwrap();
        // Bean: 10 °C and above from day 106 to 289, but frost until day 130 and from day 275: as without temperatures.
        let bean = days("green-bean", false);
        assert!(bean.mean_d == 145.0 && bean.by_frost && bean.from_day == Some(130), "{bean:?}");
        assert_eq!(year(false).frost_free_d(), Some(bean.mean_d));
        assert!(days("green-bean", true).mean_d > bean.mean_d + 30.0);
        // Watermelon wants 18.3 °C: cos x = 8.33 / 12 gives 46 days on each side of mid-July.
        let melon = days("watermelon", false);
        assert!((melon.mean_d - 92.0).abs() <= 2.0 && !melon.by_frost && !melon.heat_ends, "{melon:?}");
        assert!(days("watermelon", true).mean_d > melon.mean_d + 20.0);
        // Cabbage stands frost; under cover the summer's mean of 24.75 °C is above its 23.9.
        assert!(days("cabbage", false).mean_d > 200.0);
        assert!(days("cabbage", true).heat_ends);
    }

    #[test]
    fn without_temperatures_the_frosts_stand_in() {
        let bare = FrostYear { mean_c: Vec::new(), ..year(false) };
        let days = |crop: &str| days_given(needs_of(crop).unwrap(), &bare).unwrap().mean_d;
        assert_eq!(days("tomato"), 145.0);
        assert_eq!(days("spinach"), 205.0);
        assert!(days_given(needs_of("tomato").unwrap(), &FrostYear { last_frost: None, ..bare }).is_none());
        // South of the equator the season runs over the turn of the year.
        let south = FrostYear {
            mean_c: Vec::new(),
            last_frost: Some(280.0),
            first_frost: Some(110.0),
            covered: false,
        };
        assert_eq!(south.frost_free_d(), Some(195.0));
    }

    #[test]
    fn soil_is_warm_enough_after_the_cold_and_not_before() {
        let year = year(false);
        let cool = year.warm_from_day(4.44).unwrap();
        let warm = year.warm_from_day(15.56).unwrap();
        assert!((70..90).contains(&cool) && (130..145).contains(&warm), "{cool} {warm}");
        assert!(year.warm_from_day(30.0).is_none());
    }
}
