//! Names on the plan: where one would lie over another it is left to the table.

use ground::spatial::plane;

use super::frame::Frame;
use super::{Place, PlanForm, PlanKind, PlanShape};
use crate::canvas::{At, Canvas, LETTER, SMALL, Side, text_width};
use crate::words::wrapped;

/// Half of the room of a sign.
const SIGN: f64 = 7.0;
/// Areas whose middles lie nearer than this are one piece of ground.
const SAME_MIDDLE_M: f64 = 1.0;

/// Left, top, right, bottom.
type Box4 = (f64, f64, f64, f64);

/// What is taken up by lettering so far.
pub(crate) struct Labels {
    taken: Vec<Box4>,
    width: f64,
    bottom: f64,
}

impl Labels {
    pub(crate) fn new(width: f64, bottom: f64) -> Self {
        // The corner of the north arrow.
        Self { taken: vec![(width - 28.0, 0.0, width, 42.0)], width, bottom }
    }

    pub(crate) fn take(&mut self, place: Box4) {
        self.taken.push(place);
    }

    fn is_free(&self, place: Box4) -> bool {
        place.0 >= 2.0
            && place.2 <= self.width - 2.0
            && place.1 >= 2.0
            && place.3 <= self.bottom
            && !self
                .taken
                .iter()
                .any(|other| place.0 < other.2 && other.0 < place.2 && place.1 < other.3 && other.1 < place.3)
    }

    /// Lettering about a middle; false where there is no room.
    fn about(&mut self, canvas: &mut Canvas, at: At, words: &str, size: f64, bold: bool) -> bool {
        let half = text_width(words, size) / 2.0 + 2.0;
        let place = (at.0 - half, at.1 - size * 0.6, at.0 + half, at.1 + size * 0.6);
        if !self.is_free(place) {
            return false;
        }
        self.take(place);
        let base = (at.0, at.1 + size * 0.35);
        if bold {
            canvas.plated(base, Side::Middle, size, words);
        } else {
            canvas.rimmed(base, Side::Middle, size, words);
        }
        true
    }

    /// Lettering beside a sign, on whichever side is free.
    pub(crate) fn beside(&mut self, canvas: &mut Canvas, at: At, away: f64, words: &str, size: f64) {
        let wide = text_width(words, size) + 2.0;
        for (x, y) in [
            (at.0 + away + wide / 2.0, at.1),
            (at.0 - away - wide / 2.0, at.1),
            (at.0, at.1 - away - size * 0.6),
            (at.0, at.1 + away + size * 0.6),
        ] {
            if self.about(canvas, (x, y), words, size, false) {
                return;
            }
        }
    }
}

impl Labels {
    /// The name of an area with a figure under it, about its middle or as near as there is room.
    pub(crate) fn upon(&mut self, canvas: &mut Canvas, frame: &Frame, shape: &PlanShape, figure: &str) {
        let PlanForm::Area { outer, .. } = &shape.form else { return };
        let Some(centre) = plane::centre(outer) else { return };
        let places: Vec<At> = outer.iter().map(|at| frame.at(*at)).collect();
        let wide = span(places.iter().map(|at| at.0)).max(120.0);
        let lines: Vec<(String, f64)> = [
            wrapped(&shape.name, wide, SMALL, 1).pop().map(|words| (words, SMALL)),
            (!figure.is_empty()).then(|| (figure.to_owned(), LETTER)),
        ]
        .into_iter()
        .flatten()
        .filter(|line| !line.0.trim().is_empty())
        .collect();
        if lines.is_empty() {
            return;
        }
        let half = lines.iter().map(|line| text_width(&line.0, line.1)).fold(0.0, f64::max) / 2.0 + 2.0;
        let tall: f64 = lines.iter().map(|line| line.1 * 1.25).sum();
        let (x, y) = frame.at(centre);
        let edge = |fold: fn(f64, f64) -> f64, start: f64| places.iter().map(|at| at.1).fold(start, fold);
        let (top, foot) = (edge(f64::min, f64::INFINITY), edge(f64::max, f64::NEG_INFINITY));
        // About the middle, else at the upper or the lower edge, else just outside.
        let middles = [0.0, -0.6, 0.6, -1.2, 1.2].map(|steps| y + steps * tall);
        let edges = [
            top + tall / 2.0 + 3.0,
            foot - tall / 2.0 - 3.0,
            top - tall / 2.0 - 3.0,
            foot + tall / 2.0 + 3.0,
        ];
        let room = middles
            .into_iter()
            .chain(edges)
            .find(|middle| self.is_free((x - half, middle - tall / 2.0, x + half, middle + tall / 2.0)));
        let Some(middle) = room else { return };
        self.take((x - half, middle - tall / 2.0, x + half, middle + tall / 2.0));
        let mut top = middle - tall / 2.0;
        for (words, size) in &lines {
            canvas.rimmed((x, top + size), Side::Middle, *size, words);
            top += size * 1.25;
        }
    }
}

