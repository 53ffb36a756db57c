//! The ruler beside the jar, in the farm's unit.

use ground::kit::units::UnitSystem;

use super::glass::Scale;
use crate::canvas::{Canvas, SMALL, Side};

const MM_PER_INCH: f64 = 25.4;
const X: f64 = 44.0;
/// Ticks closer than this run together.
const APART: f64 = 3.5;
const LETTERS_APART: f64 = 13.0;

/// Draws the ruler from the floor to the jar's top: inches and their halves to sixteenths, or
/// centimetres and millimetres, as fine as can be told apart.
pub(super) fn draw(canvas: &mut Canvas, scale: &Scale, system: UnitSystem) {
    let (unit_mm, parts, name): (f64, &[u32], &str) = match system {
        UnitSystem::UsCustomary => (MM_PER_INCH, &[16, 8, 4, 2, 1], "in"),
        UnitSystem::Metric => (10.0, &[10, 2, 1], "cm"),
    };
    let per_unit = scale.units_per_mm() * unit_mm;
    let part = parts.iter().copied().find(|part| per_unit / f64::from(*part) >= APART).unwrap_or(1);
    let numbered =
        [1, 2, 5, 10, 20, 50].into_iter().find(|step| per_unit * f64::from(*step) >= LETTERS_APART);
    let numbered = numbered.unwrap_or(100);
    let coarse = if per_unit >= APART { 1 } else { numbered };
    let count = (scale.jar_mm / unit_mm * f64::from(part)).floor().clamp(0.0, 20_000.0) as u32;
    for (low, high) in scale.pieces(0.0, scale.jar_mm) {
        canvas.line((X, scale.y(low)), (X, scale.y(high - 1e-9)), 1.0);
    }
    for tick in (0..=count).filter(|tick| tick % coarse == 0) {
        let mm = f64::from(tick) / f64::from(part) * unit_mm;
        if scale.left_out.is_some_and(|(low, high)| mm > low && mm < high) {
            continue;
        }
        let y = scale.y(mm);
        let (whole, half) = (tick % part == 0, (tick * 2) % part == 0);
        let long = if whole {
            9.0
        } else if half {
            6.0
        } else {
            3.5
        };
        canvas.line((X - long, y), (X, y), if whole { 1.2 } else { 0.7 });
        if whole && (tick / part).is_multiple_of(numbered) {
            canvas.text((X - 12.0, y + 4.0), Side::End, SMALL, &(tick / part).to_string());
        }
    }
    canvas.text((X, scale.y(scale.jar_mm) - 10.0), Side::End, SMALL, name);
}
