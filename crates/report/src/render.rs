//! From a sheet to the bytes of a PDF.

use std::collections::BTreeSet;

use jiff::civil::Date;
use serde_json::json;
use typst::comemo;
use typst::diag::SourceDiagnostic;
use typst::foundations::{Datetime, Smart};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, Timestamp, pdf};

use crate::error::SheetError;
use crate::options::SheetOptions;
use crate::plain::make_plain;
use crate::sheet::Sheet;
use crate::world::SheetWorld;

/// What is laid out is remembered for this many later sheets and then forgotten.
const REMEMBERED_SHEETS: usize = 4;

/// Lays out a sheet and writes it as PDF; the same sheet on the same day gives the same bytes.
///
/// # Errors
/// A fault of the template or of the program, never of what the sheet says.
pub fn render<S: Sheet>(sheet: &S, options: &SheetOptions) -> Result<Vec<u8>, SheetError> {
    let (document, _) = laid_out(sheet, options)?;
    let options = PdfOptions {
        ident: Smart::Custom(format!("{} {} {}", options.farm, sheet.title(), options.day)),
        creator: Smart::Custom(Some("Spadework".to_owned())),
        timestamp: made_on(options.day),
        ..PdfOptions::default()
    };
    let bytes = pdf(&document, &options).map_err(|errors| SheetError::Pdf(words(&errors)));
    comemo::evict(REMEMBERED_SHEETS);
    bytes
}

/// The pages, and what the layout warned of.
fn laid_out<S: Sheet>(
    sheet: &S,
    options: &SheetOptions,
) -> Result<(PagedDocument, Vec<SourceDiagnostic>), SheetError> {
    let frame = json!({
        "title": sheet.title(),
        "farm": options.farm,
        "day": advice::words::day(options.day),
        "paper": options.paper.name(),
    });
    let mut data = json!({ "frame": frame, "body": serde_json::to_value(sheet)? });
    let mut unprintable = BTreeSet::new();
    make_plain(&mut data, &mut unprintable);
    data["frame"]["boxes"] = json!(!unprintable.is_empty());
    let world = SheetWorld::new(S::TEMPLATE, data.to_string(), sheet.pictures(), options.day)
        .ok_or_else(|| SheetError::Layout(format!("there is no template at {:?}", S::TEMPLATE.path)))?;
    let laid_out = typst::compile::<PagedDocument>(&world);
    let document = laid_out.output.map_err(|errors| SheetError::Layout(words(&errors)))?;
    Ok((document, laid_out.warnings.into_iter().collect()))
}

fn words(errors: &[SourceDiagnostic]) -> String {
    let told: Vec<&str> = errors.iter().map(|error| error.message.as_str()).collect();
    told.join("; ")
}

