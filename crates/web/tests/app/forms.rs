//! Every form of the farm's pages by plain posts: round trips, refusals that lose nothing, clashes.

use axum::http::{Method, StatusCode};
use book::model::{EntryId, Shape};
use ground::kit::Bounded;

use crate::common::Yard;

/// A one-pixel picture is not needed: the signature tells the kind.
const PNG: &[u8] = b"\x89PNG\r\n\x1a\nthe rest of it";

async fn plot(yard: &Yard) -> EntryId {
    let kept = yard
        .post(
            "/plots/new",
            &[("name", "Lower field"), ("place", "open_field"), ("length_m", "150 ft"), ("width_m", "18")],
        )
        .await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    let plot = yard.snapshot().plots[0].id;
    assert_eq!(kept.header("location"), format!("/plots/{plot}?done=kept"));
    plot
}

#[tokio::test]
async fn a_plot_is_added_in_any_units() {
    let yard = Yard::empty();
    let id = plot(&yard).await;
    let body = yard.snapshot().plots[0].body.clone();
    let Shape::Rectangle { length_m, width_m } = body.shape else { panic!("{body:?}") };
    // 1 ft = 0.3048 m exactly (international foot, 1959).
    assert!((length_m.get() - 45.72).abs() < 1e-9);
    assert_eq!(width_m.get(), 18.0);
    let page = yard.get(&format!("/plots/{id}?done=kept")).await;
    assert!(page.body.contains("It is in the book") && page.body.contains("Nothing has been recorded"));
}

/// Path, fields, and the field that must be named.
type Refused<'a> = (&'a str, &'a [(&'a str, &'a str)], &'a str);

#[tokio::test]
async fn every_refusal_keeps_what_was_typed_and_stores_nothing() {
    let yard = Yard::empty();
    let id = plot(&yard).await.to_string();
    let cases: &[Refused<'_>] = &[
        ("/plots/new", &[("name", "A"), ("place", "open_field")], "length_m"),
        ("/plots/new", &[("name", "A"), ("place", "open_field"), ("length_m", "30")], "width_m"),
        (
            "/plots/new",
            &[("name", "A"), ("place", "open_field"), ("length_m", "9"), ("width_m", "9"), ("area_m2", "80")],
            "area_m2",
        ),
        ("/plots/new", &[("name", "A"), ("place", "moon"), ("area_m2", "80")], "place"),
        ("/plots/new", &[("name", "lower FIELD "), ("place", "pasture"), ("area_m2", "80 sq ft")], "name"),
        ("/plots/new", &[("name", "A"), ("place", "pasture"), ("area_m2", "a good acre")], "area_m2"),
        (
            "/plots/new",
            &[("name", "A"), ("place", "pasture"), ("area_m2", "80"), ("slope_percent", "140 %")],
            "slope_percent",
        ),
        (
            "/beds/new",
            &[("plot", &id), ("name", "B"), ("length_m", "15"), ("width_m", "75 cm"), ("count", "many")],
            "count",
        ),
        (
            "/beds/new",
            &[("plot", &id), ("name", "B"), ("length_m", "15"), ("width_m", "75 cm"), ("count", "0")],
            "count",
        ),
        (
            "/beds/new",
            &[("plot", "nowhere"), ("name", "B"), ("length_m", "15"), ("width_m", "1"), ("count", "2")],
            "plot",
        ),
        ("/structures/new", &[("name", ""), ("kind", "shed"), ("note", "leaks")], "name"),
        (
            "/samples/new",
            &[("plot", &id), ("taken_on", "soon"), ("from_cm", "0"), ("to_cm", "20")],
            "taken_on",
        ),
        (
            "/samples/new",
            &[("plot", &id), ("taken_on", "2026-04-12"), ("from_cm", "30"), ("to_cm", "20"), ("note", "wet")],
            "to_cm",
        ),
        ("/notes/new", &[("plot", &id), ("text", "  ")], "text"),
        (
            "/settings",
            &[("name", "Long Furrow Farm"), ("units", "metric"), ("currency", "dollars")],
            "currency",
        ),
        (
            "/settings",
            &[("name", "Long Furrow Farm"), ("units", "metric"), ("hour_worth", "a lot")],
            "hour_worth",
        ),
    ];
    let before = yard.snapshot().mark;
    for (path, fields, named) in cases {
        let page = yard.post(path, fields).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{path} {fields:?}: {}", page.body);
        assert!(
            page.body.contains(&format!("href=\"#field-{named}\"")),
            "{path}: {named} is not named: {}",
            page.body
        );
        assert!(page.body.contains("role=\"alert\"") && page.body.contains("<title>Error: "), "{path}");
        for (name, value) in *fields {
            let escaped = value.trim();
            if !["place", "plot", "kind", "units", "text"].contains(name) && !escaped.is_empty() {
                assert!(page.body.contains(escaped), "{path}: {value} was lost");
            }
        }
        let twin = yard.post(&format!("/api{path}"), fields).await;
        assert_eq!(twin.status, StatusCode::UNPROCESSABLE_ENTITY, "{path}");
        assert_eq!(twin.json()["error"]["field"], *named, "{path}: {}", twin.body);
    }
    assert_eq!(yard.snapshot().mark, before, "a refused form was stored");
}

