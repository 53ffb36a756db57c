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

/// A program that asks one field otherwise gets the recorded post with that field changed, as the command line does.
#[tokio::test]
async fn a_query_of_one_field_keeps_the_rest_as_it_is_written_down() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let held = snapshot.structures.iter().find(|held| held.body.planned).expect("one is planned");
    let plot = held.body.plot.expect("it stands on a plot");
    let options = advice::Options { weigh_measurements: false, ..advice::Options::default() };
    let report = advice::plot_report(&snapshot, plot, &options).expect("its ground");
    let mut wanted = advice::posts::PostAsk::of_structure(&snapshot, held).expect("its posts");
    wanted.post.depth_m = Some(ground::kit::Bounded::literal(1.8288));
    let wanted = advice::posts::posts(&snapshot, &report, &wanted).expect("they are told");
    let here = format!("/api/structures/{}/posts", held.id);
    let told = yard.get(&format!("{here}?depth_m=6+ft")).await.json();
    for part in ["post", "wind_m_s", "exposure_given", "frost", "rust", "collar_m", "post_given"] {
        let whole = serde_json::to_value(&wanted).expect("JSON");
        assert_eq!(told[part], whole[part], "{part}");
    }
    assert!(told["wind_m_s"].is_number(), "the farm's own: {told}");
    // Sent empty, it is not known.
    let calm = yard.get(&format!("{here}?depth_m=6+ft&wind_m_s=")).await.json();
    assert!(calm["wind_m_s"].is_null(), "{calm}");
    // A box without a tick is sent by no browser: all else being there, it was taken out.
    let form = yard.get(&format!("/structures/{}/posts", held.id)).await.body;
    let mut fields = crate::record::corrections::fields_of(&form);
    fields.push(("rigid_floor".to_owned(), "yes".to_owned()));
    let ask = |fields: &[(String, String)]| {
        let query = form_urlencoded::Serializer::new(String::new()).extend_pairs(fields).finish();
        format!("{here}?{query}")
    };
    assert_eq!(yard.get(&ask(&fields)).await.json()["post"]["rigid_floor"], true);
    fields.retain(|(name, _)| name != "rigid_floor");
    assert_ne!(yard.get(&ask(&fields)).await.json()["post"]["rigid_floor"], true);
}

/// A load alone says nothing of the post that carries it: the usual one is taken, and told.
#[tokio::test]
async fn a_load_alone_leaves_the_size_to_be_told_as_taken() {
    let bench = Bench::us().await;
    bench.record("building-ground", &[("tilled_to", "9 in")]).await;
    let here = format!("/plots/{}/posts", bench.plot);
    let told = |query: &str| format!("{here}?load_kn=200+lb&above_m=4+ft{query}");
    let usual = bench.yard.get(&told("")).await.body;
    assert!(usual.contains("The post itself: the usual one"), "{usual}");
    let own = bench.yard.get(&told("&width_mm=4+in")).await.body;
    assert!(!own.contains("The post itself: the usual one"), "{own}");
}

/// Measures that round where they are shown: 1 m is 3 ft 3 3/8 in, nearly.
#[tokio::test]
async fn a_structure_sent_back_untouched_changes_nothing_and_no_part_of_a_post_is_lost() {
    let bench = Bench::us().await;
    let plot = bench.plot.to_string();
    let fields = [
        ("name", "Fence"),
        ("kind", "fence"),
        ("plot", plot.as_str()),
        ("length_m", "101.3 m"),
        ("weight_kg_m2", "4.8824276"),
        ("wall_m", "1.01 m"),
        ("height_m", "2.41 m"),
        ("spacing_m", "4.57 m"),
        ("wires", "6"),
        ("wire_pull_kn", "0.91 kN"),
        ("wire_height_m", "1.19 m"),
        ("brace", "tieback"),
        ("tieback_degrees", "43.7"),
        ("solid_percent", "14.3"),
        ("set", "belled"),
        ("section", "square"),
        ("width_mm", "101 mm"),
        ("depth_m", "1.03 m"),
        ("above_m", "0.31 m"),
        ("collar_mm", "303 mm"),
        ("bell_mm", "461 mm"),
        ("zinc_um", "86.3"),
        ("load_kn", "0.93 kN"),
        ("rigid_floor", "true"),
    ];
    bench.keep("/structures/new", &fields).await;
    let before = bench.yard.snapshot().structures[0].clone();
    let path = format!("/records/{}/correct", before.id);
    let form = bench.yard.get(&path).await.body;
    let mut again = crate::record::corrections::fields_of(&form);
    again.retain(|(name, _)| !["reason", "note"].contains(&name.as_str()));
    again.extend([("reason", "a note"), ("note", "looked")].map(|(a, b)| (a.to_owned(), b.to_owned())));
    let again: Vec<(&str, &str)> = again.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    bench.keep(&path, &again).await;
    let after = bench.yard.snapshot().structures[0].clone();
    assert_eq!(after.number, 2);
    assert_eq!(book::model::Structure { note: String::new(), ..after.body }, before.body);
    // Said alone, each part asks for the rest instead of being dropped.
    for (name, text) in
        [("section", "square"), ("above_m", "1 ft"), ("rigid_floor", "true"), ("movement_harmless", "true")]
    {
        let told = bench.refuse("/structures/new", &[("name", "X"), ("kind", "fence"), (name, text)]).await;
        assert!(told.contains("#field-set"), "{name}: {told}");
    }
}

/// Wind and frost that round where they are shown stay to the last digit when the settings are saved.
#[tokio::test]
async fn settings_sent_back_untouched_keep_wind_and_frost() {
    let bench = Bench::us().await;
    let name = bench.yard.snapshot().farm.body.name.clone();
    let fields = [
        ("name", name.as_str()),
        ("units", "us_customary"),
        ("design_wind_m_s", "47.123 m/s"),
        ("frost_depth_m", "0.913 m"),
        ("cover_endings", "mow_at_bloom"),
    ];
    bench.keep("/settings", &fields).await;
    let before = bench.yard.snapshot().farm.body.clone();
    assert_eq!(before.cover_endings, [ground::covers::kinds::Ending::MowAtBloom]);
    let form = bench.yard.get("/settings").await.body;
    assert!(form.contains("value=\"mow_at_bloom\" checked"), "{form}");
    let text = |name: &str| {
        let field = form.split(&format!("name=\"{name}\"")).nth(1).expect("the field");
        field.split("value=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("its text").to_owned()
    };
    let (wind, frost) = (text("design_wind_m_s"), text("frost_depth_m"));
    let fields = [
        ("name", "Other"),
        ("units", "us_customary"),
        ("design_wind_m_s", wind.as_str()),
        ("frost_depth_m", frost.as_str()),
        ("cover_endings", "mow_at_bloom"),
    ];
    bench.keep("/settings", &fields).await;
    let after = bench.yard.snapshot().farm.body.clone();
    assert_eq!(book::model::Farm { name: before.name.clone(), ..after }, before);
}
