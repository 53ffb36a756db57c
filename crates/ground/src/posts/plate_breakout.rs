//! Pull that breaks a shallow plate or bell out of the ground.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::quantities::{FrictionAngle, PostDepth, PostWidth, UndrainedStrength, UnitWeight};
use super::strength::{Strength, strength_of};
use crate::kit::table::rows;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Plan of a plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Plan {
    /// Round.
    Round,
    /// Square.
    Square,
}

impl Plan {
    /// Area of a plate of this width, m².
    #[must_use]
    pub fn area_m2(self, width_m: f64) -> f64 {
        let square = width_m * width_m;
        if self == Self::Round { square * std::f64::consts::FRAC_PI_4 } else { square }
    }
}

/// Factors of sand at one angle of friction.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
pub struct SandFactors {
    /// Angle of friction.
    pub friction_degrees: f64,
    /// Nominal uplift coefficient Ku.
    pub nominal_uplift_coefficient: f64,
    /// Shape factor coefficient m.
    pub shape_factor: f64,
    /// Depth over width beyond which the breakout factor grows no more.
    pub critical_depth_over_width: f64,
}

static ROWS: LazyLock<Vec<SandFactors>> =
    LazyLock::new(|| rows("breakout_factors.csv", include_str!("data/breakout_factors.csv")));

impl SandFactors {
    /// Straight lines between the rows; the end rows beyond them.
    #[must_use]
    pub fn at(friction_degrees: f64) -> Self {
        let table = &*ROWS;
        let after =
            table.partition_point(|row| row.friction_degrees <= friction_degrees).clamp(1, table.len() - 1);
        let (low, high) = (table[after - 1], table[after]);
        let part = ((friction_degrees - low.friction_degrees)
            / (high.friction_degrees - low.friction_degrees))
            .clamp(0.0, 1.0);
        let between = |a: f64, b: f64| a + part * (b - a);
        Self {
            friction_degrees,
            nominal_uplift_coefficient: between(
                low.nominal_uplift_coefficient,
                high.nominal_uplift_coefficient,
            ),
            shape_factor: between(low.shape_factor, high.shape_factor),
            critical_depth_over_width: between(low.critical_depth_over_width, high.critical_depth_over_width),
        }
    }

    /// Breakout factor at a depth over width: 1 + 2 (1 + m D/B) (D/B) Ku tan φ.
    #[must_use]
    pub fn breakout(&self, depth_over_width: f64) -> f64 {
        let ratio = depth_over_width.min(self.critical_depth_over_width);
        1.0 + 2.0
            * (1.0 + self.shape_factor * ratio)
            * ratio
            * self.nominal_uplift_coefficient
            * libm::tan(self.friction_degrees.to_radians())
    }
}

/// Breakout factor of clay at a depth over width: 1.2 D/B up to 9, and no further than the critical depth
/// 0.107 cu + 2.5 up to 7 (cu in kPa) lets it grow.
#[must_use]
pub fn breakout_in_clay(depth_over_width: f64, undrained_kpa: f64) -> f64 {
    let critical = (0.107 * undrained_kpa + 2.5).min(7.0);
    (1.2 * depth_over_width.min(critical)).min(9.0)
}

/// Greatest pull, kN, and the breakout factor. No suction is counted.
#[must_use]
pub fn plate_breakout(plan: Plan, width_m: f64, depth_m: f64, ground: Strength) -> (f64, f64) {
    let (area, ratio) = (plan.area_m2(width_m), depth_m / width_m);
    match ground {
        Strength::Sand { unit_weight_kn_m3, friction_degrees } => {
            let factor = SandFactors::at(friction_degrees).breakout(ratio);
            (factor * area * unit_weight_kn_m3 * depth_m, factor)
        }
        Strength::Clay { unit_weight_kn_m3, undrained_kpa } => {
            let factor = breakout_in_clay(ratio, undrained_kpa);
            (area * (unit_weight_kn_m3 * depth_m + undrained_kpa * factor), factor)
        }
    }
}

