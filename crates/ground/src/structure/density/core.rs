//! Bulk density from a core: the whole soil, the fine earth between the stones, and what fills the pores.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::fragments::{RockDensity, USUAL_ROCK_DENSITY_G_CM3};

crate::quantity! {
    /// Volume of the core or hole.
    pub struct CoreVolume: "volume of the core", "mL", 20.0 ..= 20000.0, example 350.0;
    /// Oven-dry soil with its stones.
    pub struct CoreDryMass: "dry mass of the core", "g", 10.0 ..= 40000.0, example 520.0;
    /// The same before drying.
    pub struct CoreMoistMass: "moist mass of the core", "g", 10.0 ..= 50000.0, example 610.0;
    /// Stones and gravel coarser than 2 mm, dry.
    pub struct CoreRockMass: "dry mass of the stones", "g", 0.0 ..= 40000.0, example 90.0;
    /// Density of the mineral grains.
    pub struct GrainDensity: "density of the grains", "g/cm³", 2.0 ..= 3.5, example 2.65;
}

/// Density of ordinary mineral grains, g/cm³.
pub const USUAL_GRAIN_DENSITY_G_CM3: f64 = 2.65;

/// Above this share of stones a core is too small a sample of the ground (common practice).
const STONY_VOLUME_PERCENT: f64 = 25.0;

/// What a core tells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Core {
    /// Dry mass over volume, stones and all, g/cm³.
    pub whole_g_cm3: f64,
    /// Dry mass of the fine earth over the volume that is not stone, g/cm³.
    pub fine_earth_g_cm3: f64,
    /// Share of the volume that is stone, 0 to 1.
    pub rock_share: f64,
    /// Pores of the fine earth, m³/m³.
    pub porosity: f64,
}

/// Density and pores of a core. Masses in g, volume in cm³, densities in g/cm³; the stones must leave room and
/// mass for some fine earth.
#[must_use]
pub fn core(volume: f64, dry: f64, rock: f64, rock_density: f64, grain_density: f64) -> Core {
    let rock_volume = rock / rock_density;
    let fine = (dry - rock) / (volume - rock_volume);
    Core {
        whole_g_cm3: dry / volume,
        fine_earth_g_cm3: fine,
        rock_share: rock_volume / volume,
        porosity: 1.0 - fine / grain_density,
    }
}

/// Input of `core-bulk-density`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoreInput {
    /// Inside volume of the ring, or of the hole.
    pub volume_ml: CoreVolume,
    /// Mass after drying at 105 °C, container taken off.
    pub dry_mass_g: CoreDryMass,
    /// Mass before drying, container taken off; without it nothing is said of water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moist_mass_g: Option<CoreMoistMass>,
    /// Stones and gravel sieved out at 2 mm; none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rock_mass_g: Option<CoreRockMass>,
    /// Density of the stones; 2.65 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rock_density_g_cm3: Option<RockDensity>,
    /// Density of the grains of the fine earth; 2.65 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grain_density_g_cm3: Option<GrainDensity>,
}

/// Output of `core-bulk-density`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CoreOutput {
    /// Density of the whole soil: for masses over an area.
    pub whole_soil_g_cm3: f64,
    /// Density of the fine earth between the stones: for roots.
    pub fine_earth_g_cm3: f64,
    /// Stones, share of the volume.
    pub rock_volume_percent: f64,
    /// Pores of the fine earth, share of its volume.
    pub porosity_percent: f64,
    /// Water in the fine earth, share of its volume.
    pub water_volume_percent: Option<f64>,
    /// Share of the pores that was full of water.
    pub water_filled_pores_percent: Option<f64>,
    /// Air in the fine earth, share of its volume.
    pub air_volume_percent: Option<f64>,
}

/// Bulk density from a core.
pub struct CoreBulkDensity;

impl CoreInput {
    fn rock(&self) -> (f64, f64) {
        (
            self.rock_mass_g.map_or(0.0, Bounded::get),
            self.rock_density_g_cm3.map_or(USUAL_ROCK_DENSITY_G_CM3, Bounded::get),
        )
    }

    fn grains(&self) -> f64 {
        self.grain_density_g_cm3.map_or(USUAL_GRAIN_DENSITY_G_CM3, Bounded::get)
    }
}

impl Method for CoreBulkDensity {
    type Input = CoreInput;
    type Output = CoreOutput;

