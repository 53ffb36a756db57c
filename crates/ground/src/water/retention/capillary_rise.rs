//! Capillary rise from a water table, as a method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::capillary::{TOP_SUCTION_CM, gardner_constant, greatest_flux_cm_h, height_cm};
use super::parameters::{ClassAverage, SoilChoice};
use super::{ClassSet, Retention};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;

crate::quantity! {
    /// Depth of a water table.
    pub struct TableDepth: "depth of the water table", "cm", 1.0 ..= 2000.0, example 100.0;
    /// A steady upward flux.
    pub struct UpwardFlux: "upward flux", "mm/d", 0.001 ..= 100.0, example 2.0;
    /// Power n of K = a/ψⁿ.
    pub struct GardnerPower: "power of the suction", "", 1.05 ..= 12.0, example 2.0;
    /// Coefficient a of K = a/ψⁿ, in mm/h times cm to the power n.
    pub struct GardnerScale: "coefficient of the power law", "", 0.000001 ..= 1000000000.0, example 1000.0;
}

/// Input of `capillary-rise`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RiseQuestion {
    /// The soil.
    pub soil: RiseSoil,
    /// Flux to find the height for. Give this, the depth of the table, or both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flux_mm_d: Option<UpwardFlux>,
    /// Depth of the table to find the greatest flux for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub table_depth_cm: Option<TableDepth>,
}

/// The soil of a climb.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RiseSoil {
    /// A texture class: both published sets of van Genuchten's curve, as a range.
    Texture(Class),
    /// One curve.
    Curve(SoilChoice),
    /// Gardner's power law K = a/ψⁿ.
    PowerLaw(PowerLaw),
}

/// K = a/ψⁿ.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PowerLaw {
    /// a, in mm/h times cm to the power n.
    pub scale: GardnerScale,
    /// n.
    pub power: GardnerPower,
}

/// Output of `capillary-rise`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct RiseAnswer {
    /// One line a curve.
    pub curves: Vec<Rise>,
    /// Least height over the curves.
    pub height_low_cm: Option<f64>,
    /// Greatest height over the curves.
    pub height_high_cm: Option<f64>,
    /// Constant of Gardner's greatest flux, for a power law.
    pub gardner_constant: Option<f64>,
}

/// The climb in one curve.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct Rise {
    /// Whose curve.
    pub by: String,
    /// Height above the table that the flux reaches.
    pub height_cm: Option<f64>,
    /// Greatest steady flux from the table to the surface.
    pub greatest_flux_mm_d: Option<f64>,
}

/// Capillary rise.
pub struct CapillaryRise;

fn rise(by: String, curve: &impl Retention, input: &RiseQuestion) -> Rise {
    Rise {
        by,
        height_cm: input.flux_mm_d.map(|flux| height_cm(curve, flux.get() / 240.0)),
        greatest_flux_mm_d: input
            .table_depth_cm
            .and_then(|depth| greatest_flux_cm_h(curve, depth.get()))
            .map(|flux| flux * 240.0),
    }
}

/// Of a power law the whole integral is known: flux and depth follow from each other.
fn of_power_law(law: PowerLaw, input: &RiseQuestion) -> Rise {
    let (scale, power) = (law.scale.get() * 24.0, law.power.get());
    let constant = gardner_constant(power);
    Rise {
        by: "Gardner's power law".to_owned(),
        height_cm: input.flux_mm_d.map(|flux| libm::pow(constant * scale / flux.get(), 1.0 / power)),
        greatest_flux_mm_d: input
            .table_depth_cm
            .map(|depth| constant * scale / libm::pow(depth.get(), power)),
    }
}

impl Method for CapillaryRise {
    type Input = RiseQuestion;
    type Output = RiseAnswer;

