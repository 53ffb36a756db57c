//! The ground of a map: the cells of its surface, the outlines on it, and its readings as dots.

use svg::node::element::{Circle, Path};

use super::{MOST_TINTS, MapCells, MapPoint};
use crate::canvas::{At, Canvas, path, px, rectangle};
use crate::palette::{INK, PAPER};
use crate::plan::frame::Frame;
use crate::plan::{PlanForm, PlanShape, labels};

/// Steps from light to dark, each about as far from the next in lightness.
pub(super) static STEPS: [&str; MOST_TINTS] = ["#f3ecd2", "#c9d8b6", "#8dbcae", "#4f8fa3", "#2c5a86"];

/// The cells of one tint as one shape: runs of a row at a time.
pub(super) fn surface(canvas: &mut Canvas, frame: &Frame, cells: &MapCells) {
    if cells.columns == 0 {
        return;
    }
    let corner = |column: usize, row: usize| {
        frame
            .at([cells.corner[0] + column as f64 * cells.cell_m, cells.corner[1] + row as f64 * cells.cell_m])
    };
    for (tint, colour) in STEPS.iter().enumerate() {
        let mut data = String::new();
        for (row, line) in cells.tints.chunks(cells.columns).enumerate() {
            let mut column = 0;
            while column < line.len() {
                let from = column;
                while column < line.len() && line[column] == Some(tint) {
                    column += 1;
                }
                if column > from {
                    let (left, top) = corner(from, row + 1);
                    let (right, bottom) = corner(column, row);
                    data.push_str(&rectangle(left, top, right - left, bottom - top));
                } else {
                    column += 1;
                }
            }
        }
        if !data.is_empty() {
            canvas.add(
                Path::new()
                    .set("d", data)
                    .set("fill", *colour)
                    .set("stroke", *colour)
                    .set("stroke-width", 0.4),
            );
        }
    }
    if cells.lines {
        let data = meetings(cells, corner);
        canvas
            .add(Path::new().set("d", data).set("fill", "none").set("stroke", INK).set("stroke-width", 0.7));
    }
}

/// The sides where one tint meets another.
fn meetings(cells: &MapCells, corner: impl Fn(usize, usize) -> At) -> String {
    let mut data = String::new();
    for (cell, tint) in cells.tints.iter().enumerate() {
        let (column, row) = (cell % cells.columns, cell / cells.columns);
        let differs = |other: Option<&Option<usize>>| match (tint, other) {
            (Some(one), Some(Some(other))) => one != other,
            _ => false,
        };
        if column + 1 < cells.columns && differs(cells.tints.get(cell + 1)) {
            data.push_str(&path(&[corner(column + 1, row), corner(column + 1, row + 1)], false));
        }
        if differs(cells.tints.get(cell + cells.columns)) {
            data.push_str(&path(&[corner(column, row + 1), corner(column + 1, row + 1)], false));
        }
    }
    data
}

pub(super) fn edge(canvas: &mut Canvas, frame: &Frame, shape: &PlanShape, fill: &str, dashes: &str) {
    let PlanForm::Area { outer, holes } = &shape.form else { return };
    let mut data = String::new();
    for ring in std::iter::once(outer).chain(holes) {
        let places: Vec<At> = ring.iter().map(|at| frame.at(*at)).collect();
        data.push_str(&path(&places, true));
    }
    let mut drawn = Path::new()
        .set("d", data)
        .set("fill", fill)
        .set("fill-rule", "evenodd")
        .set("stroke", INK)
        .set("stroke-width", 1.6)
        .set("stroke-linejoin", "round");
    if !dashes.is_empty() {
        drawn = drawn.set("stroke-dasharray", dashes);
    }
    canvas.add(drawn);
}

pub(super) fn mark(canvas: &mut Canvas, frame: &Frame, points: &[&MapPoint], taken: &mut labels::Labels) {
    for point in points {
        let (x, y) = frame.at(point.at);
        canvas.add(
            Circle::new()
                .set("cx", px(x))
                .set("cy", px(y))
                .set("r", 3)
                .set("fill", INK)
                .set("class", "figure-dot")
                .set("stroke", PAPER)
                .set("stroke-width", 0.8),
        );
        taken.take((x - 3.0, y - 3.0, x + 3.0, y + 3.0));
    }
}
