//! Whether what came in lies where the farm does.

use ground::kit::Refusal;
use ground::kit::quantity::number;
use ground::spatial::area::distance_m;
use ground::spatial::plane;
use ground::spatial::typed::{FAR_FROM_FARM_M, far_from_farm};

use super::ReadPlan;
use crate::model::{Form, Frame, Point};

/// How a file tells its places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FileForm {
    GeoJson,
    Gpx,
    Table,
}

/// Degrees that are not told as one number.
pub(super) fn not_one_number(what: String, given: &str) -> Refusal {
    Refusal::new(
        "file",
        format!(
            "{what} is not one number: degrees with decimals are wanted, with a minus sign for south and west"
        ),
    )
    .given(given.chars().take(60).collect::<String>())
    .accepted(
        "a latitude or longitude as one number of degrees; 42° 30.07' N is 42.5012, 93° 29.92' W is -93.4987",
    )
    .example("42.5012")
}

/// Sees to it that every place is on the Earth and near the farm; numbers that were swapped throughout are put right
/// and that is told.
pub(super) fn check(read: &mut ReadPlan, farm: Option<Point>, form: FileForm) -> Result<(), Refusal> {
    let degrees: Vec<Point> = read
        .parts
        .iter()
        .filter(|part| part.outline.frame == Frame::Wgs84)
        .flat_map(|part| part.outline.points())
        .collect();
    let [sound, swapped] = [false, true].map(|swap| {
        degrees.iter().all(|at| {
            let at = if swap { [at[1], at[0]] } else { *at };
            fits(at, farm)
        })
    });
    if sound || degrees.is_empty() {
        return Ok(());
    }
    if swapped {
        for part in &mut read.parts {
            if part.outline.frame == Frame::Wgs84 {
                each(&mut part.outline.form, |at| *at = [at[1], at[0]]);
            }
        }
        let swapped = match form {
            FileForm::GeoJson => {
                "The numbers of this file stood as latitude, longitude; GeoJSON wants longitude first."
            }
            FileForm::Gpx => "In this file the latitudes stand under lon and the longitudes under lat.",
            FileForm::Table => "In this table latitude and longitude are swapped; WKT wants longitude first.",
        };
        let why = match farm {
            Some(_) => "As written they lie nowhere near the farm",
            None => "As written some are no places on the Earth",
        };
        read.remarks.push(format!("{swapped} {why}, so they were taken the other way round."));
        return Ok(());
    }
    let Some(wrong) = degrees.iter().find(|at| !fits(**at, farm)) else { return Ok(()) };
    let on_earth = wrong[0].abs() <= 180.0 && wrong[1].abs() <= 90.0;
    let message = match farm {
        Some(farm) if on_earth => format!(
            "a place in this file ({}°, {}°) lies {}; nothing was taken in. If the file is right, mend \
             the place of the farm on its plan first",
            number(wrong[1]),
            number(wrong[0]),
            far_from_farm(distance_m(farm, *wrong))
        ),
        _ => {
            format!("{}, {} is no place in degrees; nothing was taken in", number(wrong[0]), number(wrong[1]))
        }
    };
    Err(Refusal::new("file", message)
        .given(format!("[{}, {}]", wrong[0], wrong[1]))
        .accepted("longitude, then latitude, in degrees, within 100 km (62 miles) of the farm")
        .example("[-93.5, 42.5]"))
}

fn fits(at: Point, farm: Option<Point>) -> bool {
    at[0].abs() <= 180.0
        && at[1].abs() <= 90.0
        // Not a number fits nowhere.
        && farm.is_none_or(|farm| distance_m(farm, at) <= FAR_FROM_FARM_M)
}

pub(super) fn each(form: &mut Form, mut change: impl FnMut(&mut Point)) {
    match form {
        Form::Point { at } => change(at),
        Form::Line { through } => through.iter_mut().for_each(change),
        Form::Area { outer, holes } => {
            outer.iter_mut().chain(holes.iter_mut().flatten()).for_each(change);
        }
    }
}

/// The ring from the same place on, against the clock or with it.
pub(super) fn turned(ring: &[Point], against_the_clock: bool) -> Vec<Point> {
    let mut ring = ring.to_vec();
    if (plane::signed_area_m2(&ring) > 0.0) != against_the_clock && ring.len() > 1 {
        ring[1..].reverse();
    }
    ring
}
