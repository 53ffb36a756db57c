//! Lime requirement from pH and texture alone, United Kingdom.
//!
//! # Method
//! t/ha of lime of neutralizing value 50 = factor × (pH to reach + 0.2 − pH); the factor goes by texture and
//! organic matter, and is written for arable land and for grass.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{Basis, Layer, LimeNeed, RateUnit, Rule, accuracy, no_need};
use super::effectiveness::EffectivenessSystem;
use super::quantity::{MixedDensity, MixedDepth, OrganicPercent, SoilPh, TargetPh};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;

pub(super) const CITE: Cite = Cite::new("Rb209Lime", "Section 1, Tables 1.1 and 1.2");
/// Neutralizing value 50 as calcium carbonate: 50 / 0.560.
const STRENGTH_PERCENT: f64 = 50.0 / 0.560;
/// Where the guide calls ground organic, and peaty, percent organic matter.
const ORGANIC_FROM: f64 = 10.0;
const PEATY_FROM: f64 = 25.0;

/// How the land is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LandUse {
    /// Cultivated ground: vegetables and arable crops.
    Arable,
    /// Grass.
    Grass,
}

/// Texture as the table groups it. Which class goes where is told for US classes by our judgement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LimeTexture {
    /// Sand and loamy sand.
    Sand,
    /// Sandy loams, loam and silt loams.
    Loam,
    /// Clay loams and clays.
    Clay,
    /// 10 to 25 % organic matter.
    Organic,
    /// More.
    Peaty,
}

impl LimeTexture {
    /// The group of a class and its organic matter.
    #[must_use]
    pub fn of(class: Class, organic_matter_percent: f64) -> Self {
        match organic_matter_percent {
            organic if organic >= PEATY_FROM => Self::Peaty,
            organic if organic >= ORGANIC_FROM => Self::Organic,
            _ => match class {
                Class::Sand | Class::LoamySand => Self::Sand,
                Class::SandyLoam | Class::Loam | Class::SiltLoam | Class::Silt => Self::Loam,
                _ => Self::Clay,
            },
        }
    }

    /// t/ha of lime for one unit of pH.
    #[must_use]
    pub fn factor(self, land: LandUse) -> f64 {
        match (land, self) {
            (LandUse::Arable, Self::Sand) => 6.0,
            (LandUse::Arable, Self::Loam) => 7.0,
            (LandUse::Arable, Self::Clay | Self::Organic) => 8.0,
            (LandUse::Arable, Self::Peaty) => 16.0,
            (LandUse::Grass, Self::Sand) => 4.0,
            (LandUse::Grass, Self::Loam) => 5.0,
            (LandUse::Grass, Self::Clay | Self::Organic) => 6.0,
            (LandUse::Grass, Self::Peaty) => 12.0,
        }
    }

    /// The pH the guide itself aims at.
    #[must_use]
    pub fn usual_target(self, land: LandUse) -> f64 {
        match (land, self) {
            (LandUse::Arable, Self::Peaty) => 5.8,
            (LandUse::Arable, _) => 6.5,
            (LandUse::Grass, Self::Peaty) => 5.3,
            (LandUse::Grass, _) => 6.0,
        }
    }
}

pub(super) const fn basis(land: LandUse) -> Basis {
    Basis {
        unit: RateUnit::TonnePerHectare,
        depth_cm: match land {
            LandUse::Arable => 20.0,
            LandUse::Grass => 15.0,
        },
        lime: "ground limestone of neutralizing value 50 (89 % as calcium carbonate)",
        strength_percent: STRENGTH_PERCENT,
        system: EffectivenessSystem::CarbonateEquivalent,
        error_percent: 40.0,
    }
}

/// t/ha; nothing at or above the pH to reach.
#[must_use]
pub fn rate_t_ha(soil_ph: f64, target_ph: f64, texture: LimeTexture, land: LandUse) -> f64 {
    if soil_ph >= target_ph {
        return 0.0;
    }
    texture.factor(land) * (target_ph + 0.2 - soil_ph)
}

