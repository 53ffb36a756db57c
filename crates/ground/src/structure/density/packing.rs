//! Packing density: one measure of closeness for every texture.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::structure::root_limits::FineEarthDensity;
use crate::texture::composition::ClayPercent;

/// How close the ground is packed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Closeness {
    /// Loose, and most easily packed further.
    Low,
    /// Between.
    Medium,
    /// Close already; roots and drainage are limited.
    High,
}

/// Packing density, g/cm³: bulk density with clay's own looseness put back.
#[must_use]
pub fn packing_density_g_cm3(density_g_cm3: f64, clay_percent: f64) -> f64 {
    density_g_cm3 + 0.009 * clay_percent
}

/// The class of a packing density.
#[must_use]
pub fn closeness(packing_g_cm3: f64) -> Closeness {
    match packing_g_cm3 {
        d if d < 1.40 => Closeness::Low,
        d if d <= 1.75 => Closeness::Medium,
        _ => Closeness::High,
    }
}

/// Density, g/cm³, from which a subsoil counts as over-compacted in surveys.
#[must_use]
pub fn subsoil_threshold_g_cm3(clay_percent: f64) -> f64 {
    if clay_percent < 16.7 { 1.60 } else { 1.75 - 0.009 * clay_percent }
}

/// Input of `packing-density`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PackingInput {
    /// Dry bulk density, stones taken off.
    pub bulk_density_g_cm3: FineEarthDensity,
    /// Clay.
    pub clay_percent: ClayPercent,
}

/// Output of `packing-density`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PackingOutput {
    /// Packing density.
    pub packing_density_g_cm3: f64,
    /// Its class.
    pub closeness: Closeness,
    /// Density from which a subsoil of this clay counts as over-compacted.
    pub subsoil_threshold_g_cm3: f64,
    /// Density over that threshold; above 1 is over-compacted.
    pub relative_to_threshold: f64,
}

/// Packing density.
pub struct PackingDensity;

impl Method for PackingDensity {
    type Input = PackingInput;
    type Output = PackingOutput;

    const CARD: Card = Card {
        name: "packing-density",
        title: "Packing density",
        topic: Topic::Structure,
        computes: "Closeness of packing on one scale for every texture, and how the density stands against the threshold \
                   that subsoil surveys use. Loose ground is the easiest to harm; close ground limits roots and drainage.",
        validity: &["Mineral soils; made for subsoils and whole horizons, not for a fresh seedbed."],
        sources: &[
            Cite::new("JonesSpoor2003", "packing density"),
            Cite::new("BrusAkker2018", "ratio to a threshold density"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        PackingInput {
            bulk_density_g_cm3: FineEarthDensity::literal(1.5),
            clay_percent: ClayPercent::literal(30.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (density, clay) = (input.bulk_density_g_cm3.get(), input.clay_percent.get());
        let packing = packing_density_g_cm3(density, clay);
        let threshold = subsoil_threshold_g_cm3(clay);
        Ok(Answer::with_notes(
            PackingOutput {
                packing_density_g_cm3: packing,
                closeness: closeness(packing),
                subsoil_threshold_g_cm3: threshold,
                relative_to_threshold: density / threshold,
            },
            vec![Note::new(
                NoteKind::Provenance,
                "The coefficient and the class limits are recalled; the ratio to a threshold was read.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (density, clay) = (input.bulk_density_g_cm3.get(), input.clay_percent.get());
        Working::new()
            .step(
                "packing density",
                "bulk density + 0.009 × clay",
                format!("{density} + 0.009 × {clay}"),
                format!("{:.3} g/cm³", answer.value.packing_density_g_cm3),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "threshold of a subsoil",
                "1.60 below 16.7 % clay, above it 1.75 − 0.009 × clay",
                format!("clay {clay} %"),
                format!("{:.3} g/cm³", answer.value.subsoil_threshold_g_cm3),
            )
            .cite(Self::CARD.sources[1])
    }
}
