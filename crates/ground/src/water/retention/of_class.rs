//! The curves of van Genuchten and of Brooks and Corey at given suctions, as methods.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::parameters::{
    BrooksCoreyParameters, Bubbling, ClassAverage, Conductivity, PoreIndex, Residual, Saturated, Suction,
    VanGenuchtenParameters, near_clay, of_set,
};
use super::points::{NamedWater, SuctionPoint, named, points};
use super::{BrooksCorey, ClassSet, Curve, Theory, VanGenuchten};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, Refusal, Topic, Working};
use crate::texture::Class;

/// Input of `van-genuchten`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VanGenuchtenQuestion {
    /// The soil.
    pub soil: VanGenuchtenSoil,
    /// Suctions to give the curve at.
    pub suctions_cm: Vec<Suction>,
}

/// A soil of van Genuchten's curve.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum VanGenuchtenSoil {
    /// Its parameters.
    Parameters(VanGenuchtenParameters),
    /// The average of its class.
    Class(ClassAverage),
}

/// Output of `van-genuchten`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct VanGenuchtenAnswer {
    /// Residual water content.
    pub theta_r_m3_m3: f64,
    /// Saturated water content.
    pub theta_s_m3_m3: f64,
    /// α.
    pub alpha_per_cm: f64,
    /// n.
    pub n: f64,
    /// m = 1 − 1/n.
    pub m: f64,
    /// Conductivity when full, or the K0 that goes with `l`.
    pub ks_mm_h: f64,
    /// Exponent of effective saturation.
    pub l: f64,
    /// Water at 10, 33 and 1500 kPa.
    #[serde(flatten)]
    pub named: NamedWater,
    /// The curve, in the order asked for.
    pub points: Vec<SuctionPoint>,
}

/// The curve of van Genuchten.
pub struct VanGenuchtenMethod;

fn other_form(texture: Class, accepted: &str, example: &str) -> Refusal {
    Refusal::new("soil.class.set", format!("this set gives {} in another form of curve", texture.name()))
        .accepted(accepted)
        .example(example)
}

impl VanGenuchtenQuestion {
    fn curve(&self) -> Result<(VanGenuchten, Vec<Note>), Refusal> {
        let (curve, mut notes) = match &self.soil {
            VanGenuchtenSoil::Parameters(given) => {
                (given.curve().map_err(|refusal| refusal.inside("soil.parameters"))?, Vec::new())
            }
            VanGenuchtenSoil::Class(average) => {
                let curve = average.set.van_genuchten(average.texture).ok_or_else(|| {
                    let accepted = "carsel_parrish1988, schaap2001, schaap2001_k0";
                    other_form(average.texture, accepted, "schaap2001").given("rawls1982")
                })?;
                (curve, of_set(average.set, average.texture))
            }
        };
        notes.extend(near_clay(&curve));
        Ok((curve, notes))
    }
}

impl Method for VanGenuchtenMethod {
    type Input = VanGenuchtenQuestion;
    type Output = VanGenuchtenAnswer;

