//! `jar`: what a jar of settled soil says, without a book.

use clap::Args;
use ground::belief::ilr;
use ground::kit::units::{Dimension, UnitSystem, show};
use ground::kit::{Answer, Method, Note, Spread};
use ground::texture::Composition;
use ground::texture::jar::JarFinding;
use ground::texture::jar::jar_test::{JarTest, JarTestInput};
use serde_json::json;

use super::jar_args::JarArgs;
use crate::args::Global;
use crate::picture;
use crate::report::{Report, columns, notes, wrapped};
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `jar`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework jar --sand 7/8in --silt 13/16in --clay 1/2in --ruler 1/16in
  spadework jar --sand-top 22mm --silt-top '41 to 44 mm' --clay-top '?' --water-temperature 68F
  spadework jar --mark 1min=7/8in --mark 2h='1 11/16in' --mark 1d='2 3/16in' --water-height 7in \\
    --dispersant dishwasher-powder --after-a-day cloudy")]
pub(crate) struct Jar {
    #[command(flatten)]
    jar: JarArgs,
    /// Add the steps
    #[arg(long)]
    working: bool,
}

impl Jar {
    /// Reads the jar.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let system = global.system();
        let input = JarTestInput::new(self.jar.reading(system)?, None);
        let answer = JarTest::compute(&input).map_err(|refusal| self.jar.told(refusal, system))?;
        let mut json = json!(answer);
        let mut text = words(&answer, system, terminal);
        if self.working {
            let working = JarTest::working(&input, &answer);
            json["working"] = json!(working);
            text.push_str(&super::steps(&working));
        }
        for caution in JarTest::CARD.cautions {
            text.push_str(&format!("\n{}", wrapped(&format!("Caution: {caution}"), terminal.width, "  ")));
        }
        Report::new(&json, text)
    }
}

fn words(answer: &Answer<JarFinding>, system: UnitSystem, terminal: &Terminal) -> String {
    let finding = &answer.value;
    let told: Vec<Note> = answer.notes.iter().map(|note| note.in_units(system)).collect();
    let Some(class) = finding.class else {
        // Odds and ranges of a jar that nobody could read would look like an answer.
        return format!("Nothing is known from this jar.\n\n{}", notes(&told, terminal.width));
    };
    let mut text = String::new();
    if terminal.picture {
        text.push_str(&picture::triangle(&cloud(finding), terminal.unicode));
        text.push_str("\n\n");
    }
    text.push_str(&format!("The jar says: most likely {}.\n", class.name()));
    let odds: Vec<(String, f64)> = finding
        .class_odds
        .iter()
        .filter(|odds| odds.odds_percent >= 0.5)
        .map(|odds| (odds.class.name().to_owned(), odds.odds_percent / 100.0))
        .collect();
    text.push_str(&picture::bars(&odds, terminal));
    let share = |name: &str, spread: &Spread| {
        vec![
            name.to_owned(),
            format!("{:.0} %", spread.median),
            format!("(90 %: {:.0} to {:.0})", spread.low, spread.high),
        ]
    };
    text.push_str("\n\nBy mass\n");
    let mass = &finding.mass_percent;
    text.push_str(&columns(
        &[share("sand", &mass.sand), share("silt", &mass.silt), share("clay", &mass.clay)],
        "  ",
    ));
    text.push_str("\nOf the settled volume\n");
    let volume = &finding.volume_percent;
    text.push_str(&columns(
        &[share("sand", &volume.sand), share("silt", &volume.silt), share("clay", &volume.clay)],
        "  ",
    ));
    if !finding.marks.is_empty() {
        text.push_str("\nWhat each mark really parts\n");
        let rows: Vec<Vec<String>> = finding
            .marks
            .iter()
            .map(|mark| {
                vec![
                    format!("mark at {}", show(mark.after_s, Dimension::Duration, system)),
                    format!("{:.2} µm", mark.cut_um.median),
                    format!("(90 %: {:.2} to {:.2})", mark.cut_um.low, mark.cut_um.high),
                ]
            })
            .collect();
        text.push_str(&columns(&rows, "  "));
    }
    if !told.is_empty() {
        text.push_str("\n\n");
        text.push_str(&notes(&told, terminal.width));
    }
    text
}

/// The jar's own account, weighed over the cells of the triangle: normal in ilr coordinates, which
/// in shares means dividing by their product.
fn cloud(finding: &JarFinding) -> Vec<(Composition, f64)> {
    let own = finding.ilr_covariance;
    let shared = finding.shared_ilr_covariance;
    let [a, b, d] = [own[0][0] + shared[0][0], own[0][1] + shared[0][1], own[1][1] + shared[1][1]];
    let determinant = a * d - b * b;
    picture::cells()
        .map(|soil| {
            let point = ilr::to_ilr(soil);
            let (x, y) = (point.x - finding.ilr_centre[0], point.y - finding.ilr_centre[1]);
            let distance = (d * x * x - 2.0 * b * x * y + a * y * y) / determinant;
            (soil, (-0.5 * distance).exp() / (soil.sand * soil.silt * soil.clay))
        })
        .collect()
}
