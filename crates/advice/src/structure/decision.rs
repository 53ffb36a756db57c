//! Loosen or not: the rule of `loosening-decision` put to every state that the ground may be in.

use book::model::seen::Sign;
use ground::kit::chance::{Chance, Fingerprint};
use ground::structure::loosening::decide::{Decision, Facts, Loosening, Tool, decide};
use ground::structure::loosening::tine::spacing_cm;
use ground::structure::probe::pan::Compaction;
use ground::structure::probe::transect::BELOW_THE_PAN_CM;
use ground::structure::root_limits::{RootLimits, RootRating};
use ground::structure::working::ball::{Handful, by_ball};
use ground::texture::{Class, Composition};
use jiff::civil::Date;
use serde::Serialize;

use super::readings::Readings;
use crate::facts::SeenSign;
use crate::finding::Firmness;

/// Reach of an ordinary broadfork, cm: 14 in (common practice, no source).
pub const USUAL_BROADFORK_CM: f64 = 35.6;
/// A handful older than this says nothing of today, days.
const HANDFUL_HOLDS_D: i32 = 3;
/// Water that stood longer than this asks for drainage first, days.
const STANDS_FROM_D: f64 = 1.0;

/// The tools at hand.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Tools {
    /// Depth that the broadfork reaches.
    pub broadfork_cm: Option<f64>,
    /// Depth that shanks behind a tractor reach.
    pub subsoiler_cm: Option<f64>,
}

impl Default for Tools {
    fn default() -> Self {
        Self { broadfork_cm: Some(USUAL_BROADFORK_CM), subsoiler_cm: None }
    }
}

/// One state that the ground may be in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Possible {
    /// Sand, silt and clay.
    pub soil: Composition,
    /// Its class.
    pub class: Class,
    /// Density of its fine earth as the plot's evidence has it, g/cm³.
    pub density_g_cm3: f64,
}

/// What is known for the decision beside the make-up.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Known {
    /// Pushes that were stopped and pushes in all, where the ground was moist enough.
    pub stopped_of: Option<(usize, usize)>,
    /// Mean density of cores and its standard error, g/cm³.
    pub cores_g_cm3: Option<(f64, f64)>,
    /// Was the packing of the plot told in any other way?
    pub packing_told: bool,
    /// Depth at which the hard layer ends in the deepest push, cm.
    pub pan_bottom_cm: Option<f64>,
    /// Does the spade, or a sign seen, confirm a hard layer?
    pub spade_confirms: Option<bool>,
    /// Does water stand for more than a day?
    pub water_stands: Option<bool>,
    /// What a handful did these days.
    pub handful: Option<Handful>,
    /// The tools at hand.
    pub tools: Tools,
}

impl Known {
    /// From the readings and signs of a plot. Without a day no handful counts, as it speaks of its own days alone.
    #[must_use]
    pub fn of(
        readings: &Readings,
        signs: &[SeenSign],
        packing_told: bool,
        tools: Tools,
        today: Option<Date>,
    ) -> Self {
        let transect = readings.transect();
        let roots_turn = signs.iter().any(|seen| matches!(seen.sign, Sign::RootsTurn { .. }));
        let stood = signs.iter().find_map(|seen| match seen.sign {
            Sign::StandingWater { days } => Some(ground::kit::Bounded::get(days) > STANDS_FROM_D),
            _ => None,
        });
        let handful = today.and_then(|today| {
            let last = readings.handfuls.last()?;
            let days = today.since(last.on).ok()?.get_days();
            (0..=HANDFUL_HOLDS_D).contains(&days).then_some(last.handful)
        });
        Self {
            stopped_of: transect.filter(|one| one.comparable).map(|one| (one.stopped, one.pushes)),
            cores_g_cm3: readings.cores.last().map(|cores| (cores.mean_g_cm3, cores.error_g_cm3)),
            packing_told,
            pan_bottom_cm: transect
                .and_then(|one| one.found.working_depth_cm)
                .map(|depth| depth - BELOW_THE_PAN_CM),
            spade_confirms: readings
                .telling_block()
                .map_or_else(|| roots_turn.then_some(true), |block| block.confirms),
            water_stands: stood,
            handful,
            tools,
        }
    }
}

/// One outcome with its odds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Outcome {
    /// What to do.
    pub what: Loosening,
    /// Odds, 0 to 1.
    pub odds: f64,
}

/// The decision over everything that the ground may be.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Decided {
    /// What to do: the outcome of most weight.
    pub what: Loosening,
    /// Its odds.
    pub odds: f64,
    /// How surely it holds.
    pub firmness: Firmness,
    /// Every outcome, likeliest first.
    pub outcomes: Vec<Outcome>,
    /// With what, also where it waits.
    pub tool: Option<Tool>,
    /// How deep.
    pub depth_cm: Option<f64>,
    /// Least and greatest distance between lifts or shanks.
    pub spacing_cm: Option<(f64, f64)>,
    /// Odds that the ground is compacted so far that loosening may pay, where anything tells of it.
    pub hard_odds: Option<f64>,
}

