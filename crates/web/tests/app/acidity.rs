//! The page of a plot's acidity and its twin.

use axum::http::StatusCode;

use crate::common::Answer;
use crate::record::Bench;

/// A soil test of sour ground with an SMP buffer, written down as a person would.
async fn sour() -> Bench {
    let bench = Bench::us().await;
    let fields = [
        ("laboratory", "County laboratory"),
        ("what_1", "ph_water"),
        ("value_1", "5.4"),
        ("what_2", "buffer_ph"),
        ("value_2", "6.4"),
        ("unit_2", "none"),
        ("method_2", "smp"),
        ("what_3", "magnesium"),
        ("value_3", "62"),
        ("unit_3", "ppm"),
        ("method_3", "ammonium_acetate"),
    ];
    bench.record("lab-report", &fields).await;
    bench
}

/// Chooses a lime method on the settings page.
async fn choose(bench: &Bench, method: &str) -> Answer {
    let name = bench.yard.snapshot().farm.body.name.clone();
    let fields = [("name", name.as_str()), ("units", "us_customary"), ("lime_method", method)];
    bench.yard.post("/settings", &fields).await
}

#[tokio::test]
async fn no_lime_method_is_followed_until_one_is_chosen() {
    let bench = sour().await;
    let address = format!("/plots/{}/acidity", bench.plot);
    let page = bench.yard.get(&address).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    assert!(page.body.contains("None is followed until you do"), "{}", page.body);
    assert!(page.body.contains("Ontario: SMP buffer") && page.body.contains("<svg"));
    assert!(!page.body.contains("id=\"to-do\""));
    let twin = bench.yard.get(&format!("/api{address}")).await.json();
    assert!(twin["need"].is_null() && twin["standing"] == "too_acid", "{twin}");
    assert_eq!(twin["methods"].as_array().map(Vec::len), Some(11));
}

#[tokio::test]
async fn the_chosen_method_gives_pounds_cautions_and_a_day_to_test_again() {
    let bench = sour().await;
    let refused = choose(&bench, "by-the-moon").await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.body.contains("tri-state-smp"), "{}", refused.body);
    let kept = choose(&bench, "tri-state-smp").await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    let address = format!("/plots/{}/acidity", bench.plot);
    let page = bench.yard.get(&address).await.body;
    for part in ["What to spread", "lb/100 ft²", "Take care", "goggles", "test again", "dolomitic"] {
        assert!(page.contains(part), "no {part}: {page}");
    }
    let twin = bench.yard.get(&format!("/api{address}")).await.json();
    // Tri-State, index 64 to pH 6.5: 4.7 ton in 8 inches of 90 % lime; 3.17 of calcium carbonate in 6 inches.
    let need = twin["need"]["carbonate_kg_m2"]["median"].as_f64().expect("a need");
    assert!((need - 3.17 * 0.224_17).abs() < 0.05 * need, "{need}");
    let deeper = bench.yard.get(&format!("/api{address}?depth=12%20in")).await.json();
    let twice = deeper["need"]["carbonate_kg_m2"]["median"].as_f64().expect("a need");
    assert!((twice - 2.0 * need).abs() < 1e-9);
}

#[tokio::test]
async fn a_depth_that_is_none_is_told_and_kept() {
    let bench = sour().await;
    let page = bench.yard.get(&format!("/plots/{}/acidity?depth=9%20feet", bench.plot)).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.body.contains("value=\"9 feet\"") && page.body.contains("aria-invalid"), "{}", page.body);
    let twin = bench.yard.get(&format!("/api/plots/{}/acidity?depth=9%20feet", bench.plot)).await;
    assert_eq!(twin.status, StatusCode::UNPROCESSABLE_ENTITY);
    let error = &twin.json()["errors"][0];
    assert!(
        error["field"] == "depth" && error["accepted"].is_string() && error["example"].is_string(),
        "{error}"
    );
}

#[tokio::test]
async fn a_plot_without_a_test_is_told_to_have_one() {
    let bench = Bench::us().await;
    let page = bench.yard.get(&format!("/plots/{}/acidity", bench.plot)).await;
    assert!(page.body.contains("Have it measured before you lime"), "{}", page.body);
}
