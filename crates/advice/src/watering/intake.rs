//! How fast the bed's ground takes water: measured where a ring was run, else worked out over what it may be.

use book::Snapshot;
use book::model::EntryId;
use ground::irrigation::balance::soils::curve_through;
use ground::irrigation::hardware::SoilIntake;
use ground::kit::Spread;
use ground::water::infiltration::green_ampt::GreenAmpt;
use ground::water::infiltration::pulses::pulses;
use serde::Serialize;

use crate::plot_report::PlotReport;
use crate::rings::Rings;

/// Water that the hollows of a bed hold, mm (judgement).
const HOLLOWS_MM: f64 = 2.0;
/// Draws looked at.
const DRAWS: usize = 300;
/// Share of the draws whose ground is tighter than the one reckoned with: careful, not fearful.
const CAREFUL: f64 = 0.25;

/// How the ground takes a watering.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Intake {
    /// Rate behind the wetting front, mm/h over the ground wetted.
    pub rate_mm_h: Spread,
    /// Rings behind it; 0 where it was worked out from the make-up.
    pub rings: usize,
    /// Longest run before water stands, min, at the hardware's rate over the ground it wets; the tighter
    /// quarter of what the ground may be left aside. Absent where the ground keeps up.
    pub longest_pulse_min: Option<f64>,
    /// Rate that falls on the ground wetted, mm/h.
    pub falls_mm_h: f64,
}

impl Intake {
    /// The terms of the run's plan.
    pub(super) fn terms(&self) -> SoilIntake {
        SoilIntake {
            longest_pulse_min: self.longest_pulse_min.map(|minutes| minutes.clamp(1.0, 10_000.0)),
            intake_mm_h: self.longest_pulse_min.map(|_| self.rate_mm_h.median.clamp(0.1, 2000.0)),
        }
    }
}

/// Conductivity of the ground from the rings of a plot, mm/h, with how many there were.
fn measured(snapshot: &Snapshot, plot: EntryId) -> Option<(f64, usize)> {
    let rings = Rings::of(snapshot, plot)?;
    Some((rings.conductivity.mean_mm_h, rings.count()))
}

/// The intake of a plot's ground under water that falls at `falls_mm_h` on the ground wetted; `None` where
/// nothing can be said.
pub(super) fn intake(snapshot: &Snapshot, report: &PlotReport, falls_mm_h: f64) -> Option<Intake> {
    let rings = measured(snapshot, report.id);
    let water = &report.water_draws;
    let step = (water.weights.len() / DRAWS).max(1);
    let (mut rates, mut weights) = (Vec::new(), Vec::new());
    // Hours to standing water; ground that keeps up takes a week.
    let mut longest = Vec::new();
    for at in (0..water.weights.len()).step_by(step) {
        let (held, dry, full) = (water.field_capacity[at], water.wilting_point[at], water.saturation[at]);
        let saturated = water.saturated_conductivity_mm_h[at];
        if !(held > dry && dry > 0.0 && full > held && saturated.is_finite()) {
            continue;
        }
        let mut curve = curve_through(held, dry, Some(full), None);
        curve.saturated_conductivity = Some(saturated);
        // A pulse begins on ground that drained after the one before.
        let Some(mut front) = GreenAmpt::of_soil(&curve, held) else { continue };
        if let Some((measured, _)) = rings {
            front.conductivity_mm_h = measured;
        }
        rates.push(front.conductivity_mm_h);
        weights.push(water.weights[at]);
        longest.push(
            pulses(&front, falls_mm_h, HOLLOWS_MM, 10.0 * falls_mm_h)
                .map_or(0.0, |one| if one.count > 1.0 { one.longest_h } else { f64::INFINITY }),
        );
    }
    let rate_mm_h = Spread::of(&rates, &weights)?;
    let careful = quantile(&longest, &weights, CAREFUL);
    Some(Intake {
        rate_mm_h,
        rings: rings.map_or(0, |(_, count)| count),
        longest_pulse_min: careful.filter(|hours| hours.is_finite()).map(|hours| 60.0 * hours),
        falls_mm_h,
    })
}

fn quantile(values: &[f64], weights: &[f64], share: f64) -> Option<f64> {
    let mut pairs: Vec<(f64, f64)> = values.iter().copied().zip(weights.iter().copied()).collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let total: f64 = weights.iter().sum();
    let mut reached = 0.0;
    pairs.into_iter().find_map(|(value, weight)| {
        reached += weight;
        (reached >= share * total).then_some(value)
    })
}
