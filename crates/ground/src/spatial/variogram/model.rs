//! Variogram models: how half the squared difference of two readings grows with the distance between them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::bessel::bessel_k;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};
use crate::spatial::sites::GroundDistance;

crate::quantity! {
    /// A semivariance, in the square of the reading's unit.
    pub struct Semivariance: "semivariance", "", 0.0 ..= 1e15, example 0.1;
    /// The range parameter of a variogram.
    pub struct RangeM: "range", "m", 1e-3 ..= 1e6, example 60.0;
    /// Smoothness of a Matérn model.
    pub struct Smoothness: "smoothness", "", 0.05 ..= 10.0, example 0.5;
}

/// Form of the structured part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Shape {
    /// Rises nearly straight and is level from the range on.
    Spherical,
    /// Rises at once and levels off slowly; 95 % of the sill at three ranges.
    Exponential,
    /// Rises slowly at first: a very smooth surface.
    Gaussian,
    /// A family with a smoothness; one half is the exponential.
    Matern,
}

impl Shape {
    /// Its name in a sentence.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Spherical => "spherical",
            Self::Exponential => "exponential",
            Self::Gaussian => "Gaussian",
            Self::Matern => "Matérn",
        }
    }
}

/// A variogram model as it is given.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VariogramGiven {
    /// Form of the structured part.
    pub shape: Shape,
    /// What remains at no distance.
    pub nugget: Semivariance,
    /// What distance adds.
    pub partial_sill: Semivariance,
    /// Range parameter.
    pub range_m: RangeM,
    /// For the Matérn form alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub smoothness: Option<Smoothness>,
}

impl VariogramGiven {
    /// The plain model.
    ///
    /// # Errors
    /// A Matérn form without its smoothness, another with one, or a model without any variance.
    pub fn plain(&self, field: &str) -> Result<Variogram, Refusal> {
        let refuse = |name: &str, message: &str, example: &str| {
            Err(Refusal::new(format!("{field}.{name}"), message)
                .accepted("a smoothness with the matern form alone, and some variance")
                .example(example))
        };
        match (self.shape, self.smoothness) {
            (Shape::Matern, None) => {
                return refuse("smoothness", "the matern form needs its smoothness", "0.5");
            }
            (Shape::Spherical | Shape::Exponential | Shape::Gaussian, Some(_)) => {
                return refuse("smoothness", "only the matern form has a smoothness", "leave it out");
            }
            _ => {}
        }
        if self.nugget.get() + self.partial_sill.get() <= 0.0 {
            return refuse("partial_sill", "a nugget and a partial sill of nothing leave no variance", "0.1");
        }
        Ok(Variogram {
            shape: self.shape,
            nugget: self.nugget.get(),
            partial_sill: self.partial_sill.get(),
            range_m: self.range_m.get(),
            smoothness: self.smoothness.map_or(0.5, Bounded::get),
        })
    }
}

/// A variogram model in plain numbers.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Variogram {
    /// Form of the structured part.
    pub shape: Shape,
    /// Nugget.
    pub nugget: f64,
    /// Partial sill.
    pub partial_sill: f64,
    /// Range parameter, m.
    pub range_m: f64,
    /// Smoothness; read by the Matérn form alone.
    #[serde(skip)]
    pub smoothness: f64,
}

impl Variogram {
    /// Nugget and partial sill together: the variance far away.
    #[must_use]
    pub fn sill(&self) -> f64 {
        self.nugget + self.partial_sill
    }

    /// Share of the sill that is nugget.
    #[must_use]
    pub fn nugget_share(&self) -> f64 {
        self.nugget / self.sill()
    }

    /// Correlation of the structured part at a distance.
    #[must_use]
    pub fn correlation(&self, distance_m: f64) -> f64 {
        let h = distance_m / self.range_m;
        if h <= 0.0 {
            return 1.0;
        }
        match self.shape {
            Shape::Spherical => spherical(h),
            Shape::Exponential => libm::exp(-h),
            Shape::Gaussian => libm::exp(-h * h),
            Shape::Matern => matern(self.smoothness, h),
        }
    }

    /// Semivariance at a distance; nothing at none.
    #[must_use]
    pub fn semivariance(&self, distance_m: f64) -> f64 {
        if distance_m <= 0.0 {
            return 0.0;
        }
        self.nugget + self.partial_sill * (1.0 - self.correlation(distance_m))
    }

    /// Distance at which the structured part has reached 95 % of its sill, m; the range itself for the spherical form.
    #[must_use]
    pub fn effective_range_m(&self) -> f64 {
        match self.shape {
            Shape::Spherical => self.range_m,
            Shape::Exponential => 3.0 * self.range_m,
            Shape::Gaussian => 3.0_f64.sqrt() * self.range_m,
            Shape::Matern => {
                let (mut low, mut high) = (0.0, 60.0 * self.range_m);
                for _ in 0..60 {
                    let middle = f64::midpoint(low, high);
                    if self.correlation(middle) > 0.05 { low = middle } else { high = middle }
                }
                f64::midpoint(low, high)
            }
        }
    }
}

