//! The form of a few days of weather: what was seen, or what is forecast.

use book::Snapshot;
use book::model::weather::{RelativeHumidity, WeatherDay, WeatherTable, WeatherWhat};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, Unit, UnitSystem};
use jiff::ToSpan;
use jiff::civil::Date;

use super::Formed;
use super::normals::upside_down;
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Group, Reader, Row, Table, Width};
use crate::when;

/// Days that the form has room for.
const ROWS: usize = 10;
/// Days that an outlook has as a rule.
const OUTLOOK_DAYS: usize = 7;
/// Fields of a day.
const COLUMNS: usize = 9;

macro_rules! days {
    ($($number:literal),*) => {
        const DAYS: [[Field; COLUMNS]; ROWS] = [$([
            Field::day(concat!("date_", $number), concat!("Day ", $number), "").optional(),
            Field::measure(concat!("tmax_c_", $number), concat!("Day ", $number, ", high"), "", Dimension::Temperature).optional(),
            Field::measure(concat!("tmin_c_", $number), concat!("Day ", $number, ", low"), "", Dimension::Temperature).optional(),
            Field::measure(concat!("rain_mm_", $number), concat!("Day ", $number, ", rain"), "", Dimension::WaterDepth).optional(),
            Field::measure(concat!("rh_max_", $number), concat!("Day ", $number, ", highest humidity"), "", Dimension::Percent).optional(),
            Field::measure(concat!("rh_min_", $number), concat!("Day ", $number, ", lowest humidity"), "", Dimension::Percent).optional(),
            Field::measure(concat!("wind_", $number), concat!("Day ", $number, ", mean wind"), "", Dimension::Speed).optional(),
            Field::measure(concat!("radiation_", $number), concat!("Day ", $number, ", sunlight"), "", Dimension::Irradiation).optional(),
            Field::measure(concat!("sunshine_", $number), concat!("Day ", $number, ", hours of sunshine"), "", Dimension::Duration)
                .in_unit(Unit::Hour).optional(),
        ]),*];
        const NEEDED: Table = Table {
            caption: "High, low and rain of each day",
            corner: "Row",
            columns: &["Date", "High", "Low", "Rain"],
            rows: &[$(Row {
                label: concat!("Day ", $number),
                fields: &[concat!("date_", $number), concat!("tmax_c_", $number), concat!("tmin_c_", $number), concat!("rain_mm_", $number)],
            }),*],
        };
        const FURTHER: Table = Table {
            caption: "Humidity, wind and sun of the same days",
            corner: "Row",
            columns: &["Highest humidity", "Lowest humidity", "Wind", "Sunlight", "Sunshine"],
            rows: &[$(Row {
                label: concat!("Day ", $number),
                fields: &[
                    concat!("rh_max_", $number), concat!("rh_min_", $number), concat!("wind_", $number),
                    concat!("radiation_", $number), concat!("sunshine_", $number),
                ],
            }),*],
        };
    };
}

days!("1", "2", "3", "4", "5", "6", "7", "8", "9", "10");

const REST: [Field; 4] = [
    Field::one_of(
        "what",
        "What it is",
        "A measured day takes the place of a forecast one, and a later entry that of an earlier",
        &[Choice::new("measured", "Measured here or nearby"), Choice::new("forecast", "A forecast")],
    ),
    Field::text("name", "Station or gauge", "For example Farm gauge, or whose forecast it is")
        .width(Width::Middle),
    Field::measure(
        "wind_height",
        "Height of the wind gauge",
        "For example 6 ft or 2 m; it matters where wind is given",
        Dimension::Length,
    )
    .width(Width::Short)
    .optional(),
    Field::lines("note", "Note", "").optional(),
];

const ALL: [Field; ROWS * COLUMNS + REST.len()] = all();

const fn all() -> [Field; ROWS * COLUMNS + REST.len()] {
    let mut fields = [Field::hidden(""); ROWS * COLUMNS + REST.len()];
    let mut at = 0;
    while at < ROWS * COLUMNS {
        fields[at] = DAYS[at / COLUMNS][at % COLUMNS];
        at += 1;
    }
    let mut rest = 0;
    while rest < REST.len() {
        fields[ROWS * COLUMNS + rest] = REST[rest];
        rest += 1;
    }
    fields
}

pub(super) const FIELDS: &[Field] = &ALL;

