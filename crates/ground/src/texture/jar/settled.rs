//! From the tops of the layers to sand, silt and clay by mass, everything else being known.
//!
//! The layers are weighed by their packing. What is down at each mark is then a known share of the
//! sand, of the silt and of the clay: three equations for three unknowns. They undo at once that a
//! mark parts another size than its name says, that fines were carried down, and that part of the
//! clay is still up.

use super::grains::{Grains, SAND_FROM_SILT_UM, SILT_FROM_CLAY_UM};
use super::plan::Plan;
use crate::texture::settling::stokes::Fall;

/// Least depth of water that a grain is taken to fall through, mm.
pub(super) const LEAST_DEPTH_MM: f64 = 5.0;

/// Everything that a jar's answer hangs on, with one value each.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scenario {
    /// Tops of sand, silt and clay, mm, in rising order.
    pub(super) tops: [f64; 3],
    /// Water surface above the floor, mm.
    pub(super) water_mm: f64,
    /// The still water, before crowding.
    pub(super) water: Fall,
    /// Where the crowd around a falling grain lies between all the soil still above its like (1) and
    /// only the soil finer than it (0).
    pub(super) crowd: f64,
    /// What each mark's cut is multiplied by: grains are no spheres and jars no still columns.
    pub(super) unevenness: [f64; 3],
    /// Size parted by a boundary that was not timed, µm.
    pub(super) untimed_cut_um: [f64; 3],
    /// Sizes inside the classes.
    pub(super) grains: Grains,
    /// Grains that settle as crumbs of a coarser kind.
    pub(super) crumbs: Crumbs,
    /// Where things fell when the clay clumped.
    pub(super) clumps: Option<Clumps>,
}

/// Shares of fines that were never parted and settle as coarser grains.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Crumbs {
    pub(super) clay_as_silt: f64,
    pub(super) clay_as_sand: f64,
    pub(super) silt_as_sand: f64,
}

/// Where clay that clumped took itself and the silt that it caught.
#[derive(Debug, Clone, Copy)]
pub(super) struct Clumps {
    /// Share of the clay in the sand layer.
    pub(super) clay_in_sand: f64,
    /// Share of the clay in the silt layer.
    pub(super) clay_in_silt: f64,
    /// Share of the silt that fell early, caught with the sand.
    pub(super) silt_in_sand: f64,
    /// Share of the silt held up in the clumps, in the clay layer.
    pub(super) silt_in_clay: f64,
    /// What each part is multiplied by: the layers are not size classes, whatever is done.
    pub(super) blur: [f64; 3],
}

/// What a scenario comes to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Settled {
    /// Mass settled up to each boundary, in units of volume times density.
    pub(super) down: [f64; 3],
    /// Size parted by each boundary, µm.
    pub(super) cuts_um: [f64; 3],
    /// Depth of fall at each boundary, mm.
    pub(super) depths_mm: [f64; 3],
    /// Share of sand, silt and clay that is down at each boundary.
    pub(super) shares: [[f64; 3]; 3],
    /// What the parts were multiplied by because the clay clumped.
    blur: [f64; 3],
    /// Mass of sand, silt and clay in the jar; one may be negative when the scenario cannot be.
    pub(super) parts: [f64; 3],
}

impl Settled {
    /// Least part over the whole: negative when no soil can make these layers.
    pub(super) fn least_share(&self) -> f64 {
        let total: f64 = self.parts.iter().sum();
        let least = self.parts.iter().copied().fold(f64::INFINITY, f64::min);
        if total > 0.0 { least / total } else { -1.0 }
    }
}

/// Volumes of the layers under these tops.
pub(super) fn volumes(plan: &Plan, tops: [f64; 3]) -> [f64; 3] {
    let [a, b, c] = tops.map(|top| plan.vessel.volume(top));
    [a, (b - a).max(0.0), (c - b).max(0.0)]
}

/// Sizes and shares of a scenario, for layers of these volumes and densities.
pub(super) fn settle(plan: &Plan, scenario: &Scenario, volumes: [f64; 3], densities: [f64; 3]) -> Settled {
    let mass = [volumes[0] * densities[0], volumes[1] * densities[1], volumes[2] * densities[2]];
    let (cuts_um, depths_mm) = cuts(plan, scenario, mass);
    let mut shares = cuts_um.map(|cut| scenario.grains.down(cut));
    if let Some(clumps) = scenario.clumps {
        // Fine silt is caught in the clumps and falls with them, so the later mark parts no size.
        shares[0][1] = clumps.silt_in_sand + (1.0 - clumps.silt_in_sand) * shares[0][1];
        shares[1][1] = shares[0][1].max(1.0 - clumps.silt_in_clay);
        shares[0][2] = clumps.clay_in_sand;
        shares[1][2] = clumps.clay_in_sand + clumps.clay_in_silt;
        // The water is clear: everything is down.
        shares[2] = [1.0; 3];
    }
    for row in &mut shares {
        *row = with_crumbs(*row, scenario.crumbs);
    }
    let blur = scenario.clumps.map_or([1.0; 3], |clumps| clumps.blur);
    solved(mass, cuts_um, depths_mm, shares, blur)
}

/// The same shares with other densities: cheap, for telling the packing's error from the rest.
pub(super) fn reweigh(settled: &Settled, volumes: [f64; 3], densities: [f64; 3]) -> Settled {
    let mass = [volumes[0] * densities[0], volumes[1] * densities[1], volumes[2] * densities[2]];
    solved(mass, settled.cuts_um, settled.depths_mm, settled.shares, settled.blur)
}

