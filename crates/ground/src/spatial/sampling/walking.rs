//! A short way from point to point.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::shape::{GivenPlace, Place, gap_squared, given};
use super::zigzag::most_points;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

/// Points the search starts from each of; beyond, from a few spread over the list.
const EACH: usize = 24;

/// A short order to walk points in, from `gate` where one is given and ending anywhere: nearest neighbour from several
/// starts, then turning stretches round (2-opt) and moving short ones (Or-opt) until neither helps. Straight lines.
#[must_use]
pub fn short_order(points: &[Place], gate: Option<Place>) -> Vec<usize> {
    let count = points.len();
    if count < 2 {
        return (0..count).collect();
    }
    let gaps = Gaps::of(points, gate);
    let starts: Vec<usize> =
        if count <= EACH { (0..count).collect() } else { (0..EACH).map(|at| at * count / EACH).collect() };
    starts
        .into_iter()
        .map(|start| {
            let mut order = nearest_first(&gaps, start);
            while turn_round(&gaps, &mut order) || move_short(&gaps, &mut order) {}
            (gaps.length(&order), order)
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map_or_else(Vec::new, |best| best.1)
}

/// Length of a walk, from the gate where there is one.
#[must_use]
pub fn length_m(points: &[Place], order: &[usize], gate: Option<Place>) -> f64 {
    let places = gate.into_iter().chain(order.iter().map(|at| points[*at]));
    places.clone().zip(places.skip(1)).map(|(a, b)| gap_squared(a, b).sqrt()).sum()
}

/// Distances between points, and from the gate. Without one, or after the last point, nothing is walked.
struct Gaps {
    count: usize,
    between: Vec<f64>,
    from_gate: Vec<f64>,
}

impl Gaps {
    fn of(points: &[Place], gate: Option<Place>) -> Self {
        let between =
            points.iter().flat_map(|a| points.iter().map(move |b| gap_squared(*a, *b).sqrt())).collect();
        let from_gate =
            points.iter().map(|point| gate.map_or(0.0, |gate| gap_squared(*point, gate).sqrt())).collect();
        Self { count: points.len(), between, from_gate }
    }

    /// From one point of a walk to the next; `None` is before the first or after the last.
    fn step(&self, a: Option<usize>, b: Option<usize>) -> f64 {
        match (a, b) {
            (Some(a), Some(b)) => self.between[a * self.count + b],
            (None, Some(first)) => self.from_gate[first],
            (_, None) => 0.0,
        }
    }

    fn length(&self, order: &[usize]) -> f64 {
        self.step(None, order.first().copied())
            + order.windows(2).map(|pair| self.step(Some(pair[0]), Some(pair[1]))).sum::<f64>()
    }
}

fn nearest_first(gaps: &Gaps, start: usize) -> Vec<usize> {
    let mut left: Vec<usize> = (0..gaps.count).filter(|at| *at != start).collect();
    let mut order = vec![start];
    let mut here = start;
    while !left.is_empty() {
        let nearest = (0..left.len())
            .min_by(|a, b| {
                gaps.step(Some(here), Some(left[*a])).total_cmp(&gaps.step(Some(here), Some(left[*b])))
            })
            .unwrap_or(0);
        here = left.swap_remove(nearest);
        order.push(here);
    }
    order
}

/// Less than this is rounding, and would go round for ever.
const GAIN_M: f64 = 1e-9;

/// Turns round a stretch where that shortens the walk.
fn turn_round(gaps: &Gaps, order: &mut [usize]) -> bool {
    let count = order.len();
    let mut shorter = false;
    for from in 0..count - 1 {
        for to in from + 1..count {
            let before = from.checked_sub(1).map(|at| order[at]);
            let after = order.get(to + 1).copied();
            let now = gaps.step(before, Some(order[from])) + gaps.step(Some(order[to]), after);
            let then = gaps.step(before, Some(order[to])) + gaps.step(Some(order[from]), after);
            if then < now - GAIN_M {
                order[from..=to].reverse();
                shorter = true;
            }
        }
    }
    shorter
}

/// Moves one to three points elsewhere, either way round, where that shortens the walk.
fn move_short(gaps: &Gaps, order: &mut Vec<usize>) -> bool {
    let count = order.len();
    for size in 1..=3.min(count - 1) {
        for from in 0..=count - size {
            let stretch: Vec<usize> = order[from..from + size].to_vec();
            let (first, last) = (stretch[0], stretch[size - 1]);
            let before = from.checked_sub(1).map(|at| order[at]);
            let after = order.get(from + size).copied();
            let freed =
                gaps.step(before, Some(first)) + gaps.step(Some(last), after) - gaps.step(before, after);
            let rest: Vec<usize> = order[..from].iter().chain(&order[from + size..]).copied().collect();
            for to in 0..=rest.len() {
                if to == from {
                    continue;
                }
                let left = to.checked_sub(1).map(|at| rest[at]);
                let right = rest.get(to).copied();
                let open = gaps.step(left, right);
                let straight = gaps.step(left, Some(first)) + gaps.step(Some(last), right) - open;
                let turned = gaps.step(left, Some(last)) + gaps.step(Some(first), right) - open;
                if straight.min(turned) < freed - GAIN_M {
                    let mut next = rest;
                    let mut stretch = stretch;
                    if turned < straight {
                        stretch.reverse();
                    }
                    next.splice(to..to, stretch);
                    *order = next;
                    return true;
                }
            }
        }
    }
    false
}

/// Input of `walking-order`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WalkingOrderInput {
    /// The points, metres east and north.
    pub points: Vec<GivenPlace>,
    /// Where the walk starts: the gate, say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gate: Option<GivenPlace>,
}

/// Output of `walking-order`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WalkingOrderOutput {
    /// Which point to go to first, second and so on; points count from 1.
    pub order: Vec<u64>,
    /// Length of the walk in straight lines.
    pub walk_m: f64,
}

