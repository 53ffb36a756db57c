//! The curve of `soil-water` as the flow solver takes it, so that a draw of a belief can be run.
//!
//! # Method
//! The three stretches of Saxton and Rawls 2006 are kept as they are published and as every other
//! page shows them: full up to air entry, a straight line in tension to field capacity at 33 kPa
//! (eq. 12), and beyond it the power law (eq. 11), which is the curve of Brooks and Corey with no
//! residual water. So field capacity, wilting point and saturation are those of the other pages to
//! the last digit. Conductivity is Ks (θ/θs)^(3 + 2/λ) (eq. 17). An air entry of 0 needs no guard of
//! its own: the straight stretch then starts at a full soil and no tension.
//!
//! # Stones
//! Stones hold and pass no water. Contents are those of the whole soil (those without stones times
//! 1 − stones by volume, eq. 21), and conductivity is that of the whole soil (eq. 22).
//!
//! # Difference from the paper
//! The power law has no end in dry ground; it is drawn on beyond 1500 kPa as in `water-tension`.

use super::CM_PER_KPA;
use super::curve::{CurvePoint, Retention};
use super::{BrooksCorey, Theory};
use crate::water::equations::{FIELD_CAPACITY_KPA, SoilWater};

/// The curve of Saxton and Rawls. Made by [`TextureCurve::of`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TextureCurve {
    full: f64,
    held: f64,
    entry_cm: f64,
    held_cm: f64,
    straight_per_cm: f64,
    lambda: f64,
    power: f64,
    ks_cm_h: f64,
}

/// Why the equations give no curve that water can be moved with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoCurve {
    /// No water contents or no tension curve at all.
    NoRetention,
    /// No air is left at field capacity, or sand without a wilting point: no conductivity.
    NoConductivity,
    /// The air entry is not below 33 kPa.
    NoAirEntry,
}

impl NoCurve {
    /// In words for a grower.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::NoRetention => "the equations give no water curve for this make-up",
            Self::NoConductivity => {
                "the equations give no conductivity for this make-up: packed so hard that no air is left at \
                 field capacity, or sand with next to no clay and organic matter"
            }
            Self::NoAirEntry => "the equations let air into this make-up only beyond field capacity",
        }
    }
}

impl std::fmt::Display for NoCurve {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.words())
    }
}

impl std::error::Error for NoCurve {}

impl TextureCurve {
    /// The curve of a soil, stones included.
    ///
    /// # Errors
    /// Where the equations give no curve or no conductivity, which happens for some draws of a wide
    /// belief: such draws are to be left out and counted.
    pub fn of(water: &SoilWater) -> Result<Self, NoCurve> {
        let (Some(held), Some(full), Some(lambda)) = (water.field_capacity, water.saturation, water.lambda)
        else {
            return Err(NoCurve::NoRetention);
        };
        let Some(speed_mm_h) = water.saturated_conductivity else { return Err(NoCurve::NoConductivity) };
        let Some(entry_kpa) = water.air_entry else { return Err(NoCurve::NoAirEntry) };
        let earth = 1.0 - water.gravel_volume.unwrap_or(0.0);
        let (held, full) = (held * earth, full * earth);
        let sound = held > 0.0 && full > held && lambda > 0.0 && entry_kpa < FIELD_CAPACITY_KPA;
        if !sound {
            return Err(NoCurve::NoRetention);
        }
        if speed_mm_h <= 0.0 {
            return Err(NoCurve::NoConductivity);
        }
        let (entry_cm, held_cm) = (entry_kpa * CM_PER_KPA, FIELD_CAPACITY_KPA * CM_PER_KPA);
        Ok(Self {
            full,
            held,
            entry_cm,
            held_cm,
            straight_per_cm: (full - held) / (held_cm - entry_cm),
            lambda,
            power: 3.0 + 2.0 / lambda,
            ks_cm_h: speed_mm_h / 10.0,
        })
    }

    /// Water content at field capacity, 33 kPa, stones included, m³/m³.
    #[must_use]
    pub fn field_capacity(&self) -> f64 {
        self.held
    }

    /// The power law alone, carried on to saturation: the curve of Brooks and Corey with no residual
    /// water and its bubbling suction where the power law meets saturation. It leaves the straight
    /// stretch out, and so drains sooner between saturation and 33 kPa.
    #[must_use]
    pub fn power_law(&self) -> BrooksCorey {
        let bubbling_cm = self.held_cm * libm::pow(self.held / self.full, 1.0 / self.lambda);
        BrooksCorey {
            theta_r: 0.0,
            theta_s: self.full,
            bubbling_cm,
            lambda: self.lambda,
            ks_cm_h: self.ks_cm_h,
            theory: Theory::Burdine,
        }
    }

    fn with(&self, theta: f64, capacity_per_cm: f64) -> CurvePoint {
        let conductivity = self.ks_cm_h * libm::exp(self.power * libm::log(theta / self.full));
        CurvePoint {
            theta,
            capacity_per_cm,
            conductivity_cm_h: conductivity,
            conductivity_slope_per_h: conductivity * self.power / theta * capacity_per_cm,
        }
    }
}

impl Retention for TextureCurve {
    fn point(&self, head_cm: f64) -> CurvePoint {
        let suction = -head_cm;
        if suction <= self.entry_cm {
            return CurvePoint { theta: self.full, conductivity_cm_h: self.ks_cm_h, ..CurvePoint::default() };
        }
        if suction <= self.held_cm {
            return self
                .with(self.full - (suction - self.entry_cm) * self.straight_per_cm, self.straight_per_cm);
        }
        let theta = self.held * libm::exp(self.lambda * libm::log(self.held_cm / suction));
        self.with(theta, self.lambda * theta / suction)
    }

    fn head_at(&self, theta: f64) -> f64 {
        if theta >= self.held {
            return -self.entry_cm - (self.full - theta.min(self.full)) / self.straight_per_cm;
        }
        // A billion times less water than field capacity is past any curve.
        let share = (theta / self.held).max(1e-9);
        -self.held_cm * libm::exp((-libm::log(share) / self.lambda).min(60.0))
    }

    fn corner_cm(&self) -> Option<f64> {
        Some(-self.entry_cm)
    }

    fn residual(&self) -> f64 {
        0.0
    }

    fn saturation(&self) -> f64 {
        self.full
    }

    fn saturated_conductivity_cm_h(&self) -> f64 {
        self.ks_cm_h
    }
}
