//! A jar marked as it settles: each mark a revision of one record.

use axum::http::StatusCode;
use book::model::seen::JarSeen;
use book::model::{Body, Seen};
use ground::kit::Bounded;
use ground::texture::jar::{Boundary, Clarity, Marks, TimedMark};

use super::{ABOUT, Bench, keeps, problems};

fn jar(bench: &Bench) -> JarSeen {
    match bench.seen() {
        Seen::Jar(jar) => jar,
        other => panic!("{other:?} is no jar"),
    }
}

fn marks(bench: &Bench) -> Vec<TimedMark> {
    match jar(bench).reading.marks {
        Marks::Timed { marks } => marks,
        other => panic!("{other:?} are not timed"),
    }
}

fn times(bench: &Bench) -> Vec<f64> {
    marks(bench).iter().map(|mark| mark.after_s.get()).collect()
}

async fn started(bench: &Bench, ago: &str) -> String {
    let fields: Vec<(&str, &str)> = [
        ("water_height", "7 1/4 in"),
        ("soil_height", "1 1/2 in"),
        ("water_temperature", "68 F"),
        ("dispersant", "dishwasher_powder"),
        ("shape", "straight"),
        ("ago", ago),
    ]
    .into_iter()
    .chain(ABOUT)
    .collect();
    bench.keep(&bench.form("timed-jar"), &fields).await
}

#[tokio::test]
async fn a_jar_is_started_marked_measured_and_finished() {
    let bench = Bench::us().await;
    let page = started(&bench, "3 d").await;
    let id = bench.latest().id;
    assert_eq!(page, format!("/records/{id}/jar"));
    let seen = jar(&bench);
    assert!(!seen.finished);
    assert_eq!(seen.soil_height_mm.map(Bounded::get), Some(38.1));
    assert_eq!(seen.started_at.map(|at| at.to_string()).as_deref(), Some("2026-05-18T08:00:00Z"));

    // It is listed wherever one may look for it, and does not count yet.
    for list in ["/".to_owned(), "/record".to_owned(), format!("/plots/{}/record", bench.plot)] {
        assert!(bench.yard.get(&list).await.body.contains(&page), "{list}");
    }
    let told = bench.yard.get(&format!("/plots/{}", bench.plot)).await;
    assert!(told.body.contains("Still settling"), "{}", told.body);

    // The sand was drawn after 100 s and measured later, the silt could not be seen, the clay is a range.
    bench.keep(&format!("{page}/mark"), &[("drawn_at", "2026-05-18T08:01:40Z")]).await;
    assert_eq!(times(&bench), [100.0]);
    assert_eq!(marks(&bench)[0].top, Boundary::No);
    bench.keep(&format!("{page}/mark"), &[("ago", "58 h"), ("not_seen", "true")]).await;
    bench.keep(&format!("{page}/mark"), &[("top", "2 3/8 to 2 1/2 in")]).await;
    assert_eq!(times(&bench), [100.0, 50_400.0, 259_200.0]);
    bench.keep(&format!("{page}/heights"), &[("height_1", "1 3/16")]).await;
    assert!(matches!(marks(&bench)[0].top, Boundary::At { mm } if mm.get() == 30.162_5));

    // Half way through, everything is on the page.
    let open = bench.yard.get(&page).await;
    assert_eq!(open.status, StatusCode::OK);
    for part in ["After 1 min 40 s", "1 3/16 in", "2 3/8 in to 2 1/2 in", "<svg"] {
        assert!(open.body.contains(part), "{part}");
    }
    let onward = bench
        .keep(&format!("{page}/finish"), &[("water_after_a_day", "cloudy"), ("floating_organic", "1/16")])
        .await;
    assert!(onward.starts_with(&format!("/plots/{}?", bench.plot)) && onward.contains(&id.to_string()));
    let seen = jar(&bench);
    assert!(seen.finished);
    assert_eq!(seen.reading.water_after_a_day, Clarity::Cloudy);
    assert!(
        bench.yard.get(&onward).await.body.contains("Nothing was known of this ground. Now the odds are")
    );

    // Each step is a revision of the one record.
    let history = bench.yard.get(&format!("/api/records/{id}/history")).await;
    assert_eq!(bench.latest().number, 6);
    assert_eq!(bench.count(), (1, 0));
    assert!(history.body.contains("marked after"), "{}", history.body);
    // A finished jar takes no further mark.
    let late = bench.yard.post(&format!("{page}/mark"), &[("top", "2 in")]).await;
    assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(problems(&late).contains("finished"), "{}", problems(&late));
}

