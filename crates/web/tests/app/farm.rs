//! The farm's pages: the start, the farm, a plot, findings and decisions.

use axum::http::StatusCode;

use crate::common::Yard;

#[tokio::test]
async fn a_run_without_a_book_begins_at_the_start() {
    let yard = Yard::bare();
    let page = yard.get("/").await;
    assert_eq!(page.status, StatusCode::SEE_OTHER);
    assert_eq!(page.header("location"), "/start");
    let start = yard.get("/start").await;
    assert_eq!(start.status, StatusCode::OK);
    assert!(start.body.contains("farm.farmbook"), "the file is named");

    let made = yard
        .post(
            "/start",
            &[
                ("name", "Long Furrow Farm"),
                ("units", "metric"),
                ("latitude_degrees", "42° N"),
                ("last_frost", "12 May"),
                ("first_frost", ""),
                ("recorded_by", "Ada"),
            ],
        )
        .await;
    assert_eq!(made.status, StatusCode::SEE_OTHER, "{}", made.body);
    assert_eq!(made.header("location"), "/plots/new");
    assert!(made.header("set-cookie").starts_with("recorded_by=Ada;"));
    let farm = yard.snapshot().farm.body.clone();
    assert_eq!(farm.name, "Long Furrow Farm");
    assert_eq!(farm.latitude_degrees.map(ground::kit::Bounded::get), Some(42.0));
    assert_eq!(farm.last_frost.map(|day| day.to_string()).as_deref(), Some("05-12"));
    assert!(yard.path().exists());

    let empty = yard.get("/").await;
    assert!(empty.body.contains("Add your first plot"), "{}", empty.body);
    // A second farm needs a second book.
    assert_eq!(yard.get("/start").await.status, StatusCode::CONFLICT);
    assert_eq!(
        yard.post("/start", &[("name", "Other"), ("units", "metric")]).await.status,
        StatusCode::CONFLICT
    );
}

#[tokio::test]
async fn a_refused_start_keeps_everything_and_makes_no_file() {
    let yard = Yard::bare();
    let page = yard
        .post(
            "/start",
            &[
                ("name", ""),
                ("units", "furlongs"),
                ("latitude_degrees", "ninety-one"),
                ("last_frost", "5/12"),
            ],
        )
        .await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    for part in [
        "href=\"#field-name\"",
        "href=\"#field-units-0\"",
        "value=\"ninety-one\"",
        "value=\"5/12\"",
        "Error: ",
    ] {
        assert!(page.body.contains(part), "{part} is missing: {}", page.body);
    }
    assert!(!yard.path().exists());
}

#[tokio::test]
async fn the_farm_page_shows_every_plot_with_its_odds() {
    let yard = Yard::demo();
    let page = yard.get("/").await;
    assert_eq!(page.status, StatusCode::OK);
    let farm = yard.snapshot();
    for plot in &farm.plots {
        assert!(page.body.contains(&format!("href=\"/plots/{}\"", plot.id)), "{}", plot.body.name);
    }
    for part in ["Jars settling", "data-due=", "Wants attention", "Worth most now", "Packing shed"] {
        assert!(page.body.contains(part), "{part}");
    }
    let twin = yard.get("/api").await.json();
    let plots = twin["plots"].as_array().expect("a list").clone();
    assert_eq!(plots.len(), farm.plots.len());
    let known = plots.iter().find(|plot| plot["name"] == "Creek field").expect("it is there");
    assert!(known["make_up"].as_str().is_some_and(|words| words.starts_with("silt loam ")), "{known}");
    let unknown = plots.iter().find(|plot| plot["name"] == "New ground").expect("it is there");
    assert_eq!(unknown["known"], false);
    assert_eq!(unknown["make_up"], "");
}

#[tokio::test]
async fn every_plot_has_a_page_that_says_how_surely() {
    let yard = Yard::demo();
    for plot in &yard.snapshot().plots {
        let page = yard.get(&format!("/plots/{}", plot.id)).await;
        assert_eq!(page.status, StatusCode::OK, "{}", plot.body.name);
        assert!(page.body.contains(&format!("<h1>{}</h1>", plot.body.name)));
        let twin = yard.get(&format!("/api/plots/{}", plot.id)).await.json();
        let known = twin["make_up"]["known"].as_bool().expect("it says so");
        let total: f64 = twin["make_up"]["odds"]
            .as_array()
            .expect("a list")
            .iter()
            .filter_map(|line| line["share"].as_f64())
            .sum();
        if known {
            assert!((0.9..=1.0 + 1e-9).contains(&total), "{}: {total}", plot.body.name);
            assert!(page.body.contains("Odds of each texture class"));
            assert!(!twin["groups"].as_array().expect("a list").is_empty());
        } else {
            assert!(page.body.contains("speaks of sand, silt and clay yet"));
        }
        // No id stands twice: links and labels depend on it.
        let mut ids: Vec<&str> =
            page.body.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
        let all = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), all, "{} repeats an id", plot.body.name);
    }
}

