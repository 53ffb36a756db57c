//! The key: what each hatch, line and sign stands for.

use std::collections::BTreeSet;

use super::marks;
use super::{PlanForm, PlanKind, PlanPicture, PlanPoint, PlanShape};
use crate::canvas::{At, Canvas, rectangle};
use crate::chart::{Entry, SWATCH, key};
use crate::palette::{INK, PAPER};
use svg::node::element::{Circle, Path};

/// How a kind occurs on this plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Seen {
    Area,
    Line,
    Sign,
}

/// Sets the key from `top`; returns where it ends.
pub(super) fn draw(
    canvas: &mut Canvas,
    shapes: &[&PlanShape],
    points: &[&PlanPoint],
    picture: &PlanPicture<'_>,
    top: f64,
) -> f64 {
    let seen: BTreeSet<(PlanKind, Seen)> = shapes
        .iter()
        .map(|shape| {
            let form = match shape.form {
                PlanForm::Area { .. } => Seen::Area,
                PlanForm::Line(_) => Seen::Line,
                PlanForm::Point(_) => Seen::Sign,
            };
            (shape.kind, form)
        })
        .collect();
    let signs: Vec<Sign> = seen.iter().map(|(kind, form)| sign_of(*kind, *form)).collect();
    let mut entries: Vec<Entry<'_>> = seen
        .iter()
        .zip(&signs)
        .map(|((kind, form), sign)| Entry { sign: sign.as_ref(), words: words(*kind, *form) })
        .collect();
    let dot = |canvas: &mut Canvas, (x, y): At| {
        canvas.add(
            Circle::new()
                .set("cx", x + 8.0)
                .set("cy", y + 5.0)
                .set("r", 5.5)
                .set("fill", PAPER)
                .set("class", "figure-paper")
                .set("stroke", INK)
                .set("stroke-width", 1.2),
        );
    };
    if !points.is_empty() && !picture.points_are.is_empty() {
        entries.push(Entry { sign: &dot, words: picture.points_are });
    }
    let way =
        |canvas: &mut Canvas, (x, y): At| canvas.dashed((x, y + 5.0), (x + SWATCH, y + 5.0), 1.0, "2 3");
    if picture.walk.len() > 1 {
        entries.push(Entry { sign: &way, words: "way to walk" });
    }
    let right = picture.size.units().0 - 8.0;
    key(canvas, &entries, 10.0, right, top)
}

/// What one occurrence of a kind is called: a line of posts is a fence to the eye, and no post.
fn words(kind: PlanKind, form: Seen) -> &'static str {
    match (kind, form) {
        (PlanKind::Post, Seen::Line) => "line of posts",
        (PlanKind::Tree, Seen::Line) => "row of trees",
        (PlanKind::KeepOut, Seen::Area) => "no sampling here",
        (PlanKind::KeepOut, Seen::Line) => "no sampling along it",
        (PlanKind::KeepOut, Seen::Sign) => "no sampling about it",
        (PlanKind::Other, Seen::Line) => "other line",
        (PlanKind::Other, Seen::Sign) => "other spot",
        (kind, _) => kind.words(),
    }
}

/// Draws a sign of the key.
type Sign = Box<dyn Fn(&mut Canvas, At)>;

fn sign_of(kind: PlanKind, form: Seen) -> Sign {
    Box::new(move |canvas, (x, y)| match form {
        Seen::Sign => marks::sign(canvas, kind, (x + 8.0, y + 5.0)),
        Seen::Line => marks::line(canvas, kind, &[(x, y + 5.0), (x + SWATCH, y + 5.0)]),
        Seen::Area => {
            let marks::Drawn { fill, edge, dashes } = marks::area(kind);
            let fill = fill.map_or_else(|| "none".to_owned(), |stuff| canvas.fill(stuff));
            let mut drawn = Path::new()
                .set("d", rectangle(x, y, SWATCH, 10.0))
                .set("fill", fill)
                .set("stroke", INK)
                .set("stroke-width", edge);
            if !dashes.is_empty() {
                drawn = drawn.set("stroke-dasharray", dashes);
            }
            canvas.add(drawn);
        }
    })
}
