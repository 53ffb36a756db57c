//! An outline cut into triangles between the heights of its corners: its area, and places drawn from it by chance.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::shape::{Area, GivenPlace, Place, given};
use crate::kit::chance::Chance;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// A share drawn by chance.
    pub struct DrawnShare: "share drawn by chance", "", 0.0 ..= 1.0, example 0.25;
}

/// Triangles that make up an area, holes left out.
pub struct Slabs {
    triangles: Vec<[Place; 3]>,
    /// Area of each and all before it.
    summed: Vec<f64>,
}

impl Slabs {
    /// Cuts an area at the heights of all its corners; between two heights its sides pair up into trapezoids.
    #[must_use]
    pub fn of(area: &Area) -> Self {
        let sides: Vec<(Place, Place)> = area
            .sides()
            .filter(|(a, b)| a[1] != b[1])
            .map(|(a, b)| if a[1] < b[1] { (a, b) } else { (b, a) })
            .collect();
        let mut heights: Vec<f64> = area.rings().flatten().map(|place| place[1]).collect();
        // Where sides cross each other they change places, so their crossings part slabs too.
        heights.extend(crossings(&sides));
        heights.sort_by(f64::total_cmp);
        heights.dedup();
        let mut triangles = Vec::new();
        for pair in heights.windows(2) {
            let (low, high) = (pair[0], pair[1]);
            let middle = f64::midpoint(low, high);
            let mut across: Vec<(f64, f64, f64)> = sides
                .iter()
                .filter(|(a, b)| a[1] < middle && b[1] > middle)
                .map(|(a, b)| {
                    let x = |y: f64| a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]);
                    (x(middle), x(low), x(high))
                })
                .collect();
            across.sort_by(|one, other| one.0.total_cmp(&other.0));
            for both in across.chunks_exact(2) {
                let (left, right) = (both[0], both[1]);
                triangles.push([[left.1, low], [right.1, low], [right.2, high]]);
                triangles.push([[left.1, low], [right.2, high], [left.2, high]]);
            }
        }
        triangles.retain(|triangle| area_of(triangle) > 0.0);
        let mut sum = 0.0;
        let summed = triangles
            .iter()
            .map(|triangle| {
                sum += area_of(triangle);
                sum
            })
            .collect();
        Self { triangles, summed }
    }

    /// Area.
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        self.summed.last().copied().unwrap_or(0.0)
    }

    /// A place drawn evenly from it; `None` where it has no area.
    pub fn draw(&self, chance: &mut Chance) -> Option<Place> {
        let share = chance.uniform() * self.area_m2();
        let at = self.summed.partition_point(|sum| *sum < share);
        let triangle = self.triangles.get(at)?;
        let (one, two) = (chance.uniform(), chance.uniform());
        Some(in_triangle(triangle, one, two))
    }
}

fn crossings(sides: &[(Place, Place)]) -> Vec<f64> {
    let mut found = Vec::new();
    for (at, (a, b)) in sides.iter().enumerate() {
        for (c, d) in &sides[at + 1..] {
            if c[1] >= b[1]
                || d[1] <= a[1]
                || a[0].max(b[0]) < c[0].min(d[0])
                || c[0].max(d[0]) < a[0].min(b[0])
            {
                continue;
            }
            let (u, v) = ([b[0] - a[0], b[1] - a[1]], [d[0] - c[0], d[1] - c[1]]);
            let turn = u[0] * v[1] - u[1] * v[0];
            if turn == 0.0 {
                continue;
            }
            let gap = [c[0] - a[0], c[1] - a[1]];
            let (along, other) =
                ((gap[0] * v[1] - gap[1] * v[0]) / turn, (gap[0] * u[1] - gap[1] * u[0]) / turn);
            if along > 0.0 && along < 1.0 && other > 0.0 && other < 1.0 {
                found.push(a[1] + along * u[1]);
            }
        }
    }
    found
}

fn area_of([a, b, c]: &[Place; 3]) -> f64 {
    0.5 * ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])).abs()
}

/// The place in a triangle that two even shares give: (1 − √r₁) A + √r₁ (1 − r₂) B + √r₁ r₂ C, even over it.
#[must_use]
pub fn in_triangle([a, b, c]: &[Place; 3], one: f64, two: f64) -> Place {
    let root = one.sqrt();
    let at = |axis: usize| (1.0 - root) * a[axis] + root * (1.0 - two) * b[axis] + root * two * c[axis];
    [at(0), at(1)]
}

