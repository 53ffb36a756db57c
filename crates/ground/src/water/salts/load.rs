//! Salt that water brings.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::leaching::WaterEc;
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Depth of water put on.
    pub struct AppliedWater: "water put on", "mm", 0.0 ..= 5000.0, example 500.0;
}

/// Kilograms per hectare in pounds per acre (0.453 592 37 kg, 0.404 685 642 24 ha).
pub const LB_ACRE_PER_KG_HA: f64 = 0.404_685_642_24 / 0.453_592_37;

/// Dissolved salts, mg/L: about 640 × EC up to 5 dS/m and 800 × EC above [Handbook60].
#[must_use]
pub fn dissolved_mg_l(ec_ds_m: f64) -> f64 {
    if ec_ds_m <= 5.0 { 640.0 * ec_ds_m } else { 800.0 * ec_ds_m }
}

/// Salt in a depth of water, kg/ha.
#[must_use]
pub fn salt_load_kg_ha(depth_mm: f64, ec_ds_m: f64) -> f64 {
    // 1 mm on a hectare is 10 000 L; mg to kg.
    depth_mm * dissolved_mg_l(ec_ds_m) * 0.01
}

/// Input of `salt-load`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SaltLoadInput {
    /// Water put on.
    pub water_mm: AppliedWater,
    /// Its EC.
    pub ec_ds_m: WaterEc,
}

/// Output of `salt-load`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct SaltLoadOutput {
    /// Dissolved salts in the water.
    pub dissolved_mg_l: f64,
    /// Salt brought.
    pub salt_kg_ha: f64,
    /// The same in pounds an acre.
    pub salt_lb_acre: f64,
    /// The same on a square metre.
    pub salt_g_m2: f64,
}

/// Salt brought by water.
pub struct SaltLoad;

impl Method for SaltLoad {
    type Input = SaltLoadInput;
    type Output = SaltLoadOutput;

    const CARD: Card = Card {
        name: "salt-load",
        title: "Salt that the water brings",
        topic: Topic::Water,
        computes: "The weight of salt that a depth of irrigation water leaves on the ground.",
        validity: &["A rule from EC; which salts they are, only a water analysis tells."],
        sources: &[Cite::new("Handbook60", "dissolved salts from EC")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        SaltLoadInput { water_mm: AppliedWater::literal(500.0), ec_ds_m: WaterEc::literal(1.2) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (depth, ec) = (input.water_mm.get(), input.ec_ds_m.get());
        let salt_kg_ha = salt_load_kg_ha(depth, ec);
        Ok(Answer::with_notes(
            SaltLoadOutput {
                dissolved_mg_l: dissolved_mg_l(ec),
                salt_kg_ha,
                salt_lb_acre: salt_kg_ha * LB_ACRE_PER_KG_HA,
                salt_g_m2: salt_kg_ha / 10.0,
            },
            vec![Note::new(
                NoteKind::Provenance,
                "The factors 640 and 800 are recalled and were not read again.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "dissolved salts",
                "640 × EC up to 5 dS/m, 800 × EC above",
                format!("EC {} dS/m", number(input.ec_ds_m.get())),
                format!("{:.0} mg/L", value.dissolved_mg_l),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "salt brought",
                "mm × mg/L / 100, as 1 mm on a hectare is 10 000 L",
                format!("{} × {:.0} / 100", number(input.water_mm.get()), value.dissolved_mg_l),
                format!("{:.0} kg/ha, {:.0} lb/acre", value.salt_kg_ha, value.salt_lb_acre),
            )
    }
}
