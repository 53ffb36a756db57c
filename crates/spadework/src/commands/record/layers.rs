//! `record layers`: the ground layer by layer, as a pit or a core shows it.

use book::model::Seen;
use book::model::seen::{Layer, Layers, MOST_LAYERS, Packing, PackingWords, SignDepth};
use clap::Args;
use ground::kit::units::UnitSystem;
use ground::kit::{Bounded, Refusal};
use ground::texture::Class;

use super::About;
use super::in_bed::needed;
use super::moisture::depths;
use crate::args::Global;
use crate::report::Report;
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record layers`.
#[derive(Debug, Args)]
#[command(
    after_help = "A layer is given as DEPTH: WORDS, from the surface down. DEPTH is a layer (\"0-10in\") or its bottom alone. WORDS,
parted by commas, may be a texture class; \"sand 40\" and \"clay 20\"; \"organic 3\"; \"stones 10\" (by volume);
loose, normal, firm or hard, or \"density 1.45\"; and last \"note\" with anything else, such as colours and spots.

Example:
  spadework record layers home.farmbook \"Lower field\" --layer \"10in: loam, organic 3.5, normal\"
    --layer \"26in: clay loam, firm, note rusty spots from 16 in\""
)]
pub(crate) struct RecordLayers {
    #[command(flatten)]
    about: About,
    /// One layer; once for each, from the surface down
    #[arg(long = "layer", value_name = "DEPTH: WORDS", required = true)]
    layers: Vec<String>,
}

impl RecordLayers {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let farm = shelf::read(&self.about.book)?.snapshot()?.farm.body.units;
        let system = global.system_or(farm);
        if self.layers.len() > MOST_LAYERS {
            return Err(Refusal::new("layer", format!("{} layers were given", self.layers.len()))
                .given(self.layers.len())
                .accepted(format!("1 to {MOST_LAYERS} layers"))
                .into());
        }
        let mut top = SignDepth::literal(0.0);
        let mut layers = Vec::new();
        for text in &self.layers {
            let layer = layer(text, top, system)?;
            top = layer.to_cm;
            layers.push(layer);
        }
        self.about.store(Seen::Layers(Layers { layers }), global, terminal)
    }
}

fn layer(text: &str, top: SignDepth, system: UnitSystem) -> Result<Layer, Refusal> {
    let (depth, words) = text.split_once(':').unwrap_or((text, ""));
    let (from_cm, to_cm) = match depths("layer", depth, system)? {
        (bottom, None) => (top, bottom),
        (from, Some(to)) => (from, to),
    };
    let mut layer = Layer::between(from_cm, to_cm);
    let mut rest = words.trim();
    while !rest.is_empty() {
        if let Some(note) = rest.strip_prefix("note ") {
            note.trim().clone_into(&mut layer.note);
            break;
        }
        let (word, after) = rest.split_once(',').unwrap_or((rest, ""));
        said(word.trim(), &mut layer, system)?;
        rest = after.trim();
    }
    Ok(layer)
}

/// Puts one thing that is said of a layer into it.
fn said(word: &str, layer: &mut Layer, system: UnitSystem) -> Result<(), Refusal> {
    let folded = word.to_lowercase().replace(['-', '_'], " ");
    if let Some(class) = Class::ALL.into_iter().find(|class| class.name() == folded) {
        layer.class = Some(class);
        return Ok(());
    }
    if let Some(packing) = PackingWords::ALL.into_iter().find(|packing| packing.words() == folded) {
        layer.packing = Some(Packing::Words(packing));
        return Ok(());
    }
    match word.split_once(' ') {
        Some(("sand", text)) => layer.sand_percent = Some(needed("layer", Some(text), system)?),
        Some(("clay", text)) => layer.clay_percent = Some(needed("layer", Some(text), system)?),
        Some(("organic", text)) => layer.organic_matter_percent = Some(needed("layer", Some(text), system)?),
        Some(("stones", text)) => layer.stones_volume_percent = Some(needed("layer", Some(text), system)?),
        Some(("density", text)) => {
            layer.packing = Some(Packing::BulkDensity(needed("layer", Some(text), system)?));
        }
        _ => {
            return Err(Refusal::new("layer", format!("{word:?} is not understood"))
                .given(word)
                .accepted(
                    "a texture class, sand, clay, organic, stones or density with a number, loose, normal, firm, \
                     hard, or note with any words",
                )
                .example("10in: loam, organic 3.5, normal"));
        }
    }
    Ok(())
}
