//! Depths and amounts of water as a picture shows them, in the units of the farm.

use ground::kit::Spread;
use ground::kit::units::{Unit, UnitSystem};

use crate::words::number;

/// Depths beyond this (1 km) are no depths in a field.
const DEEPEST_CM: f64 = 1e5;
/// More water than this (10 m) is no rain, watering or deficit.
const MOST_WATER_MM: f64 = 1e4;

/// What values are shown in.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shown {
    from: Unit,
    to: Unit,
    /// As written after a number.
    pub(crate) unit: &'static str,
    /// Decimals.
    places: usize,
}

impl Shown {
    const fn new(from: Unit, to: Unit, unit: &'static str, places: usize) -> Self {
        Self { from, to, unit, places }
    }

    /// Depth in the ground, kept in cm: in or cm.
    pub(crate) fn depth(system: UnitSystem) -> Self {
        match system {
            UnitSystem::UsCustomary => Self::new(Unit::Centimetre, Unit::Inch, "in", 0),
            UnitSystem::Metric => Self::new(Unit::Centimetre, Unit::Centimetre, "cm", 0),
        }
    }

    /// Depth of a drain, kept in cm: ft or m.
    pub(crate) fn deep(system: UnitSystem) -> Self {
        match system {
            UnitSystem::UsCustomary => Self::new(Unit::Centimetre, Unit::Foot, "ft", 1),
            UnitSystem::Metric => Self::new(Unit::Centimetre, Unit::Metre, "m", 2),
        }
    }

    /// Distance over the ground, kept in m: ft or m.
    pub(crate) fn distance(system: UnitSystem) -> Self {
        match system {
            UnitSystem::UsCustomary => Self::new(Unit::Metre, Unit::Foot, "ft", 0),
            UnitSystem::Metric => Self::new(Unit::Metre, Unit::Metre, "m", 1),
        }
    }

    /// Water as a depth, kept in mm: in or mm.
    pub(crate) fn water(system: UnitSystem) -> Self {
        match system {
            UnitSystem::UsCustomary => Self::new(Unit::Millimetre, Unit::Inch, "in", 2),
            UnitSystem::Metric => Self::new(Unit::Millimetre, Unit::Millimetre, "mm", 0),
        }
    }

    /// Water as a volume, kept in L: gal or L.
    pub(crate) fn volume(system: UnitSystem) -> Self {
        match system {
            UnitSystem::UsCustomary => Self::new(Unit::Litre, Unit::Gallon, "gal", 0),
            UnitSystem::Metric => Self::new(Unit::Litre, Unit::Litre, "L", 0),
        }
    }

    /// The value in the shown unit.
    pub(crate) fn convert(self, value: f64) -> f64 {
        self.from.convert(value, self.to)
    }

    /// The number alone.
    pub(crate) fn number(self, value: f64) -> String {
        let value = self.convert(value);
        if !value.is_finite() {
            return "not known".to_owned();
        }
        let text = format!("{value:.*}", self.places);
        // No nought below nought.
        if text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.') {
            text.trim_start_matches('-').to_owned()
        } else {
            text
        }
    }

    /// The number with its unit.
    pub(crate) fn say(self, value: f64) -> String {
        let number = self.number(value);
        if value.is_finite() { format!("{number} {}", self.unit) } else { number }
    }

    /// "3.1 to 4.2 in".
    pub(crate) fn range(self, spread: Spread) -> String {
        format!("{} to {}", self.number(spread.low), self.say(spread.high))
    }
}

/// A share of the volume in percent.
pub(crate) fn by_volume(water_m3_m3: f64) -> String {
    number((water_m3_m3 * 1000.0).round() / 10.0)
}

/// Three finite numbers in ascending order between `least` and `most`.
fn in_order(spread: &Spread, least: f64, most: f64) -> bool {
    let Spread { low, median, high } = *spread;
    [low, median, high].iter().all(|value| (least..=most).contains(value)) && low <= median && median <= high
}

/// Whether a water content can be drawn.
pub(crate) fn is_content(spread: &Spread) -> bool {
    in_order(spread, 0.0, 1.0)
}

/// Whether a deficit or surplus of water can be drawn.
pub(crate) fn is_water_spread(spread: &Spread) -> bool {
    in_order(spread, -MOST_WATER_MM, MOST_WATER_MM)
}

/// Whether an amount of water can be drawn.
pub(crate) fn is_water(water_mm: f64) -> bool {
    (0.0..=MOST_WATER_MM).contains(&water_mm)
}

/// Whether a depth in the ground can be drawn.
pub(crate) fn is_depth(depth_cm: f64) -> bool {
    (0.0..=DEEPEST_CM).contains(&depth_cm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_said_in_the_units_of_the_farm() {
        // The inch is 25.4 mm, the US gallon 231 cubic inches (NIST SP 811).
        assert_eq!(Shown::water(UnitSystem::UsCustomary).say(25.4), "1.00 in");
        assert_eq!(Shown::water(UnitSystem::Metric).say(25.4), "25 mm");
        assert_eq!(Shown::volume(UnitSystem::UsCustomary).say(378.541), "100 gal");
        assert_eq!(Shown::deep(UnitSystem::UsCustomary).say(91.44), "3.0 ft");
        assert_eq!(Shown::water(UnitSystem::Metric).say(-0.2), "0 mm");
        assert_eq!(Shown::water(UnitSystem::Metric).say(f64::NAN), "not known");
    }
}
