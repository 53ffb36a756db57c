//! How surely each thing is known that a jar's answer hangs on, and one draw of it all.
//!
//! Apart from the ruler the ranges are judgement: no published comparison of the jar test with a
//! laboratory was found. They are kept together here, so that better ones have one place to go.

use super::grains::Grains;
use super::packing::{self, Packing};
use super::plan::{Plan, ROOM_C, Seen, Slots, WATER_OVER_SOIL};
use super::reading::{Clarity, Dispersant};
use super::settled::{Clumps, Crumbs, NOMINAL_CUTS_UM, Scenario};
use crate::kit::chance::Chance;
use crate::texture::settling::stokes::{Fall, MINERAL_DENSITY_KG_M3};

/// Standard deviation of the tilt of mass over size inside a class: 0.4 lets the coarse end of the
/// silt be three to four times as full as the fine end, or the reverse.
const TILT_SD: f64 = 0.4;
/// Finest clay that counts, µm, even over the logarithm.
const FINEST_CLAY_UM: (f64, f64) = (0.06, 0.4);
/// Standard deviation of the logarithm of a timed cut beside all that is computed: shape and density
/// of grains, currents, the last swirl of the shaking.
const CUT_SD: f64 = 0.10;
/// Standard deviation of the logarithm of the size that an eye parts without a clock: sand from silt
/// by its grains, silt from clay by colour and texture.
const EYE_SD: [f64; 2] = [0.25, 0.4];
/// Size still up in a jar read late without a clock, µm: one to four days in 8 to 20 cm of water.
const LATE_CUT_UM: (f64, f64) = (0.4, 1.4);
/// Shares of the clay that clumps bring down with the sand and with the silt, of the silt that they
/// take down with the sand, and of the silt that they hold up with the clay.
const CLAY_IN_SAND: (f64, f64) = (0.0, 0.15);
const CLAY_IN_SILT: (f64, f64) = (0.1, 0.6);
const SILT_IN_SAND: (f64, f64) = (0.0, 0.15);
const SILT_IN_CLAY: (f64, f64) = (0.0, 0.15);
/// Standard deviation of the logarithm of each part when the clay clumped, beside all that.
const CLUMP_SD: f64 = 0.35;
/// Greatest share of the jar's soil that an unseen layer above the others may be.
const UNSEEN_SHARE: f64 = 0.9;

/// Greatest shares of clay that settle as silt and as sand (the latter also for silt as sand), and
/// the least of the former, by what was added to part the clay. Even a laboratory's dispersant
/// leaves some soils in crumbs [StottTheron2016].
fn crumb_ranges(dispersant: Dispersant) -> ((f64, f64), f64) {
    match dispersant {
        Dispersant::None => ((0.1, 0.6), 0.15),
        Dispersant::LiquidSoap => ((0.1, 0.5), 0.12),
        Dispersant::Unknown => ((0.0, 0.4), 0.10),
        Dispersant::DishwasherPowder => ((0.0, 0.2), 0.03),
        Dispersant::Hexametaphosphate => ((0.0, 0.12), 0.02),
    }
}

/// Chance that the clay clumped, when nobody looked whether the water cleared.
pub(super) fn chance_of_clumps(plan: &Plan) -> f64 {
    match plan.clarity {
        Clarity::Clear => 1.0,
        Clarity::Cloudy => 0.0,
        Clarity::NotLooked => match plan.dispersant {
            Dispersant::Hexametaphosphate => 0.15,
            Dispersant::DishwasherPowder => 0.25,
            Dispersant::Unknown => 0.45,
            Dispersant::LiquidSoap => 0.5,
            Dispersant::None => 0.6,
        },
    }
}

fn middle((low, high): (f64, f64)) -> f64 {
    f64::midpoint(low, high)
}

/// Everything at its middle: the scenario that the working shows.
pub(super) fn central(plan: &Plan, tops: [f64; 3]) -> Scenario {
    let ((least, most), sandy) = crumb_ranges(plan.dispersant);
    Scenario {
        tops,
        water_mm: plan.water_mm.unwrap_or(tops[2] * middle(WATER_OVER_SOIL)),
        water: Fall::new(plan.temperature_c.unwrap_or(middle(ROOM_C)), MINERAL_DENSITY_KG_M3, 0.0),
        crowd: 0.5,
        unevenness: [1.0; 3],
        untimed_cut_um: [NOMINAL_CUTS_UM[0], NOMINAL_CUTS_UM[1], (LATE_CUT_UM.0 * LATE_CUT_UM.1).sqrt()],
        grains: Grains::new([0.0; 3], 0.5 * libm::log(FINEST_CLAY_UM.0 * FINEST_CLAY_UM.1)),
        crumbs: Crumbs {
            clay_as_silt: middle((least, most)),
            clay_as_sand: sandy / 2.0,
            silt_as_sand: sandy / 2.0,
        },
        clumps: (chance_of_clumps(plan) > 0.5).then_some(Clumps {
            clay_in_sand: middle(CLAY_IN_SAND),
            clay_in_silt: middle(CLAY_IN_SILT),
            silt_in_sand: middle(SILT_IN_SAND),
            silt_in_clay: middle(SILT_IN_CLAY),
            blur: [1.0; 3],
        }),
    }
}

