//! The tension at which to water, by crop and by texture.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;

/// Tension beyond which a tensiometer's water column breaks, kPa.
pub const TENSIOMETER_WEAK_KPA: f64 = 80.0;
/// Tension that no tensiometer shows, kPa.
pub const TENSIOMETER_LIMIT_KPA: f64 = 85.0;

/// 1 cm of water in kPa.
const KPA_PER_CM: f64 = 0.098_066_5;

/// Crops of the table, some by stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TriggerCrop {
    /// Snap and lima beans.
    SnapAndLimaBeans,
    /// Cabbage.
    Cabbage,
    /// Peas for canning.
    CanningPeas,
    /// Celery.
    Celery,
    /// Lettuce.
    Lettuce,
    /// Sweet corn.
    SweetCorn,
    /// Onion, early growth.
    OnionEarly,
    /// Onion, bulbing.
    OnionBulbing,
    /// Sugar beet.
    SugarBeet,
    /// Potato.
    Potato,
    /// Carrot.
    Carrot,
    /// Broccoli, early.
    BroccoliEarly,
    /// Broccoli, after budding.
    BroccoliAfterBudding,
    /// Cauliflower.
    Cauliflower,
    /// Strawberry.
    Strawberry,
    /// Cantaloupe.
    Cantaloupe,
    /// Tomato.
    Tomato,
    /// Grape, early season.
    GrapeEarly,
    /// Grape, ripening.
    GrapeRipening,
    /// Deciduous fruit.
    DeciduousFruit,
    /// Alfalfa.
    Alfalfa,
    /// Grass.
    Grass,
}

/// A band of tension.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TensionBand {
    /// Water at this tension when the air draws hard.
    pub from_kpa: f64,
    /// Water at this tension at the latest.
    pub to_kpa: f64,
}

#[derive(Deserialize)]
struct CropRow {
    crop: TriggerCrop,
    high_demand_cm: f64,
    low_demand_cm: f64,
}

#[derive(Deserialize)]
struct TextureRow {
    classes: String,
    #[serde(flatten)]
    band: TensionBand,
}

fn rows<T: DeserializeOwned>(name: &str, text: &str) -> Vec<T> {
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The tables are compiled in, and a test reads every row.
        Err(error) => unreachable!("{name}: {error}"),
    }
}

static BY_CROP: LazyLock<Vec<CropRow>> =
    LazyLock::new(|| rows("triggers.csv", include_str!("data/triggers.csv")));
static BY_TEXTURE: LazyLock<Vec<TextureRow>> =
    LazyLock::new(|| rows("texture_triggers.csv", include_str!("data/texture_triggers.csv")));

/// The band of a crop.
#[must_use]
pub fn crop_band(crop: TriggerCrop) -> TensionBand {
    BY_CROP.iter().find(|row| row.crop == crop).map_or_else(
        || unreachable!("a test finds a row for every crop"),
        |row| TensionBand {
            from_kpa: KPA_PER_CM * row.high_demand_cm,
            to_kpa: KPA_PER_CM * row.low_demand_cm,
        },
    )
}

/// The band of a texture class.
#[must_use]
pub fn texture_band(class: Class) -> TensionBand {
    BY_TEXTURE
        .iter()
        .find(|row| row.classes.split(';').any(|name| name == class.name()))
        .map_or_else(|| unreachable!("a test finds a row for every class"), |row| row.band)
}

/// Input of `tension-trigger`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TensionTriggerInput {
    /// The crop. Give this, `class` or both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop: Option<TriggerCrop>,
    /// Texture class of the ground. Give this, `crop` or both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<Class>,
}

/// Output of `tension-trigger`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct TensionTriggerOutput {
    /// By crop: at high and at low demand.
    pub by_crop: Option<TensionBand>,
    /// By texture: where growth begins to be held back.
    pub by_texture: Option<TensionBand>,
    /// The more careful of the two: water from here on, at the latest at its upper end.
    pub water_at: TensionBand,
    /// Whether a tensiometer shows the whole band.
    pub tensiometer_serves: bool,
}

