//! Posts and earthworks: the pages, their twins, and the way from a structure to its post sheet.

use axum::http::StatusCode;

use crate::common::Yard;
use crate::record::Bench;

/// A planned tunnel in the fields of its form, on ground that was felt.
async fn tunnel(bench: &Bench) -> String {
    let plot = bench.plot.to_string();
    let fields = [
        ("name", "North tunnel"),
        ("kind", "high_tunnel"),
        ("plot", plot.as_str()),
        ("planned", "yes"),
        ("length_m", "96 ft"),
        ("width_m", "30 ft"),
        ("wall_m", "4 ft"),
        ("ridge_m", "12 ft"),
        ("bow_spacing_m", "4 ft"),
        ("door_ends", "2"),
        ("covered", "yes"),
        ("set", "driven"),
        ("section", "round"),
        ("width_mm", "2 3/8 in"),
        ("depth_m", "30 in"),
    ];
    let kept = bench.yard.post("/structures/new", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    bench.yard.snapshot().structures[0].id.to_string()
}

#[tokio::test]
async fn a_tunnel_is_written_down_and_its_posts_are_told_with_every_caution() {
    let bench = Bench::us().await;
    let id = tunnel(&bench).await;
    let held = bench.yard.snapshot().structures[0].body.clone();
    assert!(held.planned && held.frame.is_some() && held.post.is_some());
    let page = bench.yard.get(&format!("/structures/{id}/posts")).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    for part in [
        "Planning aid only",
        "Locate buried services before digging or driving",
        "anchoring instructions",
        "licensed engineer",
        "may change what permit a tunnel needs",
        "mph",
        "<svg",
        "name=\"depth_m\"",
        "may be counted on",
    ] {
        assert!(page.body.to_lowercase().contains(&part.to_lowercase()), "no {part}: {}", page.body);
    }
    let twin = bench.yard.get(&format!("/api/structures/{id}/posts")).await.json();
    assert_eq!(twin["lets_go"].as_array().map(Vec::len), Some(3), "{twin}");
    assert_eq!(twin["feet"].as_array().map(Vec::len), Some(4));
    assert!(twin["depths"].as_array().is_some_and(Vec::is_empty), "no wind speed was typed: {twin}");
    // The form of the correction comes back filled.
    let form = bench.yard.get(&format!("/records/{id}/correct")).await.body;
    assert!(form.contains("value=\"2 3/8\"") || form.contains("2 3/8 in"), "{form}");
}

#[tokio::test]
async fn what_if_keeps_what_was_typed_and_refuses_in_words() {
    let bench = Bench::us().await;
    let id = tunnel(&bench).await;
    let here = format!("/structures/{id}/posts");
    let changed = format!(
        "{here}?set=collar&width_mm=2+3/8+in&depth_m=48+in&collar_mm=16+in&wind_m_s=105+mph&exposure=c"
    );
    let twin = bench.yard.get(&format!("/api{changed}")).await.json();
    assert_eq!(twin["post"]["set"], "collar");
    assert!((twin["depth_m"].as_f64().expect("a depth") - 1.2192).abs() < 1e-9);
    assert_eq!(twin["depths"].as_array().map(Vec::len), Some(3), "{twin}");
    assert_eq!(twin["concrete"]["posts"], 50);
    let plain = bench.yard.get(&format!("/api{here}")).await.json();
    let low = |json: &serde_json::Value| {
        json["lets_go"][0]["margins_until_m_s"]["median"].as_f64().expect("a speed")
    };
    assert!(low(&twin) > low(&plain), "a deep collar stands more wind than a driven tube");
    let refused = bench.yard.get(&format!("{here}?depth_m=9+furlongs&set=driven")).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.body.contains("9 furlongs") && refused.body.contains("aria-invalid"), "{}", refused.body);
    let narrow = bench.yard.get(&format!("{here}?set=collar&width_mm=6+in&collar_mm=4+in")).await;
    assert_eq!(narrow.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(narrow.body.contains("collar must go round the post"), "{}", narrow.body);
}

#[tokio::test]
async fn a_post_of_no_structure_and_earthworks_have_pages_of_their_own() {
    let bench = Bench::us().await;
    let fields = [("tilled_to", "9 in"), ("water_at", "20 in"), ("thread", "medium")];
    bench.record("building-ground", &fields).await;
    let here = format!("/plots/{}/posts", bench.plot);
    let page = bench
        .yard
        .get(&format!("{here}?set=tamped&width_mm=4+in&depth_m=3+ft&load_kn=200+lb&above_m=4+ft"))
        .await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    assert!(page.body.contains("200 lb") && page.body.contains("Locate buried services"), "{}", page.body);
    let twin = bench
        .yard
        .get(&format!("/api{here}?set=tamped&width_mm=4+in&depth_m=3+ft&load_kn=200+lb&above_m=4+ft"))
        .await
        .json();
    assert_eq!(twin["ground"]["top_given"], true);
    assert_eq!(twin["ground"]["below_water"], 1.0);
    let earth = format!("/plots/{}/earthworks", bench.plot);
    let page = bench.yard.get(&format!("{earth}?trench_depth=6+ft")).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    for part in ["Never enter an unsupported trench", "Locate buried services", "yd³", "blanket"] {
        assert!(page.body.contains(part), "no {part}: {}", page.body);
    }
    let twin = bench.yard.get(&format!("/api{earth}?trench_depth=6+ft")).await.json();
    assert_eq!(twin["trench"]["protection_required"], true);
    let refused = bench.yard.get(&format!("{earth}?pond_depth=deep")).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn the_planned_tunnel_of_the_demonstration_has_a_sheet_and_its_jobs() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let tunnel = snapshot.structures.iter().find(|held| held.body.planned).expect("one is planned");
    let sheet = yard.get(&format!("/structures/{}/posts.pdf", tunnel.id)).await;
    assert_eq!(sheet.status, StatusCode::OK);
    assert_eq!(sheet.header("content-type"), "application/pdf");
    let plan = yard.get("/api/work").await.body;
    assert!(plan.contains(&format!("posts.locate.{}", tunnel.id)) && plan.contains("concrete mix"), "{plan}");
    let shed =
        snapshot.structures.iter().find(|held| held.body.plot.is_none()).expect("one stands on no plot");
    let refused = yard.get(&format!("/structures/{}/posts", shed.id)).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.body.contains("choose its plot first"), "{}", refused.body);
}
