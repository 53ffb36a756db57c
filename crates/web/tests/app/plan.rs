//! The plan of the farm: drawn by typing, from files, mended, under pictures; and what people get wrong.

use axum::http::StatusCode;
use book::model::{Form, PartKind, PlanPart, UnitSystem};
use ground::kit::Bounded;
use serde_json::{Value, json};

use crate::common::{Answer, Yard};
use crate::record::problems;

/// A metric farm whose plan has its place.
async fn fixed() -> Yard {
    let yard = Yard::empty();
    kept(&yard.post("/plan/place", &[("place", "42.5, -93.5")]).await);
    yard
}

/// Where the browser is sent on to.
fn kept(answer: &Answer) -> String {
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", problems(answer));
    answer.header("location").to_owned()
}

fn refused(answer: &Answer) -> String {
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", answer.body);
    problems(answer)
}

/// The page one is sent on to, with what it says.
async fn follow(yard: &Yard, answer: &Answer) -> String {
    let page = yard.get(kept(answer).split('#').next().unwrap_or_default()).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    page.body
}

async fn parts(yard: &Yard) -> Vec<Value> {
    yard.get("/api/plan").await.json()["parts"].as_array().cloned().unwrap_or_default()
}

fn part(yard: &Yard, kind: PartKind) -> (String, PlanPart) {
    let snapshot = yard.snapshot();
    let held = snapshot.plan_parts.iter().rev().find(|held| held.body.kind == kind).expect("it is drawn");
    (held.id.to_string(), held.body.clone())
}

#[tokio::test]
async fn every_page_of_the_plan_answers_for_the_demonstration_and_a_new_farm() {
    for yard in [Yard::demo(), Yard::empty()] {
        for path in [
            "/plan",
            "/plan/parts/new",
            "/plan/files",
            "/plan/beds",
            "/plan/place",
            "/plan/underlays/new",
            "/plan/mend",
        ] {
            let page = yard.get(path).await;
            assert_eq!(page.status, StatusCode::OK, "{path}: {}", page.body);
            assert_eq!(yard.get(&format!("/api{path}")).await.status, StatusCode::OK, "{path}");
        }
        assert_eq!(yard.get("/plan.svg").await.status, StatusCode::OK);
    }
}

/// 20 m by 60 m are 1200 m².
#[tokio::test]
async fn a_plot_is_typed_by_its_sides_with_a_pond_cut_out_and_what_was_supposed_is_told() {
    let yard = Yard::empty();
    let fields = [
        ("kind", "plot"),
        ("name", "Lower field"),
        ("sides", "20 by 60 m"),
        ("first", "0, 0"),
        ("holes", "2, 2\n6, 2\n6, 5\n2, 5\n\n10 m, 30 m\n14 m, 30 m\n14 m, 35 m"),
    ];
    let page = follow(&yard, &yard.post("/plan/parts", &fields).await).await;
    assert!(page.contains("drawn north"), "what was supposed is told: {page}");
    let drawn = parts(&yard).await;
    assert_eq!(drawn[0]["holes"].as_array().map(Vec::len), Some(2));
    // Less 4 by 3 and half of 4 by 5.
    assert!((drawn[0]["area_m2"].as_f64().unwrap_or_default() - 1178.0).abs() < 1e-6, "{}", drawn[0]);
    let (id, before) = part(&yard, PartKind::Plot);
    let form = yard.get(&format!("/plan/parts/{id}")).await.body;
    assert!(form.contains("10 m, 30 m") && form.contains("Cut out of it"), "{form}");
    // Kept as it is shown, nothing moves; one piece taken out of the field goes.
    let shown = |holes: &'static str| {
        [
            ("kind", "plot"),
            ("name", "Lower field"),
            ("corners", "0 m, 0 m\n20 m, 0 m\n20 m, 60 m\n0 m, 60 m"),
            ("holes", holes),
            ("form", "area"),
        ]
    };
    kept(&yard.post(&format!("/plan/parts/{id}"), &shown("2 m, 2 m\n6 m, 2 m\n6 m, 5 m\n2 m, 5 m")).await);
    let (_, after) = part(&yard, PartKind::Plot);
    let Form::Area { holes, .. } = &after.outline.form else { panic!("{after:?}") };
    assert_eq!(holes.len(), 1);
    assert_ne!(before.outline, after.outline);
    let told = refused(&yard.post(&format!("/plan/parts/{id}"), &shown("2 m, 2 m\n6 m, 2 m")).await);
    assert!(told.contains("iece 1 has 2 corners"), "{told}");
    let line = [("kind", "drain"), ("corners", "0, 0\n5, 5"), ("holes", "1, 1\n2, 1\n2, 2")];
    assert!(refused(&yard.post("/plan/parts", &line).await).contains("Only an area"));
}