/// Draws scenarios and packings for one plan.
pub(super) struct Draws<'a> {
    plan: &'a Plan,
    chance: Chance,
    still_water: Option<Fall>,
    log_finest: (f64, f64),
    log_late: (f64, f64),
    shared_root: nalgebra::Matrix2<f64>,
    basis: [nalgebra::Vector2<f64>; 3],
    packing: Packing,
}

impl<'a> Draws<'a> {
    pub(super) fn new(plan: &'a Plan, packing: &Packing, seed: u64) -> Self {
        let logs = |(low, high): (f64, f64)| (libm::log(low), libm::log(high));
        Self {
            plan,
            chance: Chance::new(seed),
            still_water: plan.temperature_c.map(|t| Fall::new(t, MINERAL_DENSITY_KG_M3, 0.0)),
            log_finest: logs(FINEST_CLAY_UM),
            log_late: logs(LATE_CUT_UM),
            shared_root: packing::root(packing.covariance()),
            basis: packing::ilr_basis(),
            packing: *packing,
        }
    }

    fn between(&mut self, (low, high): (f64, f64)) -> f64 {
        low + (high - low) * self.chance.uniform()
    }

    /// A value whose logarithm is even between two logarithms.
    fn even_log(&mut self, logs: (f64, f64)) -> f64 {
        libm::exp(self.between(logs))
    }

    fn log_normal(&mut self, sd: f64) -> f64 {
        libm::exp(sd * self.chance.normal())
    }

    /// One scenario with these tops; where the clay clumped it may move the line inside a single layer.
    pub(super) fn scenario(&mut self, tops: [f64; 3]) -> Scenario {
        let plan = self.plan;
        let water_mm = plan.water_mm.unwrap_or_else(|| tops[2] * self.between(WATER_OVER_SOIL));
        let water = self.still_water.unwrap_or_else(|| {
            let temperature = self.between(ROOM_C);
            Fall::new(temperature, MINERAL_DENSITY_KG_M3, 0.0)
        });
        let ((least, most), sandy) = crumb_ranges(plan.dispersant);
        let clumped = self.chance.uniform() < chance_of_clumps(plan);
        let mut unevenness = [1.0; 3];
        let mut untimed_cut_um = [0.0; 3];
        for slot in 0..3 {
            if plan.times_s[slot].is_some() {
                unevenness[slot] = self.log_normal(CUT_SD);
            } else {
                untimed_cut_um[slot] = match NOMINAL_CUTS_UM.get(slot) {
                    Some(nominal) => nominal * self.log_normal(EYE_SD[slot]),
                    None => self.even_log(self.log_late),
                };
            }
        }
        let tops = if clumped && plan.one_layer_above_sand() { self.without_line(tops) } else { tops };
        let tilts = [0; 3].map(|_| TILT_SD * self.chance.normal());
        let log_finest = self.between(self.log_finest);
        Scenario {
            tops,
            water_mm,
            water,
            crowd: self.chance.uniform(),
            unevenness,
            untimed_cut_um,
            grains: Grains::new(tilts, log_finest),
            crumbs: Crumbs {
                clay_as_silt: self.between((least, most)),
                clay_as_sand: self.between((0.0, sandy)),
                silt_as_sand: self.between((0.0, sandy)),
            },
            clumps: clumped.then(|| Clumps {
                clay_in_sand: self.between(CLAY_IN_SAND),
                clay_in_silt: self.between(CLAY_IN_SILT),
                silt_in_sand: self.between(SILT_IN_SAND),
                silt_in_clay: self.between(SILT_IN_CLAY),
                blur: [0; 3].map(|_| self.log_normal(CLUMP_SD)),
            }),
        }
    }

    /// Clumped clay falls among the silt and may show no line: where one ends and the other begins in
    /// their common layer is then even over it (our judgement).
    fn without_line(&mut self, [sand, _, all]: [f64; 3]) -> [f64; 3] {
        [sand, self.between((sand, all.max(sand))), all]
    }

