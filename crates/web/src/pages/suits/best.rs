//! The best place for a crop.

use advice::suits::{BestPlace, best_place, tell};
use askama::Template;
use serde::Serialize;

use super::StandingView;
use crate::ask::Ask;
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

#[derive(Template, Serialize)]
#[template(path = "suits/best.html")]
struct BestPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(flatten)]
    best: BestPlace,
    #[serde(skip)]
    name: String,
    #[serde(skip)]
    lead: String,
    #[serde(skip)]
    asks_for: Vec<String>,
    #[serde(skip)]
    views: Vec<StandingView>,
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let needs = crate::crops::key("crop", ask.param("crop"), None)
        .and_then(|key| ground::siting::needs_of(&key))
        .map_err(|refusal| Problem::not_found(refusal.message))?;
    let units = ask.units();
    let (places, told) = super::places_of(&desk, &snapshot);
    let with_reports: Vec<_> =
        places.iter().filter_map(|place| Some((place, super::report_of(&told, place)?))).collect();
    let best =
        best_place(&snapshot, needs, with_reports.iter().map(|(place, told)| (*place, &told.report)), units);
    Shown::page(BestPage {
        shell: ask.shell(Section::Farm, format!("The best place for {}", needs.name)),
        name: needs.name.clone(),
        lead: tell::best_lead(&best),
        asks_for: tell::asks_for(needs, units),
        views: best
            .places
            .iter()
            .map(|one| {
                StandingView::of(one, &one.cell.plot_name, format!("plot-{}", one.cell.plot), false, units)
            })
            .collect(),
        best,
    })
}
