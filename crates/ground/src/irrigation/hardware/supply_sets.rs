//! Which beds may run together on a supply.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::quantity::with_unit;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// What a supply gives.
    pub struct SupplyFlow: "flow of the supply", "L/min", 0.5 ..= 20000.0, example 40.0;
    /// What a bed draws.
    pub struct BedDraw: "flow of the bed", "L/min", 0.01 ..= 5000.0, example 12.0;
    /// How long a bed is to run.
    pub struct RunMinutes: "run time", "min", 0.0 ..= 10080.0, example 50.0;
}

/// A bed that asks for water.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BedFlow {
    /// Name of the bed.
    pub name: String,
    /// What it draws.
    pub flow_l_min: BedDraw,
    /// How long it is to run.
    pub run_min: RunMinutes,
}

/// Beds that run together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SupplySet {
    /// Their names.
    pub beds: Vec<String>,
    /// What they draw together.
    pub flow_l_min: f64,
    /// The longest run among them.
    pub run_min: f64,
}

/// Sets by first fit, the greatest draw first [Johnson1974]; each bed stops by its own valve. Beds
/// that draw alike are taken by run time, so that long runs stand together. A bed that draws more
/// than the supply gives is in no set: the caller refuses it.
#[must_use]
pub fn pack(beds: &[BedFlow], supply_l_min: f64) -> Vec<SupplySet> {
    let mut order: Vec<&BedFlow> = beds.iter().filter(|bed| bed.flow_l_min.get() <= supply_l_min).collect();
    order.sort_by(|a, b| {
        let by_flow = b.flow_l_min.get().total_cmp(&a.flow_l_min.get());
        by_flow.then(b.run_min.get().total_cmp(&a.run_min.get()))
    });
    let mut sets: Vec<SupplySet> = Vec::new();
    for bed in order {
        let flow = bed.flow_l_min.get();
        // Sums of decimal flows may pass the supply by their rounding alone.
        let fits = |set: &&mut SupplySet| set.flow_l_min + flow <= supply_l_min * (1.0 + 1e-9);
        if let Some(set) = sets.iter_mut().find(fits) {
            set.beds.push(bed.name.clone());
            set.flow_l_min += flow;
            set.run_min = set.run_min.max(bed.run_min.get());
        } else {
            sets.push(SupplySet {
                beds: vec![bed.name.clone()],
                flow_l_min: flow,
                run_min: bed.run_min.get(),
            });
        }
    }
    sets
}

/// Input of `supply-sets`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SupplySetsInput {
    /// What the supply gives at the pressure the hardware needs.
    pub supply_l_min: SupplyFlow,
    /// The beds.
    pub beds: Vec<BedFlow>,
}

/// Output of `supply-sets`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SupplySetsOutput {
    /// The sets, one after another.
    pub sets: Vec<SupplySet>,
    /// How many sets.
    pub set_count: usize,
    /// Fewer sets than this no plan has: all the flow over what the supply gives.
    pub least_count: usize,
    /// Time for all sets one after another.
    pub total_min: f64,
}

/// Sets on a supply.
pub struct SupplySets;

/// More beds than this are not one farm's.
const MOST_BEDS: usize = 2000;

impl Method for SupplySets {
    type Input = SupplySetsInput;
    type Output = SupplySetsOutput;

    const CARD: Card = Card {
        name: "supply-sets",
        title: "Beds that run together",
        topic: Topic::Irrigation,
        computes: "Sorts beds into sets that a well, pump or tap can feed at once, and says how long it takes to \
                   water them all.",
        validity: &[
            "Flow at the pressure the hardware needs, not at the open tap; leave a tenth in hand.",
            "Each bed stops by its own valve when its time is up.",
            "First fit, greatest first: never more than about a fifth more sets than the best plan.",
        ],
        sources: &[Cite::new("Johnson1974", "first fit decreasing")],
        cautions: &["A supply of drinking water needs backflow prevention; local plumbing codes decide."],
    };

