//! A year of a hundred beds for the daily balance: every number by a formula, so that a reference in
//! another language hears the same.

use ground::climate::crops::{CropDay, CropStage};
use ground::irrigation::balance::evaporation::STANDARD_AIR;
use ground::irrigation::balance::soils::SoilLayer;
use ground::irrigation::balance::{Amount, BedSoils, Day, RootZone, Rules, Watering, Weather, run_season};
use ground::texture::Class;
use ground::water::SoilWater;

/// Beds.
pub const BEDS: usize = 100;
/// Days of the year.
pub const DAYS: usize = 365;
/// Draws a bed.
pub const DRAWS: usize = 500;

/// What comes of a year, as means over all beds and draws.
#[derive(Debug, Clone, Copy, Default)]
pub struct Year {
    /// Depletion on the last day, mm.
    pub depletion_mm: f64,
    /// What crop and ground lost, mm.
    pub et_mm: f64,
    /// What drained below the profile, mm.
    pub lost_below_mm: f64,
    /// Days with stress.
    pub stressed_d: f64,
}

fn share(place: usize, step: f64) -> f64 {
    (place as f64 * step + 0.5).fract()
}

/// The soil of a bed.
#[must_use]
pub fn soils(bed: usize) -> BedSoils {
    let place = |draw: usize| bed * DRAWS + draw;
    let u = |draw: usize| share(place(draw), 0.618_033_988_749_894_9);
    let v = |draw: usize| share(place(draw), 0.754_877_666_246_692_7);
    let each = |value: &dyn Fn(usize) -> f64| -> Vec<f64> { (0..DRAWS).map(value).collect() };
    BedSoils {
        layers: vec![SoilLayer {
            bottom_m: 0.9,
            available_m3_m3: each(&|draw| 0.10 + 0.08 * u(draw)),
            curve: vec![SoilWater::default(); DRAWS],
            class: vec![Class::Loam; DRAWS],
        }],
        evaporable_mm: each(&|draw| 16.0 + 6.0 * v(draw)),
        readily_evaporable_mm: each(&|draw| 7.0 + 2.0 * u(draw)),
        demand_factor: each(&|draw| 0.9 + 0.2 * v(draw)),
    }
}

/// A day of the year: bare, then a crop of 150 days watered each fourth, then bare.
#[must_use]
pub fn day(place: usize) -> Day<'static> {
    let grown = if (100..250).contains(&place) { ((place - 100) as f64 / 60.0).min(1.0) } else { 0.0 };
    let planted = (100..250).contains(&place);
    let rain = if place * 7919 % 10 < 3 { (place * 31 % 23) as f64 } else { 0.0 };
    let season = (place as f64 / 182.5 - 1.0).abs();
    Day {
        crop: CropDay {
            stage: if planted { CropStage::Mid } else { CropStage::Bare },
            kc: 0.3 + 0.8 * grown,
            kcb: 0.15 * f64::from(u8::from(planted)) + 0.9 * grown,
            cover_fraction: 0.9 * grown,
            height_m: 0.8 * grown,
            root_depth_m: 0.2 + 0.4 * grown,
            depletion_fraction: 0.4,
        },
        weather: Weather {
            et0_mm: Amount::Same(6.0 - 5.0 * season),
            rain_mm: Amount::Same(rain),
            air: STANDARD_AIR,
        },
        watering: (planted && place.is_multiple_of(4)).then_some(Watering {
            gross_mm: 12.0,
            efficiency: Amount::Same(0.9),
            wetted_fraction: 0.5,
        }),
    }
}

/// A year of the beds from `from` to `to`; sums, not means.
#[must_use]
pub fn year(soils: &[BedSoils], days: &[Day<'_>]) -> Year {
    let rules = Rules::default();
    let mut sum = Year::default();
    for soils in soils {
        let mut zone = RootZone::full(soils, &rules, days[0].crop.root_depth_m);
        let totals = run_season(&mut zone, soils, &rules, days.iter().copied(), |_, _, _| {});
        sum.depletion_mm += zone.depletion_mm.iter().sum::<f64>();
        sum.et_mm += totals.et_mm.iter().sum::<f64>();
        sum.lost_below_mm += totals.lost_below_mm.iter().sum::<f64>();
        sum.stressed_d += totals.stressed_d.iter().map(|days| f64::from(*days)).sum::<f64>();
    }
    sum
}

/// The year of all beds on `threads` threads, as means.
#[must_use]
pub fn farm_year(soils: &[BedSoils], days: &[Day<'_>], threads: usize) -> Year {
    let share = soils.len().div_ceil(threads.max(1));
    let parts: Vec<Year> = std::thread::scope(|scope| {
        let workers: Vec<_> = soils.chunks(share).map(|beds| scope.spawn(|| year(beds, days))).collect();
        workers.into_iter().filter_map(|worker| worker.join().ok()).collect()
    });
    let n = (soils.len() * DRAWS) as f64;
    let mean = |value: fn(&Year) -> f64| parts.iter().map(value).sum::<f64>() / n;
    Year {
        depletion_mm: mean(|year| year.depletion_mm),
        et_mm: mean(|year| year.et_mm),
        lost_below_mm: mean(|year| year.lost_below_mm),
        stressed_d: mean(|year| year.stressed_d),
    }
}
