//! Areas, lines, signs and numbered points.

use svg::node::element::{Circle, Path, Rectangle};

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

/// A letter in a square at each corner that places are counted from.
pub(super) fn corners(canvas: &mut Canvas, frame: &Frame, corners: &[(&str, Place)], labels: &mut Labels) {
    for (letter, place) in corners.iter().filter(|corner| super::frame::is_place(corner.1)) {
        let (x, y) = frame.at(*place);
        canvas.add(
            Rectangle::new()
                .set("x", px(x - DOT))
                .set("y", px(y - DOT))
                .set("width", 2.0 * DOT)
                .set("height", 2.0 * DOT)
                .set("fill", PAPER)
                .set("class", "figure-paper")
                .set("stroke", INK)
                .set("stroke-width", 2),
        );
        canvas.text((x, y + 4.5), Side::Middle, LETTER, letter);
        labels.take((x - DOT, y - DOT, x + DOT, y + DOT));
    }
}

/// Numbers stand in their circle; longer labels, and numbers whose circles would hide each other, beside a smaller dot.
pub(super) fn points(canvas: &mut Canvas, frame: &Frame, points: &[&PlanPoint], labels: &mut Labels) {
    let places: Vec<At> = points.iter().map(|point| frame.at(point.at)).collect();
    let crowded = |at: usize| {
        let near = |other: &At| (other.0 - places[at].0).hypot(other.1 - places[at].1) < 2.0 * DOT;
        places.iter().enumerate().any(|(other, place)| other != at && near(place))
    };
    let within: Vec<bool> = points
        .iter()
        .enumerate()
        .map(|(at, point)| text_width(&point.label, SMALL) <= 2.0 * DOT - 2.0 && !crowded(at))
        .collect();
    for ((point, at), within) in points.iter().zip(&places).zip(&within) {
        let radius = if *within { DOT } else { 3.0 };
        canvas.add(
            Circle::new()
                .set("cx", px(at.0))
                .set("cy", px(at.1))
                .set("r", radius)
                .set("fill", if *within { PAPER } else { INK })
                .set("class", if *within { "figure-paper" } else { "figure-dot" })
                .set("stroke", INK)
                .set("stroke-width", 1.2),
        );
        labels.take((at.0 - radius, at.1 - radius, at.0 + radius, at.1 + radius));
        if *within {
            canvas.text((at.0, at.1 + 4.0), Side::Middle, SMALL, &point.label);
        }
    }
    for ((point, at), _) in points.iter().zip(&places).zip(&within).filter(|(_, within)| !**within) {
        labels.beside(canvas, *at, 5.0, &point.label, LETTER);
    }
}
