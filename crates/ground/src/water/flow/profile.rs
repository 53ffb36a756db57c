//! A layered profile cut into cells.

use crate::water::SoilWater;
use crate::water::retention::{Curve, NoCurve, TextureCurve};

/// A layer of one soil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Its thickness, cm.
    pub thickness_cm: f64,
    /// Its curve.
    pub curve: Curve,
}

impl Layer {
    /// A layer of the soil that `soil-water` worked out, stones included.
    ///
    /// # Errors
    /// Where the equations give no curve: see [`NoCurve`].
    pub fn of_soil_water(thickness_cm: f64, water: &SoilWater) -> Result<Self, NoCurve> {
        Ok(Self { thickness_cm, curve: Curve::Texture(TextureCurve::of(water)?) })
    }
}

/// How the profile is cut. Cells never straddle two layers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spacing {
    /// Cells of at most this size, cm, alike within a layer.
    Even(f64),
    /// Small cells at the surface, each larger than the one above by a factor.
    Growing {
        /// Size of the first cell, cm.
        first_cm: f64,
        /// Factor from one to the next, 1 or more.
        factor: f64,
        /// Greatest size, cm.
        greatest_cm: f64,
    },
}

/// Most cells of a profile.
pub const MOST_CELLS: usize = 4000;

/// A profile that cannot be cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProfileFault {
    /// No layer at all.
    NoLayers,
    /// The thickness of a layer, by its place, is not above 0.
    Thickness(usize),
    /// A cell size or factor that is no number above 0, or a factor below 1.
    Spacing,
    /// More than [`MOST_CELLS`] cells.
    TooManyCells,
}

impl std::fmt::Display for ProfileFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::NoLayers => f.write_str("a profile needs at least one layer"),
            Self::Thickness(place) => write!(f, "the thickness of layer {} must be above 0", place + 1),
            Self::Spacing => f.write_str("cells need a size above 0 and a factor of 1 or more"),
            Self::TooManyCells => write!(f, "the profile would need more than {MOST_CELLS} cells"),
        }
    }
}

impl std::error::Error for ProfileFault {}

/// A profile ready to run: cells from the surface down, and the curve of each layer.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    pub(super) curves: Vec<Curve>,
    /// The cell after the last of each layer.
    pub(super) ends: Vec<usize>,
    pub(super) width: Vec<f64>,
    pub(super) centre: Vec<f64>,
    /// Distance over which the head falls at each face: half a cell at either end.
    pub(super) gap: Vec<f64>,
}

impl Profile {
    /// Cuts layers, given from the surface down, into cells.
    ///
    /// # Errors
    /// No layers, a thickness or spacing that is not above 0, or too many cells.
    pub fn new(layers: &[Layer], spacing: Spacing) -> Result<Self, ProfileFault> {
        if layers.is_empty() {
            return Err(ProfileFault::NoLayers);
        }
        let above_zero = |value: f64| value.is_finite() && value > 0.0;
        let (mut next, factor, greatest) = match spacing {
            Spacing::Even(size) => (size, 1.0, size),
            Spacing::Growing { first_cm, factor, greatest_cm } => {
                (first_cm, factor, greatest_cm.max(first_cm))
            }
        };
        if !(above_zero(next) && above_zero(greatest) && factor.is_finite() && factor >= 1.0) {
            return Err(ProfileFault::Spacing);
        }
        let (mut width, mut ends) = (Vec::new(), Vec::with_capacity(layers.len()));
        for (place, layer) in layers.iter().enumerate() {
            if !above_zero(layer.thickness_cm) {
                return Err(ProfileFault::Thickness(place));
            }
            let first = width.len();
            let mut sum = 0.0;
            while sum < layer.thickness_cm * (1.0 - 1e-9) {
                if width.len() == MOST_CELLS {
                    return Err(ProfileFault::TooManyCells);
                }
                width.push(next);
                sum += next;
                next = (next * factor).min(greatest);
            }
            // Shrunk a little alike, so that they fill the layer.
            let fit = layer.thickness_cm / sum;
            width[first..].iter_mut().for_each(|size| *size *= fit);
            ends.push(width.len());
        }
        let mut top = 0.0;
        let centre: Vec<f64> = width
            .iter()
            .map(|size| {
                let here = top + size / 2.0;
                top += size;
                here
            })
            .collect();
        let last = width.len() - 1;
        let gap = std::iter::once(width[0] / 2.0)
            .chain(centre.windows(2).map(|pair| pair[1] - pair[0]))
            .chain(std::iter::once(width[last] / 2.0))
            .collect();
        Ok(Self { curves: layers.iter().map(|layer| layer.curve).collect(), ends, width, centre, gap })
    }

    /// Puts other curves into the same cells: the next draw of an ensemble. Curves beyond the number
    /// of layers are left out.
    pub fn set_curves(&mut self, curves: &[Curve]) {
        for (own, new) in self.curves.iter_mut().zip(curves) {
            *own = *new;
        }
    }

    /// Number of cells.
    #[must_use]
    pub fn cells(&self) -> usize {
        self.width.len()
    }

    /// Depth of the middle of each cell, cm.
    #[must_use]
    pub fn centres_cm(&self) -> &[f64] {
        &self.centre
    }

    /// Size of each cell, cm.
    #[must_use]
    pub fn widths_cm(&self) -> &[f64] {
        &self.width
    }

    /// Depth of the bottom, cm.
    #[must_use]
    pub fn depth_cm(&self) -> f64 {
        self.width.iter().sum()
    }

    /// Curves from the surface down, one a layer.
    #[must_use]
    pub fn curves(&self) -> &[Curve] {
        &self.curves
    }

    /// The layer of a cell.
    #[must_use]
    pub fn layer_of(&self, cell: usize) -> usize {
        self.ends.partition_point(|end| *end <= cell).min(self.ends.len() - 1)
    }

    /// Each layer's curve with the cells it holds.
    pub(super) fn layers(&self) -> impl Iterator<Item = (&Curve, std::ops::Range<usize>)> {
        let starts = std::iter::once(0).chain(self.ends.iter().copied());
        self.curves.iter().zip(starts.zip(&self.ends).map(|(start, end)| start..*end))
    }
}
