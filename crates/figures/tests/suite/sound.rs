//! Every figure, whatever it is given: well-formed, named, self-contained, without a number that
//! is none.

use crate::outline::outline;
use figures::STYLE;
use figures::jar::jar;
use figures::moisture::{moisture_odds, odds_at};
use figures::odds::class_odds;
use figures::spread::{Mark, Scale, SpreadBar, spread_bar};
use figures::tank::{WaterDraws, water_tank};
use figures::triangle::{Cloud, Evidence, Says, Size, Triangle, texture_triangle};
use ground::kit::Spread;
use ground::kit::units::UnitSystem;
use ground::texture::jar::JarReading;
use ground::texture::{Class, Composition};
use proptest::prelude::*;

fn soil(sand: f64, silt: f64, clay: f64) -> Composition {
    Composition { sand, silt, clay }
}

fn reading(json: &str) -> JarReading {
    serde_json::from_str(json).expect("a sound reading")
}

/// A fixed little belief round a loam.
fn cloud() -> (Vec<Composition>, Vec<f64>) {
    let draws = (0..400)
        .map(|n| {
            let (turn, reach) = (f64::from(n) * 2.399_963, (f64::from(n) / 400.0).sqrt() * 8.0);
            soil(
                40.0 + reach * turn.cos(),
                38.0 - reach * turn.cos() - reach * turn.sin(),
                22.0 + reach * turn.sin(),
            )
        })
        .collect();
    (draws, vec![1.0; 400])
}

#[test]
fn triangle_with_a_belief_and_evidence() {
    let (draws, weights) = cloud();
    let evidence = [
        Evidence {
            letter: 'A',
            label: "the jar of 3 May",
            says: Says::Point(soil(42.0, 37.0, 21.0)),
            disagrees: false,
        },
        Evidence {
            letter: 'B',
            label: "the laboratory",
            says: Says::Point(soil(20.0, 44.0, 36.0)),
            disagrees: true,
        },
        Evidence { letter: 'C', label: "by feel", says: Says::Class(Class::ClayLoam), disagrees: false },
    ];
    let cloud = Some(Cloud::new(&draws, &weights));
    let full = Triangle { id: "t", cloud, evidence: &evidence, size: Size::Full };
    insta::assert_snapshot!(outline(&texture_triangle(&full)));
    let small = outline(&texture_triangle(&Triangle { size: Size::Small, evidence: &[], ..full }));
    assert!(small.contains("40 % sand, 38 % silt and 22 % clay, in the field of loam"), "{small}");
}

#[test]
fn triangle_without_a_belief_shows_the_fields() {
    let figure = texture_triangle(&Triangle { id: "t", cloud: None, evidence: &[], size: Size::Full });
    let said = outline(&figure);
    for class in Class::ALL {
        for word in class.name().split(' ') {
            assert!(said.contains(word), "{word} is missing");
        }
    }
    assert!(!figure.svg.contains("figure-cloud"));
}

#[test]
fn jar_with_a_range_and_an_unseen_boundary() {
    let read = reading(
        r#"{"marks":{"read_as":"heights","sand_top":{"seen":"between","low_mm":28,"high_mm":32},
            "silt_top":{"seen":"no"},"clay_top":{"seen":"at","mm":62}},
            "water_height_mm":110,"water_after_a_day":"clear","floating_organic_mm":3}"#,
    );
    insta::assert_snapshot!(outline(&jar("j", &read, UnitSystem::Metric).unwrap()));
}

#[test]
fn jar_in_inches() {
    let read = reading(
        r#"{"marks":{"read_as":"thicknesses","sand":{"seen":"at","mm":22.225},"silt":{"seen":"at","mm":20.6375},
            "clay":{"seen":"at","mm":12.7}},"water_height_mm":165.1,"water_after_a_day":"cloudy"}"#,
    );
    let said = outline(&jar("j", &read, UnitSystem::UsCustomary).unwrap());
    for words in ["7/8 in", "13/16 in", "1/2 in", "6 1/2 in", "cloudy"] {
        assert!(said.contains(words), "{words} is missing from {said}");
    }
}

#[test]
fn odds_bars_name_the_rest_together() {
    let odds = [(Class::Loam, 0.7), (Class::ClayLoam, 0.285), (Class::SiltLoam, 0.01), (Class::Clay, 0.005)];
    insta::assert_snapshot!(outline(&class_odds("o", &odds)));
    assert!(outline(&class_odds("o", &[])).contains("nothing is known"));
}

