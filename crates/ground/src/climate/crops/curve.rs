//! A crop's curve over its season, and the crop of any day on it.

use super::crop::Crop;
use super::day::{CropDay, CropStage};
use super::mend::{Coefficients, Mulch, StageClimate, Stand};
use super::stages::Stages;
use crate::kit::Bounded;

/// Basal coefficient of bare dry ground, from which cover is counted (FAO-56 eq. 76: 0.15 to 0.20).
const BARE_BASAL: f64 = 0.15;
/// Depth that dries by evaporation, m (FAO-56 eq. 73: 0.10 to 0.15).
const DRYING_DEPTH_M: f64 = 0.10;
/// Greatest depletion fraction (FAO-56 p. 162).
const GREATEST_DEPLETION: f64 = 0.8;

/// How a crop is grown here.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CropSetting {
    /// Lengths of its stages, already scaled to the farm's dates where they are known.
    pub stages: Stages,
    /// Climate of the middle stage; `None` for the table's own.
    pub mid_climate: Option<StageClimate>,
    /// Climate of the last stage; that of the middle where it is not given.
    pub late_climate: Option<StageClimate>,
    /// A stand thinner than the table's.
    pub stand: Option<Stand>,
    /// What lies on the ground.
    pub mulch: Mulch,
    /// Coefficient of the first stage from its wettings ([`super::initial_kc`]); the table's for `None`.
    pub kc_ini: Option<f64>,
}

impl CropSetting {
    /// As the tables have it.
    #[must_use]
    pub fn plain(stages: Stages) -> Self {
        Self { stages, mid_climate: None, late_climate: None, stand: None, mulch: Mulch::None, kc_ini: None }
    }
}

/// A crop's season, worked out once for many days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CropCurve {
    /// Coefficients as used.
    pub used: Coefficients,
    /// Basal coefficients without mulch, by which leaves are counted.
    leaves: [f64; 3],
    /// Days from planting at which each stage ends.
    ends: [f64; 4],
    height_m: f64,
    climate_term_at_1m: f64,
    cover_scale: f64,
    roots: (f64, f64),
    depletion_fraction: f64,
}

impl CropCurve {
    /// The curve of a crop as it is grown.
    #[must_use]
    pub fn new(crop: &Crop, setting: &CropSetting) -> Self {
        let mid = setting.mid_climate.unwrap_or_else(StageClimate::reference);
        let late = setting.late_climate.or(setting.mid_climate).unwrap_or_else(StageClimate::reference);
        let mut table = Coefficients::of(crop);
        if let Some(kc_ini) = setting.kc_ini {
            table.kc_ini = kc_ini;
            table.kcb_ini = table.kcb_ini.min(kc_ini);
        }
        let mut grown = table.in_climate(crop.height_m, mid, late);
        if let Some(stand) = setting.stand {
            grown = grown.in_stand(stand);
        }
        let s = &setting.stages;
        let first = s.initial_d;
        let full = first + s.development_d;
        let ripe = full + s.mid_d;
        let mut curve = Self {
            used: grown.under_mulch(&crop.key, setting.mulch),
            leaves: [grown.kcb_ini, grown.kcb_mid, grown.kcb_end],
            ends: [first, full, ripe, ripe + s.late_d],
            height_m: crop.height_m,
            // The term goes with the height to the power 0.3: kept per metre, applied each day.
            climate_term_at_1m: mid.term(1.0),
            cover_scale: 1.0,
            roots: (crop.root_initial_m, crop.root_full_m),
            depletion_fraction: crop.depletion_fraction,
        };
        if let Some(stand) = setting.stand {
            let by_equation = curve.cover(grown.kcb_mid, crop.height_m);
            curve.cover_scale = stand.cover_fraction.get() / by_equation;
        }
        curve
    }

    /// Days from planting to harvest.
    #[must_use]
    pub fn season_d(&self) -> f64 {
        self.ends[3]
    }

