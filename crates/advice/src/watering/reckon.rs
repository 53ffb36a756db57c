//! A planted bed reckoned: its soil, its season, its readings, and the advice that follows.

use std::collections::BTreeMap;

use book::model::{Bed, EntryId, Plot};
use book::{Held, Snapshot};
use ground::irrigation::balance::Rules;
use ground::irrigation::hardware::Kind;
use ground::kit::chance::Fingerprint;
use ground::kit::{Bounded, Note, NoteKind, Spread};
use jiff::ToSpan;
use jiff::civil::Date;

use super::advise::{OUTLOOK_D, Standing, advise};
use super::bed::{BedWater, CropNow, SeasonTotals};
use super::draws::{drawn, stream};
use super::growth::{Growth, crop_on};
use super::hardware::Hardware;
use super::intake::intake;
use super::looks::Reading;
use super::place::Under;
use super::salts::leaching;
use super::season::{SeasonDay, Setup, Start, cover_factors, run};
use super::tell;
use super::weather::FarmWeather;
use super::working::{Numbers, working};
use super::{DRAWS, LEAD_D};
use crate::plot_report::PlotReport;

/// Readings of the bed; those made on the plot beside its beds count where it has one record of beds only.
fn readings(snapshot: &Snapshot, bed: &Held<Bed>) -> Vec<Reading> {
    let alone = snapshot.beds_of(bed.body.plot).count() == 1;
    let mut readings: Vec<Reading> = snapshot
        .moisture_on(bed.body.plot)
        .filter(|(_, moisture)| moisture.bed == Some(bed.id) || (alone && moisture.bed.is_none()))
        .map(|(held, moisture)| Reading {
            id: held.id,
            date: held.body.seen_on,
            moisture: *moisture,
            units: snapshot.farm.body.units,
        })
        .collect();
    readings.sort_by_key(|reading| reading.date);
    readings
}

