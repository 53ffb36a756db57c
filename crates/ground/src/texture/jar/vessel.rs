//! Volume of the jar below a height.
//!
//! Only shares of volume matter, so each shape measures in a unit of its own.

use super::reading::{Fill, JarShape, Width};
use crate::kit::{Bounded, Refusal};

/// The inside of a jar, ready to turn heights into volumes.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Vessel {
    /// Equal width: volume goes with height.
    Straight,
    /// Frusta between heights with known widths; the end widths go on above and below.
    Frusta(Vec<Node>),
    /// A monotone curve through poured volumes.
    Poured(Vec<Node>),
}

/// A height with what is known there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Node {
    height: f64,
    /// Diameter of a frustum's end, or slope of the poured curve.
    shape: f64,
    /// Volume below this height.
    volume: f64,
}

impl Vessel {
    pub(super) fn new(shape: &JarShape) -> Result<Self, Refusal> {
        match shape {
            JarShape::Straight => Ok(Self::Straight),
            JarShape::Widths { at } => frusta(at),
            JarShape::Poured { fills } => poured(fills),
        }
    }

    /// Volume below `height`, which is not negative.
    pub(super) fn volume(&self, height: f64) -> f64 {
        match self {
            Self::Straight => height,
            Self::Frusta(nodes) => frusta_volume(nodes, height),
            Self::Poured(nodes) => poured_volume(nodes, height),
        }
    }

    /// Height up to which the shape was measured; `None` for a straight jar.
    pub(super) fn measured_to_mm(&self) -> Option<f64> {
        match self {
            Self::Straight => None,
            Self::Frusta(nodes) | Self::Poured(nodes) => nodes.last().map(|node| node.height),
        }
    }
}

/// Volume of a frustum of this height and end diameters, in units of π/12.
fn frustum(height: f64, lower: f64, upper: f64) -> f64 {
    height * (lower * lower + lower * upper + upper * upper)
}

fn frusta(at: &[Width]) -> Result<Vessel, Refusal> {
    if at.is_empty() {
        return Err(Refusal::new("shape.at", "a tapered jar needs its inside width at two or three heights")
            .given("none")
            .accepted("widths at two or three heights, bottom up")
            .example("70 mm wide at 0 mm and 80 mm wide at 150 mm"));
    }
    let mut sorted: Vec<(f64, f64)> =
        at.iter().map(|width| (width.height_mm.get(), width.diameter_mm.get())).collect();
    sorted.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    if let Some(pair) = sorted.windows(2).find(|pair| pair[0].0 == pair[1].0) {
        return Err(Refusal::new(
            "shape.at",
            format!(
                "the jar has two widths at one height: {} and {} mm at {} mm",
                pair[0].1, pair[1].1, pair[0].0
            ),
        )
        .given(format!("{} mm twice", pair[0].0))
        .accepted("one width at each height")
        .example("70 mm wide at 0 mm and 80 mm wide at 150 mm"));
    }
    let mut nodes: Vec<Node> = Vec::with_capacity(sorted.len());
    for (height, diameter) in sorted {
        let volume = nodes.last().map_or_else(
            || frustum(height, diameter, diameter),
            |below| below.volume + frustum(height - below.height, below.shape, diameter),
        );
        nodes.push(Node { height, shape: diameter, volume });
    }
    Ok(Vessel::Frusta(nodes))
}

fn frusta_volume(nodes: &[Node], height: f64) -> f64 {
    let above = nodes.partition_point(|node| node.height < height);
    match (above.checked_sub(1).and_then(|i| nodes.get(i)), nodes.get(above)) {
        (None, Some(first)) => frustum(height, first.shape, first.shape),
        (Some(last), None) => last.volume + frustum(height - last.height, last.shape, last.shape),
        (Some(below), Some(above)) => {
            let part = (height - below.height) / (above.height - below.height);
            let here = below.shape + part * (above.shape - below.shape);
            below.volume + frustum(height - below.height, below.shape, here)
        }
        (None, None) => height,
    }
}

