//! Paper for the field, read back by a reader that knows nothing of how it was made.

use crate::common::drawn::drawn;
use crate::common::{bytes, closed, options, pages};
use crate::labels::labels;
use advice::sampling_plan::{SamplingAsk, sampling_report, told};
use book::model::{
    EntryId, Farm, Form, Frame, Outline, PartKind, Place, PlanPart, Plot, SamplingPurpose, Shape,
};
use book::{Book, Snapshot, Stamp};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;
use ground::texture::jar::{JarHeight, JarTemperature};
use jiff::Timestamp;
use jiff::civil::date;
use report::Paper;
use report::field::{
    FieldPoint, FieldSheet, JarStripAsk, LabelAsk, LabelStock, ProbeFormAsk, feel_card, jar_strip,
    labels_pdf, plan_labels, plan_sheet, plan_sheet_pdf, probe_form,
};

const POINTS_PER_MM: f64 = 72.0 / 25.4;

fn jar(height: f64) -> JarStripAsk {
    JarStripAsk {
        jar_height_mm: JarHeight::literal(height),
        water_height_mm: JarHeight::literal(150.0),
        soil_height_mm: Some(JarHeight::literal(38.0)),
        water_temperature_c: JarTemperature::literal(20.0),
    }
}

#[test]
fn the_jar_strip_is_true_to_size() {
    for (paper, units) in [(Paper::Letter, UnitSystem::UsCustomary), (Paper::A4, UnitSystem::Metric)] {
        let strip = jar_strip(&jar(178.0), units).expect("it can be made");
        let paths = &drawn(&bytes(&strip, paper))[0];
        let near = |a: f64, b: f64| (a - b).abs() < 0.02;
        // The frame of the two strips: 30 × 178 mm.
        let strips: Vec<&[f64; 4]> = paths
            .iter()
            .filter(|path| near(path[2] / POINTS_PER_MM, 30.0) && near(path[3] / POINTS_PER_MM, 178.0))
            .collect();
        assert!(strips.len() >= 2, "{paper:?}");
        let [left, top, width, height] = *strips[0];
        let foot = top + height;
        // Lines that lie, by their length: tick 100 of the left edge stands 100 mm over the foot; 6 in over it one of the right.
        let lies = |at_mm: f64, from_left: bool, long_mm: f64| {
            paths.iter().any(|path| {
                let starts = if from_left { path[0] - left } else { left + width - path[0] - path[2] };
                near(path[3], 0.0)
                    && starts.abs() < 0.5
                    && near(path[2] / POINTS_PER_MM, long_mm)
                    && near((foot - path[1]) / POINTS_PER_MM, at_mm)
            })
        };
        for cm in [1.0, 10.0, 17.0] {
            assert!(lies(10.0 * cm, true, 6.0), "{paper:?}: no tick at {cm} cm");
        }
        for (inches, long_mm) in [(1.0, 6.5), (6.0, 6.5), (2.5, 5.2), (3.0625, 2.2)] {
            assert!(lies(25.4 * inches, false, long_mm), "{paper:?}: no tick at {inches} in");
        }
    }
}

#[test]
fn the_jar_strip_tells_when_to_mark() {
    let strip = jar_strip(&jar(178.0), UnitSystem::Metric).expect("it can be made");
    // Stokes' law by hand (Gee and Or 2002, eq. 2.4-5 as in the method's own checks): 0.05 mm grains of 2650 kg/m³ in
    // water at 20 °C (1.002 mPa s, 998.2 kg/m³) fall 2.25 mm/s, so a column of 131 to 150 mm takes about a minute; 2 µm
    // grains 3.6e-3 mm/s: eight to twelve hours with a little crowding.
    let text = closed(&pages(&bytes(&strip, Paper::A4))[0].text);
    assert_eq!(strip.marks[0].what, "Top of the sand");
    assert!(
        strip.marks[0].after.ends_with(" s") || strip.marks[0].after.ends_with(" min"),
        "{:?}",
        strip.marks
    );
    assert!(strip.marks[1].after.ends_with(" h"), "{:?}", strip.marks);
    for mark in &strip.marks {
        assert!(text.contains(&closed(&mark.after)), "{mark:?}");
    }
    assert_eq!(pages(&bytes(&strip, Paper::Letter)).len(), 1);
    let tall = jar_strip(
        &JarStripAsk { jar_height_mm: JarHeight::literal(225.0), ..jar(178.0) },
        UnitSystem::Metric,
    );
    assert_eq!(pages(&bytes(&tall.expect("it can be made"), Paper::Letter)).len(), 1);
}

