//! `hooghoudt-spacing`: drain spacing as a registered method.

use std::f64::consts::PI;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::equivalent_depth::{DepthEquation, DrainRadius};
use super::hooghoudt::Drains;
use crate::kit::quantity::{number, with_unit};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Water the drains must lead away.
    pub struct DrainageRate: "water to lead away", "mm/d", 0.1 ..= 100.0, example 7.0;
    /// Conductivity of ground as drains feel it.
    pub struct GroundConductivity: "conductivity of the ground", "m/d", 0.0 ..= 100.0, example 0.5;
    /// Depth of the drains, or of the water level in the ditches.
    pub struct DrainDepth: "depth of the drains", "m", 0.2 ..= 10.0, example 1.2;
    /// Depth at which the water table may stand midway.
    pub struct TableDepth: "depth of the water table midway", "m", 0.0 ..= 10.0, example 0.6;
    /// Depth of the layer that hardly passes water.
    pub struct FloorDepth: "depth of the impermeable layer", "m", 0.2 ..= 1000.0, example 4.2;
    /// Wetted bed and sides of a ditch.
    pub struct WettedPerimeter: "wetted perimeter of the ditch", "m", 0.05 ..= 20.0, example 0.6;
}

/// Input of `hooghoudt-spacing`. Depths are from the surface.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HooghoudtInput {
    /// Water the drains must lead away.
    pub drainage_mm_d: DrainageRate,
    /// Conductivity above the drains.
    pub conductivity_above_m_d: GroundConductivity,
    /// Conductivity below the drains.
    pub conductivity_below_m_d: GroundConductivity,
    /// Depth of the drains.
    pub drain_depth_m: DrainDepth,
    /// Depth at which the water table may stand midway.
    pub water_table_depth_m: TableDepth,
    /// Depth of the impermeable layer; left out where the ground is deep.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub impermeable_depth_m: Option<FloorDepth>,
    /// Effective radius of pipe drains. Give this or `ditch_wetted_perimeter_m`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drain_radius_cm: Option<DrainRadius>,
    /// Wetted perimeter of ditches. Give this or `drain_radius_cm`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ditch_wetted_perimeter_m: Option<WettedPerimeter>,
    /// Equation of the equivalent depth; the exact series where nothing is said.
    #[serde(default)]
    pub equation: DepthEquation,
}

impl HooghoudtInput {
    fn radius_m(&self) -> Result<f64, Refusal> {
        match (self.drain_radius_cm, self.ditch_wetted_perimeter_m) {
            (Some(radius), None) => Ok(radius.get() / 100.0),
            // A ditch draws water as a pipe of the same wetted half round.
            (None, Some(wetted)) => Ok(wetted.get() / PI),
            (given, _) => {
                let said = if given.is_some() { "both" } else { "neither" };
                Err(Refusal::new(
                    "drain_radius_cm",
                    "say whether water goes to pipes or to ditches, and how big they are",
                )
                .given(said)
                .accepted("one of drain_radius_cm and ditch_wetted_perimeter_m")
                .example("drain_radius_cm 5"))
            }
        }
    }

    fn drains(&self) -> Result<(Drains, f64), Refusal> {
        let drain = self.drain_depth_m.get();
        let height = drain - self.water_table_depth_m.get();
        if height <= 0.0 {
            return Err(Refusal::new(
                "water_table_depth_m",
                format!(
                    "the water table midway stands above the drains, so it must be shallower than their {} m, but {} m was given",
                    number(drain),
                    number(self.water_table_depth_m.get())
                ),
            )
            .given(with_unit(self.water_table_depth_m.get(), "m"))
            .accepted(format!("less than {}", with_unit(drain, "m")))
            .example(with_unit(drain / 2.0, "m")));
        }
        let below = self.impermeable_depth_m.map_or(f64::INFINITY, |floor| floor.get() - drain);
        if below < 0.0 {
            return Err(Refusal::new(
                "impermeable_depth_m",
                "drains cannot lie below the impermeable layer: lay them on it at most",
            )
            .given(self.impermeable_depth_m.map_or(0.0, Bounded::get))
            .accepted(format!("{} or more", with_unit(drain, "m")))
            .example(with_unit(drain, "m")));
        }
        let drains = Drains {
            above_m_d: self.conductivity_above_m_d.get(),
            below_m_d: self.conductivity_below_m_d.get(),
            depth_below_m: below,
            radius_m: self.radius_m()?,
            equation: self.equation,
        };
        Ok((drains, height))
    }
}

