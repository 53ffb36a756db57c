//! `/maps/{property}`: readings at their places, and a surface where there may be one.

use std::sync::Arc;

use advice::maps::tell::{self, Sentences};
use advice::maps::{MapReport, Property};
use askama::Template;
use book::Snapshot;
use book::model::EntryId;
use figures::plan::PlanSize;
use report::{MapPictures, map_pictures};
use serde::{Serialize, Serializer};

use super::{property, reported};
use crate::ask::Ask;
use crate::form::{Field, Form};
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

/// What a map can be narrowed to.
const FILTER: &[Field] =
    &[Field::pick("plot", "Plot", "The whole farm where none is chosen", &[]).optional()];

#[derive(Template, Serialize)]
#[template(path = "maps/map.html")]
struct MapPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(serialize_with = "inside", flatten)]
    report: Arc<MapReport>,
    #[serde(skip)]
    said: Sentences,
    #[serde(skip)]
    pictures: MapPictures,
    #[serde(skip)]
    plots: Vec<PlotView>,
    #[serde(skip)]
    query: String,
    #[serde(skip)]
    zones: Option<EntryId>,
    #[serde(skip)]
    joined: bool,
    #[serde(skip)]
    made_by: &'static str,
    #[serde(skip)]
    form: Form,
}

struct PlotView {
    plot: EntryId,
    name: String,
    words: String,
    mapped: bool,
}

fn inside<S: Serializer>(kept: &Arc<MapReport>, serializer: S) -> Result<S::Ok, S::Error> {
    kept.serialize(serializer)
}

/// The plot that `?plot=` names, if any.
pub(crate) fn asked_plot(ask: &Ask, snapshot: &Snapshot) -> Result<Option<EntryId>, Problem> {
    let Some(text) = ask.query.text("plot").map(str::trim).filter(|text| !text.is_empty()) else {
        return Ok(None);
    };
    let found = text.parse().ok().and_then(|id| snapshot.plot(id)).map(|plot| plot.id);
    found
        .map(Some)
        .ok_or_else(|| Problem::not_found("This book has no such plot. It may have been withdrawn."))
}

/// The report that an address asks for.
pub(crate) fn report_of(ask: &Ask, snapshot: &Snapshot) -> Result<Arc<MapReport>, Problem> {
    reported(ask, snapshot, property(ask)?, asked_plot(ask, snapshot)?)
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let report = report_of(ask, &snapshot)?;
    let units = ask.units();
    let key = format!("pictures of {} on {:?} in {units:?}", report.property.key(), report.plot);
    let drawn = Arc::clone(&report);
    let pictures = ask
        .desk()?
        .derived(&snapshot, &key, move |snapshot| map_pictures(&drawn, snapshot, units, PlanSize::Phone));
    let form = ask
        .form_from_query(FILTER)
        .choices("plot", snapshot.plots.iter().map(|plot| (plot.id.to_string(), plot.body.name.clone())));
    let plots = report
        .plots
        .iter()
        .map(|told| PlotView {
            plot: told.plot,
            name: told.name.clone(),
            words: tell::plot_words(&report, told, units),
            mapped: told.at_places > 0 && report.plot != Some(told.plot),
        })
        .collect();
    let made_by = match &report.surface {
        _ if report.property.is_texture() => "texture-surface",
        Some(surface) if surface.supposed => "prior-surface",
        _ => "ordinary-kriging",
    };
    let may_part = report.surface.is_some() && report.property != Property::Class;
    Shown::page(MapPage {
        shell: ask.shell(Section::Farm, format!("Map of {}, {}", report.property.words(), report.name)),
        said: tell::sentences(&report, units),
        pictures: (*pictures).clone(),
        plots,
        query: report.plot.map_or_else(String::new, |plot| format!("?plot={plot}")),
        zones: report.plot.filter(|_| may_part),
        joined: report.plot.is_some_and(|plot| snapshot.is_parted(plot)),
        made_by,
        form,
        report,
    })
}
