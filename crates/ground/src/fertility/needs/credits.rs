//! What the ground, the water and earlier seasons give towards a crop's nitrogen.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Nitrate nitrogen in dry soil.
    pub struct SoilNitrate: "nitrate nitrogen", "ppm", 0.0 ..= 500.0, example 12.0;
    /// Depth that was sampled.
    pub struct NitrateDepth: "depth sampled for nitrate", "cm", 5.0 ..= 120.0, example 30.0;
    /// Bulk density of the ground.
    pub struct NitrateDensity: "bulk density", "g/cm³", 0.3 ..= 2.0, example 1.32;
    /// Organic matter of the topsoil.
    pub struct CreditOrganicMatter: "organic matter", "%", 0.0 ..= 60.0, example 3.0;
    /// Nitrogen from one earlier source.
    pub struct GivenNitrogen: "nitrogen given", "kg/ha", -100.0 ..= 500.0, example 40.0;
    /// Nitrate nitrogen in irrigation water.
    pub struct WaterNitrate: "nitrate nitrogen in the water", "ppm", 0.0 ..= 200.0, example 5.0;
    /// Water given over the season.
    pub struct SeasonWater: "water over the season", "mm", 0.0 ..= 2000.0, example 250.0;
}

/// Bulk density behind the usual laboratory factor of 0.3 lb/acre for an inch and a ppm.
pub const USUAL_DENSITY_G_CM3: f64 = 1.32;

/// Nitrogen that 1 % of organic matter releases in a season, kg/ha: low, usual, high (10, 20, 40 lb/acre).
pub const ORGANIC_MATTER_N_KG_HA: [f64; 3] = [11.2, 22.4, 44.8];

/// Nitrate nitrogen in a layer, kg/ha.
#[must_use]
pub fn soil_nitrate_kg_ha(nitrate_n_ppm: f64, depth_cm: f64, density_g_cm3: f64) -> f64 {
    0.1 * nitrate_n_ppm * depth_cm * density_g_cm3
}

/// Nitrogen that organic matter releases in a season, kg/ha: low, usual, high. Released by warm moist ground
/// over the season; beyond 5 % of organic matter no more is counted.
#[must_use]
pub fn organic_matter_kg_ha(percent: f64) -> [f64; 3] {
    ORGANIC_MATTER_N_KG_HA.map(|each| each * percent.min(5.0))
}

/// Nitrogen that irrigation water brings, kg/ha.
#[must_use]
pub fn water_nitrate_kg_ha(nitrate_n_ppm: f64, water_mm: f64) -> f64 {
    nitrate_n_ppm * water_mm / 100.0
}

/// One credit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Credit {
    /// Where it comes from, in words.
    pub from: String,
    /// Low end.
    pub low_kg_ha: f64,
    /// What to count with.
    pub kg_ha: f64,
    /// High end.
    pub high_kg_ha: f64,
}

impl Credit {
    /// A credit that is known to within a share of itself.
    #[must_use]
    pub fn within(from: impl Into<String>, kg_ha: f64, share: f64) -> Self {
        let half = libm::fabs(kg_ha) * share;
        Self { from: from.into(), low_kg_ha: kg_ha - half, kg_ha, high_kg_ha: kg_ha + half }
    }
}

/// Input of `nitrogen-credits`.
#[derive(Debug, Clone, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NitrogenCreditsInput {
    /// Nitrate nitrogen in the soil.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nitrate_n_ppm: Option<SoilNitrate>,
    /// Depth it was sampled to; 30 cm without it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nitrate_depth_cm: Option<NitrateDepth>,
    /// Bulk density; 1.32 without it, as laboratories take it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_g_cm3: Option<NitrateDensity>,
    /// Organic matter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub organic_matter_percent: Option<CreditOrganicMatter>,
    /// From a legume or cover crop turned in; a cereal may take some (below nothing).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cover_crop_kg_ha: Option<GivenNitrogen>,
    /// From manure of earlier years.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub manure_kg_ha: Option<GivenNitrogen>,
    /// Nitrate nitrogen in the irrigation water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_nitrate_n_ppm: Option<WaterNitrate>,
    /// Water given over the season.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_mm: Option<SeasonWater>,
}

/// Output of `nitrogen-credits`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct NitrogenCreditsOutput {
    /// One by one.
    pub credits: Vec<Credit>,
    /// Together.
    pub total_kg_ha: f64,
    /// Low end of all.
    pub low_kg_ha: f64,
    /// High end of all.
    pub high_kg_ha: f64,
}

