//! Odds of the building classes, and the class to build on while they are odds.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::building_class::BuildingClass;
use super::quantities::OddsPercent;
use super::soil_class::{GravelPercent, VERY_FINE_AT_MOST, class_of_fines, passing_75um};
use super::{cautions, us};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::{Class, Composition};

/// Odds of silt and clay from which they are built on, whatever is likelier.
pub const CONSERVATIVE_FROM: f64 = 0.10;

/// Odds of the two classes that texture can give.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ClassOdds {
    /// Odds of the sand class, 0 to 1.
    pub sand: f64,
    /// Odds of the silt-and-clay class, 0 to 1.
    pub silt_and_clay: f64,
}

impl ClassOdds {
    /// Odds over weighted draws of make-up and gravel by mass. Very fine sand is taken as none, half and
    /// all of what may be there, a third of the weight each. Even odds when nothing carries weight.
    #[must_use]
    pub fn of(draws: impl IntoIterator<Item = (Composition, f64, f64)>) -> Self {
        let (mut fine, mut total) = (0.0, 0.0);
        for (soil, gravel_percent, weight) in draws {
            total += weight;
            fine += weight * fine_share_of(soil, gravel_percent);
        }
        let silt_and_clay = if total > 0.0 { fine / total } else { 0.5 };
        Self { sand: 1.0 - silt_and_clay, silt_and_clay }
    }

    /// The likelier class.
    #[must_use]
    pub fn likely(self) -> BuildingClass {
        if self.silt_and_clay >= 0.5 { BuildingClass::SiltAndClay } else { BuildingClass::Sand }
    }

    /// The class to build on: silt and clay as soon as its odds reach [`CONSERVATIVE_FROM`].
    #[must_use]
    pub fn conservative(self) -> BuildingClass {
        if self.silt_and_clay >= CONSERVATIVE_FROM { BuildingClass::SiltAndClay } else { BuildingClass::Sand }
    }
}

/// Share of the three very-fine-sand cases in which one make-up is silt and clay.
fn fine_share_of(soil: Composition, gravel_percent: f64) -> f64 {
    [0.0, 0.5, 1.0]
        .iter()
        .map(|share| passing_75um(soil, share * VERY_FINE_AT_MOST * soil.sand, gravel_percent))
        .filter(|passing| class_of_fines(*passing) == BuildingClass::SiltAndClay)
        .fold(0.0, |sum, _| sum + 1.0 / 3.0)
}

/// Share of each texture class that is silt and clay when every make-up in it is as likely and there is
/// no gravel.
static FINE_SHARES: LazyLock<[f64; 12]> = LazyLock::new(|| fine_shares(0.0));

fn fine_shares(gravel_percent: f64) -> [f64; 12] {
    let (mut fine, mut all) = ([0.0; 12], [0.0; 12]);
    for sand in 0..=100_u32 {
        for clay in 0..=(100 - sand) {
            let soil =
                Composition::from_parts(f64::from(sand), f64::from(100 - sand - clay), f64::from(clay));
            let class = Class::of(soil) as usize;
            all[class] += 1.0;
            fine[class] += fine_share_of(soil, gravel_percent);
        }
    }
    std::array::from_fn(|class| if all[class] > 0.0 { fine[class] / all[class] } else { 1.0 })
}

/// One texture class with its odds.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TextureOdds {
    /// Texture class.
    pub texture: Class,
    /// Its odds.
    pub odds_percent: OddsPercent,
}

/// Input of `building-class-odds`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClassOddsInput {
    /// Odds of the texture classes of the layer at a third of the post's depth and at its foot.
    pub textures: Vec<TextureOdds>,
    /// Gravel, 2 to 75 mm, by mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gravel_percent: Option<GravelPercent>,
}

/// Output of `building-class-odds`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ClassOddsOutput {
    /// Odds of sand, silty or clayey sand.
    pub sand_percent: f64,
    /// Odds of silt and clay.
    pub silt_and_clay_percent: f64,
    /// The likelier class.
    pub likely: BuildingClass,
    /// The class to build on.
    pub conservative: BuildingClass,
    /// Sideways pressure to build on for each metre of depth, kPa/m.
    pub lateral_bearing_kpa_m: f64,
}

/// Building class odds.
pub struct BuildingClassOdds;

