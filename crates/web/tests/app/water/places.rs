//! What the farm and its plots say of their weather: height, sea, dry country, covers.

use axum::http::StatusCode;
use book::model::UnitSystem;
use ground::kit::Bounded;

use crate::common::Yard;
use crate::record::{keeps, problems};

#[tokio::test]
async fn the_farm_says_how_high_and_how_dry_it_lies() {
    let yard = Yard::empty_in(UnitSystem::UsCustomary);
    let base = [("name", "Long Furrow Farm"), ("units", "us_customary")];
    let with = |more: &[(&'static str, &'static str)]| [&base[..], more].concat();
    let kept =
        yard.post("/settings", &with(&[("elevation_m", "800"), ("coastal", "no"), ("arid", "yes")])).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    let farm = yard.snapshot().farm.body.clone();
    // 800 ft of 0.3048 m.
    assert_eq!(farm.elevation_m.map(Bounded::get), Some(243.84));
    assert_eq!((farm.coastal, farm.arid), (Some(false), Some(true)));
    let form = yard.get("/settings").await.body;
    assert!(keeps(&form, "elevation_m", "800") && keeps(&form, "arid", "yes"), "{form}");
    // Land below the sea; and what was said is taken back.
    let kept = yard.post("/settings", &with(&[("elevation_m", "-100 m")])).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    let farm = yard.snapshot().farm.body.clone();
    assert_eq!((farm.elevation_m.map(Bounded::get), farm.arid), (Some(-100.0), None));
    let before = yard.snapshot().mark;
    for (name, text) in
        [("elevation_m", "-2000 m"), ("elevation_m", "30000"), ("elevation_m", "high"), ("arid", "rather")]
    {
        let answer = yard.post("/settings", &with(&[(name, text)])).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{name} {text}");
        assert!(problems(&answer).contains(&format!("href=\"#field-{name}\"")), "{}", problems(&answer));
        assert!(name == "arid" || keeps(&answer.body, name, text), "{text} is lost");
    }
    assert_eq!(yard.snapshot().mark, before);
}

#[tokio::test]
async fn a_tunnel_says_what_its_cover_does() {
    let yard = Yard::empty();
    let base = [("name", "East tunnel"), ("place", "high_tunnel"), ("area_m2", "300")];
    let with = |more: &[(&'static str, &'static str)]| [&base[..], more].concat();
    let factors = [("shaded", "true"), ("cover_low", "0.6"), ("cover_likely", "0.7"), ("cover_high", "0.85")];
    for (more, named) in [
        (&[("cover_likely", "0.7")][..], "cover_low"),
        (&[("cover_low", "0.8"), ("cover_likely", "0.7"), ("cover_high", "0.9")], "cover_likely"),
        (&[("cover_low", "0.6"), ("cover_likely", "0.7"), ("cover_high", "0.65")], "cover_high"),
        (&[("cover_low", "0.6"), ("cover_likely", "0.7"), ("cover_high", "7")], "cover_high"),
    ] {
        let answer = yard.post("/plots/new", &with(more)).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{named}");
        assert!(problems(&answer).contains(&format!("href=\"#field-{named}\"")), "{}", problems(&answer));
        assert!(more.iter().all(|(name, text)| keeps(&answer.body, name, text)), "{}", answer.body);
    }
    let open = [("name", "Field"), ("place", "open_field"), ("area_m2", "300"), ("cover_low", "0.6")];
    let answer = yard.post("/plots/new", &open).await;
    assert!(problems(&answer).contains("this plot lies under none"), "{}", problems(&answer));

    let kept = yard.post("/plots/new", &with(&factors)).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    let held = yard.snapshot().plots[0].clone();
    let cover = held.body.cover.expect("a cover");
    let factor = cover.et0_factor.expect("a factor");
    assert!(cover.shaded);
    assert_eq!((factor.low.get(), factor.likely.get(), factor.high.get()), (0.6, 0.7, 0.85));
    let path = format!("/records/{}/correct", held.id);
    let form = yard.get(&path).await.body;
    assert!(keeps(&form, "cover_high", "0.85") && keeps(&form, "shaded", "true"), "{form}");
    // The cover is taken off.
    let mut fields = base.to_vec();
    fields[1].1 = "open_field";
    fields.extend([("reason", "plastic is off"), ("from_number", "1")]);
    let kept = yard.post(&path, &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    assert_eq!(yard.snapshot().plots[0].body.cover, None);
}
