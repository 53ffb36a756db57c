//! Soil erodibility factor K of the universal soil loss equation.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::crusting::SurfaceOrganicMatter;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::composition::{ClayPercent, SiltPercent};

crate::quantity! {
    /// Very fine sand, 50 to 100 µm, share of the fine earth by mass.
    pub struct VeryFineSandPercent: "very fine sand", "%", 0.0 ..= 100.0, example 10.0;
    /// Structure code: 1 very fine granular, 2 fine granular, 3 medium or coarse granular, 4 blocky, platy or massive.
    pub struct StructureCode: "structure code", "", 1.0 ..= 4.0, example 3.0;
    /// Permeability code: 1 rapid, 2 moderate to rapid, 3 moderate, 4 slow to moderate, 5 slow, 6 very slow.
    pub struct PermeabilityCode: "permeability code", "", 1.0 ..= 6.0, example 3.0;
}

/// From US customary units of K to t·ha·h/(ha·MJ·mm).
pub const K_METRIC: f64 = 0.1317;
/// Organic matter beyond this has no line on the nomograph.
const ORGANIC_MATTER_ENDS_AT: f64 = 4.0;

/// K in US customary units, never below zero. `structure` and `permeability` are the codes.
#[must_use]
pub fn erodibility(
    silt: f64,
    very_fine_sand: f64,
    clay: f64,
    organic_matter: f64,
    structure: f64,
    permeability: f64,
) -> f64 {
    let m = (silt + very_fine_sand) * (100.0 - clay);
    let a = organic_matter.min(ORGANIC_MATTER_ENDS_AT);
    let hundredfold =
        2.1e-4 * libm::pow(m, 1.14) * (12.0 - a) + 3.25 * (structure - 2.0) + 2.5 * (permeability - 3.0);
    (hundredfold / 100.0).max(0.0)
}

/// Permeability code of a saturated conductivity in mm/h: limits 6, 2, 0.6, 0.2 and 0.06 in/h.
#[must_use]
pub fn permeability_code(conductivity_mm_h: f64) -> f64 {
    let per_hour = conductivity_mm_h / 25.4;
    [6.0, 2.0, 0.6, 0.2, 0.06]
        .iter()
        .fold(1.0, |code, limit| if per_hour > *limit { code } else { code + 1.0 })
}

/// Input of `soil-erodibility`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ErodibilityInput {
    /// Silt, 2 to 50 µm.
    pub silt_percent: SiltPercent,
    /// Very fine sand, 50 to 100 µm; a part of the sand.
    pub very_fine_sand_percent: VeryFineSandPercent,
    /// Clay.
    pub clay_percent: ClayPercent,
    /// Organic matter.
    pub organic_matter_percent: SurfaceOrganicMatter,
    /// Structure, 1 to 4.
    pub structure_code: StructureCode,
    /// Permeability of the profile, 1 to 6.
    pub permeability_code: PermeabilityCode,
}

/// Output of `soil-erodibility`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ErodibilityOutput {
    /// K in US customary units, ton·acre·h/(100 acre·ft·tonf·in).
    pub k_us: f64,
    /// K in t·ha·h/(ha·MJ·mm).
    pub k_metric: f64,
}

/// Soil erodibility.
pub struct SoilErodibility;

impl Method for SoilErodibility {
    type Input = ErodibilityInput;
    type Output = ErodibilityOutput;

    const CARD: Card = Card {
        name: "soil-erodibility",
        title: "Soil erodibility",
        topic: Topic::Structure,
        computes: "How easily bare ground gives up soil to rain and running water, as the factor K of the universal \
                   soil loss equation. Silt and very fine sand wash most; clay and coarse sand least.",
        validity: &[
            "Silt and very fine sand together up to 70 %; beyond that the answer is given and flagged.",
            "Organic matter above 4 % counts as 4 %, where the nomograph ends.",
            "The equation departs from the nomograph for more than half of real soils (Auerswald and others 2014): use it to rank plots.",
        ],
        sources: &[Cite::new("WischmeierSmith1978", "p. 10"), Cite::new("Auerswald2014", "abstract")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        ErodibilityInput {
            silt_percent: SiltPercent::literal(24.0),
            very_fine_sand_percent: VeryFineSandPercent::literal(16.0),
            clay_percent: ClayPercent::literal(18.0),
            organic_matter_percent: SurfaceOrganicMatter::literal(4.0),
            structure_code: StructureCode::literal(3.0),
            permeability_code: PermeabilityCode::literal(2.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (silt, fine) = (input.silt_percent.get(), input.very_fine_sand_percent.get());
        let clay = input.clay_percent.get();
        if silt + fine + clay > 100.0 + 1e-9 {
            return Err(Refusal::new(
                "very_fine_sand_percent",
                "silt, very fine sand and clay together cannot be more than 100 %",
            )
            .given(format!("{silt} + {fine} + {clay} = {} %", silt + fine + clay))
            .accepted("a sum up to 100 %")
            .example("10"));
        }
        let organic = input.organic_matter_percent.get();
        let k_us =
            erodibility(silt, fine, clay, organic, input.structure_code.get(), input.permeability_code.get());
        let mut notes = Vec::new();
        if silt + fine > 70.0 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "Silt and very fine sand are above 70 %, where the equation was not fitted; the nomograph reads lower.",
            ));
        }
        if organic > ORGANIC_MATTER_ENDS_AT {
            notes.push(Note::new(NoteKind::OutsideRange, "Organic matter above 4 % was counted as 4 %."));
        }
        Ok(Answer::with_notes(ErodibilityOutput { k_us, k_metric: k_us * K_METRIC }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let fine = input.silt_percent.get() + input.very_fine_sand_percent.get();
        let m = fine * (100.0 - input.clay_percent.get());
        Working::new()
            .step(
                "the particle-size term M",
                "(silt + very fine sand) × (100 − clay)",
                format!("{fine} × {}", 100.0 - input.clay_percent.get()),
                format!("{m:.0}"),
            )
            .step(
                "K in US customary units",
                "(2.1 × 10⁻⁴ × M^1.14 × (12 − OM) + 3.25 × (structure − 2) + 2.5 × (permeability − 3)) / 100",
                format!(
                    "M = {m:.0}, OM = {}, structure {}, permeability {}",
                    input.organic_matter_percent.get().min(ORGANIC_MATTER_ENDS_AT),
                    input.structure_code.get(),
                    input.permeability_code.get()
                ),
                format!("{:.4}", answer.value.k_us),
            )
            .cite(Self::CARD.sources[0])
    }
}