/// Input of `plate-breakout`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlateBreakoutInput {
    /// Plan of the plate or bell.
    pub plan: Plan,
    /// Its width.
    pub width_mm: PostWidth,
    /// Depth of its underside.
    pub depth_m: PostDepth,
    /// Unit weight of the ground above; buoyant below water.
    pub unit_weight_kn_m3: UnitWeight,
    /// Friction angle, of sand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub friction_angle_degrees: Option<FrictionAngle>,
    /// Undrained strength, of clay or silt.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub undrained_strength_kpa: Option<UndrainedStrength>,
}

/// Output of `plate-breakout`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PlateBreakoutOutput {
    /// Breakout factor, a pure number.
    pub breakout_factor: f64,
    /// Greatest pull, kN.
    pub ultimate_kn: f64,
    /// A third of it, kN.
    pub allowable_kn: f64,
}

/// Breakout of a plate.
pub struct PlateBreakout;

impl Method for PlateBreakout {
    type Input = PlateBreakoutInput;
    type Output = PlateBreakoutOutput;

    const CARD: Card = Card {
        name: "plate-breakout",
        title: "Pull that breaks a plate out",
        topic: Topic::Posts,
        computes: "The pull at which a plate, a dead-man or the bell of a footing breaks out of sand or saturated clay.",
        validity: &[
            "Undisturbed ground above the plate, or backfill compacted as firm; loose backfill gives its weight alone.",
            "Depth is counted up to a critical number of widths; suction under the plate is never counted.",
        ],
        sources: &[
            Cite::new("MeyerhofAdams1968", "shallow foundations in sand"),
            Cite::new("Meyerhof1973", "clay"),
            Cite::new("Das1978", "critical depth in clay"),
        ],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        PlateBreakoutInput {
            plan: Plan::Round,
            width_mm: PostWidth::literal(450.0),
            depth_m: PostDepth::literal(1.0),
            unit_weight_kn_m3: UnitWeight::literal(17.3),
            friction_angle_degrees: Some(FrictionAngle::literal(30.0)),
            undrained_strength_kpa: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ground =
            strength_of(input.unit_weight_kn_m3, input.friction_angle_degrees, input.undrained_strength_kpa)?;
        let (ultimate_kn, breakout_factor) =
            plate_breakout(input.plan, input.width_mm.get() / 1000.0, input.depth_m.get(), ground);
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "Factors and equations are recalled from textbooks; a third of the answer is used because strength is estimated.",
        )];
        if input.friction_angle_degrees.is_some_and(|angle| angle.get() < 20.0) {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "The table begins at 20°: its first row was used for a smaller angle.",
            ));
        }
        Ok(Answer::with_notes(
            PlateBreakoutOutput { breakout_factor, ultimate_kn, allowable_kn: ultimate_kn / 3.0 },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let sand = input.friction_angle_degrees.is_some();
        Working::new()
            .step(
                "breakout factor",
                if sand {
                    "1 + 2 (1 + m D/B) (D/B) Ku tan φ"
                } else {
                    "1.2 D/B, at most 9 and at most 1.2 (0.107 cu + 2.5)"
                },
                format!("D/B = {:.2}", 1000.0 * input.depth_m.get() / input.width_mm.get()),
                format!("{:.2}", answer.value.breakout_factor),
            )
            .cite(Self::CARD.sources[usize::from(!sand)])
            .step(
                "greatest pull",
                if sand { "factor × area × γ D" } else { "area × (γ D + cu × factor)" },
                format!("γ = {} kN/m³, D = {} m", input.unit_weight_kn_m3.get(), input.depth_m.get()),
                format!("{:.2} kN", answer.value.ultimate_kn),
            )
            .cite(Self::CARD.sources[usize::from(!sand)])
    }
}