#[test]
fn spread_bar_gives_its_numbers() {
    let marks = [Mark { value: 15.0, label: "the drip gives".to_owned() }];
    let bar = SpreadBar {
        id: "s",
        name: "Intake",
        unit: "mm/h",
        spread: Spread { low: 2.4, median: 11.2, high: 48.0 },
        scale: Scale::Tens,
        top: None,
        marks: &marks,
    };
    insta::assert_snapshot!(outline(&spread_bar(&bar)));
    let unknown = Spread { low: f64::NAN, ..bar.spread };
    assert!(outline(&spread_bar(&SpreadBar { spread: unknown, ..bar })).contains("not known"));
}

/// Round numbers: wilting 0.10, field capacity 0.25, saturation 0.45, a fifth of it stones.
const ROUND: WaterDraws<'_> = WaterDraws {
    wilting_point: &[0.10, 0.10, f64::NAN],
    field_capacity: &[0.25, 0.25, f64::NAN],
    saturation: &[0.45, 0.45, f64::NAN],
    available: &[0.12, 0.12, f64::NAN],
    weights: &[1.0, 1.0, 1.0],
};

/// By hand: 0.15 m³/m³ in four fifths of 12 inches is 1.44 in, of a metre 120 mm.
#[test]
fn tank_counts_inches_in_a_foot_and_millimetres_in_a_metre() {
    let foot = outline(&water_tank("w", &ROUND, UnitSystem::UsCustomary));
    assert!(foot.contains("| Usable (in per foot) | 1.4 | 1.4 | 1.4 |"), "{foot}");
    insta::assert_snapshot!(outline(&water_tank("w", &ROUND, UnitSystem::Metric)));
    let none = WaterDraws { weights: &[0.0; 3], ..ROUND };
    assert!(outline(&water_tank("w", &none, UnitSystem::Metric)).contains("not known"));
}

#[test]
fn moisture_odds_change_at_the_limits() {
    for (water, is) in [(0.05, 0), (0.2, 1), (0.3, 2), (0.5, 3)] {
        let odds = odds_at(&ROUND, water).unwrap();
        let all = [odds.too_dry, odds.usable, odds.draining, odds.no_room];
        assert_eq!(all[is], 1.0, "{water}: {odds:?}");
    }
    insta::assert_snapshot!(outline(&moisture_odds("m", &ROUND, Some(0.2))));
}

#[test]
fn words_from_people_stay_words() {
    let label = "<script>alert(1)</script> & \"quoted\" \u{0}";
    let evidence =
        [Evidence { letter: '<', label, says: Says::Point(soil(40.0, 40.0, 20.0)), disagrees: false }];
    let figure =
        texture_triangle(&Triangle { id: "\"><x", cloud: None, evidence: &evidence, size: Size::Full });
    outline(&figure);
    assert!(!figure.svg.contains("<script") && !figure.svg.contains('\u{0}'));
}

#[test]
fn the_style_sheet_names_classes_that_are_drawn() {
    let (draws, weights) = cloud();
    let cloud = Some(Cloud::new(&draws, &weights));
    let drawn = texture_triangle(&Triangle { id: "t", cloud, evidence: &[], size: Size::Small }).svg
        + &texture_triangle(&Triangle { id: "t", cloud, evidence: &[], size: Size::Full }).svg
        + &wide_season();
    for class in STYLE.split(&['.', ' ', '{', ':'][..]).filter(|word| word.starts_with("figure-")) {
        assert!(drawn.contains(class), "{class}");
    }
}

fn wide_season() -> String {
    use figures::season::{Day, Season, Size, season_balance};
    let deficit_mm = Spread { low: 8.0, median: 10.0, high: 12.0 };
    let day =
        Day { deficit_mm, allowable_mm: 25.0, total_available_mm: 60.0, rain_mm: 0.0, watering_mm: 0.0 };
    let season = Season {
        id: "s",
        name: "bed 4",
        days: &[day],
        ticks: &[],
        observations: &[],
        today: None,
        size: Size::Wide,
        system: UnitSystem::Metric,
    };
    season_balance(&season).svg
}

