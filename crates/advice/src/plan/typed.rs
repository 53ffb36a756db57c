//! Places of the plan as people type them: distances from its origin, sides with bearings, or degrees.

use book::Snapshot;
use book::model::Point;
use ground::kit::units::UnitSystem;
use ground::kit::{Bounded, Refusal};
use ground::spatial::typed::{corners_of, place_of};

use super::FarmPlan;

/// [longitude, latitude] of the farm, as far as it is known.
#[must_use]
pub fn place_of_farm(snapshot: &Snapshot, plan: &FarmPlan) -> Option<Point> {
    let farm = &snapshot.farm.body;
    plan.origin.map(|origin| [origin.longitude_degrees, origin.latitude_degrees]).or_else(|| {
        farm.longitude_degrees.zip(farm.latitude_degrees).map(|(lon, lat)| [lon.get(), lat.get()])
    })
}

/// A place in metres of the plan, typed as distances or in degrees.
///
/// # Errors
/// What is no place, lies far from the farm, or cannot be placed on a plan without an origin.
pub fn typed_place(
    field: &str,
    text: &str,
    snapshot: &Snapshot,
    plan: &FarmPlan,
    system: UnitSystem,
) -> Result<(Point, Vec<String>), Refusal> {
    let plain = corners_of(field, text, false, None, [0.0, 0.0], system);
    if !degrees(text)
        && let Ok(read) = &plain
        && let [at] = read.corners.as_slice()
    {
        return Ok((*at, Vec::new()));
    }
    let read = place_of(field, text, place_of_farm(snapshot, plan))?;
    let Some(local) = plan.frame() else {
        return Err(not_fixed(field, text));
    };
    Ok((local.to_metres(read.at), read.remarks))
}

/// Corners in metres of the plan, one a line: distances, sides with bearings from `start` on, or degrees; with what was
/// taken otherwise than it was written.
///
/// # Errors
/// The first line that cannot be read, by its number.
pub fn typed_corners(
    field: &str,
    text: &str,
    start: Point,
    snapshot: &Snapshot,
    plan: &FarmPlan,
    system: UnitSystem,
) -> Result<(Vec<Point>, Vec<String>), Refusal> {
    // One line with a sign, a letter or decimals that no tape gives tells what all of them are.
    let in_degrees = text.lines().any(degrees);
    let typed = corners_of(field, text, in_degrees, place_of_farm(snapshot, plan), start, system)?;
    let corners = match (typed.degrees, plan.frame()) {
        (false, _) => typed.corners,
        (true, Some(local)) => typed.corners.iter().map(|at| local.to_metres(*at)).collect(),
        (true, None) => return Err(not_fixed(field, text.lines().next().unwrap_or_default().trim())),
    };
    Ok((corners, typed.remarks))
}

/// Pieces to cut out, parted by empty lines.
///
/// # Errors
/// The first line that cannot be read, or a piece of fewer than three corners.
pub fn typed_holes(
    field: &str,
    text: &str,
    snapshot: &Snapshot,
    plan: &FarmPlan,
    system: UnitSystem,
) -> Result<(Vec<Vec<Point>>, Vec<String>), Refusal> {
    let mut pieces: Vec<String> = vec![String::new()];
    for line in text.lines() {
        match pieces.last_mut() {
            Some(piece) if !line.trim().is_empty() => {
                piece.push_str(line);
                piece.push('\n');
            }
            Some(piece) if !piece.is_empty() => pieces.push(String::new()),
            _ => {}
        }
    }
    let (mut holes, mut remarks) = (Vec::new(), Vec::new());
    for (number, piece) in (1..).zip(pieces.iter().filter(|piece| !piece.is_empty())) {
        let (corners, said) =
            typed_corners(field, piece, [0.0, 0.0], snapshot, plan, system).map_err(|refusal| Refusal {
                message: format!("piece {number}, {}", refusal.message),
                ..refusal
            })?;
        if corners.len() < 3 {
            return Err(Refusal::new(field, format!("piece {number} has {} corners", corners.len()))
                .given(piece.trim())
                .accepted("three corners or more, one a line")
                .example("40 ft, 20 ft"));
        }
        remarks.extend(said);
        holes.push(corners);
    }
    Ok((holes, remarks))
}

fn not_fixed(field: &str, given: &str) -> Refusal {
    Refusal::new(field, "the plan is not fixed to the Earth yet, so degrees cannot be placed on it")
        .given(given)
        .accepted("distances east and north, or degrees after the plan got its place")
        .example("120 ft, 40 ft")
}

/// Degrees where a sign or letter says so, or where numbers have decimals as no tape gives them.
fn degrees(text: &str) -> bool {
    let upper = text.to_uppercase();
    if upper.contains(['\u{b0}', '\u{ba}']) && !upper.contains(" FT") {
        return true;
    }
    let has = |letters: [char; 2]| {
        letters
            .iter()
            .any(|letter| upper.split(|c: char| !c.is_alphabetic()).any(|word| word == letter.to_string()))
    };
    let units = ["FT", "M", "YD", "IN", "CM"]
        .iter()
        .any(|unit| upper.split(|c: char| !c.is_alphabetic()).any(|w| w == *unit));
    if !units && has(['N', 'S']) && has(['E', 'W']) {
        return true;
    }
    !units
        && upper
            .split([',', ';', ' '])
            .filter(|part| part.split('.').nth(1).is_some_and(|decimals| decimals.len() >= 4))
            .count()
            >= 2
}
