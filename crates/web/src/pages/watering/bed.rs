//! The water of one bed.

use advice::watering::{BedWater, DaySource, Wanted, WantedKind, weekday};
use advice::words;
use askama::Template;
use book::model::{Bed, EntryId, WateringAmount, WateringDone};
use book::{Held, Snapshot};
use figures::Figure;
use ground::kit::units::{Dimension, UnitSystem};
use ground::kit::{NoteKind, Refusal};
use serde::Serialize;

use super::pictures;
use crate::ask::Ask;
use crate::form::{Field, Form};
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::when;

pub(super) const FIELDS: &[Field] = &[
    Field::day("on", "Day", ""),
    Field::measure("minutes", "How long it ran", "For example 45 min or 1 h 30 min", Dimension::Duration)
        .optional(),
    Field::measure(
        "volume",
        "Or the water given to all its beds together",
        "From a meter, or cans counted",
        Dimension::BulkVolume,
    )
    .optional(),
];

/// Waterings that are shown at once.
const SHOWN: usize = 5;

#[derive(Template, Serialize)]
#[template(path = "watering/bed.html")]
struct BedPage {
    #[serde(skip)]
    shell: Shell,
    water: BedWater,
    wanted: Vec<WantedLine>,
    #[serde(skip)]
    crop: String,
    #[serde(skip)]
    season: [Figure; 2],
    #[serde(skip)]
    outlook: Figure,
    #[serde(skip)]
    totals: Vec<(&'static str, String)>,
    #[serde(skip)]
    start: &'static str,
    #[serde(skip)]
    waterings: Vec<WateringRow>,
    #[serde(skip)]
    earlier: usize,
    #[serde(skip)]
    looks: Vec<LookRow>,
    #[serde(skip)]
    weather: Vec<WeatherRow>,
    #[serde(skip)]
    notes: Vec<String>,
    #[serde(skip)]
    form: Form,
}

/// Something to enter, with where.
#[derive(Serialize)]
struct WantedLine {
    #[serde(flatten)]
    wanted: Wanted,
    action: &'static str,
    to: String,
}

struct WateringRow {
    id: EntryId,
    on: String,
    given: String,
    depth: String,
}

struct LookRow {
    id: EntryId,
    on: String,
    label: String,
    sentence: String,
    surprising: bool,
    notes: Vec<String>,
}

struct WeatherRow {
    day: String,
    today: bool,
    et0: String,
    rain: String,
    source: &'static str,
    marks: String,
}

fn bed_of<'a>(ask: &Ask, snapshot: &'a Snapshot) -> Result<&'a Held<Bed>, Problem> {
    snapshot.bed(ask.entry("bed")?).ok_or_else(|| {
        Problem::not_found(
            "This book has no such bed. It may have been withdrawn, or belong to another book.",
        )
    })
}

fn page(ask: &Ask, form: Form) -> Result<BedPage, Problem> {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let bed = bed_of(ask, &snapshot)?;
    let today = when::day_of(ask.stamp().at);
    let told = desk
        .bed_water(&snapshot, bed.id, today)
        .ok_or_else(|| Problem::not_found("The water of this bed could not be worked out."))?;
    let units = ask.units();
    let shell = ask.shell(Section::Farm, format!("Water of {}", bed.body.name));
    let mut notes: Vec<String> = Vec::new();
    for note in &told.notes {
        let text =
            if note.kind == NoteKind::Safety { format!("Caution: {}", note.text) } else { note.text.clone() };
        if !notes.contains(&text) {
            notes.push(text);
        }
    }
    Ok(BedPage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        wanted: told.wanted.iter().map(|wanted| wanted_line(wanted, &told)).collect(),
        crop: told.crop.as_ref().map(|crop| described(crop, units)).unwrap_or_default(),
        season: pictures::season(&told, units),
        outlook: pictures::outlook(&told, units),
        totals: totals(&told, units),
        start: told.start.map_or("", |start| start.words()),
        waterings: told
            .waterings
            .iter()
            .take(SHOWN)
            .map(|line| WateringRow {
                id: line.id,
                on: weekday(line.on),
                given: line.given.clone(),
                depth: line.depth_mm.map_or_else(
                    || "not counted: no flow is known".to_owned(),
                    |depth| format!("{} over the bed", words::water(depth, units)),
                ),
            })
            .collect(),
        earlier: told.waterings.len().saturating_sub(SHOWN),
        looks: told.looks.iter().rev().map(look_row).collect(),
        weather: weather(&told, units),
        notes,
        form: filled(form, &told, ask),
        water: BedWater::clone(&told),
    })
}

/// The form with today, and the minutes that are advised or were given last.
fn filled(form: Form, told: &BedWater, ask: &Ask) -> Form {
    if !ask.body.is_empty() || !form.draw("on").text.is_empty() {
        return form;
    }
    let advised = told
        .advice
        .as_ref()
        .and_then(|advice| advice.run.as_ref()?.set_min)
        .filter(|minutes| *minutes >= 1.0);
    let form = form.with("on", told.today.to_string());
    // Plain minutes: the unit stands behind the field.
    form.with("minutes", advised.map(|minutes| format!("{minutes:.0}")).unwrap_or_default())
}