/// The credits of a field, one by one.
#[must_use]
pub fn credits(input: &NitrogenCreditsInput) -> Vec<Credit> {
    let mut found = Vec::new();
    if let Some(ppm) = input.nitrate_n_ppm {
        let depth = input.nitrate_depth_cm.map_or(30.0, Bounded::get);
        let density = input.density_g_cm3.map_or(USUAL_DENSITY_G_CM3, Bounded::get);
        found.push(Credit::within(
            "nitrate in the soil",
            soil_nitrate_kg_ha(ppm.get(), depth, density),
            0.15,
        ));
    }
    if let Some(percent) = input.organic_matter_percent {
        let [low_kg_ha, kg_ha, high_kg_ha] = organic_matter_kg_ha(percent.get());
        found.push(Credit { from: "organic matter".to_owned(), low_kg_ha, kg_ha, high_kg_ha });
    }
    if let Some(kg) = input.cover_crop_kg_ha {
        found.push(Credit::within("cover crop", kg.get(), 0.4));
    }
    if let Some(kg) = input.manure_kg_ha {
        found.push(Credit::within("manure of earlier years", kg.get(), 0.4));
    }
    if let (Some(ppm), Some(mm)) = (input.water_nitrate_n_ppm, input.water_mm) {
        found.push(Credit::within("irrigation water", water_nitrate_kg_ha(ppm.get(), mm.get()), 0.2));
    }
    found
}

/// Nitrogen credits.
pub struct NitrogenCredits;

impl Method for NitrogenCredits {
    type Input = NitrogenCreditsInput;
    type Output = NitrogenCreditsOutput;

    const CARD: Card = Card {
        name: "nitrogen-credits",
        title: "Nitrogen credits",
        topic: Topic::Fertility,
        computes: "What soil nitrate, organic matter, a cover crop, manure of earlier years and irrigation water give \
                   towards the nitrogen that a crop needs.",
        validity: &[
            "Organic matter: 20 lb N an acre for each percent, 10 to 40; cool or dry ground gives less. Above 5 % no more is counted.",
            "A scheme whose rates count the soil's supply already (the United Kingdom's index) takes neither nitrate nor organic matter off again.",
        ],
        sources: &[Cite::new("NitrogenCreditsPractice", "common practice")],
        cautions: &["Nitrogen that no crop takes up reaches wells and streams."],
    };

    fn example() -> Self::Input {
        NitrogenCreditsInput {
            nitrate_n_ppm: Some(SoilNitrate::literal(12.0)),
            nitrate_depth_cm: Some(NitrateDepth::literal(30.0)),
            organic_matter_percent: Some(CreditOrganicMatter::literal(3.0)),
            ..NitrogenCreditsInput::default()
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.water_nitrate_n_ppm.is_some() != input.water_mm.is_some() {
            let field = if input.water_mm.is_some() { "water_nitrate_n_ppm" } else { "water_mm" };
            return Err(Refusal::new(field, "water needs both its nitrate and how much is given")
                .given("one of them")
                .accepted("both, or neither")
                .example("250"));
        }
        let credits = credits(input);
        let sum = |of: fn(&Credit) -> f64| credits.iter().map(of).sum();
        Ok(Answer::with_notes(
            NitrogenCreditsOutput {
                total_kg_ha: sum(|credit| credit.kg_ha),
                low_kg_ha: sum(|credit| credit.low_kg_ha),
                high_kg_ha: sum(|credit| credit.high_kg_ha),
                credits,
            },
            vec![Note::new(
                NoteKind::Provenance,
                "The credit for organic matter is recalled and differs between regions by a factor of four.",
            )],
        ))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        answer
            .value
            .credits
            .iter()
            .fold(Working::new(), |working, credit| {
                working.step(
                    credit.from.clone(),
                    match credit.from.as_str() {
                        "nitrate in the soil" => "0.1 × ppm × depth cm × density",
                        "organic matter" => "22.4 kg/ha for each percent (11.2 to 44.8)",
                        "irrigation water" => "ppm × mm / 100",
                        _ => "as given",
                    },
                    "",
                    format!(
                        "{:.0} kg/ha ({:.0} to {:.0})",
                        credit.kg_ha, credit.low_kg_ha, credit.high_kg_ha
                    ),
                )
            })
            .step("together", "sum", "", format!("{:.0} kg/ha", answer.value.total_kg_ha))
    }
}
