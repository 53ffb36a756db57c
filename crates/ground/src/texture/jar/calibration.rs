//! A farm's own packing, from soils tested both in a jar and in a laboratory.
//!
//! # Method
//! The packing shifts every jar of the farm alike in log-ratio coordinates, so each pair measures
//! the shift b: laboratory - jar(b) = error, with the errors of both and the scatter between jars.
//! The jar is read anew at each estimate, with its sensitivity to b taken once at the published
//! packing, until the estimate stands. The prior is the published packing with its spread; the scatter between
//! jars is found from the pairs on a grid and averaged over.

use nalgebra::{Matrix2, Vector2};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::assess;
use super::packing::{self, BETWEEN_JARS, ByLayer, DENSITIES, Packing, SHIFT};
use super::reading::JarReading;
use crate::belief::ilr::{Covariance, Point};
use crate::belief::{Account, Witness};
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::lab::{self, LabTexture};

/// Step for the sensitivity of a jar to the shift.
const STEP: f64 = 0.05;
/// Rounds of estimating about the last estimate.
const ROUNDS: u32 = 4;
/// Draws for a jar's answer, and for each step of its sensitivity (the same seed, so that chance
/// cancels in the difference).
pub(super) const DRAWS: u32 = 1000;
const STEP_DRAWS: u32 = 500;
/// Scatter between jars: standard deviation of its logarithm beforehand. Judgement.
const SCATTER_LOG_SD: f64 = 0.6;
/// Points of the grid on the scatter, and its half-width in standard deviations.
const SCATTER_POINTS: u32 = 41;
const SCATTER_REACH: f64 = 3.0;

/// A jar and a laboratory's texture of the same soil.
#[derive(Debug, Clone, PartialEq)]
pub struct CalibrationPair {
    /// The jar.
    pub jar: JarReading,
    /// The laboratory's result, ilr coordinates.
    pub lab_centre: [f64; 2],
    /// The laboratory's error, ilr coordinates.
    pub lab_covariance: [[f64; 2]; 2],
}

impl CalibrationPair {
    /// A jar with what a laboratory's report of the same soil says. `None` when the witness is no
    /// measurement.
    #[must_use]
    pub fn new(jar: JarReading, lab: &Witness) -> Option<Self> {
        match lab.account {
            Account::Measured { centre, covariance, .. } => {
                Some(Self { jar, lab_centre: centre, lab_covariance: covariance })
            }
            Account::Named { .. } => None,
        }
    }
}

/// A pair about the current estimate: `target` = `slope` × shift + error of covariance `error`.
struct Linear {
    target: Point,
    slope: Matrix2<f64>,
    error: Covariance,
}

/// What the pairs say of the shift.
struct Estimate {
    shift: Point,
    covariance: Covariance,
    scatter: f64,
}

impl Packing {
    /// The packing of a farm from its pairs of jar and laboratory; the published packing when there
    /// are none.
    ///
    /// # Errors
    /// A jar that contradicts itself, named as `pairs[i].jar...`.
    pub fn calibrate(pairs: &[CalibrationPair]) -> Result<Self, Refusal> {
        let prior = Self::published();
        let Some(prior_precision) = prior.covariance().try_inverse().filter(|_| !pairs.is_empty()) else {
            return Ok(prior);
        };
        let inside = |i: usize| move |refusal: Refusal| refusal.inside(&format!("pairs[{i}].jar"));
        let slopes = pairs
            .iter()
            .enumerate()
            .map(|(i, pair)| sensitivity(pair, prior.shift()).map_err(inside(i)))
            .collect::<Result<Vec<_>, _>>()?;
        let mut shift = prior.shift();
        let mut estimate = Estimate { shift, covariance: prior.covariance(), scatter: prior.between_jars };
        for _ in 0..ROUNDS {
            let linear = pairs
                .iter()
                .zip(&slopes)
                .enumerate()
                .map(|(i, (pair, slope))| linearise(pair, *slope, shift).map_err(inside(i)))
                .collect::<Result<Vec<_>, _>>()?;
            estimate = estimate_shift(&linear, prior.shift(), prior_precision).unwrap_or(estimate);
            let moved = (estimate.shift - shift).norm();
            shift = estimate.shift;
            if moved < 1e-2 {
                break;
            }
        }
        Ok(Self {
            densities_kg_m3: Self::densities_at(estimate.shift),
            covariance: packing::rows(estimate.covariance),
            between_jars: estimate.scatter,
            pairs: u32::try_from(pairs.len()).unwrap_or(u32::MAX),
        })
    }
}

