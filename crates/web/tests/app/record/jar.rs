//! A jar that has settled.

use book::model::Seen;
use ground::kit::Bounded;
use ground::texture::jar::{Boundary, JarReading, JarShape, Marks};

use super::{ABOUT, Bench};

const WATER: [(&str, &str); 2] = [("water_after_a_day", "cloudy"), ("dispersant", "dishwasher_powder")];

fn jar(bench: &Bench) -> JarReading {
    match bench.seen() {
        Seen::Jar(jar) => {
            assert!(jar.finished);
            jar.reading
        }
        other => panic!("{other:?} is no jar"),
    }
}

fn with<'a>(fields: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    fields.iter().chain(&WATER).copied().collect()
}

#[tokio::test]
async fn each_boundary_may_be_sharp_a_range_or_not_seen() {
    let bench = Bench::us().await;
    let onward = bench
        .record(
            "jar",
            &with(&[
                ("read_as", "thicknesses"),
                ("sand", "2 3/16"),
                ("silt", "11/16 to 13/16 in"),
                ("clay", "could not see it"),
                ("water_height", "7 1/4 in"),
                ("water_temperature", "68"),
                ("ruler_step", "1/16"),
                ("shape", "straight"),
            ]),
        )
        .await;
    let read = jar(&bench);
    let Marks::Thicknesses { sand, silt, clay } = read.marks else { panic!("thicknesses") };
    let Boundary::At { mm } = sand else { panic!("{sand:?}") };
    assert_eq!(mm.get(), 55.562_5, "2 3/16 in of 25.4 mm");
    let Boundary::Between { low_mm, high_mm } = silt else { panic!("{silt:?}") };
    assert!((low_mm.get() - 17.462_5).abs() < 1e-9 && (high_mm.get() - 20.637_5).abs() < 1e-9);
    assert_eq!(clay, Boundary::No);
    assert_eq!(read.water_temperature_c.map(Bounded::get), Some(20.0));
    assert_eq!(read.shape, JarShape::Straight);
    let page = bench.yard.get(&onward).await;
    assert!(page.body.contains("The clay was not seen"), "what is weak is told at once");
}

#[tokio::test]
async fn heights_above_the_floor_must_rise() {
    let bench = Bench::metric().await;
    let fields = with(&[
        ("read_as", "heights"),
        ("sand", "34"),
        ("silt", "58"),
        ("clay", "70 to 75"),
        ("shape", "straight"),
    ]);
    bench.record("jar", &fields).await;
    assert!(matches!(jar(&bench).marks, Marks::Heights { .. }));
    let fields = with(&[
        ("read_as", "heights"),
        ("sand", "34"),
        ("silt", "20"),
        ("clay", "70"),
        ("shape", "straight"),
    ]);
    let told = bench.refuse_record("jar", &fields).await;
    assert!(told.contains("#field-silt"), "{told}");
}

#[tokio::test]
async fn water_below_the_soil_is_refused_at_its_field() {
    let bench = Bench::metric().await;
    let fields = with(&[
        ("read_as", "thicknesses"),
        ("sand", "34"),
        ("silt", "24"),
        ("clay", "14"),
        ("water_height", "60"),
        ("shape", "straight"),
    ]);
    let told = bench.refuse_record("jar", &fields).await;
    assert!(told.contains("#field-water_height"), "{told}");
}

#[tokio::test]
async fn a_jar_that_is_not_straight_is_measured() {
    let bench = Bench::us().await;
    let layers = [("read_as", "thicknesses"), ("sand", "1"), ("silt", "3/4"), ("clay", "1/2")];
    let mut fields = with(&layers);
    fields.extend([
        ("shape", "widths"),
        ("width_height_1", "0"),
        ("width_across_1", "2 3/4"),
        ("width_height_2", "6"),
        ("width_across_2", "3 in"),
    ]);
    bench.record("jar", &fields).await;
    let JarShape::Widths { at } = jar(&bench).shape else { panic!("widths") };
    assert_eq!(at.len(), 2);
    assert!((at[1].height_mm.get() - 152.4).abs() < 1e-9 && (at[0].diameter_mm.get() - 69.85).abs() < 1e-9);

    let mut fields = with(&layers);
    fields.extend([
        ("shape", "poured"),
        ("fill_height_1", "2"),
        ("fill_volume_1", "8 fl oz"),
        ("fill_height_2", "4"),
        ("fill_volume_2", "2 cups"),
    ]);
    bench.record("jar", &fields).await;
    let JarShape::Poured { fills } = jar(&bench).shape else { panic!("poured") };
    // A US cup is 8 fluid ounces, the gallon of 128 of them 231 cubic inches of 25.4 mm, all exact.
    let cup_ml = 231.0 * 16.387_064 / 16.0;
    assert!((fills[1].volume_ml.get() - 2.0 * cup_ml).abs() < 1e-6, "{fills:?}");

    for (more, at) in [
        (&[("shape", "widths")][..], "field-width_height_1"),
        (&[("shape", "widths"), ("width_height_1", "2")], "field-width_across_1"),
        (&[("shape", "straight"), ("width_height_1", "2"), ("width_across_1", "3")], "field-shape"),
    ] {
        let mut fields = with(&layers);
        fields.extend(more);
        let told = bench.refuse_record("jar", &fields).await;
        assert!(told.contains(at), "{at}: {told}");
    }
}

#[tokio::test]
async fn nonsense_is_told_all_at_once() {
    let bench = Bench::us().await;
    let told = bench
        .refuse_record(
            "jar",
            &[
                ("read_as", "thicknesses"),
                ("sand", "two"),
                ("silt", "about 1/2"),
                ("clay", "9 ft"),
                ("water_temperature", "-40 F"),
                ("shape", "straight"),
            ],
        )
        .await;
    for field in ["sand", "silt", "clay", "water_temperature", "dispersant-0", "water_after_a_day-0"] {
        assert!(told.contains(&format!("#field-{field}")), "{field}: {told}");
    }
}

#[tokio::test]
async fn a_us_farm_is_told_in_inches() {
    let bench = Bench::us().await;
    let fields =
        with(&[("read_as", "heights"), ("sand", "2"), ("silt", "1"), ("clay", "3"), ("shape", "straight")]);
    let told = bench.refuse_record("jar", &fields).await;
    assert!(told.contains("this top at 1 in is below the one before it at 2 in"), "{told}");
    assert!(!told.contains("25.4 mm"));
}

#[tokio::test]
async fn a_day_that_has_not_come_is_refused() {
    let bench = Bench::us().await;
    let mut fields = with(&[("read_as", "thicknesses"), ("sand", "1"), ("silt", "1"), ("clay", "1")]);
    fields.extend([("shape", "straight"), ("sample", "plot"), ("seen_on", "9999-01-01")]);
    let told = bench.refuse(&bench.form("jar"), &fields).await;
    assert!(told.contains("9999-01-01 has not come yet"), "{told}");
}

#[tokio::test]
async fn a_jar_that_nobody_could_read_shows_no_odds() {
    let bench = Bench::us().await;
    let mut fields =
        with(&[("read_as", "heights"), ("sand", "?"), ("silt", "?"), ("clay", "3"), ("shape", "straight")]);
    fields.extend(ABOUT);
    fields.push(("look", "1"));
    let page = bench.yard.post(&bench.form("jar"), &fields).await.body;
    assert!(page.contains("Nothing is known from this jar yet."), "{page}");
    assert!(!page.contains("odds-list"), "{page}");
}