/// Input of `lime-ph-and-texture`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhAndTextureInput {
    /// pH in water.
    pub soil_ph: SoilPh,
    /// pH to reach; the guide aims at 6.5 on arable and 6.0 on grass, 5.8 and 5.3 on peat.
    pub target_ph: TargetPh,
    /// Texture class.
    pub class: Class,
    /// Organic matter.
    pub organic_matter_percent: OrganicPercent,
    /// Arable or grass.
    pub land: LandUse,
    /// Depth the lime is mixed into.
    pub depth_cm: MixedDepth,
    /// Bulk density of that depth, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density_g_cm3: Option<MixedDensity>,
}

/// Lime by pH and texture.
pub struct LimePhAndTexture;

impl Method for LimePhAndTexture {
    type Input = PhAndTextureInput;
    type Output = LimeNeed;

    const CARD: Card = Card {
        name: "lime-ph-and-texture",
        title: "Lime by pH and texture, United Kingdom",
        topic: Topic::Fertility,
        computes: "The lime need from pH in water and texture alone, by the rule behind the tables of the UK nutrient guide. Take \
                   it where no buffer pH was measured.",
        validity: &[
            "Good to 30 to 50 %: a buffer pH is better. Take stones off in proportion to their volume.",
            "Ground that was never cultivated takes 7.5 t/ha at most in one dressing.",
            "Organic arable soil: one table of the guide lists 6.0, the other 6.5; 6.5 is followed.",
            "Which US texture class stands for which group is our judgement.",
        ],
        sources: &[CITE],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        PhAndTextureInput {
            soil_ph: SoilPh::literal(5.5),
            target_ph: TargetPh::literal(6.5),
            class: Class::SandyLoam,
            organic_matter_percent: OrganicPercent::literal(3.0),
            land: LandUse::Arable,
            depth_cm: MixedDepth::literal(20.0),
            bulk_density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (ph, target) = (input.soil_ph.get(), input.target_ph.get());
        let texture = LimeTexture::of(input.class, input.organic_matter_percent.get());
        let basis = basis(input.land);
        let rate = rate_t_ha(ph, target, texture, input.land);
        let mut notes = Vec::new();
        if ph >= target {
            notes.push(no_need());
        }
        let usual = texture.usual_target(input.land);
        if (target - usual).abs() > 1e-9 {
            notes.push(Note::new(
                NoteKind::Method,
                format!(
                    "The guide prints its table for pH {} on this ground; its rule is taken to pH {} here.",
                    number(usual),
                    number(target)
                ),
            ));
        }
        notes.push(accuracy(&basis));
        let layer = Layer::new(input.depth_cm, input.bulk_density_g_cm3);
        Ok(Answer::with_notes(LimeNeed::of(&basis, rate, target, layer), notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let texture = LimeTexture::of(input.class, input.organic_matter_percent.get());
        let rule = Rule {
            says: "factor × (pH to reach + 0.2 − pH), none at the pH to reach",
            numbers: format!(
                "{} × ({} + 0.2 − {})",
                number(texture.factor(input.land)),
                number(input.target_ph.get()),
                number(input.soil_ph.get())
            ),
            cite: CITE,
        };
        let layer = Layer::new(input.depth_cm, input.bulk_density_g_cm3);
        answer.value.working(&basis(input.land), layer, rule)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heavier_ground_asks_for_more() {
        for land in [LandUse::Arable, LandUse::Grass] {
            let rates = [LimeTexture::Sand, LimeTexture::Loam, LimeTexture::Clay, LimeTexture::Peaty]
                .map(|texture| rate_t_ha(5.0, 6.0, texture, land));
            assert!(rates.windows(2).all(|pair| pair[0] < pair[1]), "{rates:?}");
        }
        assert_eq!(rate_t_ha(6.5, 6.5, LimeTexture::Clay, LandUse::Arable), 0.0);
    }
}