/// A jar's mean and error at a shift: all of its error but the packing's, which is what is sought.
fn jar_at(pair: &CalibrationPair, shift: Point, draws: u32) -> Result<(Point, Covariance), Refusal> {
    let packing = Packing {
        densities_kg_m3: Packing::densities_at(shift),
        covariance: [[0.0; 2]; 2],
        between_jars: 0.0,
        pairs: 0,
    };
    assess::mean_and_error(&pair.jar, &packing, draws)
}

/// How far a jar's answer moves with the shift.
fn sensitivity(pair: &CalibrationPair, shift: Point) -> Result<Matrix2<f64>, Refusal> {
    let mut slope = Matrix2::zeros();
    for axis in 0..2 {
        let mut step = Vector2::zeros();
        step[axis] = STEP;
        let (up, _) = jar_at(pair, shift + step, STEP_DRAWS)?;
        let (down, _) = jar_at(pair, shift - step, STEP_DRAWS)?;
        slope.set_column(axis, &((up - down) / (2.0 * STEP)));
    }
    Ok(slope)
}

/// A pair about a shift.
fn linearise(pair: &CalibrationPair, slope: Matrix2<f64>, shift: Point) -> Result<Linear, Refusal> {
    let (here, own) = jar_at(pair, shift, DRAWS)?;
    let lab = Point::from(pair.lab_centre);
    Ok(Linear {
        target: lab - here + slope * shift,
        slope,
        error: own + packing::matrix(pair.lab_covariance),
    })
}

/// Normal update of the shift for each scatter on the grid, mixed by how well it explains the pairs.
fn estimate_shift(pairs: &[Linear], prior: Point, prior_precision: Covariance) -> Option<Estimate> {
    // So chosen that the mean square of the scatter beforehand is that of the published packing.
    let median = BETWEEN_JARS * libm::exp(-SCATTER_LOG_SD * SCATTER_LOG_SD);
    let mut grid = Vec::with_capacity(SCATTER_POINTS as usize);
    for i in 0..SCATTER_POINTS {
        let z = SCATTER_REACH * (2.0 * f64::from(i) / f64::from(SCATTER_POINTS - 1) - 1.0);
        let scatter = median * libm::exp(SCATTER_LOG_SD * z);
        let mut precision = prior_precision;
        let mut weighted = prior_precision * prior;
        let mut log_weight = -0.5 * z * z;
        for pair in pairs {
            let error = pair.error + pair.slope * pair.slope.transpose() * (scatter * scatter);
            let inverse = error.try_inverse()?;
            precision += pair.slope.transpose() * inverse * pair.slope;
            weighted += pair.slope.transpose() * inverse * pair.target;
            log_weight -= 0.5 * (libm::log(error.determinant()) + pair.target.dot(&(inverse * pair.target)));
        }
        let covariance = precision.try_inverse()?;
        let mean = covariance * weighted;
        log_weight += 0.5 * (weighted.dot(&mean) - libm::log(precision.determinant()));
        grid.push((log_weight, scatter, mean, covariance));
    }
    let top = grid.iter().map(|point| point.0).fold(f64::NEG_INFINITY, f64::max);
    if !top.is_finite() {
        return None;
    }
    let (mut total, mut square, mut mean, mut second) = (0.0, 0.0, Point::zeros(), Matrix2::zeros());
    for (log_weight, scatter, here, covariance) in grid {
        let weight = libm::exp(log_weight - top);
        total += weight;
        square += weight * scatter * scatter;
        mean += here * weight;
        second += (covariance + here * here.transpose()) * weight;
    }
    let shift = mean / total;
    Some(Estimate {
        shift,
        covariance: second / total - shift * shift.transpose(),
        scatter: (square / total).sqrt(),
    })
}

/// A jar and the laboratory's report on the same soil.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JarAndLab {
    /// The jar.
    pub jar: JarReading,
    /// The laboratory's report.
    pub lab: LabTexture,
}

