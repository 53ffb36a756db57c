//! What rings and test holes say by themselves: plain arithmetic, no model.

use book::model::seen::{IntakeMinutes, Percolation, Ring, RingInfiltration};
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem, show};

use super::look::Look;
use crate::form::shown;

/// The rate of each ring, the wet pouring where there was one.
pub(super) fn of_rings(rings: &RingInfiltration, units: UnitSystem) -> Look {
    let rates: Vec<f64> = rings.rings.iter().map(|ring| rate_mm_h(rings, ring)).collect();
    let told: Vec<String> = rings
        .rings
        .iter()
        .zip(&rates)
        .enumerate()
        .map(|(place, (ring, rate))| {
            let less = if ring.still_stood { "less than " } else { "" };
            format!("ring {} {less}{}", place + 1, show(*rate, Dimension::Rate, units))
        })
        .collect();
    let mut notes = Vec::new();
    if rings.rings.iter().any(|ring| ring.second_min.is_none()) {
        notes.push(
            "Where water was poured once only, the rate is that of ground not yet wet, which takes it faster."
                .to_owned(),
        );
    }
    let (least, most) = rates
        .iter()
        .fold((f64::INFINITY, 0.0_f64), |(least, most), rate| (least.min(*rate), most.max(*rate)));
    if rates.len() > 1 && most > 5.0 * least {
        notes.push(
            "The rings differ more than fivefold: a crack, a worm hole or a leak at the rim does that."
                .to_owned(),
        );
    }
    Look { says: format!("It took water at: {}.", told.join(", ")), notes, ..Look::default() }
}

/// Depth of the last pouring over its time, in mm/h.
fn rate_mm_h(rings: &RingInfiltration, ring: &Ring) -> f64 {
    let minutes: IntakeMinutes = ring.second_min.unwrap_or(ring.first_min);
    rings.depth_mm(ring) / minutes.get() * 60.0
}

/// The time for an inch or a centimetre.
pub(super) fn of_hole(hole: &Percolation, units: UnitSystem) -> Look {
    let per_cm = hole.minutes_per_cm();
    let says = match units {
        UnitSystem::UsCustomary => format!("{:.0} minutes for each inch", per_cm * 2.54),
        UnitSystem::Metric => format!("{per_cm:.1} minutes for each centimetre"),
    };
    let notes = if hole.soaked {
        Vec::new()
    } else {
        vec![
            "The hole was not soaked first: dry ground takes water faster than it will in a wet spell."
                .to_owned(),
        ]
    };
    let fell = shown(hole.fall_mm, units);
    Look { says: format!("The water fell {fell}: {says}."), notes, ..Look::default() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use book::model::seen::RingWater;

    /// Arithmetic: an inch in 12 minutes is five inches an hour; 25 mm in 30 minutes is 12 min/cm.
    #[test]
    fn rates_are_depth_over_time() {
        let ring = Ring {
            water: RingWater::DepthMm(Bounded::literal(25.4)),
            first_min: Bounded::literal(4.0),
            second_min: Some(Bounded::literal(12.0)),
            still_stood: false,
        };
        let rings = RingInfiltration { inside_diameter_mm: Bounded::literal(150.0), rings: vec![ring] };
        assert_eq!(of_rings(&rings, UnitSystem::UsCustomary).says, "It took water at: ring 1 5 in/h.");
        assert_eq!(of_rings(&rings, UnitSystem::Metric).says, "It took water at: ring 1 127 mm/h.");
        let hole = Percolation {
            fall_mm: Bounded::literal(25.0),
            minutes: Bounded::literal(30.0),
            soaked: false,
            hole_depth_cm: None,
            hole_diameter_mm: None,
        };
        let look = of_hole(&hole, UnitSystem::Metric);
        assert!(look.says.contains("12.0 minutes for each centimetre"), "{}", look.says);
        assert_eq!(look.notes.len(), 1);
    }
}
