//! Everything there is to say about the water of one bed, or of the equal beds of one record.

use book::model::{Bed, EntryId, Plot, WateringAmount, WateringDone};
use book::{Held, Snapshot};
use ground::climate::crops::CropStage;
use ground::kit::{Bounded, Note, Working};
use jiff::civil::Date;
use serde::Serialize;

use super::CAUTIONS;
use super::advise::{Advice, OutlookDay};
use super::growth::{Growth, growth};
use super::hardware::Hardware;
use super::intake::Intake;
use super::looks::Look;
use super::place::{Wanted, WantedKind};
use super::reckon::reckon;
use super::salts::SaltAdvice;
use super::season::{SeasonDay, Start};
use super::tell;
use super::weather::{DayWeather, FarmWeather};
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
                format!(
                    "The planting of {} cannot be reckoned with: {}.",
                    crate::words::day(held.body.planted_on),
                    refusal.message
                ),
            )),
            Err(_) => {}
        }
    }
    all
}

fn waterings(
    snapshot: &Snapshot,
    bed: &Held<Bed>,
    hardware: Option<&Hardware>,
    today: Date,
) -> Vec<WateringLine> {
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