/// The tension at which to water.
pub struct TensionTrigger;

impl Method for TensionTrigger {
    type Input = TensionTriggerInput;
    type Output = TensionTriggerOutput;

    const CARD: Card = Card {
        name: "tension-trigger",
        title: "Tension at which to water",
        topic: Topic::Irrigation,
        computes: "The tensiometer reading at which to water, by crop and by texture, and the more careful of the two. \
                   1 kPa is 1 centibar.",
        validity: &[
            "Read at about a quarter of the root depth; a second one near the bottom tells whether too much is given.",
            "For watering that fills the root zone. Drip on vegetables is run small and often, at 15 to 30 kPa (common practice).",
            "A tensiometer fails near 80 to 85 kPa: drier ground needs another sensor.",
            "Published criteria for one crop differ widely, from a few to hundreds of kPa.",
        ],
        sources: &[Cite::new("TaylorAshcroft1972", "table of suctions at which to irrigate")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        TensionTriggerInput { crop: Some(TriggerCrop::Tomato), class: Some(Class::SandyLoam) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let by_crop = input.crop.map(crop_band);
        let by_texture = input.class.map(texture_band);
        let Some(water_at) = [by_crop, by_texture].into_iter().flatten().reduce(|a, b| TensionBand {
            from_kpa: a.from_kpa.min(b.from_kpa),
            to_kpa: a.to_kpa.min(b.to_kpa),
        }) else {
            return Err(Refusal::new("crop", "neither a crop nor a texture class was given")
                .given("neither")
                .accepted("a crop, a texture class or both")
                .example("crop tomato"));
        };
        let tensiometer_serves = water_at.to_kpa <= TENSIOMETER_WEAK_KPA;
        let mut notes = Vec::new();
        if by_texture.is_some() {
            notes.push(Note::new(
                NoteKind::Provenance,
                "The bands by texture are recalled; published tables differ among themselves.",
            ));
        }
        if !tensiometer_serves {
            notes.push(Note::new(
                NoteKind::Method,
                "A tensiometer fails near 80 to 85 kPa, short of this: water before it does, or use a sensor that reads drier ground.",
            ));
        }
        let value = TensionTriggerOutput { by_crop, by_texture, water_at, tensiometer_serves };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let words = |band: TensionBand| format!("{:.0} to {:.0} kPa", band.from_kpa, band.to_kpa);
        let mut working = Working::new();
        if let (Some(crop), Some(band)) = (input.crop, answer.value.by_crop) {
            let row = BY_CROP.iter().find(|row| row.crop == crop);
            working = working
                .step(
                    "by crop",
                    "the row of the table, 1 cm of water = 0.0981 kPa",
                    row.map_or_else(String::new, |row| {
                        format!("{} to {} cm", row.high_demand_cm, row.low_demand_cm)
                    }),
                    words(band),
                )
                .cite(Self::CARD.sources[0]);
        }
        if let (Some(class), Some(band)) = (input.class, answer.value.by_texture) {
            working =
                working.step("by texture", "the row of the table (recalled)", class.name(), words(band));
        }
        working.step(
            "water at",
            "the lower of each end",
            "the more careful of the two",
            words(answer.value.water_at),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_crop_and_class_has_its_row() {
        let schema = schemars::schema_for!(TriggerCrop).to_value();
        let crops: Vec<TriggerCrop> = crate::kit::schema::choices(&schema)
            .into_iter()
            .map(|name| serde_json::from_value(serde_json::Value::from(name)).unwrap())
            .collect();
        assert_eq!(crops.len(), BY_CROP.len());
        for crop in crops {
            let band = crop_band(crop);
            assert!(band.from_kpa <= band.to_kpa, "{crop:?}");
        }
        for class in Class::ALL {
            assert!(texture_band(class).from_kpa < texture_band(class).to_kpa);
        }
    }

    #[test]
    fn one_of_the_two_is_wanted() {
        let refused = TensionTrigger::compute(&TensionTriggerInput { crop: None, class: None }).unwrap_err();
        assert_eq!(refused.field, "crop");
    }
}
