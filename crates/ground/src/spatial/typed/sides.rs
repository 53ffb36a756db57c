//! A rectangle by its sides: "30 x 96 ft, long side N20E".

use super::bearing::bearing_degrees;
use crate::kit::Refusal;
use crate::kit::units::{Dimension, UnitSystem, parse};
use crate::spatial::plane::At;

/// A rectangle as typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TypedSides {
    /// Short side.
    pub short_m: f64,
    /// Long side.
    pub long_m: f64,
    /// Way the long side runs, degrees clockwise from north; none where nothing was said.
    pub long_bearing_degrees: Option<f64>,
}

impl TypedSides {
    /// The corners: along the long side from `first`, then to the right. Without a bearing the long side runs
    /// north.
    #[must_use]
    pub fn corners(&self, first: At) -> [At; 4] {
        let (sin, cos) = libm::sincos(self.long_bearing_degrees.unwrap_or(0.0).to_radians());
        let along = [sin * self.long_m, cos * self.long_m];
        let across = [cos * self.short_m, -sin * self.short_m];
        [
            first,
            [first[0] + across[0], first[1] + across[1]],
            [first[0] + across[0] + along[0], first[1] + across[1] + along[1]],
            [first[0] + along[0], first[1] + along[1]],
        ]
    }

    /// The corners about a middle.
    #[must_use]
    pub fn corners_about(&self, middle: At) -> [At; 4] {
        let corners = self.corners([0.0, 0.0]);
        let half = [corners[2][0] / 2.0, corners[2][1] / 2.0];
        corners.map(|at| [middle[0] + at[0] - half[0], middle[1] + at[1] - half[1]])
    }
}

/// Sides longer than this (5 km) are no sides of a plot.
const LONGEST_M: f64 = 5_000.0;

/// Reads a rectangle by its sides and the bearing of one of them. A number without unit is in the farm's.
///
/// # Errors
/// What cannot be read, with an example.
pub fn sides_of(field: &str, text: &str, system: UnitSystem) -> Result<TypedSides, Refusal> {
    let example = match system {
        UnitSystem::UsCustomary => "30 x 96 ft, long side N20E",
        UnitSystem::Metric => "20 by 60 m, long side 110°",
    };
    let refused = |why: &str| {
        Refusal::new(field, why)
            .given(text.trim().chars().take(80).collect::<String>())
            .accepted("two sides and the bearing of the long one (or of the short side)")
            .example(example)
    };
    let lower = text.trim().to_lowercase();
    let (sides, bearing, of_long) = parted(&lower);
    let sides = sides.trim().trim_end_matches([',', ';']).replace(['\u{d7}', '*'], " x ");
    let sides = sides.replace(" by ", " x ");
    let (one, two) =
        sides.split_once('x').ok_or_else(|| refused("two sides are needed, with an x between them"))?;
    if two.contains('x') {
        return Err(refused("there are more than two sides here"));
    }
    let (mut one, two) = (one.trim().to_owned(), two.trim().to_owned());
    if one.is_empty() || two.is_empty() {
        return Err(refused("one of the sides is missing"));
    }
    // "30 x 96 ft": the unit stands for both.
    if one.chars().all(|c| c.is_ascii_digit() || " .,/".contains(c)) {
        one.push_str(two.trim_start_matches(|c: char| c.is_ascii_digit() || " .,/".contains(c)));
    }
    let length = |text: &str| {
        parse(text, Dimension::Length, Dimension::Length.unit(system)).map_err(|error| error.at(field))
    };
    let (one, two) = (length(&one)?, length(&two)?);
    if one.min(two) <= 0.0 || one.max(two) > LONGEST_M {
        return Err(refused("a side must be longer than nothing and no longer than 5 km (3 miles)"));
    }
    let long_bearing_degrees = match bearing {
        None => None,
        Some(text) => {
            let degrees = bearing_degrees(field, text)?;
            Some(if of_long { degrees } else { (degrees + 90.0).rem_euclid(360.0) })
        }
    };
    Ok(TypedSides { short_m: one.min(two), long_m: one.max(two), long_bearing_degrees })
}

