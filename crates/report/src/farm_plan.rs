//! From the plan of the farm to its two sheets: what to spread on each bed, and what to buy.

use advice::feeding::plan::{self, BuyLine, FarmPlan, PlanOutcome};

use crate::buying::{BuyingLine, BuyingSheet};
use crate::error::SheetError;
use crate::options::SheetOptions;
use crate::render::render;
use crate::sheet::Caution;
use crate::spread::{SpreadBed, SpreadLine, SpreadSheet};

/// What to spread, bed by bed, as PDF.
///
/// # Errors
/// A fault of the program, never of what the plan says.
pub fn spread_pdf(plan: &FarmPlan, options: &SheetOptions) -> Result<Vec<u8>, SheetError> {
    render(&spread_sheet(plan), options)
}

/// The buying list as PDF.
///
/// # Errors
/// A fault of the program, never of what the plan says.
pub fn buying_list_pdf(plan: &FarmPlan, options: &SheetOptions) -> Result<Vec<u8>, SheetError> {
    render(&buying_sheet(plan), options)
}

/// What to spread, in words for its sheet.
#[must_use]
pub fn spread_sheet(plan: &FarmPlan) -> SpreadSheet {
    SpreadSheet {
        lead: lead(plan),
        beds: plan.beds.iter().map(bed).collect(),
        cautions: if plan.beds.is_empty() { Vec::new() } else { cautions(plan) },
    }
}

/// The buying list, in words for its sheet.
#[must_use]
pub fn buying_sheet(plan: &FarmPlan) -> BuyingSheet {
    let (bought, in_hand): (Vec<&BuyLine>, Vec<&BuyLine>) = plan.buy.iter().partition(|line| line.packs > 0);
    let total = match bought.as_slice() {
        [] => String::new(),
        _ => format!("{:.2} {}", plan.to_pay, plan.currency).trim_end().to_owned(),
    };
    BuyingSheet {
        lead: lead(plan),
        lines: bought.into_iter().map(|line| buy(line, &plan.currency)).collect(),
        total,
        in_hand: in_hand
            .into_iter()
            .map(|line| format!("{}: {} used, {} left.", line.name, line.used, line.left))
            .collect(),
        notes: wanting(plan),
        cautions: if plan.buy.is_empty() { Vec::new() } else { cautions(plan) },
    }
}

/// What was planned, for which aim, what clashed; where there is no plan, what is wanting for one.
fn lead(plan: &FarmPlan) -> Vec<String> {
    let mut lead = vec![plan.headline.clone()];
    lead.extend(plan.conflicts.iter().cloned());
    lead.extend(if plan.outcome == PlanOutcome::Planned { plan.why.clone() } else { plan.wanted.clone() });
    lead
}

/// How much the list does not count, which the page names one by one.
fn wanting(plan: &FarmPlan) -> Vec<String> {
    if plan.outcome != PlanOutcome::Planned || plan.wanted.is_empty() {
        return Vec::new();
    }
    let count = plan.wanted.len();
    let things = if count == 1 { "1 thing is".to_owned() } else { format!("{count} things are") };
    vec![format!(
        "{things} wanting for a plan that counts everything; the page of what to spread names them."
    )]
}

/// Cautions of the whole plan; no line points to one of them alone.
fn cautions(plan: &FarmPlan) -> Vec<Caution> {
    plan.cautions.iter().map(|text| Caution { sign: "!".to_owned(), text: text.clone() }).collect()
}

fn bed(bed: &plan::SpreadBed) -> SpreadBed {
    let mut about = bed.about();
    if bed.beds > 1 {
        about.push_str(&format!("; amounts are for each of {} beds", bed.beds));
    }
    let mut notes = bed.notes.clone();
    if bed.lines.is_empty() {
        notes.insert(
            0,
            "Nothing: what would help is not on the shelf, or costs more than it brings.".to_owned(),
        );
    }
    SpreadBed {
        place: bed.name.clone(),
        about,
        lines: bed
            .lines
            .iter()
            .map(|line| SpreadLine {
                material: line.name.clone(),
                amount: line.amount.clone(),
                carried: line.buckets.clone().unwrap_or_default(),
                how: line.how.clone(),
                cautions: Vec::new(),
            })
            .collect(),
        notes,
    }
}

fn buy(line: &BuyLine, currency: &str) -> BuyingLine {
    BuyingLine {
        material: line.name.clone(),
        packs: format!("{} × {}", line.packs, line.pack),
        needed: line.used.clone(),
        in_hand: line.from_hand.clone(),
        left_over: line.left.clone(),
        cost: line.price_each.map_or_else(String::new, |_| format!("{:.2}", line.price)),
        note: line.price_each.map_or_else(
            || "No price is known.".to_owned(),
            |each| format!("{each:.2} {currency}").trim_end().to_owned() + " each",
        ),
        cautions: Vec::new(),
    }
}