#[tokio::test]
async fn degrees_are_read_as_people_write_them_and_slips_are_told() {
    let yard = fixed().await;
    // 30.07' are 0.501167°; -93.4987 W of Greenwich.
    for (name, place) in [
        ("Oak", "42 30.07 N, 93 29.92 W"),
        ("Ash", "42\u{b0}30'04.2\"N 93\u{b0}29'55.2\"W"),
        ("Elm", "42.501167, -93.498667"),
    ] {
        kept(&yard.post("/plan/parts", &[("kind", "tree"), ("name", name), ("first", place)]).await);
    }
    for drawn in parts(&yard).await {
        let [east, north] = [0, 1].map(|axis| drawn["points"][0][axis].as_f64().unwrap_or_default());
        // A degree of latitude is 111.08 km here, one of longitude 82.19 km (WGS 84).
        assert!((east - 109.6).abs() < 1.0 && (north - 129.6).abs() < 1.0, "{drawn}");
    }
    let swapped =
        follow(&yard, &yard.post("/plan/parts", &[("kind", "tree"), ("first", "-93.4987, 42.5012")]).await)
            .await;
    assert!(swapped.contains("the other way round") || swapped.contains("swapped"), "{swapped}");
    let lost = yard.post("/plan/parts", &[("kind", "tree"), ("first", "42.5012, 93.4987")]).await;
    assert!(follow(&yard, &lost).await.contains("lost its minus sign"));
    let before = yard.snapshot().plan_parts.len();
    let far = refused(&yard.post("/plan/parts", &[("kind", "tree"), ("first", "-42.5012, 86.4987")]).await);
    assert!(far.contains("km from the farm"), "{far}");
    let corners = "42.5012, -93.4987\n42.5013, -93.4977\nsomewhere else";
    let third = refused(&yard.post("/plan/parts", &[("kind", "track"), ("corners", corners)]).await);
    assert!(third.contains("ine 3"), "{third}");
    assert_eq!(yard.snapshot().plan_parts.len(), before);
    let floating = Yard::empty();
    let told = refused(&floating.post("/plan/parts", &[("kind", "tree"), ("first", "42.5, -93.5 N")]).await);
    assert!(!told.is_empty());
    // Neither a place in degrees nor two distances: both are named, with an example of each.
    let told = refused(&yard.post("/plan/parts", &[("kind", "tree"), ("first", "10 m east")]).await);
    assert!(told.contains("distances east and north") && told.contains("latitude"), "{told}");
    // Bare numbers like the farm's own degrees, a sign lost and decimals few: one is asked.
    let told = refused(&yard.post("/plan/parts", &[("kind", "tree"), ("first", "42.5, 93.4")]).await);
    assert!(told.to_lowercase().contains("are these degrees?"), "{told}");
    kept(&yard.post("/plan/parts", &[("kind", "tree"), ("first", "42.5 m, 93.4 m")]).await);
    // Degrees give a plan without a place its place.
    kept(&floating.post("/plan/parts", &[("kind", "tree"), ("first", "42.50121, -93.49872")]).await);
    let origin = floating.snapshot().farm.body.plan_origin.expect("the plan has its place");
    assert!((origin.latitude_degrees.get() - 42.50121).abs() < 1e-9, "{origin:?}");
}

