//! Beds laid out in a plot: as many as fit, side by side, each as long as the plot lets it be.

use geo::{BooleanOps, Buffer, MultiPolygon, Polygon};

use super::outline::Area;
use super::plane::At;
use crate::kit::{Bounded, Refusal};

crate::quantity! {
    /// Width of a bed.
    pub struct LaidBedWidth: "width of a bed", "m", 0.1 ..= 30.0, example 0.75;
    /// Width of the path between two beds.
    pub struct PathWidth: "width of a path", "m", 0.0 ..= 30.0, example 0.45;
    /// Room left free along the edges of the plot.
    pub struct EdgeMargin: "margin", "m", 0.0 ..= 100.0, example 1.0;
    /// Shortest bed worth making.
    pub struct ShortestBed: "shortest bed", "m", 0.1 ..= 1000.0, example 3.0;
    /// Way the beds run.
    pub struct BedBearing: "direction of the beds", "°", 0.0 ..= 360.0, example 20.0;
}

/// How beds are laid out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BedRules {
    /// Width of each.
    pub bed_m: LaidBedWidth,
    /// Path between two.
    pub path_m: PathWidth,
    /// The way they run, degrees clockwise from north.
    pub bearing_degrees: BedBearing,
    /// Room left free along every edge.
    pub margin_m: EdgeMargin,
    /// Beds shorter than this are left out.
    pub shortest_m: ShortestBed,
}

/// A bed laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidBed {
    /// Its four corners, metres.
    pub corners: [At; 4],
    /// Its length.
    pub length_m: f64,
    /// Its row across the plot, from 1; a hole or a bay parts a row into several beds.
    pub row: usize,
}

/// The beds of a plot.
#[derive(Debug, Clone, PartialEq)]
pub struct BedLayout {
    /// In order across the plot, then along it.
    pub beds: Vec<LaidBed>,
    /// Length of all of them.
    pub length_m: f64,
    /// Ground in beds.
    pub bed_area_m2: f64,
    /// Share of the plot that lies in beds.
    pub share_percent: f64,
}

/// More beds than this in one plot are a slip in a width.
const MOST_BEDS: usize = 2_000;
/// Slivers narrower than this are rounding.
const SLIVER_M: f64 = 1e-3;

/// Lays beds out in a plot with any outline and holes.
///
/// # Errors
/// The margin leaves nothing, no bed fits, or there would be more than 2,000.
pub fn bed_layout(plot: &Area, rules: &BedRules) -> Result<BedLayout, Refusal> {
    let (bed, path) = (rules.bed_m.get(), rules.path_m.get());
    let turn = Turn::of(rules.bearing_degrees.get(), plot);
    let turned = Area {
        outer: plot.outer.iter().map(|at| turn.there(*at)).collect(),
        holes: plot.holes.iter().map(|hole| hole.iter().map(|at| turn.there(*at)).collect()).collect(),
    };
    let ground = inner(&turned, rules.margin_m.get());
    let Some([west, south, east, north]) = reach(&ground) else {
        return Err(Refusal::new("margin", "the margin leaves no ground for beds")
            .given(crate::kit::quantity::with_unit(rules.margin_m.get(), "m"))
            .accepted("less than half the width of the plot")
            .example("1 m"));
    };
    let across = north - south;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded by the next lines")]
    let rows = ((across + path + SLIVER_M) / (bed + path)).floor().clamp(0.0, 1e6) as usize;
    if rows > MOST_BEDS {
        return Err(Refusal::new("bed_width", format!("{rows} beds would lie side by side"))
            .given(crate::kit::quantity::with_unit(bed, "m"))
            .accepted(format!("widths that give at most {MOST_BEDS} beds"))
            .example("0.75 m"));
    }
    #[expect(clippy::cast_precision_loss, reason = "at most some thousand rows")]
    let used = rows as f64 * (bed + path) - path;
    let first = south + (across - used).max(0.0) / 2.0;
    let mut beds = Vec::new();
    for row in 0..rows {
        #[expect(clippy::cast_precision_loss, reason = "at most some thousand rows")]
        let low = first + row as f64 * (bed + path);
        for (from, to) in free_runs(&ground, [west, low, east, low + bed]) {
            if to - from < rules.shortest_m.get() {
                continue;
            }
            let corners =
                [[from, low], [to, low], [to, low + bed], [from, low + bed]].map(|at| turn.back(at));
            beds.push(LaidBed { corners, length_m: to - from, row: row + 1 });
        }
    }
    if beds.is_empty() {
        return Err(Refusal::new("bed_width", "no bed fits into this plot")
            .given(format!("beds {bed} m wide, at least {} m long", rules.shortest_m.get()))
            .accepted("a narrower bed, a smaller margin, another direction or shorter beds")
            .example("0.75 m"));
    }
    let length_m: f64 = beds.iter().map(|bed| bed.length_m).sum();
    let bed_area_m2 = length_m * bed;
    Ok(BedLayout { beds, length_m, bed_area_m2, share_percent: 100.0 * bed_area_m2 / plot.area_m2() })
}

