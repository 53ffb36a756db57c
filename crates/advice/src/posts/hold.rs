//! What holds a post down and upright, and the wind at which it lets go.

use book::model::PostSet;
use ground::kit::{Bounded, Spread};
use ground::posts::collar_concrete::{Bags, bags_for, collar_volume_m3};
use ground::posts::embedment::bearing_width_m;
use ground::posts::embedment_equations::capacity_free;
use ground::posts::post_uplift::{Foot, allowable_pull, concrete_weight, ground_hold};
use ground::posts::screw_anchor::anchor_pull;
use ground::posts::shaft_uplift::{ADHESION, Shaft, grip_of_clay, grip_of_sand};
use ground::posts::strength::Strength;
use ground::posts::tunnel_wind::{Holds, pressure_of_letting_go, pressure_within_margins};
use ground::posts::ultimate_lateral::ultimate_lateral;
use ground::posts::wind_pressure::speed_of_pressure;
use serde::Serialize;

use super::ask::PostAsk;
use super::load::{Spot, Windy};
use super::possible::{Case, Grounds, share};
use crate::finding::Firmness;

/// Concrete lost or left in the barrow (common practice).
const WASTE: f64 = 1.10;

/// The wind at which a post lets go.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LetsGo {
    /// Where the post stands.
    pub spot: Spot,
    /// In words.
    pub words: &'static str,
    /// Gust at which it is likely to let go, without margins, m/s.
    pub speed_m_s: Spread,
    /// Gust up to which the usual margins are kept, m/s: the one to build to.
    pub margins_until_m_s: Spread,
    /// Odds that it comes up, rather than turning over.
    pub comes_up: f64,
    /// Odds that the margins are kept in the gust of the local code; `None` where that is not known.
    pub keeps_margins: Option<f64>,
    /// Odds that it lets go in that gust.
    pub lets_go_in_it: Option<f64>,
    /// How surely the margins are kept, or are not.
    pub firmness: Option<Firmness>,
}

/// One way to set the post, compared with the others.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FootCompared {
    /// How it is set.
    pub set: PostSet,
    /// In words.
    pub words: &'static str,
    /// Is it the one that was chosen?
    pub chosen: bool,
    /// Diameter of collar, bell or helix, m.
    pub wide_m: f64,
    /// Depth, m.
    pub depth_m: f64,
    /// Weight of its concrete, kN.
    pub weight_kn: f64,
    /// Pull at which it comes up, kN.
    pub comes_up_kn: Spread,
    /// Pull that may be counted on, kN.
    pub counted_kn: Spread,
    /// Gust at which it lets go where wind pulls hardest on a post along the side, m/s.
    pub lets_go_m_s: Option<Spread>,
    /// Concrete for one post, m³.
    pub concrete_m3: f64,
    /// Bags for one post, by size.
    pub bags: Vec<Bags>,
}

/// Concrete for all posts.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Concrete {
    /// How many posts; one where nobody said how many stand.
    pub posts: u32,
    /// Are they counted from length and spacing?
    pub counted: bool,
    /// Concrete in one hole, m³.
    pub each_m3: f64,
    /// For all, with a tenth of waste, m³.
    pub total_m3: f64,
    /// Bags for one, each bought and mixed for itself.
    pub each_bags: Vec<Bags>,
    /// Bags for all.
    pub total_bags: Vec<Bags>,
}

/// A way to set a post, with its sizes.
#[derive(Debug, Clone, Copy)]
struct Way {
    set: PostSet,
    width_m: f64,
    wide_m: f64,
    shaft_m: f64,
    depth_m: f64,
}

impl Way {
    fn of(ask: &PostAsk, set: PostSet) -> Self {
        let width_m = ask.post.width_mm.get() / 1000.0;
        let (wide_m, shaft_m) = match set {
            PostSet::Driven | PostSet::Tamped => (width_m, width_m),
            PostSet::Collar => (ask.collar_m(), ask.collar_m()),
            PostSet::Belled => (ask.bell_m(), ask.collar_m()),
            PostSet::ScrewAnchor => (ask.helix_m(), width_m),
        };
        Self { set, width_m, wide_m, shaft_m, depth_m: ask.depth_m().0 }
    }