    const CARD: Card = Card {
        name: "capillary-rise",
        title: "How high water climbs from a water table",
        topic: Topic::Water,
        computes: "How high above a water table a steady flux can climb, and how much can reach the surface from a \
                   given depth: whether the table waters a crop from below, or salts the surface.",
        validity: &[
            "Even ground and a steady flux; the surface is about as dry as the wilting point.",
            "Published class averages differ by a factor of 1.4 to 9: of a class a range is given, never one number.",
            "Structured clays climb less than their texture suggests.",
        ],
        sources: &[Cite::new("Gardner1958", "steady upward flux from a water table")],
        cautions: &[
            "A saline table nearer than 1.5 to 2 m under fine or medium ground, or 1 m under sand, salts the surface in \
             a dry summer (common practice, no source).",
        ],
    };

    fn example() -> Self::Input {
        RiseQuestion {
            soil: RiseSoil::Texture(Class::SiltLoam),
            flux_mm_d: Some(UpwardFlux::literal(2.0)),
            table_depth_cm: Some(TableDepth::literal(100.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.flux_mm_d.is_none() && input.table_depth_cm.is_none() {
            return Err(Refusal::new("flux_mm_d", "neither a flux nor a depth of the table was given")
                .given("neither")
                .accepted("flux_mm_d, table_depth_cm, or both")
                .example("flux_mm_d 2"));
        }
        let mut constant = None;
        let mut notes = Vec::new();
        let curves = match &input.soil {
            RiseSoil::Texture(class) => {
                notes.push(Note::new(
                    NoteKind::Method,
                    "Two published sets of class averages, shown as a range; the truth of one field may lie outside it.",
                ));
                let sets = [ClassSet::CarselParrish1988, ClassSet::Schaap2001K0];
                let mut curves = Vec::with_capacity(sets.len());
                for set in sets {
                    let curve = ClassAverage { texture: *class, set }
                        .curve()
                        .map_err(|refusal| refusal.inside("soil"))?;
                    curves.push(rise(set.words().to_owned(), &curve, input));
                }
                curves
            }
            RiseSoil::Curve(choice) => {
                let (curve, remarks) = choice.curve().map_err(|refusal| refusal.inside("soil.curve"))?;
                notes.extend(remarks);
                vec![rise("the curve given".to_owned(), &curve, input)]
            }
            RiseSoil::PowerLaw(law) => {
                constant = Some(gardner_constant(law.power.get()));
                vec![of_power_law(*law, input)]
            }
        };
        if input.table_depth_cm.is_some() && curves.iter().any(|rise| rise.greatest_flux_mm_d.is_none()) {
            notes.push(Note::new(NoteKind::NoValue, "From that depth next to nothing reaches the surface."));
        }
        let heights = || curves.iter().filter_map(|rise| rise.height_cm);
        let value = RiseAnswer {
            height_low_cm: heights().reduce(f64::min),
            height_high_cm: heights().reduce(f64::max),
            gardner_constant: constant,
            curves,
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let mut working = Working::new();
        for rise in &answer.value.curves {
            if let (Some(flux), Some(height)) = (input.flux_mm_d, rise.height_cm) {
                working = working
                    .step(
                        format!("height, {}", rise.by),
                        "z = ∫ dψ / (1 + q/K(ψ)), from 0 to the suction of the wilting point",
                        format!("q = {} mm/d, up to {TOP_SUCTION_CM} cm", flux.get()),
                        format!("{height:.0} cm"),
                    )
                    .cite(Self::CARD.sources[0]);
            }
            if let (Some(depth), Some(flux)) = (input.table_depth_cm, rise.greatest_flux_mm_d) {
                working = working
                    .step(
                        format!("greatest flux, {}", rise.by),
                        "the flux whose height is the depth of the table",
                        format!("z = {} cm", depth.get()),
                        format!("{flux:.3} mm/d"),
                    )
                    .cite(Self::CARD.sources[0]);
            }
        }
        if let Some(constant) = answer.value.gardner_constant {
            working = working
                .step(
                    "Gardner's constant",
                    "[π / (n sin(π/n))]^n, so that q = constant × a / D^n",
                    "n of the power law",
                    format!("{constant:.4}"),
                )
                .cite(Self::CARD.sources[0]);
        }
        working
    }
}