/// Turns the way of the beds into the first axis, about a corner of the plot.
struct Turn {
    sin: f64,
    cos: f64,
    about: At,
}

impl Turn {
    fn of(bearing_degrees: f64, plot: &Area) -> Self {
        let (sin, cos) = libm::sincos(bearing_degrees.to_radians());
        Self { sin, cos, about: plot.outer.first().copied().unwrap_or([0.0, 0.0]) }
    }

    /// Along the beds, and across them to the left.
    fn there(&self, at: At) -> At {
        let (east, north) = (at[0] - self.about[0], at[1] - self.about[1]);
        [east * self.sin + north * self.cos, north * self.sin - east * self.cos]
    }

    fn back(&self, [along, left]: At) -> At {
        [
            self.about[0] + along * self.sin - left * self.cos,
            self.about[1] + along * self.cos + left * self.sin,
        ]
    }
}

fn inner(plot: &Area, margin_m: f64) -> MultiPolygon<f64> {
    let polygon = plot.polygon();
    if margin_m > 0.0 { polygon.buffer(-margin_m) } else { polygon.union(&MultiPolygon::<f64>(Vec::new())) }
}

fn reach(ground: &MultiPolygon<f64>) -> Option<[f64; 4]> {
    ground.0.iter().flat_map(|polygon| polygon.exterior().0.iter()).fold(None, |reach, at| {
        let [w, s, e, n] = reach.unwrap_or([at.x, at.y, at.x, at.y]);
        Some([w.min(at.x), s.min(at.y), e.max(at.x), n.max(at.y)])
    })
}

