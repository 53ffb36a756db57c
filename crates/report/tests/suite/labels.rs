//! Labels for bags, looked at as a person with a scanner would: drawn to dots by one program, read by another.

use crate::common::drawn::drawn;
use crate::common::raster::{codes, inked, part, raster};
use crate::common::{closed, options, pages};
use book::model::{EntryId, Farm, Place, Plot, Sample, SampleDepth, Shape};
use book::{Book, Stamp, Tag};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;
use image::{GrayImage, Luma};
use jiff::Timestamp;
use jiff::civil::{Date, date};
use report::field::{
    BagLabel, LabelAsk, LabelStock, label_sheet, labels_pdf, qr_modules, sample_labels, samples_to_label,
};
use report::{Paper, SheetError};

const POINTS_PER_MM: f64 = 72.0 / 25.4;

fn record() -> EntryId {
    "0190163d-8694-739b-aea5-966c26f8ad91".parse().expect("an identity")
}

pub(crate) fn labels(count: u16) -> Vec<BagLabel> {
    (1..=count)
        .map(|number| BagLabel {
            tag: Tag::Bag { plan: record(), number },
            bag: format!("Bag {number} of {count}"),
            depth: "0 to 6 in".to_owned(),
            plot: "Long north field below the old hedge, the wetter half of it".to_owned(),
            points: "Points 1, 4, 7, 10, 13".to_owned(),
            day: if number % 2 == 0 { "27 November 2026".to_owned() } else { String::new() },
        })
        .collect()
}

fn ask(stock: LabelStock, start: u16) -> LabelAsk {
    LabelAsk { stock, start, edges: true }
}

/// The modules as a picture, each so many dots wide, with a quiet zone.
fn picture(modules: &[Vec<bool>], dots: u32, quiet: u32) -> GrayImage {
    let side = (modules.len() as u32 + 2 * quiet) * dots;
    GrayImage::from_fn(side, side, |x, y| {
        let at = |dot: u32| (dot / dots).checked_sub(quiet).map(|module| module as usize);
        let dark = at(y)
            .and_then(|row| modules.get(row))
            .zip(at(x))
            .and_then(|(row, column)| row.get(column).copied())
            .unwrap_or(false);
        Luma([if dark { 0 } else { 255 }])
    })
}

#[test]
fn another_reader_finds_the_record_in_the_qr_code() {
    for tag in [Tag::Sample(record()), Tag::Bag { plan: record(), number: 999 }] {
        let uri = tag.uri();
        let modules = qr_modules(&uri).expect("it can be made");
        // ISO/IEC 18004: version v has 17 + 4 v modules; level M holds 62 bytes in version 4.
        assert_eq!(modules.len(), 17 + 4 * 4);
        for dots in [2, 3, 8] {
            assert_eq!(codes(picture(&modules, dots, 4)), std::slice::from_ref(&uri), "{dots} dots a module");
        }
    }
}

#[test]
fn a_code_with_a_dirty_spot_is_still_read() {
    let uri = Tag::Sample(record()).uri();
    let mut modules = qr_modules(&uri).expect("it can be made");
    // 4 × 4 of 33 × 33 modules; level M restores some 15 % of the code words.
    for row in modules.iter_mut().skip(14).take(4) {
        row.iter_mut().skip(14).take(4).for_each(|dot| *dot = true);
    }
    assert_eq!(codes(picture(&modules, 4, 4)), [uri]);
}

