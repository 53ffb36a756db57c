//! The plan in whole bags as a method of the handbook.

use std::ops::ControlFlow;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::carried::Carried;
use super::plan::{PlanStatus, Planned};
use super::problem::{
    BedAreaM2, BedNeed, BlendBed, BlendMaterial, BlendProblem, ContentKgKg, GapPercent, Kilograms, PackKg,
    Price,
};
use super::program::Progress;
use super::search::whole_bag_plan;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Input of `whole-bag-plan`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WholeBagInput {
    /// Materials, in hand or to be bought.
    pub materials: Vec<BlendMaterial>,
    /// Beds.
    pub beds: Vec<BlendBed>,
    /// How near to the least possible cost is good enough; 0.5 % without it.
    #[serde(default = "usual_gap")]
    pub gap_percent: GapPercent,
}

fn usual_gap() -> GapPercent {
    GapPercent::literal(0.5)
}

/// Output of `whole-bag-plan`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WholeBagOutput {
    /// What came of it.
    pub planned: Planned,
}

/// The plan in whole bags.
pub struct WholeBagPlan;

/// Nodes after which the method ends with the best it has: it has no clock to go by.
const MOST_NODES: u64 = 40_000;

impl Method for WholeBagPlan {
    type Input = WholeBagInput;
    type Output = WholeBagOutput;

    const CARD: Card = Card {
        name: "whole-bag-plan",
        title: "The cheapest plan in whole bags",
        topic: Topic::Fertility,
        computes: "What to spread on each of many beds and how many whole bags and loads to buy, so that every bed gets \
                   what it needs at least cost, with what is in hand used first. It states how much cheaper a plan could \
                   be at most. Where needs clash it says which, and the fewest that must give way.",
        validity: &[
            "Beds with the same needs for each square metre get the same mixture.",
            "Contents of manures and composts differ by a factor of two: a plan is as good as their analysis.",
        ],
        sources: &[Cite::new("HuangfuHall2018", "as the reference the tests compare with")],
        cautions: &[
            "Never mix lime or ash with ammonium fertilizer, urea or manure: ammonia escapes.",
            "Boron is broadcast, never banded, and weighed in ounces.",
        ],
    };

    fn example() -> Self::Input {
        let material =
            |name: &str, content: &[(Carried, f64)], pack: f64, price: f64, hand: f64| BlendMaterial {
                name: name.to_owned(),
                content_kg_kg: content
                    .iter()
                    .map(|&(carried, share)| (carried, ContentKgKg::literal(share)))
                    .collect(),
                pack_kg: PackKg::literal(pack),
                price_per_pack: Price::literal(price),
                in_hand_kg: Kilograms::literal(hand),
                most_packs: None,
                organic: true,
                spreading_price_per_kg: Price::literal(0.0),
            };
        let need = |carried, target: f64, most: f64| BedNeed {
            carried,
            target_kg: Kilograms::literal(target),
            at_least_kg: Some(Kilograms::literal(0.9 * target)),
            at_most_kg: Some(Kilograms::literal(most)),
            price_under_per_kg: Price::literal(4.0),
            price_over_per_kg: Price::literal(2.0),
        };
        let bed = |name: &str, area: f64, n: f64, p2o5: f64, k2o: f64| BlendBed {
            name: name.to_owned(),
            area_m2: BedAreaM2::literal(area),
            needs: vec![
                need(Carried::N, n, 1.2 * n),
                need(Carried::P2o5, p2o5, p2o5 + 0.1),
                need(Carried::K2o, k2o, 1.3 * k2o),
            ],
            organic_only: true,
            never: Vec::new(),
            most_materials: Some(4),
        };
        WholeBagInput {
            materials: vec![
                material("feather meal", &[(Carried::N, 0.09)], 22.7, 42.0, 6.0),
                material(
                    "pellets",
                    &[(Carried::N, 0.024), (Carried::P2o5, 0.03), (Carried::K2o, 0.02)],
                    22.7,
                    15.0,
                    0.0,
                ),
                material("sulfate of potash", &[(Carried::K2o, 0.5)], 22.7, 38.0, 0.0),
            ],
            beds: vec![bed("North 1", 28.0, 0.35, 0.1, 0.4), bed("North 2", 28.0, 0.25, 0.0, 0.3)],
            gap_percent: usual_gap(),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let problem = BlendProblem { materials: input.materials.clone(), beds: input.beds.clone() };
        let mut ask = |progress: &Progress| {
            if progress.nodes < MOST_NODES { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
        };
        let planned = whole_bag_plan(&problem, input.gap_percent, &mut ask)?;
        let notes = match &planned {
            Planned::Plan(plan) if plan.status == PlanStatus::EndedEarly => vec![Note::new(
                NoteKind::Method,
                format!(
                    "The search was ended; a plan could be cheaper by {:.1} % at most.",
                    plan.gap_percent
                ),
            )],
            Planned::Nothing => {
                vec![Note::new(NoteKind::NoValue, "No plan was found before the search was ended.")]
            }
            _ => Vec::new(),
        };
        Ok(Answer::with_notes(WholeBagOutput { planned }, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let plan = match &answer.value.planned {
            Planned::Plan(plan) => plan,
            Planned::Conflicts(conflicts) => {
                return conflicts.iter().fold(Working::new(), |working, conflict| {
                    working.step(
                        "why there is no plan",
                        "every need between its least and its most",
                        "",
                        &conflict.words,
                    )
                });
            }
            Planned::Nothing => return Working::new(),
        };
        let start = Working::new()
            .step(
                "the cost",
                "least Σ packs × price + Σ kg × price of spreading + Σ kg short or over × its price",
                format!("{:.2} for packs", plan.to_pay),
                format!("{:.2}, and no plan costs less than {:.2}", plan.cost, plan.lower_bound),
            )
            .cite(Self::CARD.sources[0]);
        plan.materials.iter().fold(start, |working, material| {
            working.step(
                material.name.clone(),
                "whole packs for what is used beyond what is in hand",
                format!("{:.2} kg used, {:.2} kg of it in hand", material.used_kg, material.from_hand_kg),
                format!("{} to buy, {:.2} kg left", material.packs, material.left_kg),
            )
        })
    }
}