/// Runs the bed up to this morning and says what to do.
#[expect(clippy::too_many_arguments, reason = "the records of one bed, each once")]
pub(super) fn reckon(
    snapshot: &Snapshot,
    bed: &Held<Bed>,
    plot: &Held<Plot>,
    report: &PlotReport,
    weather: &FarmWeather,
    hardware: Option<&Hardware>,
    plantings: &[Growth],
    now: &Growth,
    told: &mut BedWater,
) {
    let today = told.today;
    let crop = now.on(today);
    told.crop = Some(CropNow {
        planting: now.planting,
        name: now.name.clone(),
        planted_on: now.planted_on,
        day_number: now.day_number(today),
        stage: crop.stage,
        stage_words: tell::stage(crop.stage),
        stages_words: now.stages_words.clone(),
        ends_on: now.ends_on,
        kc: crop.kc,
        root_depth_cm: 100.0 * crop.root_depth_m,
        cover_fraction: crop.cover_fraction,
    });
    told.notes.extend(now.notes.iter().cloned());
    if now.beyond(today) {
        told.notes.push(Note::new(
            NoteKind::OutsideRange,
            format!(
                "It stands longer than its stages last (to {}): its water use is taken as at their end. Write down when it ended, or when the harvest is expected to end.",
                crate::words::day(now.ends_on)
            ),
        ));
    }
    let Some(place) = weather.place(today) else { return };
    let Some(ground) = super::soil::of_plot(snapshot, report, DRAWS) else { return };
    told.notes.extend(ground.notes.iter().map(|text| Note::new(NoteKind::Adjusted, text.clone())));
    told.notes.extend(weather.notes.iter().cloned());
    let draws = ground.soils.draws();
    let seed = seed_of(bed.id);
    let under = Under::of(&plot.body);
    let cover = cover_factors(under.factor, draws, seed);
    if let (Some(factor), false) = (under.factor, under.given) {
        told.notes.push(Note::new(
            NoteKind::Provenance,
            format!(
                "Under the cover the crop is taken to draw {:.2} times as much as in the open (90 %: {:.2} to {:.2}), a range from other covers and places with our judgement in the middle. Set the plot's own factor where you know it.",
                factor.likely, factor.low, factor.high
            ),
        ));
    }
    let kind = hardware.map_or(Kind::Sprinkler, |hardware| hardware.kind);
    let wetted = hardware.map_or(1.0, |hardware| hardware.wetted(ground.class, crop.root_depth_m));
    let efficiency = hardware.map_or_else(
        || vec![1.0; draws],
        |hardware| drawn(hardware.efficiency, draws, 0.1, 1.0, &mut stream("efficiency", seed)),
    );
    let rules = Rules {
        watered_share: if kind == Kind::Drip && !under.open() { wetted } else { 1.0 },
        under_canopy: kind == Kind::Drip,
        ..Rules::default()
    };
    let lead = if under.open() { LEAD_D } else { 0 };
    let from = now.planted_on.checked_sub(lead.days()).unwrap_or(now.planted_on).max(weather.first);
    let start = if under.open() && weather.usually_wet_before(from) == Some(true) {
        Start::Moist
    } else {
        Start::Unknown
    };
    let by_day = by_day(told, from, today);
    let readings = readings(snapshot, bed);
    let crops = |date: Date| crop_on(plantings, date);
    let setup = Setup {
        soils: &ground.soils,
        rules,
        weather,
        cover,
        crop_on: &crops,
        waterings: &by_day,
        efficiency: &efficiency,
        wetted,
        readings: &readings,
        from,
        today,
        used: &start.shares(draws, seed),
    };
    let run = run(&setup);
    told.start = Some(start);
    told.given_today_mm = run.given_today_mm;
    told.looks = run.looks;
    told.totals = totals(&run.days, now.planted_on);
    told.season = run.days;
    told.weather = weather.days.iter().skip(place.saturating_sub(14)).take(14 + OUTLOOK_D).cloned().collect();
    let falls = hardware.and_then(|hardware| hardware.system).map(|system| system.rate_mm_h() / wetted);
    // Under a hose the hand moves on before water stands.
    told.intake = falls.filter(|_| kind != Kind::Hand).and_then(|falls| intake(snapshot, report, falls));
    let record = snapshot.system_of(bed.id);
    told.salts = record.and_then(|system| {
        let supply = system.body.supply.and_then(|id| snapshot.supply(id)).map(|held| &held.body);
        leaching(&system.body, supply, kind, now.salt_key.as_deref(), under.open())
    });
    let standing = Standing {
        zone: &run.zone,
        soils: &ground.soils,
        rules: &rules,
        weather,
        cover: setup.cover.as_deref(),
        crop_on: &crops,
        hardware,
        efficiency: &efficiency,
        wetted,
        intake: told.intake.map(|intake| intake.terms()).unwrap_or_default(),
        leaching: told.salts.as_ref().map_or(0.0, |salts| salts.used),
        area_m2: bed.body.length_m.get() * bed.body.width_m.get(),
        count: bed.body.count,
        today,
    };
    let Some((advice, outlook, notes)) = advise(&standing) else { return };
    told.notes.extend(notes.into_iter().map(|text| Note::new(NoteKind::NoValue, text)));
    told.working = working(&Numbers {
        et0_mm: median(
            &weather
                .et0_of(place)
                .iter()
                .zip(setup.cover.iter().flatten().chain(std::iter::repeat(&1.0)))
                .map(|(et0, factor)| et0 * factor)
                .collect::<Vec<_>>(),
        ),
        crop: &crop,
        total_mm: median(&run.zone.total_available_mm),
        missing_mm: median(&run.zone.depletion_mm),
        efficiency: median(&efficiency),
        advice: &advice,
    });
    told.outlook = outlook;
    told.advice = Some(advice);
}

fn by_day(told: &mut BedWater, from: Date, today: Date) -> BTreeMap<Date, f64> {
    let mut days = BTreeMap::new();
    let mut unknown = 0;
    for line in told.waterings.iter().filter(|line| from <= line.on && line.on <= today) {
        match line.depth_mm {
            Some(depth) => *days.entry(line.on).or_insert(0.0) += depth,
            None => unknown += 1,
        }
    }
    if unknown > 0 {
        told.notes.push(Note::new(
            NoteKind::NoValue,
            format!(
                "{unknown} watering{} told in minutes could not be counted, since no flow is known: the bed is likely wetter than reckoned.",
                if unknown == 1 { "" } else { "s" }
            ),
        ));
    }
    days
}

fn totals(days: &[SeasonDay], planted_on: Date) -> SeasonTotals {
    let mut totals = SeasonTotals::default();
    for day in days.iter().filter(|day| day.date >= planted_on) {
        totals.rain_mm += day.rain_mm;
        totals.watering_mm += day.watering_mm;
        totals.use_mm += day.use_mm;
        totals.lost_below_mm += day.lost_below_mm;
        totals.short_days += usize::from(day.odds_short > 0.5);
    }
    totals
}

fn seed_of(id: EntryId) -> u64 {
    let mut print = Fingerprint::new();
    print.bytes(id.to_string().as_bytes());
    print.finish()
}

fn median(values: &[f64]) -> f64 {
    Spread::of_equal(&mut values.to_vec()).map_or(0.0, |spread| spread.median)
}