#[tokio::test]
async fn an_outline_across_itself_is_kept_told_mended_and_the_mending_can_be_undone() {
    let yard = Yard::empty();
    let bow_tie = "0, 0\n40, 30\n40, 0\n0, 30";
    let fields = [("kind", "plot"), ("name", "Bow tie"), ("corners", bow_tie)];
    let page = follow(&yard, &yard.post("/plan/parts", &fields).await).await;
    assert!(page.contains("crosses itself"), "{page}");
    let (id, _) = part(&yard, PartKind::Plot);
    let mend = yard.get("/plan/mend").await.body;
    assert!(mend.contains("Part it where it crosses itself"), "{mend}");
    let before = part(&yard, PartKind::Plot).1;
    let page = follow(&yard, &yard.post(&format!("/plan/mend/{id}"), &[("way", "split")]).await).await;
    assert!(page.contains("The outline was mended") && page.contains("Undo it as a whole"), "{page}");
    let drawn = parts(&yard).await;
    // Two triangles of 30 by 20 m.
    assert_eq!(drawn.len(), 2);
    for one in &drawn {
        assert!((one["area_m2"].as_f64().unwrap_or_default() - 300.0).abs() < 0.01, "{one}");
        assert!(!one["remarks"].to_string().contains("crosses"), "{one}");
    }
    assert!(yard.get(&format!("/records/{id}/history")).await.body.contains("mended"));
    // Taken back, it stands as it was drawn, and the second piece is gone.
    kept(&yard.post(&format!("/plan/mend/{id}/undo"), &[]).await);
    assert_eq!(parts(&yard).await.len(), 1);
    assert_eq!(part(&yard, PartKind::Plot).1, before);
    let twice = yard.post(&format!("/plan/mend/{id}/undo"), &[]).await;
    assert_eq!(twice.status, StatusCode::NOT_FOUND, "{}", twice.body);
    // Two plots drawn round as one, and parted again.
    let other = [("kind", "plot"), ("name", "Beside"), ("corners", "-5, 0\n5, 0\n5, 30\n-5, 30")];
    kept(&yard.post("/plan/parts", &other).await);
    let beside = part(&yard, PartKind::Plot).0;
    kept(&yard.post(&format!("/plan/mend/{beside}"), &[("way", "unite")]).await);
    kept(&yard.post(&format!("/plan/mend/{beside}/undo"), &[]).await);
    assert_eq!(yard.snapshot().plan_parts.iter().filter(|held| held.body.kind == PartKind::Plot).count(), 2);
}

#[tokio::test]
async fn tiny_and_overlapping_areas_are_told_on_both_and_settled() {
    let yard = Yard::empty();
    for (name, corners) in [
        ("West", "0, 0\n30, 0\n30, 20\n0, 20"),
        ("East", "28, 0\n60, 0\n60, 20\n28, 20"),
        ("Slip", "100, 100\n100.3, 100\n100.3, 100.3"),
    ] {
        let answer =
            yard.post("/plan/parts", &[("kind", "plot"), ("name", name), ("corners", corners)]).await;
        if answer.status != StatusCode::SEE_OTHER {
            // The book takes no plot so small; the refusal says what it takes.
            assert!(name == "Slip" && refused(&answer).contains("m²"), "{}", answer.body);
        }
    }
    let remarks = |drawn: &[Value], name: &str| {
        drawn.iter().find(|one| one["name"] == name).map(|one| one["remarks"].to_string()).unwrap_or_default()
    };
    let drawn = parts(&yard).await;
    assert!(remarks(&drawn, "West").contains("over East") && remarks(&drawn, "East").contains("over West"));
    let east = drawn.iter().find(|one| one["name"] == "East").expect("it is drawn");
    let id = east["id"].as_str().unwrap_or_default();
    kept(&yard.post(&format!("/plan/mend/{id}"), &[("way", "cut")]).await);
    let drawn = parts(&yard).await;
    assert!(!remarks(&drawn, "West").contains("over"), "{drawn:?}");
    let east = drawn.iter().find(|one| one["name"] == "East").expect("it is drawn");
    assert!((east["area_m2"].as_f64().unwrap_or_default() - 600.0).abs() < 0.1, "{east}");
    kept(&yard.post("/plan/parts", &[("kind", "other"), ("corners", "0, 0\n0.3, 0\n0.3, 0.3")]).await);
    assert!(yard.get("/plan").await.body.contains("tiny"));
}

