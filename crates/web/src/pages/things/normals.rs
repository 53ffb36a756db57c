//! The form of the usual weather: a row a month.

use book::Snapshot;
use book::model::{MonthNormals, WeatherNormals, month_name};
use ground::kit::units::{Dimension, Unit, UnitSystem};
use ground::kit::{Bounded, Refusal};

use super::Formed;
use crate::form::{Field, Form, Group, Reader, Row, Table, Width};

/// Fields of a month: those that are needed, then the others.
const COLUMNS: usize = 8;

macro_rules! months {
    ($($number:literal $name:literal),*) => {
        const MONTHS: [[Field; COLUMNS]; 12] = [$([
            Field::measure(concat!("tmax_c_", $number), concat!($name, ", mean high"), "", Dimension::Temperature).optional(),
            Field::measure(concat!("tmin_c_", $number), concat!($name, ", mean low"), "", Dimension::Temperature).optional(),
            Field::measure(concat!("rain_mm_", $number), concat!($name, ", rain"), "", Dimension::WaterDepth).optional(),
            Field::measure(concat!("rain_days_", $number), concat!($name, ", days with rain"), "", Dimension::Duration)
                .in_unit(Unit::Day).optional(),
            Field::measure(concat!("humidity_", $number), concat!($name, ", mean humidity"), "", Dimension::Percent).optional(),
            Field::measure(concat!("wind_", $number), concat!($name, ", mean wind"), "", Dimension::Speed).optional(),
            Field::measure(concat!("radiation_", $number), concat!($name, ", sunlight"), "", Dimension::Irradiation).optional(),
            Field::measure(concat!("sunshine_", $number), concat!($name, ", hours of sunshine a day"), "", Dimension::Duration)
                .in_unit(Unit::Hour).optional(),
        ]),*];
        const NEEDED: Table = Table {
            caption: "Highs, lows and rain of each month",
            corner: "Month",
            columns: &["High", "Low", "Rain", "Days with rain"],
            rows: &[$(Row {
                label: $name,
                fields: &[concat!("tmax_c_", $number), concat!("tmin_c_", $number), concat!("rain_mm_", $number), concat!("rain_days_", $number)],
            }),*],
        };
        const FURTHER: Table = Table {
            caption: "Humidity, wind and sun of each month",
            corner: "Month",
            columns: &["Humidity", "Wind", "Sunlight", "Sunshine a day"],
            rows: &[$(Row {
                label: $name,
                fields: &[concat!("humidity_", $number), concat!("wind_", $number), concat!("radiation_", $number), concat!("sunshine_", $number)],
            }),*],
        };
    };
}

months!(
    "1" "January", "2" "February", "3" "March", "4" "April", "5" "May", "6" "June", "7" "July", "8" "August",
    "9" "September", "10" "October", "11" "November", "12" "December"
);

const REST: [Field; 2] = [
    Field::text(
        "source",
        "Where the figures come from",
        "Station and years, for example County station, 1991 to 2020",
    )
    .optional(),
    Field::measure(
        "wind_height",
        "Height of the wind gauge",
        "For example 33 ft or 10 m; it matters where wind is given",
        Dimension::Length,
    )
    .width(Width::Short)
    .optional(),
];

const ALL: [Field; 12 * COLUMNS + REST.len()] = all();

const fn all() -> [Field; 12 * COLUMNS + REST.len()] {
    let mut fields = [Field::hidden(""); 12 * COLUMNS + REST.len()];
    let mut month = 0;
    while month < 12 {
        let mut column = 0;
        while column < COLUMNS {
            fields[month * COLUMNS + column] = MONTHS[month][column];
            column += 1;
        }
        month += 1;
    }
    fields[12 * COLUMNS] = REST[0];
    fields[12 * COLUMNS + 1] = REST[1];
    fields
}

pub(super) const FIELDS: &[Field] = &ALL;

