//! How high a bed must be to keep roots in air above a water table or a saturated layer.
//!
//! # Method
//! Above still water the tension of the ground equals the height. By the curve of [BrooksCorey1964]
//! pores begin to empty at the bubbling height and an air content a is reached at
//! ψb (θe / (θe − a))^(1/λ), θe the drainable pores.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;
use crate::water::equations::SoilWater;
use crate::water::retention::{CM_PER_KPA, classes};

/// Share of the volume that must hold air for the roots of most crops: a tenth, common practice.
pub const USUAL_AIR: f64 = 0.10;

crate::quantity! {
    /// Depth of the water table or the top of the saturated layer below the ground.
    pub struct StandingDepth: "depth of the standing water", "cm", 0.0 ..= 500.0, example 45.0;
    /// Depth of roots that must stay in air.
    pub struct AiredRoots: "depth of roots to keep in air", "cm", 5.0 ..= 200.0, example 40.0;
    /// Share of the volume that must hold air.
    pub struct AirNeeded: "air the roots need", "%", 1.0 ..= 30.0, example 10.0;
}

/// Drainable pores and the curve by which they empty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EmptyingCurve {
    /// Pores that drain at all, m³/m³.
    pub effective_porosity: f64,
    /// Height at which the widest pores empty, cm.
    pub bubbling_cm: f64,
    /// Slope of the curve.
    pub lambda: f64,
}

impl EmptyingCurve {
    /// Mean curve of a class; `None` for silt, which the table has not.
    #[must_use]
    pub fn of_class(class: Class) -> Option<Self> {
        let curve = classes::brooks_corey(class)?;
        Some(Self {
            effective_porosity: classes::effective_porosity(class)?,
            bubbling_cm: curve.bubbling_cm,
            lambda: curve.lambda,
        })
    }

    /// From the soil-water equations: their power law, drawn on to the full pores.
    #[must_use]
    pub fn of_soil(water: &SoilWater) -> Option<Self> {
        let full = water.saturation?;
        let bubbling_kpa = water.tension_coefficient? * libm::pow(full, -water.tension_exponent?);
        Some(Self { effective_porosity: full, bubbling_cm: bubbling_kpa * CM_PER_KPA, lambda: water.lambda? })
    }

    /// Height above standing water at which a share `air` of the volume holds air, cm. `None` where the
    /// pores that drain are no more than that.
    #[must_use]
    pub fn aired_above_cm(&self, air: f64) -> Option<f64> {
        let left = self.effective_porosity - air;
        (left > 0.0).then(|| self.bubbling_cm * libm::pow(self.effective_porosity / left, 1.0 / self.lambda))
    }
}

/// Height of a bed, cm, that keeps `roots_cm` of roots above water standing `standing_cm` below the
/// ground and the wet fringe above it; 0 where no bed is needed.
#[must_use]
pub fn bed_height_cm(standing_cm: f64, roots_cm: f64, fringe_cm: f64) -> f64 {
    (roots_cm + fringe_cm - standing_cm).max(0.0)
}

/// Input of `raised-bed-height`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RaisedBedInput {
    /// Texture class of the ground between the water and the roots.
    pub texture_class: Class,
    /// Depth of the water table, or of the top of a saturated layer, below the ground.
    pub standing_water_cm: StandingDepth,
    /// Depth of roots to keep in air, from the top of the bed.
    pub root_depth_cm: AiredRoots,
    /// Air the roots need; 10 % where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_percent: Option<AirNeeded>,
}

/// Output of `raised-bed-height`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct RaisedBedOutput {
    /// Height of the fringe in which all pores stay full.
    pub full_fringe_cm: f64,
    /// Height above the water at which the air needed is there; nothing where the pores cannot give it.
    pub aired_above_cm: Option<f64>,
    /// Least height of the bed: roots end just above the full fringe.
    pub least_height_cm: f64,
    /// Height of the bed that gives all the roots the air needed.
    pub height_cm: Option<f64>,
}

/// Height of a raised bed over wet ground.
pub struct RaisedBedHeight;

impl Method for RaisedBedHeight {
    type Input = RaisedBedInput;
    type Output = RaisedBedOutput;