impl Formed for WeatherTable {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "A few days of weather";
    const LEAD: &'static str = "Up to ten days: what the gauge and the thermometer said, or the outlook for the week. \
                                Rows in which only the date stands are passed over.";
    const GROUPS: &'static [Group] = &[
        Group::of("", "", &["what", "name"]),
        Group::of(
            "Day by day",
            "Fill in what is known. No rain is 0; rain that nobody measured stays empty.",
            &[],
        )
        .table(&NEEDED),
        Group::of("Humidity, wind and sun, if known", "", &["wind_height"]).table(&FURTHER).folded(),
        Group::of("", "", &["note"]),
    ];

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let what = read.choice("what").map(|what| match what {
            "forecast" => WeatherWhat::Forecast,
            _ => WeatherWhat::Measured,
        });
        let name = read.text("name").map(str::to_owned);
        let wind_height_m = read.measure("wind_height");
        let note = read.lines("note");
        let mut days: Vec<(usize, WeatherDay)> = Vec::new();
        for row in 1..=ROWS {
            days.extend(day(read, row, before).map(|day| (row, day)));
        }
        days.sort_by_key(|(_, day)| day.date);
        for pair in days.windows(2) {
            if let [(first, one), (second, other)] = pair
                && one.date == other.date
            {
                read.refuse(
                    Refusal::new(
                        format!("date_{}", first.max(second)),
                        format!("{} stands in two rows", advice::words::day(one.date)),
                    )
                    .given(one.date)
                    .accepted("each day once"),
                );
            }
        }
        if days.is_empty() && !read.is_refused() {
            read.refuse(
                Refusal::new("tmax_c_1", "No day was filled in")
                    .given("nothing")
                    .accepted("at least one day with one value")
                    .example("a date and its rain"),
            );
        }
        Some(Self {
            name: name?,
            what: what?,
            wind_height_m,
            days: days.into_iter().map(|(_, day)| day).collect(),
            columns: Vec::new(),
            date_order: before.map(|table| table.date_order).unwrap_or_default(),
            note,
        })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let form = form
            .with("what", if self.what == WeatherWhat::Forecast { "forecast" } else { "measured" })
            .with("name", &self.name)
            .measure("wind_height", self.wind_height_m, units)
            .with("note", &self.note);
        (1..).zip(&self.days).fold(form, |form, (row, day): (usize, _)| {
            let name = |stem: &str| format!("{stem}_{row}");
            form.with(&name("date"), day.date.to_string())
                .measure(&name("tmax_c"), day.tmax_c, units)
                .measure(&name("tmin_c"), day.tmin_c, units)
                .water(&name("rain_mm"), day.rain_mm, units)
                .measure(&name("rh_max"), day.rh_max_percent, units)
                .measure(&name("rh_min"), day.rh_min_percent, units)
                .measure(&name("wind"), day.wind_m_s, units)
                .measure(&name("radiation"), day.radiation_mj_m2_d, units)
                .measure(&name("sunshine"), day.sunshine_h, units)
        })
    }

    fn prepare(form: Form, _snapshot: &Snapshot, ask: &Ask) -> Form {
        if !ask.body.is_empty() || !form.draw("name").text.is_empty() {
            return form;
        }
        let today = when::day_of(ask.stamp().at);
        let forecast = form.draw("what").text == "forecast";
        let (first, rows) = match forecast {
            true => (today, OUTLOOK_DAYS),
            false => (today.saturating_sub((OUTLOOK_DAYS as i64 - 1).days()), OUTLOOK_DAYS),
        };
        let form = form
            .with("what", if forecast { "forecast" } else { "measured" })
            .with("name", if forecast { "Outlook" } else { "Farm gauge" });
        (0..rows).fold(form, |form, row| {
            form.with(&format!("date_{}", row + 1), first.saturating_add((row as i64).days()).to_string())
        })
    }

    fn home(&self, _snapshot: &Snapshot) -> String {
        "/weather".to_owned()
    }
}

/// Whether the form can show a table whole: typed in, or as short as one.
pub(crate) fn fits_the_form(table: &WeatherTable) -> bool {
    table.columns.is_empty() && table.days.len() <= ROWS
}

/// A row, unless nothing but its date stands in it.
fn day(read: &mut Reader<'_>, row: usize, before: Option<&WeatherTable>) -> Option<WeatherDay> {
    let name = |stem: &str| format!("{stem}_{row}");
    let date: Option<Date> = read.day(&name("date"));
    let tmax_c = read.cell(&name("tmax_c"));
    let tmin_c = read.cell(&name("tmin_c"));
    let rain_mm = read.cell(&name("rain_mm"));
    let rh_max_percent: Option<RelativeHumidity> = read.cell(&name("rh_max"));
    let rh_min_percent: Option<RelativeHumidity> = read.cell(&name("rh_min"));
    let wind_m_s = read.cell(&name("wind"));
    let radiation_mj_m2_d = read.cell(&name("radiation"));
    let sunshine_h = read.cell(&name("sunshine"));
    let given = ["tmax_c", "tmin_c", "rain_mm", "rh_max", "rh_min", "wind", "radiation", "sunshine"]
        .iter()
        .any(|stem| read.text(&name(stem)).is_some());
    if !given {
        return None;
    }
    if read.text(&name("date")).is_none() {
        read.refuse(
            Refusal::new(name("date"), format!("Day {row}: give its date too"))
                .given("nothing")
                .accepted("a day as year-month-day")
                .example("2026-06-14"),
        );
    }
    let date = date?;
    let told = format!("Day {row}, {}", advice::words::day(date));
    if let (Some(high), Some(low)) = (tmax_c, tmin_c) {
        upside_down::<book::model::weather::AirTemperature>(
            read,
            [&name("tmax_c"), &name("tmin_c")],
            &told,
            high,
            low,
        );
    }
    if let (Some(high), Some(low)) = (rh_max_percent, rh_min_percent) {
        upside_down(read, [&name("rh_max"), &name("rh_min")], &told, high, low);
    }
    // What the form has no place for stays as the book holds it.
    let kept = before.and_then(|table| table.days.iter().find(|day| day.date == date));
    Some(WeatherDay {
        date,
        tmax_c,
        tmin_c,
        rain_mm,
        rh_max_percent,
        rh_min_percent,
        rh_mean_percent: kept.and_then(|day| day.rh_mean_percent),
        dew_point_c: kept.and_then(|day| day.dew_point_c),
        wind_m_s,
        radiation_mj_m2_d,
        sunshine_h,
        et0_mm: kept.and_then(|day| day.et0_mm),
    })
}