/// Stretches of a strip that lie in the ground over its whole width: what the ground does not cover, seen along
/// the strip, is taken off.
fn free_runs(ground: &MultiPolygon<f64>, [west, low, east, high]: [f64; 4]) -> Vec<(f64, f64)> {
    let strip = Polygon::new(
        vec![(west - 1.0, low), (east + 1.0, low), (east + 1.0, high), (west - 1.0, high)].into(),
        Vec::new(),
    );
    let outside = strip.difference(ground);
    let mut blocked: Vec<(f64, f64)> = outside
        .0
        .iter()
        .filter_map(|piece| {
            let [w, s, e, n] = reach(&MultiPolygon(vec![piece.clone()]))?;
            (n - s > SLIVER_M && e - w > SLIVER_M).then_some((w, e))
        })
        .collect();
    blocked.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut runs = Vec::new();
    let mut from = west - 1.0;
    for (start, end) in blocked {
        if start > from {
            runs.push((from, start));
        }
        from = from.max(end);
    }
    if east + 1.0 > from {
        runs.push((from, east + 1.0));
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spatial::plane;

    fn rules(bed: f64, path: f64, bearing: f64, margin: f64) -> BedRules {
        BedRules {
            bed_m: LaidBedWidth::literal(bed),
            path_m: PathWidth::literal(path),
            bearing_degrees: BedBearing::literal(bearing),
            margin_m: EdgeMargin::literal(margin),
            shortest_m: ShortestBed::literal(1.0),
        }
    }

    fn rectangle(wide: f64, tall: f64) -> Area {
        Area::new(vec![[0.0, 0.0], [wide, 0.0], [wide, tall], [0.0, tall]])
    }

    /// By hand: in 20 m less two margins of 1 m, beds of 0.75 m and paths of 0.45 m fit 15 times
    /// ((18 + 0.45) / 1.2 = 15.4), each 58 m long in a plot of 60 m.
    #[test]
    fn a_rectangle_by_hand() {
        let layout = bed_layout(&rectangle(20.0, 60.0), &rules(0.75, 0.45, 0.0, 1.0)).unwrap();
        assert_eq!(layout.beds.len(), 15);
        assert!(layout.beds.iter().all(|bed| (bed.length_m - 58.0).abs() < 1e-3), "{layout:?}");
        // The other way: (58 + 0.45) / 1.2 = 48.7 beds of 18 m.
        let layout = bed_layout(&rectangle(20.0, 60.0), &rules(0.75, 0.45, 90.0, 1.0)).unwrap();
        assert_eq!(layout.beds.len(), 48);
        assert!((layout.length_m - 48.0 * 18.0).abs() < 0.1);
    }

    /// The same plot turned by 20° with beds turned alike gives the same beds; every corner lies in the plot.
    #[test]
    fn a_turned_plot_gives_the_same_beds() {
        let (sin, cos) = libm::sincos(20.0_f64.to_radians());
        let turned: Vec<At> = rectangle(20.0, 60.0)
            .outer
            .iter()
            .map(|at| [at[0] * cos + at[1] * sin, at[1] * cos - at[0] * sin])
            .collect();
        let layout = bed_layout(&Area::new(turned.clone()), &rules(0.75, 0.45, 20.0, 1.0)).unwrap();
        assert_eq!(layout.beds.len(), 15);
        for bed in &layout.beds {
            assert!((bed.length_m - 58.0).abs() < 1e-3);
            assert!((plane::ring_area_m2(&bed.corners) - 0.75 * bed.length_m).abs() < 1e-6);
            assert!(bed.corners.iter().all(|at| plane::inside(&turned, *at)));
        }
    }

    /// By hand: a pond of 4 x 4 m in the middle of 20 x 20 m parts the beds that run into it, and in a triangle
    /// beds grow shorter from row to row.
    #[test]
    fn holes_part_beds_and_slants_shorten_them() {
        let pond = Area {
            holes: vec![vec![[8.0, 8.0], [12.0, 8.0], [12.0, 12.0], [8.0, 12.0]]],
            ..rectangle(20.0, 20.0)
        };
        let layout = bed_layout(&pond, &rules(1.0, 1.0, 90.0, 0.0)).unwrap();
        let whole = layout.beds.iter().filter(|bed| (bed.length_m - 20.0).abs() < 1e-3).count();
        let parted = layout.beds.iter().filter(|bed| (bed.length_m - 8.0).abs() < 1e-3).count();
        assert_eq!(whole + parted, layout.beds.len());
        assert_eq!(parted % 2, 0);
        assert!(parted >= 4, "{layout:?}");
        let triangle = Area::new(vec![[0.0, 0.0], [20.0, 0.0], [0.0, 20.0]]);
        let layout = bed_layout(&triangle, &rules(1.0, 0.0, 90.0, 0.0)).unwrap();
        let mut last = f64::MAX;
        for bed in &layout.beds {
            assert!(bed.length_m < last && bed.length_m <= 20.0);
            last = bed.length_m;
        }
        // The lowest row reaches to where the slant meets its upper edge: 19 m.
        assert!((layout.beds[0].length_m - 19.0).abs() < 0.1, "{}", layout.beds[0].length_m);
    }

    #[test]
    fn what_fits_nowhere_is_refused() {
        assert_eq!(
            bed_layout(&rectangle(2.0, 60.0), &rules(0.75, 0.45, 0.0, 1.5)).unwrap_err().field,
            "margin"
        );
        assert_eq!(
            bed_layout(&rectangle(0.5, 60.0), &rules(0.75, 0.45, 0.0, 0.0)).unwrap_err().field,
            "bed_width"
        );
        assert_eq!(
            bed_layout(&rectangle(500.0, 60.0), &rules(0.1, 0.1, 0.0, 0.0)).unwrap_err().field,
            "bed_width"
        );
    }
}