#[tokio::test]
async fn a_hole_outside_is_told_and_can_be_filled() {
    let yard = Yard::empty();
    let fields = [
        ("kind", "plot"),
        ("name", "Field"),
        ("corners", "0, 0\n30, 0\n30, 20\n0, 20"),
        ("holes", "100, 100\n104, 100\n104, 104"),
    ];
    kept(&yard.post("/plan/parts", &fields).await);
    let (id, _) = part(&yard, PartKind::Plot);
    let mend = yard.get("/plan/mend").await.body;
    assert!(mend.contains("does not lie inside it") && mend.contains("value=\"fill\""), "{mend}");
    kept(&yard.post(&format!("/plan/mend/{id}"), &[("way", "fill")]).await);
    let drawn = parts(&yard).await;
    assert!((drawn[0]["area_m2"].as_f64().unwrap_or_default() - 600.0).abs() < 1e-6, "{}", drawn[0]);
}

#[tokio::test]
async fn what_the_script_sends_is_kept_corrected_taken_off_and_brought_back() {
    let yard = Yard::empty();
    let send = async |path: &str, body: Value| {
        let headers = [("origin", "http://127.0.0.1:4180"), ("content-type", "application/json")];
        yard.send(axum::http::Method::POST, path, &headers, body.to_string().into_bytes()).await
    };
    let points = json!([[0, 0], [10, 0], [10, 8], [0, 8]]);
    let sent = json!({ "kind": "keep_out", "name": "Old pile", "why": "manure_pile", "form": "area",
        "points": points, "holes": [[[2, 2], [3, 2], [3, 3]]] });
    let made = send("/api/plan/parts", sent.clone()).await;
    assert_eq!(made.status, StatusCode::CREATED, "{}", made.body);
    let id = made.json()["id"].as_str().unwrap_or_default().to_owned();
    let drawn = parts(&yard).await;
    assert_eq!(
        (drawn[0]["why"].as_str(), drawn[0]["holes"][0].as_array().map(Vec::len)),
        (Some("manure_pile"), Some(3))
    );
    let wrong = send(
        "/api/plan/parts",
        json!({ "kind": "keep_out", "why": "ghosts", "form": "area", "points": points }),
    );
    let wrong = wrong.await;
    assert!(wrong.status.is_client_error() && wrong.body.contains("old_fence"), "{}", wrong.body);
    // Without the field it stays, emptied it goes.
    let moved = json!({ "kind": "keep_out", "form": "area", "points": points, "revision": 1 });
    assert_eq!(send(&format!("/api/plan/parts/{id}"), moved).await.status, StatusCode::CREATED);
    assert_eq!(parts(&yard).await[0]["why"], "manure_pile");
    let emptied = json!({ "kind": "keep_out", "why": "", "form": "area", "points": points, "revision": 2 });
    assert_eq!(send(&format!("/api/plan/parts/{id}"), emptied).await.status, StatusCode::CREATED);
    assert_eq!(parts(&yard).await[0]["why"], Value::Null);
    let late = json!({ "kind": "keep_out", "form": "area", "points": points, "revision": 1 });
    assert_eq!(send(&format!("/api/plan/parts/{id}"), late).await.status, StatusCode::CONFLICT);
    let off = send(&format!("/api/plan/parts/{id}/remove"), json!({ "revision": 3 })).await;
    assert_eq!(off.status, StatusCode::CREATED, "{}", off.body);
    assert!(parts(&yard).await.is_empty() && yard.get("/plan").await.body.contains("Bring it back"));
    assert_eq!(send(&format!("/api/plan/parts/{id}/back"), json!({})).await.status, StatusCode::CREATED);
    assert_eq!(parts(&yard).await.len(), 1);
}