#[tokio::test]
async fn a_correction_shows_what_was_recorded_and_keeps_what_was_not_touched() {
    let yard = Yard::demo();
    let creek = yard.snapshot().plot_named("Creek field").expect("it is there").clone();
    let path = format!("/records/{}/correct", creek.id);
    let form = yard.get(&path).await.body;
    // 60.96 m is 200 ft exactly; the form shows feet on this farm.
    for part in
        ["value=\"Creek field\"", "value=\"200 ft\"", "value=\"60 ft\"", "name=\"from_number\" value=\"1\""]
    {
        assert!(form.contains(part), "{part}: {form}");
    }
    let unasked = yard
        .post(
            &path,
            &[
                ("name", "Creek"),
                ("place", "open_field"),
                ("length_m", "200 ft"),
                ("width_m", "60 ft"),
                ("from_number", "1"),
            ],
        )
        .await;
    assert_eq!(unasked.status, StatusCode::UNPROCESSABLE_ENTITY, "a reason is asked for");
    assert!(unasked.body.contains("field-reason-error") && unasked.body.contains("value=\"Creek\""));

    let kept = yard
        .post(
            &path,
            &[
                ("name", "Creek"),
                ("place", "open_field"),
                ("length_m", "200 ft"),
                ("width_m", "60 ft"),
                ("reason", "the short name"),
                ("from_number", "1"),
            ],
        )
        .await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    let now = yard.snapshot().plot(creek.id).expect("it is there").clone();
    assert_eq!(now.body.name, "Creek");
    assert_eq!(now.body.shape, creek.body.shape, "text left alone keeps the value to the last digit");
    let history = yard.get(&format!("/records/{}/history", creek.id)).await.body;
    for part in ["Version 2", "the short name", "Creek field", "Watered by"] {
        assert!(history.contains(part), "{part}");
    }
}

#[tokio::test]
async fn two_who_correct_at_once_see_both_versions() {
    let yard = Yard::empty();
    let id = plot(&yard).await;
    yard.post("/notes/new", &[("plot", &id.to_string()), ("text", "wet corner")]).await;
    let note = yard.snapshot().notes[0].id;
    let path = format!("/records/{note}/correct");
    let plot = id.to_string();
    let fields = |text: &'static str, from: &'static str| {
        [
            ("plot", plot.clone()),
            ("text", text.to_owned()),
            ("reason", "clearer".to_owned()),
            ("from_number", from.to_owned()),
        ]
    };
    let post = async |fields: [(&str, String); 4]| {
        let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (*name, value.as_str())).collect();
        yard.post(&path, &fields).await
    };
    assert_eq!(post(fields("wet corner by the shed", "1")).await.status, StatusCode::SEE_OTHER);
    let late = post(fields("wet corner by the ditch", "1")).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    for part in ["by the shed", "by the ditch", "Two versions", "clearer", "name=\"from_number\" value=\"2\""]
    {
        assert!(late.body.contains(part), "{part}: {}", late.body);
    }
    assert_eq!(yard.snapshot().notes[0].body.text, "wet corner by the shed");
    assert_eq!(post(fields("wet corner by the ditch", "2")).await.status, StatusCode::SEE_OTHER);
    assert_eq!(yard.snapshot().notes[0].body.text, "wet corner by the ditch");
    assert_eq!(yard.snapshot().notes[0].number, 3);
}

