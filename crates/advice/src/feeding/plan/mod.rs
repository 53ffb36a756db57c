//! The plan of the whole farm: what to spread on each bed, what to buy, what goes back on the shelf.
//!
//! Needs are kept within their tolerances. Where they clash, the fewest give way and are named, phosphorus
//! first among the limits. The plan is made for the middle of the needs or for enough with odds of 80 %, and
//! the cost of the other is told beside it.

mod build;
mod how;
mod settings;
mod soften;
mod tell;

use std::ops::ControlFlow;

use book::Snapshot;
use book::model::EntryId;
use ground::fertility::blend::plan::{BlendPlan, PlanStatus, Planned, Standing};
use ground::fertility::blend::problem::GapPercent;
use ground::fertility::blend::{Carried, Progress, whole_bag_plan};
use ground::kit::Bounded;
use jiff::civil::Date;
use rust_decimal::Decimal;
use serde::Serialize;

pub use build::{Lime, LimeWant};
pub use settings::{
    Aim, BucketLitres, OverPercent, PlanSettings, ShortPercent, ShovelLitres, USUAL_SHOVEL_L, most_materials,
};

use super::acidity::{AcidityOptions, Chosen, acidity};
use super::mass;
use super::needs::{BedNeed, LimitOf, plot_needs};
use super::shelf::{ShelfLine, measured, shelf};
use crate::PlotReport;
use build::{Built, build};

/// One material on one bed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpreadLine {
    /// The material on the shelf.
    pub material: EntryId,
    /// Its name.
    pub name: String,
    /// For the bed, kg; for all of them where the record holds several.
    pub kg: f64,
    /// For one bed, kg.
    pub each_kg: f64,
    /// For one bed, as it is carried: "2 lb 4 oz".
    pub amount: String,
    /// In buckets and shovelfuls, where its bulk density is known and half a shovel fills.
    pub buckets: Option<String>,
    /// When and how.
    pub how: String,
}

/// What a bed gets of one thing.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BroughtLine {
    /// What.
    pub carried: Carried,
    /// In words.
    pub words: &'static str,
    /// Brought, g/m².
    pub g_m2: f64,
    /// Wanted, g/m².
    pub target_g_m2: f64,
    /// Most accepted, g/m².
    pub at_most_g_m2: Option<f64>,
    /// How it stands.
    pub standing: Standing,
    /// Whether it shapes the plan.
    pub binds: bool,
    /// "3.1 lb of 3.0 lb per 1000 ft² wanted".
    pub says: String,
}

/// A bed with what to spread on it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpreadBed {
    /// The bed; nothing where the plot has none and is limed as a whole.
    pub bed: Option<EntryId>,
    /// Its plot.
    pub plot: EntryId,
    /// The planting it is for; nothing where the bed only waits for lime.
    pub planting: Option<EntryId>,
    /// "South field, Beds 1 to 12".
    pub name: String,
    /// What grows.
    pub crop: String,
    /// Day of planting.
    pub planted_on: Option<Date>,
    /// Area of all of them.
    pub area_m2: f64,
    /// How many beds the record holds.
    pub beds: u16,
    /// What to spread, heaviest first.
    pub lines: Vec<SpreadLine>,
    /// What that brings.
    pub brought: Vec<BroughtLine>,
    /// What must not go together, and what gives way.
    pub notes: Vec<String>,
}

impl SpreadBed {
    /// The record of its ground: the bed, or the plot where it has none.
    #[must_use]
    pub fn ground(&self) -> EntryId {
        self.bed.unwrap_or(self.plot)
    }

    /// What the bed is prepared for: "lettuce, planted 12 April 2026".
    #[must_use]
    pub fn about(&self) -> String {
        match self.planted_on {
            Some(day) => format!("{}, planted {}", self.crop, crate::words::day(day)),
            None => "nothing planned to grow yet".to_owned(),
        }
    }

    /// Whether its crop stands already.
    #[must_use]
    pub fn stands(&self, today: Date) -> bool {
        self.planted_on.is_some_and(|day| day <= today)
    }
}

/// One line of the buying list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BuyLine {
    /// The material on the shelf.
    pub material: EntryId,
    /// Its name.
    pub name: String,
    /// Packs to buy; 0 where what is in hand is enough.
    pub packs: u32,
    /// "bag of 50 lb".
    pub pack: String,
    /// Price of one.
    pub price_each: Option<Decimal>,
    /// Price of all.
    pub price: Decimal,
    /// Used on all beds, kg.
    pub used_kg: f64,
    /// The same as it is weighed.
    pub used: String,
    /// Of that, from hand.
    pub from_hand: String,
    /// What goes back on the shelf, kg.
    pub left_kg: f64,
    /// The same as it is weighed.
    pub left: String,
}

/// How a plan came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PlanOutcome {
    /// There is a plan.
    Planned,
    /// No bed needs anything, or nothing is known of what it needs.
    NothingNeeded,
    /// The shelf has nothing that can be used.
    EmptyShelf,
    /// The search was stopped before a plan was found.
    Stopped,
    /// What the beds need cannot be met with this shelf at all.
    Impossible,
}

