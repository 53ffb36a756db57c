//! A profile with how it starts, what comes from above and what happens below.

use super::boundary::{Bottom, Surface};
use super::profile::Profile;
use super::roots::Roots;
use crate::water::retention::Retention;

/// How wet the profile is at the start.
#[derive(Debug, Clone, PartialEq)]
pub enum Start {
    /// The same head everywhere, cm: −336.5 is field capacity at 33 kPa.
    Head(f64),
    /// A head for each layer from the surface down, cm; the last is used for layers beyond.
    LayerHeads(Vec<f64>),
    /// A water content for each layer, m³/m³, held to within its curve.
    LayerWater(Vec<f64>),
    /// At rest above a water table at this depth, cm.
    WaterTable(f64),
    /// A head for each cell, cm: a state that was run before.
    CellHeads(Vec<f64>),
}

impl Start {
    /// Heads of all cells.
    pub(super) fn fill(&self, profile: &Profile, heads: &mut Vec<f64>) {
        let last_or = |list: &[f64], place: usize| list.get(place).or(list.last()).copied().unwrap_or(-100.0);
        heads.clear();
        for (layer, (curve, cells)) in profile.layers().enumerate() {
            for cell in cells {
                heads.push(match self {
                    Self::Head(head) => *head,
                    Self::LayerHeads(list) => last_or(list, layer),
                    Self::LayerWater(list) => {
                        let wanted = list.get(layer).or(list.last()).copied().unwrap_or(0.0);
                        curve.head_at(wanted.clamp(curve.residual(), curve.saturation()))
                    }
                    Self::WaterTable(depth) => profile.centre[cell] - depth,
                    Self::CellHeads(list) => last_or(list, cell),
                });
            }
        }
    }
}

/// A case to run.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// The ground.
    pub profile: Profile,
    /// How wet it starts.
    pub start: Start,
    /// From above.
    pub surface: Surface,
    /// Below.
    pub bottom: Bottom,
    /// Roots, where a crop stands.
    pub roots: Option<Roots>,
}