impl Formed for WeatherNormals {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "The usual weather";
    const LEAD: &'static str = "Twelve rows from a climate table: the mean high and low of each month and its rain. It \
                                stands in wherever no day was measured, and tells what a dry and a wet spell may be.";
    const GROUPS: &'static [Group] = &[
        Group::of("", "", &["source"]),
        Group::of(
            "Month by month",
            "Rain is that of the whole month. A value may carry its own unit, as in 24 C or 80 mm.",
            &[],
        )
        .table(&NEEDED),
        Group::of(
            "Humidity, wind and sun, if the table has them",
            "Without them they are worked out from the temperatures, which is less sure. Sunlight or sunshine, not both, is enough.",
            &["wind_height"],
        )
        .table(&FURTHER)
        .folded(),
    ];

    fn read(read: &mut Reader<'_>, _before: Option<&Self>) -> Option<Self> {
        let source = read.lines("source");
        let wind_height_m = read.measure("wind_height");
        let mut months = Vec::with_capacity(12);
        for number in 1..=12_i8 {
            months.extend(month(read, number));
        }
        let months: [MonthNormals; 12] = months.try_into().ok()?;
        Some(Self { source, wind_height_m, months: Box::new(months) })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let form = form.with("source", &self.source).measure("wind_height", self.wind_height_m, units);
        (1..).zip(self.months.iter()).fold(form, |form, (number, month): (u8, _)| {
            let name = |stem: &str| format!("{stem}_{number}");
            form.measure(&name("tmax_c"), Some(month.tmax_c), units)
                .measure(&name("tmin_c"), Some(month.tmin_c), units)
                .water(&name("rain_mm"), Some(month.rain_mm), units)
                .measure(&name("rain_days"), month.rain_days, units)
                .measure(&name("humidity"), month.rh_mean_percent, units)
                .measure(&name("wind"), month.wind_m_s, units)
                .measure(&name("radiation"), month.radiation_mj_m2_d, units)
                .measure(&name("sunshine"), month.sunshine_h, units)
        })
    }

    fn home(&self, _snapshot: &Snapshot) -> String {
        "/weather".to_owned()
    }
}

fn month(read: &mut Reader<'_>, number: i8) -> Option<MonthNormals> {
    let name = |stem: &str| format!("{stem}_{number}");
    let month = month_name(number);
    let needed = ["tmax_c", "tmin_c", "rain_mm"].map(name);
    let tmax_c = read.cell(&needed[0]);
    let tmin_c = read.cell(&needed[1]);
    let rain_mm = read.cell(&needed[2]);
    let rain_days = read.cell(&name("rain_days"));
    let rh_mean_percent = read.cell(&name("humidity"));
    let wind_m_s = read.cell(&name("wind"));
    let radiation_mj_m2_d = read.cell(&name("radiation"));
    let sunshine_h = read.cell(&name("sunshine"));
    // One sentence a month, at the first cell that is empty.
    if let Some(open) = needed.iter().find(|name| read.text(name).is_none()) {
        read.refuse(
            Refusal::new(open, format!("{month}: give its mean high, its mean low and its rain"))
                .given("nothing")
                .accepted("a temperature for the high and the low, and a depth for the rain")
                .example("75, 55, 3.5"),
        );
    }
    if let (Some(high), Some(low)) = (tmax_c, tmin_c) {
        upside_down(read, [&needed[0], &needed[1]], month, high, low);
    }
    Some(MonthNormals {
        tmax_c: tmax_c?,
        tmin_c: tmin_c?,
        rain_mm: rain_mm?,
        rain_days,
        rh_mean_percent,
        wind_m_s,
        radiation_mj_m2_d,
        sunshine_h,
    })
}

/// Refuses a high below the low of the same row.
pub(super) fn upside_down<Q: Bounded>(
    read: &mut Reader<'_>,
    [high_field, low_field]: [&str; 2],
    row: &str,
    high: Q,
    low: Q,
) {
    if high.get() >= low.get() {
        return;
    }
    let typed = |name: &str, read: &mut Reader<'_>| read.text(name).unwrap_or_default().to_owned();
    let (high, low) = (typed(high_field, read), typed(low_field, read));
    read.refuse(
        Refusal::new(high_field, format!("{row}: the high, {high}, is below the low, {low}"))
            .given(high)
            .accepted("a high that is not below the low of the same row"),
    );
}