/// The sides, the bearing, and whether it is that of the long side.
fn parted(text: &str) -> (&str, Option<&str>, bool) {
    for (words, of_long) in [("long side", true), ("short side", false), ("bearing", true)] {
        if let Some(at) = text.find(words) {
            let after = text[at + words.len()..].trim_start_matches([' ', ':', '=']);
            let after = ["bears ", "bearing ", "runs ", "at "]
                .iter()
                .find_map(|word| after.strip_prefix(word))
                .unwrap_or(after);
            return (&text[..at], Some(after), of_long);
        }
    }
    match text.rsplit_once([',', ';']) {
        // A comma may also stand in a number: "1,5 x 3 m".
        Some((sides, rest)) if sides.contains(['x', '\u{d7}', '*']) || sides.contains(" by ") => {
            let number = rest.trim_start().starts_with(|c: char| c.is_ascii_digit())
                && !rest.contains(['\u{b0}'])
                && sides.ends_with(|c: char| c.is_ascii_digit());
            if number { (text, None, true) } else { (sides, Some(rest.trim()), true) }
        }
        _ => (text, None, true),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spatial::plane;

    #[test]
    fn sides_are_read_with_their_bearing() {
        let us = UnitSystem::UsCustomary;
        for (text, short, long, bearing) in [
            ("30 x 96 ft, long side N20E", 9.144, 29.2608, Some(20.0)),
            ("30 \u{d7} 96 ft, long side N20E", 9.144, 29.2608, Some(20.0)),
            ("20 by 60 m, long side 110°", 20.0, 60.0, Some(110.0)),
            ("60 m x 20 m, short side north", 20.0, 60.0, Some(90.0)),
            ("30x96", 9.144, 29.2608, None),
            ("30 ft x 96 ft, N20E", 9.144, 29.2608, Some(20.0)),
            ("1,5 x 3 m", 1.5, 3.0, None),
        ] {
            let read = sides_of("sides", text, us).unwrap();
            assert!(
                (read.short_m - short).abs() < 1e-9 && (read.long_m - long).abs() < 1e-9,
                "{text}: {read:?}"
            );
            assert_eq!(read.long_bearing_degrees, bearing, "{text}");
        }
        for text in
            ["", "30", "30 x", "x 30", "30 x 96 x 4 ft", "0 x 4 ft", "30 x 96 ft, long side uphill", "a x b"]
        {
            assert!(!sides_of("sides", text, us).unwrap_err().example.is_empty(), "{text}");
        }
    }

    /// Sides and area of the drawn rectangle; N90E runs due east.
    #[test]
    fn the_corners_make_the_rectangle() {
        let sides = TypedSides { short_m: 9.0, long_m: 29.0, long_bearing_degrees: Some(20.0) };
        let corners = sides.corners([100.0, -50.0]);
        assert!((plane::signed_area_m2(&corners) - 261.0).abs() < 1e-9);
        let along = [corners[3][0] - corners[0][0], corners[3][1] - corners[0][1]];
        assert!((libm::atan2(along[0], along[1]).to_degrees() - 20.0).abs() < 1e-9);
        let east =
            TypedSides { short_m: 1.0, long_m: 2.0, long_bearing_degrees: Some(90.0) }.corners([0.0, 0.0]);
        assert!((east[3][0] - 2.0).abs() < 1e-12 && east[3][1].abs() < 1e-12);
        let about = sides.corners_about([5.0, 6.0]);
        let middle = plane::centre(&about).unwrap();
        assert!((middle[0] - 5.0).abs() < 1e-9 && (middle[1] - 6.0).abs() < 1e-9);
    }

    proptest::proptest! {
        #[test]
        fn no_text_panics(text in ".{0,40}") {
            let _ = sides_of("sides", &text, UnitSystem::Metric);
            let _ = bearing_degrees("b", &text);
        }
    }
}
