//! What to spread: a job for each bed of the plan of whole bags.

use std::collections::BTreeSet;

use book::Snapshot;
use book::model::{EntryId, Placed, SpreadMaterial};
use ground::fertility::blend::catalogue::MaterialKind;
use ground::kit::Working;
use ground::kit::quantity::number;
use jiff::ToSpan;

use super::job::{Job, Source, Spread, Topic, Window};
use super::season::Season;
use crate::feeding::plan::{FarmPlan, SpreadBed, SpreadLine};
use crate::feeding::shelf::shelf;
use crate::words;

/// Weeks before planting in which compost, meals and fertilizers go on. Common practice.
const BEFORE_PLANTING_WEEKS: i64 = 3;
/// Weeks after today in which a standing crop is fed. Common practice.
const STANDING_WEEKS: i64 = 3;

/// The jobs of a plan. Lime is left to its own job where `limed` names the bed, or the plot without beds: it waits for other days.
pub(super) fn jobs(
    snapshot: &Snapshot,
    plan: &FarmPlan,
    limed: &BTreeSet<EntryId>,
    season: &Season,
) -> Vec<Job> {
    let liming: BTreeSet<EntryId> = shelf(snapshot)
        .into_iter()
        .filter(|line| line.kind == MaterialKind::Liming)
        .map(|line| line.id)
        .collect();
    plan.beds
        .iter()
        .filter_map(|bed| {
            let lines: Vec<&SpreadLine> = bed
                .lines
                .iter()
                .filter(|line| !(limed.contains(&bed.ground()) && liming.contains(&line.material)))
                .collect();
            (!lines.is_empty()).then(|| of_bed(snapshot, plan, bed, &lines, season))
        })
        .collect()
}

fn of_bed(
    snapshot: &Snapshot,
    plan: &FarmPlan,
    bed: &SpreadBed,
    lines: &[&SpreadLine],
    season: &Season,
) -> Job {
    let standing = bed.stands(season.today);
    let (window, key, what) = match (bed.planting, bed.planted_on) {
        (Some(planting), Some(planted_on)) => (
            if standing {
                Window::between(
                    season.today,
                    Season::weeks(season.today, STANDING_WEEKS),
                    format!(
                        "{} stands since {}: what it still needs is given beside the plants and watered in.",
                        words::capital(&bed.crop),
                        words::day(planted_on)
                    ),
                )
            } else {
                let from = planted_on.saturating_sub(BEFORE_PLANTING_WEEKS.weeks()).max(season.today);
                Window::between(from, planted_on, "Before planting, on ground that can be worked.")
            },
            format!("spread.{}.{planting}", bed.ground()),
            format!("Feed {}", bed.crop),
        ),
        _ => {
            let (from, to) = season.autumn_work();
            (
                Window::between(from, to, "While the bed is bare and can be worked."),
                format!("spread.{}.{}", bed.ground(), season.year),
                (if bed.bed.is_some() { "Lime the bare bed" } else { "Lime the plot" }).to_owned(),
            )
        }
    };
    let plot = snapshot.plot(bed.plot).map_or("", |plot| plot.body.name.as_str());
    let held = bed.bed.and_then(|id| snapshot.bed(id));
    let name = held.map_or(bed.name.as_str(), |held| held.body.name.as_str());
    let mut job = Job::new(key, Topic::Feeding, what, Source::SpreadPlan).on_plot(bed.plot, plot);
    if let Some(held) = held {
        job = job.on_bed(held.id, name);
    }
    job.window = window;
    job.spread = lines
        .iter()
        .map(|line| Spread {
            material: SpreadMaterial::Shelf(line.material),
            name: line.name.clone(),
            kg: line.kg,
            placed: if standing { Placed::SideDressed } else { Placed::Incorporated },
            carried: if bed.beds > 1 {
                format!("{} of {} on each of {} beds", line.amount, line.name, bed.beds)
            } else {
                format!("{} of {}", line.amount, line.name)
            },
            buckets: line.buckets.clone().unwrap_or_default(),
        })
        .collect();
    for line in lines {
        job = job.because(format!("{}: {}", line.name, line.how));
    }
    job.reasons.extend(bed.notes.iter().cloned());
    job.cautions.clone_from(&plan.cautions);
    let mut working = Working::new();
    for one in &bed.brought {
        working = working.step(
            format!("{} brought to {name}", one.words),
            "mass of each material × its share, over the area",
            format!(
                "wanted {} g/m²{}",
                number(round(one.target_g_m2)),
                one.at_most_g_m2
                    .map(|most| format!(", at most {} g/m²", number(round(most))))
                    .unwrap_or_default()
            ),
            format!("{} g/m²", number(round(one.g_m2))),
        );
    }
    job.worked(working)
}

/// To a hundredth, as a person reads it.
fn round(value: f64) -> f64 {
    (100.0 * value).round() / 100.0
}
