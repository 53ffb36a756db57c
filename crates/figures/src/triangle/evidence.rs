//! Evidence on the triangle: a dot at what was measured, its letter close by, a line between.

use svg::node::element::{Circle, Rectangle};

use super::fields::{self, Name};
use super::{Evidence, Says, plane::Plane};
use crate::canvas::{At, Canvas, SMALL, Side, WIDTH, px, text_width};
use crate::palette::{INK, PAPER};

const BADGE: f64 = 7.5;

/// Points that measured evidence stands at.
pub(super) fn anchors(plane: &Plane, evidence: &[&Evidence<'_>]) -> Vec<At> {
    let point = |one: &&Evidence<'_>| match one.says {
        Says::Point(at) => Some(plane.at(at)),
        Says::Class(_) => None,
    };
    evidence.iter().filter_map(point).collect()
}

/// Draws all evidence; letters keep clear of each other, of all `marks` and, as far as there is
/// room, of the class names.
pub(super) fn draw(
    canvas: &mut Canvas,
    plane: &Plane,
    evidence: &[&Evidence<'_>],
    names: &[Name],
    marks: &[At],
) {
    let anchors: Vec<At> = evidence.iter().map(|one| anchor(plane, one)).collect();
    let mut placed: Vec<At> = Vec::new();
    for (one, anchor) in evidence.iter().zip(&anchors) {
        let at = free_place(*anchor, names, marks, &placed);
        placed.push(at);
        if let Says::Point(_) = one.says {
            canvas.line(*anchor, at, 1.0);
        }
    }
    for ((one, anchor), at) in evidence.iter().zip(&anchors).zip(&placed) {
        if let Says::Point(_) = one.says {
            canvas.add(
                Circle::new()
                    .set("cx", px(anchor.0))
                    .set("cy", px(anchor.1))
                    .set("r", 3)
                    .set("fill", INK)
                    .set("class", "figure-rim")
                    .set("stroke", PAPER)
                    .set("stroke-width", 1.2),
            );
        }
        badge(canvas, *at, one);
    }
}

/// One line of the key: the badge and what it is.
pub(super) fn key(canvas: &mut Canvas, (x, y): At, one: &Evidence<'_>) {
    badge(canvas, (x + 1.0, y - 4.0), one);
    let odd = if one.disagrees { " (at odds with the rest)" } else { "" };
    let mut label = match one.says {
        Says::Point(_) => format!("{}{odd}", one.label),
        Says::Class(class) => format!("{}: {}{odd}", one.label, class.name()),
    };
    let room = WIDTH - x - 18.0;
    if text_width(&label, SMALL) > room {
        while text_width(&label, SMALL) > room - SMALL && label.pop().is_some() {}
        label.push('\u{2026}');
    }
    canvas.text((x + 15.0, y), Side::Start, SMALL, &label);
}

/// A measured make-up stands at its point, a named class at the middle of its field.
fn anchor(plane: &Plane, one: &Evidence<'_>) -> At {
    match one.says {
        Says::Point(at) => plane.at(at),
        Says::Class(class) => fields::label_at(plane, class),
    }
}

/// The place for a letter near its anchor with the least crowding.
fn free_place(anchor: At, names: &[Name], marks: &[At], placed: &[At]) -> At {
    let mut best = (f64::INFINITY, anchor);
    for radius in [16.0, 24.0, 34.0, 46.0] {
        for part in 0..16 {
            let turn = (f64::from(part) - 2.0) * std::f64::consts::TAU / 16.0;
            let at = (anchor.0 + radius * turn.cos(), anchor.1 + radius * turn.sin());
            let crowd = |others: &[At], room: f64| -> f64 {
                others.iter().map(|other| (room - (other.0 - at.0).hypot(other.1 - at.1)).max(0.0)).sum()
            };
            let outside = if (BADGE..=WIDTH - BADGE).contains(&at.0) && at.1 > BADGE { 0.0 } else { 1e6 };
            let over_name = if names.iter().any(|name| name.meets(at, BADGE)) { 12.0 } else { 0.0 };
            let cost = 10.0 * crowd(placed, 2.0 * BADGE + 4.0)
                + 5.0 * crowd(marks, BADGE + 6.0)
                + over_name
                + radius / 4.0
                + outside;
            if cost < best.0 - 1e-9 {
                best = (cost, at);
            }
        }
    }
    best.1
}

/// A letter in a ring (a measured make-up) or a box (a named class); a second edge when it is at
/// odds with the rest.
fn badge(canvas: &mut Canvas, at: At, one: &Evidence<'_>) {
    let edges: &[f64] = if one.disagrees { &[BADGE + 2.2, BADGE] } else { &[BADGE] };
    for size in edges {
        match one.says {
            Says::Point(_) => canvas.add(
                Circle::new()
                    .set("cx", px(at.0))
                    .set("cy", px(at.1))
                    .set("r", *size)
                    .set("class", "figure-paper")
                    .set("fill", PAPER)
                    .set("stroke", INK)
                    .set("stroke-width", 1.2),
            ),
            Says::Class(_) => canvas.add(
                Rectangle::new()
                    .set("x", px(at.0 - size + 0.5))
                    .set("y", px(at.1 - size + 0.5))
                    .set("width", 2.0 * size - 1.0)
                    .set("height", 2.0 * size - 1.0)
                    .set("class", "figure-paper")
                    .set("fill", PAPER)
                    .set("stroke", INK)
                    .set("stroke-width", 1.2),
            ),
        }
    }
    canvas.bold((at.0, at.1 + 3.8), Side::Middle, SMALL, &one.letter.to_string());
}
