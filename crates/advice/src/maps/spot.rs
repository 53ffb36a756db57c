//! Where on a plot a bag was taken, as people type it and as they read it again.

use book::model::UnitSystem;
use book::model::plan::{Frame, Spot};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, show};
use ground::spatial::typed::{corners_of, place_of};

/// Reads a place: distances east and north of the plan's origin ("120 ft, 40 ft"), or degrees with their letters
/// ("42.5012 N, 93.4987 W"): without letters a swap could not be seen here.
///
/// # Errors
/// What is no place.
pub fn typed_spot(field: &str, text: &str, system: UnitSystem) -> Result<Spot, Refusal> {
    if lettered(text) {
        return Ok(Spot::placed(Frame::Wgs84, place_of(field, text, None)?.at));
    }
    let read = corners_of(field, text, false, None, [0.0, 0.0], system);
    match read.as_ref().map(|read| read.corners.as_slice()) {
        Ok([at]) => Ok(Spot::placed(Frame::Metres, *at)),
        _ => Err(Refusal::new(field, "this is no place on the plan")
            .given(text.trim().chars().take(60).collect::<String>())
            .accepted(
                "the distances east and north of the plan's origin with a comma between, or degrees with their letters",
            )
            .example("120 ft, 40 ft or 42.5012 N, 93.4987 W")),
    }
}

/// Do letters say which number is which, and no unit that they are distances?
fn lettered(text: &str) -> bool {
    let upper = text.to_uppercase();
    let words: Vec<&str> =
        upper.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty()).collect();
    let any = |of: &[&str]| words.iter().any(|word| of.contains(word));
    any(&["N", "S"]) && any(&["E", "W"]) && !any(&["FT", "M", "YD", "IN", "CM"])
}

/// A place as it is typed; that of a point of a plan by its number.
#[must_use]
pub fn spot_words(spot: &Spot, system: UnitSystem) -> String {
    match (spot.at, spot.number) {
        (Some(located), _) if located.frame == Frame::Wgs84 => {
            let [longitude, latitude] = located.at;
            let letter = |value: f64, above: char, below: char| if value < 0.0 { below } else { above };
            format!(
                "{:.6} {}, {:.6} {}",
                latitude.abs(),
                letter(latitude, 'N', 'S'),
                longitude.abs(),
                letter(longitude, 'E', 'W')
            )
        }
        (Some(located), _) => {
            let [east, north] = located.at.map(|metres| {
                let size = show(metres.abs(), Dimension::Length, system);
                if metres < 0.0 { format!("-{size}") } else { size }
            });
            format!("{east}, {north}")
        }
        (None, Some(number)) => format!("point {number} of its plan"),
        (None, None) => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A foot is 0.3048 m exactly.
    #[test]
    fn distances_and_lettered_degrees_are_read_and_come_back() {
        let us = UnitSystem::UsCustomary;
        let spot = typed_spot("spot", "120 ft, -40 ft", us).expect("a place");
        let at = spot.at.expect("a place").at;
        assert!((at[0] - 36.576).abs() < 1e-9 && (at[1] + 12.192).abs() < 1e-9, "{at:?}");
        assert_eq!(typed_spot("spot", &spot_words(&spot, us), us).expect("it comes back"), spot);
        let degrees = typed_spot("spot", "42.5012 N, 93.4987 W", us).expect("a place");
        assert_eq!(degrees.at.expect("a place").at, [-93.4987, 42.5012]);
        assert_eq!(typed_spot("spot", &spot_words(&degrees, us), us).expect("it comes back"), degrees);
        for wrong in ["by the gate", "12 m", "10 m, 20 m\n30 m, 40 m", ""] {
            let refusal = typed_spot("spot", wrong, us).expect_err(wrong);
            assert_eq!(refusal.field, "spot");
        }
    }
}
