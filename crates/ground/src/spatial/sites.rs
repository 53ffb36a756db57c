//! Readings at places, as the methods of this folder take them: metres east and north of one origin.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Bounded, Refusal};
pub use crate::spatial::plane::distance_m;

crate::quantity! {
    /// Metres east of the origin.
    pub struct EastM: "metres east", "m", -2e7 ..= 2e7, example 40.0;
    /// Metres north of the origin.
    pub struct NorthM: "metres north", "m", -2e7 ..= 2e7, example 25.0;
    /// A reading, in any one unit.
    pub struct MappedValue: "reading", "", -1e9 ..= 1e9, example 6.4;
    /// A distance over the ground.
    pub struct GroundDistance: "distance", "m", 0.0 ..= 1e6, example 25.0;
}

/// East and north, in metres.
pub type Place = [f64; 2];

/// Readings nearer to each other than this stand at one place.
pub const SAME_PLACE_M: f64 = 0.001;
/// Most readings that are worked with at once.
pub const MOST_READINGS: usize = 1000;

/// A reading and where it was taken.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadingAt {
    /// Metres east.
    pub east_m: EastM,
    /// Metres north.
    pub north_m: NorthM,
    /// What was read there.
    pub value: MappedValue,
}

impl ReadingAt {
    /// A reading written in this program.
    #[must_use]
    pub fn literal(east_m: f64, north_m: f64, value: f64) -> Self {
        Self {
            east_m: EastM::literal(east_m),
            north_m: NorthM::literal(north_m),
            value: MappedValue::literal(value),
        }
    }
}

/// A place without a reading.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlaceAt {
    /// Metres east.
    pub east_m: EastM,
    /// Metres north.
    pub north_m: NorthM,
}

impl PlaceAt {
    /// A place written in this program.
    #[must_use]
    pub fn literal(east_m: f64, north_m: f64) -> Self {
        Self { east_m: EastM::literal(east_m), north_m: NorthM::literal(north_m) }
    }

    /// East and north.
    #[must_use]
    pub fn place(self) -> Place {
        [self.east_m.get(), self.north_m.get()]
    }
}

/// Two of the places that are one, if any are.
#[must_use]
pub fn twice(at: &[Place]) -> Option<(usize, usize)> {
    let mut order: Vec<usize> = (0..at.len()).collect();
    order.sort_by(|a, b| at[*a][0].total_cmp(&at[*b][0]));
    for (here, first) in order.iter().enumerate() {
        for second in &order[here + 1..] {
            if at[*second][0] - at[*first][0] > SAME_PLACE_M {
                break;
            }
            if distance_m(at[*first], at[*second]) < SAME_PLACE_M {
                return Some((*first.min(second), *first.max(second)));
            }
        }
    }
    None
}

/// Places and values of readings, checked: how many, and that no place stands there twice.
///
/// # Errors
/// Too few, too many, or two readings at one place.
pub(crate) fn sites(readings: &[ReadingAt], fewest: usize) -> Result<(Vec<Place>, Vec<f64>), Refusal> {
    let at: Vec<Place> = readings.iter().map(|one| [one.east_m.get(), one.north_m.get()]).collect();
    checked(&at, fewest)?;
    Ok((at, readings.iter().map(|one| one.value.get()).collect()))
}

/// The same for places alone.
pub(crate) fn checked(at: &[Place], fewest: usize) -> Result<(), Refusal> {
    if !(fewest..=MOST_READINGS).contains(&at.len()) {
        return Err(Refusal::new("readings", format!("{} readings were given", at.len()))
            .given(at.len())
            .accepted(format!("{fewest} to {MOST_READINGS} readings, each with its place"))
            .example(fewest.max(12)));
    }
    match twice(at) {
        None => Ok(()),
        Some((first, second)) => Err(Refusal::new(
            format!("readings[{second}]"),
            format!("this place was already given as readings[{first}]"),
        )
        .given(format!("{}, {}", at[second][0], at[second][1]))
        .accepted("one reading a place: take the mean of those from the same place")
        .example("one row with the mean of both")),
    }
}

/// Diagonal of the box around the places, m.
#[must_use]
pub fn extent_m(at: &[Place]) -> f64 {
    let side = |axis: usize| {
        let (low, high) = at.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| {
            (low.min(one[axis]), high.max(one[axis]))
        });
        if high > low { high - low } else { 0.0 }
    };
    (side(0) * side(0) + side(1) * side(1)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_given_twice_are_found() {
        assert_eq!(twice(&[[0.0, 0.0], [5.0, 1.0], [0.0, 3.0], [5.0, 1.0002]]), Some((1, 3)));
        assert_eq!(twice(&[[0.0, 0.0], [0.0, 1.0], [1.0, 0.0]]), None);
    }
}
