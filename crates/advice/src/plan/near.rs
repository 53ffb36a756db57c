//! What lies about a plot, for pictures of it: long lines are cut off, so that they do not make the plot small.

use book::model::{EntryId, Form, PartKind, Point};

use super::{Drawn, FarmPlan};

/// A box along the axes: west, south, east, north.
type Bounds = [f64; 4];

impl FarmPlan {
    /// A plot, what belongs to it, and what lies within so many metres of it: areas that lie there as a whole, and lines as
    /// far as they do. Other plots and the edge of the farm are left out. A plot without an outline is where its `points`
    /// are; of one that was parted, its zones are shown.
    #[must_use]
    pub fn near(&self, plot: EntryId, points: &[Point], within_m: f64) -> Vec<Drawn> {
        let outline = self.area_of(plot).map_or(points, |(outer, _)| outer);
        let Some(bounds) = bounds(outline, within_m) else { return Vec::new() };
        let mut found = Vec::new();
        for part in &self.parts {
            match (part.kind, &part.form) {
                (PartKind::Plot, _) if [part.plot, part.zone_of].contains(&Some(plot)) => {
                    found.push(part.clone());
                }
                (PartKind::Plot | PartKind::FarmEdge, _) => {}
                (_, Form::Line { through }) => {
                    found.extend(
                        cut_off(through, &bounds)
                            .into_iter()
                            .map(|through| Drawn { form: Form::Line { through }, ..part.clone() }),
                    );
                }
                (_, Form::Point { at }) if holds(&bounds, *at) => found.push(part.clone()),
                (_, Form::Area { outer, .. }) if outer.iter().all(|at| holds(&bounds, *at)) => {
                    found.push(part.clone());
                }
                _ => {}
            }
        }
        found
    }
}

fn bounds(places: &[Point], within_m: f64) -> Option<Bounds> {
    let first = places.first()?;
    let [west, south, east, north] =
        places.iter().fold([first[0], first[1], first[0], first[1]], |[west, south, east, north], [x, y]| {
            [west.min(*x), south.min(*y), east.max(*x), north.max(*y)]
        });
    Some([west - within_m, south - within_m, east + within_m, north + within_m])
}

fn holds([west, south, east, north]: &Bounds, [x, y]: Point) -> bool {
    (*west..=*east).contains(&x) && (*south..=*north).contains(&y)
}

/// The pieces of a line inside a box.
fn cut_off(line: &[Point], bounds: &Bounds) -> Vec<Vec<Point>> {
    let mut pieces: Vec<Vec<Point>> = Vec::new();
    let mut open = false;
    for pair in line.windows(2) {
        let Some([from, to]) = side_inside(pair[0], pair[1], bounds) else {
            open = false;
            continue;
        };
        match pieces.last_mut() {
            Some(piece) if open => piece.push(to),
            _ => pieces.push(vec![from, to]),
        }
        // The next side goes on only from an end that was not cut.
        open = to == pair[1];
    }
    pieces
}

/// The part of a side inside a box: from each of the four edges the side is shortened to where it passes.
fn side_inside(from: Point, to: Point, [west, south, east, north]: &Bounds) -> Option<[Point; 2]> {
    let along = [to[0] - from[0], to[1] - from[1]];
    let (mut begin, mut end) = (0.0_f64, 1.0_f64);
    for (axis, low, high) in [(0, *west, *east), (1, *south, *north)] {
        if along[axis] == 0.0 {
            if !(low..=high).contains(&from[axis]) {
                return None;
            }
            continue;
        }
        let passes = [low, high].map(|edge| (edge - from[axis]) / along[axis]);
        begin = begin.max(passes[0].min(passes[1]));
        end = end.min(passes[0].max(passes[1]));
    }
    if begin >= end {
        return None;
    }
    let at = |share: f64| {
        if share <= 0.0 {
            from
        } else if share >= 1.0 {
            to
        } else {
            [from[0] + along[0] * share, from[1] + along[1] * share]
        }
    };
    Some([at(begin), at(end)])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_cut_where_they_leave_the_box() {
        let bounds = [0.0, 0.0, 10.0, 10.0];
        let through = vec![[-5.0, 5.0], [5.0, 5.0], [5.0, 15.0], [8.0, 15.0], [8.0, 5.0]];
        assert_eq!(
            cut_off(&through, &bounds),
            vec![vec![[0.0, 5.0], [5.0, 5.0], [5.0, 10.0]], vec![[8.0, 10.0], [8.0, 5.0]]]
        );
        assert!(cut_off(&[[-5.0, -5.0], [-5.0, 20.0]], &bounds).is_empty());
        assert!(cut_off(&[[12.0, 9.0], [9.0, 12.0]], &bounds).is_empty());
        assert_eq!(cut_off(&[[2.0, 2.0], [3.0, 3.0]], &bounds), vec![vec![[2.0, 2.0], [3.0, 3.0]]]);
    }
}
