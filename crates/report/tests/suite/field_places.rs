//! The sheet of a plan leads to every point from one corner, and says what it is for.

use crate::common::{closed, options, pages};
use crate::field::{POINTS_PER_MM, planned, planned_on};
use advice::sampling_plan::told;
use book::model::{Frame, SamplingPurpose};
use ground::kit::units::UnitSystem;
use report::Paper;
use report::field::{plan_sheet, plan_sheet_pdf};

/// "64 ft along, 12 ft across" in metres; a foot is 0.3048 m exactly.
fn read_place(walk: &str) -> [f64; 2] {
    let mut parts = walk.split(", ").map(|part| {
        let words: Vec<&str> = part.split(' ').collect();
        let far: f64 = words[0].parse().expect("a number");
        let unit = if words[1] == "ft" { 0.3048 } else { 1.0 };
        let back = part.ends_with("back from A") || part.ends_with("outwards");
        assert!(back || part.ends_with(" along") || part.ends_with(" across"), "{walk}");
        if back { -far * unit } else { far * unit }
    });
    let mut next = || parts.next().expect("along and across");
    [next(), next()]
}

/// Every point of the sheet is rebuilt with tape and square from A, as one would in the field, and lies where the plan
/// has it: half of the last digit off along and half of it across, whichever point it is.
#[test]
fn a_sheet_leads_to_each_point_from_one_corner() {
    // 165 by 100 ft, turned by 25 degrees; and an L whose arm begins behind A.
    let (sin, cos) = 25.0_f64.to_radians().sin_cos();
    let turned = |[x, y]: [f64; 2]| [cos * x - sin * y, sin * x + cos * y];
    let plain = [[0.0, 0.0], [50.292, 0.0], [50.292, 30.48], [0.0, 30.48]];
    let ell = [[0.0, 0.0], [60.0, 0.0], [60.0, 15.0], [0.0, 15.0], [0.0, 40.0], [-12.0, 40.0], [-12.0, 0.0]];
    for outline in [plain.map(turned).to_vec(), ell.to_vec()] {
        for (units, half) in [(UnitSystem::UsCustomary, 0.1524), (UnitSystem::Metric, 0.05)] {
            let (snapshot, id) = planned_on(
                "Lower field",
                SamplingPurpose::Fertility,
                Frame::Metres,
                std::slice::from_ref(&outline),
                24,
            );
            let plan = snapshot.sampling_plan(id).expect("the plan");
            let sheet = plan_sheet(&snapshot, plan, units);
            assert_eq!(sheet.points.len(), 24);
            let corner = told(&snapshot, id, units).and_then(|told| told.corner).expect("a corner");
            assert!(sheet.way.contains("A, the corner marked on the picture"), "{}", sheet.way);
            for word in ["north", "south", "east", "west"] {
                let steps = sheet.points.iter().any(|point| point.step.contains(word));
                assert!(!steps && !sheet.way.contains(word), "nobody knows where {word} is");
            }
            let long = [0, 1].map(|axis| corner.towards[axis] - corner.at[axis]);
            let side = long[0].hypot(long[1]);
            let along = long.map(|axis| axis / side);
            // Square to it on the side where the plot lies: that of the first point.
            let left = [-along[1], along[0]];
            let [dx, dy] = [0, 1].map(|axis| plan.body.points[0].at[axis] - corner.at[axis]);
            let sign = (left[0] * dx + left[1] * dy).signum() * read_place(&sheet.points[0].walk)[1].signum();
            for (point, printed) in plan.body.points.iter().zip(&sheet.points) {
                let [far, beside] = read_place(&printed.walk);
                let at = [0, 1].map(|axis| corner.at[axis] + far * along[axis] + sign * beside * left[axis]);
                let off = [at[0] - point.at[0], at[1] - point.at[1]];
                let off_along = off[0] * along[0] + off[1] * along[1];
                let off_across = off[0] * left[0] + off[1] * left[1];
                assert!(
                    off_along.abs() <= half + 1e-6 && off_across.abs() <= half + 1e-6,
                    "point {}: {} is {off:?} m off",
                    point.number,
                    printed.walk
                );
            }
            let figure = sheet.picture_words.clone();
            assert!(figure.contains("Corners marked on it: A and B."), "{figure}");
        }
    }
}