#[test]
fn jars_that_cannot_be_are_refused() {
    let refused =
        |ask: &JarStripAsk| jar_strip(ask, UnitSystem::UsCustomary).expect_err("it cannot be").field;
    assert_eq!(refused(&jar(300.0)), "jar_height_mm");
    assert_eq!(refused(&jar(20.0)), "jar_height_mm");
    assert_eq!(refused(&jar(120.0)), "water_height_mm");
    assert_eq!(
        refused(&JarStripAsk { soil_height_mm: Some(JarHeight::literal(140.0)), ..jar(178.0) }),
        "soil_height_mm"
    );
}

#[test]
fn the_feel_card_leads_to_every_class_of_the_chart() {
    let card = feel_card(UnitSystem::UsCustomary);
    let found = pages(&bytes(&card, Paper::Letter));
    assert_eq!(found.len(), 1);
    let text = closed(&found[0].text);
    // The flow chart of Thien (1979), as reproduced by USDA: eleven classes, silt among silt loam.
    for class in [
        "sand",
        "loamy sand",
        "sandy loam",
        "loam",
        "silt loam",
        "sandy clay loam",
        "clay loam",
        "silty clay loam",
        "sandy clay",
        "clay",
        "silty clay",
    ] {
        assert!(card.rows.iter().any(|row| row.classes.iter().any(|one| one == class)), "{class}");
        assert!(text.contains(&closed(class)), "{class}");
    }
    assert_eq!(card.rows[3].classes, ["sandy clay loam", "clay loam", "silty clay loam"]);
    assert!(text.contains(&closed("Breaks from 1 in to under 2 in")));
}

#[test]
fn the_probe_form_has_a_row_a_point_and_a_column_a_depth() {
    let ask = ProbeFormAsk { plot: "North tunnel".to_owned(), points: vec![4, 2, 9] };
    let form = probe_form(&ask, UnitSystem::UsCustomary);
    assert_eq!(form.rows, ["4", "2", "9"]);
    let text = closed(&pages(&bytes(&form, Paper::Letter))[0].text);
    for said in ["North tunnel", "18 in", "Stuck at", "300 psi", "Have buried lines located"] {
        assert!(text.contains(&closed(said)), "{said}");
    }
    assert_eq!(probe_form(&ProbeFormAsk::default(), UnitSystem::Metric).depths[1], "15 cm");
}

/// A field sheet of so many points.
fn field_sheet(points: u16) -> FieldSheet {
    let word = |text: &str| text.to_owned();
    FieldSheet {
        lead: vec![word("Where lime is needed, and how much.")],
        facts: vec![[word("Depth"), word("0 to 6 in")]],
        steps: vec![word("Walk the points in the order of their numbers.")],
        bring: vec![word("A clean bucket of plastic")],
        points: (1..=points)
            .map(|number| FieldPoint {
                number: number.to_string(),
                bag: word("1"),
                walk: word("64 ft along, 12 ft across"),
                step: word("52 ft north-east"),
            })
            .collect(),
        columns: vec![word("Cores taken")],
        ..FieldSheet::new(word("Sampling plan"))
    }
    .with_picture(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 100 60\" width=\"100\" height=\"60\"><rect width=\"90\" height=\"50\" fill=\"none\" stroke=\"black\"/><text x=\"10\" y=\"20\">Plan words</text></svg>".to_owned(),
        "The plan",
    )
}

#[test]
fn the_field_sheet_has_its_picture_and_every_point() {
    let found = pages(&bytes(&field_sheet(40), Paper::A4));
    let text: String = found.iter().map(|page| closed(&page.text)).collect();
    for said in
        ["Plan words", "0 to 6 in", "64 ft along, 12 ft across", "Cores taken", "A clean bucket of plastic"]
    {
        assert!(text.contains(&closed(said)), "{said} is not in {text}");
    }
    assert_eq!(text.matches(&closed("64 ft along, 12 ft across")).count(), 40);
    assert_eq!(text.matches(&closed("52 ft north-east")).count(), 40);
}

/// A plot of that name, drawn as those pieces, with a plan of so many points in three bags.
fn planned_on(
    name: &str,
    purpose: SamplingPurpose,
    frame: Frame,
    pieces: &[Vec<[f64; 2]>],
    cores: u16,
) -> (Snapshot, EntryId) {
    let folder = tempfile::tempdir().expect("a folder");
    let stamp = Stamp::new(Timestamp::UNIX_EPOCH, "Ada");
    let farm = Farm::named("Invented Farm", UnitSystem::UsCustomary);
    let mut book = Book::create(folder.path().join("a.farmbook"), farm, &stamp).expect("a book");
    let plot = Plot {
        name: name.to_owned(),
        place: Place::OpenField,
        shape: Shape::Rectangle { length_m: Bounded::literal(60.0), width_m: Bounded::literal(40.0) },
        slope_percent: None,
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
        organic: None,
        zone_of: None,
        cover: None,
    };
    let plot = book.record(plot, &stamp).expect("any name is kept").id;
    for outer in pieces {
        let outline = Outline { frame, form: Form::Area { outer: outer.clone(), holes: Vec::new() } };
        let drawn = PlanPart { plot: Some(plot), ..PlanPart::drawn(PartKind::Plot, outline) };
        book.record(drawn, &stamp).expect("it is drawn");
    }
    let snapshot = book.snapshot().expect("it can be read");
    let ask = SamplingAsk { cores: Some(cores), bags: Some(3), ..SamplingAsk::usual(purpose) };
    let held = snapshot.plot(plot).expect("the plot");
    let report = sampling_report(&snapshot, held, &ask, date(2026, 3, 14)).expect("a plan");
    let plan = report.plan(&snapshot, Some(name.to_owned()), 0, date(2026, 3, 14)).expect("a plan");
    let plan = book.record(plan, &stamp).expect("it is kept").id;
    (book.snapshot().expect("it can be read"), plan)
}

