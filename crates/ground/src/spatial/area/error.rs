//! How far an area can be off when the corners are.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::spatial::plane::{self, At};

crate::quantity! {
    /// Standard deviation of a corner, east and north alike.
    pub struct PositionError: "standard deviation of a corner", "m", 0.0 ..= 1000.0, example 3.0;
    /// Metres east or north of a corner.
    pub struct PlaneCorner: "place of a corner", "m", -100000.0 ..= 100000.0, example 20.0;
}

/// Standard deviation of the area of a ring whose corners are each off by `sd_m` in either direction,
/// independently: σ_A² = σ²/4 · Σ |p(i+1) − p(i−1)|².
#[must_use]
pub fn area_error_m2(ring: &[At], sd_m: f64) -> f64 {
    let count = ring.len();
    if count < 3 {
        return 0.0;
    }
    let sum: f64 = (0..count)
        .map(|i| plane::distance_m(ring[(i + count - 1) % count], ring[(i + 1) % count]))
        .map(|chord| chord * chord)
        .sum();
    sd_m / 2.0 * sum.sqrt()
}

/// Input of `area-error`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AreaErrorInput {
    /// Corners in order, metres [east, north].
    pub corners_m: Vec<[PlaneCorner; 2]>,
    /// Standard deviation of each corner.
    pub corner_sd_m: PositionError,
}

/// Output of `area-error`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct AreaErrorOutput {
    /// Area.
    pub area_m2: f64,
    /// Its standard deviation.
    pub area_sd_m2: f64,
    /// The same as a share of the area.
    pub area_sd_percent: f64,
}

/// Error of a walked area.
pub struct AreaError;

impl Method for AreaError {
    type Input = AreaErrorInput;
    type Output = AreaErrorOutput;

    const CARD: Card = Card {
        name: "area-error",
        title: "How far a walked area can be off",
        topic: Topic::Spatial,
        computes: "Standard deviation of an area whose corners were taken with a phone or read off a picture. On a \
                   small plot the error of a phone is a sixth of the area: measure its sides with a tape and use the \
                   phone only to place it.",
        validity: &[
            "First order in the error: corners that are off by much less than the sides are long.",
            "Corners off independently. Errors of one walk within minutes go the same way, so its shape, and area, is \
             better than this.",
        ],
        sources: &[Cite::new("ChrismanYandell1988", "variance of the area of a polygon")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let at = |east, north| [PlaneCorner::literal(east), PlaneCorner::literal(north)];
        AreaErrorInput {
            corners_m: vec![at(0.0, 0.0), at(50.0, 0.0), at(50.0, 20.0), at(0.0, 20.0)],
            corner_sd_m: PositionError::literal(3.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.corners_m.len() < 3 {
            return Err(Refusal::new("corners_m", "an outline needs three corners or more")
                .given(input.corners_m.len())
                .accepted("3 corners or more")
                .example("4"));
        }
        let ring: Vec<At> = input.corners_m.iter().map(|at| at.map(Bounded::get)).collect();
        let area_m2 = plane::ring_area_m2(&ring);
        if area_m2 <= 0.0 {
            return Err(Refusal::new("corners_m", "these corners enclose no ground")
                .given("an area of 0")
                .accepted("corners that do not lie on one line")
                .example("[[0, 0], [50, 0], [50, 20], [0, 20]]"));
        }
        let area_sd_m2 = area_error_m2(&ring, input.corner_sd_m.get());
        let output = AreaErrorOutput { area_m2, area_sd_m2, area_sd_percent: 100.0 * area_sd_m2 / area_m2 };
        Ok(Answer::with_notes(
            output,
            vec![Note::new(
                NoteKind::Provenance,
                "The equation follows from the surveyor's formula by first-order propagation; its publication is \
                 recalled and was not read.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "standard deviation of the area",
                "σ/2 · √(Σ |p(i+1) − p(i−1)|²), p the corners in order",
                format!("{}/2 · √(…) over {} corners", input.corner_sd_m.get(), input.corners_m.len()),
                format!("{:.1} m² ({:.0} %)", answer.value.area_sd_m2, answer.value.area_sd_percent),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A rectangle a × b: σ √(a² + b²) (by hand from the formula). The reverse comes by simulation: the spread of
    /// 20,000 areas with corners drawn off place.
    #[test]
    fn the_formula_holds_in_simulation() {
        let ring = [[0.0, 0.0], [50.0, 0.0], [50.0, 20.0], [0.0, 20.0]];
        let sd = area_error_m2(&ring, 3.0);
        assert!((sd - 3.0 * 2900.0_f64.sqrt()).abs() < 1e-9);
        let mut chance = crate::kit::chance::Chance::new(8);
        let areas: Vec<f64> = (0..20_000)
            .map(|_| {
                let off: Vec<At> = ring
                    .iter()
                    .map(|at| [at[0] + 3.0 * chance.normal(), at[1] + 3.0 * chance.normal()])
                    .collect();
                plane::signed_area_m2(&off)
            })
            .collect();
        let mean = areas.iter().sum::<f64>() / 20_000.0;
        let drawn = (areas.iter().map(|a| (a - mean) * (a - mean)).sum::<f64>() / 19_999.0).sqrt();
        assert!((drawn / sd - 1.0).abs() < 0.03, "{drawn} {sd}");
    }
}
