//! Water and air in the ground of a plot, over everything it may be.

use advice::{PlotReport, Supposed};
use figures::Figure;
use figures::tank::water_tank;
use ground::kit::Spread;
use ground::kit::units::UnitSystem;
use serde::Serialize;

use crate::parts::SpreadView;

/// Water and air as they are shown.
#[derive(Serialize)]
pub(super) struct Water {
    pub(super) tank: Figure,
    /// What the roots can use and how fast water goes in.
    pub(super) spreads: Vec<SpreadView>,
    /// The same computation on the middle of the belief, step by step.
    pub(super) working: String,
}

impl Water {
    /// Nothing is shown while nothing is known.
    pub(super) fn of(report: &PlotReport, units: UnitSystem) -> Option<Self> {
        if !report.make_up_known {
            return None;
        }
        let us = units == UnitSystem::UsCustomary;
        let (water, draws) = (&report.water, &report.water_draws);
        let air: Vec<f64> =
            draws.saturation.iter().zip(&draws.field_capacity).map(|(full, wet)| full - wet).collect();
        let root_depth = if us {
            format!("{:.0} in", report.root_depth_cm / 2.54)
        } else {
            format!("{:.0} cm", report.root_depth_cm)
        };
        let percent = |label: &str, spread: Option<Spread>| {
            spread.map(|spread| SpreadView::new(label, scaled(spread, 100.0), "% of the volume", 0))
        };
        let spreads = [
            water.available_water_m3_m3.map(|spread| {
                if us {
                    SpreadView::new("Water crops can use", scaled(spread, 12.0), "in per foot", 2)
                } else {
                    SpreadView::new("Water crops can use", scaled(spread, 1000.0), "mm per metre", 0)
                }
            }),
            water.available_water_mm.map(|spread| {
                let label = format!("The same over roots of {root_depth}");
                if us {
                    SpreadView::new(label, scaled(spread, 1.0 / 25.4), "in", 1)
                } else {
                    SpreadView::new(label, spread, "mm", 0)
                }
            }),
            water.saturated_conductivity_mm_h.map(|spread| {
                let label = "Taken in when soaked";
                if us {
                    SpreadView::new(label, scaled(spread, 1.0 / 25.4), "in/h", 2)
                } else {
                    SpreadView::new(label, spread, "mm/h", 0)
                }
            }),
            percent("Air once it has drained", Spread::of(&air, &draws.weights)),
            percent("Water when drained (field capacity)", water.field_capacity_m3_m3),
            percent("Water when crops wilt", water.wilting_point_m3_m3),
            water.bulk_density_g_cm3.map(|spread| SpreadView::new("Bulk density", spread, "g/cm³", 2)),
        ];
        Some(Self {
            tank: water_tank("tank", &draws.into(), units),
            spreads: spreads.into_iter().flatten().collect(),
            working: working(report),
        })
    }
}

fn scaled(spread: Spread, by: f64) -> Spread {
    Spread { low: by * spread.low, median: by * spread.median, high: by * spread.high }
}

/// The handbook page of the equations, with this plot's middle filled in.
fn working(report: &PlotReport) -> String {
    let soil = report.make_up.centre_percent;
    let organic =
        report.supposed.iter().find(|one| one.what == "organic matter").map_or(2.5, |one| one.likely);
    format!(
        "/methods/soil-water?sand_percent={:.1}&clay_percent={:.1}&organic_matter_percent={organic:.1}",
        soil.sand, soil.clay
    )
}

/// "organic matter: 1 to 5 % (a judgement of ordinary vegetable ground)".
pub(super) fn supposed(one: &Supposed) -> String {
    let unit = if one.unit.is_empty() { String::new() } else { format!(" {}", one.unit) };
    format!(
        "{}: {} to {}{unit}, most likely {} ({})",
        one.what,
        advice::words::short(one.low),
        advice::words::short(one.high),
        advice::words::short(one.likely),
        one.provenance_words
    )
}