    fn foot(self) -> Option<Foot> {
        match self.set {
            PostSet::Driven => Some(Foot::Driven { width_m: self.width_m }),
            PostSet::Collar => Some(Foot::Collar { width_m: self.wide_m }),
            PostSet::Belled => Some(Foot::Belled { bell_m: self.wide_m, shaft_m: self.shaft_m }),
            PostSet::Tamped | PostSet::ScrewAnchor => None,
        }
    }

    fn weight_kn(self, below_water: bool) -> f64 {
        self.foot().map_or(0.0, |foot| concrete_weight(foot, self.depth_m, below_water))
    }

    /// What the ground adds at most, kN.
    fn ground_kn(self, case: &Case) -> f64 {
        if !case.bears {
            return 0.0;
        }
        let ground = case.strength();
        match (self.foot(), ground) {
            (Some(foot), _) => ground_hold(foot, self.depth_m, case.top_m, ground).0,
            (None, _) if self.set == PostSet::ScrewAnchor => {
                anchor_pull(&[(self.wide_m, self.depth_m)], ground)
            }
            // Ground put back presses less than ground a post was driven into, and grips steel or wood all the same.
            (None, Strength::Sand { unit_weight_kn_m3, friction_degrees }) => grip_of_sand(
                self.width_m,
                self.depth_m,
                case.top_m,
                Shaft::Bored.earth_pressure(),
                Shaft::Driven.friction(friction_degrees),
                unit_weight_kn_m3,
            ),
            (None, Strength::Clay { undrained_kpa, .. }) => {
                grip_of_clay(self.width_m, self.depth_m, case.top_m, ADHESION, undrained_kpa)
            }
        }
    }

    fn holds(self, ask: &PostAsk, case: &Case, windy: &Windy) -> Holds {
        let weight = self.weight_kn(case.below_water);
        let ground = self.ground_kn(case);
        let collar = self.set.takes_concrete().then_some(self.shaft_m);
        let width = bearing_width_m(ask.post.section, self.width_m, collar);
        let counted = if case.bears { (self.depth_m - case.top_m).max(0.0) } else { 0.0 };
        let height = windy.height_m + case.top_m;
        // A floor at the ground takes the push; what then decides is the pull.
        // In clay the equation itself leaves out the top one and a half widths: the two are not left out twice.
        let lost = match case.strength() {
            Strength::Clay { .. } => (case.top_m - 1.5 * width).max(0.0),
            Strength::Sand { .. } => case.top_m,
        };
        let standing = if case.bears { (self.depth_m - lost).max(0.0) } else { 0.0 };
        let (allowable, ultimate) = if ask.post.rigid_floor {
            (None, None)
        } else {
            (
                Some(capacity_free(counted, height, width, case.bearing_kpa_m(ask.post.movement_harmless))),
                Some(ultimate_lateral(standing, windy.height_m + lost, width, case.strength())),
            )
        };
        Holds {
            up_allowable_kn: allowable_pull(weight, ground),
            up_ultimate_kn: weight + ground,
            sideways_allowable_kn: allowable,
            sideways_ultimate_kn: ultimate,
            dead_kn: windy.dead_kn,
        }
    }

    fn speeds(self, ask: &PostAsk, cases: &[Case], windy: &Windy) -> Vec<(f64, f64, bool)> {
        cases
            .iter()
            .map(|case| {
                let holds = self.holds(ask, case, windy);
                let (go, up) = pressure_of_letting_go(windy.demand, &holds);
                let (margins, _) = pressure_within_margins(windy.demand, &holds);
                (speed_of_pressure(go, windy.kz, 1.0), speed_of_pressure(margins, windy.kz, 1.0), up)
            })
            .collect()
    }
}

fn spread(values: impl Iterator<Item = f64>) -> Option<Spread> {
    let mut values: Vec<f64> = values.filter(|value| value.is_finite()).collect();
    Spread::of_equal(&mut values)
}

