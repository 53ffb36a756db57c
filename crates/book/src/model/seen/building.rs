//! Ground to build on: what a hole, a bar and the fingers tell of it.

use ground::kit::{Bounded, Refusal};
use ground::posts::soil_corrosivity::Resistivity;
pub use ground::posts::thread::Thread;
use ground::structure::working::limits::LiquidLimit;
pub use ground::structure::working::limits::PlasticLimit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::SignDepth;

/// What was found of the ground to build on. At least one thing is given.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BuildingGround {
    /// Depth of the soil that was tested.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_cm: Option<SignDepth>,
    /// Liquid limit, from a laboratory; goes with the plastic limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub liquid_limit_percent: Option<LiquidLimit>,
    /// Plastic limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plastic_limit_percent: Option<PlasticLimit>,
    /// How it rolls into a thread of 3 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thread: Option<Thread>,
    /// Electrical resistivity of the wet ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resistivity_ohm_m: Option<Resistivity>,
    /// Depth down to which it is tilled or loosened.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tilled_to_cm: Option<SignDepth>,
    /// Depth down to which it is fill or moved earth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fill_to_cm: Option<SignDepth>,
    /// Depth down to which it is peat, muck or rich in organic matter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub organic_to_cm: Option<SignDepth>,
    /// Depth at which a bar or an auger stopped.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stopped_at_cm: Option<SignDepth>,
    /// Depth at which water stood in an open hole.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_at_cm: Option<SignDepth>,
    /// Depth of an open hole that stayed dry in the wettest season.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_to_cm: Option<SignDepth>,
}

impl BuildingGround {
    /// Plasticity index in percent, and whether a laboratory gave it.
    #[must_use]
    pub fn plasticity_index(&self) -> Option<(f64, bool)> {
        match (self.liquid_limit_percent, self.plastic_limit_percent) {
            (Some(liquid), Some(plastic)) => Some(((liquid.get() - plastic.get()).max(0.0), true)),
            _ => self.thread.map(|thread| (thread.plasticity_index(), false)),
        }
    }

    pub(super) fn check(&self) -> Result<(), Refusal> {
        match (self.liquid_limit_percent, self.plastic_limit_percent) {
            (Some(liquid), Some(plastic)) if plastic.get() > liquid.get() => {
                return Err(Refusal::new(
                    "plastic_limit_percent",
                    "the plastic limit cannot lie above the liquid limit",
                )
                .given(format!("{} % with a liquid limit of {} %", plastic.get(), liquid.get()))
                .accepted(format!("up to {} %", liquid.get()))
                .example(format!("{:.0} %", 0.6 * liquid.get())));
            }
            (Some(_), None) | (None, Some(_)) => {
                let missing = if self.liquid_limit_percent.is_none() {
                    "liquid_limit_percent"
                } else {
                    "plastic_limit_percent"
                };
                return Err(Refusal::new(
                    missing,
                    "liquid and plastic limit go together, and one of them is missing",
                )
                .given("nothing")
                .accepted("both limits of the laboratory's report")
                .example("35 %"));
            }
            _ => {}
        }
        if let (Some(water), Some(dry)) = (self.water_at_cm, self.dry_to_cm)
            && water.get() <= dry.get()
        {
            return Err(Refusal::new(
                "dry_to_cm",
                "the hole cannot have stayed dry below the water that stood in it",
            )
            .given(format!("{} cm, with water at {} cm", dry.get(), water.get()))
            .accepted("leave it out where water stood")
            .example(format!("{:.0} cm", water.get() / 2.0)));
        }
        let Self {
            at_cm: _, liquid_limit_percent, plastic_limit_percent: _, thread, resistivity_ohm_m, ..
        } = self;
        let depths = [
            self.tilled_to_cm,
            self.fill_to_cm,
            self.organic_to_cm,
            self.stopped_at_cm,
            self.water_at_cm,
            self.dry_to_cm,
        ];
        if liquid_limit_percent.is_none()
            && thread.is_none()
            && resistivity_ohm_m.is_none()
            && depths.iter().all(Option::is_none)
        {
            return Err(Refusal::new("tilled_to_cm", "nothing was written down of the ground")
                .given("nothing")
                .accepted("at least one of a depth, a plasticity and a resistivity")
                .example("tilled to 25 cm"));
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_reading_and_crossed_limits_are_refused() {
        assert_eq!(BuildingGround::default().check().unwrap_err().field, "tilled_to_cm");
        let crossed = BuildingGround {
            liquid_limit_percent: Some(LiquidLimit::literal(30.0)),
            plastic_limit_percent: Some(PlasticLimit::literal(40.0)),
            ..BuildingGround::default()
        };
        assert_eq!(crossed.check().unwrap_err().field, "plastic_limit_percent");
    }

    /// Plasticity index = liquid limit − plastic limit, by its definition (ASTM D4318).
    #[test]
    fn the_plasticity_index_is_the_difference_of_the_limits() {
        let tested = BuildingGround {
            liquid_limit_percent: Some(LiquidLimit::literal(45.0)),
            plastic_limit_percent: Some(PlasticLimit::literal(22.0)),
            thread: Some(Thread::Weak),
            ..BuildingGround::default()
        };
        assert_eq!(tested.plasticity_index(), Some((23.0, true)));
        assert!(tested.check().is_ok());
    }
}
