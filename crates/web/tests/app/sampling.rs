//! Where to pull cores: the page that asks, the plan that is kept, its files for a phone.

use axum::http::StatusCode;
use book::model::{Form, Frame, Outline, PartKind, PlanPart};

use crate::common::Yard;
use crate::record::Bench;
use crate::record::corrections::fields_of;

#[tokio::test]
async fn an_area_alone_gives_numbers_and_says_why_no_places() {
    let bench = Bench::metric().await;
    let address = format!("/plots/{}/sampling", bench.plot);
    let page = bench.yard.get(&address).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    for part in ["20 cm deep", "Only the area of this plot is known", "utility-locating", "What to bring"] {
        assert!(page.body.contains(part), "no {part}: {}", page.body);
    }
    let kept = bench.keep(&address, &[("purpose", "fertility"), ("name", "Spring round")]).await;
    let shown = bench.yard.get(kept.split('?').next().unwrap()).await;
    assert_eq!(shown.status, StatusCode::OK, "{}", shown.body);
    assert!(
        shown.body.contains("Spring round") && shown.body.contains("No file for a phone"),
        "{}",
        shown.body
    );
    let plan = bench.yard.snapshot().sampling_plans[0].id;
    let gpx = bench.yard.get(&format!("/sampling/{plan}/points.gpx")).await;
    assert!(gpx.status.is_client_error() && gpx.body.contains("no points"), "{}", gpx.body);
    assert!(bench.yard.get("/work").await.body.contains("Pull cores"), "the plan is a job");
}

#[tokio::test]
async fn what_is_mistyped_is_told_at_its_field_and_kept() {
    let bench = Bench::us().await;
    let address = format!("/plots/{}/sampling", bench.plot);
    let page = bench.yard.get(&format!("{address}?error=banana&cores=9000")).await.body;
    assert!(page.contains("banana") && page.contains("1 to 500"), "{page}");
    let refused = bench.refuse(&address, &[("error", "-3 %"), ("name", "Keep me")]).await;
    assert!(refused.contains("below zero"), "{refused}");
    assert!(bench.yard.snapshot().sampling_plans.is_empty());
}

#[tokio::test]
async fn a_drawn_plot_gets_points_for_a_phone_and_the_same_seed_the_same_points() {
    let bench = Bench::metric().await;
    let corners = vec![[-93.5, 42.5], [-93.499, 42.5], [-93.499, 42.5004], [-93.5, 42.5004]];
    let outline = Outline { frame: Frame::Wgs84, form: Form::Area { outer: corners, holes: Vec::new() } };
    let part = PlanPart { plot: Some(bench.plot), ..PlanPart::drawn(PartKind::Plot, outline) };
    draw(&bench.yard, part);
    let address = format!("/plots/{}/sampling", bench.plot);
    let query = "?design=spatial_coverage&apart=yes&cores=9&seed=4";
    let page = bench.yard.get(&format!("{address}{query}")).await.body;
    assert!(page.contains("<svg") && page.contains("9 places"), "{page}");
    let twin = bench.yard.get(&format!("/api{address}{query}")).await.json();
    assert_eq!(twin["report"]["points"].as_array().unwrap().len(), 9, "{twin}");
    let again = bench.yard.get(&format!("/api{address}{query}")).await.json();
    assert_eq!(twin["report"]["points"], again["report"]["points"]);
    let fields = [("design", "spatial_coverage"), ("apart", "yes"), ("cores", "9"), ("seed", "4")];
    bench.keep(&address, &fields).await;
    let plan = bench.yard.snapshot().sampling_plans[0].clone();
    assert_eq!((plan.body.points.len(), plan.body.bags, plan.body.frame), (9, 9, Frame::Wgs84));
    let gpx = bench.yard.get(&format!("/sampling/{}/points.gpx", plan.id)).await;
    assert_eq!((gpx.status, gpx.body.matches("<wpt ").count()), (StatusCode::OK, 9), "{}", gpx.body);
    let geojson = bench.yard.get(&format!("/sampling/{}/points.geojson", plan.id)).await.json();
    assert_eq!(geojson["features"].as_array().unwrap().len(), 9);
}