/// What another reading would change.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WouldSettle {
    /// Key of the form that records it.
    pub reading: &'static str,
    /// What it is, in words.
    pub words: &'static str,
    /// Hands-on minutes.
    pub minutes: u32,
    /// Each answer, and what would then be done.
    pub then: Vec<Then>,
}

/// One answer of a reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Then {
    /// The answer.
    pub answer: &'static str,
    /// What would then be done.
    pub what: Loosening,
    /// Odds of it.
    pub odds: f64,
}

/// Puts the rule to every state. The seed is the evidence itself, so that the same book decides alike.
#[must_use]
pub fn decided(possible: &[Possible], weights: &[f64], known: &Known) -> Decided {
    let mut chance = Chance::new(seed(known));
    let shares = known.stopped_of.map(|(stopped, pushes)| ShareOdds::of(stopped, pushes));
    let mut totals: Vec<(Loosening, f64)> = Vec::new();
    let mut best: Vec<(Loosening, Decision)> = Vec::new();
    let mut hard = 0.0;
    for (state, weight) in possible.iter().zip(weights) {
        let (share, normal) = (chance.uniform(), chance.normal());
        let compaction = shares.as_ref().map(|shares| Compaction::of_share(shares.at(share)));
        let density = rating(state, known, normal);
        if compaction.is_some_and(Compaction::loosening_may_pay) || density == Some(RootRating::Restricts) {
            hard += weight;
        }
        let decision = decide(&Facts {
            class: state.class,
            compaction,
            density,
            pan_bottom_cm: known.pan_bottom_cm,
            spade_confirms: known.spade_confirms,
            water_stands: known.water_stands,
            moisture: known.handful.map(|handful| by_ball(handful, Some(state.class))),
            broadfork_cm: known.tools.broadfork_cm,
            subsoiler_cm: known.tools.subsoiler_cm,
        });
        match totals.iter_mut().find(|(what, _)| *what == decision.what) {
            Some((_, odds)) => *odds += weight,
            None => {
                totals.push((decision.what, *weight));
                best.push((decision.what, decision));
            }
        }
    }
    totals.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    let (what, odds) = totals.first().copied().unwrap_or((Loosening::MeasureFirst, 1.0));
    let lead = best.iter().find(|(one, _)| *one == what).map(|(_, decision)| *decision);
    let (tool, depth_cm) = lead.map_or((None, None), |lead| (lead.tool, lead.depth_cm));
    let tells = known.stopped_of.is_some() || known.cores_g_cm3.is_some() || known.packing_told;
    Decided {
        what,
        odds: odds.clamp(0.0, 1.0),
        firmness: surely(what, odds, known),
        outcomes: totals
            .iter()
            .map(|(what, odds)| Outcome { what: *what, odds: odds.clamp(0.0, 1.0) })
            .collect(),
        tool,
        depth_cm,
        spacing_cm: tool.zip(depth_cm).map(|(tool, depth)| spacing_cm(tool, false, depth)),
        hard_odds: tells.then_some(hard.clamp(0.0, 1.0)),
    }
}

/// Iron is never firm while nobody has looked whether water stands: that would come first.
fn surely(what: Loosening, odds: f64, known: &Known) -> Firmness {
    let iron = matches!(what, Loosening::Loosen | Loosening::WaitUntilDrier | Loosening::WaitUntilMoister);
    match Firmness::of(odds) {
        Firmness::Firm if iron && known.water_stands.is_none() => Firmness::Likely,
        firmness => firmness,
    }
}

fn rating(state: &Possible, known: &Known, normal: f64) -> Option<RootRating> {
    let density = match known.cores_g_cm3 {
        Some((mean, error)) => mean + error * normal,
        None => known.packing_told.then_some(state.density_g_cm3).filter(|density| density.is_finite())?,
    };
    Some(RootLimits::of(state.soil, state.class).rating(density))
}

fn seed(known: &Known) -> u64 {
    let mut print = Fingerprint::new();
    if let Some((stopped, pushes)) = known.stopped_of {
        print.whole(stopped as u64);
        print.whole(pushes as u64);
    }
    if let Some((mean, error)) = known.cores_g_cm3 {
        print.number(mean);
        print.number(error);
    }
    print.finish()
}

/// What share of the plot is hard, from pushes that were stopped: Jeffreys' posterior of a proportion.
struct ShareOdds {
    up_to: Vec<f64>,
}

impl ShareOdds {
    const STEPS: usize = 400;

