//! What a run gives: the state at the times asked for, and the water balance.

use std::fmt::Write as _;

use super::profile::Profile;

/// Water since the start, cm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Totals {
    /// Rain and irrigation that fell; with a surface held at a head, what entered.
    pub applied_cm: f64,
    /// What entered the ground: applied, less what ran off and what stands.
    pub infiltration_cm: f64,
    /// What ran off.
    pub runoff_cm: f64,
    /// What stands on the surface now.
    pub standing_cm: f64,
    /// What the air took.
    pub evaporation_cm: f64,
    /// What roots took.
    pub transpiration_cm: f64,
    /// What left through the lower end; negative where it rose.
    pub drainage_cm: f64,
    /// Water in the profile now.
    pub storage_cm: f64,
    /// Water in the profile at the start.
    pub storage_at_start_cm: f64,
}

impl Totals {
    /// Water in the profile and on it that the fluxes do not account for, cm: what the iteration left.
    #[must_use]
    pub fn balance_error_cm(&self) -> f64 {
        let came = self.applied_cm - self.runoff_cm - self.evaporation_cm;
        let left = self.transpiration_cm + self.drainage_cm;
        self.storage_cm + self.standing_cm - self.storage_at_start_cm - (came - left)
    }

    /// All water that moved through either end or into roots, cm.
    #[must_use]
    pub fn moved_cm(&self) -> f64 {
        self.applied_cm.abs() + self.evaporation_cm + self.transpiration_cm + self.drainage_cm.abs()
    }
}

/// The profile at one time.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Snapshot {
    /// Hours from the start.
    pub time_h: f64,
    /// Head of each cell, cm.
    pub head_cm: Vec<f64>,
    /// Water content of each cell, m³/m³.
    pub theta: Vec<f64>,
    /// The balance up to then.
    pub totals: Totals,
}

/// A finished run. Kept by the caller and filled again by the next one, so that an ensemble
/// allocates nothing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Run {
    /// Depth of the middle of each cell, cm.
    pub depth_cm: Vec<f64>,
    /// Size of each cell, cm.
    pub width_cm: Vec<f64>,
    /// The times asked for.
    pub snapshots: Vec<Snapshot>,
    /// Steps taken.
    pub steps: usize,
    /// Steps that had to be taken again, shorter.
    pub repeated: usize,
    /// Corrections of the iteration, all steps together.
    pub corrections: usize,
}

impl Run {
    /// An empty run.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    pub(super) fn prepare(&mut self, profile: &Profile, times_h: &[f64]) {
        self.depth_cm.clear();
        self.depth_cm.extend_from_slice(&profile.centre);
        self.width_cm.clear();
        self.width_cm.extend_from_slice(&profile.width);
        self.snapshots.resize_with(times_h.len(), Snapshot::default);
        for (snapshot, time) in self.snapshots.iter_mut().zip(times_h) {
            snapshot.time_h = *time;
            snapshot.totals = Totals::default();
            for part in [&mut snapshot.head_cm, &mut snapshot.theta] {
                part.clear();
                part.resize(profile.cells(), 0.0);
            }
        }
        (self.steps, self.repeated, self.corrections) = (0, 0, 0);
    }

    /// Water content at a depth (cm) in a snapshot, of the cell that holds it.
    #[must_use]
    pub fn theta_at(&self, snapshot: usize, depth_cm: f64) -> Option<f64> {
        let cell = self.cell_at(depth_cm)?;
        self.snapshots.get(snapshot)?.theta.get(cell).copied()
    }

    /// Water between two depths (cm) in a snapshot, cm.
    #[must_use]
    pub fn water_between_cm(&self, snapshot: usize, from_cm: f64, to_cm: f64) -> Option<f64> {
        let theta = &self.snapshots.get(snapshot)?.theta;
        let mut top = 0.0;
        let mut sum = 0.0;
        for (width, theta) in self.width_cm.iter().zip(theta) {
            let bottom = top + width;
            sum += theta * (bottom.min(to_cm) - f64::max(top, from_cm)).max(0.0);
            top = bottom;
        }
        Some(sum)
    }

    /// Depth (cm) at which the water content first falls to `theta` on the way down, between the
    /// middles of two cells. `None` where it does not.
    #[must_use]
    pub fn front_cm(&self, snapshot: usize, theta: f64) -> Option<f64> {
        let values = &self.snapshots.get(snapshot)?.theta;
        let depths = &self.depth_cm;
        (1..values.len()).find(|cell| values[cell - 1] >= theta && values[*cell] < theta).map(|cell| {
            let share = (values[cell - 1] - theta) / (values[cell - 1] - values[cell]);
            depths[cell - 1] + share * (depths[cell] - depths[cell - 1])
        })
    }

    fn cell_at(&self, depth_cm: f64) -> Option<usize> {
        let mut bottom = 0.0;
        self.width_cm.iter().position(|width| {
            bottom += width;
            depth_cm < bottom
        })
    }
}

/// A run as CSV: one row a time and cell. The balance, in mm, stands in every row of its time, so
/// that the table can be filtered and still be whole.
#[must_use]
pub fn csv(run: &Run) -> String {
    let mut text = String::from(
        "time_h,depth_cm,water_content_m3_m3,head_cm,applied_mm,infiltration_mm,runoff_mm,standing_mm,\
         evaporation_mm,transpiration_mm,drainage_mm,storage_mm,balance_error_mm\n",
    );
    for snapshot in &run.snapshots {
        let t = &snapshot.totals;
        let amounts = [
            t.applied_cm,
            t.infiltration_cm,
            t.runoff_cm,
            t.standing_cm,
            t.evaporation_cm,
            t.transpiration_cm,
            t.drainage_cm,
            t.storage_cm,
        ]
        .map(|cm| format!("{:.5}", cm * 10.0))
        .join(",");
        for ((depth, theta), head) in run.depth_cm.iter().zip(&snapshot.theta).zip(&snapshot.head_cm) {
            // Writing into a String cannot fail.
            let _ = writeln!(
                text,
                "{},{depth:.4},{theta:.6},{head:.4},{amounts},{:.3e}",
                snapshot.time_h,
                t.balance_error_cm() * 10.0
            );
        }
    }
    text
}
