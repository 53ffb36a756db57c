//! A long walk with fewer places, after Douglas and Peucker (1973).

use geo::{Coord, LineString, Simplify};

use crate::spatial::plane::{self, At};

/// A line with fewer places.
#[derive(Debug, Clone, PartialEq)]
pub struct Simplified {
    /// What is left, first and last place kept.
    pub line: Vec<At>,
    /// No place that was left out lies farther than this from what is left.
    pub within_m: f64,
}

/// So many places are looked at in one go: the search goes deeper with every place.
const CHUNK: usize = 1000;

/// Leaves out places of a line until at most `most` are left, starting with those within `least_m` of it.
#[must_use]
pub fn simplified(line: &[At], most: usize, least_m: f64) -> Simplified {
    let sound: Vec<At> = line.iter().filter(|at| at.iter().all(|value| value.is_finite())).copied().collect();
    if sound.len() <= most.max(2) && sound.len() == line.len() {
        return Simplified { line: sound, within_m: 0.0 };
    }
    let mut within_m = least_m.max(0.01);
    let mut left = sound;
    let mut spent_m = 0.0;
    loop {
        left = once(&left, within_m);
        spent_m += within_m;
        if left.len() <= most.max(2) || within_m > 1e6 {
            return Simplified { line: left, within_m: spent_m };
        }
        within_m *= 2.0;
    }
}

fn once(line: &[At], within_m: f64) -> Vec<At> {
    let mut kept: Vec<At> = Vec::new();
    let mut from = 0;
    while from + 1 < line.len() {
        let to = (from + CHUNK).min(line.len() - 1);
        let part = LineString(line[from..=to].iter().map(|at| Coord { x: at[0], y: at[1] }).collect());
        let part = part.simplify(within_m);
        kept.extend(part.0.iter().skip(usize::from(from > 0)).map(|at| [at.x, at.y]));
        from = to;
    }
    if kept.is_empty() { line.to_vec() } else { ends_of_chunks_thinned(kept, within_m) }
}

/// Where two chunks meet a place was kept for no other reason.
fn ends_of_chunks_thinned(line: Vec<At>, within_m: f64) -> Vec<At> {
    if line.len() < 3 || line.len() > CHUNK {
        return line;
    }
    let all = LineString(line.iter().map(|at| Coord { x: at[0], y: at[1] }).collect());
    let thinned: Vec<At> = all.simplify(within_m).0.iter().map(|at| [at.x, at.y]).collect();
    if plane::length_m(&thinned) > 0.0 { thinned } else { line }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A walk of 50,000 places about a rectangle of 100 x 50 m, each off by some centimetres.
    #[test]
    fn fifty_thousand_places_become_few() {
        let mut chance = crate::kit::chance::Chance::new(3);
        let line: Vec<At> = (0..50_000)
            .map(|i| {
                let way = f64::from(i) / 50_000.0 * 300.0;
                let [x, y] = match way {
                    w if w < 100.0 => [w, 0.0],
                    w if w < 150.0 => [100.0, w - 100.0],
                    w if w < 250.0 => [250.0 - w, 50.0],
                    w => [0.0, 300.0 - w],
                };
                [x + 0.02 * chance.normal(), y + 0.02 * chance.normal()]
            })
            .collect();
        let few = simplified(&line, 2000, 0.2);
        assert!(few.line.len() <= 40, "{}", few.line.len());
        assert!((plane::ring_area_m2(&few.line) / 5000.0 - 1.0).abs() < 0.01);
        assert_eq!(few.line.first(), line.first());
        assert_eq!(few.line.last(), line.last());
    }

    #[test]
    fn a_short_line_stays_as_it_is_and_no_line_panics() {
        let line = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0]];
        assert_eq!(simplified(&line, 10, 0.5).line, line);
        assert!(simplified(&[], 10, 0.5).line.is_empty());
        assert_eq!(simplified(&[[f64::NAN, 0.0], [1.0, 1.0]], 10, 0.5).line, [[1.0, 1.0]]);
    }
}
