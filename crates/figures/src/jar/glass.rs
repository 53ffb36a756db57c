//! The inside of the jar: its width at each height, and from there to the picture.

use ground::kit::Bounded;
use ground::texture::jar::JarShape;

use crate::canvas::{At, path};

/// Inside width by height, in mm; bottom up, constant beyond the ends.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Outline {
    knots: Vec<(f64, f64)>,
    /// Whether the widths are known; a straight jar's is not.
    pub(super) is_known: bool,
}

impl Outline {
    pub(super) fn of(shape: &JarShape, jar_mm: f64) -> Self {
        let mut knots: Vec<(f64, f64)> = match shape {
            JarShape::Straight => Vec::new(),
            JarShape::Widths { at } => {
                at.iter().map(|width| (width.height_mm.get(), width.diameter_mm.get())).collect()
            }
            JarShape::Poured { fills } => {
                let mut fills: Vec<(f64, f64)> =
                    fills.iter().map(|fill| (fill.height_mm.get(), fill.volume_ml.get() * 1000.0)).collect();
                fills.sort_by(|a, b| a.0.total_cmp(&b.0));
                let mut below = (0.0, 0.0);
                let mut knots = Vec::new();
                for fill in fills {
                    let (rise, volume) = (fill.0 - below.0, fill.1 - below.1);
                    if rise > 0.0 && volume > 0.0 {
                        // Mean width between two fills, from the volume of a cylinder.
                        let width = (4.0 * volume / (std::f64::consts::PI * rise)).sqrt();
                        knots.push((f64::midpoint(fill.0, below.0), width));
                    }
                    below = fill;
                }
                knots
            }
        };
        knots.sort_by(|a, b| a.0.total_cmp(&b.0));
        let is_known = !knots.is_empty();
        if !is_known {
            knots.push((0.0, jar_mm * 0.6));
        }
        Self { knots, is_known }
    }

    pub(super) fn width(&self, height: f64) -> f64 {
        let after = self.knots.iter().position(|knot| knot.0 >= height);
        match after {
            Some(0) => self.knots[0].1,
            None => self.knots.last().map_or(1.0, |knot| knot.1),
            Some(at) => {
                let ((low, from), (high, to)) = (self.knots[at - 1], self.knots[at]);
                if high > low { from + (to - from) * (height - low) / (high - low) } else { to }
            }
        }
    }

    pub(super) fn widest(&self) -> f64 {
        self.knots.iter().map(|knot| knot.1).fold(1.0, f64::max)
    }

    pub(super) fn tallest(&self) -> f64 {
        if self.is_known { self.knots.last().map_or(0.0, |knot| knot.0) } else { 0.0 }
    }
}

/// Room for the jar in the picture.
pub(super) const JAR_MIDDLE: f64 = 112.0;
const WIDEST: f64 = 104.0;
/// Height of the picture that the jar may fill.
const TALL: f64 = 232.0;
pub(super) const FLOOR: f64 = 262.0;
/// The soil should fill at least this share of the picture; else clear water is left out.
const SOIL_SHARE: f64 = 0.5;
const BREAK: f64 = 14.0;

/// Heights and widths to places. A tall column of water above little soil is drawn with a piece
/// left out, so that the layers stay large.
#[derive(Debug, Clone)]
pub(super) struct Scale {
    pub(super) outline: Outline,
    /// Top of the jar in mm.
    pub(super) jar_mm: f64,
    /// Picture units per mm upwards and across.
    up: f64,
    across: f64,
    /// The piece left out, in mm.
    pub(super) left_out: Option<(f64, f64)>,
}

impl Scale {
    /// `keep_mm` is the height of what must be drawn whole below, `top_mm` what above.
    pub(super) fn of(outline: Outline, jar_mm: f64, keep_mm: f64, top_mm: f64) -> Self {
        let shown = (keep_mm / SOIL_SHARE).min(jar_mm);
        let (low, high) = (keep_mm * 1.25, jar_mm - (shown - keep_mm * 1.25).max(top_mm));
        let cut = jar_mm > shown * 1.25 && high > low && keep_mm > 0.0;
        let (left_out, up) = if cut {
            (Some((low, high)), (TALL - BREAK) / (jar_mm - (high - low)))
        } else {
            (None, TALL / jar_mm)
        };
        let across = if outline.is_known {
            up.min(WIDEST / outline.widest())
        } else {
            WIDEST * 0.9 / outline.widest()
        };
        Self { outline, jar_mm, up, across, left_out }
    }

    pub(super) fn is_to_scale_across(&self) -> bool {
        self.outline.is_known && (self.across - self.up).abs() < 1e-9
    }

    /// Picture units per mm upwards.
    pub(super) fn units_per_mm(&self) -> f64 {
        self.up
    }