#[tokio::test]
async fn a_walk_comes_in_is_told_and_undone_as_a_whole() {
    let yard = Yard::empty();
    // 50,000 places round a square of 0.001°.
    let mut gpx =
        String::from("<gpx version=\"1.1\" creator=\"a test\"><trk><name>Round the field</name><trkseg>");
    for step in 0..50_000 {
        let way = f64::from(step) / 12_500.0;
        let [x, y] = match way {
            w if w < 1.0 => [w, 0.0],
            w if w < 2.0 => [1.0, w - 1.0],
            w if w < 3.0 => [3.0 - w, 1.0],
            w => [0.0, 4.0 - w],
        };
        gpx.push_str(&format!("<trkpt lat=\"{}\" lon=\"{}\"/>", 42.5 + y * 0.001, -93.5 + x * 0.001));
    }
    gpx.push_str("</trkseg></trk></gpx>");
    let answer = yard
        .post_file(
            "/plan/files",
            &[("kind", "plot"), ("walk_is", "area")],
            ("file", "walk.gpx", gpx.as_bytes()),
        )
        .await;
    let page = follow(&yard, &answer).await;
    assert!(page.contains("One thing came in from walk.gpx") && page.contains("50000 places"), "{page}");
    assert!(page.contains("Undo it as a whole"));
    let snapshot = yard.snapshot();
    assert_eq!((snapshot.plan_parts.len(), snapshot.plots.len()), (1, 1));
    let undone = yard.post(&format!("/imports/{}/undo", snapshot.imports[0].id), &[]).await;
    assert!(follow(&yard, &undone).await.contains("undone as a whole"));
    let snapshot = yard.snapshot();
    assert_eq!((snapshot.plan_parts.len(), snapshot.plots.len()), (0, 0));
    assert_eq!(snapshot.farm.body.plan_origin, None);
    let nothing = refused(&yard.post_file("/plan/files", &[("kind", "plot")], ("file", "x", b"")).await);
    assert!(nothing.contains("nothing to take in"), "{nothing}");
    let broken = yard.post("/plan/files", &[("kind", "tree"), ("text", "{\"type\": \"Fea")]).await;
    assert!(refused(&broken).contains("GeoJSON") && broken.body.contains("Fea"), "{}", broken.body);
}

#[tokio::test]
async fn what_goes_out_comes_in_on_another_farm() {
    let demo = Yard::demo();
    let count = demo.snapshot().plan_parts.len();
    for path in ["/plan.geojson", "/plan.csv", "/plan.gpx"] {
        let file = demo.get(path).await;
        assert_eq!(file.status, StatusCode::OK, "{path}: {}", file.body);
        let again = demo
            .post_file("/plan/files", &[("kind", "other")], ("file", "again", file.body.as_bytes()))
            .await;
        assert!(refused(&again).contains("on the plan already"), "{path}");
        let other = Yard::empty();
        let answer = other
            .post_file("/plan/files", &[("kind", "other")], ("file", "plan", file.body.as_bytes()))
            .await;
        follow(&other, &answer).await;
        let snapshot = other.snapshot();
        assert_eq!((snapshot.plan_parts.len(), snapshot.plots.len()), (count, 9), "{path}");
    }
}

