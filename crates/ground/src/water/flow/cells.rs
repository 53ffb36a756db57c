//! The state of all cells.

use super::profile::Profile;
use crate::water::retention::curve::with_curve;
use crate::water::retention::{CurvePoint, Retention};

/// Head, water content, its slope, conductivity and its slope, cell by cell.
#[derive(Debug, Clone, Default)]
pub(super) struct Cells {
    pub(super) head: Vec<f64>,
    pub(super) theta: Vec<f64>,
    pub(super) capacity: Vec<f64>,
    pub(super) k: Vec<f64>,
    pub(super) dk: Vec<f64>,
}

/// Nearer to full than this the head is the better unknown; drier, the water content.
const NEARLY_FULL: f64 = 0.97;
/// One correction may fill a cell up to here.
const FILLED: f64 = 0.99;
/// One correction may leave this share of a cell's water.
const LEFT: f64 = 0.1;

/// Specific storage, 1/cm: by so much full ground yields to pressure. Real ground yields ten to a
/// hundred times as much; without any, the head of a full profile between two given fluxes would be
/// left open.
const YIELD_PER_CM: f64 = 1e-8;
/// It is counted from this head up, cm.
const YIELD_FROM_CM: f64 = -1000.0;

/// Water content that ground gains by yielding to pressure.
fn yielded(head: f64) -> f64 {
    YIELD_PER_CM * head.max(YIELD_FROM_CM)
}

impl Cells {
    pub(super) fn resize(&mut self, cells: usize) {
        for part in [&mut self.head, &mut self.theta, &mut self.capacity, &mut self.k, &mut self.dk] {
            part.clear();
            part.resize(cells, 0.0);
        }
    }

    pub(super) fn copy_from(&mut self, other: &Self) {
        self.head.copy_from_slice(&other.head);
        self.theta.copy_from_slice(&other.theta);
        self.capacity.copy_from_slice(&other.capacity);
        self.k.copy_from_slice(&other.k);
        self.dk.copy_from_slice(&other.dk);
    }

    fn set(&mut self, cell: usize, head: f64, point: CurvePoint) {
        self.head[cell] = head;
        self.theta[cell] = point.theta + yielded(head);
        let gain = if head > YIELD_FROM_CM { YIELD_PER_CM } else { 0.0 };
        self.capacity[cell] = point.capacity_per_cm + gain;
        self.k[cell] = point.conductivity_cm_h;
        self.dk[cell] = point.conductivity_slope_per_h;
    }

    /// Sets all cells from their heads.
    pub(super) fn at_heads(&mut self, profile: &Profile, heads: &[f64]) {
        for (curve, cells) in profile.layers() {
            with_curve!(curve, curve => for cell in cells {
                self.set(cell, heads[cell], curve.point(heads[cell]));
            });
        }
    }

    /// Adds corrections of head, or of water content where the ground is not nearly full: a dry cell
    /// that water enters would be sent far past saturation by a correction of its head.
    pub(super) fn advance(&mut self, profile: &Profile, head: &[f64], theta: &[f64]) {
        for (curve, cells) in profile.layers() {
            with_curve!(curve, curve => self.advance_layer(curve, cells, head, theta));
        }
    }

    fn advance_layer(
        &mut self,
        curve: &impl Retention,
        cells: std::ops::Range<usize>,
        head: &[f64],
        theta: &[f64],
    ) {
        let (dry, full) = (curve.residual(), curve.saturation());
        let span = full - dry;
        let (nearly, filled) = (dry + NEARLY_FULL * span, dry + FILLED * span);
        // One correction of its head may dry a nearly full cell no further than to where the water
        // content takes over.
        let lowest = curve.head_at(dry + (NEARLY_FULL - 0.02) * span);
        // The corner itself has the slope of the drier side.
        let corner = curve.corner_cm().map(|corner| corner - 1e-9 * (1.0 + corner.abs()));
        for cell in cells {
            let now = self.theta[cell] - yielded(self.head[cell]);
            let own = self.head[cell] <= YIELD_FROM_CM || self.capacity[cell] > 10.0 * YIELD_PER_CM;
            if now < nearly && own && self.capacity[cell] > 0.0 {
                let part = if self.head[cell] > YIELD_FROM_CM { YIELD_PER_CM * head[cell] } else { 0.0 };
                let next = (now + theta[cell] - part).clamp(dry + LEFT * (now - dry), filled);
                let (at, point) = curve.point_at(next);
                self.set(cell, at, point);
            } else {
                let reach = 20.0 + self.head[cell].abs();
                let least = if now < nearly { f64::NEG_INFINITY } else { lowest };
                let at = (self.head[cell] + head[cell].clamp(-reach, reach)).max(least);
                // No correction leaps over the corner of a curve: the slope on one side says nothing
                // of the other, and the iteration would go to and fro for ever.
                let at = match corner {
                    Some(corner) if (self.head[cell] - corner) * (at - corner) < 0.0 => corner,
                    _ => at,
                };
                self.set(cell, at, curve.point(at));
            }
        }
    }
}
