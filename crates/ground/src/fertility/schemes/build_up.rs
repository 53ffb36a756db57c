//! Build-up and maintenance: another school than sufficiency, never to be added to it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::unit::KG_HA;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Soil test: Bray 1 phosphorus or ammonium acetate potassium.
    pub struct BuildUpTest: "soil test", "ppm", 0.0 ..= 2000.0, example 10.0;
    /// The level below which the crop responds.
    pub struct CriticalLevel: "critical level", "ppm", 1.0 ..= 500.0, example 15.0;
    /// What the harvest carries away in a year.
    pub struct YearlyRemoval: "removed by the harvest", "kg/ha", 0.0 ..= 1000.0, example 50.0;
    /// Cation exchange capacity.
    pub struct BuildUpCec: "cation exchange capacity", "meq/100 g", 1.0 ..= 60.0, example 10.0;
}

/// Which nutrient.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BuildUpOf {
    /// Phosphate from Bray 1 phosphorus.
    P2o5,
    /// Potash from ammonium acetate potassium.
    K2o,
}

/// Pounds of P2O5 an acre that lift Bray phosphorus by 1 ppm.
pub const LB_ACRE_P2O5_PER_PPM: f64 = 20.0;

/// Rate of a year, kg/ha: four years of build-up below the critical level, what is removed up to the
/// maintenance limit (15 ppm above it for phosphorus, 30 for potassium), less and less over the 10 or 20 ppm
/// that follow, and then nothing. `cec` is needed for potash.
#[must_use]
pub fn build_up_kg_ha(of: BuildUpOf, test_ppm: f64, critical_ppm: f64, removal_kg_ha: f64, cec: f64) -> f64 {
    let (per_ppm, extra, plateau, fall) = match of {
        BuildUpOf::P2o5 => (LB_ACRE_P2O5_PER_PPM / 4.0 * KG_HA, 0.0, 15.0, 10.0),
        BuildUpOf::K2o => ((1.0 + 0.05 * cec) * KG_HA, 20.0 * KG_HA, 30.0, 20.0),
    };
    let keep = removal_kg_ha + extra;
    let below = (critical_ppm - test_ppm).max(0.0);
    let above = (test_ppm - critical_ppm - plateau).max(0.0);
    below * per_ppm + keep * (1.0 - above / fall).max(0.0)
}

/// The critical level of potassium: 75 + 2.5 CEC, ppm.
#[must_use]
pub fn critical_potassium_ppm(cec: f64) -> f64 {
    75.0 + 2.5 * cec
}

/// Input of `build-up-and-maintenance`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BuildUpInput {
    /// Which nutrient.
    pub of: BuildUpOf,
    /// The soil test.
    pub test_ppm: BuildUpTest,
    /// Critical level; for potash 75 + 2.5 CEC without it, for phosphate 15.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub critical_ppm: Option<CriticalLevel>,
    /// What the harvest carries away in a year.
    pub removal_kg_ha: YearlyRemoval,
    /// Cation exchange capacity; potash needs it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cec_meq_100_g: Option<BuildUpCec>,
}

/// Output of `build-up-and-maintenance`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct BuildUpOutput {
    /// Critical level used.
    pub critical_ppm: f64,
    /// Rate of a year.
    pub rate_kg_ha: f64,
}

/// Build-up and maintenance.
pub struct BuildUp;

impl Method for BuildUp {
    type Input = BuildUpInput;
    type Output = BuildUpOutput;

    const CARD: Card = Card {
        name: "build-up-and-maintenance",
        title: "Build-up and maintenance",
        topic: Topic::Fertility,
        computes: "Phosphate or potash of a year that lifts a poor test to its critical level in four years and then \
                   replaces what the harvests carry away.",
        validity: &[
            "Made for field crops of Michigan, Ohio and Indiana. It is another way than a scheme's rates: never add the two.",
            "Phosphorus by Bray 1, potassium by ammonium acetate.",
        ],
        sources: &[Cite::new("TriState1995", "build-up and maintenance equations")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        BuildUpInput {
            of: BuildUpOf::P2o5,
            test_ppm: BuildUpTest::literal(10.0),
            critical_ppm: Some(CriticalLevel::literal(15.0)),
            removal_kg_ha: YearlyRemoval::literal(50.0),
            cec_meq_100_g: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let cec = match (input.of, input.cec_meq_100_g) {
            (_, Some(cec)) => cec.get(),
            (BuildUpOf::P2o5, None) => 0.0,
            (BuildUpOf::K2o, None) => {
                return Err(Refusal::new("cec_meq_100_g", "potash hangs on the cation exchange capacity")
                    .given("nothing")
                    .accepted("1 to 60 meq/100 g")
                    .example("10"));
            }
        };
        let critical_ppm = input.critical_ppm.map_or_else(
            || match input.of {
                BuildUpOf::P2o5 => 15.0,
                BuildUpOf::K2o => critical_potassium_ppm(cec),
            },
            Bounded::get,
        );
        let rate_kg_ha =
            build_up_kg_ha(input.of, input.test_ppm.get(), critical_ppm, input.removal_kg_ha.get(), cec);
        Ok(Answer::with_notes(
            BuildUpOutput { critical_ppm, rate_kg_ha },
            vec![Note::new(
                NoteKind::Provenance,
                "The equations are recalled from the bulletin and were not read again.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "rate of a year",
                match input.of {
                    BuildUpOf::P2o5 => "(critical − test) × 5 lb/acre + removal",
                    BuildUpOf::K2o => "(critical − test) × (1 + 0.05 CEC) lb/acre + removal + 20 lb/acre",
                },
                format!(
                    "critical {} ppm, test {} ppm, removal {} kg/ha",
                    answer.value.critical_ppm,
                    input.test_ppm.get(),
                    input.removal_kg_ha.get()
                ),
                format!("{:.0} kg/ha", answer.value.rate_kg_ha),
            )
            .cite(Self::CARD.sources[0])
    }
}
