//! The steps from a jar reading to sand, silt and clay, with everything at its middle.

use super::assess::{JarFinding, composition};
use super::packing::{self, Packing};
use super::plan::Plan;
use super::settled::{self, Scenario};
use super::words::duration;
use crate::kit::{Cite, Working};
use crate::texture::settling::stokes;

/// The steps. Beside the draws, which cannot be followed with a pencil, this is one pass with each
/// thing at its most likely value.
pub(super) fn steps(plan: &Plan, packing: &Packing, scenario: &Scenario, finding: &JarFinding) -> Working {
    let volumes = settled::volumes(plan, scenario.tops);
    let densities = packing.densities_kg_m3.array();
    let settled = settled::settle(plan, scenario, volumes, densities);
    let total: f64 = volumes.iter().sum();
    let share = |part: f64, whole: f64| 100.0 * part / whole;
    let [a, b, c] = scenario.tops;
    let [da, db, dc] = densities;
    let masses = [volumes[0] * da, volumes[1] * db, volumes[2] * dc];
    let mass: f64 = masses.iter().sum();

    let mut working = Working::new()
        .step(
            "share of each layer in the settled volume",
            "volume between two tops over volume up to the highest",
            format!("tops at {a:.1}, {b:.1} and {c:.1} mm"),
            three(volumes.map(|volume| share(volume, total))),
        )
        .step(
            "share of each layer in the settled mass",
            "volume × packing, over the sum",
            format!("packing {da:.0}, {db:.0} and {dc:.0} kg/m³"),
            three(masses.map(|layer| share(layer, mass))),
        )
        .cite(packing::DENSITIES);
    for slot in 0..3 {
        if let Some(time) = plan.times_s[slot] {
            working = working
                .step(
                    format!("size parted by the mark after {}", duration(time)),
                    "d = √(18 µ H / (g (ρs - ρw) t (1 - φ)^4.65))",
                    format!(
                        "H = {:.0} mm, µ = {:.4} mPa s, t = {time} s, φ of what is still up",
                        settled.depths_mm[slot],
                        1000.0 * scenario.water.viscosity_pa_s
                    ),
                    format!("{:.2} µm", settled.cuts_um[slot]),
                )
                .cite(if slot == 0 { stokes::CROWDING } else { stokes::STOKES });
        }
    }
    let names = ["first", "second", "highest"];
    for (slot, name) in names.iter().enumerate() {
        let [sand, silt, clay] = settled.shares[slot].map(|share| 100.0 * share);
        working = working.step(
            format!("what lies below the {name} boundary"),
            "all grains coarser than the size parted, and (d / size parted)² of each finer one",
            format!(
                "size parted {:.2} µm; crumbs and clumps of clay counted where they fall",
                settled.cuts_um[slot]
            ),
            format!("{sand:.1} % of the sand, {silt:.1} % of the silt, {clay:.1} % of the clay"),
        );
    }
    let soil = composition(settled.parts);
    let ByThree(low, high) = ByThree::of(finding);
    working
        .step(
            "sand, silt and clay that would settle so",
            "three equations: what lies below each boundary weighs what the layers weigh",
            format!(
                "weights below the boundaries {:.1}, {:.1} and {:.1} % of the settled mass",
                share(settled.down[0], mass),
                share(settled.down[1], mass),
                100.0
            ),
            three([soil.sand, soil.silt, soil.clay]),
        )
        .step(
            "spread",
            "the same with every height, size, packing and share drawn within what is known of it, leaving out \
             what would need less than no silt or clay; 5 % of the draws lie below the range and 5 % above",
            format!("{} draws, seed {}", finding.draws, finding.seed),
            format!("sand {}, silt {}, clay {}", range(low[0], high[0]), range(low[1], high[1]), range(low[2], high[2])),
        )
        .cite(Cite::new("GumSupplement1", "propagation of distributions"))
}

struct ByThree([f64; 3], [f64; 3]);

impl ByThree {
    fn of(finding: &JarFinding) -> Self {
        let mass = finding.mass_percent.array();
        Self(mass.map(|spread| spread.low), mass.map(|spread| spread.high))
    }
}

fn three([sand, silt, clay]: [f64; 3]) -> String {
    format!("sand {sand:.1} %, silt {silt:.1} %, clay {clay:.1} %")
}

fn range(low: f64, high: f64) -> String {
    format!("{low:.0} to {high:.0} %")
}
