//! Feeding the ground, from the laboratory's printout to what to spread: what beds need, what they were given and gave, and where that leads.

pub mod acidity;
pub mod balance;
pub mod contents;
pub mod lab;
pub mod needs;
pub mod plan;
pub mod shelf;

use book::model::UnitSystem;
use ground::kit::units::{Dimension, show};

use crate::words;

/// A rate in the farm's own measure: "3.9 lb per 1000 ft²", "190 kg/ha".
#[must_use]
pub fn rate(g_m2: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::UsCustomary => format!("{} lb per 1000 ft²", words::short(g_m2 * LB_1000FT2_PER_G_M2)),
        UnitSystem::Metric => format!("{} kg/ha", words::short(10.0 * g_m2)),
    }
}

/// Pounds for 1000 square feet in 1 g/m² (exact pound and foot).
const LB_1000FT2_PER_G_M2: f64 = 92.903_04 / 453.592_37;

/// A mass as it is carried: "2 lb 4 oz", "1.1 kg".
#[must_use]
pub fn mass(kg: f64, units: UnitSystem) -> String {
    show(kg, Dimension::Load, units)
}