#[tokio::test]
async fn a_picture_too_large_is_answered_at_its_field_with_all_that_was_typed() {
    let yard = Yard::empty();
    for megabytes in [33, 60] {
        let mut bytes = vec![0_u8; megabytes << 20];
        bytes[..3].copy_from_slice(b"\xff\xd8\xff");
        let fields = [("name", "From the air"), ("spots", "1, 1 = 0 m, 0 m\n9, 1 = 9 m, 0 m")];
        let answer = yard.post_file("/plan/underlays", &fields, ("picture", "farm.jpg", &bytes)).await;
        let told = refused(&answer);
        assert!(told.contains(&format!("{megabytes} MB")) && told.contains("32 MB"), "{told}");
        assert!(answer.body.contains("From the air") && answer.body.contains("9, 1 = 9 m, 0 m"));
        let photo =
            yard.post_file("/photos/new", &[("caption", "The barn")], ("photo", "a.jpg", &bytes)).await;
        assert!(photo.body.contains("32 MB") && photo.body.contains("The barn"), "{}", photo.body);
    }
    let file = vec![b' '; 17 << 20];
    let answer = yard.post_file("/plan/files", &[("kind", "plot")], ("file", "huge.gpx", &file)).await;
    assert!(refused(&answer).contains("16 MB"), "{}", answer.body);
    let form = vec![b'a'; 3 << 20];
    let headers =
        [("origin", "http://127.0.0.1:4180"), ("content-type", "application/x-www-form-urlencoded")];
    let long = yard.send(axum::http::Method::POST, "/plan/parts", &headers, form).await;
    assert_eq!(long.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(long.body.contains("larger than 1 MB"), "{}", long.body);
    assert!(yard.snapshot().underlays.is_empty());
}

#[tokio::test]
async fn beds_are_looked_at_then_kept_with_their_numbers() {
    let yard = Yard::empty_in(UnitSystem::UsCustomary);
    let fields =
        [("kind", "plot"), ("name", "Field"), ("sides", "48 x 100 ft, long side N"), ("first", "0, 0")];
    kept(&yard.post("/plan/parts", &fields).await);
    let plot = yard.snapshot().plots[0].id.to_string();
    let asked = format!("plot={plot}&bed_width=30+in&path_width=18+in");
    let look = yard.get(&format!("/plan/beds?{asked}")).await;
    // 12 times 4 ft, the last without its path.
    assert!(look.body.contains("12 beds fit, each 100 ft long"), "{}", look.body);
    assert!(yard.snapshot().beds.is_empty());
    let fields =
        [("plot", plot.as_str()), ("bed_width", "30 in"), ("path_width", "18 in"), ("name", "Long beds")];
    kept(&yard.post("/plan/beds", &fields).await);
    let snapshot = yard.snapshot();
    assert_eq!((snapshot.beds.len(), snapshot.beds[0].body.count), (1, 12));
    assert_eq!(snapshot.plan_parts.iter().filter(|part| part.body.kind == PartKind::Bed).count(), 12);
    let wide = [("plot", plot.as_str()), ("bed_width", "90 ft"), ("path_width", "18 in")];
    assert!(!refused(&yard.post("/plan/beds", &wide).await).is_empty());
}

#[tokio::test]
async fn the_drawn_area_stands_beside_the_typed_one_and_can_take_its_place() {
    let yard = Yard::empty();
    kept(
        &yard.post("/plots/new", &[("name", "Field"), ("place", "open_field"), ("area_m2", "500 m2")]).await,
    );
    let plot = yard.snapshot().plots[0].id.to_string();
    let page = yard.get(&format!("/plots/{plot}")).await.body;
    assert!(page.contains("Draw it on the plan"), "{page}");
    let fields = [("kind", "plot"), ("plot", plot.as_str()), ("corners", "0, 0\n30, 0\n30, 20\n0, 20")];
    kept(&yard.post("/plan/parts", &fields).await);
    let page = yard.get(&format!("/plots/{plot}")).await.body;
    assert!(page.contains("it has 600 m²") && page.contains("20 % more"), "{page}");
    let (id, _) = part(&yard, PartKind::Plot);
    kept(&yard.post(&format!("/plan/parts/{id}/area"), &[]).await);
    assert!((yard.snapshot().plots[0].body.shape.area_m2() - 600.0).abs() < 1e-6);
    assert!(!yard.get(&format!("/plots/{plot}")).await.body.contains("% more"));
}

fn origin(yard: &Yard) -> Option<[f64; 2]> {
    let origin = yard.snapshot().farm.body.plan_origin?;
    Some([origin.latitude_degrees.get(), origin.longitude_degrees.get()])
}

/// 30.07' are 0.501167°. Half a world away from 42.5° N, 93.5° W lies 42.5° S, 86.5° E.
#[tokio::test]
async fn the_place_of_the_plan_is_read_as_people_write_it_and_never_half_a_world_off_by_a_slip() {
    let yard = Yard::empty();
    let put = async |place: &str, far: bool| {
        let fields = [("place", place), ("far", "yes")];
        yard.post("/plan/place", &fields[..if far { 2 } else { 1 }]).await
    };
    for (wrong, why) in
        [("", "fill this in"), ("by the barn", "no place in a latitude"), ("95, 200", "between -90 and 90")]
    {
        let answer = put(wrong, false).await;
        assert!(refused(&answer).contains(why), "{wrong}: {}", answer.body);
        let stays = wrong.is_empty() || answer.body.contains(&format!("value=\"{wrong}\""));
        assert!(stays, "what was typed stays: {}", answer.body);
        assert!(!answer.body.contains("name=\"far\""), "nothing far was typed: {}", answer.body);
    }
    kept(&put("42 30.07 N, 93 29.92 W", false).await);
    let [latitude, longitude] = origin(&yard).expect("it is fixed");
    assert!((latitude - 42.501_167).abs() < 1e-6 && (longitude + 93.498_667).abs() < 1e-6);
    // An origin alone may be what is wrong: nothing far from it is guessed at, but it can be meant.
    for slip in ["42.5, 93.5", "-42.5, 86.5", "42.5 N, 93.5 E"] {
        let answer = put(slip, false).await;
        let told = refused(&answer);
        assert!(
            told.contains("km from where the plan lay until now") && told.contains("minus sign"),
            "{told}"
        );
        assert!(answer.body.contains(slip) && answer.body.contains("name=\"far\""), "{}", answer.body);
    }
    assert_eq!(origin(&yard), Some([latitude, longitude]));
    kept(&put("-42.5, 86.5", true).await);
    assert_eq!(origin(&yard), Some([-42.5, 86.5]));
    kept(&put("42.5, -93.5", true).await);
    // What is drawn in degrees stays on the Earth: slips are mended by it, and nothing far is taken, ticked or not.
    kept(&yard.post("/plan/parts", &[("kind", "tree"), ("first", "42.501, -93.501")]).await);
    assert!(follow(&yard, &put("-93.502, 42.502", false).await).await.contains("the other way round"));
    assert_eq!(origin(&yard), Some([42.502, -93.502]));
    assert!(follow(&yard, &put("42.503, 93.503", false).await).await.contains("lost its minus sign"));
    for ticked in [false, true] {
        let answer = put("-42.5, 86.5", ticked).await;
        assert!(refused(&answer).contains("what is drawn on the plan"), "{}", answer.body);
        assert!(!answer.body.contains("name=\"far\""), "{}", answer.body);
    }
    assert_eq!(origin(&yard), Some([42.503, -93.503]));
}

/// A picture by whose spots it is centimetres wide was fixed by degrees that were read as distances.
#[tokio::test]
async fn a_picture_smaller_than_a_step_is_asked_about() {
    let yard = fixed().await;
    // The head of a GIF of 10 by 10 pixels (GIF89a specification, sections 17 and 18).
    let bytes = b"GIF89a\n\0\n\0\x80\0\0\0\0\0\xff\xff\xff";
    let fields = [("name", "From the air"), ("spots", "1, 1 = 0 m, 0 m\n9, 1 = 0.05 m, 0 m")];
    let answer = yard.post_file("/plan/underlays", &fields, ("picture", "farm.gif", &bytes[..])).await;
    let told = refused(&answer);
    assert!(told.contains("are they degrees"), "{told}");
    assert!(yard.snapshot().underlays.is_empty(), "nothing is kept");
}

#[tokio::test]
async fn what_a_crossing_outline_brings_is_told_and_an_emptied_notice_can_go() {
    let yard = Yard::empty();
    let empty = yard.get("/plan").await.body;
    // The script takes pieces marked so anew after each stroke.
    assert!(empty.contains("<div id=\"plan-empty\" data-fresh><p"), "{empty}");
    let fields = [("kind", "plot"), ("name", "Bow tie"), ("corners", "0, 0\n40, 30\n40, 0\n0, 30")];
    let page = follow(&yard, &yard.post("/plan/parts", &fields).await).await;
    assert!(page.contains("<p>Bow tie: "), "{page}");
    assert!(page.contains("<div id=\"plan-empty\" data-fresh></div>"), "{page}");
    let picture =
        yard.post_file("/plan/files", &[("kind", "plot")], ("file", "farm.png", &b"\x89PNG\r\n"[..])).await;
    let told = refused(&picture);
    assert!(
        told.contains("picture") && told.contains("under the plan") && !told.contains("laboratory"),
        "{told}"
    );
}
