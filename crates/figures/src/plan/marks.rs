//! How each kind of thing is drawn: its hatch, its line, its sign.

use svg::node::element::{Circle, Path};

use super::PlanKind;
use crate::canvas::{At, Canvas, path, px, rectangle};
use crate::palette::{INK, PAPER, Stuff};

/// How an area is drawn.
pub(super) struct Drawn {
    pub(super) fill: Option<Stuff>,
    pub(super) edge: f64,
    pub(super) dashes: &'static str,
}

pub(super) fn area(kind: PlanKind) -> Drawn {
    let (fill, edge, dashes) = match kind {
        PlanKind::FarmEdge => (None, 1.6, "10 3 2 3"),
        PlanKind::Plot => (Some(Stuff::Plot), 1.6, ""),
        PlanKind::Zone => (None, 1.2, "5 3"),
        PlanKind::Bed => (Some(Stuff::Bed), 0.8, ""),
        PlanKind::Tunnel => (Some(Stuff::Cover), 1.8, ""),
        PlanKind::Building => (Some(Stuff::Built), 1.8, ""),
        PlanKind::Track => (Some(Stuff::Track), 0.6, ""),
        PlanKind::StandingWater => (Some(Stuff::Wet), 0.8, "3 2"),
        PlanKind::KeepOut => (Some(Stuff::KeepOut), 1.0, "6 3"),
        PlanKind::Drain => (Some(Stuff::Draining), 1.0, "8 3"),
        PlanKind::Post | PlanKind::Tree | PlanKind::WaterPoint | PlanKind::Other => {
            (Some(Stuff::Ground), 1.0, "")
        }
    };
    Drawn { fill, edge, dashes }
}

pub(super) fn line(canvas: &mut Canvas, kind: PlanKind, places: &[At]) {
    let (width, dashes) = match kind {
        PlanKind::FarmEdge => (1.6, "10 3 2 3"),
        PlanKind::Drain => (2.2, "9 4"),
        PlanKind::Track => (5.0, "1 4"),
        PlanKind::KeepOut => (2.0, "6 3"),
        PlanKind::StandingWater => (2.0, "3 2"),
        PlanKind::Post => (1.4, "1 5"),
        PlanKind::WaterPoint => (1.2, "4 2 1 2"),
        PlanKind::Tree => (3.0, "1 5"),
        PlanKind::Zone => (1.2, "5 3"),
        PlanKind::Plot | PlanKind::Bed | PlanKind::Tunnel | PlanKind::Building | PlanKind::Other => (1.4, ""),
    };
    let mut drawn = Path::new()
        .set("d", path(places, false))
        .set("fill", "none")
        .set("stroke", INK)
        .set("stroke-width", width)
        .set("stroke-linejoin", "round");
    if !dashes.is_empty() {
        drawn = drawn.set("stroke-dasharray", dashes);
    }
    canvas.add(drawn);
}

pub(super) fn sign(canvas: &mut Canvas, kind: PlanKind, (x, y): At) {
    match kind {
        PlanKind::Post => canvas.add(solid(rectangle(x - 3.0, y - 3.0, 6.0, 6.0))),
        PlanKind::Tree => {
            canvas.add(ring((x, y), 5.5));
            canvas.add(stroke(path(&[(x - 3.5, y), (x + 3.5, y)], false)));
            canvas.add(stroke(path(&[(x, y - 3.5), (x, y + 3.5)], false)));
        }
        PlanKind::WaterPoint => {
            let (px_, py) = (px(x), px(y));
            canvas.add(solid(format!(
                "M{px_} {}C{} {} {} {} {px_} {}C{} {} {} {} {px_} {}Z",
                px(y - 7.0),
                px(x + 4.0),
                py,
                px(x + 5.0),
                px(y + 5.0),
                px(y + 5.0),
                px(x - 5.0),
                px(y + 5.0),
                px(x - 4.0),
                py,
                px(y - 7.0)
            )));
        }
        PlanKind::StandingWater => {
            for down in [-2.0, 2.0] {
                canvas.add(stroke(format!("M{} {}q3 -3 6 0t6 0", px(x - 6.0), px(y + down))));
            }
        }
        PlanKind::KeepOut => {
            canvas.add(stroke(path(&[(x - 4.0, y - 4.0), (x + 4.0, y + 4.0)], false)));
            canvas.add(stroke(path(&[(x - 4.0, y + 4.0), (x + 4.0, y - 4.0)], false)));
        }
        PlanKind::Building | PlanKind::Tunnel => {
            canvas.add(hollow(path(
                &[
                    (x - 6.0, y + 5.0),
                    (x - 6.0, y - 1.0),
                    (x, y - 6.0),
                    (x + 6.0, y - 1.0),
                    (x + 6.0, y + 5.0),
                ],
                true,
            )));
        }
        _ => canvas.add(hollow(path(&[(x, y - 5.0), (x + 5.0, y), (x, y + 5.0), (x - 5.0, y)], true))),
    }
}

fn solid(data: String) -> Path {
    Path::new().set("d", data).set("fill", INK)
}

fn hollow(data: String) -> Path {
    stroke(data).set("fill", PAPER).set("class", "figure-paper")
}

fn stroke(data: String) -> Path {
    Path::new().set("d", data).set("fill", "none").set("stroke", INK).set("stroke-width", 1.4)
}

fn ring((x, y): At, radius: f64) -> Circle {
    Circle::new()
        .set("cx", px(x))
        .set("cy", px(y))
        .set("r", radius)
        .set("fill", PAPER)
        .set("class", "figure-paper")
        .set("stroke", INK)
        .set("stroke-width", 1.4)
}
