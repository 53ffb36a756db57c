//! Points spread over a plot as evenly as its outline allows.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cells::Cells;
use super::equal_area::even_out;
use super::ground_to_sample::{GivenGround, Ground, nothing_left};
use super::means::{Parted, nearest_cells, settle, start};
use super::random_points::{PointCount, Seed, whole};
use super::shape::{GivenPlace, Place};
use super::zigzag::most_points;
use crate::kit::chance::Chance;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Side of a cell of the fine grid.
    pub struct CellM: "side of a grid cell", "m", 0.05 ..= 50.0, example 1.0;
}

/// How points are spread.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Spreading {
    /// Every part is to have the same area.
    pub equal_area: bool,
    /// Points that are there already and stay: last year's, say.
    pub kept: Vec<Place>,
    /// Side of a grid cell; by itself a grid of some 60 cells a point.
    pub cell_m: Option<f64>,
    /// What chance starts from.
    pub seed: u64,
}

/// Points with the parts of the plot that they stand for.
#[derive(Debug, Clone)]
pub struct Coverage {
    /// The points: those kept first, then the new ones.
    pub points: Vec<Place>,
    /// Mean squared distance of the ground from its nearest point.
    pub mean_squared_m2: f64,
    /// No design of so many points can bring it below this.
    pub bound_m2: f64,
    /// Area that each stands for.
    pub parts_m2: Vec<f64>,
    /// The grid, and which point each cell goes to.
    pub(crate) cells: Cells,
    /// Owner of each cell.
    pub(crate) parted: Parted,
}

/// Tries from new starts on the coarse grid; the best three are worked out on the fine one.
const STARTS: usize = 24;
const REFINED: usize = 3;

/// Least mean squared distance that `points` can have over an area: that of hexagons, 5 A / (18 √3 n).
#[must_use]
pub fn hexagon_bound_m2(area_m2: f64, points: f64) -> f64 {
    5.0 * area_m2 / (18.0 * 3.0_f64.sqrt() * points)
}

/// Spreads `count` points over the ground besides those kept. `None` where nothing of it is left, or it has fewer
/// cells than points.
#[must_use]
pub fn spread(ground: &Ground, count: usize, how: &Spreading) -> Option<Coverage> {
    let all = count + how.kept.len();
    let wanted = (60.0 * all as f64).clamp(2_400.0, 12_000.0);
    let cells = how.cell_m.map_or_else(|| Cells::about(ground, wanted), |size| Cells::within(ground, size));
    let coarse = Cells::about(ground, (30.0 * all as f64).max(600.0));
    if cells.len() < all || all == 0 {
        return None;
    }
    let coarse = if coarse.len() < cells.len() && coarse.len() >= 4 * all { &coarse } else { &cells };
    let mut chance = Chance::new(how.seed);
    let mut tried: Vec<Parted> = (0..STARTS)
        .map(|_| settle(coarse, start(coarse, &how.kept, count, &mut chance), how.kept.len(), 60))
        .collect();
    tried.sort_by(|a, b| a.mean_squared_m2.total_cmp(&b.mean_squared_m2));
    let mut parted = tried
        .into_iter()
        .take(REFINED)
        .map(|start| settle(&cells, start.centres, how.kept.len(), 200))
        .min_by(|a, b| a.mean_squared_m2.total_cmp(&b.mean_squared_m2))?;
    if how.equal_area && how.kept.is_empty() {
        parted = even_out(&cells, parted.centres);
    }
    let mut counts = vec![0.0; all];
    for owner in &parted.owner {
        counts[*owner as usize] += 1.0;
    }
    let cell_m2 = cells.size_m * cells.size_m;
    let points = parted
        .centres
        .iter()
        .zip(nearest_cells(&cells, &parted))
        .enumerate()
        .map(|(at, (centre, nearest))| match nearest {
            Some(cell) if at >= how.kept.len() && !ground.allows(*centre) => cells.at(cell),
            _ => *centre,
        })
        .collect();
    Some(Coverage {
        points,
        mean_squared_m2: parted.mean_squared_m2,
        bound_m2: hexagon_bound_m2(cells.area_m2(), all as f64),
        parts_m2: counts.into_iter().map(|count| count * cell_m2).collect(),
        cells,
        parted,
    })
}

/// Input of `spatial-coverage`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SpatialCoverageInput {
    /// The plot and what to keep out of.
    pub ground: GivenGround,
    /// New points.
    pub points: PointCount,
    /// Points that are there already and stay.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub kept: Vec<GivenPlace>,
    /// Give every point the same area.
    #[serde(default)]
    pub equal_area: bool,
    /// Side of a grid cell; by itself a grid of some 60 cells a point.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cell_m: Option<CellM>,
    /// The same seed gives the same points.
    pub seed: Seed,
}

/// Output of `spatial-coverage`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SpatialCoverageOutput {
    /// Metres east and north of each: those kept first.
    pub points: Vec<Place>,
    /// Mean squared distance of the ground from its nearest point.
    pub mean_squared_distance_m2: f64,
    /// No design of so many points can bring it below this, but for the grid's own h²/6.
    pub hexagon_bound_m2: f64,
    /// Smallest area that a point stands for.
    pub smallest_part_m2: f64,
    /// Largest such area.
    pub largest_part_m2: f64,
    /// Cells of the grid.
    pub cells: u64,
}

