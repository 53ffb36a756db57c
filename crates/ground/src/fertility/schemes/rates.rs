//! What a crop needs under one scheme: nitrogen, phosphate, potash, magnesia and boron.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::class::ClassFound;
use super::scheme::Scheme;
use super::{rb209, us};
use crate::kit::{Provenance, Refusal};

/// What a rate is of. Phosphate, potash and magnesia are the oxides that bags are labelled with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Nutrient {
    /// Nitrogen.
    N,
    /// Phosphate, P2O5.
    P2o5,
    /// Potash, K2O.
    K2o,
    /// Magnesia, MgO.
    Mgo,
    /// Boron.
    B,
}

impl Nutrient {
    /// Every nutrient that rates are given for.
    pub const ALL: [Self; 5] = [Self::N, Self::P2o5, Self::K2o, Self::Mgo, Self::B];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::N => "nitrogen",
            Self::P2o5 => "phosphate",
            Self::K2o => "potash",
            Self::Mgo => "magnesia",
            Self::B => "boron",
        }
    }

    /// Its sign on a bag.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::N => "N",
            Self::P2o5 => "P2O5",
            Self::K2o => "K2O",
            Self::Mgo => "MgO",
            Self::B => "B",
        }
    }
}

/// A rate with its range.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RateRange {
    /// Low end.
    pub low_kg_ha: f64,
    /// What to plan for.
    pub target_kg_ha: f64,
    /// High end.
    pub high_kg_ha: f64,
    /// The class or index it was looked up with; empty where it hangs on none.
    pub class: String,
    /// Source in the bibliography.
    pub source: String,
    /// Table.
    pub at: String,
    /// How it reached this project.
    pub provenance: Provenance,
}

impl RateRange {
    /// The same rate with something added to each figure, never below nothing.
    #[must_use]
    pub fn plus(mut self, kg_ha: f64) -> Self {
        for figure in [&mut self.low_kg_ha, &mut self.target_kg_ha, &mut self.high_kg_ha] {
            *figure = (*figure + kg_ha).max(0.0);
        }
        self
    }
}

/// A rate that the scheme cannot give.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Missing {
    /// Of what.
    pub nutrient: Nutrient,
    /// Why.
    pub why: String,
}

/// Rates of one crop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CropRates {
    /// The scheme.
    pub scheme: Scheme,
    /// The scheme's crop.
    pub crop: String,
    /// Its title.
    pub title: String,
    /// Nitrogen.
    pub n: Option<RateRange>,
    /// Phosphate.
    pub p2o5: Option<RateRange>,
    /// Potash.
    pub k2o: Option<RateRange>,
    /// Magnesia.
    pub mgo: Option<RateRange>,
    /// Boron.
    pub b: Option<RateRange>,
    /// When and how to give it, as the scheme says.
    pub timing: String,
    /// What could not be given, and why.
    pub missing: Vec<Missing>,
}

impl CropRates {
    /// The rate of a nutrient.
    #[must_use]
    pub fn of(&self, nutrient: Nutrient) -> Option<&RateRange> {
        match nutrient {
            Nutrient::N => self.n.as_ref(),
            Nutrient::P2o5 => self.p2o5.as_ref(),
            Nutrient::K2o => self.k2o.as_ref(),
            Nutrient::Mgo => self.mgo.as_ref(),
            Nutrient::B => self.b.as_ref(),
        }
    }
}

/// A crop as a scheme names it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SchemeCrop {
    /// Key.
    pub key: String,
    /// Title.
    pub title: String,
}

/// What a rate hangs on. Classes must be of the same scheme.
#[derive(Debug, Clone, Copy, Default)]
pub struct RateQuestion<'a> {
    /// The crop, by the scheme's key.
    pub crop: &'a str,
    /// Class of phosphorus.
    pub phosphorus: Option<&'a ClassFound>,
    /// Class of potassium.
    pub potassium: Option<&'a ClassFound>,
    /// Class of magnesium.
    pub magnesium: Option<&'a ClassFound>,
    /// Soil nitrogen supply index, 0 to 6 (United Kingdom).
    pub sns_index: Option<u8>,
    /// Organic matter (Illinois).
    pub organic_matter_percent: Option<f64>,
    /// Yield looked for, where the rate is adjusted to it.
    pub yield_t_ha: Option<f64>,
    /// Days from half emergence to the death of the haulm, and variety group 1 to 4 (potato).
    pub potato: Option<(f64, u8)>,
}

/// The crops that a scheme has rates for.
#[must_use]
pub fn crops_of(scheme: Scheme) -> Vec<SchemeCrop> {
    if scheme == Scheme::Rb209 { rb209::crops() } else { us::crops(scheme) }
}

/// The rates of a crop under a scheme.
///
/// # Errors
/// The scheme has no such crop; the refusal lists those it has.
pub fn crop_rates(scheme: Scheme, question: &RateQuestion) -> Result<CropRates, Refusal> {
    let found = if scheme == Scheme::Rb209 { rb209::rates(question) } else { us::rates(scheme, question) };
    found.ok_or_else(|| {
        let crops = crops_of(scheme);
        let accepted = if crops.is_empty() {
            format!("{} gives classes only, and no rates", scheme.title())
        } else {
            crops.iter().map(|crop| crop.key.as_str()).collect::<Vec<_>>().join(", ")
        };
        Refusal::new("crop", format!("{} has no rates for {:?}", scheme.title(), question.crop))
            .given(question.crop)
            .accepted(accepted)
            .example(crops.first().map_or("another scheme", |crop| crop.key.as_str()))
    })
}

/// Why a rate that hangs on a class cannot be given.
pub(super) fn no_class(nutrient: Nutrient) -> Missing {
    let what = match nutrient {
        Nutrient::P2o5 => "the class of phosphorus is not known",
        Nutrient::K2o => "the class of potassium is not known",
        Nutrient::Mgo => "the class of magnesium is not known",
        Nutrient::N => "the soil's own nitrogen supply is not known",
        Nutrient::B => "no rate is given",
    };
    Missing { nutrient, why: what.to_owned() }
}
