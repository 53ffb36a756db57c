//! Everything there is to say about the water of one bed, or of the equal beds of one record.

use std::collections::BTreeMap;

use book::model::{Bed, EntryId, Plot, WateringAmount, WateringDone};
use book::{Held, Snapshot};
use ground::climate::crops::CropStage;
use ground::irrigation::balance::Rules;
use ground::irrigation::hardware::Kind;
use ground::kit::chance::Fingerprint;
use ground::kit::{Bounded, Note, NoteKind, Spread, Working};
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use super::advise::{Advice, OutlookDay, Standing, advise};
use super::draws::{drawn, stream};
use super::growth::{Growth, crop_on, growth};
use super::hardware::Hardware;
use super::intake::{Intake, intake};
use super::looks::{Look, Reading};
use super::place::{Under, Wanted, WantedKind};
use super::salts::{SaltAdvice, leaching};
use super::season::{SeasonDay, Setup, Start, cover_factors, run};
use super::tell;
use super::weather::{DayWeather, FarmWeather};
use super::working::{Numbers, working};
use super::{CAUTIONS, DRAWS, LEAD_D};
use crate::plot_report::PlotReport;

/// What grows in a bed now.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CropNow {
    /// The planting.
    pub planting: EntryId,
    /// What it is called.
    pub name: String,
    /// Day it was planted.
    pub planted_on: Date,
    /// Days since then; the day itself is day 1.
    pub day_number: i32,
    /// Its stage.
    pub stage: CropStage,
    /// The stage in words.
    pub stage_words: &'static str,
    /// How the lengths of its stages are known.
    pub stages_words: String,
    /// Day its stages end.
    pub ends_on: Date,
    /// Crop coefficient of today.
    pub kc: f64,
    /// Depth of its roots, cm.
    pub root_depth_cm: f64,
    /// Share of the ground it covers, or that mulch keeps from drying, 0 to 1.
    pub cover_fraction: f64,
}

/// A watering that was given.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WateringLine {
    /// The record.
    pub id: EntryId,
    /// The day.
    pub on: Date,
    /// As it was written: "45 min".
    pub given: String,
    /// Depth over the bed, mm; absent where the flow is not known.
    pub depth_mm: Option<f64>,
}

/// Sums since planting; medians, mm over the bed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
pub struct SeasonTotals {
    /// Rain.
    pub rain_mm: f64,
    /// Water put on.
    pub watering_mm: f64,
    /// What crop and ground used.
    pub use_mm: f64,
    /// What was lost below.
    pub lost_below_mm: f64,
    /// Days on which the crop more likely than not went short.
    pub short_days: usize,
}

/// The water of a bed.
#[derive(Debug, Clone, Serialize)]
pub struct BedWater {
    /// The bed.
    pub bed: EntryId,
    /// Its name.
    pub bed_name: String,
    /// Its plot.
    pub plot: EntryId,
    /// The plot's name.
    pub plot_name: String,
    /// Equal beds of the record.
    pub count: u16,
    /// The day this is told for.
    pub today: Date,
    /// How it is watered, in words.
    pub system: Option<&'static str>,
    /// The water supply, where one is named.
    pub supply: Option<EntryId>,
    /// What grows in it.
    pub crop: Option<CropNow>,
    /// What to do, in a line.
    pub headline: String,
    /// The same with what goes with it, sentence by sentence.
    pub lines: Vec<String>,
    /// Why, with numbers.
    pub why: Vec<String>,
    /// The advice in numbers; absent while something is wanted.
    pub advice: Option<Advice>,
    /// How the season went, up to yesterday.
    pub season: Vec<SeasonDay>,
    /// How the ground was taken to be on the first of these days.
    pub start: Option<Start>,
    /// Moisture readings and what they did.
    pub looks: Vec<Look>,
    /// The week ahead without water.
    pub outlook: Vec<OutlookDay>,
    /// Waterings since the season began, latest first.
    pub waterings: Vec<WateringLine>,
    /// Water recorded as given today, mm over the bed.
    pub given_today_mm: f64,
    /// Sums since planting.
    pub totals: SeasonTotals,
    /// Weather in the open over the last fortnight and the week ahead.
    pub weather: Vec<DayWeather>,
    /// How the ground takes the water.
    pub intake: Option<Intake>,
    /// What the water's salts ask for.
    pub salts: Option<SaltAdvice>,
    /// What has to be entered to say more.
    pub wanted: Vec<Wanted>,
    /// Remarks.
    pub notes: Vec<Note>,
    /// Cautions.
    pub cautions: &'static [&'static str],
    /// The numbers behind today's advice.
    pub working: Working,
}

/// The water of a bed on a day; `None` when the book has no such bed, or no such plot.
#[must_use]
pub fn bed_water(
    snapshot: &Snapshot,
    bed: EntryId,
    report: &PlotReport,
    weather: &FarmWeather,
    today: Date,
) -> Option<BedWater> {
    let held = snapshot.bed(bed)?;
    let plot = snapshot.plot(held.body.plot)?;
    let mut told = blank(held, plot, today);
    told.wanted.extend(weather.wanted.iter().cloned());
    let hardware = hardware_of(snapshot, held, &mut told);
    told.waterings = waterings(snapshot, held, hardware.as_ref(), today);
    let plantings = plantings(snapshot, held, today, &mut told);
    if !report.make_up_known {
        told.wanted.push(Wanted::new(
            WantedKind::Ground,
            "Nothing is known of this plot's ground: how much it holds is open as wide as soils differ. A feel test takes twenty minutes.",
        ));
    }
    if let Some(now) = plantings.iter().rfind(|growth| stands(growth, today)) {
        reckon(snapshot, held, plot, report, weather, hardware.as_ref(), &plantings, now, &mut told);
    } else if !told.wanted.iter().any(|wanted| wanted.kind == WantedKind::Crop) {
        told.wanted.push(nothing_grows(snapshot, bed, today));
    }
    tell::tell(&mut told, snapshot.farm.body.units, held.body.area_m2() / f64::from(held.body.count.max(1)));
    Some(told)
}

