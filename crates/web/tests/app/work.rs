//! The work plan as a page: narrowed, answered, done once.

use axum::http::StatusCode;
use book::model::{
    EntryId, JobChoice, JobMaterial, JobWord, Material, PlannedJob, SpreadMass, SpreadMaterial, Stock,
    StockChange, StockMass,
};
use book::{Book, Stamp};
use ground::kit::Bounded;
use serde_json::Value;

use crate::common::Yard;

/// A demonstration farm with one job that spreads 8 kg of meal, of which 20 kg are in hand.
fn with_meal() -> (Yard, EntryId) {
    let yard = Yard::demo();
    let stamp = Stamp::new("2026-05-20T09:00:00Z".parse().expect("a moment"), "Ada");
    let mut book = Book::open(yard.path()).expect("it opens");
    let plot = book.snapshot().expect("read").plot_named("Creek field").expect("it is there").id;
    let meal = book.record(Material::named("Test meal"), &stamp).expect("kept").id;
    let stock = Stock {
        material: meal,
        on: jiff::civil::date(2026, 5, 1),
        kg: StockMass::literal(20.0),
        what: StockChange::Counted,
        note: String::new(),
    };
    book.record(stock, &stamp).expect("kept");
    let word = JobWord {
        key: "own.meal".to_owned(),
        plot: Some(plot),
        bed: None,
        choice: JobChoice::Accepted,
        until: None,
        changed: None,
        reason: String::new(),
        done: None,
        as_planned: PlannedJob {
            what: "Spread the meal".to_owned(),
            place: "Creek field".to_owned(),
            from: None,
            to: None,
            materials: vec![JobMaterial {
                material: SpreadMaterial::Shelf(meal),
                kg: SpreadMass::literal(8.0),
            }],
        },
    };
    book.record(word, &stamp).expect("kept");
    (yard, meal)
}

fn jobs(twin: &Value) -> Vec<&Value> {
    twin["groups"]
        .as_array()
        .into_iter()
        .flatten()
        .flat_map(|group| group["jobs"].as_array())
        .flatten()
        .collect()
}

#[tokio::test]
async fn the_plan_is_a_page_with_a_twin_and_can_be_narrowed() {
    let (yard, _) = with_meal();
    let page = yard.get("/work").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.body.contains("<h1>Work</h1>") && page.body.contains("Spread the meal"), "{}", page.body);
    let all = yard.get("/api/work").await.json();
    assert!(jobs(&all).len() > 5);
    let done = yard.get("/api/work?state=done").await.json();
    assert!(!jobs(&done).is_empty() && jobs(&done).iter().all(|one| one["job"]["state"] == "done"));
    let plot = yard.snapshot().plot_named("East tunnel").expect("it is there").id;
    let here = yard.get(&format!("/api/work?plot={plot}")).await.json();
    assert!(!jobs(&here).is_empty() && jobs(&here).iter().all(|one| one["job"]["plot"] == plot.to_string()));
    let told = yard.get("/work?month=May").await;
    assert!(told.body.contains("that is not a month"), "{}", told.body);
    assert_eq!(yard.get("/work/no.such.job").await.status, StatusCode::NOT_FOUND);
    for job in jobs(&all) {
        let key = job["job"]["key"].as_str().expect("a key");
        assert_eq!(yard.get(&format!("/work/{key}")).await.status, StatusCode::OK, "{key}");
    }
}

#[tokio::test]
async fn a_proposal_is_accepted_put_off_and_refused() {
    let (yard, _) = with_meal();
    let all = yard.get("/api/work?state=proposed").await.json();
    let key = jobs(&all)[0]["job"]["key"].as_str().expect("a key").to_owned();
    let path = format!("/work/{key}");
    let kept = yard.post(&path, &[("choice", "accepted"), ("from_number", "0")]).await;
    assert_eq!(
        (kept.status, kept.header("location")),
        (StatusCode::SEE_OTHER, format!("{path}?done=decided").as_str())
    );
    assert!(yard.get(&path).await.body.contains("Accepted by Ada"));
    // The page that was opened before comes too late.
    let late = yard.post(&path, &[("choice", "refused"), ("reason", "no"), ("from_number", "0")]).await;
    assert_eq!(late.status, StatusCode::CONFLICT, "{}", late.body);
    for (fields, named) in [
        (&[("choice", "refused")][..], "reason"),
        (&[("choice", "postponed")], "until"),
        (&[("choice", "changed")], "on"),
        (&[("choice", "perhaps")], "choice-0"),
        (&[("choice", "postponed"), ("until", "soon")], "until"),
    ] {
        let told = yard.post(&path, fields).await;
        assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY, "{fields:?}");
        assert!(told.body.contains(&format!("href=\"#field-{named}\"")), "{fields:?}: {}", told.body);
    }
    let kept =
        yard.post(&path, &[("choice", "postponed"), ("until", "2026-08-01"), ("from_number", "1")]).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    assert!(yard.get(&path).await.body.contains("Put off until 1 August 2026"));
    let held = yard.snapshot().job(&key).cloned().expect("it is in the book");
    assert_eq!((held.number, held.body.choice), (2, JobChoice::Postponed));
}

