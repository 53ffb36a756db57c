//! How deep a post must stand for what pushes it, over everything its ground may be.

use ground::kit::{Bounded, Spread};
use ground::posts::depth_odds::{
    GroundDraw, Look, PushedPost, depth_for_odds_m, doubt_after, needed_depth_m,
};
use ground::posts::embedment::{DEEPEST_M, bearing_width_m};
use serde::Serialize;

use super::ask::PostAsk;
use super::load::Push;
use super::possible::{Grounds, VERY_FINE_SHARES, share};
use crate::finding::Firmness;

/// What a look at the ground may be expected to leave of the doubt.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LookHelps {
    /// The look.
    pub look: Look,
    /// In words.
    pub words: &'static str,
    /// Chance of being wrong about this depth after it, to be expected.
    pub wrong_after: f64,
}

/// How deep a post must stand for one push.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DepthAdvice {
    /// What pushes it.
    pub push: Push,
    /// The depth in question, m.
    pub depth_m: f64,
    /// Odds that it suffices.
    pub suffices: f64,
    /// The likelier answer and how surely: it suffices, or it does not.
    pub enough: bool,
    /// How surely.
    pub firmness: Firmness,
    /// Depth that the code's equation asks for, over what the ground may be, m; grounds that bear nothing are left out.
    pub needed_m: Option<Spread>,
    /// Share of what the ground may be in which no depth that is counted holds.
    pub never: f64,
    /// Least depth for four chances in five, m; `None` beyond 3.66 m.
    pub for_80_m: Option<f64>,
    /// For nine chances in ten.
    pub for_90_m: Option<f64>,
    /// For nineteen in twenty.
    pub for_95_m: Option<f64>,
    /// Chance of being wrong about the depth as things stand.
    pub wrong_now: f64,
    /// What each look may be expected to leave of it, best first.
    pub looks: Vec<LookHelps>,
}

/// Steps of solving for a depth whose layer depends on it.
const STEPS: usize = 6;
/// Depths this near are one, m.
const SAME_M: f64 = 0.005;

/// Depth that one possible ground asks for; infinite where it bears nothing at the foot.
fn needed(grounds: &Grounds, at: usize, post: &PushedPost, start_m: f64, harmless: bool) -> f64 {
    let (mut depth, mut before) = (start_m, start_m);
    for _ in 0..STEPS {
        let case = grounds.case(at, depth);
        let draw = GroundDraw { bearing_kpa_m: case.bearing_kpa_m(harmless), ignored_top_m: case.top_m };
        let next = needed_depth_m(post, &draw);
        if !grounds.case(at, next).bears {
            return f64::INFINITY;
        }
        if (next - depth).abs() < SAME_M {
            return next;
        }
        before = depth;
        depth = next.min(2.0 * DEEPEST_M);
    }
    // Between two layers of different class neither depth is the answer of its own layer: the deeper holds.
    depth.max(before)
}

pub(super) fn advise(ask: &PostAsk, grounds: &Grounds, push: &Push) -> DepthAdvice {
    let (depth_m, _) = ask.depth_m();
    let collar = ask.post.set.takes_concrete().then(|| ask.collar_m());
    let post = PushedPost {
        load_kn: push.kn.max(1e-6),
        height_m: push.height_m,
        width_m: bearing_width_m(ask.post.section, ask.post.width_mm.get() / 1000.0, collar),
        restrained: ask.post.rigid_floor,
    };
    let count = grounds.len();
    #[expect(clippy::cast_precision_loss, reason = "cases by the thousand")]
    let weights = vec![1.0 / count.max(1) as f64; count];
    let needed_each: Vec<f64> =
        (0..count).map(|at| needed(grounds, at, &post, depth_m, ask.post.movement_harmless)).collect();
    let truths: Vec<bool> = needed_each.iter().map(|needed| *needed <= depth_m + 1e-9).collect();
    let suffices = share(&truths, |truth| *truth);
    let for_odds = |odds| depth_for_odds_m(&needed_each, &weights, odds).filter(|depth| *depth <= DEEPEST_M);
    let cases = grounds.cases(depth_m);
    let by = |of: &dyn Fn(usize) -> usize| -> Vec<usize> { (0..count).map(of).collect() };
    let tops = |at: usize| {
        usize::from(grounds.top_m(at / VERY_FINE_SHARES.len()) > 0.25)
            + usize::from(grounds.top_m(at / VERY_FINE_SHARES.len()) > 0.18)
    };
    let mut looks: Vec<LookHelps> = [
        (Look::TextureAtTheFoot, by(&|at| usize::from(cases[at].class.number()))),
        (Look::WaterInTheHole, by(&|at| usize::from(cases[at].below_water))),
        (Look::DepthOfLooseGround, by(&tops)),
    ]
    .into_iter()
    .map(|(look, groups)| LookHelps {
        look,
        words: look.words(),
        wrong_after: doubt_after(&truths, &weights, &groups),
    })
    .collect();
    looks.sort_by(|a, b| a.wrong_after.total_cmp(&b.wrong_after));
    DepthAdvice {
        push: push.clone(),
        depth_m,
        suffices,
        enough: suffices >= 0.5,
        firmness: Firmness::of(suffices.max(1.0 - suffices)),
        needed_m: Spread::of(&needed_each, &weights),
        never: share(&needed_each, |needed| *needed > DEEPEST_M),
        for_80_m: for_odds(0.80),
        for_90_m: for_odds(0.90),
        for_95_m: for_odds(0.95),
        wrong_now: suffices.min(1.0 - suffices),
        looks,
    }
}