/// Output of `hooghoudt-spacing`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct HooghoudtOutput {
    /// Widest spacing that keeps the table down; nothing where no practical one does.
    pub spacing_m: Option<f64>,
    /// The same in feet.
    pub spacing_ft: Option<f64>,
    /// Equivalent depth at that spacing.
    pub equivalent_depth_m: Option<f64>,
    /// Height of the table above the drains midway.
    pub table_height_m: f64,
    /// Effective radius used.
    pub effective_radius_m: f64,
}

/// Drain spacing after Hooghoudt.
pub struct HooghoudtSpacing;

impl Method for HooghoudtSpacing {
    type Input = HooghoudtInput;
    type Output = HooghoudtOutput;

    const CARD: Card = Card {
        name: "hooghoudt-spacing",
        title: "How far apart to lay drains",
        topic: Topic::Water,
        computes: "The widest distance between parallel pipe drains or ditches that keeps the water table at a wanted depth \
                   midway between them, while a steady rain or seepage is led away.",
        validity: &[
            "Level ground, steady flow, drains that let water in freely, one soil above the drains and one below.",
            "Where layers conduct very differently another equation (Ernst) is wanted.",
            "The spacing goes with the root of the conductivity: one guessed by a factor of four halves or doubles it.",
        ],
        sources: &[
            Cite::new("Hooghoudt1940", "steady-state equation"),
            Cite::new("VanDerMolenWesseling1991", "equivalent depth"),
            Cite::new("Moody1966", "equivalent depth, fit"),
        ],
        cautions: &[
            super::DIGGING,
            super::TRENCHES,
            super::PERMITS,
            "Foundations, septic fields and posts need distances of their own: have a licensed person lay out such drains.",
        ],
    };

    fn example() -> Self::Input {
        HooghoudtInput {
            drainage_mm_d: DrainageRate::literal(7.0),
            conductivity_above_m_d: GroundConductivity::literal(0.5),
            conductivity_below_m_d: GroundConductivity::literal(0.5),
            drain_depth_m: DrainDepth::literal(1.2),
            water_table_depth_m: TableDepth::literal(0.6),
            impermeable_depth_m: Some(FloorDepth::literal(4.2)),
            drain_radius_cm: Some(DrainRadius::literal(5.0)),
            ditch_wetted_perimeter_m: None,
            equation: DepthEquation::ClosedForm,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (drains, height) = input.drains()?;
        let spacing = drains.spacing_m(input.drainage_mm_d.get() / 1000.0, height);
        let mut notes = Vec::new();
        match spacing {
            None => notes.push(Note::new(
                NoteKind::NoValue,
                "No practical spacing keeps the table down: this ground passes water too slowly for drains alone, or so \
                 fast that spacing hardly matters. Surface shaping or raised beds may do more.",
            )),
            Some(spacing) if spacing < 4.0 => notes.push(Note::new(
                NoteKind::Method,
                "Drains so close are seldom laid; mole drains, surface shaping or raised beds may do more (our judgement).",
            )),
            Some(_) => {}
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "The equations are recalled; the equivalent depth was derived again and the worked spacing lies within the \
             range of the printed tables.",
        ));
        let value = HooghoudtOutput {
            spacing_m: spacing,
            spacing_ft: spacing.map(|spacing| spacing / 0.3048),
            equivalent_depth_m: spacing.map(|spacing| drains.equivalent_depth_m(spacing)),
            table_height_m: height,
            effective_radius_m: drains.radius_m,
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let Ok((drains, height)) = input.drains() else { return Working::new() };
        let mut working = Working::new();
        if let Some(wetted) = input.ditch_wetted_perimeter_m {
            working = working.step(
                "effective radius of the ditch",
                "wetted perimeter / π",
                format!("{} / π", number(wetted.get())),
                format!("{:.3} m", value.effective_radius_m),
            );
        }
        let (Some(spacing), Some(depth)) = (value.spacing_m, value.equivalent_depth_m) else {
            return working.step(
                "spacing",
                "L² = (8 Kb d h + 4 Ka h²) / q",
                "no practical L meets it",
                "none",
            );
        };
        working
            .step(
                "equivalent depth at that spacing",
                "found together with the spacing",
                format!(
                    "L = {spacing:.2} m, D = {} m, r = {:.3} m",
                    number(drains.depth_below_m),
                    drains.radius_m
                ),
                format!("{depth:.3} m"),
            )
            .cite(Self::CARD.sources[usize::from(input.equation == DepthEquation::Moody) + 1])
            .step(
                "spacing",
                "L² = (8 Kb d h + 4 Ka h²) / q",
                format!(
                    "(8 × {} × {depth:.3} × {h} + 4 × {} × {h}²) / {}",
                    number(drains.below_m_d),
                    number(drains.above_m_d),
                    number(input.drainage_mm_d.get() / 1000.0),
                    h = number(height)
                ),
                format!("L = {spacing:.2} m"),
            )
            .cite(Self::CARD.sources[0])
    }
}
