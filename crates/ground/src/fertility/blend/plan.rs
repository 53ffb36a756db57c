//! The answer: what to spread on each bed, what to buy, and how near that is to the least cost.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::carried::Carried;
use super::give_way::Conflict;
use super::prepared::Prepared;
use super::problem::BlendProblem;
use crate::kit::Bounded;

/// How good a plan is known to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PlanStatus {
    /// No plan costs less.
    ProvenOptimal,
    /// Within the stated gap of the least possible cost.
    WithinGap,
    /// The search was ended before the gap was as small as asked for; the gap says how far it may be.
    EndedEarly,
}

/// A material on a bed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Spread {
    /// Name of the material.
    pub material: String,
    /// For the whole bed.
    pub kg: f64,
}

/// How what is brought stands to what was asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// At the target, or below a mere limit.
    Met,
    /// Short of the target, within what is accepted.
    Short,
    /// Beyond the target, within what is accepted.
    Over,
}

/// What a plan brings to a bed of one thing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Brought {
    /// What.
    pub carried: Carried,
    /// Brought, kg.
    pub kg: f64,
    /// Wanted, kg.
    pub target_kg: f64,
    /// Least accepted, kg.
    pub at_least_kg: f64,
    /// Most accepted, kg.
    pub at_most_kg: Option<f64>,
    /// How it stands.
    pub standing: Standing,
    /// Whether it lies on a limit and so shapes the plan.
    pub binds: bool,
}

/// One bed of a plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BedPlan {
    /// Name of the bed.
    pub name: String,
    /// What to spread, heaviest first.
    pub spread: Vec<Spread>,
    /// What that brings.
    pub brought: Vec<Brought>,
}

/// One material of a plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MaterialPlan {
    /// Name of the material.
    pub name: String,
    /// Spread on all beds together, kg.
    pub used_kg: f64,
    /// Of that, what lies in the shed already, kg.
    pub from_hand_kg: f64,
    /// Packs to buy.
    pub packs: u32,
    /// Price of these.
    pub price: f64,
    /// What goes back on the shelf, kg.
    pub left_kg: f64,
}

/// A plan for all beds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BlendPlan {
    /// How good it is known to be.
    pub status: PlanStatus,
    /// How much cheaper a plan could be at most, in % of this one's cost.
    pub gap_percent: f64,
    /// All that counts: packs, spreading, and what falls short or runs over.
    pub cost: f64,
    /// No plan costs less.
    pub lower_bound: f64,
    /// Money for packs.
    pub to_pay: f64,
    /// Each bed.
    pub beds: Vec<BedPlan>,
    /// Each material that is used.
    pub materials: Vec<MaterialPlan>,
    /// Nodes of the search tree looked at.
    pub nodes: u64,
}

/// What came of a question.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Planned {
    /// A plan.
    Plan(BlendPlan),
    /// Needs that cannot be kept together, with the fewest that must give way.
    Conflicts(Vec<Conflict>),
    /// Ended before a plan was found.
    Nothing,
}

impl BlendPlan {
    /// The plan of `amounts` by group and place.
    pub(super) fn of(
        problem: &BlendProblem,
        prepared: &Prepared,
        amounts: &[Vec<f64>],
        bound: f64,
        gap_wanted: f64,
        nodes: u64,
    ) -> Self {
        let cost = prepared.cost(amounts);
        // The solver's bound carries its tolerance; a plan is never below what it cannot beat.
        let lower_bound = bound.min(cost);
        let gap = if cost.abs() < 1e-9 { 0.0 } else { (cost - lower_bound) / cost };
        let status = match gap {
            gap if gap <= 1e-6 => PlanStatus::ProvenOptimal,
            gap if gap <= gap_wanted => PlanStatus::WithinGap,
            _ => PlanStatus::EndedEarly,
        };
        let used = prepared.used(amounts);
        let materials: Vec<_> = (0..used.len())
            .filter(|&at| used[at] > 0.0)
            .map(|at| {
                let supply = &prepared.supplies[at];
                let packs = prepared.packs(at, used[at]);
                MaterialPlan {
                    name: problem.materials[at].name.clone(),
                    used_kg: used[at],
                    from_hand_kg: used[at].min(supply.in_hand_kg),
                    packs: packs as u32,
                    price: packs * supply.price,
                    left_kg: (supply.in_hand_kg + packs * supply.pack_kg - used[at]).max(0.0),
                }
            })
            .collect();
        Self {
            status,
            gap_percent: 100.0 * gap,
            cost,
            lower_bound,
            to_pay: materials.iter().map(|material| material.price).sum(),
            beds: beds(problem, prepared, amounts),
            materials,
            nodes,
        }
    }
}

fn beds(problem: &BlendProblem, prepared: &Prepared, amounts: &[Vec<f64>]) -> Vec<BedPlan> {
    let mut plans: Vec<Option<BedPlan>> = vec![None; problem.beds.len()];
    for (group, amounts) in prepared.groups.iter().zip(amounts) {
        for &(at, share) in &group.beds {
            let bed = &problem.beds[at];
            let mut spread: Vec<_> = group
                .usable
                .iter()
                .zip(amounts)
                .filter(|(_, kg)| **kg > 0.0)
                .map(|(&material, kg)| Spread {
                    material: problem.materials[material].name.clone(),
                    kg: kg * share,
                })
                .collect();
            spread.sort_by(|a, b| b.kg.total_cmp(&a.kg));
            let brought = bed
                .needs
                .iter()
                .map(|need| {
                    let row = group.rows.iter().find(|row| row.carried == need.carried);
                    let kg = row.map_or(0.0, |row| row.brought(amounts)) * share;
                    brought(need.carried, kg, need.target_kg.get(), need.low_kg(), need.high_kg())
                })
                .collect();
            plans[at] = Some(BedPlan { name: bed.name.clone(), spread, brought });
        }
    }
    plans.into_iter().flatten().collect()
}

fn brought(carried: Carried, kg: f64, target_kg: f64, at_least_kg: f64, at_most_kg: Option<f64>) -> Brought {
    let close = 1e-5 * target_kg.max(at_most_kg.unwrap_or(0.0)).max(1e-6);
    let standing = if kg < target_kg - close {
        Standing::Short
    } else if target_kg > 0.0 && kg > target_kg + close {
        Standing::Over
    } else {
        Standing::Met
    };
    let on_low = at_least_kg > 0.0 && kg <= at_least_kg + close;
    let on_high = at_most_kg.is_some_and(|high| kg >= high - close);
    Brought { carried, kg, target_kg, at_least_kg, at_most_kg, standing, binds: on_low || on_high }
}
