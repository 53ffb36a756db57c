//! Air left in the ground at field capacity, and the density at which it falls below a tenth.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::core::{GrainDensity, USUAL_GRAIN_DENSITY_G_CM3};
use crate::irrigation::balance::available::FieldCapacity;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::structure::root_limits::FineEarthDensity;

/// Air by volume below which most roots run short of oxygen.
pub const AIR_NEEDED: f64 = 0.10;
/// Air by volume up to which it is marginal.
pub const AIR_AMPLE: f64 = 0.15;

/// Pores that hold air at field capacity, m³/m³; below zero where the pores cannot hold that water.
#[must_use]
pub fn air_at_field_capacity(density_g_cm3: f64, grain_g_cm3: f64, field_capacity: f64) -> f64 {
    1.0 - density_g_cm3 / grain_g_cm3 - field_capacity
}

/// Greatest density, g/cm³, that leaves a tenth of the volume to air at field capacity.
#[must_use]
pub fn aeration_limit_g_cm3(grain_g_cm3: f64, field_capacity: f64) -> f64 {
    grain_g_cm3 * (1.0 - AIR_NEEDED - field_capacity)
}

/// How roots breathe at field capacity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Aeration {
    /// Less than 10 % air.
    Short,
    /// 10 to 15 % air.
    Marginal,
    /// More.
    Ample,
}

impl Aeration {
    /// Of a share of air, m³/m³.
    #[must_use]
    pub fn of(air: f64) -> Self {
        match air {
            air if air < AIR_NEEDED => Self::Short,
            air if air <= AIR_AMPLE => Self::Marginal,
            _ => Self::Ample,
        }
    }
}

/// Input of `air-at-field-capacity`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AerationInput {
    /// Dry bulk density, stones taken off.
    pub bulk_density_g_cm3: FineEarthDensity,
    /// Water held at field capacity.
    pub field_capacity_m3_m3: FieldCapacity,
    /// Density of the grains; 2.65 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grain_density_g_cm3: Option<GrainDensity>,
}

/// Output of `air-at-field-capacity`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct AerationOutput {
    /// Pores, share of the volume.
    pub porosity_percent: f64,
    /// Air at field capacity, share of the volume; 0 where the pores are full.
    pub air_percent: f64,
    /// Density that leaves 10 % air.
    pub aeration_limit_g_cm3: f64,
    /// How roots breathe.
    pub aeration: Aeration,
}

/// Air at field capacity.
pub struct AirAtFieldCapacity;

impl AerationInput {
    fn grains(&self) -> f64 {
        self.grain_density_g_cm3.map_or(USUAL_GRAIN_DENSITY_G_CM3, Bounded::get)
    }
}

impl Method for AirAtFieldCapacity {
    type Input = AerationInput;
    type Output = AerationOutput;

    const CARD: Card = Card {
        name: "air-at-field-capacity",
        title: "Air at field capacity",
        topic: Topic::Structure,
        computes: "How much air is left between the grains when the ground has drained, and the density at which it \
                   falls below the tenth that roots need. In wet seasons it is want of air, not hardness, that dense \
                   ground kills with.",
        validity: &[
            "Mineral soil that is free to drain; a water table near the roots takes more air.",
            "The tenth is a rule of thumb for most crops; some stand less, some need 15 %.",
        ],
        sources: &[
            Cite::new("GrableSiemer1968", "air-filled porosity of 10 %"),
            Cite::new("DaSilva1994", "least limiting water range"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        AerationInput {
            bulk_density_g_cm3: FineEarthDensity::literal(1.4),
            field_capacity_m3_m3: FieldCapacity::literal(0.3),
            grain_density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (density, held, grains) =
            (input.bulk_density_g_cm3.get(), input.field_capacity_m3_m3.get(), input.grains());
        if density >= grains {
            return Err(Refusal::new(
                "bulk_density_g_cm3",
                "the ground cannot be as dense as its own grains",
            )
            .given(format!("{density} g/cm³"))
            .accepted(format!("less than {grains} g/cm³"))
            .example("1.4"));
        }
        let air = air_at_field_capacity(density, grains, held);
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "The limit of a tenth is recalled from the publications and was not read again.",
        )];
        if air < 0.0 {
            notes.insert(
                0,
                Note::new(
                    NoteKind::Adjusted,
                    "Ground this dense has fewer pores than the water given: they are taken as full, without air.",
                ),
            );
        }
        Ok(Answer::with_notes(
            AerationOutput {
                porosity_percent: 100.0 * (1.0 - density / grains),
                air_percent: 100.0 * air.max(0.0),
                aeration_limit_g_cm3: aeration_limit_g_cm3(grains, held),
                aeration: Aeration::of(air),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (density, held) = (input.bulk_density_g_cm3.get(), input.field_capacity_m3_m3.get());
        Working::new()
            .step(
                "air at field capacity",
                "1 − density / density of the grains − field capacity, not below 0",
                format!("1 − {density} / {} − {held}", input.grains()),
                format!("{:.1} %", answer.value.air_percent),
            )
            .step(
                "density that leaves a tenth to air",
                "density of the grains × (0.90 − field capacity)",
                format!("{} × (0.90 − {held})", input.grains()),
                format!("{:.2} g/cm³", answer.value.aeration_limit_g_cm3),
            )
            .cite(Self::CARD.sources[0])
    }
}
