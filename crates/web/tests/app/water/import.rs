//! A table of daily weather: looked at, asked about, taken in whole or not at all.

use axum::http::StatusCode;
use book::model::UnitSystem;
use ground::kit::Bounded;
use jiff::civil::date;

use crate::common::{Answer, Yard};
use crate::record::{keeps, problems};

const PATH: &str = "/weather/import";
const TABLE: &str = "\
Date,High temp (F),Low temp (F),Rain,Station note
06/01/2026,80,60,0.25,fine
06/02/2026,82,61,0,
06/13/2026,77,M,1.10,storm
";

fn yard() -> Yard {
    Yard::empty_in(UnitSystem::UsCustomary)
}

/// What the page of the columns holds, to be sent back as a browser would.
async fn looked(yard: &Yard, table: &str) -> Answer {
    let page = yard.post(PATH, &[("table", table), ("name", ""), ("look", "1")]).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    assert!(yard.snapshot().weather_tables.is_empty(), "a look stores nothing");
    page
}

fn headings(table: &str) -> String {
    table.lines().next().unwrap_or_default().replace(',', "\t")
}

fn answers<'a>(table: &'a str, headings: &'a str) -> Vec<(&'a str, &'a str)> {
    vec![
        ("table", table),
        ("headings", headings),
        ("name", "Farm station"),
        ("what", "measured"),
        ("date_order", "month_day_year"),
        ("column_0", "date"),
        ("column_1", "tmax_c °F"),
        ("column_2", "tmin_c °F"),
        ("column_3", "rain_mm in"),
        ("column_4", "-"),
        ("take", "1"),
    ]
}

#[tokio::test]
async fn a_table_is_looked_at_and_then_taken_in() {
    let yard = yard();
    let page = looked(&yard, TABLE).await;
    for (name, value) in
        [("column_0", "date"), ("column_1", "tmax_c °F"), ("column_4", "-"), ("date_order", "month_day_year")]
    {
        assert!(keeps(&page.body, name, value), "{name}: {}", page.body);
    }
    // The heading does not say the unit of the rain: that is asked, not guessed.
    assert!(
        page.body.contains("This seems to be the rain; the heading does not say in which unit"),
        "{}",
        page.body
    );
    assert!(page.body.contains("06/13/2026,77,M,1.10,storm"), "the table stays in its field");

    let headings = headings(TABLE);
    let kept = yard.post(PATH, &answers(TABLE, &headings)).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    let held = yard.snapshot().weather_tables[0].clone();
    assert_eq!(kept.header("location"), format!("/weather?taken={}", held.id));
    let first = held.body.days[0];
    // 80 °F = (80 − 32) × 5/9 °C; a quarter of an inch is 6.35 mm.
    assert_eq!(first.date, date(2026, 6, 1));
    assert!((first.tmax_c.unwrap().get() - 80.0 / 3.0).abs() < 1e-9);
    assert_eq!(first.rain_mm.map(Bounded::get), Some(6.35));
    assert_eq!(held.body.days[2].tmin_c, None, "M is a value that is missing");
    let page = yard.get(kept.header("location")).await.body;
    assert!(
        page.contains("3 days were taken in, 1 June 2026 to 13 June 2026; 10 days between them are missing"),
        "{page}"
    );
    assert!(page.contains("Withdraw the whole table"), "{page}");
    // Twice the same is stored once.
    let again = yard.post(PATH, &answers(TABLE, &headings)).await;
    assert_eq!(again.header("location"), format!("/weather?taken={}&known=1", held.id));
    assert_eq!(yard.snapshot().weather_tables.len(), 1);
    // The next table with these headings is read as this one was.
    let next = yard.post(PATH, &[("table", TABLE), ("look", "1")]).await;
    assert!(
        keeps(&next.body, "column_3", "rain_mm in") && next.body.contains("as they were the last time"),
        "{}",
        next.body
    );
    // It came in whole and goes whole.
    let form = yard.get(&format!("/records/{}/correct", held.id)).await;
    assert_eq!(form.status, StatusCode::CONFLICT, "{}", form.body);
    yard.post(&format!("/records/{}/withdraw", held.id), &[("reason", "another station")]).await;
    assert!(yard.snapshot().weather_days().is_empty());
}

#[tokio::test]
async fn wrong_cells_are_listed_by_line_and_everything_stays() {
    let yard = yard();
    let table = TABLE.replace("82,61", "61,82").replace("0.25", "a lot");
    let headings = headings(TABLE);
    let fields = answers(&table, &headings);
    let page = yard.post(PATH, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    for part in ["Line 2", "Line 3", "a lot", "Rain", "High temp (F)"] {
        assert!(page.body.contains(part), "{part}: {}", page.body);
    }
    for (name, text) in fields.iter().filter(|(name, _)| !["take", "table"].contains(name)) {
        assert!(keeps(&page.body, name, text), "{name} = {text} is lost: {}", page.body);
    }
    assert!(page.body.contains("06/13/2026,77,M,1.10,storm"), "the table is lost");
    assert!(yard.snapshot().weather_tables.is_empty());
}

#[tokio::test]
async fn what_is_left_open_or_said_twice_is_asked_again() {
    let yard = yard();
    let headings = headings(TABLE);
    for (name, text, named) in [
        ("column_3", "", "column_3"),
        ("column_3", "rain_mm mph", "column_3"),
        ("column_2", "tmax_c °F", "column_2"),
        ("column_0", "-", "column_0"),
        ("date_order", "", "date_order"),
        ("name", "", "name"),
        ("what", "guessed", "what-0"),
        ("wind_height", "tall", "wind_height"),
    ] {
        let mut fields = answers(TABLE, &headings);
        fields.iter_mut().filter(|(known, _)| *known == name).for_each(|field| field.1 = text);
        if name == "wind_height" {
            fields.push((name, text));
        }
        let page = yard.post(PATH, &fields).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{name} {text}");
        let told = problems(&page);
        assert!(told.contains(&format!("href=\"#field-{named}\"")), "{name} {text}: {told}");
        assert!(page.body.contains("06/13/2026,77,M,1.10,storm"), "the table is lost");
    }
    assert!(yard.snapshot().weather_tables.is_empty());
}

#[tokio::test]
async fn another_table_in_the_field_is_looked_at_anew() {
    let yard = yard();
    let headings = headings(TABLE);
    let mut fields = answers("day,tmax_c\n2026-06-01,20\n", &headings);
    let page = yard.post(PATH, &fields).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    assert!(keeps(&page.body, "column_1", "tmax_c °C"), "{}", page.body);
    for (table, told) in
        [("", "There is no table"), ("   \n", "There is no table"), ("just words", "could not be read")]
    {
        fields[0].1 = table;
        let page = yard.post(PATH, &fields).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{table:?}");
        assert!(problems(&page).contains(told), "{table:?}: {}", problems(&page));
    }
    assert!(yard.snapshot().weather_tables.is_empty());
}

#[tokio::test]
async fn a_file_is_looked_at_and_its_text_stays() {
    let yard = yard();
    let page = yard.post_file(PATH, &[("look", "1")], ("file", "north-gauge.csv", TABLE.as_bytes())).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    assert!(
        keeps(&page.body, "name", "north-gauge") && page.body.contains("06/13/2026,77,M,1.10,storm"),
        "{}",
        page.body
    );
}
