//! Parameters of the curves as a person gives them, with their ranges.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{BrooksCorey, ClassSet, Curve, Gardner, Haverkamp, TextureCurve, Theory, VanGenuchten};
use crate::kit::{Bounded, Note, NoteKind, Refusal};
use crate::texture::Class;
use crate::water::equations::soil_water;
use crate::water::soil_water::{SoilWaterQuestion, notes};

crate::quantity! {
    /// Water content of the driest ground a curve knows.
    pub struct Residual: "residual water content", "m³/m³", 0.0 ..= 0.5, example 0.078;
    /// Water content of full ground.
    pub struct Saturated: "saturated water content", "m³/m³", 0.05 ..= 0.95, example 0.43;
    /// Inverse of a suction near air entry.
    pub struct Alpha: "alpha", "1/cm", 0.0001 ..= 2.0, example 0.036;
    /// Steepness of van Genuchten's curve.
    pub struct Steepness: "n", "", 1.01 ..= 20.0, example 1.56;
    /// Exponent of effective saturation in Mualem's conductivity.
    pub struct Tortuosity: "l", "", -10.0 ..= 10.0, example 0.5;
    /// Bubbling suction.
    pub struct Bubbling: "bubbling suction", "cm", 0.1 ..= 1000.0, example 11.15;
    /// Pore-size index.
    pub struct PoreIndex: "lambda", "", 0.01 ..= 10.0, example 0.252;
    /// Saturated conductivity.
    pub struct Conductivity: "saturated conductivity", "mm/h", 0.000001 ..= 100000.0, example 10.4;
    /// Scale of a Haverkamp form, in cm to a power.
    pub struct FormScale: "scale", "", 0.000001 ..= 1000000000000.0, example 1611000.0;
    /// Power of a Haverkamp form.
    pub struct FormPower: "power", "", 0.1 ..= 20.0, example 3.96;
    /// Suction of the soil water.
    pub struct Suction: "suction", "cm", 0.0 ..= 1000000.0, example 336.5;
}

/// Parameters of van Genuchten's curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VanGenuchtenParameters {
    /// Residual water content.
    pub theta_r_m3_m3: Residual,
    /// Saturated water content.
    pub theta_s_m3_m3: Saturated,
    /// α.
    pub alpha_per_cm: Alpha,
    /// n.
    pub n: Steepness,
    /// Conductivity when full; published tables give cm a day (1 cm/d is 0.4167 mm/h).
    pub ks_mm_h: Conductivity,
    /// Exponent of effective saturation in the conductivity; 0.5 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub l: Option<Tortuosity>,
}

/// Parameters of Brooks and Corey's curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BrooksCoreyParameters {
    /// Residual water content.
    pub theta_r_m3_m3: Residual,
    /// Saturated water content.
    pub theta_s_m3_m3: Saturated,
    /// Bubbling suction.
    pub bubbling_cm: Bubbling,
    /// λ.
    pub lambda: PoreIndex,
    /// Conductivity when full.
    pub ks_mm_h: Conductivity,
    /// Theory behind the conductivity; Burdine's where nothing is said.
    #[serde(default)]
    pub theory: Theory,
}

/// Parameters of the form of Haverkamp and others; heads in cm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HaverkampParameters {
    /// Residual water content.
    pub theta_r_m3_m3: Residual,
    /// Saturated water content.
    pub theta_s_m3_m3: Saturated,
    /// a of the water content.
    pub water_scale: FormScale,
    /// b of the water content.
    pub water_power: FormPower,
    /// Conductivity when full.
    pub ks_mm_h: Conductivity,
    /// A of the conductivity.
    pub conductivity_scale: FormScale,
    /// g of the conductivity.
    pub conductivity_power: FormPower,
}

/// Parameters of Gardner's exponential.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GardnerParameters {
    /// Residual water content.
    pub theta_r_m3_m3: Residual,
    /// Saturated water content.
    pub theta_s_m3_m3: Saturated,
    /// α.
    pub alpha_per_cm: Alpha,
    /// Conductivity when full.
    pub ks_mm_h: Conductivity,
}

