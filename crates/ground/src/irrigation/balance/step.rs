//! One day of a bed's ground, all draws at once.
//!
//! # Method
//! The balance of [Fao56], eq. 80-86 and 88, and of its surface layer, eq. 71-79. Beyond it:
//! * A day's loss is held to what is there, in the root zone and in the surface layer, where the
//!   source cuts the depletion afterwards and so loses count of water.
//! * With the single coefficient the surface layer is followed alongside, so that it is right when
//!   the ground lies bare again.
//! * Roots that retreat (a harvest, a young crop after an old one) leave their share of the depletion
//!   in the ground below.

use super::available::adjusted_fraction;
use super::engine::{Coefficient, Fluxes, FractionRule, RootZone, Rules, Watering, Weather, Wetting};
use super::evaporation::{ceiling, coefficient, exposed_and_wetted, reduction, under_canopy};
use super::soils::BedSoils;
use super::stress::stress_coefficient;
use crate::climate::crops::CropDay;

/// Rain below this share of the day's ET0 wets leaves and dust only, and is left out (p. 170).
pub(super) const RAIN_IGNORED: f64 = 0.2;

/// Rain above this, mm, wets the whole surface (p. 147: 3 to 4 mm).
const WETS_ALL_MM: f64 = 3.0;

impl RootZone {
    /// Steps every draw through one day. Nothing is allocated.
    ///
    /// # Panics
    /// When `soils`, `fluxes` or a number given by draw belong to an ensemble of another size.
    pub fn step(
        &mut self,
        soils: &BedSoils,
        rules: &Rules,
        crop: &CropDay,
        weather: &Weather<'_>,
        watering: Option<&Watering<'_>>,
        fluxes: &mut Fluxes,
    ) {
        self.root_to(soils, rules, crop.root_depth_m);
        let dual = match rules.coefficient {
            Coefficient::Single => false,
            Coefficient::Dual => true,
            Coefficient::DualWhileBare { below_cover } => crop.cover_fraction < below_cover,
        };
        let early = rules.wetting == Wetting::EarlyInDay;
        let most = ceiling(0.0, crop.height_m, weather.air);
        let gross = watering.map_or(0.0, |given| given.gross_mm);
        for draw in 0..self.depletion_mm.len() {
            let et0 = weather.et0_mm.at(draw).max(0.0);
            let fallen = weather.rain_mm.at(draw);
            let rain = if fallen < RAIN_IGNORED * et0 { 0.0 } else { fallen.max(0.0) };
            let net = watering.map_or(0.0, |given| gross * given.efficiency.at(draw));
            let water = rain + net;

            let wetted = match watering {
                Some(given) if gross > 0.0 => given.wetted_fraction.clamp(0.01, 1.0),
                _ if rain > WETS_ALL_MM => 1.0,
                _ => self.wetted[draw],
            };
            self.wetted[draw] = wetted;
            let local = rain + net / wetted;
            let open = if rules.under_canopy { under_canopy(wetted, crop.cover_fraction) } else { wetted };
            let open = exposed_and_wetted(crop.cover_fraction, open);

            // The surface layer.
            let evaporable = soils.evaporable_mm[draw];
            let mut surface = self.surface_mm[draw];
            let mut surface_drained = 0.0;
            if early {
                surface -= local;
                surface_drained = (-surface).max(0.0);
                surface = surface.max(0.0);
            }
            let demand_factor = soils.demand_factor[draw];
            let basal = crop.kcb * demand_factor;
            let top = most.max(basal + 0.05);
            let drying = reduction(surface, evaporable, soils.readily_evaporable_mm[draw]);
            let wet = coefficient(drying, top, basal, open);
            let mut evaporation = (wet * et0).min(open * (evaporable - surface)).max(0.0);

            // The root zone.
            let total = self.total_available_mm[draw];
            let mut depletion = self.depletion_mm[draw];
            let mut drained = 0.0;
            if early {
                depletion -= water;
                drained = (-depletion).max(0.0);
                depletion = depletion.max(0.0);
            }
            let (plants, bare) =
                if dual { (basal * et0, evaporation) } else { (crop.kc * demand_factor * et0, 0.0) };
            let fraction = match rules.fraction {
                FractionRule::AsGiven => crop.depletion_fraction,
                FractionRule::MovedByDemand => adjusted_fraction(crop.depletion_fraction, plants + bare),
            };
            let readily = fraction * total;
            let stress = stress_coefficient(depletion, total, readily);
            let wanted = stress * plants + bare;
            let lost = wanted.min(total - depletion).max(0.0);
            depletion += lost;
            // Where there is not enough, plants and surface go short alike.
            let got = if wanted > 0.0 { lost / wanted } else { 1.0 };
            if dual {
                evaporation *= got;
            }
            surface = (surface + evaporation / open).min(evaporable);
            if !early {
                depletion -= water;
                drained = (-depletion).max(0.0);
                depletion = depletion.max(0.0);
                surface -= local;
                surface_drained = (-surface).max(0.0);
                surface = surface.max(0.0);
            }

            // What drains fills the ground below before it is lost.
            let kept = drained.min(self.below_mm[draw]);
            self.below_mm[draw] -= kept;
            self.depletion_mm[draw] = depletion.min(total);
            self.surface_mm[draw] = surface;

            fluxes.rain_mm[draw] = rain;
            fluxes.irrigation_mm[draw] = net;
            fluxes.et_mm[draw] = lost;
            fluxes.demand_mm[draw] = plants + bare;
            fluxes.evaporation_mm[draw] = if dual { evaporation } else { 0.0 };
            fluxes.drained_mm[draw] = drained;
            fluxes.lost_below_mm[draw] = drained - kept;
            fluxes.surface_drained_mm[draw] = surface_drained;
            fluxes.stress[draw] = stress;
            fluxes.readily_available_mm[draw] = readily;
        }
    }

    /// Moves the lower edge of the root zone; the water that was missing stays where it was.
    fn root_to(&mut self, soils: &BedSoils, rules: &Rules, depth_m: f64) {
        let depth = rules.depth_of(soils, depth_m);
        #[expect(clippy::float_cmp, reason = "the same depth on the next day")]
        if depth == self.depth_m {
            return;
        }
        self.depth_m = depth;
        soils.available_mm_to(depth, &mut self.scratch);
        for draw in 0..self.depletion_mm.len() {
            let (old, below) = (self.total_available_mm[draw], self.below_available_mm[draw]);
            let new = (self.scratch[draw] * rules.watered_share).min(old + below);
            let taken_over = if new >= old {
                if below > 0.0 { self.below_mm[draw] * ((new - old) / below).min(1.0) } else { 0.0 }
            } else {
                -self.depletion_mm[draw] * (old - new) / old
            };
            self.depletion_mm[draw] += taken_over;
            self.below_mm[draw] = (self.below_mm[draw] - taken_over).max(0.0);
            self.total_available_mm[draw] = new;
            self.below_available_mm[draw] = (old + below - new).max(0.0);
        }
    }
}