    fn example() -> Self::Input {
        let bed = |name: &str, flow: f64, run: f64| BedFlow {
            name: name.to_owned(),
            flow_l_min: BedDraw::literal(flow),
            run_min: RunMinutes::literal(run),
        };
        SupplySetsInput {
            supply_l_min: SupplyFlow::literal(40.0),
            beds: vec![
                bed("bed 1", 22.0, 50.0),
                bed("bed 2", 18.0, 45.0),
                bed("bed 3", 15.0, 60.0),
                bed("bed 4", 12.0, 60.0),
                bed("bed 5", 12.0, 55.0),
            ],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let supply = input.supply_l_min.get();
        if input.beds.is_empty() || input.beds.len() > MOST_BEDS {
            return Err(Refusal::new("beds", format!("{} beds were given", input.beds.len()))
                .given(input.beds.len())
                .accepted(format!("1 to {MOST_BEDS} beds"))
                .example("bed 1, 12 L/min, 50 min"));
        }
        if let Some((at, bed)) = input.beds.iter().enumerate().find(|(_, bed)| bed.flow_l_min.get() > supply)
        {
            let flow = with_unit(bed.flow_l_min.get(), "L/min");
            let given = with_unit(supply, "L/min");
            return Err(Refusal::new(
                format!("beds[{at}].flow_l_min"),
                format!("{} draws {flow}, more than the supply gives, {given}: split the bed", bed.name),
            )
            .given(flow)
            .accepted(format!("up to {given}"))
            .example(with_unit(supply / 2.0, "L/min")));
        }
        let sets = pack(&input.beds, supply);
        let all: f64 = input.beds.iter().map(|bed| bed.flow_l_min.get()).sum();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "at most the number of beds"
        )]
        let least_count = ((all / supply) * (1.0 - 1e-9)).ceil().max(1.0) as usize;
        Ok(Answer::plain(SupplySetsOutput {
            set_count: sets.len(),
            least_count,
            total_min: sets.iter().map(|set| set.run_min).sum(),
            sets,
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let supply = input.supply_l_min.get();
        answer.value.sets.iter().enumerate().fold(Working::new(), |working, (at, set)| {
            working
                .step(
                    format!("set {}", at + 1),
                    "the greatest draw first, each bed into the first set with room",
                    set.beds.join(", "),
                    format!(
                        "{} of {supply} L/min, {} min",
                        with_unit(set.flow_l_min, "").trim(),
                        set.run_min
                    ),
                )
                .cite(Self::CARD.sources[0])
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bed_beyond_the_supply_is_named() {
        let mut input = SupplySets::example();
        input.supply_l_min = SupplyFlow::literal(20.0);
        let refused = SupplySets::compute(&input).unwrap_err();
        assert_eq!(refused.field, "beds[0].flow_l_min");
        assert!(refused.message.contains("bed 1"), "{refused}");
        input.beds.clear();
        assert_eq!(SupplySets::compute(&input).unwrap_err().field, "beds");
    }

    #[test]
    fn every_bed_is_in_one_set_and_no_set_overdraws() {
        let mut chance = crate::kit::chance::Chance::new(11);
        for round in 0..50 {
            let beds: Vec<BedFlow> = (0..1 + round)
                .map(|at| BedFlow {
                    name: format!("{at}"),
                    flow_l_min: BedDraw::literal(0.5 + 30.0 * chance.uniform()),
                    run_min: RunMinutes::literal(60.0 * chance.uniform()),
                })
                .collect();
            let sets = pack(&beds, 40.0);
            let mut names: Vec<_> = sets.iter().flat_map(|set| set.beds.clone()).collect();
            names.sort();
            names.dedup();
            assert_eq!(names.len(), beds.len());
            assert!(sets.iter().all(|set| set.flow_l_min <= 40.0 + 1e-6));
            let all: f64 = beds.iter().map(|bed| bed.flow_l_min.get()).sum();
            // 11/9 of the best and at most one more [Johnson1974]; the best is not above twice the bound.
            #[expect(clippy::cast_precision_loss, reason = "few")]
            let count = sets.len() as f64;
            assert!(count <= 2.0 * (all / 40.0).ceil() + 1.0);
        }
    }
}
