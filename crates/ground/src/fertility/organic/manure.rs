//! Plant-available nitrogen of manure, in the year it is spread and after.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::table::rows as read_table;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Nitrogen in manure, as it is spread.
    pub struct ManureNitrogenContent: "nitrogen in the manure", "kg/t", 0.0 ..= 200.0, example 5.0;
    /// Share of ammonium kept, by how soon it is worked in.
    pub struct AmmoniumKept: "ammonium kept", "%", 0.0 ..= 100.0, example 66.0;
    /// Share of the organic nitrogen released this year.
    pub struct OrganicReleased: "organic nitrogen released", "%", 0.0 ..= 100.0, example 25.0;
}

/// Whose manure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Animal {
    /// Cattle.
    Cow,
    /// Chicken and other fowl.
    Poultry,
    /// Pigs.
    Swine,
    /// Horses.
    Horse,
    /// Sheep; goats are taken with them.
    Sheep,
}

impl Animal {
    /// Every animal of the table.
    pub const ALL: [Self; 5] = [Self::Cow, Self::Poultry, Self::Swine, Self::Horse, Self::Sheep];
}

#[derive(Deserialize)]
struct Row {
    species: Animal,
    consistency: String,
    this_year: f64,
    next_year: f64,
    third_year: f64,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_table("manure_release.csv", include_str!("data/manure_release.csv")));

/// Shares of the organic nitrogen released in the year it is spread and the two after. Wet: below 18 %
/// of dry matter.
#[must_use]
pub fn release_shares(animal: Animal, wet: bool) -> [f64; 3] {
    let consistency = if wet { "wet" } else { "dry" };
    ROWS.iter().find(|row| row.species == animal && row.consistency == consistency).map_or_else(
        || unreachable!("a test finds a row for every animal"),
        |row| [row.this_year, row.next_year, row.third_year].map(|percent| percent / 100.0),
    )
}

/// Available nitrogen: nitrate, the ammonium that is kept, and the share of the organic nitrogen that is released.
#[must_use]
pub fn available(total: f64, ammonium: f64, nitrate: f64, ammonium_kept: f64, released: f64) -> f64 {
    nitrate + ammonium_kept * ammonium + released * (total - ammonium - nitrate).max(0.0)
}

/// Input of `manure-nitrogen`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ManureNitrogenInput {
    /// All nitrogen.
    pub total_n_kg_t: ManureNitrogenContent,
    /// Ammonium nitrogen.
    pub ammonium_n_kg_t: ManureNitrogenContent,
    /// Nitrate nitrogen.
    pub nitrate_n_kg_t: ManureNitrogenContent,
    /// Share of the ammonium that is kept: 90 to 95 % worked in the same day, 66 % on the surface.
    pub ammonium_kept_percent: AmmoniumKept,
    /// Whose manure; gives the release of the organic part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub animal: Option<Animal>,
    /// Is it wet (below 18 % dry matter)?
    #[serde(default)]
    pub wet: bool,
    /// The release of this year, where it is known better.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub released_percent: Option<OrganicReleased>,
}

/// Output of `manure-nitrogen`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ManureNitrogenOutput {
    /// Available in the year it is spread.
    pub available_kg_t: f64,
    /// Released in the year after.
    pub next_year_kg_t: f64,
    /// Released in the third year.
    pub third_year_kg_t: f64,
}

/// Nitrogen of manure.
pub struct ManureNitrogen;

impl Method for ManureNitrogen {
    type Input = ManureNitrogenInput;
    type Output = ManureNitrogenOutput;

    const CARD: Card = Card {
        name: "manure-nitrogen",
        title: "Nitrogen that manure gives",
        topic: Topic::Fertility,
        computes: "How much of the nitrogen in a tonne of manure a crop can use in the year it is spread and in the two after.",
        validity: &[
            "Manures differ by a factor of two: an analysis of the heap comes first.",
            "lb/ton and kg/t differ by half: 1 lb/ton is 0.5 kg/t.",
        ],
        sources: &[
            Cite::new("CornellManureModule", "release of organic N"),
            Cite::new("MontanaCnmp", "worked example"),
        ],
        cautions: &[
            "Raw manure and food that is eaten raw: keep the 90 and 120 days. Wash hands. Keep manure from wells and streams.",
            "Never enter a manure pit: its gases kill.",
        ],
    };

    fn example() -> Self::Input {
        ManureNitrogenInput {
            total_n_kg_t: ManureNitrogenContent::literal(10.5),
            ammonium_n_kg_t: ManureNitrogenContent::literal(4.0),
            nitrate_n_kg_t: ManureNitrogenContent::literal(0.0),
            ammonium_kept_percent: AmmoniumKept::literal(66.0),
            animal: Some(Animal::Cow),
            wet: false,
            released_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (total, ammonium, nitrate) =
            (input.total_n_kg_t.get(), input.ammonium_n_kg_t.get(), input.nitrate_n_kg_t.get());
        if ammonium + nitrate > total {
            return Err(Refusal::new(
                "total_n_kg_t",
                "ammonium and nitrate together are more than all nitrogen",
            )
            .given(total)
            .accepted(format!("{} kg/t or more", ammonium + nitrate))
            .example("10.5"));
        }
        let [first, next, third] = match (input.animal, input.released_percent) {
            (Some(animal), given) => {
                let mut shares = release_shares(animal, input.wet);
                if let Some(percent) = given {
                    shares[0] = percent.get() / 100.0;
                }
                shares
            }
            (None, Some(percent)) => [percent.get() / 100.0, 0.12, 0.05],
            (None, None) => {
                return Err(Refusal::new(
                    "animal",
                    "the release of the organic nitrogen hangs on the animal",
                )
                .given("neither an animal nor a release")
                .accepted("cow, poultry, swine, horse or sheep, or released_percent")
                .example("cow"));
            }
        };
        let organic = (total - ammonium - nitrate).max(0.0);
        let kept = input.ammonium_kept_percent.get() / 100.0;
        Ok(Answer::plain(ManureNitrogenOutput {
            available_kg_t: available(total, ammonium, nitrate, kept, first),
            next_year_kg_t: next * organic,
            third_year_kg_t: third * organic,
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "available this year",
                "nitrate + kept × ammonium + released × organic nitrogen",
                format!(
                    "{} + {} % × {} + released × {}",
                    input.nitrate_n_kg_t.get(),
                    input.ammonium_kept_percent.get(),
                    input.ammonium_n_kg_t.get(),
                    input.total_n_kg_t.get() - input.ammonium_n_kg_t.get() - input.nitrate_n_kg_t.get()
                ),
                format!("{:.2} kg/t", answer.value.available_kg_t),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "released later",
                "12 % and 5 % of the organic nitrogen",
                "",
                format!("{:.2} and {:.2} kg/t", answer.value.next_year_kg_t, answer.value.third_year_kg_t),
            )
            .cite(Self::CARD.sources[0])
    }
}

/// Said beside answers that lean on typical contents.
#[must_use]
pub fn typical_note() -> Note {
    Note::new(
        NoteKind::Provenance,
        "Typical contents differ by a factor of two: an analysis of the heap overrides them.",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_animal_has_its_shares() {
        for animal in Animal::ALL {
            for wet in [true, false] {
                let [a, b, c] = release_shares(animal, wet);
                assert!(a > b && b > c && c > 0.0, "{animal:?}");
            }
        }
    }
}