/// What the other aim would cost.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct OtherAim {
    /// The other aim.
    pub aim: Aim,
    /// To pay for it.
    pub to_pay: Decimal,
}

/// The plan of the farm.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FarmPlan {
    /// The day it was made for.
    pub today: Date,
    /// Its settings.
    pub settings: PlanSettings,
    /// How it came out.
    pub outcome: PlanOutcome,
    /// In a sentence.
    pub headline: String,
    /// Three-letter code of the currency; empty where the farm named none.
    pub currency: String,
    /// To pay for packs.
    pub to_pay: Decimal,
    /// What the plan for the other aim would cost.
    pub other: Option<OtherAim>,
    /// How good it is known to be.
    pub status: Option<PlanStatus>,
    /// How much cheaper a plan could be at most, %.
    pub gap_percent: f64,
    /// Bed by bed.
    pub beds: Vec<SpreadBed>,
    /// What to buy and what is used from hand.
    pub buy: Vec<BuyLine>,
    /// Needs that clashed, and which gave way, in words.
    pub conflicts: Vec<String>,
    /// What is wanting: prices, analyses, soil tests.
    pub wanted: Vec<String>,
    /// What to beware of.
    pub cautions: Vec<String>,
    /// The steps and choices behind it.
    pub why: Vec<String>,
}

/// A bed's name in the question; two plantings of one bed are told apart by their day.
fn bed_key(need: &BedNeed) -> String {
    match need.planted_on {
        Some(day) => format!("{}, {}, {} of {day}", need.plot_name, need.bed_name, need.crop),
        None => format!("{}, {}", need.plot_name, need.bed_name),
    }
}

/// How near to the least possible cost a plan must be, in percent.
const GAP_PERCENT: f64 = 0.5;