#[tokio::test]
async fn a_plan_is_kept_once_and_taken_again_with_its_bags() {
    let bench = Bench::metric().await;
    let corners = vec![[0.0, 0.0], [60.0, 0.0], [60.0, 40.0], [0.0, 40.0]];
    let outline = Outline { frame: Frame::Metres, form: Form::Area { outer: corners, holes: Vec::new() } };
    draw(&bench.yard, PlanPart { plot: Some(bench.plot), ..PlanPart::drawn(PartKind::Plot, outline) });
    let address = format!("/plots/{}/sampling", bench.plot);
    let fields = [("purpose", "salts"), ("bags", "2"), ("seed", "4")];
    bench.keep(&address, &fields).await;
    let plan = bench.yard.snapshot().sampling_plans[0].clone();
    // The same once more is refused, with the way to the one that is kept.
    let twin = [("purpose", "salts"), ("bags", "2"), ("seed", "4"), ("name", "Twin")];
    let refused = bench.refuse(&address, &twin).await;
    assert!(refused.contains("kept already"), "{refused}");
    let page = bench.yard.post(&address, &twin).await.body;
    let link =
        format!("<p class=\"note doubt\">This plan is kept already: <a href=\"/sampling/{}\">", plan.id);
    assert!(page.contains(&link), "no {link}: {page}");
    // Without a place on the Earth every point is told from the corner on the picture.
    let shown = bench.yard.get(&format!("/sampling/{}", plan.id)).await.body;
    for part in ["A, the corner marked on the picture", " along, ", "figure-wide", "sampling-plan-wide"] {
        assert!(shown.contains(part), "no {part}: {shown}");
    }
    let again = format!("{address}?design=repeat&amp;repeats={}&amp;purpose=salts", plan.id);
    assert!(shown.contains(&again), "no {again}: {shown}");
    let twin = bench.yard.get(&format!("/api{}", again.replace("&amp;", "&"))).await.json();
    assert_eq!(twin["report"]["numbers"]["bags"], 2, "{twin}");
    let bags: Vec<u64> = twin["report"]["points"]
        .as_array()
        .unwrap()
        .iter()
        .map(|point| point["bag"].as_u64().unwrap())
        .collect();
    let before: Vec<u64> = plan.body.points.iter().map(|point| u64::from(point.bag.unwrap())).collect();
    assert_eq!(bags, before);
    // No bed is drawn here.
    let page = bench.yard.get(&format!("{address}?in_beds=yes")).await.body;
    assert!(
        page.contains("no bed of this plot is drawn") || page.contains("No bed of this plot is drawn"),
        "{page}"
    );
}

#[tokio::test]
async fn a_plan_for_the_probe_offers_no_labels_for_bags() {
    let bench = Bench::metric().await;
    let address = format!("/plots/{}/sampling", bench.plot);
    bench.keep(&address, &[("purpose", "structure")]).await;
    for page in [address.as_str(), "/sheets"] {
        let page = bench.yard.get(page).await.body;
        assert!(page.contains("Field sheet") && !page.contains("Bag labels<"), "{page}");
    }
}

/// Draws something straight into the book: the pages of the plan have tests of their own.
fn draw(yard: &Yard, part: PlanPart) {
    let stamp = book::Stamp::new(jiff::Timestamp::constant(1_770_000_000, 0), "Ada");
    let mut book = book::Book::open(yard.path()).expect("the book opens");
    book.record(part, &stamp).expect("it is kept");
}

/// A bag from one place is written down with it, and comes back as it was typed. A foot is 0.3048 m exactly.
#[tokio::test]
async fn a_sample_says_where_on_the_plot_it_was_taken() {
    let bench = Bench::us().await;
    let plot = bench.plot.to_string();
    let fields = |spot| {
        [
            ("plot", plot.as_str()),
            ("taken_on", "2026-05-01"),
            ("from_cm", "0"),
            ("to_cm", "6"),
            ("spot", spot),
        ]
    };
    let form = bench.yard.get("/samples/new").await.body;
    assert!(form.contains("Where on the plot") && form.contains("120 ft, 40 ft"), "{form}");
    for (wrong, why) in [
        ("by the gate", "no place on the plan"),
        ("12 ft", "no place on the plan"),
        ("95.5 N, 93.5 W", "between -90 and 90"),
    ] {
        let told = bench.refuse("/samples/new", &fields(wrong)).await;
        assert!(told.contains(why), "{wrong}: {told}");
        let again = bench.yard.post("/samples/new", &fields(wrong)).await.body;
        assert!(again.contains(&format!("value=\"{wrong}\"")), "what was typed stays: {again}");
    }
    for (typed, frame, at) in [
        ("120 ft, -40 ft", Frame::Metres, [36.576, -12.192]),
        ("42.5012 N, 93.4987 W", Frame::Wgs84, [-93.4987, 42.5012]),
        ("42 30.072 N, 93 29.922 W", Frame::Wgs84, [-93.4987, 42.5012]),
    ] {
        bench.keep("/samples/new", &fields(typed)).await;
        let snapshot = bench.yard.snapshot();
        let sample = snapshot.samples.last().unwrap();
        let located = sample.body.spot.unwrap().at.unwrap();
        assert_eq!(located.frame, frame);
        assert!(located.at.iter().zip(at).all(|(one, other)| (one - other).abs() < 1e-9), "{located:?}");
        // Its correction shows the place; sent back with another note alone, it is where it was to the last digit.
        let path = format!("/records/{}/correct", sample.id);
        let mut shown = fields_of(&bench.yard.get(&path).await.body);
        assert!(shown.iter().any(|(name, text)| name == "spot" && !text.is_empty()), "{shown:?}");
        shown.retain(|(name, _)| name != "note" && name != "reason");
        let mut sent: Vec<(&str, &str)> =
            shown.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        sent.extend([("note", "by the oak"), ("reason", "a note")]);
        bench.keep(&path, &sent).await;
        let after = bench.yard.snapshot();
        let kept = &after.samples.iter().find(|held| held.id == sample.id).unwrap().body;
        assert_eq!((kept.spot, kept.note.as_str()), (sample.body.spot, "by the oak"));
    }
}