    #[expect(clippy::cast_precision_loss, reason = "pushes by the hundred")]
    fn of(stopped: usize, pushes: usize) -> Self {
        let (hits, misses) = (stopped as f64 - 0.5, pushes as f64 - stopped as f64 - 0.5);
        let middle = |at: usize| (at as f64 + 0.5) / Self::STEPS as f64;
        let logs: Vec<f64> = (0..Self::STEPS)
            .map(|at| hits * libm::log(middle(at)) + misses * libm::log(1.0 - middle(at)))
            .collect();
        let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mut sum = 0.0;
        let mut up_to: Vec<f64> = logs
            .iter()
            .map(|log| {
                sum += libm::exp(log - most);
                sum
            })
            .collect();
        for one in &mut up_to {
            *one /= sum;
        }
        Self { up_to }
    }

    #[expect(clippy::cast_precision_loss, reason = "a few hundred steps")]
    fn at(&self, uniform: f64) -> f64 {
        let at = self.up_to.partition_point(|one| *one < uniform).min(Self::STEPS - 1);
        (at as f64 + 0.5) / Self::STEPS as f64
    }
}

/// The readings that would change what is decided, with what each answer would lead to.
#[must_use]
pub fn would_settle(
    possible: &[Possible],
    weights: &[f64],
    known: &Known,
    now: &Decided,
) -> Vec<WouldSettle> {
    let put = |answer: &'static str, known: Known| {
        let then = decided(possible, weights, &known);
        Then { answer, what: then.what, odds: then.odds }
    };
    let mut all = Vec::new();
    if known.stopped_of.is_none() {
        all.push(WouldSettle {
            reading: "probe",
            words: "a probe transect a day or two after a soaking: ten pushes or more",
            minutes: 30,
            then: vec![
                put("most pushes are stopped", Known { stopped_of: Some((9, 10)), ..*known }),
                put("none is stopped", Known { stopped_of: Some((0, 10)), ..*known }),
            ],
        });
    } else if let Some((stopped, pushes)) = known.stopped_of
        && now.firmness != Firmness::Firm
    {
        all.push(WouldSettle {
            reading: "probe",
            words: "ten more pushes of the probe",
            minutes: 20,
            then: vec![
                put(
                    "all of them are stopped",
                    Known { stopped_of: Some((stopped + 10, pushes + 10)), ..*known },
                ),
                put("none of them is stopped", Known { stopped_of: Some((stopped, pushes + 10)), ..*known }),
            ],
        });
    }
    if known.spade_confirms.is_none() {
        all.push(WouldSettle {
            reading: "spade",
            words: "a block dug with the spade where something grows",
            minutes: 15,
            then: vec![
                put("plates, or roots that turn aside", Known { spade_confirms: Some(true), ..*known }),
                put("roots go straight through", Known { spade_confirms: Some(false), ..*known }),
            ],
        });
    }
    if known.cores_g_cm3.is_none() {
        all.push(WouldSettle {
            reading: "cores",
            words: "three density cores of the hard layer",
            minutes: 40,
            then: vec![
                put("1.8 g/cm³", Known { cores_g_cm3: Some((1.8, 0.04)), ..*known }),
                put("1.2 g/cm³", Known { cores_g_cm3: Some((1.2, 0.04)), ..*known }),
            ],
        });
    }
    if known.water_stands.is_none() {
        all.push(WouldSettle {
            reading: "signs",
            words: "a look after the next hard rain: does water stand for more than a day",
            minutes: 5,
            then: vec![
                put("it stands", Known { water_stands: Some(true), ..*known }),
                put("it is gone", Known { water_stands: Some(false), ..*known }),
            ],
        });
    }
    if known.handful.is_none() {
        all.push(WouldSettle {
            reading: "working",
            words: "a handful from the hard layer on the day",
            minutes: 3,
            then: vec![
                put("it crumbles", Known { handful: Some(Handful::Shatters), ..*known }),
                put("it ribbons", Known { handful: Some(Handful::Ribbons), ..*known }),
            ],
        });
    }
    // Only what may lead to something else is worth the walk.
    all.retain(|one| one.then.iter().any(|then| then.what != now.what));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Jeffreys' posterior of 8 in 10 is Beta(8.5, 2.5): median 0.7896, 5th percentile 0.5475 (computed with scipy
    /// 1.17.1, scipy.stats.beta.ppf).
    #[test]
    fn the_share_of_the_plot_has_the_spread_of_its_posterior() {
        let shares = ShareOdds::of(8, 10);
        assert!((shares.at(0.5) - JEFFREYS_MEDIAN).abs() < 0.004, "{}", shares.at(0.5));
        assert!((shares.at(0.05) - JEFFREYS_LOW).abs() < 0.004, "{}", shares.at(0.05));
    }

    const JEFFREYS_MEDIAN: f64 = 0.7896;
    const JEFFREYS_LOW: f64 = 0.5475;
}
