//! Sampling plans of plots made up for the tests.

use book::model::{
    Design, Farm, Form, Frame, KeepOutWhy, Outline, PartKind, Place, PlanPart, Plot, Sample, SamplingPurpose,
    Shape, Spot, UnitSystem,
};
use book::{Book, Stamp};
use ground::kit::Bounded;
use jiff::Timestamp;
use jiff::civil::date;

use super::{OutlineFrom, SamplingAsk, sampling_report, tell, told};

const TODAY: jiff::civil::Date = date(2026, 4, 12);

fn stamp() -> Stamp {
    Stamp::new(Timestamp::constant(1_770_000_000, 0), "Ada")
}

fn plot(shape: Shape) -> Plot {
    Plot {
        name: "North piece".to_owned(),
        place: Place::OpenField,
        shape,
        slope_percent: Some(Bounded::literal(7.0)),
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
        cover: None,
        organic: None,
        zone_of: None,
    }
}

fn rectangle() -> Shape {
    Shape::Rectangle { length_m: Bounded::literal(60.0), width_m: Bounded::literal(20.0) }
}

/// A book with one plot; drawn in degrees, with an old fence across, where asked.
fn book(folder: &tempfile::TempDir, shape: Shape, drawn: bool) -> (Book, book::model::EntryId) {
    let farm = Farm::named("Trial farm", UnitSystem::Metric);
    let mut book = Book::create(folder.path().join("a.farmbook"), farm, &stamp()).unwrap();
    let plot = book.record(plot(shape), &stamp()).unwrap().id;
    if drawn {
        // About 82 m by 45 m at 42.5° N.
        let corners = vec![[-93.5, 42.5], [-93.499, 42.5], [-93.499, 42.5004], [-93.5, 42.5004]];
        let outline = Outline { frame: Frame::Wgs84, form: Form::Area { outer: corners, holes: Vec::new() } };
        let part = PlanPart { plot: Some(plot), ..PlanPart::drawn(PartKind::Plot, outline) };
        book.record(part, &stamp()).unwrap();
        let line = Form::Line { through: vec![[-93.4995, 42.499], [-93.4995, 42.501]] };
        let fence = PlanPart {
            why: Some(KeepOutWhy::OldFence),
            ..PlanPart::drawn(PartKind::KeepOut, Outline { frame: Frame::Wgs84, form: line })
        };
        book.record(fence, &stamp()).unwrap();
    }
    (book, plot)
}

#[test]
fn a_drawn_plot_gets_points_in_degrees_away_from_the_fence() {
    let folder = tempfile::tempdir().unwrap();
    let (mut book, id) = book(&folder, rectangle(), true);
    let snapshot = book.snapshot().unwrap();
    let plot = snapshot.plot(id).unwrap();
    for design in [Design::StratifiedRandom, Design::Zigzag, Design::SpatialCoverage] {
        let ask = SamplingAsk { design, bags: Some(2), ..SamplingAsk::usual(SamplingPurpose::Fertility) };
        let report = sampling_report(&snapshot, plot, &ask, TODAY).unwrap();
        assert_eq!(report.outline, OutlineFrom::Drawn);
        assert_eq!(report.points.len(), usize::from(report.numbers.places));
        for bag in 1..=2 {
            let cores = report.points.iter().filter(|point| point.bag == Some(bag)).count();
            assert!(cores.abs_diff(report.points.len() / 2) <= 1, "{design:?}: {cores} in bag {bag}");
        }
        // The fence lies half way along the 82 m.
        let fence = ground::spatial::frame::LocalFrame::at(42.5, -93.5).to_metres([-93.4995, 42.5])[0];
        assert!(
            report.points.iter().all(|point| (point.at[0] - fence).abs() >= 3.0),
            "{design:?}: {fence} {:?}",
            report.points
        );
        assert!(report.keeps_off.iter().any(|line| line.contains("old fence")), "{:?}", report.keeps_off);
        assert!(report.split.iter().any(|split| split.what == "slope"));
    }
    let report =
        sampling_report(&snapshot, plot, &SamplingAsk::usual(SamplingPurpose::Fertility), TODAY).unwrap();
    let plan = report.plan(&snapshot, None, 0, TODAY).unwrap();
    assert_eq!(plan.frame, Frame::Wgs84);
    let kept = book.record(plan, &stamp()).unwrap().id;
    let snapshot = book.snapshot().unwrap();
    let read = told(&snapshot, kept, UnitSystem::Metric).unwrap();
    for (point, first) in read.points.iter().zip(&report.points) {
        let at = point.metres.unwrap();
        assert!((at[0] - first.at[0]).abs() < 1e-6 && (at[1] - first.at[1]).abs() < 1e-6);
    }
    assert!(!read.taken && (read.walk_m - report.walk_m).abs() < 1e-6);
    assert_eq!(read.in_degrees().unwrap().len(), report.points.len());

    // The same points again, and the job goes once soil was taken at one of them.
    let ask = SamplingAsk { design: Design::Repeat, ..SamplingAsk::usual(SamplingPurpose::Fertility) };
    let again = sampling_report(&snapshot, snapshot.plot(id).unwrap(), &ask, TODAY).unwrap();
    assert_eq!(again.points.len(), report.points.len());
    assert!(
        crate::work::proposals(&snapshot, [], TODAY).iter().any(|job| job.key == format!("sampling.{kept}"))
    );
    let sample = Sample {
        plot: id,
        taken_on: TODAY,
        from_cm: Bounded::literal(0.0),
        to_cm: Bounded::literal(20.0),
        cores: Some(1),
        taken_by: String::new(),
        bag_label: String::new(),
        import: None,
        spot: Some(Spot::numbered(kept, 1)),
        note: String::new(),
    };
    book.record(sample, &stamp()).unwrap();
    let snapshot = book.snapshot().unwrap();
    assert!(told(&snapshot, kept, UnitSystem::Metric).unwrap().taken);
    assert!(!crate::work::proposals(&snapshot, [], TODAY).iter().any(|job| job.key.starts_with("sampling.")));
}

