//! Bearings: "N20E", "S 45° 30' W", "110°", "north-east".

use crate::kit::Refusal;
use crate::kit::quantity::number;

/// The eight winds by their letters and words.
const WINDS: [(&str, &str, f64); 8] = [
    ("N", "NORTH", 0.0),
    ("NE", "NORTHEAST", 45.0),
    ("E", "EAST", 90.0),
    ("SE", "SOUTHEAST", 135.0),
    ("S", "SOUTH", 180.0),
    ("SW", "SOUTHWEST", 225.0),
    ("W", "WEST", 270.0),
    ("NW", "NORTHWEST", 315.0),
];

/// Reads a bearing, in degrees clockwise from north, 0 to below 360.
///
/// # Errors
/// What is no bearing, in words.
pub fn bearing_degrees(field: &str, text: &str) -> Result<f64, Refusal> {
    let refused = |why: String| {
        Refusal::new(field, why)
            .given(text.trim().chars().take(60).collect::<String>())
            .accepted("a quadrant bearing, degrees clockwise from north, or a wind")
            .example("N20E, 110° or north-east")
    };
    let plain: String =
        text.to_uppercase().chars().filter(|c| c.is_ascii_alphanumeric() || ".,-".contains(*c)).collect();
    let spelt: String = plain.replace('-', "");
    if let Some((_, _, degrees)) = WINDS.iter().find(|(short, long, _)| spelt == *short || spelt == *long) {
        return Ok(*degrees);
    }
    let upper = text.trim().to_uppercase();
    let first = upper.chars().next();
    let last = upper.chars().last();
    if let (Some(pole @ ('N' | 'S')), Some(side @ ('E' | 'W'))) = (first, last) {
        let middle = &upper[pole.len_utf8()..upper.len() - side.len_utf8()];
        let angle = angle(middle).ok_or_else(|| {
            refused(format!("between {pole} and {side} there must be an angle, for example {pole}20{side}"))
        })?;
        if !(0.0..=90.0).contains(&angle) {
            return Err(refused(format!(
                "a quadrant bearing turns 0 to 90° from {}, but {}° was given",
                if pole == 'N' { "north" } else { "south" },
                number(angle)
            )));
        }
        let degrees = match (pole, side) {
            ('N', 'E') => angle,
            ('N', _) => 360.0 - angle,
            (_, 'E') => 180.0 - angle,
            _ => 180.0 + angle,
        };
        return Ok(if degrees >= 360.0 { 0.0 } else { degrees });
    }
    let bare = upper.trim_end_matches("DEGREES").trim_end_matches("DEG").trim();
    let degrees = angle(bare).ok_or_else(|| refused("this is not a bearing".to_owned()))?;
    if !(0.0..=360.0).contains(&degrees) {
        return Err(refused(format!(
            "a bearing lies between 0 and 360°, but {}° was given",
            number(degrees)
        )));
    }
    Ok(if degrees >= 360.0 { 0.0 } else { degrees })
}

/// Degrees, with minutes and seconds behind where they are written.
fn angle(text: &str) -> Option<f64> {
    let parts: Vec<&str> = text
        .split(|c: char| c.is_whitespace() || "°º'\u{2032}\u{2033}\"".contains(c))
        .filter(|part| !part.is_empty())
        .collect();
    let mut value = 0.0;
    for (at, part) in parts.iter().enumerate() {
        let number: f64 = part.replace(',', ".").parse().ok().filter(|number: &f64| number.is_finite())?;
        match at {
            0 => value = number,
            1 | 2 if (0.0..60.0).contains(&number) => value += number / [60.0, 3600.0][at - 1],
            _ => return None,
        }
    }
    (!parts.is_empty()).then_some(value)
}

/// A bearing as it is told: "N 20° E".
#[must_use]
pub fn bearing_words(degrees: f64) -> String {
    let degrees = degrees.rem_euclid(360.0);
    let (pole, turn, side) = match degrees {
        d if d <= 90.0 => ("N", d, "E"),
        d if d <= 180.0 => ("S", 180.0 - d, "E"),
        d if d <= 270.0 => ("S", d - 180.0, "W"),
        d => ("N", 360.0 - d, "W"),
    };
    let turn = (turn * 10.0).round() / 10.0;
    match turn {
        0.0 => if pole == "N" { "north" } else { "south" }.to_owned(),
        90.0 => if side == "E" { "east" } else { "west" }.to_owned(),
        t => format!("{pole} {}° {side}", number(t)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Quadrant bearings and azimuths by the surveyor's rule: N θ E = θ, S θ E = 180 − θ, S θ W = 180 + θ,
    /// N θ W = 360 − θ.
    #[test]
    fn quadrants_and_azimuths() {
        for (text, degrees) in [
            ("N20E", 20.0),
            ("n 20° e", 20.0),
            ("S20E", 160.0),
            ("S 45°30' W", 225.5),
            ("N0W", 0.0),
            ("N10W", 350.0),
            ("110°", 110.0),
            ("110 deg", 110.0),
            ("360", 0.0),
            ("north-east", 45.0),
            ("N E", 45.0),
            ("E", 90.0),
            ("12,5", 12.5),
        ] {
            assert!((bearing_degrees("bearing", text).unwrap() - degrees).abs() < 1e-9, "{text}");
        }
        for text in ["", "N95E", "NE20", "400", "-10", "up the hill", "N20E30", "1 70", "NaN", "inf"] {
            let refusal = bearing_degrees("bearing", text).unwrap_err();
            assert!(!refusal.example.is_empty() && refusal.field == "bearing", "{text}");
        }
    }

    #[test]
    fn bearings_are_told_and_read_back() {
        for degrees in [0.0, 20.0, 90.0, 110.0, 180.0, 200.5, 270.0, 359.0] {
            let told = bearing_words(degrees);
            assert!((bearing_degrees("b", &told).unwrap() - degrees).abs() < 0.051, "{told}");
        }
    }
}
