//! Moisture, rings, a test hole and the layers of the ground.

use book::model::seen::{Moisture, MoistureFeel, MoistureReading, Packing, PackingWords, RingWater};
use book::model::{Seen, UnitSystem};
use ground::kit::Bounded;
use ground::texture::Class;

use super::Rows;
use crate::record::{ABOUT, Bench, keeps};

const US: UnitSystem = UnitSystem::UsCustomary;

#[tokio::test]
async fn moisture_by_feel_is_worded_for_the_ground() {
    let rows = Rows::new(US).await;
    let bench = &rows.bench;
    let path = bench.form("moisture");
    let loam = bench.yard.get(&path).await.body;
    let clay = bench.yard.get(&format!("{path}?ground=clay")).await.body;
    assert!(loam.contains("Worded for loam and silt loam") && clay.contains("Worded for clay loam and clay"));
    // What is known of the plot words it by itself.
    let texture = [
        ("sand_percent", "90"),
        ("silt_percent", "6"),
        ("clay_percent", "4"),
        ("silt_limit", "50 um"),
        ("procedure", "pipette"),
    ];
    bench.record("laboratory", &texture).await;
    assert!(bench.yard.get(&path).await.body.contains("Worded for sand and loamy sand"));

    let bed = rows.bed.to_string();
    bench
        .record(
            "moisture",
            &[("told", "feel"), ("feel", "slightly_moist"), ("bed", &bed), ("from_depth", "6 in")],
        )
        .await;
    let Seen::Moisture(Moisture { bed: seen_in, from_cm, to_cm: None, reading }) = bench.seen() else {
        panic!("moisture")
    };
    assert_eq!((seen_in, from_cm.get()), (Some(rows.bed), 15.24));
    assert_eq!(reading, MoistureReading::Feel(MoistureFeel::SlightlyMoist));
    let (_, form) = rows.correction(bench.latest().id).await;
    assert!(
        keeps(&form, "feel", "slightly_moist")
            && keeps(&form, "from_depth", "6")
            && keeps(&form, "bed", &bed),
        "{form}"
    );
}

#[tokio::test]
async fn moisture_is_read_in_one_way() {
    let bench = Bench::metric().await;
    bench.record("moisture", &[("told", "tension"), ("tension", "33 cb"), ("from_depth", "20")]).await;
    let Seen::Moisture(Moisture { reading: MoistureReading::TensionKpa(tension), .. }) = bench.seen() else {
        panic!("a tension")
    };
    assert_eq!(tension.get(), 33.0, "a centibar is a kilopascal");
    let layer = [("told", "volumetric"), ("volumetric", "22"), ("from_depth", "10"), ("to_depth", "30")];
    bench.record("moisture", &layer).await;
    for (fields, named) in [
        (&[("told", "feel"), ("from_depth", "20")][..], "feel-0"),
        (&[("told", "feel"), ("feel", "wet"), ("tension", "20"), ("from_depth", "20")], "told-0"),
        (&[("told", "volumetric"), ("volumetric", "140 %"), ("from_depth", "20")], "volumetric"),
        (&[("told", "tension"), ("tension", "20")], "from_depth"),
        (&[("told", "tension"), ("tension", "20"), ("from_depth", "30"), ("to_depth", "20")], "to_depth"),
    ] {
        let told = bench.refuse_record("moisture", fields).await;
        assert!(told.contains(&format!("href=\"#field-{named}\"")), "{named}: {told}");
    }
    // A bed of another plot.
    let other = [
        ("told", "feel"),
        ("feel", "wet"),
        ("from_depth", "20"),
        ("bed", "0190163d-8694-739b-aea5-966c26f8ad91"),
    ];
    let fields: Vec<(&str, &str)> = other.iter().chain(&ABOUT).copied().collect();
    let answer = bench.yard.post(&bench.form("moisture"), &fields).await;
    assert!(crate::record::problems(&answer).contains("href=\"#field-bed\""), "{}", answer.body);
    assert_eq!(bench.count().0, 2);
}

#[tokio::test]
async fn rings_say_their_rate_before_they_are_saved() {
    let bench = Bench::us().await;
    let fields = [
        ("inside_diameter", "6"),
        ("depth", "1"),
        ("ring1_first", "4"),
        ("ring1_second", "12"),
        ("ring2_first", "8 min 30 s"),
        ("ring2_second", "1 h"),
        ("ring2_stood", "true"),
    ];
    let look = bench.yard.post(&format!("/api{}/preview", bench.form("ring-infiltration")), &fields).await;
    // An inch in 12 minutes is five inches an hour.
    let says = look.json()["look"]["says"].as_str().unwrap_or_default().to_owned();
    assert!(says.contains("ring 1 5 in/h") && says.contains("ring 2 less than 1 in/h"), "{says}");
    bench.record("ring-infiltration", &fields).await;
    let Seen::RingInfiltration(rings) = bench.seen() else { panic!("rings") };
    assert_eq!(rings.inside_diameter_mm.get(), 152.4);
    assert_eq!(rings.rings.len(), 2);
    assert_eq!(rings.rings[0].water, RingWater::DepthMm(Bounded::literal(25.4)));
    assert_eq!(rings.rings[1].first_min.get(), 8.5);
    assert!(rings.rings[1].still_stood && !rings.rings[0].still_stood);
    let form = bench.yard.get(&format!("/records/{}/correct", bench.latest().id)).await.body;
    assert!(keeps(&form, "ring2_second", "1 h") && keeps(&form, "ring2_stood", "true"), "{form}");
    for (fields, named) in [
        (&[("inside_diameter", "6"), ("ring1_first", "4")][..], "depth"),
        (&[("inside_diameter", "6"), ("depth", "1"), ("volume", "444 mL"), ("ring1_first", "4")], "volume"),
        (&[("inside_diameter", "6"), ("depth", "1")], "ring1_first"),
        (&[("inside_diameter", "6"), ("depth", "1"), ("ring1_second", "9")], "ring1_first"),
        (&[("inside_diameter", "0"), ("depth", "1"), ("ring1_first", "4")], "inside_diameter"),
        (&[("inside_diameter", "6"), ("depth", "1"), ("ring1_first", "0 min")], "ring1_first"),
    ] {
        let told = bench.refuse_record("ring-infiltration", fields).await;
        assert!(told.contains(&format!("href=\"#field-{named}\"")), "{named}: {told}");
    }
}

