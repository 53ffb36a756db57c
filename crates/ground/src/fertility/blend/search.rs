//! The search for the cheapest plan in whole packs.
//!
//! The limit on the number of materials a bed gets would cost a yes-or-no variable for every bed and
//! material, and few beds break it when it is left out. So the program is solved without it, which bounds
//! every plan from below; beds that break it lose the materials that matter least; and only where that is
//! not near enough to the bound does the limit enter the program, for the beds that break it.

use std::ops::ControlFlow;

use super::give_way::{self, Conflict};
use super::plan::{BlendPlan, Planned};
use super::prepared::{Group, Prepared};
use super::problem::{BlendProblem, GapPercent};
use super::program::{Program, Progress, Rule, View, Watch, near};
use crate::kit::{Bounded, Refusal};

/// Materials that meet the needs of all beds at least cost, in whole packs.
///
/// `gap`: how near to the least possible cost is good enough; the search goes on a while to find the very
/// best. `ask` is told from time to time how far the search has come and says whether to go on; when it
/// breaks off, the best plan so far is given with its gap. Refused: a question that contradicts itself.
pub fn whole_bag_plan(
    problem: &BlendProblem,
    gap: GapPercent,
    ask: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> Result<Planned, Refusal> {
    problem.check()?;
    let prepared = Prepared::of(problem);
    let gap = gap.get() / 100.0;
    let mut watch = Watch::new(ask);
    let found = search(&prepared, gap, &mut watch);
    Ok(match found {
        Found::Plan { amounts, bound } => {
            Planned::Plan(BlendPlan::of(problem, &prepared, &amounts, bound, gap, watch.nodes))
        }
        Found::Nothing => Planned::Nothing,
        Found::Infeasible { limited } => {
            let conflicts: Vec<Conflict> = give_way::conflicts(problem, &prepared, limited, &mut watch);
            if conflicts.is_empty() { Planned::Nothing } else { Planned::Conflicts(conflicts) }
        }
    })
}

enum Found {
    Plan { amounts: Vec<Vec<f64>>, bound: f64 },
    Infeasible { limited: bool },
    Nothing,
}

fn search(prepared: &Prepared, gap: f64, watch: &mut Watch<'_>) -> Found {
    let mut limited = vec![false; prepared.groups.len()];
    let free = Program::whole_packs(prepared, &View { allowed: None, limited: &limited })
        .run(Rule { gap, patience: 2_000, most: 60_000 }, watch);
    if free.infeasible {
        return Found::Infeasible { limited: false };
    }
    let (Some(start), Some(mut bound)) = (free.amounts, free.bound) else { return Found::Nothing };
    watch.bound = Some(bound);
    if crowded(prepared, &start).is_empty() {
        return Found::Plan { amounts: start, bound };
    }
    let mut best: Option<Vec<Vec<f64>>> = None;
    consider(prepared, &mut best, thin(prepared, &start, gap, watch), watch);
    let mut latest = start;
    for _ in 0..8 {
        let near_enough = best.as_ref().is_some_and(|best| near(prepared.cost(best), bound, gap));
        if near_enough || watch.stopped {
            break;
        }
        let over = crowded(prepared, &latest);
        if over.iter().all(|&at| limited[at]) && limited.contains(&true) {
            break;
        }
        for at in over {
            limited[at] = true;
        }
        let run = Program::whole_packs(prepared, &View { allowed: None, limited: &limited })
            .run(Rule { gap: gap / 2.0, patience: 0, most: 6_000 }, watch);
        if run.infeasible {
            return if best.is_some() { Found::Nothing } else { Found::Infeasible { limited: true } };
        }
        if let Some(higher) = run.bound {
            bound = bound.max(higher);
            watch.bound = Some(bound);
        }
        let Some(amounts) = run.amounts else { break };
        let fitting = if crowded(prepared, &amounts).is_empty() {
            Some(amounts.clone())
        } else {
            thin(prepared, &amounts, gap, watch)
        };
        consider(prepared, &mut best, fitting, watch);
        latest = amounts;
    }
    match best {
        Some(amounts) => Found::Plan { amounts, bound },
        None if watch.stopped => Found::Nothing,
        None => Found::Infeasible { limited: true },
    }
}

fn consider(
    prepared: &Prepared,
    best: &mut Option<Vec<Vec<f64>>>,
    amounts: Option<Vec<Vec<f64>>>,
    watch: &mut Watch<'_>,
) {
    let Some(amounts) = amounts else { return };
    let cost = prepared.cost(&amounts);
    if best.as_ref().is_none_or(|best| cost < prepared.cost(best)) {
        watch.best = Some(cost);
        *best = Some(amounts);
    }
}

fn support(amounts: &[f64]) -> Vec<usize> {
    (0..amounts.len()).filter(|&place| amounts[place] > 0.0).collect()
}

/// Groups with more materials than they may have.
fn crowded(prepared: &Prepared, amounts: &[Vec<f64>]) -> Vec<usize> {
    (0..prepared.groups.len())
        .filter(|&at| {
            prepared.groups[at].most_materials.is_some_and(|most| support(&amounts[at]).len() > most)
        })
        .collect()
}

/// Takes materials away from crowded beds, those that matter least, until all beds fit.
fn thin(prepared: &Prepared, start: &[Vec<f64>], gap: f64, watch: &mut Watch<'_>) -> Option<Vec<Vec<f64>>> {
    let mut allowed: Vec<Vec<bool>> =
        prepared.groups.iter().map(|group| vec![true; group.usable.len()]).collect();
    let none_limited = vec![false; prepared.groups.len()];
    let mut amounts = start.to_vec();
    for _ in 0..12 {
        let over = crowded(prepared, &amounts);
        if over.is_empty() {
            return Some(amounts);
        }
        let prices = prices(prepared, &amounts);
        for at in over {
            allowed[at] = fewer(&prepared.groups[at], &amounts[at], &prices, watch)?;
        }
        let run = Program::whole_packs(prepared, &View { allowed: Some(&allowed), limited: &none_limited })
            .run(Rule { gap: gap / 4.0, patience: 300, most: 3_000 }, watch);
        amounts = run.amounts?;
        if watch.stopped && !crowded(prepared, &amounts).is_empty() {
            return None;
        }
    }
    None
}

/// What another kg of each material is worth: its price, half of that where a bag is open anyway.
fn prices(prepared: &Prepared, amounts: &[Vec<f64>]) -> Vec<f64> {
    let used = prepared.used(amounts);
    (0..used.len())
        .map(|at| {
            let supply = &prepared.supplies[at];
            let left = supply.in_hand_kg + prepared.packs(at, used[at]) * supply.pack_kg - used[at];
            let share = if left > 0.01 * supply.pack_kg { 0.5 } else { 1.0 };
            share * supply.price / supply.pack_kg + supply.spreading_price
        })
        .collect()
}

/// The materials of a crowded group that are kept: one after the other, the one is dropped without which
/// the group does best.
fn fewer(group: &Group, amounts: &[f64], prices: &[f64], watch: &mut Watch<'_>) -> Option<Vec<bool>> {
    let most = group.most_materials?;
    let mut kept = support(amounts);
    while kept.len() > most {
        let mut least: Option<(f64, usize)> = None;
        for &drop in &kept {
            let allowed: Vec<bool> =
                (0..amounts.len()).map(|place| place != drop && kept.contains(&place)).collect();
            let price = |place: usize| prices[group.usable[place]];
            let run = Program::alone(group, Some(&allowed), price, None).run(Rule::ONCE, watch);
            if let Some(cost) = run.bound.filter(|_| run.amounts.is_some())
                && least.is_none_or(|(best, _)| cost < best)
            {
                least = Some((cost, drop));
            }
        }
        let (_, drop) = least?;
        kept.retain(|&place| place != drop);
    }
    Some((0..amounts.len()).map(|place| kept.contains(&place)).collect())
}