/// 0.001 of longitude and 0.0004 of latitude about 42.5 N are some 82 by 45 m, with sides that run east and north.
#[test]
fn a_sheet_names_the_corner_where_north_is_known() {
    let outer = vec![[-93.5, 42.5], [-93.499, 42.5], [-93.499, 42.5004], [-93.5, 42.5004]];
    let (snapshot, id) = planned_on("Field", SamplingPurpose::Fertility, Frame::Wgs84, &[outer], 12);
    let plan = snapshot.sampling_plan(id).expect("the plan");
    let sheet = plan_sheet(&snapshot, plan, UnitSystem::UsCustomary);
    let corner = told(&snapshot, id, UnitSystem::UsCustomary).and_then(|told| told.corner).expect("one");
    let east = corner.at[0] > corner.towards[0];
    let south = corner.at[1] < 20.0;
    let (named, runs) = match (south, east) {
        (true, true) => ("south-east", "west"),
        (true, false) => ("south-west", "east"),
        (false, true) => ("north-east", "west"),
        (false, false) => ("north-west", "east"),
    };
    assert!(sheet.way.contains(&format!("A, the {named} corner")), "{}", sheet.way);
    assert!(sheet.way.contains(&format!("runs {runs} to B")), "{}", sheet.way);
    assert!(sheet.points[1].step.contains(" ft "), "{:?}", sheet.points[1]);
    let pdf = plan_sheet_pdf(&snapshot, plan, UnitSystem::UsCustomary, &options(Paper::Letter));
    let text: String = pages(&pdf.expect("a sheet")).iter().map(|page| closed(&page.text)).collect();
    for printed in [&sheet.way, &sheet.points[11].walk] {
        assert!(text.contains(&closed(printed)), "{printed} is not in {text}");
    }
}

#[test]
fn a_sheet_tells_what_is_probed_which_layer_and_which_piece() {
    let (snapshot, plan) = planned("North field", SamplingPurpose::Structure);
    let plan = snapshot.sampling_plan(plan).expect("the plan");
    let pdf = plan_sheet_pdf(&snapshot, plan, UnitSystem::Metric, &options(Paper::A4)).expect("a sheet");
    let text: String = pages(&pdf).iter().map(|page| closed(&page.text)).collect();
    assert!(text.contains("Hardfrom") && text.contains("utility-locatingservice"), "{text}");
    // Texture is taken in two layers: 0 to 20 and 20 to 50 cm (common practice, no source).
    let large = vec![[0.0, 0.0], [60.0, 0.0], [60.0, 40.0], [0.0, 40.0]];
    let small = vec![[80.0, 0.0], [90.0, 0.0], [90.0, 10.0], [80.0, 10.0]];
    let (snapshot, plan) = planned_on("Field", SamplingPurpose::Texture, Frame::Metres, &[large, small], 12);
    let sheet = plan_sheet(&snapshot, snapshot.sampling_plan(plan).expect("it"), UnitSystem::Metric);
    let lead = sheet.lead.join(" ");
    for said in ["Layer 1 of 2", "The layer of 20 to 50 cm", "2 pieces, and only the largest"] {
        assert!(lead.contains(said), "{said} is not in {lead}");
    }
}

/// Names of plots may have 120 letters; the paper begins at 0.
#[test]
fn a_long_name_stays_on_the_page() {
    for name in ["The strip behind the barn ".repeat(5).trim(), &"x".repeat(114), "Long field"] {
        let name: String = name.chars().take(114).collect();
        let (snapshot, plan) = planned(&name, SamplingPurpose::Fertility);
        let plan = snapshot.sampling_plan(plan).expect("the plan");
        let pdf = plan_sheet_pdf(&snapshot, plan, UnitSystem::Metric, &options(Paper::A4)).expect("a sheet");
        for [x, y] in crate::common::drawn::written(&pdf).into_iter().flatten() {
            assert!(y > 7.0 * POINTS_PER_MM && x > 15.0 * POINTS_PER_MM, "{name}: something at {x}, {y}");
        }
    }
}