    const CARD: Card = Card {
        name: "van-genuchten",
        title: "Water and conductivity by van Genuchten's curve",
        topic: Topic::Water,
        computes: "Water content, conductivity and the slope of the curve at any suction, from van Genuchten's \
                   parameters or from the published average of a texture class, with Mualem's conductivity.",
        validity: &[
            "n above 1.01; with n near 1.1 conductivity collapses within a finger's breadth of suction.",
            "Class averages are a first look: single soils of a class differ by a factor of ten in conductivity.",
            "Sets are never mixed within one answer.",
        ],
        sources: &[
            Cite::new("vanGenuchten1980", "eq. 3, 8"),
            Cite::new("Mualem1976", "conductivity model"),
            Cite::new("CarselParrish1988", "class averages"),
            Cite::new("Schaap2001", "class averages"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        VanGenuchtenQuestion {
            soil: VanGenuchtenSoil::Class(ClassAverage {
                texture: Class::Loam,
                set: ClassSet::CarselParrish1988,
            }),
            suctions_cm: [10.0, 100.0, 336.5].map(Suction::literal).to_vec(),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (curve, notes) = input.curve()?;
        let value = VanGenuchtenAnswer {
            theta_r_m3_m3: curve.theta_r,
            theta_s_m3_m3: curve.theta_s,
            alpha_per_cm: curve.alpha_per_cm,
            n: curve.n,
            m: curve.m(),
            ks_mm_h: curve.ks_cm_h * 10.0,
            l: curve.l,
            named: named(&curve),
            points: points(&curve, &input.suctions_cm)?,
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let Some(at) = value.points.first() else { return Working::new() };
        Working::new()
            .step(
                "effective saturation",
                "Se = [1 + (α ψ)^n]^−m, m = 1 − 1/n",
                format!(
                    "[1 + ({:.5} × {})^{:.4}]^−{:.5}",
                    value.alpha_per_cm, at.suction_cm, value.n, value.m
                ),
                format!("{:.5}", at.effective_saturation),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "water content",
                "θ = θr + Se (θs − θr)",
                format!(
                    "{} + {:.5} × ({} − {})",
                    value.theta_r_m3_m3, at.effective_saturation, value.theta_s_m3_m3, value.theta_r_m3_m3
                ),
                format!("{:.4} m³/m³", at.water_content_m3_m3),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "conductivity",
                "K = Ks Se^l [1 − (1 − Se^(1/m))^m]²",
                format!(
                    "{:.4} × {se:.5}^{} × [1 − (1 − {se:.5}^(1/{m:.5}))^{m:.5}]²",
                    value.ks_mm_h,
                    value.l,
                    se = at.effective_saturation,
                    m = value.m
                ),
                format!("{:.4e} mm/h", at.conductivity_mm_h),
            )
            .cite(Self::CARD.sources[1])
    }
}

/// Input of `brooks-corey`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BrooksCoreyQuestion {
    /// The soil.
    pub soil: BrooksCoreySoil,
    /// Suctions to give the curve at.
    pub suctions_cm: Vec<Suction>,
}

/// A soil of Brooks and Corey's curve.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BrooksCoreySoil {
    /// Its parameters.
    Parameters(BrooksCoreyParameters),
    /// The average of its class, of Rawls and others 1982.
    Class(Class),
}

/// Output of `brooks-corey`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct BrooksCoreyAnswer {
    /// Residual water content.
    pub theta_r_m3_m3: f64,
    /// Saturated water content.
    pub theta_s_m3_m3: f64,
    /// Bubbling suction.
    pub bubbling_cm: f64,
    /// λ.
    pub lambda: f64,
    /// Conductivity when full.
    pub ks_mm_h: f64,
    /// Exponent of effective saturation in the conductivity.
    pub conductivity_exponent: f64,
    /// Capillary drive (with Burdine's conductivity).
    pub capillary_drive_cm: f64,
    /// Water at 10, 33 and 1500 kPa.
    #[serde(flatten)]
    pub named: NamedWater,
    /// The curve, in the order asked for.
    pub points: Vec<SuctionPoint>,
}

/// The curve of Brooks and Corey.
pub struct BrooksCoreyMethod;

impl BrooksCoreyQuestion {
    fn curve(&self) -> Result<(BrooksCorey, Vec<Note>), Refusal> {
        match &self.soil {
            BrooksCoreySoil::Parameters(given) => {
                Ok((given.curve().map_err(|refusal| refusal.inside("soil.parameters"))?, Vec::new()))
            }
            BrooksCoreySoil::Class(texture) => {
                let average = ClassAverage { texture: *texture, set: ClassSet::Rawls1982 };
                let refused = |mut refusal: Refusal| {
                    refusal.field = "soil.class".to_owned();
                    refusal
                };
                match average.curve().map_err(refused)? {
                    Curve::BrooksCorey(curve) => Ok((curve, of_set(average.set, *texture))),
                    _ => Err(other_form(*texture, "rawls1982", "rawls1982")),
                }
            }
        }
    }
}

impl Method for BrooksCoreyMethod {
    type Input = BrooksCoreyQuestion;
    type Output = BrooksCoreyAnswer;

    const CARD: Card = Card {
        name: "brooks-corey",
        title: "Water and conductivity by the curve of Brooks and Corey",
        topic: Topic::Water,
        computes: "Water content and conductivity at any suction from the parameters of Brooks and Corey, or from the \
                   published average of a texture class, with Burdine's or Mualem's conductivity.",
        validity: &[
            "Nearer than the bubbling suction the ground is full; the curve has a corner there.",
            "Class averages are a first look; of silt the set has none.",
        ],
        sources: &[
            Cite::new("BrooksCorey1964", "retention and conductivity"),
            Cite::new("Rawls1982", "class averages"),
            Cite::new("OgdenSaghafian1997", "Table 1"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        BrooksCoreyQuestion {
            soil: BrooksCoreySoil::Parameters(BrooksCoreyParameters {
                theta_r_m3_m3: Residual::literal(0.027),
                theta_s_m3_m3: Saturated::literal(0.463),
                bubbling_cm: Bubbling::literal(11.15),
                lambda: PoreIndex::literal(0.252),
                ks_mm_h: Conductivity::literal(13.2),
                theory: Theory::Burdine,
            }),
            suctions_cm: [10.0, 100.0, 336.5].map(Suction::literal).to_vec(),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (curve, notes) = input.curve()?;
        let value = BrooksCoreyAnswer {
            theta_r_m3_m3: curve.theta_r,
            theta_s_m3_m3: curve.theta_s,
            bubbling_cm: curve.bubbling_cm,
            lambda: curve.lambda,
            ks_mm_h: curve.ks_cm_h * 10.0,
            conductivity_exponent: curve.theory.exponent(curve.lambda),
            capillary_drive_cm: super::convert::drive_of_brooks_corey(curve.bubbling_cm, curve.lambda),
            named: named(&curve),
            points: points(&curve, &input.suctions_cm)?,
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let Some(at) = value.points.last() else { return Working::new() };
        Working::new()
            .step(
                "effective saturation",
                "Se = (ψb / ψ)^λ beyond the bubbling suction ψb, else 1",
                format!("({} / {})^{}", value.bubbling_cm, at.suction_cm, value.lambda),
                format!("{:.5}", at.effective_saturation),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "water content",
                "θ = θr + Se (θs − θr)",
                format!(
                    "{} + {:.5} × ({} − {})",
                    value.theta_r_m3_m3, at.effective_saturation, value.theta_s_m3_m3, value.theta_r_m3_m3
                ),
                format!("{:.4} m³/m³", at.water_content_m3_m3),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "conductivity",
                "K = Ks Se^(3 + 2/λ) (Burdine) or Ks Se^(2.5 + 2/λ) (Mualem)",
                format!(
                    "{} × {:.5}^{:.3}",
                    value.ks_mm_h, at.effective_saturation, value.conductivity_exponent
                ),
                format!("{:.4e} mm/h", at.conductivity_mm_h),
            )
            .cite(Self::CARD.sources[0])
    }
}