#[tokio::test]
async fn what_is_withdrawn_can_be_restored() {
    let yard = Yard::demo();
    let farm = yard.snapshot();
    let held = farm.observations.iter().find(|held| held.body.seen.what() == "feel").expect("one").clone();
    let path = format!("/records/{}/withdraw", held.id);
    assert_eq!(yard.get(&path).await.status, StatusCode::OK);
    let number = held.number.to_string();
    let asked = yard.post(&path, &[("reason", ""), ("from_number", &number)]).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    let done = yard.post(&path, &[("reason", "wrong plot"), ("from_number", &number)]).await;
    assert_eq!(done.status, StatusCode::SEE_OTHER, "{}", done.body);
    assert!(yard.snapshot().observation(held.id).is_none());
    let page = yard.get(&format!("/plots/{}", held.body.plot)).await.body;
    assert!(page.contains(&format!("/records/{}/restore", held.id)) && page.contains("wrong plot"));
    assert_eq!(yard.get(&path).await.status, StatusCode::CONFLICT, "it is withdrawn already");
    assert_eq!(yard.get(&format!("/records/{}/correct", held.id)).await.status, StatusCode::CONFLICT);
    let back = yard.post(&format!("/records/{}/restore", held.id), &[("reason", "it was right")]).await;
    assert_eq!(back.status, StatusCode::SEE_OTHER);
    assert_eq!(yard.snapshot().observation(held.id).expect("it counts").body, held.body);
}

#[tokio::test]
async fn the_plot_of_withdrawn_records_stays_reachable() {
    let yard = Yard::empty();
    let id = plot(&yard).await;
    let done = yard.post(&format!("/records/{id}/withdraw"), &[("reason", "sold")]).await;
    assert_eq!(done.header("location"), "/?done=withdrawn");
    assert_eq!(yard.get(&format!("/plots/{id}")).await.status, StatusCode::NOT_FOUND);
    let all = yard.get("/history").await.body;
    assert!(all.contains("sold") && all.contains("Lower field"));
    let history = yard.get(&format!("/records/{id}/history")).await.body;
    assert!(history.contains(&format!("/records/{id}/restore")));
}

#[tokio::test]
async fn a_photo_is_kept_and_shown_and_other_files_are_refused() {
    let yard = Yard::empty();
    let id = plot(&yard).await.to_string();
    let fields = [("caption", "the jar after two days"), ("plot", id.as_str())];
    let kept = yard.post_file("/photos/new", &fields, ("photo", "jar.exe", PNG)).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    let photo = yard.snapshot().photos[0].clone();
    assert_eq!(photo.body.media_type, "image/png");
    let picture = yard.get(&format!("/photos/{}/picture", photo.id)).await;
    assert_eq!(picture.header("content-type"), "image/png");
    assert_eq!(picture.header("x-content-type-options"), "nosniff");
    let page = yard.get(&format!("/plots/{id}")).await.body;
    assert!(
        page.contains(&format!("/photos/{}/picture", photo.id)) && page.contains("the jar after two days")
    );

    for bytes in [&b"<svg xmlns='http://www.w3.org/2000/svg'/>"[..], b"", b"\0\0\0\x18ftypheic"] {
        let refused = yard.post_file("/photos/new", &fields, ("photo", "jar.png", bytes)).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(refused.body.contains("the jar after two days"), "the caption was lost");
    }
    assert_eq!(yard.snapshot().photos.len(), 1);

    let path = format!("/records/{}/correct", photo.id);
    let fields = [("caption", "the jar, third day"), ("plot", id.as_str()), ("reason", "miscounted")];
    assert_eq!(yard.post(&path, &fields).await.status, StatusCode::SEE_OTHER);
    let corrected = yard.snapshot().photos[0].body.clone();
    assert_eq!((corrected.caption.as_str(), corrected.sha256), ("the jar, third day", photo.body.sha256));
}

#[tokio::test]
async fn everything_can_be_taken_out() {
    let yard = Yard::demo();
    assert_eq!(yard.get("/export").await.status, StatusCode::OK);
    let archive = yard.get("/export/archive.json").await;
    assert!(archive.header("content-disposition").contains("nettlewick-farm-2026-05-21.json"));
    let folder = tempfile::tempdir().expect("a folder");
    let copy =
        book::Book::from_archive(folder.path().join("copy.farmbook"), &archive.body).expect("it is whole");
    assert_eq!(copy.snapshot().expect("it reads").observations.len(), yard.snapshot().observations.len());
    let plots = yard.get("/export/tables/plots.csv").await;
    assert!(plots.header("content-type").starts_with("text/csv"));
    assert_eq!(plots.body.lines().count(), 1 + yard.snapshot().plots.len());
    let backup = yard.get("/export/backup.farmbook").await;
    // The first bytes of every SQLite 3 file (database file format, section 1.3).
    assert!(backup.body.starts_with("SQLite format 3"));
    assert!(backup.header("content-disposition").ends_with(".farmbook\""));
}

