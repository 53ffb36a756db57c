//! What beds need, and the balance of a plot, as pages and as JSON.

use axum::http::StatusCode;

use crate::common::Yard;

#[tokio::test]
async fn the_needs_and_the_balance_of_a_plot_stand_on_one_page() {
    let yard = Yard::demo();
    let plot = yard.snapshot().plot_named("East tunnel").unwrap().id;
    let page = yard.get(&format!("/plots/{plot}/feeding")).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    for part in [
        "Feeding East tunnel",
        "What the beds need",
        "No phosphate:",
        "Phosphate given and taken, year by year",
        "Phosphorus over the years",
        "still rises",
        "before harvest",
        "The working",
    ] {
        assert!(page.body.contains(part), "no {part}: {}", page.body);
    }
    let twin = yard.get(&format!("/api/plots/{plot}/feeding")).await.json();
    assert_eq!(twin["balance"]["tests"].as_array().unwrap().len(), 3);
    assert_eq!(twin["needs"][0]["scheme"], "ufifas_m1");
}

#[tokio::test]
async fn an_empty_plot_says_what_to_do_and_a_lost_one_is_not_found() {
    let yard = Yard::empty();
    yard.post("/plots/new", &[("name", "Field"), ("place", "open_field"), ("area_m2", "300 m2")]).await;
    let plot = yard.snapshot().plot_named("Field").unwrap().id;
    let page = yard.get(&format!("/plots/{plot}/feeding")).await;
    assert_eq!(page.status, StatusCode::OK);
    for part in ["No scheme is chosen", "Nothing grows here", "Nothing is written down yet"] {
        assert!(page.body.contains(part), "no {part}: {}", page.body);
    }
    assert_eq!(yard.get("/plots/no-such-plot/feeding").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn rates_of_a_crop_of_ones_own_are_read_in_the_farms_units_and_refused_in_words() {
    let yard = Yard::empty();
    let odd =
        yard.post("/crops/new", &[("name", "Tunnel tomato"), ("key", "tomato"), ("n_kg_ha", "plenty")]).await;
    assert_eq!(odd.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(odd.body.contains("plenty") && odd.body.contains("is not a rate"), "{}", odd.body);
    let kept = yard
        .post("/crops/new", &[("name", "Tunnel tomato"), ("key", "tomato"), ("n_kg_ha", "100 lb/acre")])
        .await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    let rate = yard.snapshot().crops[0].body.n_kg_ha.unwrap();
    assert!((ground::kit::Bounded::get(rate) - 112.085).abs() < 0.01);
}