#[test]
fn sides_give_places_and_an_area_alone_gives_numbers() {
    let folder = tempfile::tempdir().unwrap();
    let (book, id) = book(&folder, rectangle(), false);
    let snapshot = book.snapshot().unwrap();
    let usual = SamplingAsk::usual(SamplingPurpose::Fertility);
    let report = sampling_report(&snapshot, snapshot.plot(id).unwrap(), &usual, TODAY).unwrap();
    assert_eq!(report.outline, OutlineFrom::Sides);
    assert!(
        report
            .points
            .iter()
            .all(|point| (0.0..=60.0).contains(&point.at[0]) && (0.0..=20.0).contains(&point.at[1]))
    );
    let refused = sampling_report(
        &snapshot,
        snapshot.plot(id).unwrap(),
        &SamplingAsk { design: Design::Repeat, ..usual },
        TODAY,
    );
    assert_eq!(refused.unwrap_err().field, "design");
    let wide = SamplingAsk { margin_m: Some(15.0), ..usual };
    assert_eq!(
        sampling_report(&snapshot, snapshot.plot(id).unwrap(), &wide, TODAY).unwrap_err().field,
        "margin_m"
    );

    let folder = tempfile::tempdir().unwrap();
    let (book, id) = self::book(&folder, Shape::Area { area_m2: Bounded::literal(900.0) }, false);
    let snapshot = book.snapshot().unwrap();
    let report = sampling_report(&snapshot, snapshot.plot(id).unwrap(), &usual, TODAY).unwrap();
    assert_eq!((report.outline, report.points.len()), (OutlineFrom::Nothing, 0));
    assert!(report.numbers.cores >= 12);
    let said = tell::sentences(&report, UnitSystem::UsCustomary);
    assert!(said.lead.contains("8 in deep"), "{}", said.lead);
}

#[test]
fn a_smaller_error_asks_more_cores_and_is_told_when_it_cannot_be_had() {
    let folder = tempfile::tempdir().unwrap();
    let (book, id) = book(&folder, rectangle(), false);
    let snapshot = book.snapshot().unwrap();
    let plot = snapshot.plot(id).unwrap();
    let with = |error_percent: f64| {
        let ask = SamplingAsk { error_percent, ..SamplingAsk::usual(SamplingPurpose::Fertility) };
        sampling_report(&snapshot, plot, &ask, TODAY).unwrap().numbers
    };
    let (rough, fine) = (with(20.0), with(5.0));
    assert!(rough.asked < fine.asked && rough.asked_low <= rough.asked && rough.asked <= rough.asked_high);
    assert!(fine.falls_short && fine.places <= 60);
}
