//! What a published lime rate is a rate of, and the way from it to pure calcium carbonate over a chosen depth.
//!
//! # Method
//! need = rate × strength / 100 × (depth / basis depth) × (bulk density / 1.32, only where it was measured).
//! A pound of lime material is brought in once, by the effectiveness system the rate was published for.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::effectiveness::EffectivenessSystem;
use super::quantity::{MixedDensity, MixedDepth};
use crate::kit::quantity::number;
use crate::kit::{Bounded, Cite, Note, NoteKind, Working};

/// Unit of a printed rate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RateUnit {
    /// Short tons an acre.
    TonPerAcre,
    /// Pounds an acre.
    PoundPerAcre,
    /// Tonnes a hectare.
    TonnePerHectare,
    /// Pounds for 100 square feet.
    PoundPer100SquareFeet,
}

/// Kilograms a pound.
pub const KG_PER_LB: f64 = 0.453_592_37;
/// Square metres an acre.
pub const M2_PER_ACRE: f64 = 4_046.856_422_4;
/// Square metres for 1000 square feet.
pub const M2_PER_1000_FT2: f64 = 92.903_04;
/// Centimetres an inch.
const CM_PER_IN: f64 = 2.54;
/// Bulk density behind "an acre weighs two million pounds": 6 2/3 inches at 1.32 g/cm³.
pub const USUAL_DENSITY_G_CM3: f64 = 1.32;

impl RateUnit {
    /// Kilograms a square metre for one unit.
    #[must_use]
    pub fn kg_m2(self) -> f64 {
        match self {
            Self::TonPerAcre => 2000.0 * KG_PER_LB / M2_PER_ACRE,
            Self::PoundPerAcre => KG_PER_LB / M2_PER_ACRE,
            Self::TonnePerHectare => 0.1,
            Self::PoundPer100SquareFeet => 10.0 * KG_PER_LB / M2_PER_1000_FT2,
        }
    }

    /// As written after a number.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::TonPerAcre => "ton/acre",
            Self::PoundPerAcre => "lb/acre",
            Self::TonnePerHectare => "t/ha",
            Self::PoundPer100SquareFeet => "lb/100 ft²",
        }
    }

    fn digits(self) -> usize {
        match self {
            Self::PoundPerAcre => 0,
            _ => 2,
        }
    }
}

/// What a published rate is a rate of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Basis {
    /// Its unit.
    pub unit: RateUnit,
    /// Depth it is made for, cm.
    pub depth_cm: f64,
    /// The lime it is made for, in words.
    pub lime: &'static str,
    /// Effectiveness of that lime in its own system, percent.
    pub strength_percent: f64,
    /// The system by which a product is brought to it.
    pub system: EffectivenessSystem,
    /// How far the ground's real need may lie from the rate, percent of it, nine times in ten.
    pub error_percent: f64,
}

/// Inches to the centimetres of a basis.
/// A depth in inches as centimetres.
#[must_use]
pub const fn inches(depth_in: f64) -> f64 {
    CM_PER_IN * depth_in
}

impl Basis {
    /// The need as pure, fully effective calcium carbonate, kg/m², for a depth in cm and, where it was
    /// measured, a bulk density in g/cm³.
    #[must_use]
    pub fn carbonate_kg_m2(&self, rate: f64, depth_cm: f64, density_g_cm3: Option<f64>) -> f64 {
        let packing = density_g_cm3.map_or(1.0, |density| density / USUAL_DENSITY_G_CM3);
        rate * self.unit.kg_m2() * self.strength_percent / 100.0 * depth_cm / self.depth_cm * packing
    }

    /// The basis in words: "ton/acre of lime of score 100, 15.24 cm deep".
    #[must_use]
    pub fn words(&self) -> String {
        format!("{} of {}, {} cm deep", self.unit.words(), self.lime, number(self.depth_cm))
    }
}

/// A lime need: what every lime method gives.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LimeNeed {
    /// The pH that is reached; a method that knows few targets takes the next one it knows.
    pub target_ph: f64,
    /// The rate as the source would print it.
    pub printed_rate: f64,
    /// Unit, lime and depth of that rate.
    pub printed_unit: String,
    /// Need as pure and fully effective calcium carbonate over the depth asked for.
    pub carbonate_kg_m2: f64,
    /// The same.
    pub carbonate_ton_acre: f64,
    /// The same.
    pub carbonate_lb_1000_ft2: f64,
    /// The real need may lie this far off, nine times in ten, percent.
    pub error_percent: f64,
    /// The system by which a product's effectiveness is to be reckoned.
    pub system: EffectivenessSystem,
}

/// Depth and packing that a need is asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Layer {
    depth_cm: f64,
    density_g_cm3: Option<f64>,
}

impl Layer {
    pub(super) fn new(depth_cm: MixedDepth, density: Option<MixedDensity>) -> Self {
        Self { depth_cm: depth_cm.get(), density_g_cm3: density.map(Bounded::get) }
    }
}

impl LimeNeed {
    /// The need that a printed rate stands for; a rate below nothing is nothing.
    pub(super) fn of(basis: &Basis, rate: f64, target_ph: f64, layer: Layer) -> Self {
        let rate = rate.max(0.0);
        let need = basis.carbonate_kg_m2(rate, layer.depth_cm, layer.density_g_cm3);
        Self {
            target_ph,
            printed_rate: rate,
            printed_unit: basis.words(),
            carbonate_kg_m2: need,
            carbonate_ton_acre: need / RateUnit::TonPerAcre.kg_m2(),
            carbonate_lb_1000_ft2: need * M2_PER_1000_FT2 / KG_PER_LB,
            error_percent: basis.error_percent,
            system: basis.system,
        }
    }

