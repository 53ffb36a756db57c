//! Plantings, watering systems, water supplies, waterings and crops of the farm's own.

use axum::http::StatusCode;
use book::model::{Delivery, MulchKind, PlantedCrop, PlantedHow, UnitSystem, WateringAmount};
use ground::kit::Bounded;
use jiff::civil::date;

use super::Rows;
use crate::record::keeps;

const US: UnitSystem = UnitSystem::UsCustomary;

#[tokio::test]
async fn a_planting_is_written_down_shown_and_corrected() {
    let rows = Rows::new(US).await;
    let fields = [
        ("crop", "Sweet corn"),
        ("planted_on", "2026-05-10"),
        ("how", "sown"),
        ("harvest_on", "2026-08-20"),
        ("mulch", "plastic"),
        ("mulch_covered", "80"),
        ("note", "second sowing"),
    ];
    rows.keep("/plantings/new", &fields).await;
    let held = rows.bench.yard.snapshot().plantings[0].clone();
    assert_eq!(held.body.crop, PlantedCrop::Catalogue("sweet-corn".to_owned()));
    assert_eq!((held.body.how, held.body.harvest_on), (PlantedHow::Sown, Some(date(2026, 8, 20))));
    let mulch = held.body.mulch.expect("a mulch");
    assert_eq!((mulch.of, mulch.covered_percent.get()), (MulchKind::Plastic, 80.0));
    let page = rows.page().await;
    assert!(page.contains("Sweet corn, sown 10 May 2026, harvest until 20 August 2026"), "{page}");

    let (path, form) = rows.correction(held.id).await;
    for (name, text) in [("crop", "sweet corn"), ("planted_on", "2026-05-10"), ("mulch_covered", "80")] {
        assert!(keeps(&form, name, text), "{name}: {form}");
    }
    let bed = rows.bed.to_string();
    let changed = [
        ("bed", bed.as_str()),
        ("crop", "sweet corn"),
        ("planted_on", "2026-05-10"),
        ("how", "sown"),
        ("ended_on", "2026-08-24"),
        ("reason", "cleared"),
        ("from_number", "1"),
    ];
    rows.bench.keep(&path, &changed).await;
    let held = rows.bench.yard.snapshot().plantings[0].clone();
    assert_eq!((held.number, held.body.ended_on, held.body.mulch), (2, Some(date(2026, 8, 24)), None));
    assert_eq!(held.body.crop, PlantedCrop::Catalogue("sweet-corn".to_owned()));
    let history = rows.bench.yard.get(&format!("/records/{}/history", held.id)).await;
    assert!(history.body.contains("Ended on") && history.body.contains("24 August 2026"), "{}", history.body);
}

#[tokio::test]
async fn a_planting_that_cannot_be_is_refused() {
    let rows = Rows::new(US).await;
    let base = [("crop", "tomato"), ("planted_on", "2026-06-10"), ("how", "transplanted")];
    let with = |more: &[(&'static str, &'static str)]| [&base[..], more].concat();
    let path = "/plantings/new";
    let told = rows.refuse(path, &with(&[("harvest_on", "2026-06-01")]), "harvest_on").await;
    assert!(told.contains("before the day it was planted, 10 June 2026"), "{told}");
    rows.refuse(path, &with(&[("ended_on", "2026-05-01")]), "ended_on").await;
    rows.refuse(path, &with(&[("ended_on", "2026-13-01")]), "ended_on").await;
    rows.refuse(path, &with(&[("mulch", "plastic")]), "mulch_covered").await;
    rows.refuse(path, &with(&[("mulch_covered", "80")]), "mulch").await;
    rows.refuse(path, &with(&[("mulch", "organic"), ("mulch_covered", "180")]), "mulch_covered").await;
    rows.refuse(path, &base[1..], "crop").await;
    let told = rows
        .refuse(path, &[("crop", "tomatoe"), ("planted_on", "2026-06-10"), ("how", "sown")], "crop")
        .await;
    assert!(told.contains("the nearest are") && told.contains("tomato"), "{told}");
    rows.refuse(path, &[("crop", "??"), ("planted_on", "2026-06-10"), ("how", "sown")], "crop").await;
    rows.refuse(path, &[("crop", "tomato"), ("planted_on", ""), ("how", "sown")], "planted_on").await;
    assert!(rows.bench.yard.snapshot().plantings.is_empty());
    // A bed that is not there.
    let nowhere = [("bed", "0190163d-8694-739b-aea5-966c26f8ad91")];
    let answer = rows.bench.yard.post(path, &[&nowhere[..], &base[..]].concat()).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.body.contains("href=\"#field-bed\""), "{}", answer.body);
}