/// Spatial coverage.
pub struct SpatialCoverage;

impl Method for SpatialCoverage {
    type Input = SpatialCoverageInput;
    type Output = SpatialCoverageOutput;

    const CARD: Card = Card {
        name: "spatial-coverage",
        title: "Points spread evenly",
        topic: Topic::Spatial,
        computes: "Places spread over a plot so that no spot of it lies far from one: best for a map, and for finding where \
                   things differ. A fine grid is parted into compact parts, and a point put in the middle of each.",
        validity: &[
            "Not chosen by chance: the error of their mean cannot be worked out from the points alone.",
            "A middle that falls outside the ground is moved to the nearest spot of its part.",
            "Equal area is for new points only; where points are kept the parts come out as they may.",
        ],
        sources: &[
            Cite::new(
                "Walvoort2010",
                "spatial coverage by k-means over a grid, mean squared shortest distance",
            ),
            Cite::new("FejesToth1972", "hexagons are the best cover: the lower bound"),
            Cite::new("ArthurVassilvitskii2007", "where the search starts"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        SpatialCoverageInput {
            ground: GivenGround::literal(&[[0.0, 0.0], [60.0, 0.0], [60.0, 20.0], [0.0, 20.0]], 2.0),
            points: PointCount::literal(8.0),
            kept: Vec::new(),
            equal_area: false,
            cell_m: None,
            seed: Seed::literal(7.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ground = input.ground.ground()?;
        let how = Spreading {
            equal_area: input.equal_area,
            kept: input.kept.iter().map(|place| place.map(Bounded::get)).collect(),
            cell_m: input.cell_m.map(Bounded::get),
            seed: whole(input.seed.get()),
        };
        most_points("kept", how.kept.len())?;
        #[expect(clippy::cast_possible_truncation, reason = "at most 500")]
        let count = whole(input.points.get()) as usize;
        let found = spread(&ground, count, &how).ok_or_else(|| nothing_left(&ground))?;
        let mut notes = Vec::new();
        if input.equal_area && !input.kept.is_empty() {
            notes.push(Note::new(
                NoteKind::Method,
                "The parts were not made equal, because points were kept where they are.",
            ));
        }
        let range = |start: f64, pick: fn(f64, f64) -> f64| found.parts_m2.iter().copied().fold(start, pick);
        Ok(Answer::with_notes(
            SpatialCoverageOutput {
                mean_squared_distance_m2: found.mean_squared_m2,
                hexagon_bound_m2: found.bound_m2,
                smallest_part_m2: range(f64::INFINITY, f64::min),
                largest_part_m2: range(0.0, f64::max),
                cells: found.cells.len() as u64,
                points: found.points,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let found = &answer.value;
        Working::new()
            .step(
                "points",
                "middles of the parts of a fine grid, moved until no cell lies nearer to another (k-means), best of several starts",
                format!("{} cells, {} points, seed {}", found.cells, found.points.len(), input.seed.get()),
                format!("mean squared distance {:.1} m²", found.mean_squared_distance_m2),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "no design can do better than",
                "5 A / (18 √3 n)",
                format!("{} points", found.points.len()),
                format!("{:.1} m²", found.hexagon_bound_m2),
            )
            .cite(Self::CARD.sources[1])
    }
}

#[cfg(test)]
mod tests {
    use super::super::shape::Area;
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]
        #[test]
        fn points_stand_on_the_ground_and_come_back_with_their_seed(
            corners in proptest::collection::vec((-50.0..50.0_f64, -50.0..50.0_f64), 3..9),
            count in 1_usize..12, seed in 0_u64..50, equal_area: bool,
        ) {
            let ground = Ground { margin_m: 0.5, ..Ground::whole(Area { outer: corners.iter().map(|(x, y)| [*x, *y]).collect(), holes: vec![] }) };
            let how = Spreading { equal_area, seed, ..Spreading::default() };
            if let Some(found) = spread(&ground, count, &how) {
                prop_assert_eq!(found.points.len(), count);
                for point in &found.points {
                    prop_assert!(ground.allows(*point), "{:?}", point);
                }
                prop_assert_eq!(&spread(&ground, count, &how).unwrap().points, &found.points);
                // The bound is of the continuous ground; the grid reports h²/6 less.
                let grid = found.cells.size_m * found.cells.size_m / 6.0;
                prop_assert!(found.mean_squared_m2 + grid >= found.bound_m2 * 0.999);
            }
        }
    }

    #[test]
    fn points_kept_stay_and_the_new_ones_keep_away() {
        let ground = Ground::whole(Area::rectangle(60.0, 20.0));
        let how = Spreading { kept: vec![[10.0, 10.0], [50.0, 10.0]], seed: 1, ..Spreading::default() };
        let found = spread(&ground, 1, &how).unwrap();
        assert_eq!(&found.points[..2], &how.kept[..]);
        assert!((found.points[2][0] - 30.0).abs() < 1.0 && (found.points[2][1] - 10.0).abs() < 1.0);
    }
}
