//! Paper for the field, read back by a reader that knows nothing of how it was made.

use crate::common::drawn::drawn;
use crate::common::{bytes, closed, options, pages};
use crate::labels::labels;
use advice::sampling_plan::{SamplingAsk, sampling_report};
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
    labels_pdf, plan_labels, plan_sheet_pdf, probe_form,
};

pub(crate) const POINTS_PER_MM: f64 = 72.0 / 25.4;

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
pub(crate) fn planned_on(
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
pub(crate) fn planned(name: &str, purpose: SamplingPurpose) -> (Snapshot, EntryId) {
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
