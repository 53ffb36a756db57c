//! `texture`: the class of a make-up, without a book.

use clap::Args;
use ground::kit::units::{Dimension, Unit, parse};
use ground::kit::{Answer, Method, Refusal};
use ground::texture::Composition;
use ground::texture::class::{TextureClass, TextureClassOutput};
use ground::texture::composition::{ClayPercent, SandPercent, SiltPercent};
use serde_json::json;

use crate::picture;
use crate::report::{Report, notes};
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `texture`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework texture 40 40 20
  spadework texture 65% 25% 10% --json")]
pub(crate) struct Texture {
    /// Sand, percent of the fine earth by mass
    #[arg(allow_negative_numbers = true)]
    sand: String,
    /// Silt, percent (2 to 50 µm)
    #[arg(allow_negative_numbers = true)]
    silt: String,
    /// Clay, percent (below 2 µm)
    #[arg(allow_negative_numbers = true)]
    clay: String,
    /// Add the steps
    #[arg(long)]
    working: bool,
}

impl Texture {
    /// Names the class.
    pub(crate) fn run(self, terminal: &Terminal) -> Result<Report, Trouble> {
        let input = ground::texture::class::TextureClassInput {
            sand_percent: percent::<SandPercent>("sand_percent", &self.sand)?,
            silt_percent: percent::<SiltPercent>("silt_percent", &self.silt)?,
            clay_percent: percent::<ClayPercent>("clay_percent", &self.clay)?,
        };
        let answer = TextureClass::compute(&input)?;
        let (soil, _) =
            Composition::from_percent(input.sand_percent, input.silt_percent, input.clay_percent)?;
        let mut text = words(&answer);
        if terminal.picture {
            text = format!("{}\n\n{text}", picture::triangle(&[(soil, 1.0)], terminal.unicode));
        }
        let mut json = json!(answer);
        if self.working {
            let working = TextureClass::working(&input, &answer);
            json["working"] = json!(working);
            text.push_str(&super::steps(&working));
        }
        if !answer.notes.is_empty() {
            text.push('\n');
            text.push_str(&notes(&answer.notes, terminal.width));
        }
        Report::new(&json, text)
    }
}

/// A share in percent.
pub(super) fn percent<Q: ground::kit::Bounded>(field: &str, text: &str) -> Result<Q, Refusal> {
    let value = parse(text, Dimension::Percent, Unit::Percent).map_err(|error| error.at(field))?;
    ground::kit::refusal::bounded(field, value)
}

fn words(answer: &Answer<TextureClassOutput>) -> String {
    let near: Vec<&str> = answer.value.as_near.iter().map(|class| class.name()).collect();
    if near.is_empty() {
        format!("Texture class: {}", answer.value.class.name())
    } else {
        format!(
            "Texture class: {} (within half a point of {})",
            answer.value.class.name(),
            near.join(" and ")
        )
    }
}
