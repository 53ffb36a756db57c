//! When needs cannot be kept together: which clash, and the fewest that must give way.

use crate::kit::sentence::capital;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::carried::Carried;
use super::elastic;
use super::prepared::{Group, Prepared};
use super::problem::BlendProblem;
use super::program::{Program, Rule, Watch};
use crate::kit::quantity::number;

/// Which side of a need.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// The least that is accepted.
    AtLeast,
    /// The most that is accepted.
    AtMost,
}

/// One side of one need of a bed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Claim {
    /// Bed.
    pub bed: String,
    /// What.
    pub carried: Carried,
    /// Which side.
    pub side: Side,
    /// The amount asked for, kg for the bed.
    pub kg: f64,
    /// How far it gives way in the smallest change, kg. 0 for one that merely clashes.
    pub gives_way_kg: f64,
}

impl Claim {
    /// "at least 1.2 kg nitrogen".
    #[must_use]
    pub fn words(&self) -> String {
        let side = match self.side {
            Side::AtLeast => "at least",
            Side::AtMost => "at most",
        };
        format!("{side} {} kg {}", figures(self.kg), self.carried.words())
    }
}

/// Needs that cannot be kept together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Conflict {
    /// Beds it is about; all alike.
    pub beds: Vec<String>,
    /// Claims none of which can be left out: without any one of them the others could be kept.
    /// Empty where beds compete for what can be had.
    pub clashing: Vec<Claim>,
    /// The fewest claims that must give way; a least amount before a limit.
    pub gives_way: Vec<Claim>,
    /// Most materials on a bed, where that is what cannot be kept.
    pub most_materials: Option<u32>,
    /// In words.
    pub words: String,
}

/// The conflicts of a question that has no plan.
pub(super) fn conflicts(
    problem: &BlendProblem,
    prepared: &Prepared,
    limited: bool,
    watch: &mut Watch<'_>,
) -> Vec<Conflict> {
    let mut found = Vec::new();
    for group in &prepared.groups {
        if !possible(group, None, watch) {
            found.push(of_group(problem, group, watch));
        } else if limited && group.most_materials.is_some_and(|most| !possible(group, Some(most), watch)) {
            found.push(too_few(problem, group));
        }
    }
    if found.is_empty() {
        found.extend(of_all(problem, prepared, watch));
    }
    found
}

fn possible(group: &Group, most: Option<usize>, watch: &mut Watch<'_>) -> bool {
    !Program::alone(group, None, |_| 1.0, most).run(Rule::ONCE, watch).infeasible
}

/// The sides of a group's needs that could be in the way.
fn sides(group: &Group) -> Vec<(usize, Side)> {
    let mut sides = Vec::new();
    for (at, row) in group.rows.iter().enumerate() {
        if row.low > 0.0 {
            sides.push((at, Side::AtLeast));
        }
        if row.high.is_some() {
            sides.push((at, Side::AtMost));
        }
    }
    sides
}

/// The group with only some sides held.
fn holding(group: &Group, held: &[(usize, Side)]) -> Group {
    let mut rows = group.rows.clone();
    for (at, row) in rows.iter_mut().enumerate() {
        if !held.contains(&(at, Side::AtLeast)) {
            row.low = 0.0;
        }
        if !held.contains(&(at, Side::AtMost)) {
            row.high = None;
        }
    }
    Group { beds: group.beds.clone(), usable: group.usable.clone(), rows, most_materials: None }
}

fn of_group(problem: &BlendProblem, group: &Group, watch: &mut Watch<'_>) -> Conflict {
    // One side after the other is let go; those without which there is a plan stay.
    let mut held = sides(group);
    let mut at = 0;
    while at < held.len() {
        let mut fewer = held.clone();
        fewer.remove(at);
        if possible(&holding(group, &fewer), None, watch) {
            at += 1;
        } else {
            held = fewer;
        }
    }
    let first = group.beds[0];
    let clashing: Vec<Claim> =
        held.iter().map(|&(row, side)| claim(problem, group, first, row, side, 0.0)).collect();
    let ways = elastic::fewest(std::slice::from_ref(group), None, watch);
    let gives_way: Vec<Claim> =
        ways.iter().map(|way| claim(problem, group, first, way.row, way.side, way.by)).collect();
    let with: Vec<_> =
        group.usable.iter().map(|&material| problem.materials[material].name.as_str()).collect();
    let beds: Vec<String> = group.beds.iter().map(|&(bed, _)| problem.beds[bed].name.clone()).collect();
    let words = clash_words(&beds, &clashing, &gives_way, &with);
    Conflict { beds, clashing, gives_way, most_materials: None, words }
}