fn boundary() -> impl Strategy<Value = serde_json::Value> {
    prop_oneof![
        (0.0..=1000.0).prop_map(|mm| serde_json::json!({"seen": "at", "mm": mm})),
        (0.0..=1000.0, 0.0..=1000.0)
            .prop_map(|(low, high)| serde_json::json!({"seen": "between", "low_mm": low, "high_mm": high})),
        Just(serde_json::json!({"seen": "no"})),
    ]
}

fn marks() -> impl Strategy<Value = serde_json::Value> {
    let timed = proptest::collection::vec((1.0..=31_536_000.0, boundary()), 0..6).prop_map(|marks| {
        let marks: Vec<_> =
            marks.into_iter().map(|(after, top)| serde_json::json!({"after_s": after, "top": top})).collect();
        serde_json::json!({"read_as": "timed", "marks": marks})
    });
    prop_oneof![
        [boundary(), boundary(), boundary()].prop_map(
            |[a, b, c]| serde_json::json!({"read_as": "heights", "sand_top": a, "silt_top": b, "clay_top": c})
        ),
        [boundary(), boundary(), boundary()].prop_map(
            |[a, b, c]| serde_json::json!({"read_as": "thicknesses", "sand": a, "silt": b, "clay": c})
        ),
        timed,
    ]
}

fn shape() -> impl Strategy<Value = serde_json::Value> {
    let widths = proptest::collection::vec((0.0..=1000.0, 10.0..=500.0), 0..4).prop_map(|at| {
        let at: Vec<_> =
            at.into_iter().map(|(h, d)| serde_json::json!({"height_mm": h, "diameter_mm": d})).collect();
        serde_json::json!({"kind": "widths", "at": at})
    });
    let poured = proptest::collection::vec((0.0..=1000.0, 1.0..=20_000.0), 0..4).prop_map(|fills| {
        let fills: Vec<_> =
            fills.into_iter().map(|(h, v)| serde_json::json!({"height_mm": h, "volume_ml": v})).collect();
        serde_json::json!({"kind": "poured", "fills": fills})
    });
    prop_oneof![Just(serde_json::json!({"kind": "straight"})), widths, poured]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn any_jar_reading_is_drawn_or_refused_at_a_field(
        marks in marks(), shape in shape(),
        water in proptest::option::of(0.0..=1000.0_f64), float in proptest::option::of(0.0..=1000.0_f64),
        us in any::<bool>(),
    ) {
        let mut read = serde_json::json!({"marks": marks, "shape": shape});
        if let Some(water) = water {
            read["water_height_mm"] = water.into();
        }
        if let Some(float) = float {
            read["floating_organic_mm"] = float.into();
        }
        let read: JarReading = serde_json::from_value(read).unwrap();
        let system = if us { UnitSystem::UsCustomary } else { UnitSystem::Metric };
        match jar("j", &read, system) {
            Ok(figure) => drop(outline(&figure)),
            Err(refusal) => prop_assert!(!refusal.field.is_empty() && !refusal.message.is_empty()),
        }
    }

    #[test]
    fn any_numbers_are_drawn(numbers in proptest::collection::vec(any::<f64>(), 12), weight in any::<f64>()) {
        let n = &numbers;
        let draws = [soil(n[0], n[1], n[2]), soil(n[3].abs() % 100.0, 0.0, 100.0 - n[3].abs() % 100.0)];
        let weights = [weight, 1.0];
        let cloud = Some(Cloud::new(&draws, &weights));
        let evidence = [Evidence { letter: 'A', label: "", says: Says::Point(draws[0]), disagrees: true }];
        outline(&texture_triangle(&Triangle { id: "t", cloud, evidence: &evidence, size: Size::Full }));
        outline(&class_odds("o", &[(Class::Loam, n[4]), (Class::Clay, n[5])]));
        let water = WaterDraws {
            wilting_point: &n[0..3], field_capacity: &n[3..6], saturation: &n[6..9], available: &n[9..12],
            weights: &[1.0, weight, 1.0],
        };
        outline(&water_tank("w", &water, UnitSystem::Metric));
        outline(&moisture_odds("m", &water, Some(n[9])));
        for scale in [Scale::Even, Scale::Tens] {
            let spread = Spread { low: n[9], median: n[10], high: n[11] };
            let marks = [Mark { value: n[0], label: "mark".to_owned() }];
            outline(&spread_bar(&SpreadBar { id: "s", name: "x", unit: "", spread, scale, top: Some(n[1]), marks: &marks }));
        }
    }
}
