//! Coefficients mended for climate, thin stands and mulch (FAO-56 chapters 6, 7, 9 and 10).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::crop::Crop;
use crate::climate::quantities::{MinimumHumidity, WindSpeed};
use crate::kit::Bounded;

crate::quantity! {
    /// Share of the ground that the plants cover.
    pub struct CoverFraction: "share of the ground covered", "", 0.01 ..= 1.0, example 0.5;
    /// Share of the ground under mulch.
    pub struct MulchFraction: "share of the ground under mulch", "", 0.0 ..= 1.0, example 0.6;
}

/// Below this an end coefficient is that of dry ground and is not mended for climate.
const MENDED_FROM: f64 = 0.45;
/// Single coefficient of the first stage under plastic over the whole ground.
const PLASTIC_KC_INI: f64 = 0.10;
/// What plastic takes from the basal coefficient: the middle of 5 to 15 %.
const PLASTIC_BASAL: f64 = 0.10;
/// What plastic takes from the single coefficient: the middle of 10 to 30 %, for crops without a row.
const PLASTIC_SINGLE: f64 = 0.20;
/// What a full cover of organic mulch takes from the evaporation: 5 % for each tenth.
const ORGANIC_EVAPORATION: f64 = 0.5;

/// Mean climate of a stage.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StageClimate {
    /// Wind at 2 m.
    pub wind_2m_m_s: WindSpeed,
    /// Mean of the days' least relative humidity.
    pub rh_min_percent: MinimumHumidity,
}

impl StageClimate {
    /// The climate the tables are made for.
    #[must_use]
    pub fn reference() -> Self {
        Self { wind_2m_m_s: WindSpeed::literal(2.0), rh_min_percent: MinimumHumidity::literal(45.0) }
    }

    /// What it adds to a coefficient of a crop of this height (eq. 62).
    #[must_use]
    pub fn term(&self, height_m: f64) -> f64 {
        climate_term(self.wind_2m_m_s.get(), self.rh_min_percent.get(), height_m)
    }
}

/// What wind and dry air add to a coefficient (eq. 62, 65, 70). Inputs are held to the equation's limits: 1 to
/// 6 m/s, 20 to 80 %, 0.1 to 10 m.
#[must_use]
pub fn climate_term(wind_2m_m_s: f64, rh_min_percent: f64, height_m: f64) -> f64 {
    let wind = 0.04 * (wind_2m_m_s.clamp(1.0, 6.0) - 2.0);
    let dry = 0.004 * (rh_min_percent.clamp(20.0, 80.0) - 45.0);
    (wind - dry) * libm::pow(height_m.clamp(0.1, 10.0) / 3.0, 0.3)
}

/// A stand thinner than the table's.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stand {
    /// Share of the ground covered at full growth.
    pub cover_fraction: CoverFraction,
    /// What a dense stand of the crop would cover.
    pub dense_cover_fraction: CoverFraction,
    /// The ground between is wetted often: its evaporation makes up for the missing leaves, and the single
    /// coefficient stays.
    #[serde(default)]
    pub wetted_often: bool,
}

impl Stand {
    /// What is taken from the coefficients, A_cm (eq. 95); 0 for a stand that is not thinner.
    #[must_use]
    pub fn reduction(&self) -> f64 {
        let share = (self.cover_fraction.get() / self.dense_cover_fraction.get()).min(1.0);
        1.0 - share.sqrt()
    }
}

/// What lies on the ground.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Mulch {
    /// Nothing.
    #[default]
    None,
    /// Plastic film with drip beneath; holes for plants let out two to four times their own area, so count that
    /// much as bare.
    Plastic {
        /// Share of the wetted ground covered.
        share: MulchFraction,
    },
    /// Straw, leaves, compost.
    Organic {
        /// Share of the ground covered.
        share: MulchFraction,
    },
}

/// The six coefficients of a crop as they are used.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Coefficients {
    /// Single, first stage.
    pub kc_ini: f64,
    /// Single, middle.
    pub kc_mid: f64,
    /// Single, harvest.
    pub kc_end: f64,
    /// Basal, first stage.
    pub kcb_ini: f64,
    /// Basal, middle.
    pub kcb_mid: f64,
    /// Basal, harvest.
    pub kcb_end: f64,
}

impl Coefficients {
    /// As the table has them.
    #[must_use]
    pub fn of(crop: &Crop) -> Self {
        Self {
            kc_ini: crop.kc_ini,
            kc_mid: crop.kc_mid,
            kc_end: crop.kc_end,
            kcb_ini: crop.kcb_ini,
            kcb_mid: crop.kcb_mid,
            kcb_end: crop.kcb_end,
        }
    }

    /// Mended for the climate of the middle and the last stage; an end value below 0.45 stays.
    #[must_use]
    pub fn in_climate(self, height_m: f64, mid: StageClimate, late: StageClimate) -> Self {
        let mended = |kc: f64, term: f64| if kc >= MENDED_FROM { (kc + term).max(0.05) } else { kc };
        let (mid, late) = (mid.term(height_m), late.term(height_m));
        Self {
            kc_mid: (self.kc_mid + mid).max(0.05),
            kcb_mid: mended(self.kcb_mid, mid),
            kc_end: mended(self.kc_end, late),
            kcb_end: mended(self.kcb_end, late),
            ..self
        }
    }

