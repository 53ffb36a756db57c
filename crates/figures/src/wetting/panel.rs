//! One ground at one moment.

use ground::kit::units::UnitSystem;
use svg::node::element::Rectangle;

use super::{Ground, Layer, Moment};
use crate::canvas::{At, Canvas, SMALL, Side, path, px};
use crate::chart::{self, Scale};
use crate::measures::{Shown, is_depth};
use crate::palette::{INK, PAPER, Stuff};
use crate::words::{number, round_steps};

/// Where one ground is drawn.
pub(super) struct Panel {
    pub(super) x: Scale,
    pub(super) y: Scale,
    pub(super) system: UnitSystem,
}

fn layers<'a>(ground: &Ground<'a>) -> impl Iterator<Item = &'a Layer> {
    ground.layers.iter().filter(|layer| {
        let contents = [layer.field_capacity_m3_m3, layer.saturation_m3_m3];
        is_depth(layer.top_cm)
            && is_depth(layer.bottom_cm)
            && layer.bottom_cm > layer.top_cm
            && contents.iter().all(|content| (0.0..=1.0).contains(content))
    })
}

/// Depth and water content where both are sound and depths ascend.
fn line(ground: &Ground<'_>, at: &Moment<'_>) -> Vec<(f64, f64)> {
    let mut points: Vec<(f64, f64)> = Vec::with_capacity(at.water_m3_m3.len());
    for (depth, water) in ground.depths_cm.iter().zip(at.water_m3_m3) {
        let deeper = points.last().is_none_or(|last| *depth > last.0);
        if deeper && is_depth(*depth) && (0.0..=1.0).contains(water) {
            points.push((*depth, *water));
        }
    }
    points
}

fn capacity_at(ground: &Ground<'_>, depth_cm: f64) -> Option<f64> {
    layers(ground)
        .find(|layer| (layer.top_cm..=layer.bottom_cm).contains(&depth_cm))
        .map(|layer| layer.field_capacity_m3_m3)
}

/// How far down the ground is at field capacity without a break (within half a percentage point);
/// `None` where not even the top is.
pub(super) fn wetted_to(ground: &Ground<'_>, at: &Moment<'_>) -> Option<f64> {
    let wet = |(depth, water): &(f64, f64)| {
        capacity_at(ground, *depth).is_some_and(|capacity| *water >= capacity - 0.005)
    };
    line(ground, at).into_iter().take_while(wet).last().map(|(depth, _)| depth)
}

impl Panel {
    /// Depth ticks left of the panel.
    pub(super) fn depths(&self, canvas: &mut Canvas, wanted: f64) {
        let depth = Shown::depth(self.system);
        let deepest = depth.convert(self.y.to);
        let (step, count) = round_steps(deepest, wanted);
        let left = self.x.start;
        for value in (0..=count).map(|n| step * n as f64).filter(|value| *value <= deepest * 1.001) {
            let y = self.y.start + (self.y.end - self.y.start) * value / deepest;
            canvas.line((left - 4.0, y), (left, y), 1.0);
            canvas.text((left - 6.0, y + 4.0), Side::End, SMALL, &number(value));
        }
    }

    /// Water content ticks below the panel.
    pub(super) fn ticks(&self, canvas: &mut Canvas) {
        chart::content_ticks(canvas, &self.x, self.y.end, true, 20);
    }

    /// Draws the ground; `thin` drops points closer than this, in cm, as a film has many frames.
    pub(super) fn draw(&self, canvas: &mut Canvas, ground: &Ground<'_>, moment: usize, thin: Option<f64>) {
        let (left, right) = (self.x.start, self.x.end);
        let paper = Rectangle::new()
            .set("x", px(left))
            .set("y", px(self.y.start))
            .set("width", px(right - left))
            .set("height", px(self.y.end - self.y.start));
        canvas.add(
            paper.set("fill", PAPER).set("class", "figure-paper").set("stroke", INK).set("stroke-width", 0.8),
        );
        if let Some(at) = ground.moments.get(moment) {
            self.water(canvas, ground, at, thin);
        }
        for layer in layers(ground) {
            let (top, bottom) = (self.y.at(layer.top_cm), self.y.at(layer.bottom_cm));
            let (capacity, full) = (self.x.at(layer.field_capacity_m3_m3), self.x.at(layer.saturation_m3_m3));
            canvas.dashed((capacity, top), (capacity, bottom), 1.3, "4 2.5");
            canvas.line((full, top), (full, bottom), 1.3);
            if bottom < self.y.end - 1.0 {
                canvas.line((left, bottom), (right, bottom), 0.8);
            }
        }
        if let Some(roots) = ground.root_depth_cm.filter(|at| is_depth(*at) && *at <= self.y.to) {
            let y = self.y.at(roots);
            canvas.dashed((left, y), (right, y), 2.0, "6 3");
        }
    }

