//! The plan: sound whatever it is given, to scale, with its key in words.

use crate::outline::outline;
use figures::plan::{PlanForm, PlanKind, PlanPicture, PlanPoint, PlanShape, PlanSize, plan};
use ground::kit::units::UnitSystem;
use proptest::prelude::*;

fn shape(kind: PlanKind, name: &str, form: PlanForm) -> PlanShape {
    PlanShape { kind, name: name.to_owned(), form }
}

fn rectangle(west: f64, south: f64, wide: f64, tall: f64) -> PlanForm {
    let outer = vec![[west, south], [west + wide, south], [west + wide, south + tall], [west, south + tall]];
    PlanForm::Area { outer, holes: Vec::new() }
}

fn farm() -> Vec<PlanShape> {
    vec![
        shape(PlanKind::Plot, "Lower field", rectangle(0.0, 0.0, 30.48, 60.96)),
        shape(PlanKind::Tunnel, "East tunnel", rectangle(40.0, 10.0, 9.0, 29.0)),
        shape(PlanKind::KeepOut, "", rectangle(0.0, 0.0, 30.48, 3.0)),
        shape(PlanKind::Drain, "old drain", PlanForm::Line(vec![[0.0, 30.0], [60.0, 34.0]])),
        shape(PlanKind::Tree, "walnut", PlanForm::Point([55.0, 55.0])),
        shape(PlanKind::StandingWater, "", PlanForm::Point([10.0, 50.0])),
    ]
}

fn picture<'a>(shapes: &'a [PlanShape], points: &'a [PlanPoint]) -> PlanPicture<'a> {
    PlanPicture {
        id: "p",
        title: "The farm",
        shapes,
        points,
        points_are: "cores",
        corners: &[],
        walk: &[],
        date: "3 May 2026",
        north_up: true,
        size: PlanSize::Phone,
        system: UnitSystem::UsCustomary,
    }
}

/// 100 x 200 ft are 20,000 sq ft and 600 ft round (the foot is 0.3048 m, NIST SP 811).
#[test]
fn a_plan_names_and_measures_what_stands_on_it() {
    let points = [PlanPoint { label: "1".to_owned(), at: [5.0, 20.0], note: "core".to_owned() }];
    let shapes = farm();
    let said = outline(&plan(&picture(&shapes, &points)));
    assert!(said.contains("| Lower field | plot | 20000 sq ft, 600 ft round |"), "{said}");
    for words in
        ["keep out", "drain", "tree", "standing water", "cores", "50 ft", "3 May 2026", "North is up"]
    {
        assert!(said.contains(words), "{words} is missing from {said}");
    }
    insta::assert_snapshot!(said);
}

#[test]
fn the_scale_bar_is_as_long_as_it_says() {
    let shapes = farm();
    let metric = PlanPicture { system: UnitSystem::Metric, size: PlanSize::Wide, ..picture(&shapes, &[]) };
    let figure = plan(&metric);
    assert!(figure.description.contains("The scale bar stands for 20 m."), "{}", figure.description);
    // The two halves of the bar are the only paths 4 high: each is half of 20 m at the scale of the plot.
    let across = |data: &str| {
        let numbers: Vec<f64> =
            data.split(['M', 'L', 'Z', ' ']).filter_map(|part| part.parse().ok()).collect();
        let xs: Vec<f64> = numbers.iter().step_by(2).copied().collect();
        let ys: Vec<f64> = numbers.iter().skip(1).step_by(2).copied().collect();
        let span = |of: &[f64]| {
            of.iter().fold(f64::MIN, |a, b| a.max(*b)) - of.iter().fold(f64::MAX, |a, b| a.min(*b))
        };
        (span(&xs), span(&ys))
    };
    let paths: Vec<(f64, f64)> =
        figure.svg.split(" d=\"").skip(1).filter_map(|rest| rest.split('"').next()).map(across).collect();
    let bars: Vec<&(f64, f64)> =
        paths.iter().filter(|(wide, tall)| (tall - 4.0).abs() < 0.011 && *wide > 20.0).collect();
    let plot = paths.iter().find(|(wide, tall)| (tall / wide - 2.0).abs() < 1e-3).expect("the plot, 1 to 2");
    assert_eq!(bars.len(), 2);
    for bar in bars {
        assert!((bar.0 / plot.0 - 10.0 / 30.48).abs() < 1e-3, "{bar:?} {plot:?}");
    }
}

#[test]
fn a_plan_of_nothing_says_so() {
    assert!(outline(&plan(&picture(&[], &[]))).contains("Nothing is drawn yet"));
    let broken =
        [shape(PlanKind::Plot, "x", PlanForm::Area { outer: vec![[0.0, f64::NAN]; 3], holes: vec![] })];
    assert!(outline(&plan(&picture(&broken, &[]))).contains("could not be drawn"));
}

fn place() -> impl Strategy<Value = [f64; 2]> {
    prop_oneof![[any::<f64>(), any::<f64>()], [-500.0..500.0, -500.0..500.0]]
}

fn form() -> impl Strategy<Value = PlanForm> {
    let ring = || proptest::collection::vec(place(), 0..7);
    prop_oneof![
        place().prop_map(PlanForm::Point),
        ring().prop_map(PlanForm::Line),
        (ring(), proptest::collection::vec(ring(), 0..2))
            .prop_map(|(outer, holes)| PlanForm::Area { outer, holes }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn any_plan_is_drawn(
        forms in proptest::collection::vec((form(), 0..PlanKind::ALL.len(), ".{0,12}"), 0..8),
        labels in proptest::collection::vec((place(), ".{0,8}"), 0..5),
        wide in any::<bool>(), north_up in any::<bool>(),
    ) {
        let shapes: Vec<PlanShape> = forms
            .into_iter()
            .map(|(form, kind, name)| PlanShape { kind: PlanKind::ALL[kind], name, form })
            .collect();
        let points: Vec<PlanPoint> =
            labels.into_iter().map(|(at, label)| PlanPoint { label, at, note: String::new() }).collect();
        let walk: Vec<[f64; 2]> = points.iter().map(|point| point.at).collect();
        let size = if wide { PlanSize::Wide } else { PlanSize::Phone };
        outline(&plan(&PlanPicture { walk: &walk, size, north_up, ..picture(&shapes, &points) }));
    }
}
