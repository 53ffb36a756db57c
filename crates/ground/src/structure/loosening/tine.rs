//! How far apart tines run and how deep a tine still lifts.

use super::decide::Tool;

/// A tine lifts to about this many times its width; deeper it only presses aside.
pub const CRITICAL_DEPTH_WIDTHS: f64 = 6.0;
/// Power a shank of field scale takes at least, kW (40 hp).
pub const LEAST_SHANK_POWER_KW: f64 = 40.0 * 0.745_699_9;

/// Least and greatest distance between passes, cm, for a working depth.
#[must_use]
pub fn spacing_cm(tool: Tool, winged: bool, depth_cm: f64) -> (f64, f64) {
    match (tool, winged) {
        // One lift every 6 to 8 in (common practice).
        (Tool::Broadfork, _) => (15.2, 20.3),
        (Tool::Subsoiler, false) => (depth_cm, 1.5 * depth_cm),
        (Tool::Subsoiler, true) => (1.5 * depth_cm, 2.0 * depth_cm),
    }
}

/// Greatest depth, cm, at which a tine of this width still lifts.
#[must_use]
pub fn critical_depth_cm(tine_width_cm: f64) -> f64 {
    CRITICAL_DEPTH_WIDTHS * tine_width_cm
}