#[test]
fn labels_lie_where_the_sheet_of_labels_has_them() {
    for stock in LabelStock::ALL {
        let (paper_width, paper_height) = stock.paper.size_mm();
        let labels = labels(stock.per_sheet() + 2);
        let pdf = labels_pdf(&labels, &ask(*stock, 3), &options(Paper::Letter)).expect("it can be made");
        let pages = drawn(&pdf);
        assert_eq!(pages.len(), 2, "{}", stock.key);
        let boxes = |page: usize| -> Vec<[f64; 4]> {
            let near = |a: f64, b: f64| (a - b).abs() < 0.05;
            let mut boxes: Vec<[f64; 4]> = Vec::new();
            for path in &pages[page] {
                let [left, top, width, height] = path.map(|side| side / POINTS_PER_MM);
                let known = boxes.iter().any(|known| near(known[0], left) && near(known[1], top));
                if near(width, stock.width_mm) && near(height, stock.height_mm) && !known {
                    boxes.push([left, top, width, height]);
                }
            }
            boxes
        };
        let first = boxes(0);
        assert_eq!(first.len(), usize::from(stock.per_sheet() - 2), "{}", stock.key);
        assert_eq!(boxes(1).len(), 4, "{}", stock.key);
        for (at, [left, top, width, height]) in first.iter().enumerate() {
            assert!(*left > -0.05 && left + width < paper_width + 0.05, "{} {at}", stock.key);
            assert!(*top > -0.05 && top + height < paper_height + 0.05, "{} {at}", stock.key);
        }
        // The third label of the sheet is the first that is printed: at the end of the first row of three, or at the
        // beginning of the second of two.
        let (column, row) = (2 % stock.columns, 2 / stock.columns);
        let margin_mm = (paper_width
            - f64::from(stock.columns) * stock.width_mm
            - f64::from(stock.columns - 1) * stock.gap_mm)
            / 2.0;
        let left = margin_mm + f64::from(column) * (stock.width_mm + stock.gap_mm);
        let top =
            (paper_height - f64::from(stock.rows) * stock.height_mm) / 2.0 + f64::from(row) * stock.height_mm;
        assert!(
            first.iter().any(|found| (found[0] - left).abs() < 0.05 && (found[1] - top).abs() < 0.05),
            "{}: {first:?} has none at {left}, {top}",
            stock.key
        );
    }
}

#[test]
fn a_label_says_what_is_in_the_bag() {
    let stock = LabelStock::usual(Paper::Letter);
    let pdf = labels_pdf(&labels(2), &ask(stock, 1), &options(Paper::Letter)).expect("it can be made");
    let text = closed(&pages(&pdf)[0].text);
    let code = Tag::Bag { plan: record(), number: 2 }.short().to_string();
    for said in
        ["Bag 2 of 2", "0 to 6 in", "Long north field", "Taken", "27 November 2026", "Invented Farm", &code]
    {
        assert!(text.contains(&closed(said)), "{said} is not in {text}");
    }
}

#[test]
fn labels_that_cannot_be_are_refused() {
    let stock = LabelStock::usual(Paper::A4);
    for (labels, start, field) in
        [(labels(3), 0, "start"), (labels(3), 22, "start"), (vec![], 1, "labels"), (labels(501), 1, "labels")]
    {
        match label_sheet(&labels, &ask(stock, start), "Farm") {
            Err(SheetError::Refused(refusal)) => assert_eq!(refusal.field, field),
            other => panic!("{other:?}"),
        }
    }
}

/// Where the label of a number lies, reckoned from the measures of its sheet alone: even margins all round.
fn cell(stock: &LabelStock, at: u16) -> [f64; 4] {
    let (paper_width, paper_height) = stock.paper.size_mm();
    let (columns, rows) = (f64::from(stock.columns), f64::from(stock.rows));
    let margin_mm = (paper_width - columns * stock.width_mm - (columns - 1.0) * stock.gap_mm) / 2.0;
    let (column, row) = (f64::from(at % stock.columns), f64::from(at / stock.columns));
    [
        margin_mm + column * (stock.width_mm + stock.gap_mm),
        (paper_height - rows * stock.height_mm) / 2.0 + row * stock.height_mm,
        stock.width_mm,
        stock.height_mm,
    ]
}

