//! The ticks of a paper scale, true to size.

use serde::Serialize;

/// Millimetres in an inch.
const INCH_MM: f64 = 25.4;

/// A tick.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Tick {
    /// How far from zero.
    pub at_mm: f64,
    /// How long it is drawn.
    pub long_mm: f64,
    /// What stands at it; mostly nothing.
    pub label: String,
}

/// A tick every millimetre, longer at 5 and 10, numbered in centimetres.
#[must_use]
pub fn millimetres(length_mm: f64) -> Vec<Tick> {
    ticks(length_mm, 1.0, |tick| match tick {
        tick if tick % 10 == 0 => (6.0, Some(tick / 10)),
        tick if tick % 5 == 0 => (4.5, None),
        _ => (3.0, None),
    })
}

/// A tick every sixteenth of an inch, longer at 1/8, 1/4, 1/2 and 1, numbered in inches.
#[must_use]
pub fn inches(length_mm: f64) -> Vec<Tick> {
    ticks(length_mm, INCH_MM / 16.0, |tick| match tick {
        tick if tick % 16 == 0 => (6.5, Some(tick / 16)),
        tick if tick % 8 == 0 => (5.2, None),
        tick if tick % 4 == 0 => (4.2, None),
        tick if tick % 2 == 0 => (3.2, None),
        _ => (2.2, None),
    })
}

fn ticks(length_mm: f64, step_mm: f64, of: impl Fn(u32) -> (f64, Option<u32>)) -> Vec<Tick> {
    (0_u32..)
        .map(|tick| (tick, f64::from(tick) * step_mm))
        .take_while(|(_, at_mm)| *at_mm <= length_mm + 1e-9)
        .map(|(tick, at_mm)| {
            let (long_mm, number) = of(tick);
            // A number at zero would stand half below the cut.
            let label = number.filter(|number| *number > 0).map(|number| number.to_string());
            Tick { at_mm, long_mm, label: label.unwrap_or_default() }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_inches_hold_65_ticks_and_101_6_mm_hold_102() {
        // 1 in = 25.4 mm exactly (International Yard and Pound agreement, 1959).
        let inches = inches(101.6);
        assert_eq!(inches.len(), 65);
        assert!((inches[64].at_mm - 101.6).abs() < 1e-9);
        assert_eq!(inches[64].label, "4");
        assert_eq!(inches[32].label, "2");
        assert_eq!(inches[33].label, "");
        let millimetres = millimetres(101.6);
        assert_eq!(millimetres.len(), 102);
        assert_eq!(millimetres[100].label, "10");
    }
}
