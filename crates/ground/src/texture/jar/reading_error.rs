//! How much of a jar's spread is the ruler's: closed form beside seeded draws.
//!
//! # Method
//! Neighbouring layers share a boundary and all share the whole height, so their errors go together.
//! First order: covariance = J diag(u²) Jᵀ, with J the derivative of the three shares by the four
//! heights [Gum2008]. Draws: each height within half a ruler step [GumSupplement1].

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::packing::ByLayer;
use super::reading::{JarHeight, RulerStep};
use crate::belief::believe::class_odds;
use crate::kit::chance::{Chance, Fingerprint};
use crate::kit::quantity::with_unit;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::{Class, ClassOdds, Composition};

crate::quantity! {
    /// Half-width of the zone in which a blurred boundary may be.
    pub struct BlurHalfWidth: "half-width of the blurred boundary", "mm", 0.0 ..= 50.0, example 1.0;
    /// How many draws.
    pub struct DrawCount: "number of draws", "", 100.0 ..= 1000000.0, example 100000.0;
}

/// Draws where nothing is said.
const USUAL_DRAWS: f64 = 100_000.0;
const FIRST_ORDER: Cite = Cite::new("Gum2008", "5.1.2, F.2.2.1 and 4.3.7");
const BY_DRAWS: Cite = Cite::new("GumSupplement1", "propagation of distributions");

/// Input of `jar-reading-error`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JarReadingErrorInput {
    /// Reading at the jar floor, under the sand; exactly zero where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub floor_mm: Option<JarHeight>,
    /// Top of the sand.
    pub sand_top_mm: JarHeight,
    /// Top of the silt.
    pub silt_top_mm: JarHeight,
    /// Top of the clay.
    pub clay_top_mm: JarHeight,
    /// Distance between two marks of the ruler.
    pub ruler_step_mm: RulerStep,
    /// Half-width of the zone in which the sand's top blurs into the silt; sharp where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sand_top_blur_mm: Option<BlurHalfWidth>,
    /// The same for the top of the silt.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub silt_top_blur_mm: Option<BlurHalfWidth>,
    /// The same for the top of the clay.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clay_top_blur_mm: Option<BlurHalfWidth>,
    /// Number of draws; 100 000 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub draws: Option<DrawCount>,
}

/// Covariances between layers, percentage points squared.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Covariances {
    /// Sand and silt.
    pub sand_silt: f64,
    /// Sand and clay.
    pub sand_clay: f64,
    /// Silt and clay.
    pub silt_clay: f64,
}

/// First-order result.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FirstOrder {
    /// Standard uncertainty of each share, percentage points.
    pub standard_uncertainty_percent: ByLayer<f64>,
    /// Covariances of the shares.
    pub covariance: Covariances,
}

/// Result of the draws.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ByDraws {
    /// Mean of each share.
    pub mean_percent: ByLayer<f64>,
    /// Standard deviation of each share, percentage points.
    pub standard_deviation_percent: ByLayer<f64>,
    /// 2.5th percentile of each share.
    pub low_percent: ByLayer<f64>,
    /// 97.5th percentile of each share.
    pub high_percent: ByLayer<f64>,
    /// Standard error of the means that comes from the finite number of draws.
    pub standard_error_percent: ByLayer<f64>,
    /// Class of the shares, if they were shares of mass; most likely first.
    pub class_odds: Vec<ClassOdds>,
    /// Greatest standard error of these odds from the finite number of draws.
    pub odds_standard_error_percent: f64,
    /// Number of draws.
    pub draws: u32,
    /// Seed, hexadecimal.
    pub seed: String,
}

/// Output of `jar-reading-error`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct JarReadingErrorOutput {
    /// Share of each layer in the height.
    pub nominal_percent: ByLayer<f64>,
    /// Closed form.
    pub first_order: FirstOrder,
    /// Seeded draws.
    pub by_draws: ByDraws,
}

/// Four heights with their errors.
#[derive(Debug, Clone, Copy)]
struct Heights {
    mm: [f64; 4],
    step_mm: [f64; 4],
    blur_mm: [f64; 4],
}