/// A texture class and the set its average is taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClassAverage {
    /// Texture class.
    pub texture: Class,
    /// Published set.
    pub set: ClassSet,
}

/// A soil, in any of the ways a curve can be given.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SoilChoice {
    /// Parameters of van Genuchten's curve.
    VanGenuchten(VanGenuchtenParameters),
    /// Parameters of Brooks and Corey's curve.
    BrooksCorey(BrooksCoreyParameters),
    /// Parameters of the form of Haverkamp and others.
    Haverkamp(HaverkampParameters),
    /// Parameters of Gardner's exponential.
    Gardner(GardnerParameters),
    /// The average of a texture class.
    Class(ClassAverage),
    /// Sand, clay and organic matter, by the equations of `soil-water`.
    Texture(SoilWaterQuestion),
}

/// Refuses a residual content that is not below saturation.
fn ordered(dry: Residual, full: Saturated) -> Result<(f64, f64), Refusal> {
    if dry.get() < full.get() {
        return Ok((dry.get(), full.get()));
    }
    Err(Refusal::new(
        "theta_r_m3_m3",
        format!(
            "residual water content must be below the saturated {}, but {} was given",
            full.get(),
            dry.get()
        ),
    )
    .given(dry.get())
    .accepted(format!("0 to below {}", full.get()))
    .example("0.078"))
}

impl VanGenuchtenParameters {
    /// The curve.
    ///
    /// # Errors
    /// A residual content that is not below saturation.
    pub fn curve(&self) -> Result<VanGenuchten, Refusal> {
        let (theta_r, theta_s) = ordered(self.theta_r_m3_m3, self.theta_s_m3_m3)?;
        Ok(VanGenuchten {
            theta_r,
            theta_s,
            alpha_per_cm: self.alpha_per_cm.get(),
            n: self.n.get(),
            ks_cm_h: self.ks_mm_h.get() / 10.0,
            l: self.l.map_or(0.5, Bounded::get),
        })
    }
}

impl BrooksCoreyParameters {
    /// The curve.
    ///
    /// # Errors
    /// A residual content that is not below saturation.
    pub fn curve(&self) -> Result<BrooksCorey, Refusal> {
        let (theta_r, theta_s) = ordered(self.theta_r_m3_m3, self.theta_s_m3_m3)?;
        Ok(BrooksCorey {
            theta_r,
            theta_s,
            bubbling_cm: self.bubbling_cm.get(),
            lambda: self.lambda.get(),
            ks_cm_h: self.ks_mm_h.get() / 10.0,
            theory: self.theory,
        })
    }
}

impl ClassAverage {
    /// The average curve.
    ///
    /// # Errors
    /// Silt of the set that has no silt.
    pub fn curve(&self) -> Result<Curve, Refusal> {
        self.set.curve(self.texture).ok_or_else(|| {
            Refusal::new(
                "texture",
                format!("{} gives no average of {}", self.set.words(), self.texture.name()),
            )
            .given(self.texture.name())
            .accepted("any other class, or another set")
            .example("silt loam")
        })
    }
}