#[tokio::test]
async fn a_test_hole_carries_its_cautions() {
    let bench = Bench::us().await;
    let form = bench.yard.get(&bench.form("percolation")).await.body;
    assert!(form.contains("licensed work under local codes") && form.contains("pipes and cables"), "{form}");
    let fields = [("fall", "1 in"), ("minutes", "30 min"), ("soaked", "yes"), ("hole_depth", "24")];
    let look = bench.yard.post(&format!("/api{}/preview", bench.form("percolation")), &fields).await;
    assert!(look.json()["look"]["says"].as_str().unwrap_or_default().contains("30 minutes for each inch"));
    bench.record("percolation", &fields).await;
    let Seen::Percolation(hole) = bench.seen() else { panic!("a hole") };
    assert_eq!((hole.fall_mm.get(), hole.minutes.get(), hole.soaked), (25.4, 30.0, true));
    assert_eq!(hole.hole_depth_cm.map(Bounded::get), Some(60.96));
    for (fields, named) in [
        (&[("fall", "0"), ("minutes", "30"), ("soaked", "yes")][..], "fall"),
        (&[("fall", "1"), ("minutes", "30")], "soaked-0"),
        (&[("fall", "1"), ("minutes", "30"), ("soaked", "no"), ("hole_diameter", "10 lb")], "hole_diameter"),
    ] {
        let told = bench.refuse_record("percolation", fields).await;
        assert!(told.contains(&format!("href=\"#field-{named}\"")), "{named}: {told}");
    }
}

#[tokio::test]
async fn layers_begin_where_the_one_above_ends() {
    let bench = Bench::us().await;
    let fields = [
        ("layer1_to", "10 in"),
        ("layer1_class", "sandy loam"),
        ("layer1_packing", "normal"),
        ("layer1_organic", "3"),
        ("layer2_to", "2 ft"),
        ("layer2_sand", "20"),
        ("layer2_clay", "45"),
        ("layer2_stones", "5"),
        ("layer2_note", "rusty spots"),
    ];
    bench.record("layers", &fields).await;
    let Seen::Layers(seen) = bench.seen() else { panic!("layers") };
    let depths: Vec<(f64, f64)> =
        seen.layers.iter().map(|layer| (layer.from_cm.get(), layer.to_cm.get())).collect();
    assert_eq!(depths, [(0.0, 25.4), (25.4, 60.96)]);
    assert_eq!(seen.layers[0].class, Some(Class::SandyLoam));
    assert_eq!(seen.layers[0].packing, Some(Packing::Words(PackingWords::Normal)));
    assert_eq!(seen.layers[1].clay_percent.map(Bounded::get), Some(45.0));
    let form = bench.yard.get(&format!("/records/{}/correct", bench.latest().id)).await.body;
    assert!(keeps(&form, "layer1_class", "sandy loam") && keeps(&form, "layer2_to", "24"), "{form}");
    for (fields, named) in [
        (&[][..], "layer1_to"),
        (&[("layer1_class", "loam")], "layer1_to"),
        (&[("layer1_to", "10"), ("layer3_to", "30")], "layer2_to"),
        (&[("layer1_to", "10"), ("layer2_to", "8")], "layer2_to"),
        (&[("layer1_to", "10"), ("layer1_sand", "40")], "layer1_clay"),
        (&[("layer1_to", "10"), ("layer1_sand", "70"), ("layer1_clay", "50")], "layer1_clay"),
        (
            &[("layer1_to", "10"), ("layer1_class", "loam"), ("layer1_sand", "40"), ("layer1_clay", "20")],
            "layer1_class",
        ),
        (&[("layer1_to", "10"), ("layer1_stones", "98")], "layer1_stones"),
    ] {
        let told = bench.refuse_record("layers", fields).await;
        assert!(told.contains(&format!("href=\"#field-{named}\"")), "{named}: {told}");
    }
    // A list cannot show an answer that it does not have; it is told.
    let fields: Vec<(&str, &str)> =
        [("layer1_to", "10"), ("layer1_class", "mud")].into_iter().chain(ABOUT).collect();
    let answer = bench.yard.post(&bench.form("layers"), &fields).await;
    assert!(crate::record::problems(&answer).contains("mud"), "{}", answer.body);
    assert_eq!(bench.count(), (1, 0));
}
