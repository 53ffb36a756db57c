//! The steps behind today's number, on the middle of all that may be.

use ground::climate::crops::CropDay;
use ground::irrigation::balance::available::adjusted_fraction;
use ground::kit::{Cite, Working};

use super::advise::Advice;

/// Medians behind the advice.
pub(super) struct Numbers<'a> {
    pub et0_mm: f64,
    pub crop: &'a CropDay,
    pub total_mm: f64,
    pub missing_mm: f64,
    pub efficiency: f64,
    pub advice: &'a Advice,
}

/// The working of a bed's day.
pub(super) fn working(numbers: &Numbers<'_>) -> Working {
    let Numbers { et0_mm, crop, total_mm, missing_mm, efficiency, advice } = numbers;
    let demand = crop.kc * et0_mm;
    let fraction = adjusted_fraction(crop.depletion_fraction, demand);
    let mut working = Working::new()
        .step(
            "what the crop would use today",
            "ETc = Kc ET0",
            format!("{:.2} × {et0_mm:.1}", crop.kc),
            format!("{demand:.1} mm"),
        )
        .cite(Cite::new("Fao56", "eq. 58"))
        .step(
            "all the water the roots could draw",
            "TAW = 1000 (θfc − θwp) Zr, layer by layer",
            format!("roots to {:.2} m", crop.root_depth_m),
            format!("{total_mm:.0} mm"),
        )
        .cite(Cite::new("Fao56", "eq. 82"))
        .step(
            "share that may be used",
            "p + 0.04 (5 − ETc), within 0.1 and 0.8",
            format!("{:.2} + 0.04 (5 − {demand:.1})", crop.depletion_fraction),
            format!("{fraction:.2}"),
        )
        .cite(Cite::new("Fao56", "p. 162"))
        .step(
            "what may be missing before the crop suffers",
            "RAW = p TAW",
            format!("{fraction:.2} × {total_mm:.0}"),
            format!("{:.0} mm", fraction * total_mm),
        )
        .cite(Cite::new("Fao56", "eq. 83"))
        .step(
            "what is missing this morning",
            "day by day since the start: yesterday's, less rain and water that reached the roots, plus what was used",
            "median of all draws, put right by the readings",
            format!("{missing_mm:.0} mm"),
        )
        .cite(Cite::new("Fao56", "eq. 85"));
    if let Some(run) = &advice.run {
        working = working.step(
            "depth to put on",
            "net / (share that reaches the roots) / (1 − share against salts)",
            format!("{:.1} / {efficiency:.2} / (1 − {:.2})", run.net_mm.median, run.leaching),
            format!("{:.1} mm", run.gross_mm),
        );
        if let (Some(rate), Some(minutes)) = (run.rate_mm_h, run.set_min) {
            working = working.step(
                "run time",
                "60 × depth / rate over the bed",
                format!("60 × {:.1} / {rate:.1}", run.gross_mm),
                format!("{minutes:.0} min as a timer is set"),
            );
        }
    }
    working
}
