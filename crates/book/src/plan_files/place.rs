//! Whether what came in lies where the farm does.

use ground::kit::Refusal;
use ground::kit::quantity::number;
use ground::spatial::area::distance_m;
use ground::spatial::plane;
use ground::spatial::typed::FAR_FROM_FARM_M;

use super::ReadPlan;
use crate::model::{Form, Frame, Point};

/// Sees to it that every place is on the Earth and near the farm; numbers that were swapped throughout are put right
/// and that is told.
pub(super) fn check(read: &mut ReadPlan, farm: Option<Point>) -> Result<(), Refusal> {
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
        read.remarks.push(
            "The numbers of this file stood as latitude, longitude; GeoJSON and WKT want longitude first. As written \
             they lie nowhere near the farm, so they were taken the other way round."
                .to_owned(),
        );
        return Ok(());
    }
    let Some(wrong) = degrees.iter().find(|at| !fits(**at, farm)) else { return Ok(()) };
    let on_earth = wrong[0].abs() <= 180.0 && wrong[1].abs() <= 90.0;
    let message = match farm {
        Some(farm) if on_earth => format!(
            "a place in this file ({}°, {}°) lies {} km from the farm; nothing was taken in. If the file is right, mend \
             the place of the farm on its plan first",
            number(wrong[1]),
            number(wrong[0]),
            number((distance_m(farm, *wrong) / 1000.0).round())
        ),
        _ => {
            format!("{}, {} is no place in degrees; nothing was taken in", number(wrong[0]), number(wrong[1]))
        }
    };
    Err(Refusal::new("file", message)
        .given(format!("[{}, {}]", wrong[0], wrong[1]))
        .accepted("longitude, then latitude, in degrees, within 100 km of the farm")
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
