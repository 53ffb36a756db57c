//! Gypsum that replaces exchangeable sodium, and the plain statement where gypsum does nothing.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::RateUnit;
use super::quantity::{ExchangeCapacity, MaterialMoisture, MixedDensity};
use super::sodium::{ExchangeableSodium, SodiumStanding, WATCH_FROM_PERCENT};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Depth to mend.
    pub struct MendedDepth: "depth to mend", "cm", 5.0 ..= 120.0, example 30.0;
    /// Purity of a gypsum.
    pub struct GypsumPurity: "purity", "%", 20.0 ..= 100.0, example 90.0;
    /// Gypsum over what the exchange itself takes.
    pub struct ExchangeFactor: "exchange factor", "", 1.0 ..= 1.5, example 1.1;
}

/// Gypsum for one mole of charge, g.
const GRAMS_PER_CHARGE: f64 = 86.0;
const CITE: Cite = Cite::new("Oster1999", "gypsum requirement");

/// What a crumb of the ground does in rain water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CrumbInRainWater {
    /// It stays whole or falls to crumbs in clear water.
    Clear,
    /// The water goes cloudy within a day.
    Cloudy,
    /// Not tried.
    NotTried,
}

/// Pure gypsum, kg/m², that brings exchangeable sodium from one share to another.
#[must_use]
pub fn gypsum_kg_m2(
    depth_cm: f64,
    density_g_cm3: f64,
    capacity_meq_100_g: f64,
    from_percent: f64,
    to_percent: f64,
    factor: f64,
) -> f64 {
    // kg of soil on a square metre × moles of charge a kg × share × grams a charge.
    let soil_kg_m2 = 10.0 * depth_cm * density_g_cm3;
    let charges = soil_kg_m2 * capacity_meq_100_g / 100.0 * (from_percent - to_percent).max(0.0) / 100.0;
    factor * charges * GRAMS_PER_CHARGE / 1000.0
}

/// Does sodium call for gypsum? From the US limit on; from the Australian one only where a crumb goes cloudy.
#[must_use]
pub fn calls_for_gypsum(sodium_percent: f64, crumb: CrumbInRainWater) -> bool {
    match SodiumStanding::of(sodium_percent, None) {
        SodiumStanding::None => false,
        SodiumStanding::Watch => crumb == CrumbInRainWater::Cloudy,
        SodiumStanding::Sodic | SodiumStanding::SalineSodic => crumb != CrumbInRainWater::Clear,
    }
}

/// What to say where it does not.
pub const NO_GYPSUM: &str = "Gypsum would do nothing for this ground: it replaces sodium, and there is too little of it. Tight or wet clay wants drainage, organic matter, roots and traffic kept off; gypsum does not lime either.";

/// Input of `gypsum-requirement`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GypsumInput {
    /// Exchangeable sodium now.
    pub sodium_percent: ExchangeableSodium,
    /// Exchangeable sodium that is wanted.
    pub wanted_percent: ExchangeableSodium,
    /// Cation exchange capacity.
    pub capacity_meq_100_g: ExchangeCapacity,
    /// Bulk density.
    pub bulk_density_g_cm3: MixedDensity,
    /// Depth to mend.
    pub depth_cm: MendedDepth,
    /// Purity of the gypsum, dry.
    pub purity_percent: GypsumPurity,
    /// Moisture of the gypsum as sold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moisture_percent: Option<MaterialMoisture>,
    /// How much more than the exchange itself takes: 1.1 to 1.3.
    pub exchange_factor: ExchangeFactor,
    /// What a crumb does in rain water.
    pub crumb: CrumbInRainWater,
}

/// Output of `gypsum-requirement`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct GypsumOutput {
    /// Does the ground call for it?
    pub called_for: bool,
    /// Gypsum as sold; nothing where it is not called for.
    pub gypsum_kg_m2: Option<f64>,
    /// The same.
    pub gypsum_t_ha: Option<f64>,
    /// The same.
    pub gypsum_ton_acre: Option<f64>,
    /// Sulfur that does the same where the soil holds free lime, and only there.
    pub sulfur_on_free_lime_kg_m2: Option<f64>,
}

/// Sulfur that makes as much gypsum as one of gypsum, from free lime: 32.06 / 172.17.
const SULFUR_PER_GYPSUM: f64 = 32.06 / 172.17;

/// Gypsum requirement.
pub struct GypsumRequirement;

impl Method for GypsumRequirement {
    type Input = GypsumInput;
    type Output = GypsumOutput;

    const CARD: Card = Card {
        name: "gypsum-requirement",
        title: "Gypsum for sodium",
        topic: Topic::Fertility,
        computes: "The gypsum that replaces exchangeable sodium in a depth of ground; or a plain statement where sodium does not \
                   call for it, since on other clay gypsum loosens nothing.",
        validity: &[
            "Called for from 15 % exchangeable sodium on, and from 6 % where a crumb goes cloudy in rain water within a day. Trials on dense clay that does not disperse saw no change.",
            "Below an adsorption ratio of 50 that figure may stand for the percentage.",
            "Nothing is gained without drainage and water to wash the sodium down.",
        ],
        sources: &[CITE, Cite::new("MalleeSoils", "where gypsum does not help")],
        cautions: &[
            "Gypsum dust: goggles and a dust mask, a still day.",
            "What is washed out goes to ditches and wells: ask an adviser before washing sodium down, and keep local rules.",
        ],
    };