impl Heights {
    fn of(input: &JarReadingErrorInput) -> Result<Self, Refusal> {
        let mm = [
            input.floor_mm.map_or(0.0, Bounded::get),
            input.sand_top_mm.get(),
            input.silt_top_mm.get(),
            input.clay_top_mm.get(),
        ];
        let fields = ["floor_mm", "sand_top_mm", "silt_top_mm", "clay_top_mm"];
        for i in 1..4 {
            if mm[i] < mm[i - 1] {
                return Err(Refusal::new(
                    fields[i],
                    format!(
                        "this height, {}, is below the one before it at {}",
                        with_unit(mm[i], "mm"),
                        with_unit(mm[i - 1], "mm")
                    ),
                )
                .given(with_unit(mm[i], "mm"))
                .accepted(format!("{} or more", with_unit(mm[i - 1], "mm")))
                .example(with_unit(mm[i - 1] + 10.0, "mm")));
            }
        }
        let step = input.ruler_step_mm.get();
        if mm[3] - mm[0] < 2.0 * step {
            return Err(Refusal::new(
                "clay_top_mm",
                format!(
                    "the soil is {} high, less than two steps of the ruler",
                    with_unit(mm[3] - mm[0], "mm")
                ),
            )
            .given(with_unit(mm[3], "mm"))
            .accepted(format!("at least {} above the floor", with_unit(2.0 * step, "mm")))
            .example(with_unit(mm[0] + 70.0, "mm")));
        }
        let blur = |half: Option<BlurHalfWidth>| half.map_or(0.0, Bounded::get);
        Ok(Self {
            mm,
            // A floor that was not read is exactly zero.
            step_mm: [if input.floor_mm.is_some() { step } else { 0.0 }, step, step, step],
            blur_mm: [
                0.0,
                blur(input.sand_top_blur_mm),
                blur(input.silt_top_blur_mm),
                blur(input.clay_top_blur_mm),
            ],
        })
    }

    /// Variance of each height: even within a step, triangular within the blur.
    fn variances(&self) -> [f64; 4] {
        let mut variances = [0.0; 4];
        for (i, variance) in variances.iter_mut().enumerate() {
            *variance = self.step_mm[i] * self.step_mm[i] / 12.0 + self.blur_mm[i] * self.blur_mm[i] / 6.0;
        }
        variances
    }

    fn shares(mm: [f64; 4]) -> [f64; 3] {
        let whole = mm[3] - mm[0];
        [(mm[1] - mm[0]) / whole, (mm[2] - mm[1]) / whole, (mm[3] - mm[2]) / whole]
    }
}

/// Covariance matrix of the shares, as fractions squared.
fn covariance(heights: &Heights) -> [[f64; 3]; 3] {
    let [sand, silt, clay] = Heights::shares(heights.mm);
    let whole = heights.mm[3] - heights.mm[0];
    let jacobian =
        [[-(1.0 - sand), 1.0, 0.0, -sand], [silt, -1.0, 1.0, -silt], [clay, 0.0, -1.0, 1.0 - clay]]
            .map(|row| row.map(|value| value / whole));
    let variances = heights.variances();
    let mut covariance = [[0.0; 3]; 3];
    for (i, row) in covariance.iter_mut().enumerate() {
        for (j, value) in row.iter_mut().enumerate() {
            *value = (0..4).map(|k| jacobian[i][k] * variances[k] * jacobian[j][k]).sum();
        }
    }
    covariance
}

fn first_order(heights: &Heights) -> FirstOrder {
    let covariance = covariance(heights);
    let points = |i: usize, j: usize| 1e4 * covariance[i][j];
    FirstOrder {
        standard_uncertainty_percent: ByLayer::new([0, 1, 2].map(|i| points(i, i).sqrt())),
        covariance: Covariances { sand_silt: points(0, 1), sand_clay: points(0, 2), silt_clay: points(1, 2) },
    }
}