    /// Mended for a thin stand (eq. 94-96). The end values shrink in the proportion of the middle ones, which is
    /// our reading.
    #[must_use]
    pub fn in_stand(self, stand: Stand) -> Self {
        let less = stand.reduction();
        let basal = (self.kcb_mid - less).max(self.kcb_ini.min(self.kcb_mid));
        let single =
            if stand.wetted_often { self.kc_mid } else { (self.kc_mid - less).max(basal).min(self.kc_mid) };
        Self {
            kc_mid: single,
            kcb_mid: basal,
            kc_end: self.kc_end * single / self.kc_mid,
            kcb_end: self.kcb_end * basal / self.kcb_mid,
            ..self
        }
    }

    /// Mended for mulch (chapter 10, Table 25). The single coefficient is never put below the basal one: the 35 %
    /// that the table takes from tomato would leave less than the plants draw by the same chapter.
    #[must_use]
    pub fn under_mulch(self, crop_key: &str, mulch: Mulch) -> Self {
        match mulch {
            Mulch::None => self,
            Mulch::Plastic { share } => {
                let share = share.get();
                let keep = 1.0 - plastic_reduction(crop_key) * share;
                let basal_keep = 1.0 - PLASTIC_BASAL * share;
                let kc_ini = share * PLASTIC_KC_INI.min(self.kc_ini) + (1.0 - share) * self.kc_ini;
                let (kcb_mid, kcb_end) = (self.kcb_mid * basal_keep, self.kcb_end * basal_keep);
                Self {
                    kc_ini,
                    kcb_ini: self.kcb_ini.min(kc_ini),
                    kcb_mid,
                    kcb_end,
                    kc_mid: (self.kc_mid * keep).max(kcb_mid),
                    kc_end: (self.kc_end * keep).max(kcb_end),
                }
            }
            Mulch::Organic { share } => {
                let keep = 1.0 - ORGANIC_EVAPORATION * share.get();
                let less = |kc: f64, kcb: f64| kcb + (kc - kcb).max(0.0) * keep;
                Self {
                    kc_ini: (self.kc_ini * keep).max(self.kcb_ini.min(self.kc_ini)),
                    kc_mid: less(self.kc_mid, self.kcb_mid),
                    kc_end: less(self.kc_end, self.kcb_end),
                    ..self
                }
            }
        }
    }
}

/// What plastic over all the ground takes from the single coefficient (Table 25, middles of its ranges).
fn plastic_reduction(crop_key: &str) -> f64 {
    match crop_key {
        "zucchini" | "winter-squash" => 0.10,
        "cucumber" | "cucumber-trellised" => 0.175,
        "cantaloupe" => 0.075,
        "watermelon" => 0.275,
        "tomato" | "tomato-trellised" => 0.35,
        _ => PLASTIC_SINGLE,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{catalogue, find};
    use super::*;
    use crate::kit::testing::any_of;
    use proptest::prelude::*;

    #[test]
    fn organic_mulch_takes_five_percent_of_evaporation_a_tenth() {
        let lettuce = Coefficients::of(find("lettuce").unwrap());
        let mulched = lettuce.under_mulch("lettuce", Mulch::Organic { share: MulchFraction::literal(0.5) });
        assert!((mulched.kc_ini - 0.75 * lettuce.kc_ini).abs() < 1e-12);
        assert!((mulched.kc_mid - (0.9 + 0.75 * 0.1)).abs() < 1e-12);
        assert_eq!(mulched.kcb_mid, lettuce.kcb_mid);
    }

    #[test]
    fn plastic_takes_what_the_table_says() {
        let melon = Coefficients::of(find("watermelon").unwrap());
        let all = melon.under_mulch("watermelon", Mulch::Plastic { share: MulchFraction::literal(1.0) });
        assert!((all.kc_ini - 0.10).abs() < 1e-12 && (all.kcb_ini - 0.10).abs() < 1e-12);
        assert!((all.kcb_mid / melon.kcb_mid - 0.9).abs() < 1e-12);
        assert!(all.kc_mid >= all.kcb_mid);
        let none = melon.under_mulch("watermelon", Mulch::Plastic { share: MulchFraction::literal(0.0) });
        assert_eq!(none, melon);
        let cantaloupe = Coefficients::of(find("cantaloupe").unwrap());
        let all = cantaloupe.under_mulch("cantaloupe", Mulch::Plastic { share: MulchFraction::literal(1.0) });
        assert!((all.kc_mid / cantaloupe.kc_mid - 0.925).abs() < 1e-12);
    }

    proptest! {
        /// Whatever is done to any crop: finite, above zero, basal never above single.
        #[test]
        fn mending_never_breaks_a_crop(
            at in 0..catalogue().len(),
            wind in any_of::<WindSpeed>(),
            humidity in any_of::<MinimumHumidity>(),
            cover in any_of::<CoverFraction>(),
            share in any_of::<MulchFraction>(),
            plastic in any::<bool>(),
        ) {
            let crop = &catalogue()[at];
            let climate = StageClimate { wind_2m_m_s: wind, rh_min_percent: humidity };
            let stand = Stand { cover_fraction: cover, dense_cover_fraction: CoverFraction::literal(0.85), wetted_often: false };
            let mulch = if plastic { Mulch::Plastic { share } } else { Mulch::Organic { share } };
            let c = Coefficients::of(crop).in_climate(crop.height_m, climate, climate).in_stand(stand).under_mulch(&crop.key, mulch);
            for (kc, kcb) in [(c.kc_ini, c.kcb_ini), (c.kc_mid, c.kcb_mid), (c.kc_end, c.kcb_end)] {
                prop_assert!(kc.is_finite() && kcb > 0.0 && kc < 1.7, "{} {c:?}", crop.key);
                prop_assert!(kcb <= kc + 1e-12, "{} {c:?}", crop.key);
            }
        }
    }
}
