//! The usual water of the year and of a crop's season: what covers and credits are reckoned with.

use book::model::{Place, Planting};
use book::{Held, Snapshot};
use ground::climate::weather::DailyNormals;
use jiff::civil::Date;

use super::cover_factor;
use super::growth::growth;
use super::place::{site_of, usual_days};

/// Usual evapotranspiration and rain of each day of the year; `None` without latitude or usual weather.
#[must_use]
pub fn usual_water(snapshot: &Snapshot) -> Option<DailyNormals> {
    let site = site_of(&snapshot.farm.body)?;
    usual_days(&site, &snapshot.normals()?.body).ok()
}

/// Rain that reaches the roots (common practice).
pub(crate) const RAIN_COUNTS: f64 = 0.8;

/// Water that a planting takes from irrigation in a usual season, mm: what it drinks beyond the rain of each month. `None`
/// where the weather or the crop is not known.
#[must_use]
pub fn season_irrigation_mm(snapshot: &Snapshot, held: &Held<Planting>) -> Option<f64> {
    let usual = usual_water(snapshot)?;
    let latitude = ground::kit::Bounded::get(snapshot.farm.body.latitude_degrees?);
    let growth = growth(snapshot, held.id, &held.body, latitude).ok()?;
    let plot = snapshot.plot(snapshot.plot_of_bed(held.body.bed)?)?;
    let factor = cover_factor(&plot.body);
    let open = !matches!(plot.body.place, Place::HighTunnel | Place::Greenhouse);
    // Rain and use are set against each other by the month: what one week brings the ground keeps for the next.
    let mut months: Vec<(i8, f64)> = Vec::new();
    let days = std::iter::successors(Some(growth.planted_on), |day: &Date| day.tomorrow().ok());
    for day in days.take_while(|day| *day < growth.ends_on).take(400) {
        let at = usize::from(day.day_of_year().unsigned_abs().clamp(1, 365)) - 1;
        let crop = growth.on(day);
        let short = factor * crop.kc * usual.et0_mm_d[at]
            - if open { RAIN_COUNTS * usual.rain_mm_d[at] } else { 0.0 };
        match months.last_mut() {
            Some((month, sum)) if *month == day.month() => *sum += short,
            _ => months.push((day.month(), short)),
        }
    }
    Some(months.into_iter().map(|(_, short)| short.max(0.0)).sum())
}