fn by_draws(heights: &Heights, draws: u32) -> ByDraws {
    let mut print = Fingerprint::new();
    heights.mm.iter().chain(&heights.step_mm).chain(&heights.blur_mm).for_each(|value| print.number(*value));
    let seed = print.finish();
    let mut chance = Chance::new(seed);
    let n = draws as usize;
    let mut shares = [Vec::with_capacity(n), Vec::with_capacity(n), Vec::with_capacity(n)];
    let mut classes = Vec::with_capacity(n);
    for _ in 0..draws {
        let mut mm = heights.mm;
        for (i, height) in mm.iter_mut().enumerate() {
            if heights.step_mm[i] > 0.0 {
                *height += heights.step_mm[i] * (chance.uniform() - 0.5);
            }
            if heights.blur_mm[i] > 0.0 {
                *height += heights.blur_mm[i] * (chance.uniform() - chance.uniform());
            }
        }
        for i in 1..4 {
            mm[i] = mm[i].max(mm[i - 1]);
        }
        let [sand, silt, clay] = Heights::shares(mm).map(|share| 100.0 * share);
        classes.push(Class::of(Composition { sand, silt, clay }));
        for (list, share) in shares.iter_mut().zip([sand, silt, clay]) {
            list.push(share);
        }
    }
    let count = f64::from(draws);
    let mean = shares.each_ref().map(|list| list.iter().sum::<f64>() / count);
    let mut deviation = [0.0; 3];
    for i in 0..3 {
        let square: f64 = shares[i].iter().map(|share| (share - mean[i]) * (share - mean[i])).sum();
        deviation[i] = (square / (count - 1.0)).sqrt();
    }
    for list in &mut shares {
        list.sort_unstable_by(f64::total_cmp);
    }
    let at = |share: f64| shares.each_ref().map(|list| percentile(list, share));
    let odds = class_odds(&classes, &vec![1.0 / count; n]);
    let odds_standard_error =
        odds.iter().map(|(_, odds)| (odds * (1.0 - odds)).max(0.0).sqrt()).fold(0.0, f64::max) * 100.0
            / count.sqrt();
    ByDraws {
        mean_percent: ByLayer::new(mean),
        standard_deviation_percent: ByLayer::new(deviation),
        low_percent: ByLayer::new(at(0.025)),
        high_percent: ByLayer::new(at(0.975)),
        standard_error_percent: ByLayer::new(deviation.map(|sd| sd / count.sqrt())),
        class_odds: odds
            .into_iter()
            .map(|(class, odds)| ClassOdds { class, odds_percent: 100.0 * odds })
            .collect(),
        odds_standard_error_percent: odds_standard_error,
        draws,
        seed: format!("{seed:016x}"),
    }
}

/// Percentile of a sorted list, straight lines between its members.
fn percentile(sorted: &[f64], share: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "at most a million draws")]
    let place = share * (sorted.len().saturating_sub(1)) as f64;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and the length")]
    let below = place as usize;
    match (sorted.get(below), sorted.get(below + 1)) {
        (Some(low), Some(high)) => low + (high - low) * place.fract(),
        (Some(last), None) => *last,
        _ => f64::NAN,
    }
}

/// The ruler's part in a jar's spread.
pub struct JarReadingError;

impl Method for JarReadingError {
    type Input = JarReadingErrorInput;
    type Output = JarReadingErrorOutput;

    const CARD: Card = Card {
        name: "jar-reading-error",
        title: "The ruler's part in a jar's spread",
        topic: Topic::Texture,
        computes: "Gives how far the shares of three layers can be off because heights are read to the nearest mark of \
                   a ruler: by the closed form and by seeded draws. In most jars the ruler is the smallest error; thin \
                   layers on a coarse ruler are the exception.",
        validity: &[
            "A straight-sided jar; shares are of height, which is volume and not mass.",
            "Each height is rounded to the nearest mark; a blurred boundary adds a triangle of the given half-width.",
            "The classes are those of the shares taken as if they were mass.",
        ],
        sources: &[FIRST_ORDER, BY_DRAWS],
        cautions: &[],
    };

