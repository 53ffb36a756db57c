//! Places of the plan as people type them: distances from its origin, sides with bearings, or degrees.

use book::model::{Farm, Latitude, Longitude, PlanOrigin, Point};
use book::{BookError, Snapshot, Stamp, Writing};
use ground::kit::refusal::bounded;
use ground::kit::units::UnitSystem;
use ground::kit::{Bounded, Refusal};
use ground::spatial::typed::{corners_of, place_of};

use super::{FarmPlan, Origin};

/// Two numbers within so many degrees of the farm are degrees.
const NEAR_DEGREES: f64 = 1.0;

/// [longitude, latitude] of the farm, as far as it is known.
fn place_of_farm(snapshot: &Snapshot, plan: &FarmPlan) -> Option<Point> {
    let farm = &snapshot.farm.body;
    plan.origin.map(|origin| [origin.longitude_degrees, origin.latitude_degrees]).or_else(|| {
        farm.longitude_degrees.zip(farm.latitude_degrees).map(|(lon, lat)| [lon.get(), lat.get()])
    })
}

impl FarmPlan {
    /// The plan as it is, or, where it has no place yet and these texts are degrees, counted from the place of the farm, or
    /// else from the first place typed. [`keep_origin`] writes that down.
    #[must_use]
    pub fn fixed_by(self, snapshot: &Snapshot, texts: &[&str]) -> Self {
        if self.origin.is_some() {
            return self;
        }
        let farm = place_of_farm(snapshot, &self);
        let mut lines = texts.iter().flat_map(|text| text.lines()).filter(|line| degrees(line, farm));
        let Some(first) = lines.next() else { return self };
        let at = farm.or_else(|| place_of("", first, None).ok().map(|read| read.at));
        let origin = at.map(|[longitude_degrees, latitude_degrees]| Origin {
            latitude_degrees,
            longitude_degrees,
            given: false,
        });
        Self { origin, ..self }
    }
}

