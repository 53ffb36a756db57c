//! `hooghoudt-water-table`: how high water stands between drains that lie there.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::equivalent_depth::{DepthEquation, DrainRadius, DrainSpacing};
use super::hooghoudt::Drains;
use super::hooghoudt_method::{DrainDepth, DrainageRate, FloorDepth, GroundConductivity};
use crate::kit::quantity::{number, with_unit};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Input of `hooghoudt-water-table`. Depths are from the surface.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TableHeightInput {
    /// Water that comes: rain or seepage.
    pub drainage_mm_d: DrainageRate,
    /// Distance between the drains.
    pub spacing_m: DrainSpacing,
    /// Conductivity above the drains.
    pub conductivity_above_m_d: GroundConductivity,
    /// Conductivity below the drains.
    pub conductivity_below_m_d: GroundConductivity,
    /// Depth of the drains.
    pub drain_depth_m: DrainDepth,
    /// Depth of the impermeable layer; left out where the ground is deep.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub impermeable_depth_m: Option<FloorDepth>,
    /// Effective radius of the drains; the wetted perimeter of a ditch over π.
    pub drain_radius_cm: DrainRadius,
}

impl TableHeightInput {
    fn drains(&self) -> Result<Drains, Refusal> {
        let drain = self.drain_depth_m.get();
        let below = self.impermeable_depth_m.map_or(f64::INFINITY, |floor| floor.get() - drain);
        if below < 0.0 {
            return Err(Refusal::new(
                "impermeable_depth_m",
                "drains cannot lie below the impermeable layer: they lie on it at most",
            )
            .given(with_unit(drain + below, "m"))
            .accepted(format!("{} or more", with_unit(drain, "m")))
            .example(with_unit(drain, "m")));
        }
        Ok(Drains {
            above_m_d: self.conductivity_above_m_d.get(),
            below_m_d: self.conductivity_below_m_d.get(),
            depth_below_m: below,
            radius_m: self.drain_radius_cm.get() / 100.0,
            equation: DepthEquation::ClosedForm,
        })
    }
}

/// Output of `hooghoudt-water-table`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct TableHeightOutput {
    /// Height of the water table above the drains midway; nothing where the ground does not conduct.
    pub table_height_m: Option<f64>,
    /// Its depth below the surface; below 0 where water would stand on the ground.
    pub table_depth_m: Option<f64>,
    /// Equivalent depth at this spacing.
    pub equivalent_depth_m: f64,
}

/// Water table between drains.
pub struct HooghoudtWaterTable;

impl Method for HooghoudtWaterTable {
    type Input = TableHeightInput;
    type Output = TableHeightOutput;

    const CARD: Card = Card {
        name: "hooghoudt-water-table",
        title: "How high water stands between drains",
        topic: Topic::Water,
        computes: "The height at which the water table stands midway between drains or ditches that are there already, under \
                   a steady rain or seepage.",
        validity: &[
            "The limits of hooghoudt-spacing hold here too; drains are taken to be clean and to let water in freely.",
            "Water measured far above this height points to blocked drains or to a pan between.",
        ],
        sources: &[
            Cite::new("Hooghoudt1940", "steady-state equation"),
            Cite::new("VanDerMolenWesseling1991", "equivalent depth"),
        ],
        cautions: &[super::DIGGING, super::TRENCHES],
    };

    fn example() -> Self::Input {
        TableHeightInput {
            drainage_mm_d: DrainageRate::literal(7.0),
            spacing_m: DrainSpacing::literal(20.0),
            conductivity_above_m_d: GroundConductivity::literal(0.5),
            conductivity_below_m_d: GroundConductivity::literal(0.5),
            drain_depth_m: DrainDepth::literal(1.2),
            impermeable_depth_m: Some(FloorDepth::literal(4.2)),
            drain_radius_cm: DrainRadius::literal(5.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let drains = input.drains()?;
        let spacing = input.spacing_m.get();
        let nearest = drains.nearest_m();
        if spacing < nearest {
            return Err(Refusal::new(
                "spacing_m",
                format!("drains this big must lie at least {nearest:.2} m apart for the equation"),
            )
            .given(with_unit(spacing, "m"))
            .accepted(format!("{nearest:.2} m or more"))
            .example("20 m"));
        }
        let height = drains.height_m(input.drainage_mm_d.get() / 1000.0, spacing);
        let depth = height.map(|height| input.drain_depth_m.get() - height);
        let mut notes = Vec::new();
        match depth {
            None => notes.push(Note::new(NoteKind::NoValue, "Ground that does not conduct is not drained by these drains.")),
            Some(depth) if depth < 0.0 => notes.push(Note::new(
                NoteKind::OutsideRange,
                "By the equation water would stand above the ground: these drains do not keep up, and the excess ponds or runs off.",
            )),
            Some(_) => {}
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "The equation is recalled; the equivalent depth was derived again.",
        ));
        Ok(Answer::with_notes(
            TableHeightOutput {
                table_height_m: height,
                table_depth_m: depth,
                equivalent_depth_m: drains.equivalent_depth_m(spacing),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let said = |height: Option<f64>| {
            height.map_or_else(|| "no value".to_owned(), |height| format!("{height:.3} m"))
        };
        Working::new()
            .step(
                "height midway",
                "4 Ka h² + 8 Kb d h = q L², solved for h",
                format!(
                    "4 × {} h² + 8 × {} × {:.3} h = {} × {}²",
                    number(input.conductivity_above_m_d.get()),
                    number(input.conductivity_below_m_d.get()),
                    value.equivalent_depth_m,
                    number(input.drainage_mm_d.get() / 1000.0),
                    number(input.spacing_m.get())
                ),
                said(value.table_height_m),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "depth of the water table",
                "depth of the drains less the height",
                format!("{} − {}", number(input.drain_depth_m.get()), said(value.table_height_m)),
                said(value.table_depth_m),
            )
    }
}
