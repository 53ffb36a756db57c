//! The ground of a plot that a sample may be taken from: less its margins and what would mislead.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cells::Cells;
use super::shape::{Area, GivenArea, GivenPlace, Place, Shape};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// How far to stay from the edges of the plot.
    pub struct MarginM: "distance to keep from the edges", "m", 0.0 ..= 100.0, example 2.0;
    /// How far to stay from something.
    pub struct KeepOffM: "distance to keep from it", "m", 0.0 ..= 200.0, example 3.0;
}

/// A plot, its margin and what to stay away from.
#[derive(Debug, Clone, PartialEq)]
pub struct Ground {
    /// The plot.
    pub plot: Area,
    /// How far to stay from its edges, those of holes too.
    pub margin_m: f64,
    /// What to stay away from, and how far.
    pub keep_outs: Vec<(Shape, f64)>,
    /// What to stay within, and how far from it at most; the whole plot where there is none.
    pub only_in: Vec<(Shape, f64)>,
}

impl Ground {
    /// A plot without margin or strips to keep out of.
    #[must_use]
    pub fn whole(plot: Area) -> Self {
        Self { plot, margin_m: 0.0, keep_outs: Vec::new(), only_in: Vec::new() }
    }

    /// May a core be pulled here?
    #[must_use]
    pub fn allows(&self, at: Place) -> bool {
        // Corners reckoned at exactly the margin are in, whatever the last digit says.
        const SLACK: f64 = 1e-9;
        let inside = if self.margin_m > 0.0 {
            let (inside, nearest) = self.plot.holds_and_nearest(at);
            inside && nearest.sqrt() >= self.margin_m - SLACK
        } else {
            self.plot.holds(at)
        };
        inside
            && (self.only_in.is_empty()
                || self.only_in.iter().any(|(shape, within)| shape.distance_m(at) <= within + SLACK))
            && self.keep_outs.iter().all(|(shape, away)| {
                let gap = shape.distance_m(at);
                gap > 0.0 && gap >= away - SLACK
            })
    }
}

/// What an obstacle looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ShapeForm {
    /// One place.
    Point,
    /// A line through places.
    Line,
    /// A piece of ground.
    Area,
}

/// Something to stay away from.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenKeepOut {
    /// A spot, a line or a piece of ground.
    pub form: ShapeForm,
    /// Its places in order, metres east and north.
    pub points: Vec<GivenPlace>,
    /// How far to stay away from it.
    pub keep_off_m: KeepOffM,
}

/// A plot with what to keep out of, as it is given to a method.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenGround {
    /// The plot.
    pub plot: GivenArea,
    /// How far to stay from its edges.
    pub margin_m: MarginM,
    /// What to stay away from.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub keep_outs: Vec<GivenKeepOut>,
}

impl GivenGround {
    /// One written in this program, for an example.
    pub(crate) fn literal(outer: &[Place], margin_m: f64) -> Self {
        Self { plot: GivenArea::literal(outer), margin_m: MarginM::literal(margin_m), keep_outs: Vec::new() }
    }

    /// Its plain numbers.
    ///
    /// # Errors
    /// A shape with too few places for its form.
    pub fn ground(&self) -> Result<Ground, Refusal> {
        let plot = self.plot.area("plot")?;
        let mut keep_outs = Vec::with_capacity(self.keep_outs.len());
        for (at, given) in self.keep_outs.iter().enumerate() {
            let places: Vec<Place> = given.points.iter().map(|place| place.map(Bounded::get)).collect();
            let (least, most, what) = match given.form {
                ShapeForm::Point => (1, 1, "one place"),
                ShapeForm::Line => (2, 5_000, "2 to 5000 places"),
                ShapeForm::Area => (3, 5_000, "3 to 5000 places"),
            };
            if !(least..=most).contains(&places.len()) {
                return Err(Refusal::new(
                    format!("keep_outs[{at}].points"),
                    format!("this form cannot have {} places", places.len()),
                )
                .given(places.len())
                .accepted(what)
                .example("[[0, 0], [30, 0], [30, 10]]"));
            }
            let shape = match given.form {
                ShapeForm::Point => Shape::Point(places[0]),
                ShapeForm::Line => Shape::Line(places),
                ShapeForm::Area => Shape::Area(Area { outer: places, holes: Vec::new() }),
            };
            keep_outs.push((shape, given.keep_off_m.get()));
        }
        Ok(Ground { plot, margin_m: self.margin_m.get(), keep_outs, only_in: Vec::new() })
    }
}