    /// The working: the rate by its rule, then the depth and the lime.
    pub(super) fn working(&self, basis: &Basis, layer: Layer, rule: Rule) -> Working {
        let packing =
            layer.density_g_cm3.map_or(String::new(), |d| format!(" × {}/{USUAL_DENSITY_G_CM3}", number(d)));
        Working::new()
            .step(
                "rate as published",
                rule.says,
                rule.numbers,
                format!("{:.*} {}", basis.unit.digits(), self.printed_rate, self.printed_unit),
            )
            .cite(rule.cite)
            .step(
                "as pure calcium carbonate over the depth asked for",
                "rate × strength of the lime × depth / depth of the rate × bulk density / 1.32 where it was measured",
                format!(
                    "{:.*} {} × {}/100 × {}/{}{packing}",
                    basis.unit.digits(),
                    self.printed_rate,
                    basis.unit.words(),
                    number(basis.strength_percent),
                    number(layer.depth_cm),
                    number(basis.depth_cm)
                ),
                format!(
                    "{:.3} kg/m² ({:.2} ton/acre, {:.1} lb/1000 ft²)",
                    self.carbonate_kg_m2, self.carbonate_ton_acre, self.carbonate_lb_1000_ft2
                ),
            )
    }
}

/// A rule as the working tells it.
pub(super) struct Rule {
    pub(super) says: &'static str,
    pub(super) numbers: String,
    pub(super) cite: Cite,
}

/// The note that says how far a need may be off.
pub(super) fn accuracy(basis: &Basis) -> Note {
    Note::new(
        NoteKind::Method,
        format!(
            "The real need of the ground may well lie {:.0} % off: laboratory buffers explained 66 to 92 % of incubated lime need, field trials less. Spread, wait, and test again.",
            basis.error_percent
        ),
    )
}

/// The note that a method's numbers were recalled.
pub(super) fn recalled(what: &str) -> Note {
    Note::new(
        NoteKind::Provenance,
        format!("{what}: recalled, not read again. Hold it against the laboratory's own rate."),
    )
}

/// The note that a target stands between two that are published.
pub(super) fn between_targets() -> Note {
    Note::new(
        NoteKind::Method,
        "The pH to reach stands between two that are published; the straight line between them is our judgement.",
    )
}

/// The note that ground at or above its target needs none.
pub(super) fn no_need() -> Note {
    Note::new(NoteKind::Method, "The pH is at or above the pH to reach already: no lime.")
}

/// What may hurt whoever spreads lime.
pub const LIME_CAUTIONS: &[&str] = &[
    "Lime dust: goggles, a dust mask, gloves and long sleeves; spread on a still day and water it in. Ground limestone may hold silica.",
    "Burnt and hydrated lime burn eyes and wet skin: rinse for 15 minutes and see a doctor. The US organic rule does not allow them for liming soil.",
    "Never mix lime or wood ash with ammonium fertilizer, urea or fresh manure: ammonia gas is given off and the nitrogen is lost.",
    "The rate of your own state's or country's laboratory comes before this one.",
];

/// Straight line through the points of a table, sorted by their first number; `None` outside it.
pub(super) fn along(points: &[(f64, f64)], at: f64) -> Option<f64> {
    let (first, last) = (points.first()?, points.last()?);
    if at < first.0 - 1e-9 || at > last.0 + 1e-9 {
        return None;
    }
    let next = points.partition_point(|point| point.0 < at).clamp(1, points.len() - 1);
    let ((x0, y0), (x1, y1)) = (points[next - 1], points[next]);
    Some(y0 + (y1 - y0) * ((at - x0) / (x1 - x0)).clamp(0.0, 1.0))
}

/// The published target to take for one that is asked for: itself within the published ones, the lowest of
/// them below, none above.
pub(super) fn published_target(published: &[f64], asked: f64) -> Option<f64> {
    let (low, high) = (*published.first()?, *published.last()?);
    (asked <= high + 1e-9).then(|| asked.max(low))
}

/// Straight line between the rates for published targets, rising targets given.
pub(super) fn over_targets(published: &[f64], rates: &[f64], target: f64) -> Option<f64> {
    let points: Vec<(f64, f64)> = published.iter().copied().zip(rates.iter().copied()).collect();
    along(&points, target)
}

#[cfg(test)]
mod tests {
    use super::*;

    // NIST SP 811: 1 lb/acre and 1 ton/acre in SI; the furrow slice from its own definition.
    #[test]
    fn rates_convert_as_their_units_do() {
        assert!((RateUnit::PoundPerAcre.kg_m2() - 1.120_851e-4).abs() < 1e-9);
        assert!((RateUnit::TonPerAcre.kg_m2() - 0.224_170).abs() < 1e-6);
        assert!((RateUnit::PoundPer100SquareFeet.kg_m2() - 0.048_824_3).abs() < 1e-6);
        let furrow_lb = M2_PER_ACRE * inches(20.0 / 3.0) / 100.0 * 1000.0 * USUAL_DENSITY_G_CM3 / KG_PER_LB;
        assert!((furrow_lb / 2e6 - 1.0).abs() < 0.01, "{furrow_lb}");
    }

    #[test]
    fn a_table_gives_its_own_points_and_nothing_outside() {
        let points = [(1.0, 10.0), (2.0, 20.0), (4.0, 0.0)];
        assert_eq!(along(&points, 1.0), Some(10.0));
        assert_eq!(along(&points, 3.0), Some(10.0));
        assert_eq!(along(&points, 4.0), Some(0.0));
        assert_eq!(along(&points, 0.9), None);
        assert_eq!(along(&points, 4.1), None);
        assert_eq!(published_target(&[6.0, 6.5], 5.5), Some(6.0));
        assert_eq!(published_target(&[6.0, 6.5], 6.8), None);
    }
}
