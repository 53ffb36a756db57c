//! Covers: written down, chosen by a plain form, ended, and what the pages say of them.

use axum::http::StatusCode;
use book::model::{CoverBiomass, CoverEnding, UnitSystem};
use ground::covers::mix::Sowing;
use ground::covers::nitrogen::Stage;
use ground::kit::Bounded;

use crate::common::Yard;
use crate::water::Rows;

const SOWN: [(&str, &str); 7] = [
    ("cover_1", "oats"),
    ("rate_1", "70 lb/acre"),
    ("cover_2", "pea-spring"),
    ("rate_2", "6 g/m2"),
    ("sown_on", "2026-08-10"),
    ("sown", "broadcast"),
    ("end_by", "2027-04-20"),
];

#[tokio::test]
async fn a_mix_is_written_down_corrected_and_ended() {
    let rows = Rows::new(UnitSystem::UsCustomary).await;
    rows.keep("/cover-crops/new", &SOWN).await;
    let held = rows.bench.yard.snapshot().covers[0].clone();
    let kg_ha: Vec<f64> =
        held.body.seeds.iter().filter_map(|seed| seed.rate_kg_ha.map(Bounded::get)).collect();
    // 1 lb/acre is 1.120851 kg/ha, 1 g/m² is 10 kg/ha.
    assert!((kg_ha[0] - 78.459_57).abs() < 1e-4 && (kg_ha[1] - 60.0).abs() < 1e-9, "{kg_ha:?}");
    assert_eq!(held.body.sown, Sowing::Broadcast);
    let page = rows.page().await;
    assert!(page.contains("spring oats and spring field pea") && page.contains("Choose a cover"), "{page}");
    // A correction that changes nothing but the note keeps the rates to the last digit.
    let (path, form) = rows.correction(held.id).await;
    assert!(form.contains("70 lb/acre") && form.contains("value=\"2027-04-20\""), "{form}");
    let mut fields: Vec<(&str, &str)> = SOWN.to_vec();
    fields[3].1 = "53.53 lb/acre";
    fields.extend([("note", "came up well"), ("reason", "walked past")]);
    rows.keep_correction(&path, &fields).await;
    let again = rows.bench.yard.snapshot().covers[0].clone();
    assert_eq!((&again.body.seeds, again.number), (&held.body.seeds, 2));

    let end = format!("/covers/{}/end", held.id);
    let form = rows.bench.yard.get(&end).await;
    assert_eq!(form.status, StatusCode::OK, "{}", form.body);
    let fields = [
        ("ended_on", "2027-04-18"),
        ("ended_how", "turned_in"),
        ("stage", "before_bloom"),
        ("cut_kg", "3 lb"),
        ("cut_area_m2", "10 sq ft"),
    ];
    // Named at its field, nothing stored.
    for (fields, named) in [
        (&[("ended_on", "2027-04-18")][..], "ended_how"),
        (&[("ended_how", "mown")][..], "ended_on"),
        (&[][..], "ended_on"),
        (&[("ended_on", "2026-08-01"), ("ended_how", "mown")][..], "ended_on"),
        (&[("ended_on", "2027-04-18"), ("ended_how", "mown"), ("cut_kg", "2 lb")][..], "cut_area_m2"),
        (
            &[
                ("ended_on", "2027-04-18"),
                ("ended_how", "mown"),
                ("height_cm", "20 in"),
                ("cover_percent", "90"),
            ][..],
            "stage",
        ),
    ] {
        let told = rows.bench.yard.post(&end, fields).await;
        assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY, "{fields:?}");
        // Of a field with answers in sight the first answer is meant.
        assert!(told.body.contains(&format!("href=\"#field-{named}")), "{fields:?} {}", told.body);
    }
    let kept = rows.bench.yard.post(&end, &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    let body = rows.bench.yard.snapshot().covers[0].body.clone();
    assert_eq!(body.ended.map(|end| end.how), Some(CoverEnding::TurnedIn));
    let stand = body.stand.expect("a stand");
    assert_eq!(stand.stage, Stage::BeforeBloom);
    let Some(CoverBiomass::Cut { kg, area_m2, dried: false }) = stand.biomass else { panic!("{stand:?}") };
    // 1 lb is 0.45359237 kg, 1 ft² is 0.09290304 m², both exact.
    assert!((kg.get() - 3.0 * 0.453_592_37).abs() < 1e-9 && (area_m2.get() - 0.929_030_4).abs() < 1e-9);
    let history = rows.bench.yard.get(&format!("/records/{}/history", held.id)).await.body;
    assert!(history.contains("turned in") && history.contains("What stood"), "{history}");
}

