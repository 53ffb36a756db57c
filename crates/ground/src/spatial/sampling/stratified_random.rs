//! Points by chance within compact parts of equal area.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::coverage::{Spreading, spread};
use super::ground_to_sample::{GivenGround, Ground, nothing_left};
use super::means::drawn;
use super::random_points::{PointCount, Seed, whole};
use super::shape::Place;
use crate::kit::chance::Chance;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Points in each part of the plot.
    pub struct PointsPerPart: "points in each part", "", 2.0 ..= 50.0, example 2.0;
}

/// A point and the part it stands for, counted from 0.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StratumPoint {
    /// Metres east and north.
    pub at: Place,
    /// The part, from 0.
    pub stratum: u16,
}

/// Draws `per_part` points in each of `parts` compact parts of equal area. `None` where the ground is too small.
#[must_use]
pub fn stratified_points(
    ground: &Ground,
    parts: usize,
    per_part: usize,
    seed: u64,
) -> Option<Vec<StratumPoint>> {
    let found = spread(ground, parts, &Spreading { equal_area: true, seed, ..Spreading::default() })?;
    let mut own: Vec<Vec<usize>> = vec![Vec::new(); parts];
    for (cell, owner) in found.parted.owner.iter().enumerate() {
        own[*owner as usize].push(cell);
    }
    if own.iter().any(|cells| cells.len() < per_part) {
        return None;
    }
    // Chance of its own, so that the points do not hang on how many draws the parting took.
    let mut chance = Chance::new(seed ^ 0x9e37_79b9_7f4a_7c15);
    let mut points = Vec::with_capacity(parts * per_part);
    for (stratum, cells) in (0_u16..).zip(&mut own) {
        for _ in 0..per_part {
            // Each cell once: two points never fall into the same.
            let cell = cells.swap_remove(drawn(&mut chance, cells.len()));
            let middle = found.cells.at(cell);
            let at = (0..20)
                .map(|_| middle.map(|axis| axis + (chance.uniform() - 0.5) * found.cells.size_m))
                .find(|at| ground.allows(*at))
                .unwrap_or(middle);
            points.push(StratumPoint { at, stratum });
        }
    }
    Some(points)
}

/// Input of `stratified-random-points`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StratifiedRandomInput {
    /// The plot and what to keep out of.
    pub ground: GivenGround,
    /// Compact parts of equal area.
    pub parts: PointCount,
    /// Points in each: two at least, or the parts show no spread.
    pub points_per_part: PointsPerPart,
    /// The same seed gives the same points.
    pub seed: Seed,
}

/// Output of `stratified-random-points`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct StratifiedRandomOutput {
    /// Metres east and north of each, with its part.
    pub points: Vec<StratumPoint>,
    /// How many.
    pub count: u64,
}

/// Stratified random points.
pub struct StratifiedRandom;

impl Method for StratifiedRandom {
    type Input = StratifiedRandomInput;
    type Output = StratifiedRandomOutput;

    const CARD: Card = Card {
        name: "stratified-random-points",
        title: "Points by chance in equal parts",
        topic: Topic::Spatial,
        computes: "A plot parted into compact parts of equal area, with two or more places drawn by chance in each: spread out, \
                   and yet honest about the error of their mean.",
        validity: &[
            "Two points a part at least, or the error of the mean cannot be told.",
            "Parts are equal to one cell of a grid of at least 2,400 cells.",
        ],
        sources: &[
            Cite::new("Walvoort2010", "compact strata of equal area by k-means"),
            Cite::new("Cochran1977", "stratified random sampling"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        StratifiedRandomInput {
            ground: GivenGround::literal(&[[0.0, 0.0], [60.0, 0.0], [60.0, 20.0], [0.0, 20.0]], 2.0),
            parts: PointCount::literal(6.0),
            points_per_part: PointsPerPart::literal(2.0),
            seed: Seed::literal(7.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ground = input.ground.ground()?;
        #[expect(clippy::cast_possible_truncation, reason = "at most 500 and 50")]
        let (parts, each) = (whole(input.parts.get()) as usize, whole(input.points_per_part.get()) as usize);
        if parts * each > 500 {
            return Err(Refusal::new("points_per_part", "these are more points than anyone walks")
                .given(format!("{parts} parts of {each}"))
                .accepted("at most 500 points in all")
                .example("2"));
        }
        let points = stratified_points(&ground, parts, each, whole(input.seed.get()))
            .ok_or_else(|| nothing_left(&ground))?;
        Ok(Answer::plain(StratifiedRandomOutput { count: points.len() as u64, points }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "places",
                "cells parted into compact equal parts, then places drawn by chance in each",
                format!(
                    "{} parts of {} points, seed {}",
                    input.parts.get(),
                    input.points_per_part.get(),
                    input.seed.get()
                ),
                format!("{} places", answer.value.count),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::super::shape::{Area, Shape};
    use super::*;

    #[test]
    fn every_part_gets_its_points_on_the_ground() {
        let ground = Ground {
            plot: Area::rectangle(100.0, 30.0),
            margin_m: 2.0,
            keep_outs: vec![(Shape::Line(vec![[50.0, 0.0], [50.0, 30.0]]), 4.0)],
            only_in: vec![],
        };
        let points = stratified_points(&ground, 7, 3, 11).unwrap();
        assert_eq!(points.len(), 21);
        for stratum in 0..7 {
            assert_eq!(points.iter().filter(|point| point.stratum == stratum).count(), 3);
        }
        assert!(points.iter().all(|point| ground.allows(point.at)));
        assert_eq!(points, stratified_points(&ground, 7, 3, 11).unwrap());
        assert_ne!(points, stratified_points(&ground, 7, 3, 12).unwrap());
    }

    /// Over many seeds the mean of places is the middle of the plot: no part of it is favoured.
    #[test]
    fn chance_favours_no_part() {
        let ground = Ground::whole(Area::rectangle(40.0, 10.0));
        let (mut east, mut north, mut n) = (0.0, 0.0, 0.0);
        for seed in 0..150 {
            for point in stratified_points(&ground, 3, 2, seed).unwrap() {
                east += point.at[0];
                north += point.at[1];
                n += 1.0;
            }
        }
        // Standard errors: 40/√12/3/√900 along (strata), 10/√12/√900 across; four of them.
        assert!((east / n - 20.0).abs() < 0.55, "{}", east / n);
        assert!((north / n - 5.0).abs() < 0.4, "{}", north / n);
    }
}
