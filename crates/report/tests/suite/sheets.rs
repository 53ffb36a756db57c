//! What stands on the printed sheets, read back by a PDF reader that knows nothing of how they were made.

use crate::common::{buying, bytes, closed, options, pages, spread, text, work};
use jiff::civil::date;
use report::{BuyingSheet, Paper, SheetOptions, SpreadBed, SpreadSheet, WorkLine, WorkSheet, render};

/// A sheet holds a text, wherever its lines were broken.
#[track_caller]
fn holds(sheet: &str, said: &str) {
    assert!(closed(sheet).contains(&closed(said)), "{said:?} is not in {sheet:?}");
}

#[test]
fn paper_is_letter_or_a4() {
    // US letter is 8.5 × 11 in (ANSI/ASME Y14.1, size A); A4 is 210 × 297 mm (ISO 216); a point is 1/72 in.
    for (paper, width_in, height_in) in [(Paper::Letter, 8.5, 11.0), (Paper::A4, 210.0 / 25.4, 297.0 / 25.4)]
    {
        for page in pages(&bytes(&work(3), paper)) {
            let (width_pt, height_pt) = page.size_pt;
            assert!((width_pt - 72.0 * width_in).abs() < 0.1, "{paper:?} is {width_pt} pt wide");
            assert!((height_pt - 72.0 * height_in).abs() < 0.1, "{paper:?} is {height_pt} pt high");
        }
    }
}

#[test]
fn the_work_plan_says_all_of_a_job() {
    let sheet = text(&work(2));
    for said in [
        "Work plan",
        "Invented Farm",
        "14 March 2026",
        "page 1 of 1",
        "March 2026",
        "South field, bed 2",
        "Spread ground limestone and work it in",
        "Waits for the ground to be dry enough to crumble.",
        "23 lb 8 oz",
        "14 March to 10 April",
        "Done on",
        "Cautions",
        "Lime dust burns eyes and lungs: wear goggles and a mask, and spread on a still day.",
        "Jobs that were refused or put off are left out.",
    ] {
        holds(&sheet, said);
    }
}

#[test]
fn what_to_spread_says_all_of_a_bed() {
    let sheet = text(&spread(2));
    for said in [
        "What to spread",
        "North tunnel, bed 1",
        "North tunnel, bed 2",
        "Tomato, 30 in × 96 ft",
        "Feather meal",
        "12 lb 4 oz",
        "about 3 1/2 buckets",
        "Half before planting, half side-dressed in June",
        "Ground limestone",
        "Phosphorus stays at its limit",
        "Lime dust burns",
    ] {
        holds(&sheet, said);
    }
}

#[test]
fn the_buying_list_says_what_to_buy_and_what_it_comes_to() {
    let sheet = text(&buying(3));
    for said in [
        "Buying list",
        "Material 3",
        "3 bags of 50 lb",
        "131 lb 8 oz",
        "30 lb 8 oz",
        "In all",
        "252.00 USD",
        "In hand already",
        "Gypsum: 40 lb of the 65 lb in hand",
        "Planning for 80 % instead of the median costs 46.00 USD more.",
    ] {
        holds(&sheet, said);
    }
}

#[test]
fn a_bed_without_materials_keeps_its_notes() {
    let sheet = SpreadSheet {
        beds: vec![SpreadBed {
            place: "Bed 9".to_owned(),
            notes: vec!["Nothing is needed: phosphorus is above its limit.".to_owned()],
            ..SpreadBed::default()
        }],
        ..SpreadSheet::default()
    };
    holds(&text(&sheet), "Bed 9 Nothing is needed: phosphorus is above its limit.");
}

#[test]
fn two_hundred_beds_run_over_pages_and_lose_none() {
    for paper in [Paper::Letter, Paper::A4] {
        let pages = pages(&bytes(&work(200), paper));
        let count = pages.len();
        assert!((5..=40).contains(&count), "200 jobs take {count} pages");
        for (at, page) in pages.iter().enumerate() {
            holds(&page.text, &format!("page {} of {count}", at + 1));
            holds(&page.text, "Invented Farm");
        }
        // The heading of the table and of the month come again wherever jobs are told.
        for page in pages.iter().filter(|page| page.text.contains("South field")) {
            holds(&page.text, "What to do");
            holds(&page.text, "March 2026");
        }
        let jobs: usize = pages.iter().map(|page| closed(&page.text).matches("Southfield,bed").count()).sum();
        assert_eq!(jobs, 200);
        let whole: String = pages.iter().map(|page| closed(&page.text)).collect();
        for bed in 1..=200 {
            assert!(whole.contains(&format!("Southfield,bed{bed}Spread")), "bed {bed} is missing");
        }
    }
}

#[test]
fn the_materials_of_a_bed_stay_on_one_page() {
    let pages = pages(&bytes(&spread(200), Paper::Letter));
    let mut beds = 0;
    for page in &pages {
        let text = closed(&page.text);
        let here = text.matches("Northtunnel,bed").count();
        for material in ["Feathermeal", "Potassiumsulfate", "Groundlimestone"] {
            assert_eq!(text.matches(material).count(), here, "{material} on {}", page.text);
        }
        beds += here;
    }
    assert_eq!(beds, 200);
}