    /// Packing of this jar if the farm's packing is at its centre, and with the farm's packing drawn.
    pub(super) fn densities(&mut self) -> ([f64; 3], [f64; 3]) {
        let own =
            nalgebra::Vector2::new(self.chance.normal(), self.chance.normal()) * self.packing.between_jars;
        let shared = self.shared_root * nalgebra::Vector2::new(self.chance.normal(), self.chance.normal());
        let factors =
            |shift: nalgebra::Vector2<f64>| self.basis.map(|direction| libm::exp(direction.dot(&shift)));
        let mut at_centre = self.packing.densities_kg_m3.array();
        at_centre.iter_mut().zip(factors(own)).for_each(|(density, factor)| *density *= factor);
        let mut drawn = at_centre;
        drawn.iter_mut().zip(factors(shared)).for_each(|(density, factor)| *density *= factor);
        (at_centre, drawn)
    }

    /// Tops of the layers: the ruler rounds evenly to its step, a range is even, and what was not
    /// seen is even over what is possible.
    pub(super) fn tops(&mut self) -> [f64; 3] {
        match self.plan.slots {
            Slots::Tops(seen) => self.tops_from_heights(seen),
            Slots::Thicknesses(layers) => self.tops_from_thicknesses(layers),
        }
    }

    /// A height as it may really be; `ends` ruler readings went into it.
    fn read(&mut self, seen: Seen, ends: u32) -> Option<f64> {
        let (low, high) = seen.range()?;
        let mut value = self.between((low, high));
        for _ in 0..ends {
            value += self.plan.step_mm * (self.chance.uniform() - 0.5);
        }
        Some(value.max(0.0))
    }

    fn tops_from_heights(&mut self, seen: [Seen; 3]) -> [f64; 3] {
        let [sand, silt, clay] = seen.map(|top| self.read(top, 1));
        let pair = |draws: &mut Self, floor: f64, ceiling: f64| {
            let (a, b) = (draws.between((floor, ceiling)), draws.between((floor, ceiling)));
            (a.min(b), a.max(b))
        };
        let highest_seen = sand.unwrap_or(0.0).max(silt.unwrap_or(0.0));
        let all = clay.unwrap_or_else(|| self.above(highest_seen)).max(highest_seen);
        let (sand, silt) = match (sand, silt) {
            (Some(sand), Some(silt)) => (sand, silt.max(sand)),
            (Some(sand), None) => (sand, self.between((sand, all))),
            (None, Some(silt)) => (self.between((0.0, silt)), silt),
            (None, None) => pair(self, 0.0, all),
        };
        [sand, silt, all.max(silt)]
    }

    /// Top of a layer that was not seen above `known`: its share of the jar's soil is even.
    fn above(&mut self, known: f64) -> f64 {
        if known <= 0.0 {
            return super::plan::NOMINAL_SOIL_MM;
        }
        let share = self.between((0.0, UNSEEN_SHARE));
        let top = known / (1.0 - share);
        match self.plan.water_mm {
            Some(water) if top > water => self.between((known, water.max(known))),
            _ => top,
        }
    }

    fn tops_from_thicknesses(&mut self, layers: [Seen; 3]) -> [f64; 3] {
        let drawn = layers.map(|layer| self.read(layer, 2));
        let known: f64 = drawn.iter().flatten().sum();
        let known = if known > 0.0 { known } else { super::plan::NOMINAL_SOIL_MM };
        let missing = drawn.iter().filter(|layer| layer.is_none()).count();
        let shares = match missing {
            0 => [0.0; 3],
            1 => [self.between((0.0, UNSEEN_SHARE)), 0.0, 0.0],
            // Even over the triangle of two shares, the third being what was seen.
            _ => {
                let (a, b) = (self.chance.uniform(), self.chance.uniform());
                let (a, b) = if a + b > 1.0 { (1.0 - a, 1.0 - b) } else { (a, b) };
                [UNSEEN_SHARE * a, UNSEEN_SHARE * b, 0.0]
            }
        };
        let rest = 1.0 - shares[0] - shares[1];
        let mut next = 0;
        let all_missing = missing == 3;
        let mut top = 0.0;
        drawn.map(|layer| {
            top += layer.unwrap_or_else(|| {
                let share = if all_missing && next == 2 { rest } else { shares[next] };
                next += 1;
                if all_missing { known * share } else { known * share / rest }
            });
            top
        })
    }
}