#[tokio::test]
async fn a_height_that_cannot_be_read_costs_no_time() {
    let bench = Bench::metric().await;
    let page = started(&bench, "2 min").await;
    let path = format!("{page}/mark");
    let refused = bench.yard.post(&path, &[("top", "thirty")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(keeps(&refused.body, "top", "thirty"));
    assert!(keeps(&refused.body, "drawn_at", "2026-05-21T08:00:00Z"), "the moment is carried along");
    assert!(refused.body.contains("The time of your mark is kept"));
    bench.keep(&path, &[("top", "30 mm"), ("drawn_at", "2026-05-21T07:59:10Z")]).await;
    assert_eq!(times(&bench), [70.0]);
    for (fields, at) in [
        (&[("drawn_at", "tomorrow")][..], "no moment"),
        (&[("drawn_at", "2027-01-01T00:00:00Z")], "no moment"),
        (&[("ago", "3 h")], "before the jar was set down"),
        (&[("top", "30 mm"), ("not_seen", "true")], "could not be seen"),
        (&[("drawn_at", "2026-05-21T07:59:10Z"), ("top", "31")], "that very time"),
    ] {
        let told = bench.refuse(&path, fields).await;
        assert!(told.contains(at), "{at}: {told}");
    }
    assert_eq!(times(&bench), [70.0]);
}

#[tokio::test]
async fn a_thumb_that_presses_twice_makes_one_mark() {
    let bench = Bench::metric().await;
    let page = started(&bench, "2 min").await;
    let path = format!("{page}/mark");
    for _ in 0..2 {
        bench.keep(&path, &[("from_number", "1"), ("drawn_at", "2026-05-21T07:59:10Z")]).await;
    }
    bench.keep(&path, &[("from_number", "1"), ("drawn_at", "2026-05-21T07:59:12Z")]).await;
    assert_eq!(times(&bench), [70.0]);
    assert_eq!(bench.latest().number, 2);
    // A mark from a page that is out of date is still a mark.
    bench.keep(&path, &[("from_number", "1"), ("drawn_at", "2026-05-21T07:59:50Z")]).await;
    assert_eq!(times(&bench), [70.0, 110.0]);
}

#[tokio::test]
async fn heights_that_contradict_each_other_are_told_while_the_jar_stands() {
    let bench = Bench::metric().await;
    let page = started(&bench, "3 d").await;
    for at in ["2026-05-18T08:01:40Z", "2026-05-18T22:00:00Z"] {
        bench.keep(&format!("{page}/mark"), &[("drawn_at", at)]).await;
    }
    // Nothing measured: nothing to finish.
    let told = bench.refuse(&format!("{page}/finish"), &[("water_after_a_day", "cloudy")]).await;
    assert!(told.contains("No mark of this jar has a height"), "{told}");
    let told = bench.refuse(&format!("{page}/heights"), &[("height_1", "40"), ("height_2", "20")]).await;
    assert!(told.contains("#field-height_2"), "{told}");
    bench.keep(&format!("{page}/heights"), &[("height_1", "20"), ("height_2", "40")]).await;
    // The time of a mark is not lost over its height.
    let told = bench.refuse(&format!("{page}/mark"), &[("top", "10 mm")]).await;
    assert!(told.contains("#field-top") && told.contains("without its height"), "{told}");
    bench.keep(&format!("{page}/mark"), &[]).await;
    assert_eq!(times(&bench).len(), 3);
    bench.keep(&format!("{page}/finish"), &[("water_after_a_day", "cloudy")]).await;
}

/// The moments on the page are those of the method of the handbook for this water and this soil.
#[tokio::test]
async fn the_page_says_when_each_mark_is_due() {
    let bench = Bench::us().await;
    let page = started(&bench, "").await;
    let method = ground::registry::find("jar-mark-times").expect("a method");
    let input =
        serde_json::json!({"water_height_mm": 184.15, "water_temperature_c": 20.0, "soil_height_mm": 38.1});
    let times = method.answer(&input).expect("an answer");
    let twin = bench.yard.get(&format!("/api{page}")).await.json();
    assert_eq!(twin["started_at"], "2026-05-21T08:00:00Z");
    let start: jiff::Timestamp = "2026-05-21T08:00:00Z".parse().expect("a moment");
    for (at, mark) in ["sand_mark", "silt_mark"].into_iter().enumerate() {
        let due: jiff::Timestamp =
            twin["due"][at]["due_at"].as_str().expect("a moment").parse().expect("a moment");
        let after_s = due.duration_since(start).as_secs_f64();
        assert!(
            (after_s - times[mark]["time_s"].as_f64().expect("a time")).abs() < 1e-3,
            "{mark}: {after_s}"
        );
    }
    assert_eq!(twin["next"]["mark"], "top of the sand");
    assert_eq!(twin["due"][0]["state"], "next");
    let html = bench.yard.get(&page).await.body;
    assert!(html.contains("data-due=\"2026-05-21T08:0"), "the timer has its moment");

    let crowded = [
        ("water_height", "3 in"),
        ("soil_height", "2 3/4 in"),
        ("dispersant", "none"),
        ("shape", "straight"),
    ];
    let told = bench.refuse_record("timed-jar", &crowded).await;
    assert!(told.contains("#field-soil_height"), "{told}");
}

#[tokio::test]
async fn a_jar_still_settling_is_corrected_with_its_marks() {
    let bench = Bench::us().await;
    let page = started(&bench, "3 d").await;
    bench.keep(&format!("{page}/mark"), &[("drawn_at", "2026-05-18T08:01:40Z"), ("top", "1 3/16")]).await;
    let held = bench.latest();
    let path = format!("/records/{}/correct", held.id);
    let form = bench.yard.get(&path).await;
    for (name, text) in
        [("after_1", "1 min 40 s"), ("top_1", "1 3/16"), ("soil_height", "1 1/2"), ("from_number", "2")]
    {
        assert!(keeps(&form.body, name, text), "{name}: {}", form.body);
    }
    let fields: Vec<(&str, &str)> = [
        ("after_1", "55 s"),
        ("top_1", "1 1/8 to 1 1/4"),
        ("after_2", "2 h"),
        ("water_after_a_day", "not_looked"),
        ("dispersant", "hexametaphosphate"),
        ("water_height", "7 1/4"),
        ("shape", "straight"),
        ("reason", "pressed too late"),
        ("from_number", "2"),
    ]
    .into_iter()
    .chain(ABOUT)
    .collect();
    let onward = bench.keep(&path, &fields).await;
    assert!(onward.starts_with(&page), "back to the marks: {onward}");
    assert_eq!(times(&bench), [55.0, 7200.0]);
    let Body::Observation(now) = bench.latest().body.into() else { panic!("an observation") };
    let Seen::Jar(now) = now.seen else { panic!("a jar") };
    assert!(!now.finished && now.started_at.is_some(), "its clock goes on");
}

#[tokio::test]
async fn what_is_no_timed_jar_has_no_page_of_marks() {
    let bench = Bench::metric().await;
    bench.record("organic-matter", &[("percent", "3")]).await;
    let path = format!("/records/{}/jar", bench.latest().id);
    assert_eq!(bench.yard.get(&path).await.status, StatusCode::NOT_FOUND);
    assert_eq!(bench.yard.post(&format!("{path}/mark"), &[]).await.status, StatusCode::NOT_FOUND);
    assert_eq!(bench.yard.get("/records/none/jar").await.status, StatusCode::NOT_FOUND);
}
