//! Weather tables: read, proposed, refused, and put together day by day.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common;

use crate::common::{farm, stamp};
use book::model::weather::{DateOrder, WeatherColumn, WeatherTable, WeatherUnit, WeatherWhat};
use book::{
    Book, BookError, Gap, ImportedWeather, RowRefusal, WeatherImport, propose_weather_columns,
    read_normals_csv,
};
use ground::kit::Bounded;
use jiff::civil::date;
use proptest::prelude::*;

fn new_book() -> (tempfile::TempDir, Book) {
    let folder = tempfile::tempdir().unwrap();
    let book = Book::create(folder.path().join("t.farmbook"), farm(), &stamp(0, "Ada")).unwrap();
    (folder, book)
}

/// As proposed, under that name.
fn proposed(book: &Book, text: &str, name: &str, what: WeatherWhat) -> WeatherImport {
    let proposal = propose_weather_columns(text, &book.snapshot().unwrap().weather_tables).unwrap();
    WeatherImport {
        name: name.to_owned(),
        what,
        wind_height_m: None,
        columns: proposal.columns,
        date_order: proposal.date_order.unwrap_or_default(),
        note: String::new(),
    }
}

fn import(book: &mut Book, text: &str, name: &str, what: WeatherWhat) -> book::Result<ImportedWeather> {
    let import = proposed(book, text, name, what);
    book.import_weather_csv(text, &import, &stamp(9, "Ada"))
}

fn wrong(book: &mut Book, text: &str) -> Vec<RowRefusal> {
    let mark = book.change_mark().unwrap();
    match import(book, text, "Gauge", WeatherWhat::Measured) {
        Err(BookError::Rows(rows)) => {
            assert_eq!(book.change_mark().unwrap(), mark, "nothing is half stored");
            rows
        }
        other => panic!("{other:?}"),
    }
}

/// The plain format, as the page on it shows it.
#[test]
fn the_plain_format_comes_in_whole() {
    let (_folder, mut book) = new_book();
    let text = "date,tmax_c,tmin_c,rain_mm,rh_max_percent,rh_min_percent,wind_m_s,radiation_mj_m2_d\n\
                2026-06-14,27.5,14.1,0,93,41,1.8,24.6\n\
                2026-06-15,24,13.9,8.2,97,,2.4,\n\
                2026-06-18,22,11,T,,,M,-999\n";
    let imported = import(&mut book, text, "Farm gauge", WeatherWhat::Measured).unwrap();
    assert_eq!(imported.read.gaps, [Gap { from: date(2026, 6, 16), to: date(2026, 6, 17) }]);
    let days = book.snapshot().unwrap().weather_days();
    assert_eq!(days.len(), 3);
    let first = &days[&date(2026, 6, 14)];
    assert_eq!(first.day.tmax_c.unwrap().get(), 27.5);
    assert_eq!((first.tables.as_slice(), first.forecast), ([imported.id].as_slice(), false));
    let last = &days[&date(2026, 6, 18)].day;
    assert_eq!((last.rain_mm.unwrap().get(), last.wind_m_s, last.radiation_mj_m2_d), (0.0, None, None));
    // Read a second time, it stands in the book once.
    assert!(import(&mut book, text, "Farm gauge", WeatherWhat::Measured).unwrap().known_already);
    assert_eq!(book.snapshot().unwrap().weather_tables.len(), 1);
    // Withdrawn, the import is undone as a whole.
    book.withdraw(imported.id, 1, "wrong station", &stamp(10, "Ada")).unwrap();
    assert!(book.snapshot().unwrap().weather_days().is_empty());
}

/// 86 °F is 30 °C, an inch 25.4 mm, 10 mph 4.4704 m/s, 500 langleys 20.92 MJ/m² (NIST SP 811, recalled).
#[test]
fn any_station_through_its_headings() {
    let (_folder, mut book) = new_book();
    let text = "# Station 12\nStation;Date;Max Temp (°F);Min Temp (°F);Precip (in);Wind speed (mph);Wind gust (mph);Solar (Ly/day)\n\
                12;06/13/2026;86,0;50;1,00;10;30;500\n12;06/01/2026;86;50;0;10;30;500\n";
    let imported = import(&mut book, text, "Co-op station", WeatherWhat::Measured).unwrap();
    assert_eq!(imported.read.passed_over, ["Station", "Wind gust (mph)"]);
    let table = imported.read.table;
    assert_eq!(table.date_order, DateOrder::MonthDayYear);
    assert_eq!(table.days[0].date, date(2026, 6, 1), "days are put in order");
    let day = table.days[1];
    assert_eq!((day.tmax_c.unwrap().get(), day.tmin_c.unwrap().get()), (30.0, 10.0));
    assert_eq!(day.rain_mm.unwrap().get(), 25.4);
    assert_eq!((day.wind_m_s.unwrap().get(), day.radiation_mj_m2_d.unwrap().get()), (4.4704, 20.92));
}

