//! What charts share: a scale that keeps to its paper, bands, arrows, keys.

use svg::node::element::Path;

use crate::canvas::{At, Canvas, SMALL, Side, path, rectangle, text_width};
use crate::palette::{INK, Stuff};

/// A straight scale from values to places, never off its paper.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Scale {
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// Places of `from` and `to`.
    pub(crate) start: f64,
    pub(crate) end: f64,
}

impl Scale {
    pub(crate) fn at(&self, value: f64) -> f64 {
        let share = (value - self.from) / (self.to - self.from);
        let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 };
        self.start + (self.end - self.start) * share
    }
}

/// A filled band between two lines over the same places.
pub(crate) fn band(canvas: &mut Canvas, upper: &[At], lower: &[At], stuff: Stuff, edge: f64) {
    let outline: Vec<At> = upper.iter().copied().chain(lower.iter().rev().copied()).collect();
    if outline.len() > 2 {
        canvas.shape(path(&outline, true), stuff, edge);
    }
}

/// A line with a head at its end.
pub(crate) fn arrow(canvas: &mut Canvas, from: At, to: At, width: f64, head: f64) {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = dx.hypot(dy);
    if length < 0.5 {
        return;
    }
    let head = head.min(length);
    let (ux, uy) = (dx / length, dy / length);
    let neck = (to.0 - ux * head, to.1 - uy * head);
    canvas.line(from, neck, width);
    let half = head * 0.45;
    let corners = [to, (neck.0 - uy * half, neck.1 + ux * half), (neck.0 + uy * half, neck.1 - ux * half)];
    canvas.add(Path::new().set("d", path(&corners, true)).set("fill", INK));
}

/// A dimension line with a head at either end.
pub(crate) fn dimension(canvas: &mut Canvas, from: At, to: At) {
    let middle = (f64::midpoint(from.0, to.0), f64::midpoint(from.1, to.1));
    arrow(canvas, middle, from, 0.9, 6.0);
    arrow(canvas, middle, to, 0.9, 6.0);
}

/// A small swatch with an ink edge.
pub(crate) fn swatch(canvas: &mut Canvas, at: At, stuff: Stuff) {
    canvas.shape(rectangle(at.0, at.1, SWATCH, 10.0), stuff, 0.8);
}

/// Width of a swatch and of any other sign in a key.
pub(crate) const SWATCH: f64 = 16.0;
/// Line height of a key.
pub(crate) const KEY_LINE: f64 = 16.0;

/// One entry of a key: draws its sign in a box 16 wide and 10 tall with the given corner.
pub(crate) struct Entry<'a> {
    pub(crate) sign: &'a dyn Fn(&mut Canvas, At),
    pub(crate) words: &'a str,
}

/// Sets a key in rows from `top`; returns where it ends.
pub(crate) fn key(canvas: &mut Canvas, entries: &[Entry<'_>], left: f64, right: f64, top: f64) -> f64 {
    let (mut x, mut y) = (left, top);
    for entry in entries {
        let wide = SWATCH + 5.0 + text_width(entry.words, SMALL);
        if x > left && x + wide > right {
            x = left;
            y += KEY_LINE;
        }
        (entry.sign)(canvas, (x, y));
        canvas.text((x + SWATCH + 5.0, y + 9.0), Side::Start, SMALL, entry.words);
        x += wide + 12.0;
    }
    y + KEY_LINE
}

/// The end of an axis of water contents, m³/m³, that holds `most`.
pub(crate) fn content_top(most: f64) -> f64 {
    [0.6, 0.7, 0.8].into_iter().find(|top| most <= *top).unwrap_or(1.0)
}

/// Water contents from nought to `to`, in percent of the volume: a tick line below (or above) a panel.
pub(crate) fn content_ticks(canvas: &mut Canvas, scale: &Scale, y: f64, down: bool, by: usize) {
    let (stub, words) = if down { (4.0, 15.0) } else { (-4.0, -7.0) };
    for percent in (0..=(scale.to * 100.0).round() as usize).step_by(by) {
        let x = scale.at(percent as f64 / 100.0);
        canvas.line((x, y), (x, y + stub), 1.0);
        canvas.text((x, y + words), Side::Middle, SMALL, &percent.to_string());
    }
}