    /// The crop `days` after planting. After harvest it is bare ground with the coefficient of the first stage.
    #[must_use]
    pub fn day(&self, days: f64) -> CropDay {
        let days = days.max(0.0);
        let [first, full, ripe, harvest] = self.ends;
        let c = &self.used;
        if days > harvest {
            return bare_ground_day(c.kc_ini);
        }
        let between = |from: f64, to: f64| if to > from { (days - from) / (to - from) } else { 1.0 };
        let along = |values: [f64; 2], share: f64| values[0] + share * (values[1] - values[0]);
        let (stage, grown, ripened) = if days <= first {
            (CropStage::Initial, 0.0, 0.0)
        } else if days <= full {
            (CropStage::Development, between(first, full), 0.0)
        } else if days <= ripe {
            (CropStage::Mid, 1.0, 0.0)
        } else {
            (CropStage::Late, 1.0, between(ripe, harvest))
        };
        let at = |ini: f64, mid: f64, end: f64| {
            if ripened > 0.0 { along([mid, end], ripened) } else { along([ini, mid], grown) }
        };
        let leaf = at(self.leaves[0], self.leaves[1], self.leaves[2]);
        // Height and roots follow the leaves up and stay (Annex 8): both grow with the basal coefficient.
        let height_m = self.height_m * along([(self.leaves[0] / self.leaves[1]).min(1.0), 1.0], grown);
        CropDay {
            stage,
            kc: at(c.kc_ini, c.kc_mid, c.kc_end),
            kcb: at(c.kcb_ini, c.kcb_mid, c.kcb_end),
            cover_fraction: (self.cover_scale * self.cover(leaf, height_m)).clamp(0.0, 0.99),
            height_m,
            root_depth_m: along([self.roots.0, self.roots.1], grown),
            depletion_fraction: self.depletion_fraction,
        }
    }

    /// Share of the ground that leaves of this basal coefficient cover (eq. 76).
    fn cover(&self, kcb: f64, height_m: f64) -> f64 {
        let climate = self.climate_term_at_1m * libm::pow(height_m.clamp(0.1, 10.0), 0.3);
        let greatest = (1.2 + climate).max(kcb + 0.05);
        let share = ((kcb - BARE_BASAL).max(0.01) / (greatest - BARE_BASAL)).min(1.0);
        libm::pow(share, 1.0 + 0.5 * height_m).clamp(0.0, 0.99)
    }
}

/// The crop `days` after planting (day 0). For many days make a [`CropCurve`] once.
#[must_use]
pub fn crop_day(crop: &Crop, setting: &CropSetting, days: f64) -> CropDay {
    CropCurve::new(crop, setting).day(days)
}

/// Ground without a crop. `kc` follows from the wettings ([`super::initial_kc`]); only the depth that dries by
/// evaporation counts, and no plant suffers.
#[must_use]
pub fn bare_ground_day(kc: f64) -> CropDay {
    CropDay {
        stage: CropStage::Bare,
        kc,
        kcb: 0.0,
        cover_fraction: 0.0,
        height_m: 0.0,
        root_depth_m: DRYING_DEPTH_M,
        depletion_fraction: GREATEST_DEPLETION,
    }
}

#[cfg(test)]
mod tests {
    use super::super::mend::{CoverFraction, MulchFraction};
    use super::super::{catalogue, find};
    use super::*;
    use crate::climate::quantities::{MinimumHumidity, WindSpeed};
    use proptest::prelude::*;

