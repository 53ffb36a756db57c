//! The post in section: what it says, what it refuses, and that nothing that is put into it breaks it.

use crate::outline::outline;
use figures::post::{Collar, Load, Look, PostLayer, PostSection, post_section};
use ground::kit::units::UnitSystem;
use proptest::prelude::*;

const LAYERS: [PostLayer<'static>; 3] = [
    PostLayer { top_cm: 0.0, bottom_cm: 20.32, name: "tilled ground", look: Look::NotCounted },
    PostLayer { top_cm: 20.32, bottom_cm: 76.2, name: "sandy loam", look: Look::Sandy },
    PostLayer { top_cm: 76.2, bottom_cm: 152.4, name: "clay loam", look: Look::Clayey },
];

fn section() -> PostSection<'static> {
    // 1 kN is 224.8 lb (NIST SP 811: 1 lbf = 4.448 222 N).
    PostSection {
        id: "p",
        layers: &LAYERS,
        post_cm: 6.0325,
        depth_cm: 91.44,
        above_cm: 121.92,
        collar: Some(Collar { diameter_cm: 30.48, bell_cm: None }),
        needed_cm: Some(106.68),
        frost_cm: Some(60.96),
        water_table_cm: None,
        loads: &[Load::Up { kn: 2.6156 }, Load::Sideways { kn: 1.0, height_cm: 60.96 }],
        system: UnitSystem::UsCustomary,
    }
}

#[test]
fn post_gives_depth_layers_collar_and_loads() {
    let figure = post_section(&section());
    let text = outline(&figure);
    for said in [
        "A post 2 in across stands 36 in deep and 48 in high.",
        "Concrete round it is 12 in across.",
        "tilled ground from 0 to 8 in, not counted",
        "clay loam from 30 to 60 in",
        "Depth needed: 42 in.",
        "Frost depth: 24 in.",
        "588 lb pulling up",
        "225 lb sideways, 24 in up",
    ] {
        assert!(text.contains(said), "{said} is not in {text}");
    }
    assert_eq!(figure.table.rows[0], ["Depth of the post", "36 in"]);
}

#[test]
fn metric_farms_read_metric() {
    let figure = post_section(&PostSection { system: UnitSystem::Metric, ..section() });
    assert!(figure.description.contains("91 cm deep"), "{}", figure.description);
    assert!(figure.description.contains("2.62 kN pulling up"), "{}", figure.description);
    assert!(figure.table.rows.contains(&vec!["Concrete".to_owned(), "30 cm across".to_owned()]));
}

#[test]
fn a_collar_narrower_than_its_post_is_not_drawn() {
    let collar = Some(Collar { diameter_cm: 4.0, bell_cm: None });
    let figure = post_section(&PostSection { collar, ..section() });
    assert!(figure.description.starts_with("Not drawn: the collar"), "{}", figure.description);
}

/// Any number at all, with sensible ones and the ends of the range often.
fn number(most: f64) -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => 0.0..=most,
        1 => any::<f64>(),
        1 => proptest::sample::select(vec![f64::NAN, f64::INFINITY, f64::MAX, f64::MIN, 0.0, -0.0, 5e-324]),
    ]
}

proptest! {
    #[test]
    fn any_post_is_sound(
        sizes in (number(30.0), number(300.0), number(600.0)),
        collar in proptest::option::of((number(90.0), proptest::option::of(number(120.0)))),
        marks in proptest::array::uniform3(proptest::option::of(number(300.0))),
        depths in proptest::collection::vec((number(300.0), number(300.0)), 0..8),
        pull in (number(50.0), number(50.0), number(300.0)),
    ) {
        let layers: Vec<PostLayer<'_>> = depths
            .iter()
            .map(|(top_cm, bottom_cm)| PostLayer {
                top_cm: *top_cm, bottom_cm: *bottom_cm, name: "a < layer & \"more\"", look: Look::Silty,
            })
            .collect();
        let loads = [
            Load::Up { kn: pull.0 },
            Load::Down { kn: pull.1 },
            Load::Sideways { kn: pull.1, height_cm: pull.2 },
        ];
        for system in [UnitSystem::UsCustomary, UnitSystem::Metric] {
            let figure = post_section(&PostSection {
                id: "any",
                layers: &layers,
                post_cm: sizes.0,
                depth_cm: sizes.1,
                above_cm: sizes.2,
                collar: collar.map(|(diameter_cm, bell_cm)| Collar { diameter_cm, bell_cm }),
                needed_cm: marks[0],
                frost_cm: marks[1],
                water_table_cm: marks[2],
                loads: &loads,
                system,
            });
            let text = outline(&figure);
            prop_assert!(!text.contains("NaN") && !figure.svg.contains("NaN") && !figure.svg.contains("inf"));
            prop_assert!(!figure.description.is_empty());
        }
    }
}