    fn example() -> Self::Input {
        JarReadingErrorInput {
            floor_mm: None,
            sand_top_mm: JarHeight::literal(34.0),
            silt_top_mm: JarHeight::literal(58.0),
            clay_top_mm: JarHeight::literal(72.0),
            ruler_step_mm: RulerStep::literal(1.0),
            sand_top_blur_mm: None,
            silt_top_blur_mm: None,
            clay_top_blur_mm: None,
            draws: Some(DrawCount::literal(10_000.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let heights = Heights::of(input)?;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "100 to a million")]
        let draws = input.draws.map_or(USUAL_DRAWS, Bounded::get) as u32;
        let value = JarReadingErrorOutput {
            nominal_percent: ByLayer::new(Heights::shares(heights.mm).map(|share| 100.0 * share)),
            first_order: first_order(&heights),
            by_draws: by_draws(&heights, draws),
        };
        let note = Note::new(
            NoteKind::Method,
            "This is the ruler alone. How densely the layers pack, and which sizes they really hold, matter more: see \
             jar-test.",
        );
        Ok(Answer::with_notes(value, vec![note]))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok(heights) = Heights::of(input) else { return Working::new() };
        let JarReadingErrorOutput { nominal_percent, first_order, by_draws } = &answer.value;
        let three = |values: &ByLayer<f64>| {
            format!("sand {:.3}, silt {:.3}, clay {:.3}", values.sand, values.silt, values.clay)
        };
        let [a, b, c, d] = heights.mm;
        Working::new()
            .step(
                "share of each layer, percent",
                "layer / whole height",
                format!("tops {b}, {c} and {d} mm over a floor at {a} mm"),
                three(nominal_percent),
            )
            .step(
                "standard uncertainty of each height",
                "u² = step² / 12 + blur² / 6",
                format!("step {} mm", input.ruler_step_mm.get()),
                heights.variances().map(|variance| format!("{:.4} mm", variance.sqrt())).join(", "),
            )
            .cite(FIRST_ORDER)
            .step(
                "standard uncertainty of each share, percentage points",
                "covariance = J diag(u²) Jᵀ, J the derivative of the shares by the heights",
                format!("H = {} mm", d - a),
                three(&first_order.standard_uncertainty_percent),
            )
            .cite(FIRST_ORDER)
            .step(
                "the same by draws",
                "every height drawn within its step, shares and class found anew",
                format!("{} draws, seed {}", by_draws.draws, by_draws.seed),
                three(&by_draws.standard_deviation_percent),
            )
            .cite(BY_DRAWS)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Shares always add to 100, so each row of their covariance adds to nothing.
        #[test]
        fn covariance_rows_add_to_nothing(a in 1.0..100.0, b in 1.0..100.0, c in 1.0..100.0, step in 0.1..5.0) {
            let heights = Heights { mm: [0.0, a, a + b, a + b + c], step_mm: [step; 4], blur_mm: [0.0, 1.0, 2.0, 0.5] };
            for row in covariance(&heights) {
                let sum: f64 = row.iter().sum();
                let size: f64 = row.iter().map(|value| value.abs()).sum();
                prop_assert!(sum.abs() <= 1e-12 * size.max(1e-12), "{row:?}");
            }
        }

        /// Equal errors at all four heights: the derivative multiplied out by hand.
        #[test]
        fn equal_errors_follow_the_closed_form(a in 1.0..100.0_f64, b in 1.0..100.0_f64, c in 1.0..100.0_f64) {
            let whole = a + b + c;
            let (sand, silt, clay) = (a / whole, b / whole, c / whole);
            let heights = Heights { mm: [0.0, a, a + b, whole], step_mm: [1.0; 4], blur_mm: [0.0; 4] };
            let k = 1.0 / 12.0 / (whole * whole);
            let got = covariance(&heights);
            prop_assert!((got[0][0] / (k * (1.0 + sand * sand + (1.0 - sand) * (1.0 - sand))) - 1.0).abs() < 1e-9);
            prop_assert!((got[1][1] / (k * (2.0 + 2.0 * silt * silt)) - 1.0).abs() < 1e-9);
            prop_assert!((got[0][1] / (k * (-1.0 - silt + 2.0 * sand * silt)) - 1.0).abs() < 1e-9);
            prop_assert!((got[0][2] / (k * (-sand - clay + 2.0 * sand * clay)) - 1.0).abs() < 1e-9);
        }
    }
}
