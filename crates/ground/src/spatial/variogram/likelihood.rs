//! The likelihood of readings under a variogram with one unknown mean: plain (ML) and restricted (REML), and the
//! fit that makes the restricted one greatest.

use nalgebra::linalg::Cholesky;
use nalgebra::{DMatrix, DVector, Dyn};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::fit::Fitted;
use super::model::{Shape, Variogram, VariogramGiven};
use super::search::least;
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::spatial::sites::{Place, ReadingAt, distance_m, sites};

const LN_2_PI: f64 = 1.837_877_066_409_345_3;

/// The likelihood at a model.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Likelihood {
    /// Log-likelihood.
    pub ml: f64,
    /// Restricted log-likelihood.
    pub reml: f64,
    /// The mean by generalised least squares.
    pub mean: f64,
}

/// Covariance of readings at these places, factored.
fn factored(at: &[Place], model: &Variogram) -> Option<Cholesky<f64, Dyn>> {
    let n = at.len();
    let mut covariance = DMatrix::zeros(n, n);
    for column in 0..n {
        covariance[(column, column)] = model.sill();
        for row in column + 1..n {
            covariance[(row, column)] =
                model.partial_sill * model.correlation(distance_m(at[row], at[column]));
        }
    }
    Cholesky::new(covariance)
}

/// What every likelihood is made of: ln|V|, 1ᵀV⁻¹1, and for each column of values its mean and weighted residuals.
struct Parts {
    log_det: f64,
    ones: f64,
    means: Vec<f64>,
    /// Residuals after the factor is taken out, so that their dot products are rᵀV⁻¹r.
    residuals: Vec<DVector<f64>>,
}

fn parts(at: &[Place], columns: &[Vec<f64>], model: &Variogram) -> Option<Parts> {
    let n = at.len();
    let factor = factored(at, model)?;
    let l = factor.l_dirty();
    let log_det = 2.0 * (0..n).map(|i| libm::log(l[(i, i)])).sum::<f64>();
    let ones = l.solve_lower_triangular(&DVector::from_element(n, 1.0))?;
    let total = ones.dot(&ones);
    let (mut means, mut residuals) = (Vec::new(), Vec::new());
    for column in columns {
        let whitened = l.solve_lower_triangular(&DVector::from_column_slice(column))?;
        let mean = ones.dot(&whitened) / total;
        residuals.push(whitened - &ones * mean);
        means.push(mean);
    }
    Some(Parts { log_det, ones: total, means, residuals })
}

/// The likelihood; `None` where the model makes the readings' covariance singular.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "readings by the hundred")]
pub fn likelihood(at: &[Place], values: &[f64], model: &Variogram) -> Option<Likelihood> {
    let parts = parts(at, &[values.to_vec()], model)?;
    let n = at.len() as f64;
    let square = parts.residuals[0].dot(&parts.residuals[0]);
    Some(Likelihood {
        ml: -0.5 * (n * LN_2_PI + parts.log_det + square),
        reml: -0.5 * ((n - 1.0) * LN_2_PI + parts.log_det + libm::log(parts.ones) + square),
        mean: parts.means[0],
    })
}

/// The nugget share and range at which the restricted likelihood of one or two columns of values is greatest, the
/// sill (for two columns: their joint covariance) following in closed form. The model is given with the sill of the
/// first column. `None` where no start gives one.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "readings by the hundred")]
pub fn reml_fit(at: &[Place], columns: &[Vec<f64>], shape: Shape, range_m: (f64, f64)) -> Option<Fitted> {
    let freedom = at.len() as f64 - 1.0;
    let unit = |share: f64, range_m: f64| Variogram {
        shape,
        nugget: share,
        partial_sill: 1.0 - share,
        range_m,
        smoothness: 0.5,
    };
    let minus = |share: f64, range: f64| {
        let Some(parts) = parts(at, columns, &unit(share, range)) else { return f64::INFINITY };
        let dot = |a: usize, b: usize| parts.residuals[a].dot(&parts.residuals[b]) / freedom;
        let (count, spread) = match columns.len() {
            1 => (1.0, dot(0, 0)),
            _ => (2.0, dot(0, 0) * dot(1, 1) - dot(0, 1) * dot(0, 1)),
        };
        0.5 * (freedom * (libm::log(spread) + count * (LN_2_PI + 1.0))
            + count * (parts.log_det + libm::log(parts.ones)))
    };
    let found = least(range_m.0, range_m.1, minus);
    if !found.value.is_finite() {
        return None;
    }
    let model = unit(found.nugget_share, found.range_m);
    let parts = parts(at, columns, &model)?;
    let sill = parts.residuals[0].dot(&parts.residuals[0]) / freedom;
    Some(Fitted {
        variogram: Variogram {
            nugget: sill * model.nugget,
            partial_sill: sill * model.partial_sill,
            ..model
        },
        least: found.value,
        at_bound: found.range_m >= range_m.1 * 0.999,
    })
}

/// Input of `variogram-likelihood`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LikelihoodInput {
    /// Readings, each with its place.
    pub readings: Vec<ReadingAt>,
    /// The model.
    pub variogram: VariogramGiven,
}

/// Likelihood of readings under a variogram.
pub struct VariogramLikelihood;

impl Method for VariogramLikelihood {
    type Input = LikelihoodInput;
    type Output = Likelihood;

    const CARD: Card = Card {
        name: "variogram-likelihood",
        title: "How likely readings are under a variogram",
        topic: Topic::Maps,
        computes: "The log-likelihood of readings under a variogram with one unknown mean, plain and restricted: by it two models \
                   are compared, and below a hundred readings the range is fitted by the restricted one.",
        validity: &[
            "Readings that follow the normal law, or their logarithms where they are skewed.",
            "The likelihood of a spherical model has several maxima: a fit starts from several places.",
        ],
        sources: &[
            Cite::new("Lark2000", "likelihood against the fit to pairs, as cited by others"),
            Cite::new("PattersonThompson1971", "the restricted likelihood"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        LikelihoodInput {
            readings: super::empirical::EmpiricalVariogram::example().readings,
            variogram: super::model::VariogramModel::example().variogram,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (at, values) = sites(&input.readings, 3)?;
        let model = input.variogram.plain("variogram")?;
        let Some(found) = likelihood(&at, &values, &model) else { return Err(singular()) };
        let mut notes = Vec::new();
        if values.len() < 10 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "Fewer than ten readings tell next to nothing of a variogram.",
            ));
        }
        Ok(Answer::with_notes(found, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new().step(
            "restricted log-likelihood",
            "−½ ((n − 1) ln 2π + ln|V| + ln(1ᵀV⁻¹1) + rᵀV⁻¹r)",
            format!("{} readings about a mean of {:.4}", input.readings.len(), answer.value.mean),
            format!("{:.4}", answer.value.reml),
        )
    }
}

/// The refusal of a model that cannot tell near readings apart.
pub(crate) fn singular() -> Refusal {
    Refusal::new(
        "variogram.nugget",
        "under this model readings so near each other would have to be alike, so no weights can be found",
    )
    .accepted("a nugget above nothing, or a form less smooth than the Gaussian")
    .example("a tenth of the partial sill")
}
