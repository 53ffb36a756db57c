//! An outline typed line by line: places, or sides with their bearings.

use super::bearing::bearing_degrees;
use super::coordinates::place_of;
use crate::kit::Refusal;
use crate::kit::units::{Dimension, UnitSystem, parse};
use crate::spatial::plane::{self, At};

/// An outline as typed.
#[derive(Debug, Clone, PartialEq)]
pub struct TypedCorners {
    /// The corners, as [longitude, latitude] in degrees or [east, north] in metres.
    pub corners: Vec<At>,
    /// Are they degrees?
    pub degrees: bool,
    /// What was taken otherwise than written, and how far a walk missed its start.
    pub remarks: Vec<String>,
}

/// How the lines of an outline are to be read.
enum Line {
    Place(At),
    Leg { bearing_degrees: f64, length_m: f64 },
}

/// Reads one corner a line. In degrees: latitude, longitude. Otherwise the distances east and north of the plan's
/// origin, or, line by line, a side and its bearing ("96 ft N20E") from `start` on.
///
/// # Errors
/// The first line that cannot be read, by its number.
pub fn corners_of(
    field: &str,
    text: &str,
    degrees: bool,
    farm: Option<[f64; 2]>,
    start: At,
    system: UnitSystem,
) -> Result<TypedCorners, Refusal> {
    let mut corners: Vec<At> = Vec::new();
    let mut remarks = Vec::new();
    let mut legs = false;
    for (row, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
        let at_row = |mut refusal: Refusal| {
            refusal.message = format!("line {}: {}", row + 1, refusal.message);
            refusal
        };
        if degrees {
            let place = place_of(field, line, farm).map_err(at_row)?;
            remarks.extend(place.remarks.into_iter().map(|remark| format!("Line {}: {remark}", row + 1)));
            corners.push(place.at);
            continue;
        }
        match plain_line(field, line, system).map_err(at_row)? {
            Line::Place(at) => corners.push(at),
            Line::Leg { bearing_degrees, length_m } => {
                legs = true;
                let from = *corners.last().unwrap_or(&start);
                if corners.is_empty() {
                    corners.push(start);
                }
                let (sin, cos) = libm::sincos(bearing_degrees.to_radians());
                corners.push([from[0] + length_m * sin, from[1] + length_m * cos]);
            }
        }
    }
    // A walk that comes back to its start closes itself.
    if legs && corners.len() > 3 {
        let (first, last) = (corners[0], corners[corners.len() - 1]);
        let miss = plane::distance_m(first, last);
        let round = plane::length_m(&corners);
        // A miss as long as a side is the open side itself: a strip is walked on three sides.
        let shortest =
            corners.windows(2).map(|leg| plane::distance_m(leg[0], leg[1])).fold(f64::INFINITY, f64::min);
        if miss <= round * 0.1 && miss < shortest * 0.5 {
            corners.pop();
            if miss > 0.01 {
                remarks.push(format!(
                    "The sides miss their start by {}, {} % of the way round.",
                    crate::kit::units::show(miss, Dimension::Length, system),
                    crate::kit::quantity::number((miss / round * 1000.0).round() / 10.0)
                ));
            }
        }
    }
    if !legs && corners.len() > 3 && corners.first() == corners.last() {
        corners.pop();
    }
    Ok(TypedCorners { corners, degrees, remarks })
}

