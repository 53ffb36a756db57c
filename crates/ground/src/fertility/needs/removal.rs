//! What a harvest carries away.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::table::rows as read_table;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Fresh weight harvested.
    pub struct HarvestMass: "harvest", "kg", 0.0 ..= 10000000.0, example 1000.0;
}

/// Field-grown produce varies so far with what it was fed.
pub const REMOVAL_SPREAD: f64 = 0.40;

/// g/kg in one lb/short ton.
const G_KG: f64 = 0.5;

#[derive(Deserialize)]
struct Row {
    key: String,
    title: String,
    n: f64,
    p2o5: f64,
    k2o: f64,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_table("removal.csv", include_str!("data/removal.csv")));

/// Nutrients in the fresh harvest, g in a kg.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HarvestContent {
    /// Nitrogen.
    pub n_g_kg: f64,
    /// Phosphate.
    pub p2o5_g_kg: f64,
    /// Potash.
    pub k2o_g_kg: f64,
}

/// What a kilogram of a crop holds. `None` for a crop that the table does not hold.
#[must_use]
pub fn content(crop: &str) -> Option<HarvestContent> {
    ROWS.iter().find(|row| row.key == crop).map(|row| HarvestContent {
        n_g_kg: row.n * G_KG,
        p2o5_g_kg: row.p2o5 * G_KG,
        k2o_g_kg: row.k2o * G_KG,
    })
}

/// The crops of the table: key and title.
pub fn crops() -> impl Iterator<Item = (&'static str, &'static str)> {
    ROWS.iter().map(|row| (row.key.as_str(), row.title.as_str()))
}

/// Input of `crop-removal`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CropRemovalInput {
    /// The crop.
    pub crop: String,
    /// What was harvested, fresh.
    pub harvest_kg: HarvestMass,
}

/// Output of `crop-removal`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CropRemovalOutput {
    /// Nitrogen.
    pub n_kg: f64,
    /// Phosphate.
    pub p2o5_kg: f64,
    /// Potash.
    pub k2o_kg: f64,
    /// How far each may lie from that, either way.
    pub spread_percent: f64,
}

/// Removal by a crop.
pub struct CropRemoval;

impl Method for CropRemoval {
    type Input = CropRemovalInput;
    type Output = CropRemovalOutput;

    const CARD: Card = Card {
        name: "crop-removal",
        title: "What a harvest carries away",
        topic: Topic::Fertility,
        computes: "Nitrogen, phosphate and potash in the fresh harvest of a vegetable: what maintenance has to replace.",
        validity: &[
            "The edible part alone; tops, cobs and vines that leave the field carry more.",
            "Produce varies by 40 % with what it was fed; sources differ by a factor of 1.5 to 2.",
            "For replacing what was taken, never for what a crop needs.",
        ],
        sources: &[Cite::new("UsdaFoodComposition", "protein, phosphorus and potassium of raw vegetables")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        CropRemovalInput { crop: "tomato".to_owned(), harvest_kg: HarvestMass::literal(1000.0) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let content = content(&input.crop).ok_or_else(|| {
            Refusal::new("crop", format!("the table has no {:?}", input.crop))
                .given(&input.crop)
                .accepted(crops().map(|crop| crop.0).collect::<Vec<_>>().join(", "))
                .example("tomato")
        })?;
        let t = input.harvest_kg.get() / 1000.0;
        Ok(Answer::with_notes(
            CropRemovalOutput {
                n_kg: content.n_g_kg * t,
                p2o5_kg: content.p2o5_g_kg * t,
                k2o_kg: content.k2o_g_kg * t,
                spread_percent: 100.0 * REMOVAL_SPREAD,
            },
            vec![Note::new(
                NoteKind::Provenance,
                "The composition of the produce is recalled, not read again.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Some(content) = content(&input.crop) else { return Working::new() };
        let value = &answer.value;
        [
            ("nitrogen", content.n_g_kg, value.n_kg),
            ("phosphate", content.p2o5_g_kg, value.p2o5_kg),
            ("potash", content.k2o_g_kg, value.k2o_kg),
        ]
        .into_iter()
        .fold(Working::new(), |working, (what, g_kg, kg)| {
            working
                .step(
                    what,
                    "harvest × content",
                    format!("{} kg × {g_kg:.2} g/kg", input.harvest_kg.get()),
                    format!("{kg:.2} kg ± {:.0} %", 100.0 * REMOVAL_SPREAD),
                )
                .cite(Self::CARD.sources[0])
        })
    }
}