/// Plots first, then buildings and tunnels, then the rest; beds last, since there are many.
fn rank(kind: PlanKind) -> u8 {
    match kind {
        PlanKind::Plot => 0,
        PlanKind::Tunnel | PlanKind::Building => 1,
        PlanKind::Zone | PlanKind::StandingWater | PlanKind::KeepOut | PlanKind::WaterPoint => 2,
        PlanKind::Bed => 4,
        _ => 3,
    }
}

pub(super) fn name_shapes(canvas: &mut Canvas, frame: &Frame, shapes: &[&PlanShape], labels: &mut Labels) {
    // Signs are small, and unreadable under a name.
    for shape in shapes {
        if let PlanForm::Point(at) = &shape.form {
            let (x, y) = frame.at(*at);
            labels.take((x - SIGN, y - SIGN, x + SIGN, y + SIGN));
        }
    }
    let plots: Vec<Place> = shapes
        .iter()
        .filter(|shape| shape.kind == PlanKind::Plot && !shape.name.trim().is_empty())
        .filter_map(|shape| centre_of(&shape.form))
        .collect();
    let mut named: Vec<&&PlanShape> = shapes
        .iter()
        .filter(|shape| !shape.name.trim().is_empty() && !is_told_otherwise(shape, &plots))
        .collect();
    named.sort_by_key(|shape| rank(shape.kind));
    for shape in named {
        let plot = shape.kind == PlanKind::Plot;
        let size = if plot { LETTER } else { SMALL };
        match &shape.form {
            PlanForm::Point(at) => labels.beside(canvas, frame.at(*at), 8.0, &shape.name, SMALL),
            PlanForm::Line(through) => {
                labels.beside(canvas, frame.at(halfway(through)), 5.0, &shape.name, SMALL);
            }
            PlanForm::Area { outer, .. } => {
                let Some(centre) =
                    plane::centre(outer).filter(|at| lies_among(outer, *at)).or(middle_of(outer))
                else {
                    continue;
                };
                let places: Vec<At> = outer.iter().map(|at| frame.at(*at)).collect();
                let wide = span(places.iter().map(|at| at.0));
                let tall = span(places.iter().map(|at| at.1));
                if tall < size && !plot {
                    continue;
                }
                let (x, y) = frame.at(centre);
                let most = if plot { wide.max(120.0) } else { wide.max(90.0) };
                let Some(words) = wrapped(&shape.name, most, size, 1).pop() else { continue };
                let step = size * 1.3;
                let _ = [0.0, -step, step, -2.0 * step, 2.0 * step]
                    .into_iter()
                    .any(|down| labels.about(canvas, (x, y + down), &words, size, plot));
            }
        }
    }
}

/// The edge of the farm is told by its line alone, in whose middle its name would name something else; a tunnel or a
/// building that fills a plot by the name of the plot.
fn is_told_otherwise(shape: &PlanShape, plots: &[Place]) -> bool {
    match shape.kind {
        PlanKind::FarmEdge => true,
        PlanKind::Tunnel | PlanKind::Building => centre_of(&shape.form)
            .is_some_and(|at| plots.iter().any(|plot| plane::distance_m(*plot, at) < SAME_MIDDLE_M)),
        _ => false,
    }
}

fn centre_of(form: &PlanForm) -> Option<Place> {
    match form {
        PlanForm::Area { outer, .. } => plane::centre(outer),
        _ => None,
    }
}

/// The centre of an outline across itself may lie anywhere.
fn lies_among(ring: &[Place], at: Place) -> bool {
    (0..2).all(|axis| {
        ring.iter().any(|corner| corner[axis] <= at[axis])
            && ring.iter().any(|corner| corner[axis] >= at[axis])
    })
}

/// The middle of the corners.
fn middle_of(ring: &[Place]) -> Option<Place> {
    let count = u32::try_from(ring.len()).ok().filter(|count| *count > 0)?;
    Some([0, 1].map(|axis| ring.iter().map(|corner| corner[axis]).sum::<f64>() / f64::from(count)))
}

/// The place halfway along a line.
fn halfway(line: &[Place]) -> Place {
    let mut left = plane::length_m(line) / 2.0;
    for pair in line.windows(2) {
        let long = plane::distance_m(pair[0], pair[1]);
        if long >= left && long > 0.0 {
            let share = left / long;
            return [0, 1].map(|axis| pair[0][axis] + (pair[1][axis] - pair[0][axis]) * share);
        }
        left -= long;
    }
    line[0]
}

fn span(values: impl Iterator<Item = f64>) -> f64 {
    let (low, high) = values
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
    high - low
}
