//! A bed from day to day up to this morning: weather, crop and waterings through an ensemble of soils, put
//! right by what was seen of its moisture.

use std::collections::BTreeMap;

use ground::belief::Known;
use ground::climate::crops::{CropDay, CropStage};
use ground::irrigation::balance::{Amount, BedSoils, Fluxes, RootZone, Rules, Watering, Weather};
use ground::kit::Spread;
use jiff::civil::Date;
use serde::Serialize;

use super::draws::{drawn, stream};
use super::looks::{Look, Reading, look};
use super::weather::{DaySource, FarmWeather};

/// Bare ground.
pub(super) const BARE: CropDay = CropDay {
    stage: CropStage::Bare,
    kc: 0.3,
    kcb: 0.0,
    cover_fraction: 0.0,
    height_m: 0.0,
    root_depth_m: 0.15,
    depletion_fraction: 0.5,
};

/// One day of a bed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeasonDay {
    /// The day.
    pub date: Date,
    /// Stage of the crop.
    pub stage: CropStage,
    /// Water missing from the root zone at its end, mm.
    pub deficit_mm: Spread,
    /// Water that may be missing before the crop suffers, mm; median.
    pub allowable_mm: f64,
    /// All that the roots could draw, mm; median.
    pub total_available_mm: f64,
    /// Rain on the bed, mm; median.
    pub rain_mm: f64,
    /// Water put on over the bed, mm.
    pub watering_mm: f64,
    /// What crop and ground used, mm; median.
    pub use_mm: f64,
    /// What drained below everything the roots will reach, mm; median.
    pub lost_below_mm: f64,
    /// Odds that the crop went short.
    pub odds_short: f64,
    /// On what the weather rests.
    pub source: DaySource,
}

/// How the ground is taken to be on the first day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Start {
    /// Near field capacity: the weeks before are usually wet.
    Moist,
    /// Anything from full to seven tenths used.
    Unknown,
}

impl Start {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Moist => {
                "near field capacity at the start, since the weeks before are usually wetter than they dry"
            }
            Self::Unknown => {
                "anything from full to seven tenths used at the start, since nothing is known of it"
            }
        }
    }
}

impl Start {
    /// Share of the available water used in each draw.
    pub(super) fn shares(self, draws: usize, seed: u64) -> Vec<f64> {
        let mut chance = stream("start", seed);
        let most = match self {
            Self::Moist => 0.1,
            Self::Unknown => 0.7,
        };
        (0..draws).map(|_| most * chance.uniform()).collect()
    }
}

/// Everything that the run of a bed needs.
pub(super) struct Setup<'a> {
    pub soils: &'a BedSoils,
    pub rules: Rules,
    pub weather: &'a FarmWeather,
    /// Factor on evapotranspiration of each draw under cover; no rain falls there.
    pub cover: Option<Vec<f64>>,
    /// The crop of a day.
    pub crop_on: &'a dyn Fn(Date) -> CropDay,
    /// Depth put on over the bed by day, mm.
    pub waterings: &'a BTreeMap<Date, f64>,
    /// Share of the water that reaches the roots, of each draw.
    pub efficiency: &'a [f64],
    /// Share of the ground that a watering wets.
    pub wetted: f64,
    /// Readings by day.
    pub readings: &'a [Reading],
    pub from: Date,
    pub today: Date,
    /// Share of the available water used on the first morning, of each draw.
    pub used: &'a [f64],
}

/// A bed this morning, and how it came there.
pub(super) struct Run {
    pub zone: RootZone,
    pub days: Vec<SeasonDay>,
    pub looks: Vec<Look>,
    /// Water recorded as given today, mm over the bed; the zone holds it already.
    pub given_today_mm: f64,
}

/// Draws of a factor under cover.
pub(super) fn cover_factors(factor: Option<Known>, draws: usize, seed: u64) -> Option<Vec<f64>> {
    factor.map(|known| drawn(known, draws, 0.1, 1.3, &mut stream("cover", seed)))
}

/// The weather on a bed, by draw.
pub(super) struct Air<'a> {
    weather: &'a FarmWeather,
    cover: Option<&'a [f64]>,
    et0: Vec<f64>,
}

impl<'a> Air<'a> {
    pub(super) fn new(weather: &'a FarmWeather, cover: Option<&'a [f64]>) -> Self {
        Self { weather, cover, et0: Vec::new() }
    }

