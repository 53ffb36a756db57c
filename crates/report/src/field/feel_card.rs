//! The feel test on a card: what to do, what it leads to, and lines to fill in.

use ground::kit::Bounded;
use ground::kit::units::UnitSystem;
use ground::texture::feel::path::{LONG_FROM_MM, MEDIUM_FROM_MM};
use ground::texture::feel::{Answers, Ribbon, RibbonLength, Rub, possible, prepare, questions};
use serde::Serialize;

use super::ruler::{Tick, inches, millimetres};
use crate::error::SheetError;
use crate::options::SheetOptions;
use crate::render::render;
use crate::sheet::Sheet;
use crate::templates::Template;

/// The feel card.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FeelCard {
    /// How to make the soil ready.
    pub prepare: String,
    /// The questions in turn, each with how to go about it.
    pub questions: Vec<[String; 2]>,
    /// What the answers lead to.
    pub rows: Vec<FeelRow>,
    /// Length of the scale for ribbons.
    length_mm: f64,
    millimetres: Vec<Tick>,
    inches: Vec<Tick>,
    /// What to know beside it.
    pub notes: Vec<String>,
}

/// One way the first two answers can go.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FeelRow {
    /// "Ribbon under 1 in".
    pub what: String,
    /// The class where it rubs gritty, neither, smooth; one class where the rub is not asked.
    pub classes: Vec<String>,
}

impl Sheet for FeelCard {
    const TEMPLATE: Template = Template::FEEL_CARD;

    fn title(&self) -> &'static str {
        "Feel-test card"
    }
}

/// The longest ribbon the scale measures.
const SCALE_MM: f64 = 101.6;

/// The card, in the units of its reader.
#[must_use]
pub fn feel_card(units: UnitSystem) -> FeelCard {
    let length = |mm: f64| {
        // The chart's limits are whole inches, and 25 and 50 mm.
        match units {
            UnitSystem::UsCustomary => format!("{:.0} in", mm / 25.4),
            UnitSystem::Metric => format!("{mm:.0} mm"),
        }
    };
    let (medium, long) = (length(MEDIUM_FROM_MM), length(LONG_FROM_MM));
    let ribbons = [
        (format!("Breaks under {medium}"), MEDIUM_FROM_MM / 2.0),
        (format!("Breaks from {medium} to under {long}"), f64::midpoint(MEDIUM_FROM_MM, LONG_FROM_MM)),
        (format!("{long} or longer"), 1.2 * LONG_FROM_MM),
    ];
    let mut rows = vec![
        row("No ball", Answers { ball_holds: Some(false), ..Answers::default() }),
        row("A ball, no ribbon", Answers { ball_holds: Some(true), ribbon: Some(Ribbon::None), rub: None }),
    ];
    for (what, mm) in ribbons {
        let ribbon = RibbonLength::new(mm).ok().map(Ribbon::BrokeAtMm);
        let classes = [Rub::Gritty, Rub::Neither, Rub::Smooth]
            .into_iter()
            .flat_map(|rub| classes(&Answers { ball_holds: Some(true), ribbon, rub: Some(rub) }))
            .collect();
        rows.push(FeelRow { what, classes });
    }
    FeelCard {
        prepare: prepare().to_owned(),
        questions: questions()
            .iter()
            .map(|question| [question.text.clone(), question.hint.clone()])
            .collect(),
        rows,
        length_mm: SCALE_MM,
        millimetres: millimetres(SCALE_MM),
        inches: inches(SCALE_MM),
        notes: vec![
            "Silt feels like silt loam: the hand does not part them.".to_owned(),
            "Practise on soil whose texture a laboratory has told. A new hand is often one class off, and the app allows \
             for that: write down whose hand it was."
                .to_owned(),
            "Wash your hands afterwards. Wear gloves and do not feel soil where old paint, old sprays, waste or traffic \
             may have left lead or arsenic."
                .to_owned(),
        ],
    }
}

fn row(what: &str, answers: Answers) -> FeelRow {
    FeelRow { what: what.to_owned(), classes: classes(&answers) }
}

fn classes(answers: &Answers) -> Vec<String> {
    possible(answers).into_iter().map(|class| class.name().to_owned()).collect()
}

/// The card as PDF.
///
/// # Errors
/// A fault of the program.
pub fn feel_card_pdf(units: UnitSystem, options: &SheetOptions) -> Result<Vec<u8>, SheetError> {
    render(&feel_card(units), options)
}
