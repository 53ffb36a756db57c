//! The shelf, what to spread and what to buy.

use axum::http::StatusCode;
use book::model::{Material, Pack};

use crate::common::Yard;

/// The plan is made on a thread of its own: asked again until it is there.
async fn ready(yard: &Yard, path: &str) -> serde_json::Value {
    for _ in 0..60 {
        let twin = yard.get(&format!("/api{path}")).await.json();
        if twin["under_way"] != true {
            return twin;
        }
    }
    panic!("the plan never came");
}

#[tokio::test]
async fn an_empty_shelf_asks_for_materials() {
    let yard = Yard::empty();
    let page = yard.get("/spread").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.body.contains("The shelf is empty"), "{}", page.body);
    let shelf = yard.get("/shelf").await;
    assert!(shelf.body.contains("Nothing is on the shelf yet"));
    assert!(shelf.body.contains("/materials/new?key=feather-meal"), "the catalogue is offered");
}

#[tokio::test]
async fn a_material_of_the_catalogue_is_put_on_the_shelf_and_counted() {
    let yard = Yard::empty();
    let form = yard.get("/materials/new?key=feather-meal").await;
    assert!(form.body.contains("value=\"Feather meal\""), "the name is filled in");
    let fields = [
        ("key", "feather-meal"),
        ("name", "Feather meal"),
        ("sold", "bag"),
        ("bag", "50 lb"),
        ("price", "42,50"),
        ("organic", "yes"),
    ];
    let kept = yard.post("/materials/new", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    assert_eq!(kept.header("location"), "/shelf?done=kept");
    let snapshot = yard.snapshot();
    let material = &snapshot.materials[0];
    assert!(matches!(material.body, Material { sold: Some(Pack::BagKg(_)), .. }));
    assert_eq!(material.body.price.map(|price| price.to_string()).as_deref(), Some("42.50"));

    let id = material.id.to_string();
    let stock = [("material", id.as_str()), ("what", "bought"), ("kg", "100 lb"), ("on", "2026-05-01")];
    let kept = yard.post("/stocks/new", &stock).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    let twin = yard.get("/api/shelf").await.json();
    let line = &twin["materials"][0];
    assert!((line["in_hand_kg"].as_f64().expect("a mass") - 45.359).abs() < 0.01, "{line}");
    assert!((line["carries_kg_kg"]["n"].as_f64().expect("nitrogen") - 0.09).abs() < 1e-9, "12 % at 75 %");
}

#[tokio::test]
async fn a_bag_without_weight_and_a_price_that_is_none_are_refused_with_what_was_typed() {
    let yard = Yard::empty();
    let fields = [("name", "Mystery"), ("sold", "bag"), ("price", "forty two")];
    let refused = yard.post("/materials/new", &fields).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.body.contains("needed for the way it is sold"), "{}", refused.body);
    assert!(refused.body.contains("is not a price"));
    assert!(refused.body.contains("forty two"), "what was typed stays");
}

#[tokio::test]
async fn the_demonstration_has_a_plan_and_a_buying_list_that_agree() {
    let yard = Yard::demo();
    let plan = ready(&yard, "/spread").await;
    assert_eq!(plan["outcome"], "planned", "{plan}");
    let beds = plan["beds"].as_array().expect("beds");
    assert!(beds.iter().any(|bed| !bed["lines"].as_array().expect("lines").is_empty()));
    // What is spread on all beds is what the list says is used.
    for line in plan["buy"].as_array().expect("the list") {
        let spread: f64 = beds
            .iter()
            .flat_map(|bed| bed["lines"].as_array().expect("lines"))
            .filter(|on| on["material"] == line["material"])
            .map(|on| on["kg"].as_f64().expect("a mass"))
            .sum();
        assert!((spread - line["used_kg"].as_f64().expect("a mass")).abs() < 1e-6, "{line}");
    }
    let page = yard.get("/buying").await;
    assert!(page.body.contains("In all:"), "{}", page.body);
    assert!(page.body.contains("keep fertilizer away from wells"));
    let spread = yard.get("/spread").await;
    for part in ["Bed by bed", "When and how", "What to know"] {
        assert!(spread.body.contains(part), "no {part}");
    }
}

#[tokio::test]
async fn settings_out_of_range_are_refused_and_others_change_the_plan() {
    let yard = Yard::demo();
    assert_eq!(yard.get("/spread?materials=40").await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(yard.get("/spread?short=-3").await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let plan = ready(&yard, "/spread?materials=2").await;
    for bed in plan["beds"].as_array().expect("beds") {
        let more = plan["conflicts"].as_array().is_some_and(|told| !told.is_empty());
        assert!(bed["lines"].as_array().expect("lines").len() <= 2 || more, "{bed}");
    }
}

#[tokio::test]
async fn stopping_a_plan_leads_back_to_it() {
    let yard = Yard::demo();
    let stopped = yard.post("/spread/stop?back=/buying", &[]).await;
    assert_eq!((stopped.status, stopped.header("location")), (StatusCode::SEE_OTHER, "/buying"));
}