#[tokio::test]
async fn a_crop_of_the_farms_own_is_added_and_planted() {
    let rows = Rows::new(US).await;
    let bench = &rows.bench;
    let told = bench.refuse("/crops/new", &[("name", "Orach"), ("kc_mid", "1.1")]).await;
    assert!(told.contains("href=\"#field-kc_initial\"") && told.contains("While it is small"), "{told}");
    bench.refuse("/crops/new", &[("name", "Orach"), ("key", "lettuce"), ("kc_mid", "7")]).await;
    bench.refuse("/crops/new", &[("name", "Orach"), ("key", "lettuce"), ("mid_days", "2000")]).await;
    bench.refuse("/crops/new", &[("name", "Orach"), ("key", "lettuce"), ("mid_days", "a month")]).await;
    let fields =
        [("name", "Orach"), ("key", "Lettuce"), ("root_depth_m", "18 in"), ("depletion_fraction", "0.35")];
    assert_eq!(bench.keep("/crops/new", &fields).await, "/?done=kept");
    let crop = bench.yard.snapshot().crops[0].clone();
    assert_eq!(crop.body.key.as_deref(), Some("lettuce"));
    // 18 in of 25.4 mm.
    assert_eq!(crop.body.root_depth_m.map(Bounded::get), Some(0.4572));
    let farm = bench.yard.get("/").await.body;
    assert!(farm.contains("Orach, after lettuce"), "{farm}");

    let id = crop.id.to_string();
    let path = format!("/plantings/new?bed={}", rows.bed);
    let form = bench.yard.get(&path).await.body;
    assert!(form.contains(&format!("<option value=\"{id}\">Orach</option>")), "{form}");
    assert!(keeps(&form, "bed", &rows.bed.to_string()));
    rows.keep("/plantings/new", &[("farm_crop", &id), ("planted_on", "2026-05-01"), ("how", "sown")]).await;
    assert_eq!(bench.yard.snapshot().plantings[0].body.crop, PlantedCrop::FarmCrop(crop.id));
    let both = [("crop", "kale"), ("farm_crop", id.as_str()), ("planted_on", "2026-05-01"), ("how", "sown")];
    rows.refuse("/plantings/new", &both, "crop").await;
}

#[tokio::test]
async fn drip_tape_is_taken_as_the_roll_prints_it() {
    let rows = Rows::new(US).await;
    let path = "/watering-systems/new";
    // 1 gpm over 100 ft is 60 × 3.785 411 784 L/h over 30.48 m: the US gallon and the foot.
    let tape = 0.45 * 60.0 * 3.785_411_784 / 30.48;
    for (typed, flow) in
        [("0.45", tape), ("27 gph/100 ft", tape), ("0.45 gpm per 100 ft", tape), ("5 L/h/m", 5.0)]
    {
        rows.keep(path, &[("delivery", "drip_tape"), ("tape_flow", typed), ("tape_lines", "2")]).await;
        let snapshot = rows.bench.yard.snapshot();
        let Delivery::DripTape { flow_l_h_per_m, lines } =
            snapshot.watering_systems.last().unwrap().body.delivery
        else {
            panic!("a tape")
        };
        assert!((flow_l_h_per_m.get() - flow).abs() < 1e-9, "{typed}: {}", flow_l_h_per_m.get());
        assert_eq!(lines, 2);
    }
    let page = rows.page().await;
    assert!(page.contains("Watered by drip tape, 2 lines of"), "{page}");
    let latest = rows.bench.yard.snapshot().watering_systems[0].clone();
    let (_, form) = rows.correction(latest.id).await;
    assert!(keeps(&form, "tape_flow", "0.45") && keeps(&form, "delivery", "drip_tape"), "{form}");
}

#[tokio::test]
async fn a_watering_system_that_cannot_be_is_refused() {
    let rows = Rows::new(UnitSystem::Metric).await;
    let path = "/watering-systems/new";
    let emitters = |flow: &'static str| {
        [
            ("delivery", "emitters"),
            ("emitter_flow", flow),
            ("emitter_spacing", "30 cm"),
            ("emitter_lines", "2"),
        ]
    };
    let told = rows.refuse(path, &emitters("0"), "emitter_flow").await;
    assert!(told.contains("flow of an emitter must be 0.05 to 500 L/h"), "{told}");
    rows.refuse(path, &emitters("2 mm"), "emitter_flow").await;
    rows.refuse(path, &[("delivery", "drip_tape"), ("tape_flow", "5")], "tape_lines").await;
    let none = [("delivery", "drip_tape"), ("tape_flow", "5"), ("tape_lines", "0")];
    rows.refuse(path, &none, "tape_lines").await;
    rows.refuse(path, &[("delivery", "sprinkler")], "sprinkler_rate").await;
    rows.refuse(path, &[("delivery", "hand"), ("sprinkler_rate", "8")], "delivery-0").await;
    rows.refuse(
        path,
        &[("delivery", "sprinkler"), ("sprinkler_rate", "8"), ("efficiency_percent", "0")],
        "efficiency_percent",
    )
    .await;
    rows.refuse(path, &[("tape_flow", "5")], "delivery-0").await;
    assert!(rows.bench.yard.snapshot().watering_systems.is_empty());
    rows.keep(path, &emitters("2")).await;
    rows.keep(path, &[("delivery", "hand")]).await;
    assert!(rows.page().await.contains("Watered by hose or can"));
}

