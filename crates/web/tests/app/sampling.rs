//! Where to pull cores: the page that asks, the plan that is kept, its files for a phone.

use axum::http::StatusCode;
use book::model::{Form, Frame, Outline, PartKind, PlanPart};

use crate::common::Yard;
use crate::record::Bench;

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

/// Draws something straight into the book: the pages of the plan have tests of their own.
fn draw(yard: &Yard, part: PlanPart) {
    let stamp = book::Stamp::new(jiff::Timestamp::constant(1_770_000_000, 0), "Ada");
    let mut book = book::Book::open(yard.path()).expect("the book opens");
    book.record(part, &stamp).expect("it is kept");
}