impl SoilChoice {
    /// The curve, and what to say beside it.
    ///
    /// # Errors
    /// Parameters that contradict each other, or a make-up for which the equations give no curve.
    pub fn curve(&self) -> Result<(Curve, Vec<Note>), Refusal> {
        match self {
            Self::VanGenuchten(given) => {
                let curve = given.curve().map_err(|refusal| refusal.inside("van_genuchten"))?;
                Ok((Curve::VanGenuchten(curve), near_clay(&curve).into_iter().collect()))
            }
            Self::BrooksCorey(given) => {
                let curve = given.curve().map_err(|refusal| refusal.inside("brooks_corey"))?;
                Ok((Curve::BrooksCorey(curve), Vec::new()))
            }
            Self::Haverkamp(given) => {
                let (theta_r, theta_s) = ordered(given.theta_r_m3_m3, given.theta_s_m3_m3)
                    .map_err(|refusal| refusal.inside("haverkamp"))?;
                let curve = Haverkamp {
                    theta_r,
                    theta_s,
                    water_scale: given.water_scale.get(),
                    water_power: given.water_power.get(),
                    ks_cm_h: given.ks_mm_h.get() / 10.0,
                    conductivity_scale: given.conductivity_scale.get(),
                    conductivity_power: given.conductivity_power.get(),
                };
                Ok((Curve::Haverkamp(curve), Vec::new()))
            }
            Self::Gardner(given) => {
                let (theta_r, theta_s) = ordered(given.theta_r_m3_m3, given.theta_s_m3_m3)
                    .map_err(|refusal| refusal.inside("gardner"))?;
                let curve = Gardner {
                    theta_r,
                    theta_s,
                    alpha_per_cm: given.alpha_per_cm.get(),
                    ks_cm_h: given.ks_mm_h.get() / 10.0,
                };
                Ok((Curve::Gardner(curve), Vec::new()))
            }
            Self::Class(average) => {
                let curve = average.curve().map_err(|refusal| refusal.inside("class"))?;
                let mut notes = of_set(average.set, average.texture);
                if let Curve::VanGenuchten(curve) = &curve {
                    notes.extend(near_clay(curve));
                }
                Ok((curve, notes))
            }
            Self::Texture(question) => {
                let (input, note) = question.checked().map_err(|refusal| refusal.inside("texture"))?;
                let water = soil_water(&input);
                let curve = TextureCurve::of(&water).map_err(|why| {
                    Refusal::new("texture", why.words())
                        .given(format!(
                            "{} % sand, {} % clay, {} % organic matter",
                            input.sand_percent, input.clay_percent, input.organic_matter_percent
                        ))
                        .accepted("a make-up for which soil-water gives a conductivity")
                        .example("40 % sand, 20 % clay, 2.5 % organic matter")
                })?;
                let mut remarks = notes(water.flags);
                remarks.extend(note);
                Ok((Curve::Texture(curve), remarks))
            }
        }
    }
}

/// What must be known of a class average.
pub(super) fn of_set(set: ClassSet, class: Class) -> Vec<Note> {
    let mut notes = vec![Note::new(
        NoteKind::Method,
        "An average of its class, good for a first look only. Published sets differ by a factor of several, and \
         none agrees with the equations of soil-water: keep to one set within one answer.",
    )];
    match set {
        ClassSet::CarselParrish1988 => notes.push(Note::new(
            NoteKind::Method,
            "In sandy and loamy classes this set holds far less water at 33 kPa than soil-water does; of sands \
             take 10 kPa as field capacity.",
        )),
        ClassSet::Schaap2001 => notes.push(Note::new(
            NoteKind::Method,
            "Ks with l = 0.5: right near saturation. Of dry ground the pair (K0, L) is nearer; the two are never mixed.",
        )),
        ClassSet::Schaap2001K0 => {
            notes.push(Note::new(
                NoteKind::Method,
                "K0 with its own L: right for unsaturated ground, and well below Ks near saturation.",
            ));
            notes.push(Note::new(NoteKind::Provenance, "K0 and L are recalled and were not read again."));
        }
        ClassSet::Rawls1982 => notes.push(Note::new(
            NoteKind::Method,
            "Ks of this set is about double the conductivity of infiltration (Green-Ampt) tables by the same \
             authors: never mix the two.",
        )),
    }
    if matches!(set, ClassSet::Schaap2001 | ClassSet::Schaap2001K0) && class == Class::Clay {
        notes.push(Note::new(NoteKind::Provenance, "n and Ks of clay are recalled and were not read again."));
    }
    notes
}

/// With n near 1 the conductivity falls to a few percent within a finger's breadth of suction.
pub(super) fn near_clay(curve: &VanGenuchten) -> Option<Note> {
    (curve.n < 1.2).then(|| {
        Note::new(
            NoteKind::Method,
            format!(
                "n = {:.3} is near 1: conductivity falls to a small share of Ks within 1 to 2 cm of suction, so \
                 the answer hangs on how full the ground is thought to be.",
                curve.n
            ),
        )
    })
}
