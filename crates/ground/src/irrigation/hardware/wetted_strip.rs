//! How wide a drip line wets the ground, from a handbook's table.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::irrigation::balance::available::RootDepth;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;

/// Texture groups of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StripTexture {
    /// Sands.
    Coarse,
    /// Loamy sands to loams.
    Medium,
    /// Clays.
    Fine,
}

impl StripTexture {
    /// The group of a class. The table says nothing of silts and clay loams: silts go with the loams
    /// and clay loams with the clays here, a choice of this project.
    #[must_use]
    pub fn of(class: Class) -> Self {
        match class {
            Class::Sand => Self::Coarse,
            Class::LoamySand | Class::SandyLoam | Class::Loam | Class::SiltLoam | Class::Silt => Self::Medium,
            Class::SandyClayLoam
            | Class::ClayLoam
            | Class::SiltyClayLoam
            | Class::SandyClay
            | Class::SiltyClay
            | Class::Clay => Self::Fine,
        }
    }
}

/// Layering of the ground above the depth asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Layering {
    /// The same all through.
    Even,
    /// Several textures above one another.
    Stratified,
    /// A dense layer slows the water on its way down.
    DenseLayer,
}

/// Ground wetted about one line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WettedStrip {
    /// Width of the strip.
    pub width_m: f64,
    /// Greatest spacing of emitters that still joins the wet spots.
    pub joining_spacing_m: f64,
}

#[derive(Deserialize)]
struct Row {
    depth_ft: f64,
    texture: StripTexture,
    layering: Layering,
    spacing_ft: f64,
    width_ft: f64,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    let text = include_str!("data/wetted.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The table is compiled in, and a test reads every row.
        Err(error) => unreachable!("wetted.csv: {error}"),
    }
});

const FOOT_M: f64 = 0.3048;

/// The strip wetted at a depth: straight lines between the table's two depths, no further.
#[must_use]
pub fn strip(texture: StripTexture, layering: Layering, depth_m: f64) -> WettedStrip {
    let mut rows = ROWS.iter().filter(|row| row.texture == texture && row.layering == layering);
    let (Some(shallow), Some(deep)) = (rows.next(), rows.next()) else {
        unreachable!("a test finds two rows for every texture and layering")
    };
    let share = (depth_m / FOOT_M - shallow.depth_ft) / (deep.depth_ft - shallow.depth_ft);
    let share = share.clamp(0.0, 1.0);
    let between = |low: f64, high: f64| FOOT_M * (low + share * (high - low));
    WettedStrip {
        width_m: between(shallow.width_ft, deep.width_ft),
        joining_spacing_m: between(shallow.spacing_ft, deep.spacing_ft),
    }
}

/// Input of `wetted-strip`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WettedStripInput {
    /// Texture class of the ground.
    pub class: Class,
    /// Its layering.
    pub layering: Layering,
    /// Depth of the roots, or of the soil where it is less.
    pub depth_m: RootDepth,
}

/// Width wetted, by the handbook.
pub struct WettedStripMethod;

impl Method for WettedStripMethod {
    type Input = WettedStripInput;
    type Output = WettedStrip;

    const CARD: Card = Card {
        name: "wetted-strip",
        title: "Strip wetted by drip",
        topic: Topic::Irrigation,
        computes: "How wide a drip line wets the ground, by texture and depth, and how far apart emitters may stand \
                   for the wet spots to join.",
        validity: &[
            "Emitters of about 1 US gal/h (3.8 L/h); tape with slower, closer emitters wets a narrower strip.",
            "Roots 0.76 to 1.5 m deep; shallower ones are given the width at 0.76 m, which is too wide for short runs.",
            "A guide only: dig across the line the day after a run and measure.",
        ],
        sources: &[Cite::new("NehDrip", "table of areas wetted by one emitter")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        WettedStripInput {
            class: Class::SandyLoam,
            layering: Layering::Even,
            depth_m: RootDepth::literal(0.9),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let depth = input.depth_m.get();
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "The table is recalled from the handbook and was not read again: dig and measure before relying on it.",
        )];
        if !(2.5 * FOOT_M..=5.0 * FOOT_M).contains(&depth) {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "The table covers 0.76 to 1.5 m; the nearer end was taken.",
            ));
        }
        Ok(Answer::with_notes(strip(StripTexture::of(input.class), input.layering, depth), notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "wetted strip",
                "the table's rows at 2.5 and 5 ft, straight lines between",
                format!("{}, {} m", input.class.name(), input.depth_m.get()),
                format!(
                    "{:.2} m wide, emitters up to {:.2} m apart",
                    answer.value.width_m, answer.value.joining_spacing_m
                ),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The table's own rule: spots join at 80 % of their diameter.
    #[test]
    fn every_row_is_there_and_joins_at_four_fifths() {
        assert_eq!(ROWS.len(), 18);
        for row in ROWS.iter() {
            let found = strip(row.texture, row.layering, row.depth_ft * FOOT_M);
            assert!((found.width_m - row.width_ft * FOOT_M).abs() < 1e-9);
            assert!(
                (row.spacing_ft / row.width_ft - 0.8).abs() < 1e-9,
                "{} {}",
                row.spacing_ft,
                row.width_ft
            );
        }
    }
}