/// A plot of that name, drawn, with a plan of twelve points in three bags.
fn planned(name: &str, purpose: SamplingPurpose) -> (Snapshot, EntryId) {
    let outer = vec![[0.0, 0.0], [60.0, 0.0], [60.0, 40.0], [0.0, 40.0]];
    planned_on(name, purpose, Frame::Metres, &[outer], 12)
}

#[test]
fn plots_of_any_name_get_their_sheet_and_labels() {
    let long = "Northwesternmostfieldbehindthebarn ".repeat(3);
    for name in [
        "#let x = 1",
        "\"quoted\" & 'single' <b>bold</b> &amp;",
        "$x^2$ @ref *b* _i_ `raw` // /* #panic()",
        "\u{1F955} carrots \u{1F33D}",
        long.trim(),
    ] {
        let (snapshot, plan) = planned(name, SamplingPurpose::Fertility);
        let plan = snapshot.sampling_plan(plan).expect("the plan");
        let units = UnitSystem::UsCustomary;
        let sheet = plan_sheet_pdf(&snapshot, plan, units, &options(Paper::Letter)).expect("a sheet");
        let text: String = pages(&sheet).iter().map(|page| closed(&page.text)).collect();
        let labels = labels_pdf(
            &plan_labels(&snapshot, plan, units, None),
            &LabelAsk { stock: LabelStock::usual(Paper::Letter), start: 1, edges: false },
            &options(Paper::Letter),
        )
        .expect("labels");
        let on_labels = closed(&pages(&labels)[0].text);
        let form = ProbeFormAsk::of_plan(&snapshot, plan);
        let form = closed(&pages(&bytes(&probe_form(&form, units), Paper::A4))[0].text);
        if name.is_ascii() {
            for printed in [&text, &on_labels, &form] {
                assert!(printed.contains(&closed(name)), "{name} is not in {printed}");
            }
        }
        for said in ["Bag1of3", "Bag2of3", "Bag3of3", "0to8in"] {
            assert!(on_labels.contains(said), "{name}: {said} is not in {on_labels}");
        }
    }
}

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
            let (snapshot, id) =
                planned_on("Lower field", SamplingPurpose::Fertility, Frame::Metres, &[outline.clone()], 24);
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

/// Writes every sheet below the folder in `SHEETS`, to be rasterised and looked at.
#[test]
#[ignore = "writes files to look at; needs SHEETS=folder"]
fn sheets_to_look_at() {
    let folder = std::path::PathBuf::from(std::env::var("SHEETS").expect("SHEETS names a folder"));
    let write =
        |name: &str, bytes: Vec<u8>| std::fs::write(folder.join(name), bytes).expect("it can be written");
    for (paper, units, name) in
        [(Paper::Letter, UnitSystem::UsCustomary, "letter"), (Paper::A4, UnitSystem::Metric, "a4")]
    {
        write(&format!("strip-{name}.pdf"), bytes(&jar_strip(&jar(178.0), units).expect("a strip"), paper));
        write(&format!("feel-{name}.pdf"), bytes(&feel_card(units), paper));
        write(&format!("probe-{name}.pdf"), bytes(&probe_form(&ProbeFormAsk::default(), units), paper));
        write(&format!("field-{name}.pdf"), bytes(&field_sheet(14), paper));
        let (snapshot, plan) = planned("Lower field", SamplingPurpose::Fertility);
        let plan = snapshot.sampling_plan(plan).expect("the plan");
        write(
            &format!("plan-{name}.pdf"),
            plan_sheet_pdf(&snapshot, plan, units, &options(paper)).expect("a sheet"),
        );
    }
    for stock in LabelStock::ALL {
        let ask = LabelAsk { stock: *stock, start: 2, edges: true };
        let pdf = labels_pdf(&labels(stock.per_sheet()), &ask, &options(Paper::A4)).expect("labels");
        write(&format!("labels-{}.pdf", stock.key), pdf);
    }
}
