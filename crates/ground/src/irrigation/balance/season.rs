//! A bed through many days.

use super::engine::{Fluxes, RootZone, Rules, Watering, Weather};
use super::soils::BedSoils;
use crate::climate::crops::CropDay;

/// What a day brings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Day<'a> {
    /// The crop, or bare ground.
    pub crop: CropDay,
    /// The weather.
    pub weather: Weather<'a>,
    /// Water given, if any.
    pub watering: Option<Watering<'a>>,
}

/// Sums over a season, by draw.
#[derive(Debug, Clone, PartialEq)]
pub struct Totals {
    /// Rain that counted, mm.
    pub rain_mm: Vec<f64>,
    /// Watering that reached the root zone, mm.
    pub irrigation_mm: Vec<f64>,
    /// What crop and ground lost, mm.
    pub et_mm: Vec<f64>,
    /// What they would have lost with water enough, mm.
    pub demand_mm: Vec<f64>,
    /// What drained below the whole profile, mm.
    pub lost_below_mm: Vec<f64>,
    /// Days with stress.
    pub stressed_d: Vec<u32>,
}

impl Totals {
    fn of(draws: usize) -> Self {
        let room = || vec![0.0; draws];
        Self {
            rain_mm: room(),
            irrigation_mm: room(),
            et_mm: room(),
            demand_mm: room(),
            lost_below_mm: room(),
            stressed_d: vec![0; draws],
        }
    }

    fn add(&mut self, day: &Fluxes) {
        let pairs = [
            (&mut self.rain_mm, &day.rain_mm),
            (&mut self.irrigation_mm, &day.irrigation_mm),
            (&mut self.et_mm, &day.et_mm),
            (&mut self.demand_mm, &day.demand_mm),
            (&mut self.lost_below_mm, &day.lost_below_mm),
        ];
        for (sum, part) in pairs {
            for (sum, part) in sum.iter_mut().zip(part) {
                *sum += part;
            }
        }
        for (days, stress) in self.stressed_d.iter_mut().zip(&day.stress) {
            *days += u32::from(*stress < 1.0);
        }
    }
}

/// Steps a bed from day to day and adds up. `see` is shown every day's end: its place, the state and
/// what became of the water. Nothing is allocated from day to day.
///
/// # Panics
/// When the state or a number given by draw belongs to an ensemble of another size.
pub fn run_season<'a>(
    zone: &mut RootZone,
    soils: &BedSoils,
    rules: &Rules,
    days: impl IntoIterator<Item = Day<'a>>,
    mut see: impl FnMut(usize, &RootZone, &Fluxes),
) -> Totals {
    let draws = zone.draws();
    let mut fluxes = Fluxes::of(draws);
    let mut totals = Totals::of(draws);
    for (place, day) in days.into_iter().enumerate() {
        zone.step(soils, rules, &day.crop, &day.weather, day.watering.as_ref(), &mut fluxes);
        totals.add(&fluxes);
        see(place, zone, &fluxes);
    }
    totals
}