    const CARD: Card = Card {
        name: "core-bulk-density",
        title: "Bulk density from a core",
        topic: Topic::Structure,
        computes: "Density of the ground from a ring of known volume, with stones taken off by their mass and room, and \
                   the pores, water and air between the grains. Roots feel the density of the fine earth; masses over an \
                   area go by that of the whole soil.",
        validity: &[
            "Mineral soils, fine earth of 0.3 to 2.0 g/cm³; three cores or more, which commonly differ by 0.05 to 0.10 (common practice).",
            "Take cores moist, near field capacity: clay that shrinks is denser when dry.",
            "Above about 25 % stones by volume a core is too small; dig a hole and measure its volume (common practice).",
        ],
        sources: &[
            Cite::new("BlakeHartge1986", "core method"),
            Cite::new("NrcsTestKit1999", "bulk density test"),
        ],
        cautions: &[
            "Dry soil in an oven or microwave only where the air is changed; do not let organic matter smoulder.",
        ],
    };

    fn example() -> Self::Input {
        CoreInput {
            volume_ml: CoreVolume::literal(350.0),
            dry_mass_g: CoreDryMass::literal(520.0),
            moist_mass_g: Some(CoreMoistMass::literal(610.0)),
            rock_mass_g: Some(CoreRockMass::literal(90.0)),
            rock_density_g_cm3: None,
            grain_density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (volume, dry) = (input.volume_ml.get(), input.dry_mass_g.get());
        let (rock, rock_density) = input.rock();
        if rock >= dry || rock / rock_density >= 0.95 * volume {
            return Err(Refusal::new("rock_mass_g", "the stones leave no fine earth in the core")
                .given(format!("{rock} g of stones in {dry} g and {volume} mL"))
                .accepted("less than the dry mass and less room than the core")
                .example("90"));
        }
        let found = core(volume, dry, rock, rock_density, input.grains());
        if !(0.3..=2.0).contains(&found.fine_earth_g_cm3) {
            return Err(Refusal::new(
                "dry_mass_g",
                format!(
                    "mass and volume make a fine earth of {:.2} g/cm³, which no mineral soil has",
                    found.fine_earth_g_cm3
                ),
            )
            .given(format!("{dry} g in {volume} mL"))
            .accepted("masses that make 0.3 to 2.0 g/cm³")
            .example("520"));
        }
        let moist = input.moist_mass_g.map(Bounded::get);
        if let Some(moist) = moist.filter(|moist| *moist < dry) {
            return Err(Refusal::new("moist_mass_g", "the core cannot be lighter before drying than after")
                .given(format!("{moist} g"))
                .accepted(format!("{dry} g or more"))
                .example(dry));
        }
        let room = volume - rock / rock_density;
        let water = moist.map(|moist| (moist - dry) / room);
        let mut notes = Vec::new();
        if 100.0 * found.rock_share > STONY_VOLUME_PERCENT {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "More than a quarter of the core is stone: dig a hole and measure its volume instead.",
            ));
        }
        if water.is_some_and(|water| water > found.porosity + 0.02) {
            notes.push(Note::new(
                NoteKind::Method,
                "The water weighed is more than the pores can hold: check the volume, or the density of the grains.",
            ));
        }
        Ok(Answer::with_notes(
            CoreOutput {
                whole_soil_g_cm3: found.whole_g_cm3,
                fine_earth_g_cm3: found.fine_earth_g_cm3,
                rock_volume_percent: 100.0 * found.rock_share,
                porosity_percent: 100.0 * found.porosity,
                water_volume_percent: water.map(|water| 100.0 * water),
                water_filled_pores_percent: water.map(|water| 100.0 * water / found.porosity),
                air_volume_percent: water.map(|water| 100.0 * (found.porosity - water).max(0.0)),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (rock, rock_density) = input.rock();
        let (volume, dry) = (input.volume_ml.get(), input.dry_mass_g.get());
        Working::new()
            .step(
                "density of the whole soil",
                "dry mass / volume",
                format!("{dry} / {volume}"),
                format!("{:.3} g/cm³", answer.value.whole_soil_g_cm3),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "density of the fine earth",
                "(dry mass − stones) / (volume − stones / their density)",
                format!("({dry} − {rock}) / ({volume} − {rock} / {rock_density})"),
                format!("{:.3} g/cm³", answer.value.fine_earth_g_cm3),
            )
            .step(
                "pores",
                "1 − density / density of the grains",
                format!("1 − {:.3} / {}", answer.value.fine_earth_g_cm3, input.grains()),
                format!("{:.1} %", answer.value.porosity_percent),
            )
    }
}
