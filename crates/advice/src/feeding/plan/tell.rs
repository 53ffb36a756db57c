//! The plan in sentences.

use book::model::UnitSystem;
use ground::fertility::blend::plan::{Brought, PlanStatus, Standing};
use ground::kit::Provenance;
use ground::kit::units::in_units;

use super::{BroughtLine, FarmPlan, PlanOutcome};
use crate::feeding::needs::BedNeed;
use crate::feeding::rate;
use crate::feeding::shelf::ShelfLine;
use crate::words;

/// What is brought to a bed, without the limits that nothing touches.
pub(super) fn brought(all: &[Brought], area_m2: f64, units: UnitSystem) -> Vec<BroughtLine> {
    all.iter()
        .filter(|one| one.target_kg > 0.0 || one.kg > 0.0)
        .map(|one| {
            let per = |kg: f64| 1000.0 * kg / area_m2;
            let got = rate(per(one.kg), units);
            let says = match (one.target_kg > 0.0, one.standing) {
                (false, _) => {
                    format!("{got}, with others; at most {}", rate(per(one.at_most_kg.unwrap_or(0.0)), units))
                }
                (true, Standing::Met) => format!("{got}, as wanted"),
                (true, Standing::Short) => format!("{got}, short of {}", rate(per(one.target_kg), units)),
                (true, Standing::Over) => format!("{got}, more than {}", rate(per(one.target_kg), units)),
            };
            BroughtLine {
                carried: one.carried,
                words: one.carried.words(),
                g_m2: per(one.kg),
                target_g_m2: per(one.target_kg),
                at_most_g_m2: one.at_most_kg.map(per),
                standing: one.standing,
                binds: one.binds,
                says,
            }
        })
        .collect()
}

pub(super) fn wanted(needs: &[BedNeed], shelf: &[ShelfLine]) -> Vec<String> {
    let mut found: Vec<String> = shelf
        .iter()
        .filter(|line| !line.usable())
        .map(|line| format!("{} is left out of the plan: it lacks {}.", line.name, line.wanted.join(", ")))
        .collect();
    found.extend(
        shelf
            .iter()
            .filter(|line| line.overdrawn)
            .map(|line| format!("More {} was spread than was bought: count what is in hand.", line.name)),
    );
    for need in needs {
        for wanted in &need.wanted {
            found.push(format!("{}, {}: {wanted}", need.plot_name, need.bed_name));
        }
    }
    found
}

/// A sum with its currency.
#[must_use]
pub(super) fn money(sum: rust_decimal::Decimal, currency: &str) -> String {
    let sum = format!("{:.2}", sum.round_dp(2));
    if currency.is_empty() { sum } else { format!("{sum} {currency}") }
}

pub(super) fn tell(plan: &mut FarmPlan, units: UnitSystem) {
    for conflict in &mut plan.conflicts {
        *conflict = in_units(conflict, units);
    }
    plan.headline = match plan.outcome {
        PlanOutcome::NothingNeeded => "No bed needs anything that is known: plantings, a soil report and the farm's scheme tell what beds need.".to_owned(),
        PlanOutcome::EmptyShelf => "The shelf is empty: put the materials you have or could buy on it, with bag and price.".to_owned(),
        PlanOutcome::Stopped => "The search was stopped before a plan was found.".to_owned(),
        PlanOutcome::Impossible => "No plan can be made with this shelf.".to_owned(),
        PlanOutcome::Planned => {
            let bags: u32 = plan.buy.iter().map(|line| line.packs).sum();
            let beds = plan.beds.len();
            let what = match bags {
                0 => "nothing to buy".to_owned(),
                1 => format!("1 bag or load to buy, {}", money(plan.to_pay, &plan.currency)),
                bags => format!("{bags} bags and loads to buy, {}", money(plan.to_pay, &plan.currency)),
            };
            let beds = if beds == 1 { "1 planting".to_owned() } else { format!("{beds} plantings") };
            format!("{beds} planned for: {what}.")
        }
    };
}

pub(super) fn why(
    plan: &FarmPlan,
    needs: &[BedNeed],
    shelf: &[ShelfLine],
    used: &[&ShelfLine],
) -> Vec<String> {
    let mut why = vec![format!(
        "The plan is made for {}. Needs may fall short by {} % and be passed by {} %; potassium by twice that.",
        plan.settings.aim.words(),
        words::short(plan.settings.short_percent),
        words::short(plan.settings.over_percent)
    )];
    if let Some(other) = plan.other {
        why.push(format!("For {} it would cost {}.", other.aim.words(), money(other.to_pay, &plan.currency)));
    }
    why.push(match plan.status {
        Some(PlanStatus::ProvenOptimal) => "No plan costs less: that is proven.".to_owned(),
        _ => format!("A plan could be cheaper by {} % at most.", words::short(plan.gap_percent.max(0.01))),
    });
    let limits: Vec<&str> = {
        let mut seen: Vec<&str> = plan
            .beds
            .iter()
            .flat_map(|bed| &bed.brought)
            .filter(|line| line.binds && line.at_most_g_m2.is_some_and(|most| line.g_m2 >= most * 0.999))
            .map(|line| line.carried.words())
            .collect();
        seen.sort_unstable();
        seen.dedup();
        seen
    };
    if !limits.is_empty() {
        why.push(format!("The plan stands at a limit of {}.", limits.join(", ")));
    }
    if needs.iter().any(|need| {
        need.limits.iter().any(|limit| limit.of == super::LimitOf::P2o5 && limit.most_g_m2 <= 0.0)
    }) {
        why.push("Phosphorus is more than enough on some beds: they get none, so their nitrogen comes from what carries no phosphorus.".to_owned());
    }
    if used.iter().any(|line| matches!(line.analysis, Some(Provenance::Recalled))) {
        why.push("Some analyses are usual ones that were recalled and not read: put the label's figures on the shelf.".to_owned());
    }
    if shelf.iter().any(|line| line.usable() && line.organic == book::model::OrganicUse::Ask) {
        why.push("On organic beds a material counts only where the shelf says that it is allowed; those marked \u{201c}ask the certifier\u{201d} are left out.".to_owned());
    }
    why
}

/// Beds whose needs are known and are met already.
pub(super) fn satisfied(needs: &[BedNeed], planned: &[usize]) -> Option<String> {
    let names: Vec<String> = needs
        .iter()
        .enumerate()
        .filter(|(at, need)| !planned.contains(at) && !need.needs.is_empty())
        .map(|(_, need)| format!("{}, {}", need.plot_name, need.bed_name))
        .collect();
    (!names.is_empty()).then(|| format!("Nothing is needed on {}.", names.join("; ")))
}