fn solved(
    mass: [f64; 3],
    cuts_um: [f64; 3],
    depths_mm: [f64; 3],
    shares: [[f64; 3]; 3],
    blur: [f64; 3],
) -> Settled {
    let down = [mass[0], mass[0] + mass[1], mass[0] + mass[1] + mass[2]];
    let mut parts = solve(shares, down);
    parts.iter_mut().zip(blur).for_each(|(part, factor)| *part *= factor);
    Settled { down, cuts_um, depths_mm, shares, blur, parts }
}

/// Size and depth of fall at each boundary.
fn cuts(plan: &Plan, scenario: &Scenario, mass: [f64; 3]) -> ([f64; 3], [f64; 3]) {
    let total: f64 = mass.iter().sum::<f64>().max(f64::MIN_POSITIVE);
    let solids = Plan::solids(mass, plan.vessel.volume(scenario.water_mm));
    // Behind the last grain of its size the water holds only finer soil; around it, at most what the
    // earlier boundaries have left up.
    let finer = [(mass[1] + mass[2]) / total, mass[2] / total, 0.0];
    let left_up = [1.0, (mass[1] + mass[2]) / total, mass[2] / total];
    let (mut cuts, mut depths) = ([0.0; 3], [0.0; 3]);
    for slot in 0..3 {
        depths[slot] = (scenario.water_mm - scenario.tops[slot]).max(LEAST_DEPTH_MM);
        cuts[slot] = match plan.times_s[slot] {
            Some(time) => {
                let crowd = finer[slot] + scenario.crowd * (left_up[slot] - finer[slot]);
                scenario.water.crowded(solids * crowd).cut_um(time, depths[slot]) * scenario.unevenness[slot]
            }
            None => scenario.untimed_cut_um[slot],
        };
    }
    // A later mark never parts a coarser size.
    cuts[1] = cuts[1].min(cuts[0]);
    cuts[2] = cuts[2].min(cuts[1]);
    (cuts, depths)
}

/// Crumbs of fines fall with the coarser kind that they are as big as.
fn with_crumbs([sand, silt, clay]: [f64; 3], crumbs: Crumbs) -> [f64; 3] {
    let loose_clay = 1.0 - crumbs.clay_as_silt - crumbs.clay_as_sand;
    [
        sand,
        (1.0 - crumbs.silt_as_sand) * silt + crumbs.silt_as_sand * sand,
        loose_clay * clay + crumbs.clay_as_silt * silt + crumbs.clay_as_sand * sand,
    ]
}

/// Solves shares × parts = down by Cramer's rule.
fn solve(a: [[f64; 3]; 3], b: [f64; 3]) -> [f64; 3] {
    let minor = |p: [f64; 3], q: [f64; 3], r: [f64; 3]| {
        p[0] * (q[1] * r[2] - q[2] * r[1]) - p[1] * (q[0] * r[2] - q[2] * r[0])
            + p[2] * (q[0] * r[1] - q[1] * r[0])
    };
    let whole = minor(a[0], a[1], a[2]);
    // Two marks that part the same size cannot be told apart.
    if whole.abs() < 1e-9 {
        return [f64::NAN; 3];
    }
    let mut parts = [0.0; 3];
    for (column, part) in parts.iter_mut().enumerate() {
        let mut swapped = a;
        for row in 0..3 {
            swapped[row][column] = b[row];
        }
        *part = minor(swapped[0], swapped[1], swapped[2]) / whole;
    }
    parts
}

/// Share of the soil's mass that is still up at the last boundary; nothing where no soil fits.
pub(super) fn still_up(settled: &Settled) -> f64 {
    let total: f64 = settled.parts.iter().zip(settled.blur).map(|(part, factor)| part / factor).sum();
    let share = 1.0 - settled.down[2] / total;
    if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 }
}

/// The sizes that the boundaries should part, µm.
pub(super) const NOMINAL_CUTS_UM: [f64; 2] = [SAND_FROM_SILT_UM, SILT_FROM_CLAY_UM];

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Settling a known soil and reading the layers back gives the soil: conservation of mass.
        #[test]
        fn settling_and_reading_back_gives_the_soil(
            parts in prop::array::uniform3(0.05..1.0_f64),
            cuts in (30.0..90.0, 1.5..8.0, 0.4..1.4),
            tilts in prop::array::uniform3(-0.8..0.8),
        ) {
            let grains = Grains::new(tilts, libm::log(0.1));
            let crumbs = Crumbs { clay_as_silt: 0.2, clay_as_sand: 0.03, silt_as_sand: 0.05 };
            let shares = [cuts.0, cuts.1, cuts.2].map(|cut| with_crumbs(grains.down(cut), crumbs));
            let down = shares.map(|row| row.iter().zip(parts).map(|(share, part)| share * part).sum::<f64>());
            let back = solve(shares, down);
            for (back, part) in back.iter().zip(parts) {
                prop_assert!((back - part).abs() < 1e-6, "{back} {part}");
            }
        }
    }

    #[test]
    fn two_marks_that_part_one_size_have_no_answer() {
        let row = Grains::new([0.0; 3], libm::log(0.1)).down(5.0);
        assert!(solve([row, row, [1.0; 3]], [0.4, 0.6, 1.0])[0].is_nan());
    }
}
