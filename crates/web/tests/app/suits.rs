//! What suits where, as pages and as JSON.

use axum::http::StatusCode;

use crate::common::Yard;
use crate::record::Bench;

#[tokio::test]
async fn crops_stand_against_plots_and_can_be_narrowed() {
    let yard = Yard::demo();
    let page = yard.get("/suits").await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    for part in ["What suits where", "grown here", "suits with work", "common practice and our judgement"] {
        assert!(page.body.contains(part), "no {part}");
    }
    let twin = yard.get("/api/suits").await.json();
    let plots = twin["plots"].as_array().unwrap().len();
    assert_eq!(plots, yard.snapshot().plots.len());
    let rows = twin["rows"].as_array().unwrap();
    assert!(rows.len() > 60 && rows[0]["grown"] == true);
    for row in rows {
        assert_eq!(row["cells"].as_array().unwrap().len(), plots);
    }
    let grown = yard.get("/api/suits?show=grown").await.json();
    assert!(grown["rows"].as_array().unwrap().iter().all(|row| row["grown"] == true));
    assert!(grown["rows"].as_array().unwrap().len() < rows.len());
    let plot = yard.snapshot().plot_named("Sand knoll").unwrap().id;
    let one = yard.get(&format!("/api/suits?plot={plot}")).await.json();
    assert_eq!(one["plots"][0]["name"], "Sand knoll");
    assert!(one["rows"].as_array().unwrap().iter().all(|row| row["cells"].as_array().unwrap().len() == 1));
    // What cannot be narrowed by is said, and the table is still there.
    let odd = yard.get("/suits?show=sometimes&plot=nowhere").await;
    assert!(odd.body.contains("that is not one of the answers") && odd.body.contains("no such plot"));
}

#[tokio::test]
async fn the_best_place_tells_reasons_and_what_it_would_take() {
    let yard = Yard::demo();
    let page = yard.get("/suits/carrot").await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    for part in
        ["The best place for carrot", "What it asks for", "Against it:", "What it would take:", "/acidity"]
    {
        assert!(page.body.contains(part), "no {part}: {}", page.body);
    }
    let twin = yard.get("/api/suits/carrot").await.json();
    let odds: Vec<f64> = twin["places"]
        .as_array()
        .unwrap()
        .iter()
        .map(|place| place["odds_each"][0].as_f64().unwrap())
        .collect();
    assert!(odds.len() > 5 && odds.windows(2).all(|pair| pair[0] >= pair[1]), "{odds:?}");
    // By the name people use, and not by one that is none.
    assert_eq!(yard.get("/suits/Sweet%20corn").await.status, StatusCode::OK);
    let none = yard.get("/suits/moonwort").await;
    assert_eq!(none.status, StatusCode::NOT_FOUND);
    assert!(none.body.contains("no crop is called"), "{}", none.body);
}

#[tokio::test]
async fn a_soil_test_moves_the_verdict_of_a_plot() {
    let bench = Bench::us().await;
    let address = format!("/plots/{}/suits", bench.plot);
    let before = bench.yard.get(&address).await;
    assert_eq!(before.status, StatusCode::OK, "{}", before.body);
    assert!(
        before.body.contains("What is not known here") && before.body.contains("The pH was never tested")
    );
    let fields = [("laboratory", "County laboratory"), ("what_1", "ph_water"), ("value_1", "4.6")];
    bench.record("lab-report", &fields).await;
    let after = bench.yard.get(&format!("/api{address}")).await.json();
    let beet = after["crops"].as_array().unwrap().iter().find(|crop| crop["crop"] == "beet").unwrap();
    assert_eq!(beet["verdict"], "with_work");
    assert_eq!(beet["speaks_against"][0]["limit"], "acidity");
    assert!(beet["measures"][0]["text"].as_str().unwrap().contains("Lime from pH 4.6"), "{beet}");
    assert!(!after["cautions"].as_array().unwrap().is_empty());
}
