//! From metres on the ground to places in the picture; scale bar and north arrow, for plans and maps alike.

use ground::kit::units::{Unit, UnitSystem};

use super::Place;
use crate::canvas::{At, Canvas, LETTER, SMALL, Side, rim, text};
use crate::words::number;
use svg::node::element::Path;

/// Room about the drawing.
const MARGIN: f64 = 14.0;
/// A plan is never drawn closer than this, in metres over its longer side.
const LEAST_M: f64 = 2.0;
/// Farther from the origin than this (1000 km) nothing on a farm lies.
const FARTHEST_M: f64 = 1e6;

/// Whether a place can be drawn.
pub(crate) fn is_place(at: Place) -> bool {
    at.iter().all(|metres| metres.is_finite() && metres.abs() <= FARTHEST_M)
}

/// How metres become places in the picture; north is up.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Frame {
    west: f64,
    north: f64,
    pub(crate) per_m: f64,
    left: f64,
    top: f64,
    bottom: f64,
    width: f64,
}

impl Frame {
    /// A frame that holds all of the places, `width` wide and at most `tallest` high. None without a place.
    pub(crate) fn around(places: impl Iterator<Item = Place>, width: f64, tallest: f64) -> Option<Self> {
        let mut reach: Option<[f64; 4]> = None;
        for [east, north] in places.filter(|at| is_place(*at)) {
            let [w, s, e, n] = reach.unwrap_or([east, north, east, north]);
            reach = Some([w.min(east), s.min(north), e.max(east), n.max(north)]);
        }
        let [w, s, e, n] = reach?;
        let (wide, tall) = ((e - w).max(LEAST_M / 4.0), (n - s).max(LEAST_M / 4.0));
        let (wide, tall) = if wide.max(tall) < LEAST_M { (LEAST_M, LEAST_M) } else { (wide, tall) };
        let room = (width - 2.0 * MARGIN, tallest - 2.0 * MARGIN);
        let per_m = (room.0 / wide).min(room.1 / tall);
        let middle = (f64::midpoint(w, e), f64::midpoint(s, n));
        Some(Self {
            west: middle.0 - wide / 2.0,
            north: middle.1 + tall / 2.0,
            per_m,
            left: MARGIN + (room.0 - wide * per_m) / 2.0,
            // The north arrow stands in a corner of its own above a plan that fills its width.
            top: MARGIN + 22.0,
            bottom: MARGIN + 22.0 + tall * per_m + MARGIN,
            width,
        })
    }

    /// Where a place stands in the picture.
    pub(crate) fn at(&self, [east, north]: Place) -> At {
        (self.left + (east - self.west) * self.per_m, self.top + (self.north - north) * self.per_m)
    }

    /// Lower edge of the drawing.
    pub(crate) fn bottom(&self) -> f64 {
        self.bottom
    }

    /// A bar of a round length below the drawing; gives its length in words.
    pub(crate) fn scale_bar(&self, canvas: &mut Canvas, system: UnitSystem) -> String {
        let (unit, sign) = match system {
            UnitSystem::UsCustomary => (Unit::Foot, "ft"),
            UnitSystem::Metric => (Unit::Metre, "m"),
        };
        let room = Unit::Metre.convert(self.width * 0.4 / self.per_m, unit);
        let length = round_below(room);
        let long = unit.convert(length, Unit::Metre) * self.per_m;
        let (left, y) = (10.0, self.bottom + 10.0);
        // Two halves, dark and light, as on printed plans.
        canvas.add(bar((left, y), long / 2.0, "currentColor"));
        canvas.add(bar((left + long / 2.0, y), long / 2.0, "none"));
        let words = format!("{} {sign}", number(length));
        canvas.text((left, y + 16.0), Side::Start, SMALL, "0");
        canvas.text((left + long, y + 16.0), Side::Middle, SMALL, &words);
        words
    }

    /// An arrow to the north in the upper right corner.
    pub(crate) fn north_arrow(&self, canvas: &mut Canvas) {
        let x = self.width - 16.0;
        let head = [(x, 6.0), (x + 6.0, 26.0), (x, 21.0)];
        let other = [(x, 6.0), (x - 6.0, 26.0), (x, 21.0)];
        canvas.shape_plain(&head, "currentColor");
        canvas.shape_plain(&other, "none");
        canvas.add(rim(text((x, 37.0), Side::Middle, LETTER, "N")));
    }
}

fn bar(at: At, long: f64, fill: &str) -> Path {
    Path::new()
        .set("d", crate::canvas::rectangle(at.0, at.1, long, 4.0))
        .set("fill", fill)
        .set("stroke", "currentColor")
        .set("stroke-width", 0.8)
}

/// The largest of 1, 2, 5 times a power of ten that is no more than `most`.
pub(crate) fn round_below(most: f64) -> f64 {
    if !(most.is_finite() && most > 0.0) {
        return 1.0;
    }
    let ten = 10_f64.powi(most.log10().floor() as i32);
    [5.0, 2.0, 1.0].map(|by| by * ten).into_iter().find(|length| *length <= most * 1.000_001).unwrap_or(ten)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_are_round_and_fit() {
        for (most, bar) in [(1.0, 1.0), (1.9, 1.0), (4.99, 2.0), (57.0, 50.0), (0.3, 0.2), (f64::NAN, 1.0)] {
            assert!((round_below(most) - bar).abs() < 1e-12, "{most}");
        }
    }

    #[test]
    fn north_is_up_and_one_scale_holds_both_ways() {
        let frame = Frame::around([[0.0, 0.0], [60.0, 20.0]].into_iter(), 340.0, 380.0).unwrap();
        let (a, b) = (frame.at([0.0, 0.0]), frame.at([60.0, 20.0]));
        assert!(b.0 > a.0 && b.1 < a.1);
        assert!(((b.0 - a.0) / 60.0 - (a.1 - b.1) / 20.0).abs() < 1e-9);
        assert!(Frame::around([[f64::NAN, 0.0]].into_iter(), 340.0, 380.0).is_none());
    }
}