fn plain_line(field: &str, line: &str, system: UnitSystem) -> Result<Line, Refusal> {
    let refused = |why: &str| {
        Refusal::new(field, why)
            .given(line.trim().chars().take(80).collect::<String>())
            .accepted("the distances east and north with a comma between, or a side and its bearing")
            .example("40 ft, 12 ft or 96 ft N20E")
    };
    let unit = Dimension::Length.unit(system);
    if let Some((east, north)) = line.split_once([',', ';', '\t']) {
        let metres = |text: &str| {
            let text = text.trim();
            let (sign, size) = match text.strip_prefix(['-', '\u{2212}']) {
                Some(rest) => (-1.0, rest.trim()),
                None => (1.0, text),
            };
            parse(size, Dimension::Length, unit).map(|value| sign * value).map_err(|error| error.at(field))
        };
        if let (Ok(east), Ok(north)) = (metres(east), metres(north)) {
            return Ok(Line::Place([east, north]));
        }
    }
    // The bearing is the longest tail, or head, that reads as one.
    let words: Vec<&str> =
        line.split(|c: char| c.is_whitespace() || c == ',').filter(|word| !word.is_empty()).collect();
    for cut in 1..words.len() {
        for (length, bearing) in [(&words[..cut], &words[cut..]), (&words[cut..], &words[..cut])] {
            let (length, bearing) = (length.join(" "), bearing.join(" "));
            // A bare number could be either: a bearing in a line of a side needs its letters or its sign.
            if bearing.chars().all(|c| c.is_ascii_digit() || c == '.') {
                continue;
            }
            if let (Ok(length_m), Ok(bearing_degrees)) =
                (parse(&length, Dimension::Length, unit), bearing_degrees(field, &bearing))
            {
                if length_m <= 0.0 || length_m > 1e5 {
                    return Err(refused("a side must be longer than nothing and no longer than 100 km"));
                }
                return Ok(Line::Leg { bearing_degrees, length_m });
            }
        }
    }
    Err(refused("this line is neither a place nor a side with its bearing"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_and_sides_line_by_line() {
        let us = UnitSystem::UsCustomary;
        let read =
            corners_of("corners", "0, 0\n100 ft, 0\n\n100, 50\n-10 m, 50", false, None, [0.0, 0.0], us)
                .unwrap();
        assert_eq!(read.corners.len(), 4);
        assert!((read.corners[1][0] - 30.48).abs() < 1e-9 && (read.corners[3][0] + 10.0).abs() < 1e-9);
        // A square walked: the end falls on the start.
        let walk = "100 ft N\n100 ft east\nS 100 ft\n100 ft N90W";
        let read = corners_of("corners", walk, false, None, [5.0, 5.0], us).unwrap();
        assert_eq!(read.corners.len(), 4, "{read:?}");
        assert!((plane::ring_area_m2(&read.corners) - 30.48 * 30.48).abs() < 1e-6);
        assert!(read.remarks.is_empty());
        let open = "100 ft N\n100 ft east\nS 100 ft\n90 ft N90W";
        let read = corners_of("corners", open, false, None, [5.0, 5.0], us).unwrap();
        assert!(read.remarks[0].contains("10 ft"), "{read:?}");
        // Three sides of a strip of 100 ft by 4 ft: four corners, 400 ft² (length times width).
        let strip = "100 ft N\n4 ft E\n100 ft S";
        let read = corners_of("corners", strip, false, None, [0.0, 0.0], us).unwrap();
        assert_eq!(read.corners.len(), 4, "{read:?}");
        assert!((plane::ring_area_m2(&read.corners) - 400.0 * 0.3048 * 0.3048).abs() < 1e-6, "{read:?}");
        let refusal = corners_of("corners", "0, 0\nup there", false, None, [0.0, 0.0], us).unwrap_err();
        assert!(refusal.message.contains("line 2"), "{refusal}");
        let degrees =
            corners_of("corners", "42.5, -93.5\n-93.499, 42.5", true, Some([-93.5, 42.5]), [0.0, 0.0], us)
                .unwrap();
        assert!(degrees.remarks[0].contains("Line 2"), "{degrees:?}");
    }

    proptest::proptest! {
        #[test]
        fn no_text_panics(text in "[\\PC\n]{0,60}", degrees in proptest::bool::ANY) {
            let _ = corners_of("corners", &text, degrees, None, [0.0, 0.0], UnitSystem::UsCustomary);
        }
    }
}
