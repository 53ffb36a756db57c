//! The water of a bed and of the whole farm.

use axum::http::StatusCode;

use crate::common::Yard;

fn bed(yard: &Yard, name: &str) -> String {
    let snapshot = yard.snapshot();
    let bed = snapshot.beds.iter().find(|bed| bed.body.name == name).expect("the bed");
    format!("/beds/{}/water", bed.id)
}

#[tokio::test]
async fn a_bed_says_what_to_do_today_and_why() {
    let yard = Yard::demo();
    for name in ["Beds 1 to 12", "Beds A to E", "Beds F to K", "Carrot beds", "Herb bed", "Trial bed"] {
        let page = yard.get(&bed(&yard, name)).await;
        assert_eq!(page.status, StatusCode::OK, "{name}");
        for part in ["class=\"call", "The week ahead", "The season", "The working", "backflow", "<svg"] {
            assert!(page.body.contains(part), "{name}: no {part}");
        }
    }
    let asks = yard.get(&bed(&yard, "Trial bed")).await;
    assert!(asks.body.contains("Say how it is watered"));
}

#[tokio::test]
async fn the_twin_has_what_the_page_shows() {
    let yard = Yard::demo();
    let path = bed(&yard, "Beds 1 to 12");
    let (page, twin) = (yard.get(&path).await, yard.get(&format!("/api{path}")).await.json());
    let headline = twin["water"]["headline"].as_str().expect("a headline");
    assert!(page.body.contains(headline), "{headline}");
    assert_eq!(twin["water"]["outlook"].as_array().map(Vec::len), Some(7));
    assert!(twin["water"]["advice"]["odds_due"].is_number());
}

#[tokio::test]
async fn a_watering_is_written_down_at_a_touch() {
    let yard = Yard::demo();
    let path = bed(&yard, "Carrot beds");
    let before = yard.snapshot().waterings.len();
    let kept = yard.post(&path, &[("on", "2026-05-21"), ("minutes", "4 h"), ("volume", "")]).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    assert_eq!(kept.header("location"), format!("{path}?done=kept"));
    assert_eq!(yard.snapshot().waterings.len(), before + 1);
    let page = yard.get(&path).await;
    assert!(page.body.contains("Water given today is counted"), "the page counts it");
    assert!(page.body.contains("No water needed today"));
}

#[tokio::test]
async fn a_watering_that_cannot_be_is_refused_in_words() {
    let yard = Yard::demo();
    let path = bed(&yard, "Carrot beds");
    for (fields, words) in [
        ([("on", "2026-05-21"), ("minutes", ""), ("volume", "")], "give the minutes or the amount"),
        ([("on", "2026-05-21"), ("minutes", "20 min"), ("volume", "90 gal")], "only one of them"),
        ([("on", "2026-05-21"), ("minutes", "long"), ("volume", "")], "long"),
        ([("on", "2031-01-01"), ("minutes", "20 min"), ("volume", "")], "2031"),
    ] {
        let refused = yard.post(&path, &fields).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{fields:?}");
        assert!(refused.body.contains(words), "{fields:?}");
    }
    let gone = yard.get("/beds/018dfe85-3800-7edf-aea2-0a5b2af4ebc0/water").await;
    assert_eq!(gone.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_farm_says_which_beds_want_water_and_what_runs_together() {
    let yard = Yard::demo();
    let page = yard.get("/water").await;
    assert_eq!(page.status, StatusCode::OK);
    for part in ["Water today", "Carrot beds", "Beds A to E", "backflow"] {
        assert!(page.body.contains(part), "no {part}");
    }
    let twin = yard.get("/api/water").await.json();
    assert_eq!(twin["water"]["beds"].as_array().map(Vec::len), Some(6));
    let farm = yard.get("/").await;
    assert!(farm.body.contains("id=\"water-today\"") && farm.body.contains("href=\"/water\""));
    let empty = Yard::empty();
    let page = empty.get("/water").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.body.contains("No beds are written down yet"));
}

#[tokio::test]
async fn a_plot_leads_to_the_water_of_its_beds() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let bed = snapshot.beds.iter().find(|bed| bed.body.name == "Carrot beds").expect("the bed");
    let page = yard.get(&format!("/plots/{}", bed.body.plot)).await;
    assert!(page.body.contains(&format!("/beds/{}/water", bed.id)));
}