/// Monotone cubic through the floor and the fills, with the slopes of [FritschCarlson1980] in the
/// harmonic form: no dip between fills, so no layer ever has a negative volume.
fn poured(fills: &[Fill]) -> Result<Vessel, Refusal> {
    if fills.is_empty() {
        return Err(Refusal::new(
            "shape.fills",
            "a poured jar needs at least one height with its volume of water",
        )
        .given("none")
        .accepted("heights with the volume that fills the jar to them, bottom up")
        .example("250 mL to 60 mm and 500 mL to 112 mm"));
    }
    let mut points: Vec<(f64, f64)> = vec![(0.0, 0.0)];
    points.extend(fills.iter().map(|fill| (fill.height_mm.get(), fill.volume_ml.get())));
    points.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    if let Some(pair) = points.windows(2).find(|pair| pair[0].0 >= pair[1].0 || pair[0].1 >= pair[1].1) {
        return Err(Refusal::new(
            "shape.fills",
            format!(
                "more water must stand higher, but {} mL stands at {} mm and {} mL at {} mm",
                pair[0].1, pair[0].0, pair[1].1, pair[1].0
            ),
        )
        .given(format!("{} mL at {} mm, {} mL at {} mm", pair[0].1, pair[0].0, pair[1].1, pair[1].0))
        .accepted("heights and volumes that both grow")
        .example("250 mL to 60 mm and 500 mL to 112 mm"));
    }
    let secants: Vec<f64> = points.windows(2).map(|p| (p[1].1 - p[0].1) / (p[1].0 - p[0].0)).collect();
    let nodes = points
        .iter()
        .enumerate()
        .map(|(i, &(height, volume))| {
            let slope = match (i.checked_sub(1).and_then(|below| secants.get(below)), secants.get(i)) {
                (Some(below), Some(above)) => 2.0 * below * above / (below + above),
                (Some(only), None) | (None, Some(only)) => *only,
                (None, None) => 1.0,
            };
            Node { height, shape: slope, volume }
        })
        .collect();
    Ok(Vessel::Poured(nodes))
}

fn poured_volume(nodes: &[Node], height: f64) -> f64 {
    let above = nodes.partition_point(|node| node.height < height);
    match (above.checked_sub(1).and_then(|i| nodes.get(i)), nodes.get(above)) {
        (Some(a), Some(b)) => {
            let width = b.height - a.height;
            let t = (height - a.height) / width;
            let (t2, t3) = (t * t, t * t * t);
            a.volume * (2.0 * t3 - 3.0 * t2 + 1.0)
                + width * a.shape * (t3 - 2.0 * t2 + t)
                + b.volume * (3.0 * t2 - 2.0 * t3)
                + width * b.shape * (t3 - t2)
        }
        (Some(last), None) => last.volume + last.shape * (height - last.height),
        _ => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::super::reading::{JarHeight, JarWidth, PouredVolume};
    use super::*;
    use proptest::prelude::*;

    fn widths(at: &[(f64, f64)]) -> Vessel {
        let at = at
            .iter()
            .map(|&(h, d)| Width { height_mm: JarHeight::literal(h), diameter_mm: JarWidth::literal(d) })
            .collect();
        Vessel::new(&JarShape::Widths { at }).unwrap()
    }

    fn fills(at: &[(f64, f64)]) -> Result<Vessel, Refusal> {
        let fills = at
            .iter()
            .map(|&(h, v)| Fill { height_mm: JarHeight::literal(h), volume_ml: PouredVolume::literal(v) })
            .collect();
        Vessel::new(&JarShape::Poured { fills })
    }

    #[test]
    fn a_cone_holds_a_third_of_its_cylinder() {
        // Euclid, Elements XII.10. The narrow end is 10 mm because no jar ends in a point.
        let jar = widths(&[(0.0, 10.0), (90.0, 100.0)]);
        // Whole cone 100 mm high less its tip of 10 mm, in units of π/12.
        let expected = (100.0 * 100.0 * 100.0) - (10.0 * 10.0 * 10.0);
        assert!((jar.volume(90.0) - expected).abs() < 1e-6, "{}", jar.volume(90.0));
    }

    #[test]
    fn poured_water_in_a_straight_jar_is_straight() {
        let jar = fills(&[(50.0, 100.0), (100.0, 200.0), (150.0, 300.0)]).unwrap();
        for h in [0.0, 10.0, 50.0, 77.0, 149.0, 180.0] {
            assert!((jar.volume(h) - 2.0 * h).abs() < 1e-9, "{h}");
        }
    }

    #[test]
    fn water_that_falls_as_it_is_poured_is_refused() {
        let refusal = fills(&[(50.0, 100.0), (60.0, 90.0)]).unwrap_err();
        assert_eq!(refusal.field, "shape.fills");
    }

    proptest! {
        #[test]
        fn volume_grows_with_height(
            d in prop::collection::vec(20.0..200.0, 2..5),
            v in prop::collection::vec(20.0..400.0, 1..5),
            low in 0.0..300.0, more in 0.01..100.0,
        ) {
            let at: Vec<_> = d.iter().enumerate().map(|(i, d)| (40.0 * i as f64, *d)).collect();
            let jar = widths(&at);
            prop_assert!(jar.volume(low + more) > jar.volume(low));
            let mut sum = 0.0;
            let at: Vec<_> = v.iter().enumerate().map(|(i, v)| { sum += v; (30.0 * (i + 1) as f64, sum) }).collect();
            let jar = fills(&at).unwrap();
            prop_assert!(jar.volume(low + more) > jar.volume(low));
            prop_assert!(jar.volume(0.0) == 0.0);
        }
    }
}