/// Input of `point-in-triangle`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PointInTriangleInput {
    /// The three corners, metres east and north.
    pub corners: [GivenPlace; 3],
    /// First share.
    pub first_share: DrawnShare,
    /// Second share.
    pub second_share: DrawnShare,
}

/// Output of `point-in-triangle`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PointInTriangleOutput {
    /// Metres east.
    pub east_m: f64,
    /// Metres north.
    pub north_m: f64,
    /// Area of the triangle.
    pub area_m2: f64,
}

/// Place in a triangle.
pub struct PointInTriangle;

impl Method for PointInTriangle {
    type Input = PointInTriangleInput;
    type Output = PointInTriangleOutput;

    const CARD: Card = Card {
        name: "point-in-triangle",
        title: "A place drawn from a triangle",
        topic: Topic::Spatial,
        computes: "The place that two shares drawn by chance give in a triangle, so that every part of it is as likely as any \
                   other. Plots of any outline are cut into triangles and drawn from in this way.",
        validity: &["Shares drawn evenly between 0 and 1."],
        sources: &[Cite::new("Turk1990", "generating random points in triangles")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        PointInTriangleInput {
            corners: [given([0.0, 0.0]), given([100.0, 0.0]), given([0.0, 40.0])],
            first_share: DrawnShare::literal(0.25),
            second_share: DrawnShare::literal(0.5),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let corners = input.corners.map(|corner| corner.map(Bounded::get));
        let [east_m, north_m] = in_triangle(&corners, input.first_share.get(), input.second_share.get());
        Ok(Answer::plain(PointInTriangleOutput { east_m, north_m, area_m2: area_of(&corners) }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "place",
                "(1 − √r₁) A + √r₁ (1 − r₂) B + √r₁ r₂ C",
                format!("r₁ {}, r₂ {}", input.first_share.get(), input.second_share.get()),
                format!("{:.3} m east, {:.3} m north", answer.value.east_m, answer.value.north_m),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn areas_with_holes_and_crossings() {
        let mut area = Area::rectangle(10.0, 10.0);
        area.holes.push(vec![[4.0, 4.0], [6.0, 4.0], [6.0, 6.0], [4.0, 6.0]]);
        assert!((Slabs::of(&area).area_m2() - 96.0).abs() < 1e-9);
        // A bow tie: two triangles of 25 m² that meet at its crossing.
        let tie = Area { outer: vec![[0.0, 0.0], [10.0, 10.0], [10.0, 0.0], [0.0, 10.0]], holes: vec![] };
        assert!((Slabs::of(&tie).area_m2() - 50.0).abs() < 1e-9);
    }

    #[test]
    fn places_fall_evenly_and_never_into_a_hole() {
        let mut area =
            Area { outer: vec![[0.0, 0.0], [20.0, 5.0], [18.0, 25.0], [-3.0, 12.0]], holes: vec![] };
        area.holes.push(vec![[6.0, 8.0], [12.0, 9.0], [10.0, 14.0]]);
        let slabs = Slabs::of(&area);
        let mut chance = Chance::new(3);
        let n = 40_000;
        let (mut east, mut left) = (0.0, 0.0);
        for _ in 0..n {
            let place = slabs.draw(&mut chance).unwrap();
            assert!(area.holds(place), "{place:?}");
            east += place[0];
            left += f64::from(place[0] < 6.0);
        }
        // Against the shoelace formula: area and first moment of the outline less those of the hole.
        let moments = |ring: &[Place]| {
            let (mut twice, mut moment) = (0.0, 0.0);
            for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                let cross = a[0] * b[1] - b[0] * a[1];
                twice += cross;
                moment += (a[0] + b[0]) * cross;
            }
            (twice / 2.0, moment / 6.0)
        };
        let ((whole, one), (hole, other)) = (moments(&area.outer), moments(&area.holes[0]));
        assert!((slabs.area_m2() - (whole - hole)).abs() < 1e-9);
        let centre = (one - other) / (whole - hole);
        assert!((east / f64::from(n) - centre).abs() < 0.15, "{} {centre}", east / f64::from(n));
        // Share west of 6 m, by the area of the cut outline.
        let west = Area {
            outer: vec![[0.0, 0.0], [6.0, 1.5], [6.0, 12.0 + 13.0 * 9.0 / 21.0], [-3.0, 12.0]],
            holes: vec![],
        };
        let share = Slabs::of(&west).area_m2() / slabs.area_m2();
        assert!((left / f64::from(n) - share).abs() < 0.01, "{} {share}", left / f64::from(n));
    }
}