#[test]
fn the_code_of_every_label_is_read_off_the_paper() {
    for stock in LabelStock::ALL {
        let labels = labels(stock.per_sheet());
        let plain = LabelAsk { edges: false, ..ask(*stock, 1) };
        let pdf = labels_pdf(&labels, &plain, &options(Paper::Letter)).expect("it can be made");
        let page = raster(&pdf).remove(0);
        for (at, label) in (0..).zip(&labels) {
            let read = codes(part(&page, cell(stock, at)));
            assert_eq!(read, [label.tag.uri()], "{} label {}", stock.key, at + 1);
        }
    }
}

#[test]
fn nothing_is_printed_beside_the_labels_or_at_their_very_edge() {
    for stock in LabelStock::ALL {
        let plain = LabelAsk { edges: false, ..ask(*stock, 1) };
        let pdf =
            labels_pdf(&labels(stock.per_sheet()), &plain, &options(Paper::A4)).expect("it can be made");
        let page = raster(&pdf).remove(0);
        // Printers shift by a millimetre; what stands nearer to the edge may be lost.
        let inside: usize = (0..stock.per_sheet())
            .map(|at| {
                let [left, top, width, height] = cell(stock, at);
                inked(&part(&page, [left + 1.0, top + 1.0, width - 2.0, height - 2.0]))
            })
            .sum();
        assert!(inside > 10_000, "{}: {inside} dots", stock.key);
        assert_eq!(inside, inked(&page), "{}", stock.key);
    }
}

#[test]
fn long_and_strange_names_leave_the_code_and_the_words_whole() {
    let names = [
        "Northwesternmostfieldbehindthebarn".repeat(8),
        "The long strip between the old orchard and the creek, lower half, second terrace from the gate "
            .repeat(3),
        "\"#let x\" $1 @ref *b* \\ <i> & `raw` // \u{1F955}".to_owned(),
        "\u{1F955}".repeat(60),
    ];
    for stock in LabelStock::ALL {
        for name in &names {
            let mut labels = labels(1);
            labels[0].plot.clone_from(name);
            labels[0].bag = "Bag LOWER-FIELD-2026-SPRING-NORTH-17".to_owned();
            labels[0].points = "Points 101, 104, 107, 110, 113 and 116".to_owned();
            labels[0].day = "27 September 2026".to_owned();
            let plain = LabelAsk { edges: false, ..ask(*stock, 1) };
            let pdf = labels_pdf(&labels, &plain, &options(Paper::A4)).expect("any name can be printed");
            let page = raster(&pdf).remove(0);
            assert_eq!(codes(part(&page, cell(stock, 0))), [labels[0].tag.uri()], "{} {name}", stock.key);
            // What would run over the label is cut off at its edge: the short code must lie clear of that.
            let text = closed(&pages(&pdf)[0].text);
            let code = labels[0].tag.short().to_string();
            assert!(text.contains(&closed(&code)), "{} {name}: {text}", stock.key);
            assert!(text.contains("27September2026"), "{} {name}: {text}", stock.key);
            // The code is written last.
            let [x, y] = crate::common::drawn::written(&pdf).remove(0).pop().expect("there is text");
            let [left, top, width, height] = cell(stock, 0).map(|mm| mm * POINTS_PER_MM);
            let within = x > left && x < left + width && y > top + height / 2.0 && y < top + height - 3.0;
            assert!(within, "{} {name}: the code begins at {x}, {y}", stock.key);
        }
    }
}

/// A q is a b turned about: the one has its stroke below the line, the other above, and as much ink. A name that is cut
/// at the line has lost a good part of it.
#[test]
fn letters_keep_their_tails() {
    for stock in LabelStock::ALL {
        let dots = |plot: &str| {
            let mut labels = labels(1);
            labels[0].plot = plot.to_owned();
            let plain = LabelAsk { edges: false, ..ask(*stock, 1) };
            inked(
                &raster(&labels_pdf(&labels, &plain, &options(Paper::A4)).expect("it can be made")).remove(0),
            )
        };
        let bare = dots(" ");
        let [above, below] = ["bbbbbbbb", "qqqqqqqq"].map(|name| dots(name).saturating_sub(bare));
        assert!(above > 200, "{}: {above} dots", stock.key);
        assert!(10 * below > 9 * above, "{}: {below} dots of q, {above} of b", stock.key);
    }
}

