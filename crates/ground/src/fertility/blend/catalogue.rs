//! Generic materials with their analyses: where a shelf begins before labels are read.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::carried::Carried;
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};

/// What sort of material it is: what may be mixed, how it is placed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MaterialKind {
    /// A salt, a rock powder or sulfur.
    Mineral,
    /// Limestone, burnt or hydrated lime, ash.
    Liming,
    /// A meal or pellet of animal or plant origin.
    Organic,
    /// Manure that was not composted.
    Manure,
    /// Compost.
    Compost,
    /// A carrier of boron, zinc, copper or manganese.
    Micronutrient,
}

impl MaterialKind {
    /// Every kind, in the order of the catalogue.
    pub const ALL: [Self; 6] =
        [Self::Mineral, Self::Liming, Self::Organic, Self::Manure, Self::Compost, Self::Micronutrient];

    /// Heading of its part of the catalogue.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Mineral => "mineral fertilizers and rock powders",
            Self::Liming => "liming materials",
            Self::Organic => "meals and pellets",
            Self::Manure => "manures, not composted",
            Self::Compost => "composts",
            Self::Micronutrient => "micronutrient carriers",
        }
    }
}

/// Whether organic rules allow a material. The certifier decides in every case.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum UnderOrganicRules {
    /// As a rule.
    Yes,
    /// No.
    No,
    /// It depends on origin or making.
    Ask,
}

/// A material of the catalogue. Contents are percent of its weight as it is spread.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct GenericMaterial {
    /// Its key.
    pub key: String,
    /// What it is called.
    pub name: String,
    /// Its kind.
    pub kind: MaterialKind,
    /// Nitrogen in all.
    pub n_percent: f64,
    /// Share of the nitrogen that a crop can have in the first season; without it all of it.
    pub n_available_percent: Option<f64>,
    /// Phosphorus as P2O5.
    pub p2o5_percent: f64,
    /// Potassium as K2O.
    pub k2o_percent: f64,
    /// Calcium.
    pub ca_percent: f64,
    /// Magnesium.
    pub mg_percent: f64,
    /// Sulfur.
    pub s_percent: f64,
    /// Boron.
    pub b_percent: f64,
    /// Zinc.
    pub zn_percent: f64,
    /// Manganese.
    pub mn_percent: f64,
    /// Copper.
    pub cu_percent: f64,
    /// Iron.
    pub fe_percent: f64,
    /// Chloride.
    pub cl_percent: f64,
    /// Sodium.
    pub na_percent: f64,
    /// Neutralizing value as calcium carbonate.
    pub cce_percent: f64,
    /// Water.
    pub moisture_percent: Option<f64>,
    /// Weight of a heaped cubic metre.
    pub bulk_density_kg_m3: f64,
    /// Carbon to nitrogen.
    pub c_to_n: Option<f64>,
    /// Salts that dissolve in the soil water.
    pub soluble_salts_percent: f64,
    /// Under organic rules.
    pub organic: UnderOrganicRules,
    /// How the main analysis reached this project.
    pub provenance: Provenance,
    /// Key of its source.
    pub source: String,
    /// What else should be known.
    pub note: String,
    /// Is it a liquid, measured out by volume? The bulk density is then its density.
    pub liquid: bool,
}

/// All materials, in the order of the catalogue.
pub static CATALOGUE: LazyLock<Vec<GenericMaterial>> = LazyLock::new(|| {
    let text = include_str!("data/materials.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The table is compiled in, and a test reads it.
        Err(error) => unreachable!("materials.csv: {error}"),
    }
});

/// The material of that key or name, however its words are joined: "feather-meal", "Feather meal".
#[must_use]
pub fn generic(key: &str) -> Option<&'static GenericMaterial> {
    let exact = CATALOGUE.iter().find(|material| material.key == key);
    exact.or_else(|| {
        let wanted = key.trim().to_lowercase();
        let joined = wanted.replace(['_', ' '], "-");
        CATALOGUE.iter().find(|material| material.key == joined || material.name.to_lowercase() == wanted)
    })
}

impl GenericMaterial {
    /// What a kg of it carries, kg/kg, nitrogen as what the crop can have; only what is there.
    #[must_use]
    pub fn carries(&self) -> BTreeMap<Carried, f64> {
        let available = self.n_percent * self.n_available_percent.unwrap_or(100.0) / 100.0;
        [
            (Carried::N, available),
            (Carried::P2o5, self.p2o5_percent),
            (Carried::K2o, self.k2o_percent),
            (Carried::Ca, self.ca_percent),
            (Carried::Mg, self.mg_percent),
            (Carried::S, self.s_percent),
            (Carried::B, self.b_percent),
            (Carried::Zn, self.zn_percent),
            (Carried::Mn, self.mn_percent),
            (Carried::Cu, self.cu_percent),
            (Carried::Fe, self.fe_percent),
            (Carried::Cl, self.cl_percent),
            (Carried::Na, self.na_percent),
            (Carried::Lime, self.cce_percent),
            (Carried::Salt, self.soluble_salts_percent),
        ]
        .into_iter()
        .filter(|(_, percent)| *percent > 0.0)
        .map(|(carried, percent)| (carried, percent / 100.0))
        .collect()
    }
}

/// Input of `generic-material`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GenericMaterialInput {
    /// Its key or its name; without it every material is listed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub material: Option<String>,
}