#[tokio::test]
async fn a_disagreement_is_shown_and_leads_to_its_evidence() {
    let yard = Yard::demo();
    let west = yard.snapshot().plot_named("West tunnel").expect("it is there").id;
    let page = yard.get(&format!("/plots/{west}")).await.body;
    assert!(page.contains("The evidence contradicts itself"), "{page}");
    let link =
        page.split("href=\"#evidence-").nth(1).and_then(|rest| rest.split('"').next()).expect("a link");
    assert!(page.contains(&format!("id=\"evidence-{link}\"")), "{link} leads nowhere");
}

#[tokio::test]
async fn a_finding_is_decided_and_decided_again() {
    let yard = Yard::demo();
    let creek = yard.snapshot().plot_named("Creek field").expect("it is there").id;
    let path = format!("/plots/{creek}/findings/mulch");
    assert_eq!(yard.get(&path).await.status, StatusCode::OK);

    // Refusing asks why, and keeps the choice.
    let asked = yard.post(&path, &[("choice", "refused"), ("reason", " "), ("from_number", "0")]).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(asked.body.contains("say why it is refused") && asked.body.contains("value=\"refused\" checked"));
    assert!(yard.snapshot().decision_on(creek, "mulch").is_none());

    let kept = yard.post(&path, &[("choice", "refused"), ("reason", "slugs"), ("from_number", "0")]).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    assert_eq!(kept.header("location"), format!("/plots/{creek}?done=decided#finding-mulch"));
    let page = yard.get(&format!("/plots/{creek}?done=decided")).await.body;
    assert!(page.contains("The decision is in the book") && page.contains("slugs"));

    // A page opened before that is told of it, and may then go on.
    let late =
        yard.post(&path, &[("choice", "accepted"), ("reason", "straw is here"), ("from_number", "0")]).await;
    assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(late.body.contains("slugs") && late.body.contains("straw is here"), "{}", late.body);
    assert!(late.body.contains("name=\"from_number\" value=\"1\""));
    let again =
        yard.post(&path, &[("choice", "accepted"), ("reason", "straw is here"), ("from_number", "1")]).await;
    assert_eq!(again.status, StatusCode::SEE_OTHER);
    let farm = yard.snapshot();
    let decision = farm.decision_on(creek, "mulch").expect("it is in the book");
    assert_eq!((decision.number, decision.body.reason.as_str()), (2, "straw is here"));
}

#[tokio::test]
async fn what_is_not_there_is_said() {
    let yard = Yard::demo();
    let creek = yard.snapshot().plot_named("Creek field").expect("it is there").id;
    for path in [
        "/plots/not-an-id".to_owned(),
        "/plots/018dfe68-0000-7000-8000-000000000000".to_owned(),
        format!("/plots/{creek}/findings/no-such"),
        "/records/018dfe68-0000-7000-8000-000000000000/history".to_owned(),
        "/records/x/correct".to_owned(),
        "/photos/018dfe68-0000-7000-8000-000000000000/picture".to_owned(),
        "/export/tables/secrets.csv".to_owned(),
    ] {
        let page = yard.get(&path).await;
        assert_eq!(page.status, StatusCode::NOT_FOUND, "{path}");
        assert!(page.body.contains("<h1>"), "{path}");
        assert!(page.body.contains("What to try") || page.body.contains("Back to the first page"), "{path}");
    }
    let none = yard.post(&format!("/plots/{creek}/findings/no-such"), &[("choice", "accepted")]).await;
    assert_eq!(none.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn who_records_is_kept_by_the_browser() {
    let yard = Yard::empty();
    let headers = [
        ("origin", "http://127.0.0.1:4180"),
        ("content-type", "application/x-www-form-urlencoded"),
        ("cookie", "recorded_by=Mab+Cole"),
    ];
    let kept = yard
        .send(axum::http::Method::POST, "/notes/new", &headers, b"text=crust+after+the+storm".to_vec())
        .await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    assert_eq!(yard.snapshot().notes[0].recorded_by, "Mab Cole");
    yard.post("/notes/new", &[("text", "without a cookie")]).await;
    assert_eq!(yard.snapshot().notes[1].recorded_by, "Ada");
}
