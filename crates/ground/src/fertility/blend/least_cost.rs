//! The cheapest mixture for one bed, by any amounts: a linear program.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::carried::Carried;
use super::give_way::{self, Conflict};
use super::plan::{BlendPlan, Brought};
use super::prepared::Prepared;
use super::problem::{
    BedAreaM2, BedNeed, BlendBed, BlendMaterial, BlendProblem, ContentKgKg, Kilograms, PackKg, Price,
};
use super::program::{Program, Rule, Watch};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

/// A material that can be had in any amount.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LooseMaterial {
    /// Its name.
    pub name: String,
    /// What a kg of it carries, kg/kg, nitrogen as what the crop can have.
    pub content_kg_kg: BTreeMap<Carried, ContentKgKg>,
    /// Price of a kg.
    pub price_per_kg: Price,
}

/// Input of `least-cost-blend`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeastCostInput {
    /// Materials.
    pub materials: Vec<LooseMaterial>,
    /// What the mixture must bring.
    pub needs: Vec<BedNeed>,
}

/// Output of `least-cost-blend`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct LeastCostOutput {
    /// Least cost; nothing where the needs clash.
    pub cost: Option<f64>,
    /// Amounts by material, kg; all of them are listed.
    pub amounts_kg: BTreeMap<String, f64>,
    /// What they bring.
    pub brought: Vec<Brought>,
    /// The needs that clash.
    pub conflict: Option<Conflict>,
}

/// The cheapest mixture.
pub struct LeastCostBlend;

impl Method for LeastCostBlend {
    type Input = LeastCostInput;
    type Output = LeastCostOutput;

    const CARD: Card = Card {
        name: "least-cost-blend",
        title: "The cheapest mixture for one bed",
        topic: Topic::Fertility,
        computes: "The amounts of materials that bring what a bed needs at least cost, by any amounts: no whole bags, \
                   nothing in hand. Where needs clash it says which, and the fewest that must give way.",
        validity: &[
            "Prices and contents are as good as they were given; contents of manures and composts differ by a factor of two.",
            "For whole bags, several beds and what is in the shed there is the plan in whole bags.",
        ],
        sources: &[Cite::new("HuangfuHall2018", "as the reference the tests compare with")],
        cautions: &[
            "A mixture on paper is not one for a bucket: never mix lime or ash with ammonium fertilizer, urea or manure.",
        ],
    };

    fn example() -> Self::Input {
        let material = |name: &str, content: &[(Carried, f64)], price: f64| LooseMaterial {
            name: name.to_owned(),
            content_kg_kg: content
                .iter()
                .map(|&(carried, share)| (carried, ContentKgKg::literal(share)))
                .collect(),
            price_per_kg: Price::literal(price),
        };
        let need = |carried, least: f64, most: f64| BedNeed {
            carried,
            target_kg: Kilograms::literal(least),
            at_least_kg: None,
            at_most_kg: Some(Kilograms::literal(most)),
            price_under_per_kg: Price::literal(0.0),
            price_over_per_kg: Price::literal(0.0),
        };
        LeastCostInput {
            materials: vec![
                material("feather meal", &[(Carried::N, 0.09)], 1.98),
                material(
                    "pellets",
                    &[(Carried::N, 0.024), (Carried::P2o5, 0.03), (Carried::K2o, 0.02)],
                    0.66,
                ),
                material("sulfate of potash", &[(Carried::K2o, 0.5)], 1.76),
            ],
            needs: vec![
                need(Carried::N, 1.2, 1.4),
                need(Carried::P2o5, 0.3, 0.5),
                need(Carried::K2o, 1.4, 1.7),
            ],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let problem = problem(input);
        problem.check().map_err(own_field)?;
        let prepared = Prepared::of(&problem);
        let mut go_on = |_: &super::Progress| std::ops::ControlFlow::Continue(());
        let mut watch = Watch::new(&mut go_on);
        let group = &prepared.groups[0];
        let price = |place: usize| input.materials[group.usable[place]].price_per_kg.get();
        let run = Program::alone(group, None, price, None).run(Rule::ONCE, &mut watch);
        let mut amounts_kg: BTreeMap<String, f64> =
            input.materials.iter().map(|material| (material.name.clone(), 0.0)).collect();
        let (Some(amounts), Some(cost)) = (run.amounts, run.bound) else {
            let conflict = give_way::conflicts(&problem, &prepared, false, &mut watch).into_iter().next();
            return Ok(Answer::plain(LeastCostOutput {
                cost: None,
                amounts_kg,
                brought: Vec::new(),
                conflict,
            }));
        };
        let plan = BlendPlan::of(&problem, &prepared, &amounts, cost, 0.0, 0);
        for (&material, kg) in group.usable.iter().zip(&amounts[0]) {
            amounts_kg.insert(input.materials[material].name.clone(), *kg);
        }
        let brought = plan.beds.into_iter().next().map_or_else(Vec::new, |bed| bed.brought);
        Ok(Answer::plain(LeastCostOutput { cost: Some(cost), amounts_kg, brought, conflict: None }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let Some(cost) = value.cost else {
            let words = value.conflict.as_ref().map_or_else(String::new, |conflict| conflict.words.clone());
            return Working::new().step(
                "why there is none",
                "every need between its least and its most",
                "",
                words,
            );
        };
        let parts: Vec<_> = input
            .materials
            .iter()
            .filter_map(|material| {
                let kg = value.amounts_kg.get(&material.name).copied().filter(|kg| *kg > 0.0)?;
                Some(format!("{kg:.4} kg {} × {}", material.name, material.price_per_kg.get()))
            })
            .collect();
        value.brought.iter().fold(
            Working::new()
                .step(
                    "the cost",
                    "least Σ price × amount, every need kept",
                    parts.join(" + "),
                    format!("{cost:.4}"),
                )
                .cite(Self::CARD.sources[0]),
            |working, brought| {
                working.step(
                    brought.carried.words(),
                    "Σ content × amount",
                    "",
                    format!("{:.4} kg{}", brought.kg, if brought.binds { ", on a limit" } else { "" }),
                )
            },
        )
    }
}

/// As a question for one bed. Packs do not matter here.
fn problem(input: &LeastCostInput) -> BlendProblem {
    BlendProblem {
        materials: input
            .materials
            .iter()
            .map(|material| BlendMaterial {
                name: material.name.clone(),
                content_kg_kg: material.content_kg_kg.clone(),
                pack_kg: PackKg::literal(1.0),
                price_per_pack: material.price_per_kg,
                in_hand_kg: Kilograms::literal(0.0),
                most_packs: None,
                organic: true,
                spreading_price_per_kg: Price::literal(0.0),
            })
            .collect(),
        beds: vec![BlendBed {
            name: "the bed".to_owned(),
            area_m2: BedAreaM2::literal(1.0),
            needs: input.needs.clone(),
            organic_only: false,
            never: Vec::new(),
            most_materials: None,
        }],
    }
}

/// The one bed is not in this method's input.
fn own_field(mut refusal: Refusal) -> Refusal {
    if let Some(own) = refusal.field.strip_prefix("beds[0].") {
        refusal.field = own.to_owned();
    }
    refusal
}
