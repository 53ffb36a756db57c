//! Earth in place, loose and compacted: the same earth, three volumes.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::table::rows;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};
use crate::posts::cautions;

crate::quantity! {
    /// Volume of earth.
    pub struct EarthVolume: "volume of earth", "m³", 0.001 ..= 1000000.0, example 40.0;
}

/// What is moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Material {
    /// Sand.
    Sand,
    /// Loam, common earth.
    Loam,
    /// Clay.
    Clay,
    /// Blasted rock.
    BlastedRock,
}

impl Material {
    /// Every material; `material as usize` is its place here.
    pub const ALL: [Self; 4] = [Self::Sand, Self::Loam, Self::Clay, Self::BlastedRock];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Sand => "sand",
            Self::Loam => "loam",
            Self::Clay => "clay",
            Self::BlastedRock => "blasted rock",
        }
    }
}

/// In which state a volume is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum EarthState {
    /// In place, before digging.
    Bank,
    /// Dug, in a heap or on a truck.
    Loose,
    /// Put down and compacted.
    Compacted,
}

/// Volumes for one of bank.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct VolumeFactors {
    /// Loose.
    pub loose: f64,
    /// Compacted.
    pub compacted: f64,
}

impl VolumeFactors {
    /// Of a material.
    #[must_use]
    pub fn of(material: Material) -> Self {
        TABLE[material as usize].0
    }

    /// Bank volume of a volume in some state.
    #[must_use]
    pub fn bank_m3(self, volume_m3: f64, state: EarthState) -> f64 {
        match state {
            EarthState::Bank => volume_m3,
            EarthState::Loose => volume_m3 / self.loose,
            EarthState::Compacted => volume_m3 / self.compacted,
        }
    }
}

#[derive(Deserialize)]
struct Row {
    material: Material,
    loose: f64,
    compacted: f64,
    source: Provenance,
}

static TABLE: LazyLock<[(VolumeFactors, Provenance); 4]> = LazyLock::new(|| {
    let rows: Vec<Row> = rows("volume_factors.csv", include_str!("data/volume_factors.csv"));
    Material::ALL.map(|material| match rows.iter().find(|row| row.material == material) {
        Some(row) => (VolumeFactors { loose: row.loose, compacted: row.compacted }, row.source),
        None => unreachable!("a test looks every material up"),
    })
});

/// Note on how the factors of a material are known.
pub(super) fn factor_note(material: Material) -> Note {
    Note::new(
        NoteKind::Provenance,
        format!(
            "Swell and shrink of this material: {}. Real heaps differ by ten parts in a hundred and more.",
            TABLE[material as usize].1.words()
        ),
    )
}

/// Input of `earth-volume`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EarthVolumeInput {
    /// Volume.
    pub volume_m3: EarthVolume,
    /// State in which it is measured.
    pub state: EarthState,
    /// What it is.
    pub material: Material,
}

/// Output of `earth-volume`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct EarthVolumeOutput {
    /// In place, m³.
    pub bank_m3: f64,
    /// Loose, m³.
    pub loose_m3: f64,
    /// Compacted, m³.
    pub compacted_m3: f64,
}

/// Earth volume.
pub struct EarthVolumes;

impl Method for EarthVolumes {
    type Input = EarthVolumeInput;
    type Output = EarthVolumeOutput;

    const CARD: Card = Card {
        name: "earth-volume",
        title: "Earth in place, loose and compacted",
        topic: Topic::Earthworks,
        computes: "How much room the same earth takes in place, loose on the truck and compacted: what to dig, haul and order.",
        validity: &[
            "Average factors: weigh or measure a first load where it matters.",
            "Loose topsoil mixes for beds settle by a further 15 to 20 % (common practice).",
        ],
        sources: &[Cite::new("ArmyEarthwork", "table of volume factors")],
        cautions: cautions::EARTHWORKS,
    };

    fn example() -> Self::Input {
        EarthVolumeInput {
            volume_m3: EarthVolume::literal(40.0),
            state: EarthState::Bank,
            material: Material::Loam,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let factors = VolumeFactors::of(input.material);
        let bank_m3 = factors.bank_m3(input.volume_m3.get(), input.state);
        Ok(Answer::with_notes(
            EarthVolumeOutput {
                bank_m3,
                loose_m3: bank_m3 * factors.loose,
                compacted_m3: bank_m3 * factors.compacted,
            },
            vec![factor_note(input.material)],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let factors = VolumeFactors::of(input.material);
        let value = &answer.value;
        Working::new()
            .step(
                "the three volumes",
                "one in place is so much loose and so much compacted",
                format!("1 : {} : {}", factors.loose, factors.compacted),
                format!(
                    "{:.2} m³ in place, {:.2} m³ loose, {:.2} m³ compacted",
                    value.bank_m3, value.loose_m3, value.compacted_m3
                ),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn earth_swells_when_dug() {
        for material in Material::ALL {
            let factors = VolumeFactors::of(material);
            assert!(factors.loose > 1.0 && factors.compacted < factors.loose);
            for state in [EarthState::Loose, EarthState::Compacted] {
                assert!(factors.bank_m3(10.0, state) > 0.0);
            }
        }
    }
}