/// Input of `jar-calibration`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JarCalibrationInput {
    /// One or more soils that were tested both ways.
    pub pairs: Vec<JarAndLab>,
}

/// Output of `jar-calibration`.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct JarCalibrationOutput {
    /// The farm's packing, to be given to `jar-test`.
    pub packing: Packing,
    /// The published packing it started from.
    pub published: ByLayer<f64>,
    /// How much of the packing's uncertainty is left, percent of what it was.
    pub uncertainty_left_percent: f64,
}

/// A farm's own packing.
pub struct JarCalibration;

impl Method for JarCalibration {
    type Input = JarCalibrationInput;
    type Output = JarCalibrationOutput;

    const CARD: Card = Card {
        name: "jar-calibration",
        title: "A farm's own jar packing",
        topic: Topic::Texture,
        computes: "Finds how densely the layers pack on this farm from soils that were tested both in a jar and in \
                   a laboratory. Every other jar on the farm is then read with it and becomes surer.",
        validity: &[
            "The jar and the laboratory must have had the same soil, best of all halves of one mixed sample.",
            "What is found holds for jars made the same way: same dispersant, same kind of jar, same times.",
            "One pair already helps; soils that differ much (a sand and a clay) help more.",
        ],
        sources: &[SHIFT, DENSITIES],
        cautions: &[],
    };

    fn example() -> Self::Input {
        JarCalibrationInput {
            pairs: vec![JarAndLab {
                jar: super::jar_test::example_reading(),
                lab: lab::LabTextureMethod::example(),
            }],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.pairs.is_empty() {
            return Err(Refusal::new(
                "pairs",
                "at least one soil with both a jar and a laboratory result is needed",
            )
            .given("none")
            .accepted("one pair or more")
            .example("one jar and the laboratory's sand, silt and clay of the same soil"));
        }
        let mut pairs = Vec::with_capacity(input.pairs.len());
        for (i, pair) in input.pairs.iter().enumerate() {
            let lab = lab::witness(&pair.lab, "", "")
                .map_err(|refusal| refusal.inside(&format!("pairs[{i}].lab")))?;
            pairs.extend(CalibrationPair::new(pair.jar.clone(), &lab));
        }
        let packing = Packing::calibrate(&pairs)?;
        let published = Packing::published();
        let left =
            (packing.covariance().determinant() / published.covariance().determinant()).max(0.0).sqrt();
        let mut notes = Vec::new();
        if input.pairs.len() == 1 {
            notes.push(Note::new(
                NoteKind::Method,
                "With one pair the scatter between jars is taken from judgement; a second pair would show it.",
            ));
        }
        let value = JarCalibrationOutput {
            packing,
            published: packing::PUBLISHED_KG_M3,
            uncertainty_left_percent: 100.0 * left,
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let JarCalibrationOutput { packing, published, uncertainty_left_percent } = &answer.value;
        let [sand, silt, clay] = published.array();
        let [own_sand, own_silt, own_clay] = packing.densities_kg_m3.array();
        let [before, after] = [Packing::published().shift(), packing.shift()];
        Working::new()
            .step(
                "shift of the published packing in log-ratio coordinates",
                "z1 = ln(sand / silt) / √2, z2 = √(2/3) ln(√(sand silt) / clay)",
                format!("{sand}, {silt} and {clay} kg/m³"),
                format!("({:.3}, {:.3})", before.x, before.y),
            )
            .cite(SHIFT)
            .step(
                "shift that brings the jars to the laboratory's results",
                "normal update with both errors and the scatter between jars, averaged over that scatter",
                format!("{} pair(s), scatter between jars {:.3}", packing.pairs, packing.between_jars),
                format!("({:.3}, {:.3})", after.x, after.y),
            )
            .cite(Cite::new("Aitchison1986", "perturbation; normal model on log-ratios"))
            .step(
                "packing of this farm, sand held at its published value",
                "densities whose log-ratio coordinates are the shift",
                format!("{uncertainty_left_percent:.0} % of the uncertainty is left"),
                format!("{own_sand:.0}, {own_silt:.0} and {own_clay:.0} kg/m³"),
            )
            .cite(DENSITIES)
    }
}