    /// The water: what is held up to field capacity, what is above it moving down, the edge in ink.
    fn water(&self, canvas: &mut Canvas, ground: &Ground<'_>, at: &Moment<'_>, thin: Option<f64>) {
        let mut all = line(ground, at);
        // The uppermost and lowermost values stand for the ground up to the surface and down to the end.
        if let (Some(first), Some(last)) = (all.first().copied(), all.last().copied()) {
            if first.0 > 0.0 {
                all.insert(0, (0.0, first.1));
            }
            let bottom = layers(ground).map(|layer| layer.bottom_cm).fold(last.0, f64::max);
            if bottom > last.0 && all.len() > 2 {
                all.push((bottom, last.1));
            }
        }
        let points = thinned(&all, thin.unwrap_or(0.0));
        if points.len() < 2 {
            return;
        }
        let place = |depth: f64, water: f64| -> At { (self.x.at(water), self.y.at(depth)) };
        let left = |points: &[(f64, f64)]| -> Vec<At> {
            points.iter().map(|(depth, _)| (self.x.start, self.y.at(*depth))).collect()
        };
        let edge: Vec<At> = points.iter().map(|(depth, water)| place(*depth, *water)).collect();
        chart::band(canvas, &edge, &left(&points), Stuff::Usable, 0.0);
        for layer in layers(ground) {
            self.moving(canvas, &points, layer);
        }
        canvas.trace(path(&edge, false), 1.8);
    }

    /// What one layer has above field capacity.
    fn moving(&self, canvas: &mut Canvas, points: &[(f64, f64)], layer: &Layer) {
        let capacity = layer.field_capacity_m3_m3;
        let mut inside: Vec<(f64, f64)> = Vec::new();
        for pair in points.windows(2) {
            let [(d0, w0), (d1, w1)] = [pair[0], pair[1]];
            let water = |depth: f64| w0 + (w1 - w0) * (depth - d0) / (d1 - d0);
            let (from, to) = (d0.max(layer.top_cm), d1.min(layer.bottom_cm));
            if from < to {
                let crossing = d0 + (d1 - d0) * (capacity - w0) / (w1 - w0);
                let cut = (crossing > from && crossing < to).then_some((crossing, capacity));
                inside.extend([(from, water(from))].into_iter().chain(cut).chain([(to, water(to))]));
            }
        }
        if !inside.iter().any(|(_, water)| *water > capacity + 1e-6) {
            return;
        }
        let above = |(depth, water): &(f64, f64)| (self.x.at(water.max(capacity)), self.y.at(*depth));
        let edge: Vec<At> = inside.iter().map(above).collect();
        let foot: Vec<At> =
            inside.iter().map(|(depth, _)| (self.x.at(capacity), self.y.at(*depth))).collect();
        // Paper first: the two hatches would make a third.
        let outline: Vec<At> = edge.iter().copied().chain(foot.iter().rev().copied()).collect();
        let blank = svg::node::element::Path::new().set("d", path(&outline, true));
        canvas.add(blank.set("fill", PAPER).set("class", "figure-paper"));
        chart::band(canvas, &edge, &foot, Stuff::Draining, 0.0);
    }
}

fn thinned(points: &[(f64, f64)], apart: f64) -> Vec<(f64, f64)> {
    let mut kept: Vec<(f64, f64)> = Vec::with_capacity(points.len());
    for (at, point) in points.iter().enumerate() {
        let far = kept.last().is_none_or(|last| point.0 - last.0 >= apart);
        if far || at + 1 == points.len() {
            kept.push(*point);
        }
    }
    kept
}