impl Method for BuildingClassOdds {
    type Input = ClassOddsInput;
    type Output = ClassOddsOutput;

    const CARD: Card = Card {
        name: "building-class-odds",
        title: "Odds of the building classes",
        topic: Topic::Posts,
        computes: "The odds that ground counts as sand or as silt and clay in building codes, from the odds of its \
                   texture classes, and the class to build on: silt and clay as soon as it has one chance in ten.",
        validity: &[
            "Undisturbed mineral ground without much organic matter; fill and tilled layers have no class.",
            "Within a texture class every make-up is taken as equally likely, and none to 30 % of the sand as very fine.",
        ],
        sources: &[Cite::new("IbcSoilClasses", "Table 1806.2")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        ClassOddsInput {
            textures: vec![
                TextureOdds { texture: Class::SandyLoam, odds_percent: OddsPercent::literal(70.0) },
                TextureOdds { texture: Class::Loam, odds_percent: OddsPercent::literal(30.0) },
            ],
            gravel_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let total: f64 = input.textures.iter().map(|row| row.odds_percent.get()).sum();
        if (total - 100.0).abs() > 2.0 {
            return Err(Refusal::new(
                "textures",
                format!("the odds must add to 100 %, but they add to {total} %"),
            )
            .given(format!("{total} %"))
            .accepted("odds that add to 98 to 102 %")
            .example("sandy loam 70 % and loam 30 %"));
        }
        let shares = match input.gravel_percent.map(Bounded::get) {
            Some(gravel) if gravel > 0.0 => fine_shares(gravel),
            _ => *FINE_SHARES,
        };
        let fine = input
            .textures
            .iter()
            .map(|row| row.odds_percent.get() * shares[row.texture as usize])
            .sum::<f64>()
            / total;
        let odds = ClassOdds { sand: 1.0 - fine, silt_and_clay: fine };
        let conservative = odds.conservative();
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "The rule of one chance in ten, and the spread of very fine sand, are common practice and no published rule.",
        )];
        if odds.likely() != conservative {
            notes.insert(
                0,
                Note::new(
                    NoteKind::Method,
                    "Sand is likelier, but silt and clay is not ruled out: a sieve or a feel test on ground from the foot of the hole would settle it.",
                ),
            );
        }
        Ok(Answer::with_notes(
            ClassOddsOutput {
                sand_percent: 100.0 * odds.sand,
                silt_and_clay_percent: 100.0 * odds.silt_and_clay,
                likely: odds.likely(),
                conservative,
                lateral_bearing_kpa_m: conservative.presumptive().lateral_kpa_m(false),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let named: Vec<String> = input
            .textures
            .iter()
            .map(|row| format!("{} {} %", row.texture.name(), row.odds_percent.get()))
            .collect();
        let value = &answer.value;
        Working::new()
            .step(
                "odds of silt and clay",
                "odds of each texture × share of its make-ups of which half or more passes the 75 µm sieve",
                named.join(", "),
                format!("{:.0} %", value.silt_and_clay_percent),
            )
            .step(
                "the class to build on",
                "silt and clay from 10 % odds on",
                format!("{:.0} %", value.silt_and_clay_percent),
                format!(
                    "{}: {:.0} psf for each foot of depth",
                    value.conservative.words(),
                    value.lateral_bearing_kpa_m / us::KPA_M_PER_PSF_FT
                ),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sands_are_sand_and_clays_are_clay() {
        for class in [Class::Sand, Class::LoamySand] {
            assert_eq!(FINE_SHARES[class as usize], 0.0, "{class:?}");
        }
        for class in [Class::SiltLoam, Class::Silt, Class::ClayLoam, Class::SiltyClay, Class::SiltyClayLoam] {
            assert!(FINE_SHARES[class as usize] > 0.999, "{class:?}");
        }
        let sandy_loam = FINE_SHARES[Class::SandyLoam as usize];
        assert!((CONSERVATIVE_FROM..0.5).contains(&sandy_loam), "{sandy_loam}");
    }

    #[test]
    fn gravel_makes_ground_coarser() {
        let (plain, stony) = (fine_shares(0.0), fine_shares(40.0));
        for class in Class::ALL {
            assert!(stony[class as usize] <= plain[class as usize], "{class:?}");
        }
    }
}
