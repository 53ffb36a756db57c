//! From sand, silt and clay to a point of the picture.

use ground::texture::Composition;

use crate::canvas::At;

/// √3 / 2: height of an equilateral triangle of side 1.
const TALL: f64 = 0.866_025_403_784_438_6;

/// An equilateral triangle standing on its sand-silt side.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plane {
    /// x of the sand corner.
    pub(super) left: f64,
    /// y of the base.
    pub(super) bottom: f64,
    /// Length of a side.
    pub(super) side: f64,
}

impl Plane {
    pub(super) fn at(&self, soil: Composition) -> At {
        self.at_percent(soil.silt, soil.clay)
    }

    pub(super) fn at_percent(&self, silt: f64, clay: f64) -> At {
        (self.left + self.side * (silt + clay / 2.0) / 100.0, self.bottom - self.side * clay * TALL / 100.0)
    }

    /// The composition at a point of the picture.
    pub(super) fn soil(&self, at: At) -> Composition {
        let clay = (self.bottom - at.1) / self.side / TALL * 100.0;
        let silt = (at.0 - self.left) / self.side * 100.0 - clay / 2.0;
        Composition { sand: 100.0 - silt - clay, silt, clay }
    }

    /// Sand, silt, clay corner.
    pub(super) fn corners(&self) -> [At; 3] {
        [self.at_percent(0.0, 0.0), self.at_percent(100.0, 0.0), self.at_percent(0.0, 100.0)]
    }
}

/// Whether a composition is one: finite, no part below nought, closed to 100 within rounding.
pub(super) fn inside(soil: Composition) -> bool {
    let parts = [soil.sand, soil.silt, soil.clay];
    parts.iter().all(|part| part.is_finite() && *part >= -1e-6)
        && (parts.iter().sum::<f64>() - 100.0).abs() < 1e-6 * 100.0 + 0.5
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Coordinates computed by hand from x = silt + clay / 2, y = clay · √3 / 2.
    #[test]
    fn compositions_stand_where_the_slant_axes_read_them() {
        let plane = Plane { left: 0.0, bottom: 0.0, side: 100.0 };
        for (sand, silt, clay, x, y) in [
            (40.0, 40.0, 20.0, 50.0, 17.321),
            (60.0, 10.0, 30.0, 25.0, 25.981),
            (10.0, 60.0, 30.0, 75.0, 25.981),
            (20.0, 20.0, 60.0, 50.0, 51.962),
            (0.0, 0.0, 100.0, 50.0, 86.603),
        ] {
            let (got_x, got_y) = plane.at(Composition { sand, silt, clay });
            let back = plane.soil((got_x, got_y));
            assert!((back.sand - sand).abs() < 1e-9 && (back.clay - clay).abs() < 1e-9, "{back:?}");
            assert!((got_x - x).abs() < 1e-3 && (-got_y - y).abs() < 1e-3, "{sand} {silt} {clay}");
        }
    }
}