#[tokio::test]
async fn what_is_no_cover_is_refused_at_its_field() {
    let rows = Rows::new(UnitSystem::Metric).await;
    let path = "/cover-crops/new";
    let with = |name: &'static str, text: &'static str| -> Vec<(&str, &str)> {
        SOWN.iter().map(|(field, was)| (*field, if *field == name { text } else { *was })).collect()
    };
    // A list offers only what there is: this is what a program may send.
    let bed = rows.bed.to_string();
    let mut fields = with("cover_1", "clover of the moon");
    fields.push(("bed", bed.as_str()));
    let told = rows.bench.yard.post(&format!("/api{path}"), &fields).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", told.body);
    assert!(told.body.contains("no cover is called") && told.body.contains("cover_1"), "{}", told.body);
    rows.refuse(path, &with("cover_2", "oats"), "cover_2").await;
    rows.refuse(path, &with("cover_2", ""), "cover_2").await;
    rows.refuse(path, &with("rate_1", "a lot"), "rate_1").await;
    rows.refuse(path, &with("sown_on", "soon"), "sown_on").await;
    rows.refuse(path, &with("end_by", "2026-08-01"), "end_by").await;
}

#[tokio::test]
async fn a_cover_is_chosen_for_a_gap_without_script() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let bed = snapshot.beds.iter().find(|bed| bed.body.name == "Trial bed").expect("it is there").id;
    let query = "from=2027-08-01&to=2027-09-16&purpose=cover_quickly&purpose=smother";
    let page = yard.get(&format!("/beds/{bed}/covers?{query}")).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    for part in [
        "Buckwheat",
        "For it:",
        "Against it:",
        "Sow this",
        "Ruled out",
        "Take care",
        "Seed:",
        "nine times of ten",
    ] {
        assert!(page.body.contains(part), "no {part}: {}", page.body);
    }
    assert!(
        page.body.contains(&format!("/cover-crops/new?bed={bed}&#38;cover_1=buckwheat")),
        "{}",
        page.body
    );
    let twin = yard.get(&format!("/api/beds/{bed}/covers?{query}")).await.json();
    assert!(twin["best"].as_array().is_some_and(|best| best.iter().any(|key| key == "buckwheat")), "{twin}");
    assert_eq!(twin["covers"].as_array().map(Vec::len), Some(35));
    assert_eq!(twin["gap"]["days"], 46);
    // Seed is handed on as the farm weighs it, on a farm that thinks in pounds.
    assert!(page.body.contains("lb%2Facre") && !page.body.contains("kg%2Fha"), "{}", page.body);
    assert!(page.body.contains("of live seed"), "{}", page.body);
    // The form that it leads to is filled in.
    let sow = format!(
        "/cover-crops/new?bed={bed}&cover_1=buckwheat&rate_1=80+kg%2Fha&sown_on=2027-08-01&sown=broadcast"
    );
    let form = yard.get(&sow).await.body;
    assert!(form.contains("value=\"80 kg/ha\"") && form.contains("value=\"buckwheat\" selected"), "{form}");
    // What cannot be is told at its field, the rest is answered.
    let vain = yard.get(&format!("/beds/{bed}/covers?from=2027-09-16&to=2027-08-01")).await;
    assert_eq!(vain.status, StatusCode::OK);
    assert!(
        vain.body.contains("href=\"#field-to\"") && vain.body.contains("The best of the table"),
        "{}",
        vain.body
    );
    let none = yard.get("/beds/0190163d-8694-739b-aea5-966c26f8ad91/covers").await;
    assert_eq!(none.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_calendar_shows_crops_covers_gaps_and_what_is_left() {
    let yard = Yard::demo();
    let page = yard.get("/covers").await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    for part in [
        "<svg",
        "Gaps",
        "Choose a cover",
        "What ended covers leave",
        "cereal rye and hairy vetch",
        "of nitrogen",
    ] {
        assert!(page.body.contains(part), "no {part}: {}", page.body);
    }
    let twin = yard.get("/api/covers").await.json();
    assert!(twin["ended"][0]["released_kg_ha"][1].as_f64().is_some_and(|kg| kg > 10.0), "{twin}");
    let empty = Yard::empty().get("/covers").await;
    assert!(empty.body.contains("No bed is written down yet"), "{}", empty.body);
}

#[tokio::test]
async fn the_settings_keep_the_means_at_hand_and_the_winter() {
    let rows = Rows::new(UnitSystem::UsCustomary).await;
    let name = rows.bench.yard.snapshot().farm.body.name.clone();
    let fields = [
        ("name", name.as_str()),
        ("units", "us_customary"),
        ("winter_low_c", "-10 F"),
        ("cover_endings", "mow"),
        ("cover_endings", "cover_up"),
        ("grazing", "horses"),
    ];
    let kept = rows.bench.yard.post("/settings", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    let farm = rows.bench.yard.snapshot().farm.body.clone();
    // (-10 °F - 32) / 1.8, exact by definition.
    assert!((farm.winter_low_c.map_or(0.0, Bounded::get) - (-42.0 / 1.8)).abs() < 1e-9);
    assert_eq!((farm.cover_endings.len(), farm.grazing.len()), (2, 1));
    let page = rows.bench.yard.get("/settings").await.body;
    assert!(
        page.contains("value=\"cover_up\" checked") && page.contains("value=\"horses\" checked"),
        "{page}"
    );
}

/// Two people end one cover: the later one is told, and what the form shows empty is gone.
#[tokio::test]
async fn a_cover_that_someone_else_ended_is_not_written_over() {
    let rows = Rows::new(UnitSystem::UsCustomary).await;
    rows.keep("/cover-crops/new", &SOWN).await;
    let yard = &rows.bench.yard;
    let end = format!("/covers/{}/end", yard.snapshot().covers[0].id);
    let form = yard.get(&end).await.body;
    assert!(crate::record::keeps(&form, "from_number", "1"), "{form}");
    let mine = [
        ("ended_on", "2027-04-18"),
        ("ended_how", "mown"),
        ("stage", "before_bloom"),
        ("cut_kg", "3 lb"),
        ("cut_area_m2", "10 sq ft"),
        ("from_number", "1"),
    ];
    assert_eq!(yard.post(&end, &mine).await.status, StatusCode::SEE_OTHER);
    let mut yours = mine;
    yours[1].1 = "turned_in";
    let late = yard.post(&end, &yours).await;
    assert_eq!(late.status, StatusCode::CONFLICT, "{}", late.body);
    assert!(late.body.contains("changed since you opened it"), "{}", late.body);
    assert!(crate::record::keeps(&late.body, "from_number", "2"), "saving again is knowing: {}", late.body);
    assert_eq!(yard.snapshot().covers[0].body.ended.map(|end| end.how), Some(CoverEnding::Mown));
    // A program that speaks of the end alone leaves what stood.
    let alone = [("ended_on", "2027-04-18"), ("ended_how", "turned_in")];
    assert_eq!(yard.post(&end, &alone).await.status, StatusCode::SEE_OTHER);
    assert!(yard.snapshot().covers[0].body.stand.is_some());
    let cleared =
        [&alone[..], &[("stage", ""), ("cut_kg", ""), ("cut_area_m2", ""), ("from_number", "3")]].concat();
    let told = yard.post(&end, &cleared).await;
    assert_eq!(told.status, StatusCode::SEE_OTHER, "{}", told.body);
    assert_eq!(yard.snapshot().covers[0].body.stand, None);
}
