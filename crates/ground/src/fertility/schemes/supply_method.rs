//! Soil nitrogen supply index, as methods: by field assessment, and by mineral nitrogen measured.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::supply::{LastCrop, LeyUse, RainClass, SupplySoil, after_crop, after_ley, from_mineral_n, scaled};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Nitrate and ammonium nitrogen in the ground.
    pub struct MineralNitrogen: "mineral nitrogen", "kg/ha", 0.0 ..= 1000.0, example 54.0;
    /// Depth to which it was sampled.
    pub struct MineralDepth: "depth sampled for mineral nitrogen", "cm", 10.0 ..= 90.0, example 60.0;
    /// Years since a ley was ploughed.
    pub struct LeyYear: "year after ploughing the ley", "", 1.0 ..= 3.0, example 1.0;
    /// Organic matter.
    pub struct SupplyOrganicMatter: "organic matter", "%", 0.0 ..= 100.0, example 3.0;
}

/// Input of `soil-nitrogen-supply`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NitrogenSupplyInput {
    /// What grew before.
    pub last_crop: LastCrop,
    /// How wet the winter is.
    pub rain: RainClass,
    /// How the soil keeps nitrogen.
    pub soil: SupplySoil,
    /// A grass ley ploughed in the last three years.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ley: Option<LeyUse>,
    /// Which year after it was ploughed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ley_year: Option<LeyYear>,
    /// Manured regularly?
    #[serde(default)]
    pub manured: bool,
    /// Organic matter, where it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub organic_matter_percent: Option<SupplyOrganicMatter>,
}

/// Output of `soil-nitrogen-supply`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct NitrogenSupplyOutput {
    /// Index to plan with.
    pub index: u8,
    /// Lowest it may be.
    pub lowest: u8,
    /// Highest it may be.
    pub highest: u8,
}

/// The index and its range: regular manure lifts it by one or two, organic soils lie at 3 to 6, peat at 4 to 6.
#[must_use]
pub fn assessed(input: &NitrogenSupplyInput) -> NitrogenSupplyOutput {
    let mut index = after_crop(input.last_crop, input.rain, input.soil);
    if let (Some(ley), Some(year)) = (input.ley, input.ley_year) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 3")]
        let year = libm::round(year.get()) as u8;
        index = index.max(after_ley(ley, year, input.rain, input.soil).unwrap_or(0));
    }
    let (mut low, mut high) = (index, index);
    if input.manured {
        (index, high) = ((index + 1).min(6), (index + 2).min(6));
        low = index;
    }
    match input.organic_matter_percent.map(Bounded::get) {
        Some(percent) if percent > 20.0 => (index, low, high) = (5, 4, 6),
        Some(percent) if percent >= 10.0 => (index, low, high) = (4, 3, 6),
        _ => {}
    }
    NitrogenSupplyOutput { index, lowest: low, highest: high }
}

/// Soil nitrogen supply by field assessment.
pub struct NitrogenSupply;

impl Method for NitrogenSupply {
    type Input = NitrogenSupplyInput;
    type Output = NitrogenSupplyOutput;

    const CARD: Card = Card {
        name: "soil-nitrogen-supply",
        title: "Soil nitrogen supply from the last crop",
        topic: Topic::Fertility,
        computes: "The soil nitrogen supply index that the United Kingdom's nitrogen rates hang on, from what grew before, \
                   how wet the winter is and how the ground keeps nitrogen.",
        validity: &[
            "Temperate, in the open. Much residue of high-nitrogen brassicas may add one more.",
            "Two crops in one summer: one more after a crop that leaves some nitrogen, up to two after one that leaves much.",
            "Soils of 10 % organic matter and more lie at index 3 to 6: measure, or ask an adviser.",
        ],
        sources: &[Cite::new("Rb209Vegetables", "T6.2 to T6.5")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        NitrogenSupplyInput {
            last_crop: LastCrop::Cereals,
            rain: RainClass::Moderate,
            soil: SupplySoil::DeepSilt,
            ley: None,
            ley_year: None,
            manured: false,
            organic_matter_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.ley.is_some() != input.ley_year.is_some() {
            let field = if input.ley.is_some() { "ley_year" } else { "ley" };
            return Err(Refusal::new(field, "a ley needs both its use and the year after ploughing")
                .given("one of them")
                .accepted("both, or neither")
                .example(if field == "ley" { "grazed" } else { "1" }));
        }
        let output = assessed(input);
        let mut notes = Vec::new();
        if output.lowest != output.highest {
            notes.push(Note::new(
                NoteKind::Method,
                format!(
                    "It may lie anywhere from {} to {}: measuring mineral nitrogen settles it.",
                    output.lowest, output.highest
                ),
            ));
        }
        Ok(Answer::with_notes(output, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "supply index",
                "the table of last crop, rain and soil; the ley's row where it is higher; one or two more for regular manure",
                format!(
                    "{}; {}; {}{}{}",
                    input.last_crop.words(),
                    input.rain.words(),
                    input.soil.words(),
                    input.ley.map(|ley| format!("; ley {}", ley.words())).unwrap_or_default(),
                    if input.manured { "; manured" } else { "" }
                ),
                answer.value.index.to_string(),
            )
            .cite(Self::CARD.sources[0])
    }
}

/// Input of `soil-nitrogen-supply-measured`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeasuredSupplyInput {
    /// Nitrate and ammonium nitrogen to that depth.
    pub mineral_n_kg_ha: MineralNitrogen,
    /// Depth sampled.
    pub depth_cm: MineralDepth,
}

/// Output of `soil-nitrogen-supply-measured`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct MeasuredSupplyOutput {
    /// Index.
    pub index: u8,
    /// Depth of the table that was used.
    pub table_depth_cm: f64,
    /// Mineral nitrogen scaled to it.
    pub scaled_kg_ha: f64,
}

/// Soil nitrogen supply by mineral nitrogen.
pub struct MeasuredSupply;

impl Method for MeasuredSupply {
    type Input = MeasuredSupplyInput;
    type Output = MeasuredSupplyOutput;

    const CARD: Card = Card {
        name: "soil-nitrogen-supply-measured",
        title: "Soil nitrogen supply from mineral nitrogen",
        topic: Topic::Fertility,
        computes: "The soil nitrogen supply index from nitrate and ammonium nitrogen measured to a depth.",
        validity: &["Depths between 30, 60 and 90 cm are scaled in proportion to the next of them."],
        sources: &[Cite::new("Rb209Vegetables", "T6.6")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        MeasuredSupplyInput {
            mineral_n_kg_ha: MineralNitrogen::literal(54.0),
            depth_cm: MineralDepth::literal(45.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (kg_ha, depth_cm) = (input.mineral_n_kg_ha.get(), input.depth_cm.get());
        let (table_depth_cm, scaled_kg_ha) = scaled(kg_ha, depth_cm);
        Ok(Answer::plain(MeasuredSupplyOutput {
            index: from_mineral_n(kg_ha, depth_cm),
            table_depth_cm,
            scaled_kg_ha,
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "mineral nitrogen to the table's depth",
                "in proportion to depth",
                format!(
                    "{} × {} / {}",
                    input.mineral_n_kg_ha.get(),
                    value.table_depth_cm,
                    input.depth_cm.get()
                ),
                format!("{:.0} kg/ha", value.scaled_kg_ha),
            )
            .step(
                "supply index",
                "the table's limits",
                format!("{:.0} kg/ha", value.scaled_kg_ha),
                value.index.to_string(),
            )
            .cite(Self::CARD.sources[0])
    }
}