    fn example() -> Self::Input {
        GypsumInput {
            sodium_percent: ExchangeableSodium::literal(18.0),
            wanted_percent: ExchangeableSodium::literal(8.0),
            capacity_meq_100_g: ExchangeCapacity::literal(15.0),
            bulk_density_g_cm3: MixedDensity::literal(1.3),
            depth_cm: MendedDepth::literal(15.0),
            purity_percent: GypsumPurity::literal(95.0),
            moisture_percent: None,
            exchange_factor: ExchangeFactor::literal(1.1),
            crumb: CrumbInRainWater::Cloudy,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (now, wanted) = (input.sodium_percent.get(), input.wanted_percent.get());
        if !calls_for_gypsum(now, input.crumb) {
            return Ok(Answer::with_notes(
                GypsumOutput {
                    called_for: false,
                    gypsum_kg_m2: None,
                    gypsum_t_ha: None,
                    gypsum_ton_acre: None,
                    sulfur_on_free_lime_kg_m2: None,
                },
                vec![Note::new(
                    NoteKind::NoValue,
                    if now >= WATCH_FROM_PERCENT {
                        "Sodium is raised, but nothing shows that the ground disperses: drop a crumb in rain water and look after 2 to 24 hours. If the water stays clear, gypsum does nothing."
                    } else {
                        NO_GYPSUM
                    },
                )],
            ));
        }
        if wanted >= now {
            return Err(Refusal::new(
                "wanted_percent",
                format!("what is wanted must be less than the {} % there is now", number(now)),
            )
            .given(format!("{} %", number(wanted)))
            .accepted(format!("less than {} %", number(now)))
            .example(format!("{} %", number(now / 2.0))));
        }
        let pure = gypsum_kg_m2(
            input.depth_cm.get(),
            input.bulk_density_g_cm3.get(),
            input.capacity_meq_100_g.get(),
            now,
            wanted,
            input.exchange_factor.get(),
        );
        let dry = input.moisture_percent.map_or(1.0, |water| 1.0 - water.get() / 100.0);
        let sold = 100.0 * pure / input.purity_percent.get() / dry;
        Ok(Answer::with_notes(
            GypsumOutput {
                called_for: true,
                gypsum_kg_m2: Some(sold),
                gypsum_t_ha: Some(10.0 * sold),
                gypsum_ton_acre: Some(sold / RateUnit::TonPerAcre.kg_m2()),
                sulfur_on_free_lime_kg_m2: Some(SULFUR_PER_GYPSUM * pure),
            },
            vec![Note::new(
                NoteKind::Method,
                "Without drainage and water to leach it does nothing. Sulfur takes its place only where the soil holds free lime.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Some(t_ha) = answer.value.gypsum_t_ha else {
            return Working::new().step(
                "is it called for",
                "exchangeable sodium of 15 % or more, or 6 % and a crumb that goes cloudy",
                format!("{} %", number(input.sodium_percent.get())),
                "no",
            );
        };
        Working::new()
            .step(
                "gypsum",
                "8.6 F D ρ CEC (now − wanted) / purity, D in m, then for moisture",
                format!(
                    "8.6 × {} × {} × {} × {} × ({} − {}) / {}",
                    number(input.exchange_factor.get()),
                    number(input.depth_cm.get() / 100.0),
                    number(input.bulk_density_g_cm3.get()),
                    number(input.capacity_meq_100_g.get()),
                    number(input.sodium_percent.get()),
                    number(input.wanted_percent.get()),
                    number(input.purity_percent.get())
                ),
                format!("{t_ha:.2} t/ha"),
            )
            .cite(CITE)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ordinary_clay_gets_none() {
        assert!(!calls_for_gypsum(2.0, CrumbInRainWater::Cloudy));
        assert!(!calls_for_gypsum(8.0, CrumbInRainWater::NotTried));
        assert!(calls_for_gypsum(8.0, CrumbInRainWater::Cloudy));
        assert!(calls_for_gypsum(18.0, CrumbInRainWater::NotTried));
        assert!(!calls_for_gypsum(18.0, CrumbInRainWater::Clear));
    }

    // 1 meq Na/100 g over an acre-foot of 4,000,000 lb takes 1.72 ton of pure gypsum (US form, recalled).
    #[test]
    fn the_us_form_agrees() {
        let acre_foot_density =
            4e6 * super::super::basis::KG_PER_LB / super::super::basis::M2_PER_ACRE / 304.8;
        let kg_m2 = gypsum_kg_m2(30.48, acre_foot_density, 1.0, 100.0, 0.0, 1.0);
        assert!((kg_m2 / RateUnit::TonPerAcre.kg_m2() - 1.72).abs() < 0.005, "{kg_m2}");
    }
}
