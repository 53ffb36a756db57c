//! The probe chart and the cover calendar: sound whatever they are given, and saying what they show.

use crate::outline::outline;
use figures::calendar::{Bar, CoverCalendar, Mark, Row, Standing, cover_calendar};
use figures::probe::{MarkedPan, ProbeChart, probe_chart};
use ground::kit::units::UnitSystem;
use ground::structure::probe::push::Level;
use proptest::prelude::*;

fn push(list: &[(f64, f64)]) -> Vec<Level> {
    list.iter()
        .map(|(depth_cm, resistance_mpa)| Level { depth_cm: *depth_cm, resistance_mpa: *resistance_mpa })
        .collect()
}

#[test]
fn the_probe_chart_marks_the_pan_in_the_units_of_the_farm() {
    let (one, two) =
        (push(&[(7.62, 0.9), (15.24, 1.6), (22.86, 2.4), (30.48, 1.7)]), push(&[(7.62, 0.8), (15.24, 1.2)]));
    let pushes: [&[Level]; 2] = [&one, &two];
    let pan = Some(MarkedPan { top_cm: 22.86, bottom_cm: Some(30.48), stopped_share: 0.5 });
    let chart =
        ProbeChart { id: "p", pushes: &pushes, pan, comparable: true, system: UnitSystem::UsCustomary };
    let us = probe_chart(&chart);
    outline(&us);
    assert!(
        us.description.contains("begins at 9 in and ends at 12 in; it stopped 50 % of 2 pushes"),
        "{}",
        us.description
    );
    assert_eq!(us.table.rows.len(), 6);
    // 2.4 MPa are 348 psi.
    assert_eq!(us.table.rows[2], ["1", "9", "348"]);
    let metric = probe_chart(&ProbeChart { system: UnitSystem::Metric, comparable: false, ..chart });
    assert!(metric.description.contains("23 cm") && metric.description.contains("drier than field capacity"));
    let none = probe_chart(&ProbeChart { pushes: &[], pan: None, ..chart });
    outline(&none);
    assert_eq!(none.description, "No push was recorded yet.");
}

#[test]
fn the_calendar_tells_rows_bars_and_frosts() {
    let bars = [
        Bar { label: "lettuce", standing: Standing::Crop, from_d: 30.0, to_d: 90.0 },
        Bar { label: "oats", standing: Standing::Cover, from_d: 130.0, to_d: 250.0 },
        Bar { label: "oats", standing: Standing::Mulch, from_d: 250.0, to_d: 400.0 },
    ];
    let rows = [Row { label: "Bed 3", bars: &bars }];
    let marks = [Mark { label: "first frost, even odds", day: 184.0 }];
    let figure =
        cover_calendar(&CoverCalendar { id: "c", first_month: 4, months: 12, rows: &rows, marks: &marks });
    outline(&figure);
    // From 1 April: day 30 is 1 May, day 130 is 9 August, day 184 is 2 October.
    assert_eq!(figure.table.rows[0], ["Bed 3", "lettuce", "crop", "1 May", "29 Jun"]);
    assert_eq!(figure.table.rows[1][3], "9 Aug");
    assert_eq!(figure.table.rows[2][4], "31 Mar");
    assert!(figure.description.contains("First frost, even odds on 2 Oct."), "{}", figure.description);
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![-1e3..1e3_f64, Just(f64::NAN), Just(f64::INFINITY), Just(-1e300), 0.0..100.0_f64]
}

proptest! {
    #[test]
    fn whatever_is_given_is_drawn_or_left_out(
        readings in proptest::collection::vec((any_number(), any_number()), 0..12),
        top in any_number(), bottom in proptest::option::of(any_number()), share in any_number(),
        from in any_number(), to in any_number(), day in any_number(), month in any::<u8>(), months in any::<u8>(), label in ".{0,40}",
    ) {
        let one = push(&readings);
        let pushes: [&[Level]; 1] = [&one];
        for system in [UnitSystem::UsCustomary, UnitSystem::Metric] {
            let pan = Some(MarkedPan { top_cm: top, bottom_cm: bottom, stopped_share: share });
            outline(&probe_chart(&ProbeChart { id: "p", pushes: &pushes, pan, comparable: true, system }));
        }
        let bars = [Bar { label: &label, standing: Standing::Mulch, from_d: from, to_d: to }];
        let rows = [Row { label: "row", bars: &bars }];
        let marks = [Mark { label: "mark", day }];
        outline(&cover_calendar(&CoverCalendar { id: "c", first_month: month, months, rows: &rows, marks: &marks }));
    }
}