    const CARD: Card = Card {
        name: "raised-bed-height",
        title: "How high a bed over wet ground",
        topic: Topic::Water,
        computes: "The height of a raised bed that keeps the roots in air above a water table or a saturated layer and the \
                   wet fringe that rises from it.",
        validity: &[
            "Still water and ground that has drained to balance with it: the wet days after rain ask for more.",
            "Class means. Cracks and crumbs of well-structured clay drain where this curve says they do not: read the \
             greater height of clays as an upper limit.",
            "New beds settle: build higher.",
        ],
        sources: &[
            Cite::new("BrooksCorey1964", "retention curve"),
            Cite::new("OgdenSaghafian1997", "Table 1"),
        ],
        cautions: &[super::DIGGING],
    };

    fn example() -> Self::Input {
        RaisedBedInput {
            texture_class: Class::Loam,
            standing_water_cm: StandingDepth::literal(45.0),
            root_depth_cm: AiredRoots::literal(40.0),
            air_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let class = input.texture_class;
        let Some(curve) = EmptyingCurve::of_class(class) else {
            return Err(Refusal::new(
                "texture_class",
                format!("the published table has no row for {}; silt loam is the nearest", class.name()),
            )
            .given(class.name())
            .accepted("any class but silt")
            .example("silt loam"));
        };
        let (standing, roots) = (input.standing_water_cm.get(), input.root_depth_cm.get());
        let aired = curve.aired_above_cm(air(input));
        let mut notes = Vec::new();
        if aired.is_none() {
            notes.push(Note::new(
                NoteKind::NoValue,
                "The pores of this class that drain at all are fewer than the air asked for.",
            ));
        }
        if matches!(class, Class::SandyClay | Class::SiltyClay | Class::Clay | Class::SiltyClayLoam) {
            notes.push(Note::new(
                NoteKind::Method,
                "In clay the cracks and crumbs decide, not the fine pores of this curve: the true height lies between the two.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "A tenth of air is common practice without a source; that the bed is of the same ground as below is our judgement.",
        ));
        Ok(Answer::with_notes(
            RaisedBedOutput {
                full_fringe_cm: curve.bubbling_cm,
                aired_above_cm: aired,
                least_height_cm: bed_height_cm(standing, roots, curve.bubbling_cm),
                height_cm: aired.map(|fringe| bed_height_cm(standing, roots, fringe)),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let Some(curve) = EmptyingCurve::of_class(input.texture_class) else { return Working::new() };
        let said = |height: Option<f64>| {
            height.map_or_else(|| "no value".to_owned(), |height| format!("{height:.1} cm"))
        };
        Working::new()
            .step(
                "height at which the air needed is there",
                "ψb (θe / (θe − a))^(1/λ)",
                format!(
                    "{} × ({e} / ({e} − {}))^(1 / {})",
                    curve.bubbling_cm,
                    number(air(input)),
                    curve.lambda,
                    e = curve.effective_porosity
                ),
                said(value.aired_above_cm),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "height of the bed",
                "roots + height above the water − depth of the water, not below 0",
                format!(
                    "{} + {} − {}",
                    number(input.root_depth_cm.get()),
                    said(value.aired_above_cm),
                    number(input.standing_water_cm.get())
                ),
                format!(
                    "{}; least, above the full fringe, {:.1} cm",
                    said(value.height_cm),
                    value.least_height_cm
                ),
            )
    }
}

fn air(input: &RaisedBedInput) -> f64 {
    input.air_percent.map_or(USUAL_AIR, |air| air.get() / 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finer_pores_and_more_air_ask_for_more_height() {
        for class in Class::ALL {
            let Some(curve) = EmptyingCurve::of_class(class) else {
                assert_eq!(class, Class::Silt);
                continue;
            };
            let heights = [0.001, 0.05, 0.1, 0.2].map(|air| curve.aired_above_cm(air).unwrap());
            assert!(heights[0] > curve.bubbling_cm && heights.windows(2).all(|pair| pair[0] < pair[1]));
            assert!(curve.aired_above_cm(curve.effective_porosity).is_none());
        }
        let height = |class| EmptyingCurve::of_class(class).unwrap().aired_above_cm(0.1).unwrap();
        assert!(height(Class::Sand) < height(Class::Loam) && height(Class::Loam) < height(Class::Clay));
        assert_eq!(bed_height_cm(200.0, 40.0, 30.0), 0.0);
    }
}
