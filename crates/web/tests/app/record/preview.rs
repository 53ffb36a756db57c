//! The live look: how each measure was understood, the picture and the odds, nothing stored.

use axum::http::{Method, StatusCode};
use serde_json::Value;

use super::Bench;
use crate::common::Yard;

async fn look(bench: &Bench, kind: &str, fields: &[(&str, &str)]) -> Value {
    let answer = bench.yard.post(&format!("/api{}/preview", bench.form(kind)), fields).await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.body);
    answer.json()
}

#[tokio::test]
async fn the_jar_is_drawn_as_its_numbers_are_typed() {
    let bench = Bench::us().await;
    let nothing = look(&bench, "jar", &[("read_as", "thicknesses")]).await;
    assert_eq!(nothing["html"], "");
    assert_eq!(nothing["problems"], serde_json::json!({}), "what is not filled in yet is no problem");
    let one = look(&bench, "jar", &[("read_as", "thicknesses"), ("sand", "2 3/16")]).await;
    assert_eq!(one["echoes"]["sand"], "2 3/16 in = 55.6 mm");
    assert!(one["html"].as_str().is_some_and(|html| html.contains("<svg") && html.contains("Sand")));
    let more = look(&bench, "jar", &[("sand", "2 3/16"), ("silt", "11/16 to 13/16"), ("clay", "two")]).await;
    assert_eq!(more["echoes"]["silt"], "11/16 in to 13/16 in = 17.5 mm to 20.6 mm");
    assert!(
        more["problems"]["clay"].as_str().is_some_and(|told| told.contains("does not begin with a number")),
        "{more}"
    );
    let odds: f64 =
        more["look"]["odds"].as_array().expect("odds").iter().filter_map(|one| one["share"].as_f64()).sum();
    assert!(odds > 0.5 && odds <= 1.0 + 1e-9);
    let wrong =
        look(&bench, "jar", &[("sand", "2"), ("silt", "1"), ("clay", "1"), ("water_height", "3")]).await;
    assert!(wrong["problems"]["water_height"].is_string(), "{wrong}");
    assert_eq!(bench.count(), (0, 0));
}

/// The odds of the look are those of the method of the handbook.
#[tokio::test]
async fn the_look_says_what_the_method_says() {
    let bench = Bench::metric().await;
    let seen = look(
        &bench,
        "laboratory",
        &[
            ("sand_percent", "44"),
            ("silt_percent", "38"),
            ("clay_percent", "18"),
            ("silt_limit", "63 um"),
            ("procedure", "pipette"),
        ],
    )
    .await;
    let method = ground::registry::find("lab-texture").expect("a method");
    let answer = method
        .answer(&serde_json::json!({"sand_percent": 44.0, "silt_percent": 38.0, "clay_percent": 18.0, "silt_limit": "63 um", "procedure": "pipette"}))
        .expect("an answer");
    let first = &answer["class_odds"][0];
    assert_eq!(seen["look"]["odds"][0]["name"], first["class"]);
    let share = 100.0 * seen["look"]["odds"][0]["share"].as_f64().expect("a share");
    assert!((share - first["odds_percent"].as_f64().expect("odds")).abs() < 1e-9);
}

#[tokio::test]
async fn a_jar_about_to_be_shaken_is_told_its_times() {
    let bench = Bench::us().await;
    let told = look(&bench, "timed-jar", &[("water_height", "7 1/4"), ("soil_height", "1 1/2")]).await;
    assert!(
        told["html"].as_str().is_some_and(|html| html.contains("The top of the sand will be due after")),
        "{told}"
    );
}

#[tokio::test]
async fn a_look_from_a_page_elsewhere_is_refused_like_any_other_post() {
    let yard = Yard::demo();
    let plot = yard.snapshot().plots[0].id;
    let headers = [("origin", "http://example.org"), ("content-type", "application/x-www-form-urlencoded")];
    let answer =
        yard.send(Method::POST, &format!("/api/plots/{plot}/record/jar/preview"), &headers, Vec::new()).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
}