#[test]
fn what_was_said_once_is_proposed_again() {
    let (_folder, mut book) = new_book();
    let text = "Day,Hi,Lo,Wet\n03/04/2026,70,50,0.5\n";
    let mut proposal = propose_weather_columns(text, &[]).unwrap();
    assert_eq!(proposal.date_order, None, "day and month could be either way round");
    proposal.set("Hi", Some(WeatherColumn::TMax), Some(WeatherUnit::Fahrenheit)).unwrap();
    proposal.set("Lo", Some(WeatherColumn::TMin), Some(WeatherUnit::Fahrenheit)).unwrap();
    proposal.set("Wet", Some(WeatherColumn::Rain), Some(WeatherUnit::Inch)).unwrap();
    assert_eq!(
        proposal.set("Wet", Some(WeatherColumn::Rain), Some(WeatherUnit::Percent)).unwrap_err().field,
        "map"
    );
    assert!(proposal.set("Dry", None, None).unwrap_err().accepted.contains("Wet"));
    let told = WeatherImport {
        columns: proposal.columns,
        date_order: DateOrder::DayMonthYear,
        ..proposed(&book, text, "Gauge", WeatherWhat::Measured)
    };
    let first = book.import_weather_csv(text, &told, &stamp(1, "Ada")).unwrap();
    assert_eq!(first.read.table.days[0].date, date(2026, 4, 3));
    let next = "Day,Hi,Lo,Wet\n04/04/2026,68,41,0\n";
    let again = propose_weather_columns(next, &book.snapshot().unwrap().weather_tables).unwrap();
    assert_eq!(again.as_before, Some(first.id));
    assert_eq!((again.columns, again.date_order), (told.columns, Some(DateOrder::DayMonthYear)));
    // The dates themselves have the last word.
    let proven = "Day,Hi,Lo,Wet\n04/14/2026,68,41,0\n";
    let proven = propose_weather_columns(proven, &book.snapshot().unwrap().weather_tables).unwrap();
    assert_eq!(proven.date_order, Some(DateOrder::MonthDayYear));
}

#[test]
fn every_wrong_cell_is_named_and_nothing_is_stored() {
    let (_folder, mut book) = new_book();
    let text = "date,High (C),Low (C),rain_mm,RH max\n2026-06-14,12,15,0,60\n2026-06-15,20,ten,-3,140\n\
                2026-06-31,20,10,0,60\n2026-06-14,20,10,0,60\n,20,10,0,60\n2026-06-16,20,10,1,60,5,6,7\n";
    let told: Vec<(u64, String)> =
        wrong(&mut book, text).into_iter().map(|row| (row.line, row.refusal.field)).collect();
    let at = |line, field: &str| (line, field.to_owned());
    assert_eq!(
        told,
        [
            at(2, "High (C)"),
            at(3, "Low (C)"),
            at(3, "rain_mm"),
            at(3, "RH max"),
            at(4, "date"),
            at(5, "date"),
            at(6, "date"),
        ]
    );
    for (text, field, part) in [
        ("date,Max temp\n2026-06-14,20\n", "Max temp", "unit"),
        ("date,rain\n2026-06-14,2\n", "rain", "unit"),
        ("tmax_c\n20\n", "date", "date"),
        ("date,colour\n2026-06-14,red\n", "", "weather"),
        ("date,rain_mm\n2026-06-14,M\n", "", "value"),
        ("date,rain_mm\n04/05/2026,1\n", "date", "say which"),
        ("date,RH\n2026-06-14,0.61\n2026-06-15,0.9\n", "RH", "share"),
        ("date,tmax_c,dew_point_c\n2026-06-14,10,15\n", "dew_point_c", "dew point"),
    ] {
        let rows = wrong(&mut book, text);
        assert_eq!(rows[0].refusal.field, field, "{text}: {rows:?}");
        assert!(rows[0].refusal.message.contains(part), "{text}: {}", rows[0]);
    }
    assert!(propose_weather_columns("", &[]).is_err());
}

#[test]
fn measured_beats_forecast_and_later_beats_earlier() {
    let (_folder, mut book) = new_book();
    let head = "date,tmax_c,tmin_c,rain_mm\n";
    let mut add = |rows: &str, what| {
        let name = format!("{rows:?}");
        import(&mut book, &format!("{head}{rows}"), &name, what).unwrap().id
    };
    let first = add("2026-06-14,20,10,1\n", WeatherWhat::Measured);
    let gauge = add("2026-06-14,,,3\n", WeatherWhat::Measured);
    let forecast = add("2026-06-14,30,20,9\n2026-06-15,31,21,0\n", WeatherWhat::Forecast);
    let half = add("2026-06-15,,12,\n", WeatherWhat::Measured);
    let days = book.snapshot().unwrap().weather_days();
    let day = &days[&date(2026, 6, 14)];
    assert_eq!((day.day.tmax_c.unwrap().get(), day.day.rain_mm.unwrap().get()), (20.0, 3.0));
    assert_eq!((day.tables.as_slice(), day.forecast), ([gauge, first].as_slice(), false));
    let day = &days[&date(2026, 6, 15)];
    // The lowest temperature was measured elsewhere; a forecast high is not mixed with it.
    assert_eq!((day.day.tmax_c, day.day.tmin_c.unwrap().get()), (None, 12.0));
    assert_eq!(day.day.rain_mm.unwrap().get(), 0.0);
    assert_eq!((day.tables.as_slice(), day.forecast), ([half, forecast].as_slice(), true));
}