/// The day told, at its beginning: a clock would make every copy differ.
fn made_on(day: Date) -> Option<Timestamp> {
    let part = |part: i8| u8::try_from(part).ok();
    let begins = Datetime::from_ymd_hms(day.year().into(), part(day.month())?, part(day.day())?, 0, 0, 0)?;
    Some(Timestamp::new_utc(begins))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::field::{
        BagLabel, FieldPoint, FieldSheet, JarStripAsk, LabelAsk, LabelSheet, LabelStock, ProbeFormAsk,
        feel_card, jar_strip, label_sheet, probe_form,
    };
    use crate::options::Paper;
    use crate::sheet::Caution;
    use crate::{
        BuyingLine, BuyingSheet, CoverBar, CoverMark, CoverMonth, CoverPlot, CoverRow, CoverSeedLine,
        CoverSheet, PostPart, PostSheet, SpreadBed, SpreadLine, SpreadSheet, WorkGroup, WorkLine, WorkSheet,
    };
    use book::Tag;
    use ground::kit::Bounded;
    use ground::kit::units::UnitSystem;
    use proptest::prelude::*;

    fn options() -> SheetOptions {
        SheetOptions { farm: "Farm".to_owned(), day: jiff::civil::date(2026, 3, 14), paper: Paper::A4 }
    }

    fn work(text: &str) -> WorkSheet {
        let word = || text.to_owned();
        WorkSheet {
            lead: vec![word()],
            groups: vec![WorkGroup {
                heading: word(),
                lines: vec![WorkLine {
                    place: word(),
                    what: word(),
                    details: vec![word(), word()],
                    how_much: vec![word(), word()],
                    when: word(),
                    cautions: vec![word()],
                }],
            }],
            cautions: vec![Caution { sign: word(), text: word() }],
        }
    }

    fn spread(text: &str) -> SpreadSheet {
        let word = || text.to_owned();
        let line = SpreadLine {
            material: word(),
            amount: word(),
            carried: word(),
            how: word(),
            cautions: vec![word()],
        };
        SpreadSheet {
            lead: vec![word()],
            beds: vec![
                SpreadBed {
                    place: word(),
                    about: word(),
                    lines: vec![line.clone(), line],
                    notes: vec![word()],
                },
                SpreadBed { place: word(), ..SpreadBed::default() },
            ],
            cautions: vec![],
        }
    }

    fn buying(text: &str) -> BuyingSheet {
        let word = || text.to_owned();
        BuyingSheet {
            lead: vec![word()],
            lines: vec![BuyingLine {
                material: word(),
                packs: word(),
                needed: word(),
                in_hand: word(),
                left_over: word(),
                cost: word(),
                note: word(),
                cautions: vec![word()],
            }],
            total: word(),
            in_hand: vec![word()],
            notes: vec![word()],
            cautions: vec![],
        }
    }

    fn posts(text: &str) -> PostSheet {
        let word = || text.to_owned();
        PostSheet {
            title: word(),
            lead: vec![word()],
            figures: vec![[word(), word()]],
            ways: vec![[word(), word(), word(), word()]],
            parts: vec![PostPart { heading: word(), lines: vec![word(), word()] }],
            ticks: vec![word()],
            cautions: vec![Caution { sign: word(), text: word() }],
        }
    }

    fn covers(text: &str) -> CoverSheet {
        let word = || text.to_owned();
        let bar = |kind, from, to| CoverBar { label: word(), kind, from, to };
        CoverSheet {
            lead: vec![word()],
            months: vec![
                CoverMonth { name: "Jan".to_owned(), days: 31 },
                CoverMonth { name: "Feb".to_owned(), days: 28 },
            ],
            marks: vec![CoverMark { label: word(), at: 0.4 }],
            plots: vec![CoverPlot {
                name: word(),
                rows: vec![CoverRow {
                    bed: word(),
                    bars: vec![bar("crop", 0.0, 0.3), bar("cover", 0.3, 0.31), bar("mulch", 0.5, 1.0)],
                    says: word(),
                }],
            }],
            gaps: vec![word()],
            seed: vec![CoverSeedLine {
                name: word(),
                carried: word(),
                places: vec![word(), word()],
                inoculant: word(),
            }],
            cautions: vec![Caution { sign: word(), text: word() }],
        }
    }

    fn field(text: &str) -> FieldSheet {
        let word = || text.to_owned();
        let title = if text.is_empty() { "Field sheet".to_owned() } else { word() };
        FieldSheet {
            lead: vec![word()],
            facts: vec![[word(), word()]],
            steps: vec![word(), word()],
            bring: vec![word()],
            way: word(),
            points: vec![FieldPoint { number: word(), bag: word(), walk: word(), step: word() }],
            columns: vec![word(), word()],
            cautions: vec![Caution { sign: word(), text: word() }],
            ..FieldSheet::new(title)
        }
    }

    fn labels(text: &str, stock: LabelStock) -> LabelSheet {
        let word = || text.to_owned();
        let record = "0190163d-8694-739b-aea5-966c26f8ad91".parse().expect("an identity");
        let label = BagLabel {
            tag: Tag::Sample(record),
            bag: word(),
            depth: word(),
            plot: word(),
            points: word(),
            day: word(),
        };
        label_sheet(&[label.clone(), label], &LabelAsk { stock, start: 1, edges: true }, text)
            .expect("two labels fit")
    }

    fn jar() -> JarStripAsk {
        JarStripAsk {
            jar_height_mm: Bounded::literal(165.0),
            water_height_mm: Bounded::literal(150.0),
            soil_height_mm: Some(Bounded::literal(38.0)),
            water_temperature_c: Bounded::literal(20.0),
        }
    }

    fn probe(text: &str) -> ProbeFormAsk {
        ProbeFormAsk { plot: text.to_owned(), points: (1..=40).collect() }
    }

    /// What the layout warned of: a font that is missing, a layout that does not settle.
    fn warnings<S: Sheet>(sheet: &S) -> Vec<String> {
        let (_, warnings) = laid_out(sheet, &options()).expect("it can be laid out");
        warnings.into_iter().map(|warning| warning.message.to_string()).collect()
    }

    #[test]
    fn no_template_warns() {
        assert_eq!(warnings(&work("Spread it")), Vec::<String>::new());
        assert_eq!(warnings(&spread("Spread it")), Vec::<String>::new());
        assert_eq!(warnings(&buying("Buy it")), Vec::<String>::new());
        assert_eq!(warnings(&posts("Set them")), Vec::<String>::new());
        assert_eq!(warnings(&covers("Sow it")), Vec::<String>::new());
        assert_eq!(warnings(&field("Walk it")), Vec::<String>::new());
        for stock in LabelStock::ALL {
            assert_eq!(warnings(&labels("Stick it on", *stock)), Vec::<String>::new(), "{}", stock.key);
            assert_eq!(warnings(&labels(&"Stick it on ".repeat(40), *stock)), Vec::<String>::new());
        }
        for units in [UnitSystem::UsCustomary, UnitSystem::Metric] {
            assert_eq!(warnings(&jar_strip(&jar(), units).expect("a strip")), Vec::<String>::new());
            assert_eq!(warnings(&feel_card(units)), Vec::<String>::new());
            assert_eq!(warnings(&probe_form(&probe("Push it"), units)), Vec::<String>::new());
            assert_eq!(warnings(&probe_form(&ProbeFormAsk::default(), units)), Vec::<String>::new());
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]
        #[test]
        fn any_words_can_be_printed(text in any::<String>()) {
            let options = SheetOptions { farm: text.clone(), ..options() };
            prop_assert!(render(&work(&text), &options).is_ok());
            prop_assert!(render(&spread(&text), &options).is_ok());
            prop_assert!(render(&buying(&text), &options).is_ok());
            prop_assert!(render(&posts(&text), &options).is_ok());
            prop_assert!(render(&covers(&text), &options).is_ok());
            prop_assert!(render(&field(&text), &options).is_ok());
            prop_assert!(render(&labels(&text, LabelStock::ALL[0]), &options).is_ok());
            prop_assert!(render(&probe_form(&probe(&text), UnitSystem::Metric), &options).is_ok());
        }
    }
}
