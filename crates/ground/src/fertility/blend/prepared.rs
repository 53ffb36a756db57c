//! The question in plain numbers: like beds joined, useless materials left out, rows scaled to one.

use std::collections::BTreeMap;

use super::carried::Carried;
use super::problem::{BlendBed, BlendProblem};
use crate::kit::Bounded;

/// A material's numbers.
pub(super) struct Supply {
    pub pack_kg: f64,
    pub price: f64,
    pub in_hand_kg: f64,
    pub most_packs: i32,
    pub spreading_price: f64,
}

/// One need of a group, in kg of the whole group.
#[derive(Clone)]
pub(super) struct Row {
    pub carried: Carried,
    /// By place in [`Group::usable`].
    pub content: Vec<f64>,
    pub target: f64,
    pub low: f64,
    pub high: Option<f64>,
    pub under: f64,
    pub over: f64,
}

impl Row {
    /// What the row is divided by, so that a gram of boron weighs as much as a tonne of lime.
    pub(super) fn scale(&self) -> f64 {
        let size = if self.target > 0.0 { self.target } else { self.high.unwrap_or(1.0) };
        if size > 0.0 { 1.0 / size } else { 1.0 }
    }

    /// What amounts bring of it.
    pub(super) fn brought(&self, amounts: &[f64]) -> f64 {
        self.content.iter().zip(amounts).map(|(content, amount)| content * amount).sum()
    }
}

/// Beds with the same needs for each m², treated as one.
pub(super) struct Group {
    /// Places of the beds, with each one's share of the area.
    pub beds: Vec<(usize, f64)>,
    /// Places of the materials that serve a need of it.
    pub usable: Vec<usize>,
    pub rows: Vec<Row>,
    pub most_materials: Option<usize>,
}

impl Group {
    /// Beyond this, more of the material at `place` only brings what is not wanted.
    pub(super) fn useful(&self, place: usize) -> f64 {
        self.rows
            .iter()
            .filter(|row| row.target > 0.0 && row.content[place] > 0.0)
            .map(|row| row.target / row.content[place])
            .fold(0.0, f64::max)
    }

    /// The same, or less where a limit says so.
    pub(super) fn cap(&self, place: usize) -> f64 {
        let useful = self.useful(place);
        self.rows
            .iter()
            .filter(|row| row.content[place] > 0.0)
            .filter_map(|row| row.high.map(|high| high / row.content[place]))
            .fold(useful, f64::min)
    }
}

/// The whole question in numbers.
pub(super) struct Prepared {
    pub supplies: Vec<Supply>,
    pub groups: Vec<Group>,
}

impl Prepared {
    pub(super) fn of(problem: &BlendProblem) -> Self {
        let supplies = problem
            .materials
            .iter()
            .map(|material| Supply {
                pack_kg: material.pack_kg.get(),
                price: material.price_per_pack.get(),
                in_hand_kg: material.in_hand_kg.get(),
                most_packs: material
                    .most_packs
                    .map_or(1_000_000, |most| i32::try_from(most.min(1_000_000)).unwrap_or(1_000_000)),
                spreading_price: material.spreading_price_per_kg.get(),
            })
            .collect();
        let mut alike: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for (at, bed) in problem.beds.iter().enumerate() {
            alike.entry(likeness(bed)).or_default().push(at);
        }
        let mut groups: Vec<_> = alike.into_values().map(|beds| group(problem, &beds)).collect();
        groups.sort_by_key(|group| group.beds[0].0);
        Self { supplies, groups }
    }

    /// kg of each material that amounts of every group take.
    pub(super) fn used(&self, amounts: &[Vec<f64>]) -> Vec<f64> {
        let mut used = vec![0.0; self.supplies.len()];
        for (group, amounts) in self.groups.iter().zip(amounts) {
            for (&material, amount) in group.usable.iter().zip(amounts) {
                used[material] += amount;
            }
        }
        used
    }

    /// Packs to buy for `used_kg` of a material. A gram in a bag is no reason to open another.
    pub(super) fn packs(&self, material: usize, used_kg: f64) -> f64 {
        let supply = &self.supplies[material];
        let missing = (used_kg - supply.in_hand_kg) / supply.pack_kg;
        libm::ceil(missing - 1e-5).max(0.0)
    }

    /// All that a plan costs: packs, spreading, and what falls short or runs over.
    pub(super) fn cost(&self, amounts: &[Vec<f64>]) -> f64 {
        let used = self.used(amounts);
        let bought: f64 = (0..used.len()).map(|at| self.packs(at, used[at]) * self.supplies[at].price).sum();
        let spread: f64 =
            used.iter().zip(&self.supplies).map(|(kg, supply)| kg * supply.spreading_price).sum();
        let off: f64 = self
            .groups
            .iter()
            .zip(amounts)
            .flat_map(|(group, amounts)| {
                group.rows.iter().map(|row| {
                    let apart = row.brought(amounts) - row.target;
                    if apart < 0.0 { -apart * row.under } else { apart * row.over }
                })
            })
            .sum();
        bought + spread + off
    }
}

fn group(problem: &BlendProblem, beds: &[usize]) -> Group {
    let first = &problem.beds[beds[0]];
    let area: f64 = beds.iter().map(|&at| problem.beds[at].area_m2.get()).sum();
    let times = area / first.area_m2.get();
    let usable: Vec<usize> = (0..problem.materials.len())
        .filter(|&at| {
            let material = &problem.materials[at];
            let serves = first.needs.iter().any(|need| {
                need.target_kg.get() > 0.0
                    && material.content_kg_kg.get(&need.carried).is_some_and(|content| content.get() > 0.0)
            });
            serves && first.takes(material)
        })
        .collect();
    let rows = first
        .needs
        .iter()
        .map(|need| Row {
            carried: need.carried,
            content: usable
                .iter()
                .map(|&at| {
                    problem.materials[at]
                        .content_kg_kg
                        .get(&need.carried)
                        .map_or(0.0, |content| content.get())
                })
                .collect(),
            target: need.target_kg.get() * times,
            low: need.low_kg() * times,
            high: need.high_kg().map(|high| high * times),
            under: need.price_under_per_kg.get(),
            over: need.price_over_per_kg.get(),
        })
        .collect();
    Group {
        beds: beds.iter().map(|&at| (at, problem.beds[at].area_m2.get() / area)).collect(),
        usable,
        rows,
        most_materials: first.most_materials.map(|most| most as usize),
    }
}

/// Equal for beds whose needs for each m² agree to nine digits.
fn likeness(bed: &BlendBed) -> String {
    let per_m2 = |kg: f64| format!("{:.8e}", kg / bed.area_m2.get());
    let mut needs: Vec<String> = bed
        .needs
        .iter()
        .map(|need| {
            format!(
                "{:?} {} {} {} {} {}",
                need.carried,
                per_m2(need.target_kg.get()),
                per_m2(need.low_kg()),
                need.high_kg().map_or_else(String::new, per_m2),
                need.price_under_per_kg.get(),
                need.price_over_per_kg.get()
            )
        })
        .collect();
    needs.sort();
    let mut never = bed.never.clone();
    never.sort();
    format!("{} {:?} {never:?} {needs:?}", bed.organic_only, bed.most_materials)
}