/// Walking order.
pub struct WalkingOrder;

impl Method for WalkingOrder {
    type Input = WalkingOrderInput;
    type Output = WalkingOrderOutput;

    const CARD: Card = Card {
        name: "walking-order",
        title: "A short way round the points",
        topic: Topic::Spatial,
        computes: "An order to walk points in that is short: each nearest in turn, then stretches turned round and moved until \
                   nothing shortens it further.",
        validity: &[
            "Straight lines: fences, tunnels and crops in the way are not known. Short, not proven shortest; with up to eight \
             points it is the shortest in nearly every case.",
        ],
        sources: &[
            Cite::new("Croes1958", "turning stretches round"),
            Cite::new("Or1976", "moving short stretches"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let at = |x: f64, y: f64| given([x, y]);
        WalkingOrderInput {
            points: vec![at(0.0, 0.0), at(30.0, 0.0), at(10.0, 0.0), at(20.0, 0.0)],
            gate: Some(at(-5.0, 0.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        most_points("points", input.points.len())?;
        let points: Vec<Place> = input.points.iter().map(|place| place.map(Bounded::get)).collect();
        let gate = input.gate.map(|place| place.map(Bounded::get));
        let order = short_order(&points, gate);
        Ok(Answer::plain(WalkingOrderOutput {
            walk_m: length_m(&points, &order, gate),
            order: order.iter().map(|at| *at as u64 + 1).collect(),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "order",
                "nearest in turn, then stretches turned round and moved",
                format!("{} points", input.points.len()),
                format!("{:.1} m", answer.value.walk_m),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::chance::Chance;

    /// The shortest of all orders, by trying each.
    fn by_trying_all(points: &[Place], gate: Option<Place>) -> f64 {
        fn on(points: &[Place], left: &mut Vec<usize>, here: Option<Place>, so_far: f64, best: &mut f64) {
            if so_far >= *best {
                return;
            }
            if left.is_empty() {
                *best = so_far;
            }
            for at in 0..left.len() {
                let next = left.swap_remove(at);
                let step = here.map_or(0.0, |here| gap_squared(here, points[next]).sqrt());
                on(points, left, Some(points[next]), so_far + step, best);
                left.push(next);
                let last = left.len() - 1;
                left.swap(at, last);
            }
        }
        let mut best = f64::INFINITY;
        on(points, &mut (0..points.len()).collect(), gate, 0.0, &mut best);
        best
    }

    #[test]
    fn nearly_always_the_shortest_and_never_much_longer() {
        let mut chance = Chance::new(5);
        let mut shortest = 0;
        for round in 0..120 {
            let count = 2 + round % 7;
            let points: Vec<Place> =
                (0..count).map(|_| [100.0 * chance.uniform(), 40.0 * chance.uniform()]).collect();
            let gate = (round % 2 == 0).then(|| [0.0, 40.0 * chance.uniform()]);
            let order = short_order(&points, gate);
            let mut seen = order.clone();
            seen.sort_unstable();
            assert!(seen.iter().copied().eq(0..count), "{order:?}");
            let (ours, best) = (length_m(&points, &order, gate), by_trying_all(&points, gate));
            assert!(ours <= 1.05 * best + 1e-9, "{round}: {ours} against {best}");
            shortest += usize::from(ours <= best + 1e-6);
        }
        assert!(shortest >= 114, "{shortest} of 120");
    }

    #[test]
    fn no_points_or_one() {
        assert!(short_order(&[], None).is_empty());
        assert_eq!(short_order(&[[1.0, 1.0]], Some([0.0, 0.0])), [0]);
        assert_eq!(short_order(&[[1.0, 1.0], [1.0, 1.0]], None).len(), 2);
    }
}