/// The refusal of ground of which nothing is left.
#[must_use]
pub fn nothing_left(ground: &Ground) -> Refusal {
    let [w, s, e, n] = ground.plot.bounds();
    Refusal::new("margin_m", "nothing of the plot is left within its margins and what it keeps out of")
        .given(format!(
            "{} m from the edges of a plot {:.1} m by {:.1} m over all",
            ground.margin_m,
            e - w,
            n - s
        ))
        .accepted("a smaller distance, or a plot with more room")
        .example("0.5")
}

/// Input of `ground-to-sample`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GroundToSampleInput {
    /// The plot and what to keep out of.
    pub ground: GivenGround,
}

/// Output of `ground-to-sample`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct GroundToSampleOutput {
    /// Area of the plot.
    pub plot_m2: f64,
    /// What is left to sample, counted on a fine grid.
    pub left_m2: f64,
    /// Share of the plot that is left.
    pub left_percent: f64,
}

/// Ground left to sample.
pub struct GroundToSample;

/// Cells that the area left is counted on.
const FINE: f64 = 40_000.0;

impl Method for GroundToSample {
    type Input = GroundToSampleInput;
    type Output = GroundToSampleOutput;

    const CARD: Card = Card {
        name: "ground-to-sample",
        title: "Ground left to sample",
        topic: Topic::Spatial,
        computes: "How much of a plot is left to pull cores from once its edges, old fence lines, manure piles, burn spots and \
                   the like are kept away from by stated distances.",
        validity: &[
            "Distances are along the ground in metres; the area left is counted on a grid of 40,000 cells.",
        ],
        sources: &[Cite::new("SamplingPractice", "places to avoid when a plot is sampled")],
        cautions: &["Have buried services located before anything goes deeper than hand tools reach."],
    };

    fn example() -> Self::Input {
        GroundToSampleInput {
            ground: GivenGround::literal(&[[0.0, 0.0], [60.0, 0.0], [60.0, 20.0], [0.0, 20.0]], 2.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ground = input.ground.ground()?;
        let plot = super::slabs::Slabs::of(&ground.plot).area_m2();
        if plot <= 0.0 {
            return Err(nothing_left(&ground));
        }
        let size = (plot / FINE).sqrt();
        let (cells, all) =
            (Cells::within(&ground, size), Cells::within(&Ground::whole(ground.plot.clone()), size));
        if cells.is_empty() {
            return Err(nothing_left(&ground));
        }
        // By its share of the cells, so that cells cut by the outline count for neither.
        let left = plot * cells.len() as f64 / all.len() as f64;
        Ok(Answer::with_notes(
            GroundToSampleOutput { plot_m2: plot, left_m2: left, left_percent: 100.0 * left / plot },
            vec![Note::new(
                NoteKind::Provenance,
                "Which places to avoid is common practice; how far to stay away is yours to say.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let found = &answer.value;
        Working::new()
            .step(
                "ground left",
                "cells whose middle lies in the plot and no nearer to its edges and obstacles than asked",
                format!(
                    "{} m from the edges, {} obstacles",
                    input.ground.margin_m.get(),
                    input.ground.keep_outs.len()
                ),
                format!("{:.0} of {:.0} m²", found.left_m2, found.plot_m2),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn margins_and_obstacles_are_kept_away_from() {
        let ground = Ground {
            plot: Area::rectangle(20.0, 10.0),
            margin_m: 2.0,
            keep_outs: vec![
                (Shape::Point([10.0, 5.0]), 1.5),
                (
                    Shape::Area(Area {
                        outer: vec![[15.0, 4.0], [16.0, 4.0], [16.0, 6.0], [15.0, 6.0]],
                        holes: vec![],
                    }),
                    0.0,
                ),
            ],
            only_in: vec![],
        };
        assert!(ground.allows([2.0, 2.0]) && !ground.allows([1.9, 5.0]));
        assert!(!ground.allows([11.0, 5.5]) && ground.allows([12.0, 5.0]));
        assert!(!ground.allows([15.5, 5.0]) && ground.allows([16.5, 5.0]));
        // A strip of 2.5 m to either side of a row, less what is kept out of.
        let row = Shape::Line(vec![[0.0, 5.0], [20.0, 5.0]]);
        assert!(ground.allows([5.0, 7.6]));
        let ground = Ground { only_in: vec![(row, 2.5)], ..ground };
        assert!(ground.allows([5.0, 7.4]) && !ground.allows([5.0, 7.6]) && !ground.allows([10.0, 5.0]));
    }
}