    pub(super) fn y(&self, mm: f64) -> f64 {
        match self.left_out {
            Some((low, high)) if mm >= high => FLOOR - self.up * (mm - (high - low)) - BREAK,
            Some((low, _)) if mm > low => FLOOR - self.up * low,
            _ => FLOOR - self.up * mm,
        }
    }

    pub(super) fn left(&self, mm: f64) -> f64 {
        JAR_MIDDLE - self.outline.width(mm) * self.across / 2.0
    }

    pub(super) fn right(&self, mm: f64) -> f64 {
        JAR_MIDDLE + self.outline.width(mm) * self.across / 2.0
    }

    /// Heights between which something from `low` to `high` mm is drawn: in two pieces where the
    /// break goes through it.
    pub(super) fn pieces(&self, low: f64, high: f64) -> Vec<(f64, f64)> {
        let pieces = match self.left_out {
            Some((from, to)) => vec![(low, high.min(from)), (low.max(to), high)],
            None => vec![(low, high)],
        };
        pieces.into_iter().filter(|(low, high)| high > low).collect()
    }

    /// Outline of the inside from `low` to `high` mm, as path data.
    pub(super) fn fill(&self, low: f64, high: f64) -> String {
        self.pieces(low, high)
            .into_iter()
            .map(|(low, high)| {
                let heights = self.heights(low, high);
                let up = heights.iter().map(|mm| (self.left(*mm), self.y_in(*mm, low, high)));
                let down = heights.iter().rev().map(|mm| (self.right(*mm), self.y_in(*mm, low, high)));
                path(&up.chain(down).collect::<Vec<_>>(), true)
            })
            .collect()
    }

    /// The glass of one side, in pieces.
    pub(super) fn walls(&self) -> Vec<(Vec<At>, Vec<At>)> {
        self.pieces(0.0, self.jar_mm)
            .into_iter()
            .map(|(low, high)| {
                let heights = self.heights(low, high);
                (
                    heights.iter().map(|mm| (self.left(*mm), self.y_in(*mm, low, high))).collect(),
                    heights.iter().map(|mm| (self.right(*mm), self.y_in(*mm, low, high))).collect(),
                )
            })
            .collect()
    }

    /// y within one piece: at the upper rim of the break the piece above begins, not the one below.
    fn y_in(&self, mm: f64, low: f64, high: f64) -> f64 {
        match self.left_out {
            Some((from, _)) if high <= from || low < from => FLOOR - self.up * mm.min(from),
            _ => self.y(mm),
        }
    }

    fn heights(&self, low: f64, high: f64) -> Vec<f64> {
        let mut heights = vec![low];
        heights.extend(self.outline.knots.iter().map(|knot| knot.0).filter(|mm| *mm > low && *mm < high));
        heights.push(high);
        heights
    }
}

#[cfg(test)]
mod tests {
    use ground::texture::jar::reading::{Fill, JarHeight, JarWidth, PouredVolume, Width};

    use super::*;

    #[test]
    fn widths_run_straight_between_the_measured_ones() {
        let width = |height, diameter| Width {
            height_mm: JarHeight::literal(height),
            diameter_mm: JarWidth::literal(diameter),
        };
        let outline =
            Outline::of(&JarShape::Widths { at: vec![width(0.0, 60.0), width(100.0, 80.0)] }, 150.0);
        assert_eq!(outline.width(50.0), 70.0);
        assert_eq!(outline.width(140.0), 80.0);
    }

    /// 441.8 mL raise the water by 100 mm in a jar 75 mm wide (cylinder).
    #[test]
    fn poured_water_gives_the_width() {
        let fill = |height, volume| Fill {
            height_mm: JarHeight::literal(height),
            volume_ml: PouredVolume::literal(volume),
        };
        let outline = Outline::of(&JarShape::Poured { fills: vec![fill(100.0, 441.786)] }, 150.0);
        assert!((outline.width(20.0) - 75.0).abs() < 0.01);
    }

    #[test]
    fn heights_below_the_break_stay_to_scale_and_the_order_holds() {
        let outline = Outline::of(&JarShape::Straight, 250.0);
        let scale = Scale::of(outline, 250.0, 40.0, 20.0);
        assert!(scale.left_out.is_some());
        let (a, b, c) = (scale.y(0.0), scale.y(20.0), scale.y(40.0));
        assert!(((a - b) - (b - c)).abs() < 1e-9);
        let places: Vec<f64> = (0..=250).map(|mm| scale.y(f64::from(mm))).collect();
        assert!(places.windows(2).all(|pair| pair[1] <= pair[0] + 1e-9));
        assert!((scale.y(250.0) - (FLOOR - TALL)).abs() < 1e-6);
    }
}