#[tokio::test]
async fn done_takes_from_the_shelf_and_is_not_written_twice() {
    let (yard, meal) = with_meal();
    let page = yard.get("/work/own.meal").await.body;
    assert!(page.contains("Amount of Test meal"), "{page}");
    let fields =
        [("done_on", "2026-05-20"), ("amount_1", "6.5 kg"), ("placed", "surface"), ("from_number", "1")];
    let kept = yard.post("/work/own.meal/done", &fields).await;
    assert_eq!((kept.status, kept.header("location")), (StatusCode::SEE_OTHER, "/work/own.meal?done=job"));
    let again = yard.post("/work/own.meal/done", &fields).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(again.body.contains("not written down a second time"), "{}", again.body);
    let snapshot = yard.snapshot();
    assert_eq!(snapshot.applications_of_job("own.meal").count(), 1);
    assert_eq!(snapshot.in_hand(meal).kg, 13.5);
    assert!(yard.get("/work/own.meal").await.body.contains("left on the surface"));
    let none = yard.post("/work/own.meal/done", &[("done_on", ""), ("amount_1", "much")]).await;
    assert_eq!(none.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn a_job_of_one_s_own_is_added_once() {
    let (yard, _) = with_meal();
    let fields = [("what", "Paint the gate"), ("place", "Yard"), ("to", "2026-06-30")];
    let kept = yard.post("/work/new", &fields).await;
    assert_eq!((kept.status, kept.header("location")), (StatusCode::SEE_OTHER, "/work?done=kept"));
    let twice = yard.post("/work/new", &fields).await;
    assert_eq!(twice.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(twice.body.contains("in the plan already") && twice.body.contains("Paint the gate"));
    let wrong = yard.post("/work/new", &[("what", "x"), ("from", "2026-07-01"), ("to", "2026-06-01")]).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.body.contains("href=\"#field-to\""), "{}", wrong.body);
    assert!(yard.get("/work").await.body.contains("Paint the gate"));
}

#[tokio::test]
async fn what_was_spread_and_harvested_is_written_down_and_corrected() {
    let (yard, meal) = with_meal();
    let snapshot = yard.snapshot();
    let plot = snapshot.plot_named("Creek field").expect("it is there").id.to_string();
    let meal_id = meal.to_string();
    let fields = [
        ("plot", plot.as_str()),
        ("material", meal_id.as_str()),
        ("on", "2026-05-19"),
        ("kg", "2 lb 4 oz"),
        ("placed", "side_dressed"),
    ];
    let kept = yard.post("/applications/new", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    let snapshot = yard.snapshot();
    let held = snapshot.applications.last().expect("it is kept");
    // 36 oz of 28.349523125 g.
    assert!((held.body.kg.get() - 1.020_582_832_5).abs() < 1e-9);
    let path = format!("/records/{}/correct", held.id);
    assert!(yard.get(&path).await.body.contains("2 lb 4 oz"));
    let both = [&fields[..], &[("generic", "feather meal")]].concat();
    let told = yard.post("/applications/new", &both).await;
    assert!(told.body.contains("not both"), "{}", told.body);
    let unknown = [&fields[..1], &fields[2..], &[("generic", "moon dust")]].concat();
    let told = yard.post("/applications/new", &unknown).await;
    assert!(told.body.contains("moon dust") && told.body.contains("one of the list"), "{}", told.body);
    let named = [&fields[..1], &fields[2..], &[("generic", "Feather meal")]].concat();
    let kept = yard.post("/applications/new", &named).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    let spread = yard.snapshot().applications.last().map(|held| held.body.spread.clone());
    assert_eq!(spread, Some(SpreadMaterial::Catalogue("feather-meal".to_owned())));
    let none = yard.post("/applications/new", &[("plot", plot.as_str())]).await;
    assert!(none.body.contains("say what was spread"), "{}", none.body);

    let planting = snapshot.plantings.first().expect("something grows").id.to_string();
    let harvest = [("planting", planting.as_str()), ("on", "2026-05-19"), ("kg", "120 lb")];
    let kept = yard.post("/harvests/new", &harvest).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    let snapshot = yard.snapshot();
    let held = snapshot.harvests.last().expect("it is kept");
    assert!((held.body.kg.get() - 54.431_084_4).abs() < 1e-6, "{}", held.body.kg.get());
    assert_eq!(yard.get(&format!("/records/{}/correct", held.id)).await.status, StatusCode::OK);
}
