//! Where the top of each layer stands, as known, as a range or as unseen: what a drawing of the jar
//! needs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::packing::ByLayer;
use super::plan::{Plan, Seen, Slots};
use super::reading::JarReading;
use crate::kit::{Bounded, Refusal};

/// Height of the top of a layer above the jar floor.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "seen", rename_all = "snake_case")]
pub enum Top {
    /// It was read.
    At {
        /// Height.
        mm: f64,
    },
    /// It was read as a range.
    Between {
        /// Not below.
        low_mm: f64,
        /// Not above.
        high_mm: f64,
    },
    /// It was not seen; it can stand anywhere in this range.
    Unseen {
        /// Not below.
        low_mm: f64,
        /// Not above.
        high_mm: f64,
    },
}

impl Top {
    /// Lowest height.
    #[must_use]
    pub fn low_mm(self) -> f64 {
        match self {
            Self::At { mm } => mm,
            Self::Between { low_mm, .. } | Self::Unseen { low_mm, .. } => low_mm,
        }
    }

    /// Greatest height.
    #[must_use]
    pub fn high_mm(self) -> f64 {
        match self {
            Self::At { mm } => mm,
            Self::Between { high_mm, .. } | Self::Unseen { high_mm, .. } => high_mm,
        }
    }

    /// Middle of the range.
    #[must_use]
    pub fn middle_mm(self) -> f64 {
        f64::midpoint(self.low_mm(), self.high_mm())
    }

    /// Was it seen?
    #[must_use]
    pub fn is_seen(self) -> bool {
        !matches!(self, Self::Unseen { .. })
    }
}

/// The jar as it can be drawn.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LayerTops {
    /// Top of each layer.
    pub tops: ByLayer<Top>,
    /// Water surface, where it was recorded.
    pub water_mm: Option<f64>,
    /// Thickness of floating or capping organic matter, which belongs to no layer.
    pub floating_organic_mm: Option<f64>,
}

/// Tops of the layers of a reading, however it was made. For timed marks these are the marks taken
/// for sand, for sand and silt, and for all.
///
/// # Errors
/// A reading that contradicts itself, named by its field.
pub fn layer_tops(reading: &JarReading) -> Result<LayerTops, Refusal> {
    Plan::new(reading).map(|plan| plan.layer_tops(reading))
}

impl Plan {
    /// Tops of the layers.
    pub(super) fn layer_tops(&self, reading: &JarReading) -> LayerTops {
        let heights = match self.slots {
            Slots::Tops(seen) => seen.map(|seen| seen.range()),
            Slots::Thicknesses(layers) => {
                let (mut low, mut high, mut known) = (0.0, 0.0, true);
                layers.map(|layer| {
                    known &= layer != Seen::No;
                    let (least, most) = layer.range().unwrap_or((0.0, 0.0));
                    low += least;
                    high += most;
                    known.then_some((low, high))
                })
            }
        };
        let mut tops = [Top::At { mm: 0.0 }; 3];
        let mut floor = 0.0;
        for slot in 0..3 {
            tops[slot] = match heights[slot] {
                Some((low, high)) if high - low < 1e-9 => Top::At { mm: low },
                Some((low_mm, high_mm)) => Top::Between { low_mm, high_mm },
                None => {
                    let ceiling = heights[slot..].iter().flatten().map(|range| range.1).next();
                    let high_mm = ceiling.or(self.water_mm).unwrap_or_else(|| self.tallest(floor));
                    Top::Unseen { low_mm: floor, high_mm: high_mm.max(floor) }
                }
            };
            floor = tops[slot].low_mm();
        }
        LayerTops {
            tops: ByLayer::new(tops),
            water_mm: self.water_mm,
            floating_organic_mm: reading.floating_organic_mm.map(Bounded::get),
        }
    }

    /// A ceiling for the drawing where nothing limits a layer.
    fn tallest(&self, floor: f64) -> f64 {
        let known: f64 = match self.slots {
            Slots::Tops(_) => floor,
            Slots::Thicknesses(layers) => {
                layers.iter().filter_map(|layer| layer.range()).map(|range| range.1).sum()
            }
        };
        if known > 0.0 { 2.0 * known } else { super::plan::NOMINAL_SOIL_MM }
    }
}