#[test]
fn usual_weather_from_twelve_rows() {
    let rows: String =
        (1..=12).map(|month| format!("{month},{},{},2.5,9\n", 40 + month, 20 + month)).collect();
    let text = format!("month,tmax (F),tmin (F),rain (in),rain days\n{rows}");
    let normals = read_normals_csv(&text, "County station 1991 to 2020", None).unwrap();
    assert_eq!(normals.months[9].tmax_c.get(), 10.0);
    assert_eq!(normals.months[0].rain_mm.get(), 63.5);
    assert_eq!(normals.months[0].rain_days.unwrap().get(), 9.0);
    for (text, field) in [
        (text.replace("\n7,", "\n6,"), "month"),
        (text.replace("\n7,", "\nJuly,"), ""),
        (text.replace("tmax (F)", "tmax"), "tmax"),
        (text.replace("rain days", "snow"), "snow"),
        (text.replace("\n7,47,27", "\n7,47,"), "tmin_c"),
        (text.replace("\n7,47,27", "\n7,47,57"), "months[6].tmax_c"),
        (text.lines().take(12).collect::<Vec<_>>().join("\n"), "month"),
    ] {
        match read_normals_csv(&text, "", None) {
            Ok(normals) => assert!(field.is_empty() && normals.months[6].tmax_c.get() > 8.0, "{text}"),
            Err(rows) => assert_eq!(rows[0].refusal.field, field, "{text}: {rows:?}"),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]

    /// Any text, under any headings: days or refusals, never a panic, never a table that its own check refuses.
    #[test]
    fn hostile_text_never_panics(
        text in "([ -~\n\r;,\t\"é\u{0}]{0,30}|[0-9.,eE+-]{0,9}|nan|-999|T|2026-06-1[0-9]|1[0-9]/06/2026|[,;\n]){0,14}",
        heading in prop::sample::select(vec![
            "", "date,tmax_c,tmin_c,rain_mm,rh_mean_percent\n2026-06-14,",
            "Date;Max temp (F);Rain (in);Wind (mph)\n06/14/2026;",
        ]),
    ) {
        let text = format!("{heading}{text}");
        if let Ok(proposal) = propose_weather_columns(&text, &[]) {
            let import = WeatherImport {
                name: "Gauge".into(), what: WeatherWhat::Measured, wind_height_m: None, note: String::new(),
                columns: proposal.columns, date_order: proposal.date_order.unwrap_or_default(),
            };
            match book::read_weather_csv(&text, &import) {
                Ok(read) => prop_assert!(!read.table.days.is_empty()),
                Err(refusals) => prop_assert!(!refusals.is_empty()),
            }
        }
        let _ = read_normals_csv(&text, "", None);
    }

    /// A table written out in the plain format reads back as the same days.
    #[test]
    fn the_plain_format_loses_nothing(table in common::water::any_weather_table()) {
        let names: Vec<&str> = WeatherColumn::ALL.iter().map(|column| column.name()).collect();
        let mut text = names.join(",");
        for day in &table.days {
            text.push_str(&format!("\n{}", day.date));
            for column in &WeatherColumn::ALL[1..] {
                text.push_str(&column.of(day).map_or(",".to_owned(), |value| format!(",{value}")));
            }
        }
        // Humidities of no more than one in a hundred are taken for shares, and asked about.
        let few = |column: WeatherColumn| {
            let most = table.days.iter().filter_map(|day| column.of(day)).fold(0.0, f64::max);
            most > 0.0 && most <= 1.0
        };
        prop_assume!(!few(WeatherColumn::RhMax) && !few(WeatherColumn::RhMean) && !few(WeatherColumn::RhMin));
        let proposal = propose_weather_columns(&text, &[]).unwrap();
        let import = WeatherImport {
            name: "Gauge".into(), what: WeatherWhat::Measured, wind_height_m: None, note: String::new(),
            columns: proposal.columns, date_order: proposal.date_order.unwrap(),
        };
        let read = book::read_weather_csv(&text, &import).unwrap().table;
        let rounded = |table: &WeatherTable| -> Vec<_> {
            let digits = |value: f64| format!("{value:.8}");
            table.days.iter().flat_map(|day| WeatherColumn::ALL.iter().map(move |c| c.of(day).map(digits))).collect()
        };
        prop_assert_eq!(rounded(&read), rounded(&table));
    }
}