#[tokio::test]
async fn laboratory_results_come_in_whole_or_not_at_all() {
    let yard = Yard::empty();
    plot(&yard).await;
    let wrong = "plot,date,sand_percent,silt_percent,clay_percent\nLower field,2026-04-12,40,40,20\nUpper field,2026-04-12,40,40,20\n";
    let before = yard.snapshot().mark;
    let refused = yard.post_file("/import", &[("table", "")], ("file", "lab.csv", wrong.as_bytes())).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.body.contains("Line 3") && refused.body.contains("Upper field"), "{}", refused.body);
    assert!(refused.body.contains("Lower field,2026-04-12,40,40,20"), "the table can be mended in place");
    assert_eq!(yard.snapshot().mark, before);
    let right = wrong.replace("Upper", "Lower").replace("40,40,20\n", "40,40,20\r\n");
    let kept = yard.post("/import", &[("table", &right)]).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    assert_eq!(yard.snapshot().observations.len(), 1, "two equal rows are one result");
    let page = yard.get(kept.header("location")).await.body;
    assert!(page.contains("1 results and 1 new samples") || page.contains("were taken in"), "{page}");
    assert_eq!(yard.post("/import", &[("table", "")]).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let own = "Field;date;OM\nLower field;2026-04-12;3,4\n";
    let kept = yard
        .post("/import", &[("table", own), ("headings", "plot = Field\norganic_matter_percent = OM")])
        .await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    assert_eq!(yard.snapshot().observations.len(), 2);
}

#[tokio::test]
async fn settings_change_and_keep_who_records() {
    let yard = Yard::empty();
    let form = yard.get("/settings").await.body;
    assert!(form.contains("value=\"Long Furrow Farm\"") && form.contains("value=\"metric\" checked"));
    let kept = yard
        .post(
            "/settings",
            &[
                ("recorded_by", "Mab"),
                ("name", "Long Furrow Farm"),
                ("units", "us_customary"),
                ("latitude_degrees", "42.5"),
                ("last_frost", "May 12"),
                ("currency", "usd"),
                ("hour_worth", "20"),
                ("from_number", "1"),
            ],
        )
        .await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    assert!(kept.header("set-cookie").starts_with("recorded_by=Mab;"));
    let farm = yard.snapshot().farm.clone();
    assert_eq!((farm.number, farm.body.currency.as_deref()), (2, Some("USD")));
    // Nothing but the name of the person: the book stays as it is.
    let again = yard
        .post(
            "/settings",
            &[
                ("recorded_by", ""),
                ("name", "Long Furrow Farm"),
                ("units", "us_customary"),
                ("latitude_degrees", "42.5"),
                ("last_frost", "12 May"),
                ("currency", "USD"),
                ("hour_worth", "20"),
                ("from_number", "2"),
            ],
        )
        .await;
    assert_eq!(again.status, StatusCode::SEE_OTHER, "{}", again.body);
    assert!(again.header("set-cookie").contains("Max-Age=0"));
    assert_eq!(yard.snapshot().farm.number, 2);
    let late = yard.post("/settings", &[("name", "Other"), ("units", "metric"), ("from_number", "1")]).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert!(late.body.contains("Two versions") && late.body.contains("value=\"Other\""));
}

#[tokio::test]
async fn every_page_without_a_record_in_its_address_is_there_with_its_twin() {
    let yard = Yard::demo();
    for path in [
        "/",
        "/plots/new",
        "/beds/new",
        "/structures/new",
        "/samples/new",
        "/notes/new",
        "/photos/new",
        "/settings",
        "/export",
        "/import",
        "/history",
    ] {
        assert_eq!(yard.get(path).await.status, StatusCode::OK, "{path}");
        let twin = if path == "/" { "/api".to_owned() } else { format!("/api{path}") };
        let answer = yard.get(&twin).await;
        assert_eq!(answer.status, StatusCode::OK, "{twin}");
        assert!(answer.json().is_object(), "{twin}");
    }
    for held in &yard.snapshot().observations {
        for page in ["correct", "withdraw", "history"] {
            let path = format!("/records/{}/{page}", held.id);
            assert_eq!(yard.get(&path).await.status, StatusCode::OK, "{path}");
        }
    }
}

#[tokio::test]
async fn programs_are_refused_in_the_same_words_as_people() {
    let yard = Yard::empty();
    let headers = [("content-type", "application/json")];
    let answer = yard.send(Method::POST, "/api/notes/new", &headers, br#"{"text": ""}"#.to_vec()).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(answer.json()["error"]["field"], "text");
    let kept = yard.send(Method::POST, "/api/notes/new", &headers, br#"{"text": "limed"}"#.to_vec()).await;
    assert_eq!(kept.status, StatusCode::CREATED);
    assert_eq!(kept.json()["body"]["text"], "limed");
}