#[test]
fn an_empty_plan_is_a_sheet_that_says_so() {
    let lead = vec!["There is nothing to do.".to_owned()];
    let sheet = text(&WorkSheet { lead: lead.clone(), ..WorkSheet::default() });
    holds(&sheet, "Work plan");
    holds(&sheet, "There is nothing to do.");
    assert!(!sheet.contains("Done on"), "no table without jobs: {sheet}");
    assert!(!sheet.contains("Cautions"), "no frame without cautions: {sheet}");
    assert_eq!(
        pages(&bytes(&SpreadSheet { lead: lead.clone(), ..SpreadSheet::default() }, Paper::A4)).len(),
        1
    );
    assert_eq!(pages(&bytes(&BuyingSheet { lead, ..BuyingSheet::default() }, Paper::A4)).len(), 1);
    // Without a word at all it is still a page.
    assert_eq!(pages(&bytes(&WorkSheet::default(), Paper::A4)).len(), 1);
}

#[test]
fn names_are_printed_as_they_stand() {
    for name in [
        "#let x = 1",
        "*North* _slope_",
        "#panic(\"no\")",
        "$x^2$ <label> @ref",
        "= Heading",
        "- item / term: 1.",
        "C:\\field\\3 `raw` ```",
        "[bed] {2} (3) ~ -- --- ...",
        "\"quoted\" and 'single'",
        "Ærø, Łódź, Ñandú, Ωμέγα, Жито",
        "http://example.invalid/#bed",
        "// not a comment /* nor this */",
        "#import \"/frame.typ\"",
        "#read(\"/etc/passwd\")",
    ] {
        let mut sheet = work(1);
        sheet.groups[0].lines[0].place = name.to_owned();
        sheet.groups[0].heading = name.to_owned();
        sheet.lead = vec![name.to_owned()];
        sheet.cautions[0].text = name.to_owned();
        let options = SheetOptions { farm: name.to_owned(), ..options(Paper::A4) };
        let bytes = render(&sheet, &options).expect("any name can be printed");
        let printed = closed(&pages(&bytes)[0].text);
        assert_eq!(printed.matches(&closed(name)).count(), 5, "{name:?} in {printed:?}");
    }
}

#[test]
fn a_letter_without_a_sign_is_told_of() {
    let mut sheet = work(1);
    assert!(!text(&sheet).contains("empty boxes"));
    sheet.groups[0].lines[0].place = "温室 2".to_owned();
    holds(&text(&sheet), "Some letters on this sheet print as empty boxes");
}

#[test]
fn a_very_long_name_does_not_run_over_its_column() {
    let mut sheet = work(1);
    let name = "Northwesternmostfieldbehindthebarn".repeat(6);
    sheet.groups[0].lines[0].place.clone_from(&name);
    let printed = text(&sheet);
    // Broken over lines, the name is no longer one word.
    assert!(!printed.contains(&name));
    holds(&printed, &name);
    holds(&printed, "23 lb 8 oz");
}

#[test]
fn the_same_sheet_on_the_same_day_is_the_same_file() {
    let first = bytes(&spread(40), Paper::Letter);
    assert_eq!(first, bytes(&spread(40), Paper::Letter));
    let other_day = SheetOptions { day: date(2026, 3, 15), ..options(Paper::Letter) };
    assert_ne!(first, render(&spread(40), &other_day).expect("a sheet can be made"));
}

#[test]
fn the_file_says_what_it_is() {
    let document = lopdf::Document::load_mem(&bytes(&work(1), Paper::A4)).expect("the bytes are a PDF");
    let info =
        document.trailer.get(b"Info").and_then(lopdf::Object::as_reference).expect("it tells of itself");
    let info = document.get_dictionary(info).expect("a dictionary");
    let told = |key: &[u8]| lopdf::decode_text_string(info.get(key).expect("it is told")).expect("a text");
    assert_eq!(told(b"Title"), "Work plan");
    assert_eq!(told(b"Author"), "Invented Farm");
    assert_eq!(told(b"Creator"), "Spadework");
    assert!(told(b"CreationDate").starts_with("D:20260314000000"), "{}", told(b"CreationDate"));
}

#[test]
fn fonts_are_in_the_file() {
    let bytes = bytes(&work(1), Paper::A4);
    let document = lopdf::Document::load_mem(&bytes).expect("the bytes are a PDF");
    let files = document
        .objects
        .values()
        .filter_map(|object| object.as_dict().ok())
        .filter(|dictionary| dictionary.has(b"FontDescriptor") || dictionary.has_type(b"FontDescriptor"))
        .filter(|dictionary| {
            dictionary.has(b"FontFile3") || dictionary.has(b"FontFile2") || dictionary.has(b"FontFile")
        })
        .count();
    assert!(files >= 1, "no font is in the file");
    assert!(bytes.len() < 200_000, "only the letters in use are taken along: {} bytes", bytes.len());
}

#[test]
fn a_job_of_many_words_is_whole() {
    let details: Vec<String> = (1..=30).map(|at| format!("Sentence {at} of a long explanation.")).collect();
    let mut sheet = work(1);
    sheet.groups[0].lines[0] = WorkLine { details: details.clone(), ..sheet.groups[0].lines[0].clone() };
    let printed = text(&sheet);
    for sentence in &details {
        holds(&printed, sentence);
    }
}