struct Bags {
    _folder: tempfile::TempDir,
    book: Book,
    plot: EntryId,
    bags: Vec<EntryId>,
}

/// A plot with three bags, two of them of one day.
fn bags() -> Bags {
    let folder = tempfile::tempdir().expect("a folder");
    let stamp = Stamp::new(Timestamp::UNIX_EPOCH, "Ada");
    let farm = Farm::named("Invented Farm", UnitSystem::UsCustomary);
    let mut book = Book::create(folder.path().join("a.farmbook"), farm, &stamp).expect("a book");
    let plot = Plot {
        name: "North field".to_owned(),
        place: Place::OpenField,
        shape: Shape::Area { area_m2: Bounded::literal(1000.0) },
        slope_percent: None,
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
        organic: None,
        zone_of: None,
        cover: None,
    };
    let plot = book.record(plot, &stamp).expect("a plot").id;
    let bags = [("NF-1", date(2026, 4, 12)), ("", date(2026, 4, 12)), ("NF-0", date(2025, 4, 1))]
        .map(|(label, day): (&str, Date)| {
            let sample = Sample {
                plot,
                taken_on: day,
                from_cm: SampleDepth::literal(0.0),
                to_cm: SampleDepth::literal(19.05),
                cores: Some(12),
                taken_by: "Ada".to_owned(),
                bag_label: label.to_owned(),
                import: None,
                spot: None,
                note: String::new(),
            };
            book.record(sample, &stamp).expect("a bag").id
        })
        .to_vec();
    Bags { _folder: folder, book, plot, bags }
}

#[test]
fn bags_without_a_plan_get_labels_that_open_their_records() {
    let bags = bags();
    let snapshot = bags.book.snapshot().expect("it can be read");
    let last = samples_to_label(&snapshot, bags.plot, &[], None).expect("there are some");
    let labels = sample_labels(&snapshot, &last, UnitSystem::UsCustomary);
    let told: Vec<[&str; 5]> = labels
        .iter()
        .map(|label| [&label.bag, &label.depth, &label.plot, &label.points, &label.day].map(String::as_str))
        .collect();
    assert_eq!(
        told,
        [
            // 19.05 cm = 7 1/2 in, exactly.
            ["Bag NF-1", "0 to 7 1/2 in", "North field", "12 cores", "12 April 2026"],
            ["Sample", "0 to 7 1/2 in", "North field", "12 cores", "12 April 2026"],
        ]
    );
    let stock = LabelStock::usual(Paper::Letter);
    let plain = LabelAsk { edges: false, ..ask(stock, 2) };
    let page =
        raster(&labels_pdf(&labels, &plain, &options(Paper::Letter)).expect("it can be made")).remove(0);
    let read = codes(part(&page, cell(&stock, 1)));
    assert_eq!(read, [format!("spadework:sample/{}", bags.bags[0])]);

    let one = samples_to_label(&snapshot, bags.plot, &bags.bags[2..], None).expect("it is there");
    assert_eq!(one.len(), 1);
    let day = samples_to_label(&snapshot, bags.plot, &[], Some(date(2025, 4, 1))).expect("it is there");
    assert_eq!(day[0].id, bags.bags[2]);
    let refused = |named: &[EntryId], day| {
        samples_to_label(&snapshot, bags.plot, named, day).expect_err("there is none").field
    };
    assert_eq!(refused(&[], Some(date(2025, 4, 2))), "day");
    assert_eq!(refused(&[record()], None), "sample");
    assert_eq!(samples_to_label(&snapshot, record(), &[], None).expect_err("no plot").field, "plot");
}