/// The plan. `ask` is told how far the search has come and says whether to go on.
#[must_use]
pub fn farm_plan(
    snapshot: &Snapshot,
    needs: &[BedNeed],
    lime: &Lime,
    settings: PlanSettings,
    today: Date,
    ask: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> FarmPlan {
    let shelf = shelf(snapshot);
    let mut plan = FarmPlan {
        today,
        settings,
        outcome: PlanOutcome::NothingNeeded,
        headline: String::new(),
        currency: snapshot.farm.body.currency.clone().unwrap_or_default(),
        to_pay: Decimal::ZERO,
        other: None,
        status: None,
        gap_percent: 0.0,
        beds: Vec::new(),
        buy: Vec::new(),
        conflicts: Vec::new(),
        wanted: tell::wanted(needs, &shelf),
        cautions: Vec::new(),
        why: Vec::new(),
    };
    if !shelf.iter().any(ShelfLine::usable) {
        plan.outcome = PlanOutcome::EmptyShelf;
    } else if let Some(built) = build(snapshot, needs, lime, &shelf, &settings, today) {
        match solve(built, &mut plan.conflicts, ask) {
            Solved::Plan(built, found) => {
                plan.outcome = PlanOutcome::Planned;
                let other = PlanSettings { aim: settings.aim.other(), ..settings };
                plan.other =
                    build(snapshot, needs, lime, &shelf, &other, today).and_then(|built| {
                        match solve(built, &mut Vec::new(), ask) {
                            Solved::Plan(built, found) => {
                                Some(OtherAim { aim: other.aim, to_pay: bought(&found, &shelf, &built).0 })
                            }
                            _ => None,
                        }
                    });
                fill(&mut plan, snapshot, needs, &shelf, &built, &found);
            }
            Solved::Stopped => plan.outcome = PlanOutcome::Stopped,
            Solved::Impossible => plan.outcome = PlanOutcome::Impossible,
        }
    }
    tell::tell(&mut plan, snapshot.farm.body.units);
    plan
}

enum Solved {
    Plan(Built, BlendPlan),
    Stopped,
    Impossible,
}

fn solve(
    mut built: Built,
    told: &mut Vec<String>,
    ask: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> Solved {
    // Each round lets at least one side give way; a bed has a dozen at most.
    for _ in 0..24 {
        match whole_bag_plan(&built.problem, GapPercent::literal(GAP_PERCENT), ask) {
            Ok(Planned::Plan(plan)) => return Solved::Plan(built, plan),
            Ok(Planned::Conflicts(conflicts)) => {
                told.extend(conflicts.iter().map(|conflict| conflict.words.clone()));
                if !soften::soften(&mut built.problem, &conflicts) {
                    return Solved::Impossible;
                }
            }
            Ok(Planned::Nothing) => return Solved::Stopped,
            // The question is made from checked records; what is refused of it is told.
            Err(refusal) => {
                told.push(refusal.to_string());
                return Solved::Impossible;
            }
        }
    }
    Solved::Impossible
}

/// The buying list, exact to the last digit of the prices.
fn bought(found: &BlendPlan, shelf: &[ShelfLine], built: &Built) -> (Decimal, Vec<(usize, u32, Decimal)>) {
    let lines: Vec<_> = found
        .materials
        .iter()
        .filter_map(|material| {
            let at = built.materials.iter().copied().find(|&at| shelf[at].name == material.name)?;
            let each = shelf[at].price.map_or(Decimal::ZERO, book::model::Price::get);
            Some((at, material.packs, Decimal::from(material.packs) * each))
        })
        .collect();
    (lines.iter().map(|line| line.2).sum(), lines)
}

fn fill(
    plan: &mut FarmPlan,
    snapshot: &Snapshot,
    needs: &[BedNeed],
    shelf: &[ShelfLine],
    built: &Built,
    found: &BlendPlan,
) {
    let units = snapshot.farm.body.units;
    let (to_pay, lines) = bought(found, shelf, built);
    plan.to_pay = to_pay;
    plan.status = Some(found.status);
    plan.gap_percent = found.gap_percent;
    for ((at, packs, price), material) in lines.iter().zip(&found.materials) {
        let line = &shelf[*at];
        plan.buy.push(BuyLine {
            material: line.id,
            name: line.name.clone(),
            packs: *packs,
            pack: line.pack_words.clone(),
            price_each: line.price.map(book::model::Price::get),
            price: *price,
            used_kg: material.used_kg,
            used: mass(material.used_kg, units),
            from_hand: mass(material.from_hand_kg, units),
            left_kg: material.left_kg,
            left: mass(material.left_kg, units),
        });
    }
    plan.buy.sort_by(|a, b| b.packs.min(1).cmp(&a.packs.min(1)).then_with(|| a.name.cmp(&b.name)));
    for (bed, &at) in found.beds.iter().zip(&built.beds) {
        let need = &needs[at];
        let one_pass = need
            .limits
            .iter()
            .find(|limit| limit.of == LimitOf::NitrogenInOnePass)
            .map(|limit| limit.most_g_m2);
        let on_it: Vec<(&ShelfLine, f64)> = bed
            .spread
            .iter()
            .filter_map(|spread| {
                shelf.iter().find(|line| line.name == spread.material).map(|line| (line, spread.kg))
            })
            .collect();
        let each = f64::from(need.beds.max(1));
        let lines = on_it
            .iter()
            .map(|&(line, kg)| SpreadLine {
                material: line.id,
                name: line.name.clone(),
                kg,
                each_kg: kg / each,
                amount: measured(kg / each, line, units),
                // A liquid is told by volume already.
                buckets: (!line.liquid)
                    .then(|| how::carried(kg / each, line.density_kg_m3, &plan.settings))
                    .flatten(),
                how: ground::kit::units::in_units(&how::placing(line, kg, need, one_pass, plan.today), units),
            })
            .collect();
        let only: Vec<&ShelfLine> = on_it.iter().map(|pair| pair.0).collect();
        plan.beds.push(SpreadBed {
            bed: need.bed,
            plot: need.plot,
            planting: need.planting,
            name: format!("{}, {}", need.plot_name, need.bed_name),
            crop: need.crop.clone(),
            planted_on: need.planted_on,
            area_m2: need.area_m2,
            beds: need.beds,
            lines,
            brought: tell::brought(&bed.brought, need.area_m2, units),
            notes: how::warnings(&only),
        });
    }
    let used: Vec<&ShelfLine> = lines.iter().map(|line| &shelf[line.0]).collect();
    plan.cautions = how::cautions(&used);
    plan.why = tell::why(plan, needs, shelf, &used);
    plan.why.extend(tell::satisfied(needs, &built.beds));
}

/// The needs of every bed and its lime, as far as the book tells them. `reports` are those of its plots.
#[must_use]
pub fn farm_wants<'a>(
    snapshot: &Snapshot,
    reports: impl IntoIterator<Item = &'a PlotReport>,
    today: Date,
) -> (Vec<BedNeed>, Lime) {
    let mut needs = Vec::new();
    let mut lime = Lime::default();
    for report in reports {
        needs.extend(plot_needs(snapshot, report.id, std::slice::from_ref(report), today));
        let Some(told) = acidity(snapshot, report, AcidityOptions::default(), today) else { continue };
        if !matches!(told.chosen, Chosen::Method(_)) {
            continue;
        }
        for line in told.beds.iter().filter(|line| line.p80_kg_m2 > 0.0) {
            let ground = line.bed.unwrap_or(told.id);
            lime.wants.push(LimeWant {
                ground,
                median_g_m2: 1000.0 * line.median_kg_m2,
                p80_g_m2: 1000.0 * line.p80_kg_m2,
            });
            if let (false, Some(plot)) =
                (needs.iter().any(|need| need.ground() == ground), snapshot.plot(told.id))
            {
                needs.push(BedNeed::bare(plot, line.bed.and_then(|id| snapshot.bed(id))));
            }
        }
        lime.works.extend(
            told.products
                .iter()
                .filter_map(|line| Some((line.material.shelf()?, line.works_percent / 100.0))),
        );
    }
    (needs, lime)
}