fn blank(bed: &Held<Bed>, plot: &Held<Plot>, today: Date) -> BedWater {
    BedWater {
        bed: bed.id,
        bed_name: bed.body.name.clone(),
        plot: plot.id,
        plot_name: plot.body.name.clone(),
        count: bed.body.count,
        today,
        system: None,
        supply: None,
        crop: None,
        headline: String::new(),
        lines: Vec::new(),
        why: Vec::new(),
        advice: None,
        season: Vec::new(),
        start: None,
        looks: Vec::new(),
        outlook: Vec::new(),
        waterings: Vec::new(),
        given_today_mm: 0.0,
        totals: SeasonTotals::default(),
        weather: Vec::new(),
        intake: None,
        salts: None,
        wanted: Vec::new(),
        notes: Vec::new(),
        cautions: CAUTIONS,
        working: Working::new(),
    }
}

fn stands(growth: &Growth, today: Date) -> bool {
    growth.planted_on <= today && (!growth.ended || today <= growth.ends_on)
}

fn nothing_grows(snapshot: &Snapshot, bed: EntryId, today: Date) -> Wanted {
    let plantings = snapshot.plantings_of(bed);
    let text = match (plantings.iter().find(|held| held.body.planted_on > today), plantings.last()) {
        (Some(next), _) => format!(
            "Nothing grows here until {}, when the next planting is written down; water is told from that day on.",
            crate::words::day(next.body.planted_on)
        ),
        (None, Some(last)) => format!(
            "The last planting ended on {}. Write down the next one to be told when it needs water.",
            crate::words::day(last.body.ended_on.unwrap_or(last.body.planted_on))
        ),
        (None, None) => "Write down what grows in this bed and since when: it decides how much it drinks, how deep it roots and how dry it may get.".to_owned(),
    };
    Wanted::new(WantedKind::Planting, text)
}

fn hardware_of(snapshot: &Snapshot, bed: &Held<Bed>, told: &mut BedWater) -> Option<Hardware> {
    let Some(system) = snapshot.system_of(bed.id) else {
        told.wanted.push(Wanted::new(
            WantedKind::System,
            "Write down how this bed is watered: minutes can then be told.",
        ));
        return None;
    };
    let supply = system.body.supply.and_then(|id| snapshot.supply(id));
    let hardware = Hardware::of(&bed.body, &system.body, supply.map(|held| &held.body));
    told.system = Some(hardware.words);
    told.supply = supply.map(|held| held.id);
    told.wanted.extend(hardware.wanted.iter().cloned());
    Some(hardware)
}

/// Plantings near the season, earliest first. One that cannot be worked out is told and left out.
fn plantings(snapshot: &Snapshot, bed: &Held<Bed>, today: Date, told: &mut BedWater) -> Vec<Growth> {
    let latitude = snapshot.farm.body.latitude_degrees.map_or(45.0, Bounded::get);
    let mut all = Vec::new();
    for held in snapshot.plantings_of(bed.id) {
        if held.body.planted_on > today {
            continue;
        }
        match growth(snapshot, held.id, &held.body, latitude) {
            Ok(growth) => all.push(growth),
            Err(refusal) if held.body.stood_on(today) => told.wanted.push(Wanted::new(
                WantedKind::Crop,
                format!("The planting of {} cannot be reckoned with: {}.", crate::words::day(held.body.planted_on), refusal.message),
            )),
            Err(_) => {}
        }
    }
    all
}

fn waterings(snapshot: &Snapshot, bed: &Held<Bed>, hardware: Option<&Hardware>, today: Date) -> Vec<WateringLine> {
    let units = snapshot.farm.body.units;
    let line = |held: &Held<WateringDone>| WateringLine {
        id: held.id,
        on: held.body.on,
        given: match held.body.amount {
            WateringAmount::Minutes(minutes) => format!("{} min", crate::words::short(minutes.get())),
            WateringAmount::DepthMm(depth) => crate::words::water(depth.get(), units),
            WateringAmount::VolumeL(volume) => tell::volume(volume.get(), units),
        },
        depth_mm: match (&held.body.amount, hardware) {
            (_, Some(hardware)) => hardware.depth_mm(&bed.body, &held.body),
            (WateringAmount::DepthMm(depth), None) => Some(depth.get()),
            (WateringAmount::VolumeL(volume), None) => Some(volume.get() / bed.body.area_m2()),
            (WateringAmount::Minutes(_), None) => None,
        },
    };
    let mut lines: Vec<WateringLine> =
        snapshot.waterings_of(bed.id).into_iter().filter(|held| held.body.on <= today).map(line).collect();
    lines.reverse();
    lines
}

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

#[expect(clippy::too_many_arguments, reason = "the records of one bed, each once")]
fn reckon(
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
    let start = if under.open() && weather.usually_wet_before(from) == Some(true) { Start::Moist } else { Start::Unknown };
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
    told.weather = weather.days.iter().skip(place.saturating_sub(14)).take(14 + super::advise::OUTLOOK_D).cloned().collect();
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
        et0_mm: median(&weather.et0_of(place).iter().zip(setup.cover.iter().flatten().chain(std::iter::repeat(&1.0))).map(|(et0, factor)| et0 * factor).collect::<Vec<_>>()),
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