/// The wind at which the post lets go, place by place.
pub(super) fn lets_go(ask: &PostAsk, cases: &[Case], windy: &[Windy]) -> Vec<LetsGo> {
    let way = Way::of(ask, ask.post.set);
    windy
        .iter()
        .filter_map(|one| {
            let speeds = way.speeds(ask, cases, one);
            let keeps = ask.wind_m_s.map(|code| share(&speeds, |(_, margins, _)| *margins >= code));
            Some(LetsGo {
                spot: one.spot,
                words: one.spot.words(),
                speed_m_s: spread(speeds.iter().map(|one| one.0))?,
                margins_until_m_s: spread(speeds.iter().map(|one| one.1))?,
                comes_up: share(&speeds, |one| one.2),
                keeps_margins: keeps,
                lets_go_in_it: ask.wind_m_s.map(|code| share(&speeds, |(go, ..)| *go < code)),
                firmness: keeps.map(|odds| Firmness::of(odds.max(1.0 - odds))),
            })
        })
        .collect()
}

/// The ways to set this post, side by side.
pub(super) fn feet(ask: &PostAsk, grounds: &Grounds, windy: &[Windy]) -> Vec<FootCompared> {
    let mut sets = vec![PostSet::Driven, PostSet::Collar, PostSet::Belled, PostSet::ScrewAnchor];
    if !sets.contains(&ask.post.set) {
        sets.insert(1, ask.post.set);
    }
    let cases = grounds.cases(ask.depth_m().0);
    sets.into_iter()
        .filter_map(|set| {
            let way = Way::of(ask, set);
            let pulls = |of: &dyn Fn(&Case) -> f64| spread(cases.iter().map(of));
            let concrete_m3 = concrete_of(ask, way);
            Some(FootCompared {
                set,
                words: set.words(),
                chosen: set == ask.post.set,
                wide_m: way.wide_m,
                depth_m: way.depth_m,
                weight_kn: way.weight_kn(false),
                comes_up_kn: pulls(&|case| way.weight_kn(case.below_water) + way.ground_kn(case))?,
                counted_kn: pulls(&|case| {
                    allowable_pull(way.weight_kn(case.below_water), way.ground_kn(case))
                })?,
                lets_go_m_s: windy
                    .first()
                    .and_then(|one| spread(way.speeds(ask, &cases, one).iter().map(|speed| speed.0))),
                concrete_m3,
                bags: if concrete_m3 > 0.0 { bags_for(WASTE * concrete_m3) } else { Vec::new() },
            })
        })
        .collect()
}

fn concrete_of(ask: &PostAsk, way: Way) -> f64 {
    if !way.set.takes_concrete() {
        return 0.0;
    }
    let shaft = collar_volume_m3(way.shaft_m, way.depth_m, Some((ask.post.section, way.width_m)));
    if way.set == PostSet::Collar {
        return shaft;
    }
    // A bell is dug as a cone as high as it is wider than the shaft: 45 degrees.
    let (bell, narrow) = (way.wide_m / 2.0, way.shaft_m / 2.0);
    let high = (bell - narrow).min(way.depth_m);
    let cone = std::f64::consts::PI * high / 3.0 * (bell * bell + bell * narrow + narrow * narrow);
    shaft + (cone - std::f64::consts::PI * narrow * narrow * high).max(0.0)
}

/// Concrete for all posts of the structure; nothing where none is poured.
pub(super) fn concrete(ask: &PostAsk) -> Option<Concrete> {
    let each_m3 = concrete_of(ask, Way::of(ask, ask.post.set));
    if each_m3 <= 0.0 {
        return None;
    }
    let count = ask.count();
    let posts = count.unwrap_or(1);
    let total_m3 = WASTE * f64::from(posts) * each_m3;
    Some(Concrete {
        posts,
        counted: count.is_some(),
        each_m3,
        total_m3,
        each_bags: bags_for(WASTE * each_m3),
        total_bags: bags_for(total_m3),
    })
}
