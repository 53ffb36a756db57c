//! Sheets of an invented farm, and what a reader of PDF of its own (lopdf) finds in them.
#![allow(dead_code, reason = "each test file takes what it needs")]

pub(crate) mod drawn;
pub(crate) mod raster;

use jiff::civil::date;
use lopdf::{Document, Object};
use report::{
    BuyingLine, BuyingSheet, Caution, Paper, Sheet, SheetOptions, SpreadBed, SpreadLine, SpreadSheet,
    WorkGroup, WorkLine, WorkSheet, render,
};

/// The options of a sheet on a day in spring.
pub(crate) fn options(paper: Paper) -> SheetOptions {
    SheetOptions { farm: "Invented Farm".to_owned(), day: date(2026, 3, 14), paper }
}

/// The bytes of a sheet.
pub(crate) fn bytes<S: Sheet>(sheet: &S, paper: Paper) -> Vec<u8> {
    render(sheet, &options(paper)).expect("a sheet can be made")
}

/// What stands on a page of a PDF.
pub(crate) struct Page {
    /// Width and height in points.
    pub(crate) size_pt: (f64, f64),
    /// The text, runs of spaces made one.
    pub(crate) text: String,
}

/// The pages of a PDF.
pub(crate) fn pages(bytes: &[u8]) -> Vec<Page> {
    let document = Document::load_mem(bytes).expect("the bytes are a PDF");
    document
        .get_pages()
        .into_iter()
        .map(|(number, id)| {
            let media_box =
                document.get_dictionary(id).expect("a page").get(b"MediaBox").expect("it has a size");
            let side = |at: usize| match &media_box.as_array().expect("four numbers")[at] {
                Object::Integer(side) => *side as f64,
                Object::Real(side) => f64::from(*side),
                other => panic!("a side of a page is {other:?}"),
            };
            let text = document.extract_text(&[number]).expect("the text can be read");
            let text = text.replace('\u{200b}', "");
            Page {
                size_pt: (side(2) - side(0), side(3) - side(1)),
                text: text.split_whitespace().collect::<Vec<_>>().join(" "),
            }
        })
        .collect()
}

/// All text of a sheet.
pub(crate) fn text<S: Sheet>(sheet: &S) -> String {
    let pages = pages(&bytes(sheet, Paper::Letter));
    pages.into_iter().map(|page| page.text).collect::<Vec<_>>().join(" ")
}

/// A text without its spaces: where a line was broken is of no matter.
pub(crate) fn closed(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace() && *c != '\u{200b}').collect()
}

fn strings(list: &[&str]) -> Vec<String> {
    list.iter().map(|&item| item.to_owned()).collect()
}

/// A work plan of `beds` beds, one job each.
pub(crate) fn work(beds: usize) -> WorkSheet {
    let line = |at: usize| WorkLine {
        place: format!("South field, bed {at}"),
        what: "Spread ground limestone and work it in".to_owned(),
        details: strings(&["Waits for the ground to be dry enough to crumble."]),
        how_much: strings(&["23 lb 8 oz of ground limestone"]),
        when: "14 March to 10 April".to_owned(),
        cautions: strings(&["a"]),
    };
    WorkSheet {
        lead: strings(&["Jobs that were refused or put off are left out."]),
        groups: vec![WorkGroup { heading: "March 2026".to_owned(), lines: (1..=beds).map(line).collect() }],
        cautions: vec![Caution {
            sign: "a".to_owned(),
            text: "Lime dust burns eyes and lungs: wear goggles and a mask, and spread on a still day."
                .to_owned(),
        }],
    }
}

/// What to spread on `beds` beds, three materials each.
pub(crate) fn spread(beds: usize) -> SpreadSheet {
    let line = |material: &str, amount: &str, carried: &str, how: &str, cautions: &[&str]| SpreadLine {
        material: material.to_owned(),
        amount: amount.to_owned(),
        carried: carried.to_owned(),
        how: how.to_owned(),
        cautions: strings(cautions),
    };
    let bed = |at: usize| SpreadBed {
        place: format!("North tunnel, bed {at}"),
        about: "Tomato, 30 in × 96 ft".to_owned(),
        lines: vec![
            line(
                "Feather meal",
                "12 lb 4 oz",
                "about 3 1/2 buckets",
                "Work into the top 4 in before planting",
                &[],
            ),
            line(
                "Potassium sulfate",
                "5 lb 6 oz",
                "",
                "Half before planting, half side-dressed in June",
                &[],
            ),
            line("Ground limestone", "31 lb", "about 2 buckets", "Work in well, at once", &["a"]),
        ],
        notes: vec![],
    };
    SpreadSheet {
        lead: strings(&["Phosphorus stays at its limit on 2 beds: no compost goes there."]),
        beds: (1..=beds).map(bed).collect(),
        cautions: work(0).cautions,
    }
}

/// A buying list of `materials` materials.
pub(crate) fn buying(materials: usize) -> BuyingSheet {
    let line = |at: usize| BuyingLine {
        material: format!("Material {at}"),
        packs: "3 bags of 50 lb".to_owned(),
        needed: "131 lb 8 oz".to_owned(),
        in_hand: "12 lb".to_owned(),
        left_over: "30 lb 8 oz".to_owned(),
        cost: "84.00".to_owned(),
        note: "14 % N".to_owned(),
        cautions: vec![],
    };
    BuyingSheet {
        lead: strings(&["Prices as they stand on the shelf list."]),
        lines: (1..=materials).map(line).collect(),
        total: format!("{}.00 USD", 84 * materials),
        in_hand: strings(&["Gypsum: 40 lb of the 65 lb in hand"]),
        notes: strings(&["Planning for 80 % instead of the median costs 46.00 USD more."]),
        cautions: vec![],
    }
}