/// Writes down the origin of a plan that had none before; gives what that changes.
///
/// # Errors
/// A book that cannot be written.
pub fn keep_origin(
    writing: &mut Writing<'_>,
    snapshot: &Snapshot,
    plan: &FarmPlan,
    stamp: &Stamp,
) -> Result<Vec<String>, BookError> {
    let Some(origin) = plan.origin.filter(|_| FarmPlan::of(snapshot).origin.is_none()) else {
        return Ok(Vec::new());
    };
    let plan_origin = PlanOrigin {
        latitude_degrees: bounded::<Latitude>("first", origin.latitude_degrees)?,
        longitude_degrees: bounded::<Longitude>("first", origin.longitude_degrees)?,
    };
    let farm = Farm { plan_origin: Some(plan_origin), ..snapshot.farm.body.clone() };
    writing.revise(
        snapshot.farm.id,
        snapshot.farm.number,
        farm,
        "the plan was fixed by a place typed",
        stamp,
    )?;
    let of_farm = snapshot.farm.body.latitude_degrees.is_some();
    let from = if of_farm { "the place of the farm" } else { "the first place typed" };
    Ok(if snapshot.plan_parts.is_empty() {
        Vec::new()
    } else {
        vec![format!(
            "What was drawn before in plain distances now counts from {from}; move the origin if that is wrong."
        )]
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
    let farm = place_of_farm(snapshot, plan);
    if !degrees(text, farm)
        && let Ok(read) = &plain
        && let [at] = read.corners.as_slice()
    {
        if perhaps_degrees(text, farm) {
            return Err(are_these_degrees(field, text, system));
        }
        return Ok((*at, Vec::new()));
    }
    let read = place_of(field, text, farm).map_err(|refusal| either_way(refusal, system))?;
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
    let farm = place_of_farm(snapshot, plan);
    let in_degrees = text.lines().any(|line| degrees(line, farm));
    let mut lines = text.lines().filter(|line| !line.trim().is_empty()).peekable();
    // Among distances one line may well look like the farm's own degrees; all of them do not.
    if !in_degrees
        && let Some(first) = lines.peek().copied()
        && lines.all(|line| perhaps_degrees(line, farm))
    {
        return Err(are_these_degrees(field, first, system));
    }
    let typed = corners_of(field, text, in_degrees, farm, start, system)?;
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

fn distances(system: UnitSystem) -> &'static str {
    if system == UnitSystem::Metric { "12 m, 40 m" } else { "120 ft, 40 ft" }
}

/// A refusal of degrees that names distances too.
fn either_way(refusal: Refusal, system: UnitSystem) -> Refusal {
    let accepted = format!(
        "the distances east and north of the plan's origin with a comma between, or {}",
        refusal.accepted
    );
    let example = format!("{} or {}", distances(system), refusal.example);
    Refusal { accepted, example, ..refusal }
}

/// Are these bare numbers about those of the farm's own degrees, with whatever sign and in whatever order?
fn perhaps_degrees(text: &str, farm: Option<Point>) -> bool {
    let Some(farm) = farm else { return false };
    let numbers: Option<Vec<f64>> = text
        .split([',', ';', ' ', '\t'])
        .filter(|part| !part.is_empty())
        .map(|part| part.parse::<f64>().ok().map(f64::abs))
        .collect();
    let Some([one, other]) = numbers.as_deref() else { return false };
    let near = |one: f64, other: f64| {
        (one - farm[0].abs()).abs() < NEAR_DEGREES && (other - farm[1].abs()).abs() < NEAR_DEGREES
    };
    near(*one, *other) || near(*other, *one)
}

fn are_these_degrees(field: &str, text: &str, system: UnitSystem) -> Refusal {
    let given = text.trim();
    Refusal::new(field, format!("are these degrees? {given} are close to the degrees of the farm, but could be distances too"))
        .given(given)
        .accepted("degrees with their letters or with four decimals or more and their minus sign, or distances with their unit")
        .example(format!("42.5 N, 93.5 W or {}", distances(system)))
}

/// Degrees where a sign or letter says so, where numbers have decimals as no tape gives them, or where two numbers
/// with decimals are the farm's own degrees. A unit of length on the line says that it is none.
fn degrees(text: &str, farm: Option<Point>) -> bool {
    let upper = text.to_uppercase();
    let words: Vec<&str> = upper.split(|c: char| !c.is_alphabetic()).collect();
    let has = |letters: [&str; 2]| letters.iter().any(|letter| words.contains(letter));
    if ["FT", "M", "YD", "IN", "CM"].iter().any(|unit| words.contains(unit)) {
        return false;
    }
    // A bearing of quarters, as in N20E, is none either.
    let bearing = |word: &str| word.starts_with(['N', 'S']) && word.ends_with(['E', 'W']) && word.len() > 2;
    if upper.split([',', ';', ' ', '\t']).any(bearing) {
        return false;
    }
    if upper.contains(['\u{b0}', '\u{ba}']) || (has(["N", "S"]) && has(["E", "W"])) {
        return true;
    }
    let numbers: Vec<&str> = upper.split([',', ';', ' ', '\t']).filter(|part| part.contains('.')).collect();
    let fine =
        numbers.iter().filter(|part| part.split('.').nth(1).is_some_and(|rest| rest.len() >= 4)).count();
    let near = |farm: Point| {
        let [Ok(one), Ok(other)] = [0, 1].map(|at| numbers.get(at).copied().unwrap_or("").parse::<f64>())
        else {
            return false;
        };
        let within =
            |at: Point| (at[0] - farm[0]).abs() < NEAR_DEGREES && (at[1] - farm[1]).abs() < NEAR_DEGREES;
        within([one, other]) || within([other, one])
    };
    fine >= 2 || (numbers.len() == 2 && farm.is_some_and(near))
}
