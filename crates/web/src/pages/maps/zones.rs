//! `/maps/{property}/zones`: zones of a plot, to be taken as plots or left.

use std::sync::Arc;

use advice::maps::{MapReport, ZonesTold, accept, back_to_one, not_parted, suggested, tell, zones};
use advice::plan::FarmPlan;
use askama::Template;
use book::model::EntryId;
use figures::Figure;
use figures::plan::PlanSize;
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem, show as shown};
use report::zones_picture;
use serde::Serialize;

use super::{asked_plot, property, reported};
use crate::ask::Ask;
use crate::form::{Choice, Field, Form};
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

pub(super) const FIELDS: &[Field] = &[
    Field::text("plot", "Plot", "Its id"),
    Field::pick(
        "count",
        "Number of zones",
        "",
        &[Choice::new("2", "Two"), Choice::new("3", "Three"), Choice::new("4", "Four")],
    ),
];

#[derive(Template, Serialize)]
#[template(path = "maps/zones.html")]
struct ZonesPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(flatten)]
    zones: ZonesTold,
    /// The number of zones that the readings speak for; none where two are no better than one.
    suggested: Option<usize>,
    #[serde(skip)]
    said: Vec<String>,
    #[serde(skip)]
    rows: Vec<Row>,
    #[serde(skip)]
    picture: Figure,
    #[serde(skip)]
    form: Form,
}

struct Row {
    number: usize,
    mean: String,
    area: String,
    readings: usize,
}

fn page(ask: &Ask, plot: EntryId, count: Option<usize>, form: Form) -> Result<ZonesPage, Problem> {
    let snapshot = ask.snapshot()?;
    not_parted(&snapshot, plot)?;
    let report = reported(ask, &snapshot, property(ask)?, Some(plot))?;
    let key = format!("number of zones of {} on {plot}", report.property.key());
    let again = Arc::clone(&report);
    let suggested =
        *ask.desk()?.derived(&snapshot, &key, move |snapshot| suggested(&again, &FarmPlan::of(snapshot)));
    let plan = FarmPlan::of(&snapshot);
    let told = told(&report, &plan, count.or(suggested).unwrap_or(2))?;
    let units = ask.units();
    let shell = ask.shell(Section::Farm, format!("Zones of {}", told.plot_name));
    Ok(ZonesPage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        said: tell::zones(&told, units),
        rows: rows(&report, &told, units),
        picture: zones_picture(&plan, &report, &told, units, PlanSize::Phone),
        suggested,
        form: form.with("plot", plot.to_string()).with("count", told.zones.len().to_string()),
        zones: told,
    })
}

fn told(report: &MapReport, plan: &FarmPlan, count: usize) -> Result<ZonesTold, Problem> {
    zones(report, plan, count).ok_or_else(|| {
        Problem::not_found(
            "Zones are made from a surface of figures, and this plot has none of this property: its map says why.",
        )
    })
}

fn rows(report: &MapReport, told: &ZonesTold, units: UnitSystem) -> Vec<Row> {
    told.zones
        .iter()
        .map(|zone| Row {
            number: zone.number,
            mean: tell::figure(report.property, &report.values.unit, zone.mean, units),
            area: shown(zone.area_m2, Dimension::Area, units),
            readings: zone.readings,
        })
        .collect()
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = asked_plot(ask, &snapshot)?
        .ok_or_else(|| Problem::not_found("Say which plot: zones are made of one plot at a time."))?;
    let count = match ask.query.text("count").map(str::trim) {
        None | Some("") => None,
        Some(text) => Some(counted(text)?),
    };
    Shown::page(page(ask, plot, count, ask.form(FIELDS))?)
}

fn counted(text: &str) -> Result<usize, Problem> {
    match text.parse::<usize>() {
        Ok(count) if (2..=4).contains(&count) => Ok(count),
        _ => Err(Refusal::new("count", format!("{text:?} zones cannot be made"))
            .given(text)
            .accepted("2, 3 or 4 zones")
            .example("2")
            .into()),
    }
}

pub(super) fn save(ask: &Ask) -> Outcome {
    let mut read = ask.reader(FIELDS);
    let plot = read.entry("plot");
    let count = read.choice("count").map(str::to_owned);
    let snapshot = ask.snapshot()?;
    let Some(plot) = plot.filter(|id| snapshot.plot(*id).is_some()) else {
        return Err(Problem::not_found("This book has no such plot. It may have been withdrawn."));
    };
    let count = count.map(|text| counted(&text)).transpose()?;
    let blank = page(ask, plot, count, Form::default())?;
    let chosen = blank.zones.clone();
    let again = |form: Form| ZonesPage { shell: blank.shell.clone().refused(), form, ..blank };
    if read.is_refused() {
        return Err(read.refused(again));
    }
    let written = ask.write(|book, stamp| {
        let snapshot = book.snapshot()?;
        accept(book, &snapshot, &chosen, stamp)
    })?;
    let plots = read.kept(written, again)?;
    Shown::kept(format!("/plots/{plot}?done=kept"), plots)
}

pub(super) fn join(ask: &Ask) -> Outcome {
    let mut read = ask.reader(super::JOIN);
    let snapshot = ask.snapshot()?;
    let Some(plot) = read.entry("plot").filter(|id| snapshot.plot(*id).is_some()) else {
        return Err(Problem::not_found("This book has no such plot. It may have been withdrawn."));
    };
    let moved = ask.write(|book, stamp| {
        let snapshot = book.snapshot()?;
        back_to_one(book, &snapshot, plot, stamp)
    })??;
    Shown::kept(format!("/plots/{plot}?done=corrected"), moved)
}
