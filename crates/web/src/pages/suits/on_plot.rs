//! What suits one plot.

use advice::suits::{OnPlot, Unknown, on_plot, tell};
use askama::Template;
use ground::siting::Verdict;
use serde::Serialize;

use super::StandingView;
use crate::ask::Ask;
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

#[derive(Template, Serialize)]
#[template(path = "suits/on_plot.html")]
struct OnPlotPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(flatten)]
    on: OnPlot,
    #[serde(skip)]
    lead: String,
    #[serde(skip)]
    season: Option<String>,
    #[serde(skip)]
    groups: Vec<Group>,
    /// What is not known of the plot: sentence, and where to write it down.
    #[serde(skip)]
    unknown: Vec<(&'static str, String)>,
}

/// The crops of one verdict.
struct Group {
    title: &'static str,
    views: Vec<StandingView>,
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let units = ask.units();
    let (places, told) = super::places_of(&desk, &snapshot);
    let found = places.iter().find(|place| place.id == plot.id);
    let (place, report) =
        found.and_then(|place| Some((place, super::report_of(&told, place)?))).ok_or_else(|| {
            Problem::not_found(
                "What suits this plot could not be worked out: nothing in its ground holds water.",
            )
        })?;
    let on = on_plot(&snapshot, place, &report.report, units);
    let groups = [
        (Verdict::Suits, "What suits"),
        (Verdict::WithWork, "What suits with work"),
        (Verdict::DoesNot, "What does not suit"),
    ]
    .into_iter()
    .map(|(verdict, title)| Group {
        title,
        views: on
            .crops
            .iter()
            .filter(|one| one.cell.verdict == verdict)
            .map(|one| {
                let name = advice::words::capital(&one.crop_name);
                StandingView::of(
                    one,
                    &name,
                    format!("crop-{}", one.crop),
                    on.grown.contains(&one.crop),
                    units,
                )
            })
            .collect(),
    })
    .filter(|group| !group.views.is_empty())
    .collect();
    Shown::page(OnPlotPage {
        shell: ask.shell(Section::Farm, format!("What suits {}", plot.body.name)),
        lead: tell::plot_lead(&on),
        season: tell::season_line(place),
        groups,
        unknown: place
            .unknown
            .iter()
            .map(|unknown: &Unknown| (unknown.settle(), unknown.address(plot.id)))
            .collect(),
        on,
    })
}
