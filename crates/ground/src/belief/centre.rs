//! Centre and scatter of several make-ups, as a method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::coordinates::{Parts, zero_note};
use super::ilr::{Point, from_ilr, to_ilr};
use super::sampling::as_f64;
use crate::kit::{Answer, Card, Cite, Method, Note, Refusal, Topic, Working};
use crate::texture::Composition;

/// Input of `composition-centre`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CentreQuestion {
    /// One soil a sample.
    pub compositions: Vec<Parts>,
}

/// Output of `composition-centre`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct CentreAnswer {
    /// How many were given.
    pub count: usize,
    /// The typical make-up: geometric means of the parts, closed to 100.
    pub centre_percent: Composition,
    /// The make-up of a heap mixed of equal masses of all: arithmetic means of the parts.
    pub mixed_percent: Composition,
    /// Mean in ilr coordinates.
    pub ilr_mean: [f64; 2],
    /// Covariance in ilr coordinates with divisor n − 1; null for a single sample.
    pub ilr_covariance: Option<[[f64; 2]; 2]>,
    /// Total variance: trace of that covariance.
    pub total_variance: Option<f64>,
}

/// Centre and scatter.
pub struct CompositionCentre;

/// Most samples accepted at once.
const MOST: usize = 10_000;

fn refuse(message: &str, given: usize) -> Refusal {
    Refusal::new("compositions", message)
        .given(format!("{given} soils"))
        .accepted(format!("1 to {MOST} soils"))
        .example("[{ sand_percent 40, silt_percent 40, clay_percent 20 }]")
}

impl Method for CompositionCentre {
    type Input = CentreQuestion;
    type Output = CentreAnswer;

    const CARD: Card = Card {
        name: "composition-centre",
        title: "Typical make-up of several samples",
        topic: Topic::Belief,
        computes: "Gives the typical make-up of several samples and how much they scatter, and beside it the make-up \
                   of all of them mixed in one bucket, which is not the same.",
        validity: &[
            "For a physically mixed composite use the mixed make-up; the centre is the typical single sample.",
            "Parts near zero rule the scatter; a zero is replaced with a note.",
        ],
        sources: &[
            Cite::new("Aitchison1986", "centre and total variance"),
            Cite::new("Egozcue2003", "isometric log-ratio"),
            Cite::new("MartinFernandez2003", "multiplicative replacement"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        CentreQuestion {
            compositions: vec![
                Parts::literal(42.0, 38.0, 20.0),
                Parts::literal(55.0, 30.0, 15.0),
                Parts::literal(38.0, 37.0, 25.0),
                Parts::literal(61.0, 27.0, 12.0),
                Parts::literal(47.0, 35.0, 18.0),
            ],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let count = input.compositions.len();
        if count == 0 {
            return Err(refuse("at least one soil is needed", count));
        }
        if count > MOST {
            return Err(refuse("too many soils at once", count));
        }
        let mut notes: Vec<Note> = Vec::new();
        let mut soils = Vec::with_capacity(count);
        for (place, parts) in input.compositions.iter().enumerate() {
            let (soil, note) =
                parts.composition().map_err(|refusal| refusal.inside(&format!("compositions[{place}]")))?;
            for note in zero_note(soil).into_iter().chain(note) {
                if !notes.contains(&note) {
                    notes.push(note);
                }
            }
            soils.push(soil);
        }
        Ok(Answer::with_notes(of(&soils), notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let CentreAnswer { count, centre_percent: centre, ilr_mean, ilr_covariance, total_variance, .. } =
            answer.value;
        let first: Vec<String> = input
            .compositions
            .iter()
            .take(5)
            .filter_map(|parts| parts.composition().ok())
            .map(|(soil, _)| {
                let at = to_ilr(soil);
                format!("({:.4}, {:.4})", at.x, at.y)
            })
            .collect();
        let more = if count > 5 { format!(" and {} more", count - 5) } else { String::new() };
        let mut working = Working::new()
            .step(
                "mean of the coordinates",
                "mean of (z1, z2) over the samples",
                format!("{}{more}", first.join(", ")),
                format!("({:.6}, {:.6})", ilr_mean[0], ilr_mean[1]),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "typical make-up",
                "the make-up at the mean, which is the geometric mean of each part, closed to 100",
                format!("back from ({:.6}, {:.6})", ilr_mean[0], ilr_mean[1]),
                format!("sand {:.2} %, silt {:.2} %, clay {:.2} %", centre.sand, centre.silt, centre.clay),
            )
            .cite(Self::CARD.sources[0]);
        if let (Some(covariance), Some(total)) = (ilr_covariance, total_variance) {
            working = working
                .step(
                    "total variance",
                    "sum of the two variances, divisor n − 1",
                    format!("{:.6} + {:.6}", covariance[0][0], covariance[1][1]),
                    format!("{total:.6}"),
                )
                .cite(Self::CARD.sources[0]);
        }
        working
    }
}

/// Centre and scatter of at least one soil.
fn of(soils: &[Composition]) -> CentreAnswer {
    let count = as_f64(soils.len());
    let points: Vec<Point> = soils.iter().map(|soil| to_ilr(*soil)).collect();
    let mean = points.iter().sum::<Point>() / count;
    let part = |part: fn(&Composition) -> f64| soils.iter().map(part).sum::<f64>() / count;
    let covariance = (soils.len() > 1).then(|| {
        let mut sum = [[0.0; 2]; 2];
        for point in &points {
            let off = point - mean;
            for (i, line) in sum.iter_mut().enumerate() {
                for (j, value) in line.iter_mut().enumerate() {
                    *value += off[i] * off[j] / (count - 1.0);
                }
            }
        }
        sum
    });
    CentreAnswer {
        count: soils.len(),
        centre_percent: from_ilr(mean),
        mixed_percent: Composition {
            sand: part(|soil| soil.sand),
            silt: part(|soil| soil.silt),
            clay: part(|soil| soil.clay),
        },
        ilr_mean: [mean.x, mean.y],
        ilr_covariance: covariance,
        total_variance: covariance.map(|c| c[0][0] + c[1][1]),
    }
}