    fn days_of(curve: &CropCurve) -> impl Iterator<Item = (f64, CropDay)> {
        (0..=4000_u32).map(f64::from).map(|step| step / 10.0).map(move |day| (day, curve.day(day)))
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]
        /// No jump anywhere between planting and harvest, everything within its bounds, roots and height never shrink.
        #[test]
        fn the_curve_has_no_jump(
            at in 0..catalogue().len(),
            row in 0..8_usize,
            wind in 0.5..6.0_f64,
            humidity in 20.0..80.0_f64,
            share in 0.0..1.0_f64,
            cover in 0.3..0.85_f64,
        ) {
            let crop = &catalogue()[at];
            let stages = crop.stages[row % crop.stages.len()].stages;
            let climate = StageClimate {
                wind_2m_m_s: WindSpeed::literal(wind),
                rh_min_percent: MinimumHumidity::literal(humidity),
            };
            let setting = CropSetting {
                mid_climate: Some(climate),
                mulch: Mulch::Organic { share: MulchFraction::literal(share) },
                stand: Some(Stand {
                    cover_fraction: CoverFraction::literal(cover),
                    dense_cover_fraction: CoverFraction::literal(0.85),
                    wetted_often: false,
                }),
                ..CropSetting::plain(stages)
            };
            let curve = CropCurve::new(crop, &setting);
            let mut last: Option<CropDay> = None;
            for (day, now) in days_of(&curve).take_while(|(day, _)| *day <= curve.season_d()) {
                prop_assert!((0.05..1.7).contains(&now.kc) && now.kcb <= now.kc + 1e-9, "{} {day} {now:?}", crop.key);
                prop_assert!((0.0..=0.99).contains(&now.cover_fraction));
                prop_assert!(now.root_depth_m >= crop.root_initial_m - 1e-12 && now.root_depth_m <= crop.root_full_m + 1e-12);
                if let Some(before) = last {
                    // A tenth of a day: the steepest printed stage, one of 1 day, moves 0.1.
                    prop_assert!((now.kc - before.kc).abs() < 0.12, "{} {day}", crop.key);
                    prop_assert!((now.cover_fraction - before.cover_fraction).abs() < 0.12, "{} {day}", crop.key);
                    prop_assert!(now.root_depth_m >= before.root_depth_m && now.height_m >= before.height_m);
                    prop_assert!(now.stage >= before.stage);
                }
                last = Some(now);
            }
        }
    }

    #[test]
    fn after_harvest_the_ground_is_bare() {
        let lettuce = find("lettuce").unwrap();
        let setting = CropSetting::plain(lettuce.stages[0].stages);
        assert_eq!(crop_day(lettuce, &setting, 75.0).stage, CropStage::Late);
        let after = crop_day(lettuce, &setting, 76.0);
        assert_eq!((after.stage, after.kcb, after.cover_fraction), (CropStage::Bare, 0.0, 0.0));
        assert_eq!(crop_day(lettuce, &setting, -5.0), crop_day(lettuce, &setting, 0.0));
    }

    #[test]
    fn full_grown_leaves_cover_what_the_source_says_they_do() {
        // FAO-56 Table 21: mid season cover 0.8 to 1.0. Cover by eq. 76 in the reference climate for a dense crop.
        let corn = find("sweet-corn").unwrap();
        let setting = CropSetting::plain(corn.stages[0].stages);
        let curve = CropCurve::new(corn, &setting);
        assert!((0.8..=1.0).contains(&curve.day(50.0).cover_fraction), "{:?}", curve.day(50.0));
        assert!(curve.day(5.0).cover_fraction < 0.1, "Table 21: first stage 0 to 0.1");
    }

    #[test]
    fn an_observed_cover_is_kept() {
        let tomato = find("tomato").unwrap();
        let stand = Stand {
            cover_fraction: CoverFraction::literal(0.5),
            dense_cover_fraction: CoverFraction::literal(0.85),
            wetted_often: true,
        };
        let setting = CropSetting { stand: Some(stand), ..CropSetting::plain(tomato.stages[0].stages) };
        let day = crop_day(tomato, &setting, 90.0);
        assert_eq!(day.stage, CropStage::Mid);
        assert!((day.cover_fraction - 0.5).abs() < 1e-9);
        assert_eq!(day.kc, tomato.kc_mid, "wetted often: the single coefficient stays");
    }
}