    /// The weather of a place of the window.
    pub(super) fn at(&mut self, place: usize) -> Weather<'_> {
        let outside = self.weather.et0_of(place);
        match self.cover {
            None => Weather {
                et0_mm: Amount::Each(outside),
                rain_mm: Amount::Each(self.weather.rain_of(place)),
                air: self.weather.air_of(place),
            },
            Some(factors) => {
                self.et0.clear();
                self.et0.extend(outside.iter().zip(factors).map(|(et0, factor)| et0 * factor));
                // Inside the air is still; the coefficients' own climate is taken.
                let air = ground::irrigation::balance::evaporation::STANDARD_AIR;
                Weather { et0_mm: Amount::Each(&self.et0), rain_mm: Amount::Same(0.0), air }
            }
        }
    }
}

/// Runs a bed up to this morning. Days outside the weather's window are not run.
pub(super) fn run(setup: &Setup<'_>) -> Run {
    let draws = setup.soils.draws();
    let first = (setup.crop_on)(setup.from);
    let mut zone = RootZone::depleted(setup.soils, &setup.rules, first.root_depth_m, |draw| setup.used[draw]);
    let mut fluxes = Fluxes::of(draws);
    let mut air = Air::new(setup.weather, setup.cover.as_deref());
    let (mut days, mut looks) = (Vec::new(), Vec::new());
    let mut date = setup.from;
    while date < setup.today {
        looks.extend(looked(setup, &mut zone, date));
        if let Some(place) = setup.weather.place(date) {
            let crop = (setup.crop_on)(date);
            let gross = setup.waterings.get(&date).copied().unwrap_or(0.0);
            let watering = (gross > 0.0).then_some(Watering {
                gross_mm: gross,
                efficiency: Amount::Each(setup.efficiency),
                wetted_fraction: setup.wetted,
            });
            zone.step(setup.soils, &setup.rules, &crop, &air.at(place), watering.as_ref(), &mut fluxes);
            days.push(day_of(setup, &zone, &fluxes, date, place, gross, crop.stage));
        }
        let Ok(next) = date.tomorrow() else { break };
        date = next;
    }
    looks.extend(looked(setup, &mut zone, setup.today));
    let given_today_mm = setup.waterings.get(&setup.today).copied().unwrap_or(0.0);
    pour(&mut zone, given_today_mm, setup.efficiency);
    Run { zone, days, looks, given_today_mm }
}

/// Readings of a day are held against the state of its morning, before that day's water: a dry reading that
/// led to a watering the same day must not count against the watering.
fn looked(setup: &Setup<'_>, zone: &mut RootZone, date: Date) -> Vec<Look> {
    setup
        .readings
        .iter()
        .filter(|reading| reading.date == date)
        .map(|reading| look(reading, setup.soils, zone))
        .collect()
}

/// Water given this morning: it fills the root zone, then the ground below; the rest is lost.
fn pour(zone: &mut RootZone, gross_mm: f64, efficiency: &[f64]) {
    if gross_mm <= 0.0 {
        return;
    }
    for (draw, share) in efficiency.iter().enumerate() {
        let net = gross_mm * share;
        let taken = net.min(zone.depletion_mm[draw]);
        zone.depletion_mm[draw] -= taken;
        zone.below_mm[draw] = (zone.below_mm[draw] - (net - taken)).max(0.0);
        zone.surface_mm[draw] = 0.0;
    }
}

fn day_of(
    setup: &Setup<'_>,
    zone: &RootZone,
    fluxes: &Fluxes,
    date: Date,
    place: usize,
    watering_mm: f64,
    stage: CropStage,
) -> SeasonDay {
    let short = fluxes.stress.iter().filter(|stress| **stress < 1.0).count();
    #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
    let odds_short = short as f64 / zone.draws().max(1) as f64;
    let median = |values: &[f64]| Spread::of_equal(&mut values.to_vec()).map_or(0.0, |spread| spread.median);
    SeasonDay {
        date,
        stage,
        deficit_mm: zone.depletion().unwrap_or(Spread { low: 0.0, median: 0.0, high: 0.0 }),
        allowable_mm: median(&fluxes.readily_available_mm),
        total_available_mm: median(&zone.total_available_mm),
        rain_mm: if setup.cover.is_some() { 0.0 } else { median(setup.weather.rain_of(place)) },
        watering_mm,
        use_mm: median(&fluxes.et_mm),
        lost_below_mm: median(&fluxes.lost_below_mm),
        odds_short,
        source: setup.weather.days.get(place).map_or(DaySource::Usual, |day| day.source),
    }
}