fn too_few(problem: &BlendProblem, group: &Group) -> Conflict {
    let beds: Vec<String> = group.beds.iter().map(|&(bed, _)| problem.beds[bed].name.clone()).collect();
    let most = group.most_materials.unwrap_or_default();
    let words = format!(
        "{}: its needs cannot be met with {most} {} on a bed. Allow one more, or let a need be met in part.",
        beds.join(", "),
        if most == 1 { "material" } else { "materials" }
    );
    Conflict {
        beds,
        clashing: Vec::new(),
        gives_way: Vec::new(),
        most_materials: u32::try_from(most).ok(),
        words,
    }
}

/// Beds that could each be served, but not all of them with what can be had.
fn of_all(problem: &BlendProblem, prepared: &Prepared, watch: &mut Watch<'_>) -> Option<Conflict> {
    let ways = elastic::fewest(&prepared.groups, Some(&prepared.supplies), watch);
    let gives_way: Vec<Claim> = ways
        .iter()
        .flat_map(|way| {
            let group = &prepared.groups[way.group];
            group.beds.iter().map(move |&bed| claim(problem, group, bed, way.row, way.side, way.by * bed.1))
        })
        .collect();
    if gives_way.is_empty() {
        return None;
    }
    let mut beds: Vec<String> = gives_way.iter().map(|claim| claim.bed.clone()).collect();
    beds.dedup();
    let list: Vec<_> = gives_way.iter().map(|claim| format!("{} on {}", claim.words(), claim.bed)).collect();
    let words = format!(
        "What can be had does not reach for all beds. The fewest needs that must give way: {}.",
        list.join("; ")
    );
    Some(Conflict { beds, clashing: Vec::new(), gives_way, most_materials: None, words })
}

fn claim(
    problem: &BlendProblem,
    group: &Group,
    (bed, share): (usize, f64),
    row: usize,
    side: Side,
    by: f64,
) -> Claim {
    let row = &group.rows[row];
    let kg = match side {
        Side::AtLeast => row.low,
        Side::AtMost => row.high.unwrap_or_default(),
    };
    Claim {
        bed: problem.beds[bed].name.clone(),
        carried: row.carried,
        side,
        kg: kg * share,
        gives_way_kg: by * share,
    }
}

fn clash_words(beds: &[String], clashing: &[Claim], gives_way: &[Claim], with: &[&str]) -> String {
    let materials = if with.is_empty() { "any material on the list".to_owned() } else { with.join(", ") };
    let list = |claims: &[Claim]| claims.iter().map(Claim::words).collect::<Vec<_>>().join(" and ");
    let mut words = if clashing.len() == 1 {
        format!("{}: {} cannot be kept with {materials}.", beds.join(", "), list(clashing))
    } else {
        format!("{}: {} cannot be kept together with {materials}.", beds.join(", "), list(clashing))
    };
    if clashing.iter().any(|claim| claim.side == Side::AtMost && claim.carried == Carried::P2o5) {
        words.push_str(" The limit on phosphorus is what binds.");
    }
    for claim in gives_way {
        words.push_str(&match claim.side {
            Side::AtLeast => format!(
                " {} must give way by {} kg, to {} kg.",
                capital(claim.carried.words()),
                figures(claim.gives_way_kg),
                figures((claim.kg - claim.gives_way_kg).max(0.0))
            ),
            Side::AtMost => format!(
                " The limit on {} must give way by {} kg, to {} kg.",
                claim.carried.words(),
                figures(claim.gives_way_kg),
                figures(claim.kg + claim.gives_way_kg)
            ),
        });
    }
    words
}

/// Three significant figures.
fn figures(kg: f64) -> String {
    format!("{kg:.2e}").parse::<f64>().map_or_else(|_| number(kg), number)
}
