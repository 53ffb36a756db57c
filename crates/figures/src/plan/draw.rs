//! Areas, lines, signs and numbered points.

use svg::node::element::{Circle, Path};

use super::frame::Frame;
use super::labels::Labels;
use super::marks::{self, Drawn};
use super::{Place, PlanForm, PlanPoint, PlanShape};
use crate::canvas::{At, Canvas, LETTER, SMALL, Side, path, px, text_width};
use crate::chart::arrow;
use crate::palette::{INK, PAPER};

/// Radius of a numbered point.
const DOT: f64 = 8.0;

pub(crate) fn shapes(canvas: &mut Canvas, frame: &Frame, shapes: &[&PlanShape]) {
    for shape in shapes {
        match &shape.form {
            PlanForm::Area { outer, holes } => area(canvas, frame, shape, outer, holes),
            PlanForm::Line(through) => {
                let places: Vec<At> = through.iter().map(|at| frame.at(*at)).collect();
                marks::line(canvas, shape.kind, &places);
            }
            PlanForm::Point(at) => marks::sign(canvas, shape.kind, frame.at(*at)),
        }
    }
}

fn area(canvas: &mut Canvas, frame: &Frame, shape: &PlanShape, outer: &[Place], holes: &[Vec<Place>]) {
    let mut data = String::new();
    for ring in std::iter::once(outer).chain(holes.iter().map(Vec::as_slice)) {
        let places: Vec<At> = ring.iter().map(|at| frame.at(*at)).collect();
        data.push_str(&path(&places, true));
    }
    let Drawn { fill, edge, dashes } = marks::area(shape.kind);
    let fill = fill.map_or_else(|| "none".to_owned(), |stuff| canvas.fill(stuff));
    let mut drawn = Path::new()
        .set("d", data)
        .set("fill", fill)
        .set("fill-rule", "evenodd")
        .set("stroke", INK)
        .set("stroke-width", edge)
        .set("stroke-linejoin", "round");
    if !dashes.is_empty() {
        drawn = drawn.set("stroke-dasharray", dashes);
    }
    canvas.add(drawn);
}

/// The way from point to point, thin, with a head at its end.
pub(super) fn walk(canvas: &mut Canvas, frame: &Frame, walk: &[Place]) {
    let places: Vec<At> =
        walk.iter().filter(|at| super::frame::is_place(**at)).map(|at| frame.at(*at)).collect();
    let [.., before, last] = places.as_slice() else { return };
    canvas.add(
        Path::new()
            .set("d", path(&places, false))
            .set("fill", "none")
            .set("stroke", INK)
            .set("stroke-width", 1)
            .set("stroke-dasharray", "2 3"),
    );
    arrow(canvas, f64_mid(*before, *last), *last, 1.0, 7.0);
}

fn f64_mid(a: At, b: At) -> At {
    (f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1))
}

/// Numbers stand in their circle; longer labels beside a smaller dot.
pub(super) fn points(canvas: &mut Canvas, frame: &Frame, points: &[&PlanPoint], labels: &mut Labels) {
    for point in points {
        let at = frame.at(point.at);
        let short = text_width(&point.label, SMALL) <= 2.0 * DOT - 2.0;
        let radius = if short { DOT } else { 3.0 };
        canvas.add(
            Circle::new()
                .set("cx", px(at.0))
                .set("cy", px(at.1))
                .set("r", radius)
                .set("fill", if short { PAPER } else { INK })
                .set("class", if short { "figure-paper" } else { "figure-dot" })
                .set("stroke", INK)
                .set("stroke-width", 1.2),
        );
        labels.take((at.0 - radius, at.1 - radius, at.0 + radius, at.1 + radius));
        if short {
            canvas.text((at.0, at.1 + 4.0), Side::Middle, SMALL, &point.label);
        }
    }
    for point in points.iter().filter(|point| text_width(&point.label, SMALL) > 2.0 * DOT - 2.0) {
        labels.beside(canvas, frame.at(point.at), 5.0, &point.label, LETTER);
    }
}
