//! The usual weather, a few days typed in, and what the page of the weather says of them.

use axum::http::StatusCode;
use book::model::UnitSystem;
use book::model::weather::WeatherWhat;
use ground::kit::Bounded;
use jiff::civil::date;

use crate::common::Yard;
use crate::record::{keeps, problems};

/// Twelve rows as a person types them, in °F and inches.
fn months() -> Vec<(String, String)> {
    let mut fields = Vec::new();
    for month in 1..=12_u8 {
        let warm = 40 + 5 * (6 - (i32::from(month) - 7).abs());
        fields.push((format!("tmax_c_{month}"), warm.to_string()));
        fields.push((format!("tmin_c_{month}"), (warm - 20).to_string()));
        fields.push((format!("rain_mm_{month}"), "3.27".to_owned()));
    }
    fields
}

async fn post(yard: &Yard, path: &str, fields: &[(String, String)]) -> crate::common::Answer {
    let fields: Vec<(&str, &str)> =
        fields.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    yard.post(path, &fields).await
}

fn set(fields: &mut Vec<(String, String)>, name: &str, text: &str) {
    fields.retain(|(known, _)| known != name);
    fields.push((name.to_owned(), text.to_owned()));
}

#[tokio::test]
async fn the_usual_weather_is_kept_to_the_last_digit() {
    let yard = Yard::empty_in(UnitSystem::UsCustomary);
    let mut fields = months();
    set(&mut fields, "tmax_c_7", "27 C");
    set(&mut fields, "rain_mm_7", "81 mm");
    set(&mut fields, "rain_days_7", "9");
    set(&mut fields, "humidity_7", "65");
    set(&mut fields, "wind_7", "5 mph");
    set(&mut fields, "radiation_7", "500 Ly/d");
    set(&mut fields, "sunshine_7", "9.5");
    set(&mut fields, "source", "County station, 1991 to 2020");
    let kept = post(&yard, "/weather/normals/new", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    assert_eq!(kept.header("location"), "/weather?done=kept");
    let held = yard.snapshot().normals().expect("the usual weather").clone();
    let july = held.body.months[6];
    assert_eq!((july.tmax_c.get(), july.rain_mm.get()), (27.0, 81.0));
    assert_eq!(july.rain_days.map(Bounded::get), Some(9.0));
    // The international mile of 1609.344 m; the langley of 41.84 kJ/m².
    assert!((july.wind_m_s.unwrap().get() - 5.0 * 1609.344 / 3600.0).abs() < 1e-9);
    assert!((july.radiation_mj_m2_d.unwrap().get() - 20.92).abs() < 1e-9);
    assert_eq!(july.sunshine_h.map(Bounded::get), Some(9.5));
    assert!((held.body.months[0].rain_mm.get() - 3.27 * 25.4).abs() < 1e-9);

    let page = yard.get("/weather").await.body;
    assert!(page.contains("County station, 1991 to 2020") && page.contains("3.27 in"), "{page}");
    // Saved again as it is shown, nothing changes.
    let path = format!("/records/{}/correct", held.id);
    let form = yard.get(&path).await.body;
    assert!(keeps(&form, "rain_mm_1", "3.27") && keeps(&form, "rain_mm_7", "81 mm"), "{form}");
    let shown: Vec<(String, String)> = field_texts(&form);
    let mut again = shown;
    set(&mut again, "source", "County station");
    set(&mut again, "reason", "years left out");
    let kept = post(&yard, &path, &again).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    assert_eq!(yard.snapshot().normals().unwrap().body.months, held.body.months);
}

/// Names and texts of the text inputs of a page.
fn field_texts(page: &str) -> Vec<(String, String)> {
    let part = |element: &str, name: &str| {
        let rest = element.split(&format!(" {name}=\"")).nth(1)?;
        Some(rest.split('"').next()?.to_owned())
    };
    page.split("<input ")
        .skip(1)
        .map(|rest| format!(" {}", rest.split('>').next().unwrap_or_default()))
        .filter_map(|element| Some((part(&element, "name")?, part(&element, "value")?)))
        .collect()
}

#[tokio::test]
async fn a_month_that_is_wrong_is_told_by_its_row() {
    let yard = Yard::empty_in(UnitSystem::UsCustomary);
    for (name, text, told) in [
        ("tmin_c_3", "75", "March: the high, 50, is below the low, 75"),
        ("tmax_c_3", "", "March: give its mean high, its mean low and its rain"),
        ("humidity_5", "140", "May, mean humidity: relative humidity must be 0 to 100 %"),
        ("rain_mm_5", "lots", "May, rain:"),
        ("tmax_c_2", "500", "February, mean high:"),
        ("rain_days_2", "40", "February, days with rain:"),
        ("wind_height", "-3", "below zero"),
    ] {
        let mut fields = months();
        set(&mut fields, name, text);
        let answer = post(&yard, "/weather/normals/new", &fields).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        let said = problems(&answer);
        assert!(said.contains(told), "{name}: {said}");
        for (name, text) in fields.iter().filter(|(_, text)| !text.is_empty()) {
            assert!(keeps(&answer.body, name, text), "{name} = {text} is lost");
        }
        let place = said.split("href=\"#").nth(1).and_then(|rest| rest.split('"').next()).expect("a link");
        assert!(answer.body.contains(&format!("id=\"{place}\"")), "{place}");
    }
    assert!(yard.snapshot().weather_normals.is_empty());
    // An empty form asks once for each month.
    let answer = yard.post("/weather/normals/new", &[("source", "")]).await;
    assert_eq!(problems(&answer).matches("give its mean high").count(), 12, "{}", problems(&answer));
}

#[tokio::test]
async fn a_few_days_are_typed_in_any_order_and_corrected() {
    let yard = Yard::empty_in(UnitSystem::UsCustomary);
    let form = yard.get("/weather/days/new").await.body;
    // The last seven days stand there already; the clock says 21 May 2026.
    assert!(keeps(&form, "date_1", "2026-05-15") && keeps(&form, "date_7", "2026-05-21"), "{form}");
    let fields = [
        ("what", "measured"),
        ("name", "Farm gauge"),
        ("date_1", "2026-05-20"),
        ("tmax_c_1", "78"),
        ("tmin_c_1", "55"),
        ("rain_mm_1", "0"),
        ("date_2", "2026-05-18"),
        ("rain_mm_2", "0.25"),
        ("date_3", "2026-05-19"),
    ];
    let kept = yard.post("/weather/days/new", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    let held = yard.snapshot().weather_tables[0].clone();
    let days: Vec<_> = held.body.days.iter().map(|day| day.date).collect();
    assert_eq!(days, [date(2026, 5, 18), date(2026, 5, 20)], "a row with a date alone is passed over");
    assert_eq!(held.body.days[0].rain_mm.map(Bounded::get), Some(6.35));
    let page = yard.get("/weather").await.body;
    assert!(page.contains("1 missing between them: 19 May 2026"), "{page}");
    assert!(page.contains("55 °F to 78 °F, no rain") && page.contains("rain 0.25 in"), "{page}");

    let path = format!("/records/{}/correct", held.id);
    let form = yard.get(&path).await.body;
    assert!(keeps(&form, "rain_mm_1", "0.25") && keeps(&form, "tmax_c_2", "78"), "{form}");
    let mut again = field_texts(&form);
    again.retain(|(name, _)| name != "what");
    set(&mut again, "what", "measured");
    set(&mut again, "rain_mm_2", "0.1");
    set(&mut again, "reason", "the gauge leaked");
    let kept = post(&yard, &path, &again).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    let history = yard.get(&format!("/records/{}/history", held.id)).await.body;
    assert!(history.contains("20 May 2026") && history.contains("rain 0.1 in"), "{history}");

    // Withdrawn, it no longer counts, and can be brought back from the same page.
    let gone = yard
        .post(&format!("/records/{}/withdraw", held.id), &[("reason", "wrong year"), ("from_number", "2")])
        .await;
    assert_eq!(gone.header("location"), "/weather?done=withdrawn");
    let page = yard.get("/weather").await.body;
    assert!(page.contains("No measured day is in the book yet") && page.contains("/restore"), "{page}");
}

#[tokio::test]
async fn the_outlook_is_typed_in_and_a_measured_day_takes_its_place() {
    let yard = Yard::empty();
    let form = yard.get("/weather/days/new?what=forecast").await.body;
    assert!(keeps(&form, "date_1", "2026-05-21") && keeps(&form, "date_7", "2026-05-27"), "{form}");
    assert!(keeps(&form, "what", "forecast") && keeps(&form, "name", "Outlook"));
    for (what, high) in [("forecast", "30"), ("measured", "24")] {
        let fields = [
            ("what", what),
            ("name", "Outlook"),
            ("date_1", "2026-05-22"),
            ("tmax_c_1", high),
            ("tmin_c_1", "12"),
        ];
        let kept = yard.post("/weather/days/new", &fields).await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
        let on = yard.snapshot().weather_days()[&date(2026, 5, 22)].clone();
        assert_eq!(on.day.tmax_c.map(Bounded::get), high.parse().ok());
        assert_eq!(on.forecast, what == "forecast");
    }
    assert_eq!(yard.snapshot().weather_tables[0].body.what, WeatherWhat::Forecast);
}

#[tokio::test]
async fn a_day_that_is_wrong_is_told_by_its_row() {
    let yard = Yard::empty();
    let base = [
        ("what", "measured"),
        ("name", "Gauge"),
        ("date_2", "2026-05-18"),
        ("tmax_c_2", "20"),
        ("tmin_c_2", "9"),
    ];
    for (more, named, told) in [
        (vec![("tmin_c_2", "25")], "tmax_c_2", "Day 2, 18 May 2026: the high, 20, is below the low, 25"),
        (
            vec![("rh_max_2", "140")],
            "rh_max_2",
            "Day 2, highest humidity: relative humidity must be 0 to 100 %",
        ),
        (vec![("rh_max_2", "40 %"), ("rh_min_2", "60")], "rh_max_2", "the high, 40 %, is below the low, 60"),
        (vec![("date_3", "2026-05-18"), ("rain_mm_3", "4")], "date_3", "18 May 2026 stands in two rows"),
        (vec![("rain_mm_4", "4")], "date_4", "Day 4: give its date too"),
        (vec![("date_4", "18/05/2026"), ("rain_mm_4", "4")], "date_4", "is not a day"),
        (vec![("rain_mm_2", "-1")], "rain_mm_2", "Day 2, rain:"),
        (vec![("name", "")], "name", "Station or gauge"),
    ] {
        let mut fields = base.to_vec();
        for (name, text) in more {
            fields.retain(|(known, _)| *known != name);
            fields.push((name, text));
        }
        let answer = yard.post("/weather/days/new", &fields).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{told}");
        let said = problems(&answer);
        assert!(said.contains(&format!("href=\"#field-{named}\"")) && said.contains(told), "{told}: {said}");
        for (name, text) in fields.iter().filter(|(_, text)| !text.is_empty()) {
            assert!(keeps(&answer.body, name, text), "{name} = {text} is lost");
        }
    }
    let none = yard.post("/weather/days/new", &[("what", "measured"), ("name", "Gauge")]).await;
    assert!(problems(&none).contains("No day was filled in"), "{}", problems(&none));
    assert!(yard.snapshot().weather_tables.is_empty());
}