/// Output of `generic-material`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct GenericMaterialOutput {
    /// The materials asked for.
    pub materials: Vec<GenericMaterial>,
}

/// The catalogue of generic materials.
pub struct GenericMaterials;

impl Method for GenericMaterials {
    type Input = GenericMaterialInput;
    type Output = GenericMaterialOutput;

    const CARD: Card = Card {
        name: "generic-material",
        title: "Generic fertilizers and amendments",
        topic: Topic::Fertility,
        computes: "The usual analysis of a generic fertilizer, liming material, meal, manure or compost: where a shelf \
                   begins before labels are read. Without a name it lists all of them.",
        validity: &[
            "Analyses of mineral fertilizers are those of the trade; the label of the bag comes first.",
            "Manures and composts differ by a factor of two: an analysis of the heap comes first.",
        ],
        sources: &[
            Cite::new("AlabamaAnr174", "table of materials"),
            Cite::new("Rb209Materials", "composition of fertilisers"),
            Cite::new("TexasEarthKind", "list of organic materials"),
            Cite::new("Osu2008Organic", "table"),
            Cite::new("LsuOrganicAnalyses", "table"),
            Cite::new("CalRecycle2013", "averages"),
            Cite::new("TradeAnalyses", "rows marked recalled"),
            Cite::new("AtomicWeights", "rows marked computed"),
        ],
        cautions: &[
            "Burnt and hydrated lime burn eyes and wet skin; the dust of lime and sulfur harms eyes and lungs. Wear goggles, gloves and a mask.",
            "Never mix lime or ash with ammonium fertilizer, urea or manure: ammonia escapes. Keep nitrates from heat and from what burns.",
        ],
    };

    fn example() -> Self::Input {
        GenericMaterialInput { material: Some("feather-meal".to_owned()) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let materials: Vec<GenericMaterial> = match &input.material {
            None => CATALOGUE.clone(),
            Some(asked) => {
                let found = generic(asked).ok_or_else(|| {
                    Refusal::new("material", format!("the catalogue has no \u{201c}{asked}\u{201d}"))
                        .given(asked)
                        .accepted("the key of a material, or nothing to list them all")
                        .example("feather-meal")
                })?;
                vec![found.clone()]
            }
        };
        let notes = if materials.iter().any(|material| material.provenance == Provenance::Recalled) {
            vec![Note::new(
                NoteKind::Provenance,
                "Analyses marked recalled were not read in a source: go by the label.",
            )]
        } else {
            Vec::new()
        };
        Ok(Answer::with_notes(GenericMaterialOutput { materials }, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        answer.value.materials.iter().fold(Working::new(), |working, material| {
            working.step(
                material.name.clone(),
                "the row of the table",
                material.source.clone(),
                format!(
                    "N {} %, P2O5 {} %, K2O {} %; {}",
                    material.n_percent,
                    material.p2o5_percent,
                    material.k2o_percent,
                    material.provenance.words()
                ),
            )
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::sources::BIBLIOGRAPHY;

    /// Salts by their formulas, from standard atomic weights [AtomicWeights]: urea CH4N2O is 46.646 % N, ammonium nitrate
    /// NH4NO3 34.999 % N, calcium nitrate Ca(NO3)2 24.424 % Ca and 17.072 % N, potassium thiosulfate K2S2O3 49.497 % K2O.
    #[test]
    fn liquids_are_water_for_the_rest() {
        let [urea, ammonium, thiosulfate] = [0.466_46, 0.349_99, 0.494_97];
        let calcium = 8.8 / 0.244_24;
        for (key, dissolved) in [
            ("uan-28", 14.0 / urea + 14.0 / ammonium),
            ("uan-32", 16.0 / urea + 16.0 / ammonium),
            ("calcium-ammonium-nitrate-solution", calcium + (17.0 - 0.170_72 * calcium) / ammonium),
            ("potassium-thiosulfate", 25.0 / thiosulfate),
        ] {
            let salts = CATALOGUE.iter().find(|one| one.key == key).unwrap().soluble_salts_percent;
            assert!((salts - dissolved).abs() < 0.1, "{key}: {salts}, {dissolved}");
        }
        for liquid in CATALOGUE.iter().filter(|one| one.liquid && one.kind == MaterialKind::Mineral) {
            let all = liquid.soluble_salts_percent + liquid.moisture_percent.unwrap_or(0.0);
            assert!((all - 100.0).abs() < 1e-9, "{}", liquid.key);
        }
    }

    #[test]
    fn every_row_is_sound() {
        for material in CATALOGUE.iter() {
            assert!(BIBLIOGRAPHY.contains_key(&material.source), "{}", material.key);
            assert!(!material.carries().is_empty(), "{} carries nothing", material.key);
            assert!((50.0..=2000.0).contains(&material.bulk_density_kg_m3), "{}", material.key);
            assert!(material.n_available_percent.is_none_or(|share| share <= 75.0), "{}", material.key);
            let sum = material.n_percent
                + material.p2o5_percent
                + material.k2o_percent
                + material.moisture_percent.unwrap_or(0.0);
            assert!(sum <= 100.0, "{}", material.key);
        }
        let keys: std::collections::BTreeSet<_> = CATALOGUE.iter().map(|material| &material.key).collect();
        assert_eq!(keys.len(), CATALOGUE.len());
    }
}