#[tokio::test]
async fn a_water_supply_is_added_and_chosen() {
    let rows = Rows::new(US).await;
    let bench = &rows.bench;
    bench.refuse("/water-supplies/new", &[("name", ""), ("flow_l_min", "6 gpm")]).await;
    bench.refuse("/water-supplies/new", &[("name", "Well"), ("sodium_mg_l", "-4")]).await;
    bench.refuse("/water-supplies/new", &[("name", "Well"), ("flow_l_min", "a lot")]).await;
    let fields = [
        ("name", "Well"),
        ("flow_l_min", "6"),
        ("ec_ds_m", "800 uS/cm"),
        ("calcium_mg_l", "60 ppm"),
        ("sodium_mg_l", "46"),
    ];
    bench.keep("/water-supplies/new", &fields).await;
    let well = bench.yard.snapshot().water_supplies[0].clone();
    assert!((well.body.flow_l_min.unwrap().get() - 6.0 * 3.785_411_784).abs() < 1e-9);
    assert_eq!(well.body.ec_ds_m.map(Bounded::get), Some(0.8));
    assert_eq!(well.body.calcium_mg_l.map(Bounded::get), Some(60.0));
    let id = well.id.to_string();
    rows.keep("/watering-systems/new", &[("delivery", "hand"), ("supply", &id)]).await;
    assert_eq!(bench.yard.snapshot().watering_systems[0].body.supply, Some(well.id));
    let (_, form) = rows.correction(well.id).await;
    assert!(keeps(&form, "flow_l_min", "6") && keeps(&form, "calcium_mg_l", "60"), "{form}");
}

#[tokio::test]
async fn a_watering_is_written_down_at_a_touch_the_second_time() {
    let rows = Rows::new(US).await;
    let path = "/waterings/new";
    assert!(!rows.page().await.contains("I watered it today"));
    rows.refuse(path, &[("on", "2026-05-20")], "minutes").await;
    rows.refuse(path, &[("on", "2026-05-20"), ("minutes", "45"), ("depth", "1 in")], "depth").await;
    rows.refuse(path, &[("on", "2026-05-20"), ("minutes", "a while")], "minutes").await;
    rows.refuse(path, &[("on", "2026-05-20"), ("minutes", "0")], "minutes").await;
    rows.refuse(path, &[("on", "soon"), ("volume", "24 gal")], "on").await;
    rows.keep(path, &[("on", "2026-05-18"), ("minutes", "1 h 15 min")]).await;
    rows.keep(path, &[("on", "2026-05-19"), ("depth", "0.5")]).await;
    rows.keep(path, &[("on", "2026-05-19"), ("volume", "24")]).await;
    let given: Vec<WateringAmount> =
        rows.bench.yard.snapshot().waterings.iter().map(|watering| watering.body.amount).collect();
    let [WateringAmount::Minutes(minutes), WateringAmount::DepthMm(depth), WateringAmount::VolumeL(volume)] =
        given[..]
    else {
        panic!("{given:?}")
    };
    // The hour of 60 minutes, the inch and the US gallon.
    assert_eq!((minutes.get(), depth.get()), (75.0, 12.7));
    assert!((volume.get() - 24.0 * 3.785_411_784).abs() < 1e-9);

    let page = rows.page().await;
    assert!(page.contains("1 h 15 min</button>") && page.contains("value=\"2026-05-21\""), "{page}");
    rows.keep(path, &[("on", "2026-05-21"), ("minutes", "1 h 15 min")]).await;
    let latest = rows.bench.yard.snapshot().waterings.last().unwrap().body.clone();
    assert_eq!(
        (latest.on, latest.amount),
        (date(2026, 5, 21), WateringAmount::Minutes(Bounded::literal(75.0)))
    );
    // The form itself comes with the day and the usual minutes.
    let form = rows.bench.yard.get(&format!("{path}?bed={}", rows.bed)).await.body;
    assert!(keeps(&form, "minutes", "1 h 15 min") && keeps(&form, "on", "2026-05-21"), "{form}");
}