pub(super) fn show(ask: &Ask) -> Outcome {
    Shown::page(page(ask, ask.form(FIELDS))?)
}

pub(super) fn save(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let bed = bed_of(ask, &snapshot)?.id;
    let mut read = ask.reader(FIELDS);
    let on = read.day_gone("on");
    let given = ["minutes", "volume"].map(|name| read.text(name).is_some());
    let minutes = read.measure("minutes").map(WateringAmount::Minutes);
    let volume = read.measure("volume").map(WateringAmount::VolumeL);
    if given[0] == given[1] {
        let (field, message, said) = if given[0] {
            ("volume", "How much: give the minutes or the amount of water, and only one of them", "both")
        } else {
            ("minutes", "How much: give the minutes or the amount of water", "nothing")
        };
        read.refuse(
            Refusal::new(field, message)
                .given(said)
                .accepted("one of the minutes and the amount")
                .example("45 min"),
        );
    }
    let again = page(ask, Form::default())?;
    let refused = |form: Form| BedPage { shell: again.shell.clone().refused(), form, ..again };
    let (Some(on), Some(amount), false) = (on, minutes.or(volume), read.is_refused()) else {
        return Err(read.refused(refused));
    };
    let watering = WateringDone { bed, on, amount, note: String::new() };
    let result = ask.write(|book, stamp| book.record(watering, stamp))?;
    let kept = read.kept(result, refused)?;
    Shown::kept(format!("/beds/{bed}/water?done=kept"), kept)
}

fn described(crop: &advice::watering::CropNow, units: UnitSystem) -> String {
    format!(
        "{}, planted {}, day {}: {}, roots to {}",
        crate::problem::capital(&crop.name),
        words::day(crop.planted_on),
        crop.day_number,
        crop.stage_words,
        words::depth(crop.root_depth_cm, units)
    )
}

fn wanted_line(wanted: &Wanted, told: &BedWater) -> WantedLine {
    let bed = told.bed;
    let (action, to) = match wanted.kind {
        WantedKind::Latitude => ("Enter it in the settings", "/settings".to_owned()),
        WantedKind::Weather => ("Enter weather", "/weather".to_owned()),
        WantedKind::Normals => ("Enter the usual weather", "/weather".to_owned()),
        WantedKind::Planting => ("Write down a planting", format!("/plantings/new?bed={bed}")),
        WantedKind::Crop => ("Look at the plantings", format!("/plots/{}#beds", told.plot)),
        WantedKind::System => ("Say how it is watered", format!("/watering-systems/new?bed={bed}")),
        WantedKind::Flow => match told.supply {
            Some(supply) => ("Enter the flow", format!("/records/{supply}/correct")),
            None => ("Say how it is watered", format!("/watering-systems/new?bed={bed}")),
        },
        WantedKind::Ground => ("Record something", format!("/plots/{}/record", told.plot)),
    };
    WantedLine { wanted: wanted.clone(), action, to }
}

fn totals(told: &BedWater, units: UnitSystem) -> Vec<(&'static str, String)> {
    if told.season.is_empty() {
        return Vec::new();
    }
    let totals = &told.totals;
    let water = |mm: f64| words::water(mm.max(0.0), units);
    vec![
        ("Used by crop and ground", water(totals.use_mm)),
        ("Rain", water(totals.rain_mm)),
        ("Watering", water(totals.watering_mm)),
        ("Lost below", water(totals.lost_below_mm)),
        ("Days short of water", totals.short_days.to_string()),
    ]
}

fn look_row(look: &advice::watering::Look) -> LookRow {
    LookRow {
        id: look.id,
        on: weekday(look.date),
        label: look.label.clone(),
        sentence: look.sentence.clone(),
        surprising: look.surprising,
        notes: look.notes.iter().map(|note| note.text.clone()).collect(),
    }
}

fn weather(told: &BedWater, units: UnitSystem) -> Vec<WeatherRow> {
    told.weather
        .iter()
        .map(|day| {
            let known = matches!(day.source, DaySource::Measured | DaySource::Filled);
            let range = |spread: ground::kit::Spread| {
                if known && spread.high - spread.low < 0.05 {
                    words::water(spread.median, units)
                } else {
                    format!(
                        "{} ({} to {})",
                        words::water(spread.median, units),
                        words::water(spread.low, units),
                        words::water(spread.high, units)
                    )
                }
            };
            WeatherRow {
                day: weekday(day.date),
                today: day.date == told.today,
                et0: words::water(day.et0_mm.median, units),
                rain: if known || day.rain_odds > 0.0 { range(day.rain_mm) } else { "none".to_owned() },
                source: day.source.words(),
                marks: day.marks.join("; "),
            }
        })
        .collect()
}