/// The spherical form at a distance in ranges.
pub(crate) fn spherical(h: f64) -> f64 {
    let h = h.min(1.0);
    1.0 - h * (1.5 - 0.5 * h * h)
}

fn matern(smoothness: f64, h: f64) -> f64 {
    match smoothness {
        0.5 => libm::exp(-h),
        1.5 => (1.0 + h) * libm::exp(-h),
        _ if h < 1e-10 => 1.0,
        _ if h > 700.0 => 0.0,
        nu => {
            let scale = libm::exp((1.0 - nu) * std::f64::consts::LN_2 - libm::lgamma(nu) + nu * libm::log(h));
            (scale * bessel_k(nu, h)).clamp(0.0, 1.0)
        }
    }
}

/// Input of `variogram-model`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VariogramModelInput {
    /// The model.
    pub variogram: VariogramGiven,
    /// Distances to read it at.
    pub distances_m: Vec<GroundDistance>,
}

/// The model at one distance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ModelAt {
    /// The distance.
    pub distance_m: f64,
    /// Semivariance there.
    pub semivariance: f64,
    /// Correlation of the structured part there.
    pub correlation: f64,
}

/// Output of `variogram-model`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct VariogramModelOutput {
    /// At each distance, in the order given.
    pub at: Vec<ModelAt>,
    /// Variance far away.
    pub sill: f64,
    /// Distance at which 95 % of the structured part is reached (all of it for the spherical form).
    pub effective_range_m: f64,
}

/// A variogram model at distances.
pub struct VariogramModel;

impl Method for VariogramModel {
    type Input = VariogramModelInput;
    type Output = VariogramModelOutput;

    const CARD: Card = Card {
        name: "variogram-model",
        title: "A variogram model",
        topic: Topic::Maps,
        computes: "How unlike two readings are, by a model, at given distances: nothing at no distance, the nugget just beyond, \
                   and the sill far away.",
        validity: &[
            "The range parameter is that of the formula: 95 % of the sill is reached at three ranges for the exponential form and at √3 for the Gaussian.",
            "Other programs put another factor into the Matérn form; readings of soil usually want a smoothness of 0.25 to 0.5.",
        ],
        sources: &[
            Cite::new("WebsterOliver2007", "chapter 5, models"),
            Cite::new("MinasnyMcBratney2005", "smoothness of soil data, abstract"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        VariogramModelInput {
            variogram: VariogramGiven {
                shape: Shape::Spherical,
                nugget: Semivariance::literal(0.02),
                partial_sill: Semivariance::literal(0.08),
                range_m: RangeM::literal(60.0),
                smoothness: None,
            },
            distances_m: [10.0, 30.0, 60.0, 90.0].map(GroundDistance::literal).to_vec(),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let model = input.variogram.plain("variogram")?;
        let at = input
            .distances_m
            .iter()
            .map(|distance| ModelAt {
                distance_m: distance.get(),
                semivariance: model.semivariance(distance.get()),
                correlation: model.correlation(distance.get()),
            })
            .collect();
        Ok(Answer::plain(VariogramModelOutput {
            at,
            sill: model.sill(),
            effective_range_m: model.effective_range_m(),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let given = &input.variogram;
        answer.value.at.iter().take(3).fold(Working::new(), |working, one| {
            working
                .step(
                    "semivariance",
                    "nugget + partial sill × (1 − correlation at that distance)",
                    format!(
                        "{} + {} × (1 − {:.4}) at {} m",
                        given.nugget.get(),
                        given.partial_sill.get(),
                        one.correlation,
                        one.distance_m
                    ),
                    format!("{:.5}", one.semivariance),
                )
                .cite(Self::CARD.sources[0])
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_form_falls_from_one_towards_nothing() {
        for shape in [Shape::Spherical, Shape::Exponential, Shape::Gaussian, Shape::Matern] {
            for smoothness in [0.25, 0.5, 0.7, 1.5, 2.5] {
                let model = Variogram { shape, nugget: 0.0, partial_sill: 1.0, range_m: 10.0, smoothness };
                let rho: Vec<f64> = (0..200).map(|step| model.correlation(f64::from(step) * 0.5)).collect();
                assert!(rho.windows(2).all(|pair| pair[1] <= pair[0] + 1e-12), "{shape:?} {smoothness}");
                assert!(
                    (rho[0] - 1.0).abs() < 1e-12 && rho[199] < 0.01,
                    "{shape:?} {smoothness} {}",
                    rho[199]
                );
                if shape != Shape::Spherical {
                    assert!((model.correlation(model.effective_range_m()) - 0.05).abs() < 0.03);
                }
            }
        }
    }
}
