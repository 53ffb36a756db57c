//! What the laboratory's report says of a plot.

use advice::feeding::lab::{LabReading, lab_reading, tell};
use advice::words::capital;
use askama::Template;
use book::model::EntryId;
use ground::kit::Working;
use serde::Serialize;

use crate::ask::Ask;
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};

/// Addresses of a plot's laboratory report.
pub const ROUTES: &[Route] = &[Route::page(
    "/plots/{plot}/lab",
    "What the laboratory's report says of a plot; ?report= names another than the latest",
    show,
)];

#[derive(Template, Serialize)]
#[template(path = "plot_lab.html")]
struct LabPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(flatten)]
    reading: LabReading,
    #[serde(skip)]
    id: EntryId,
    #[serde(skip)]
    head: Vec<String>,
    #[serde(skip)]
    rows: Vec<RowView>,
    #[serde(skip)]
    exchange: Vec<String>,
    #[serde(skip)]
    recommended: Vec<String>,
    #[serde(skip)]
    nitrate: Option<String>,
    #[serde(skip)]
    others: Vec<(EntryId, String)>,
    /// A report was asked for that is not among those of the plot.
    #[serde(skip)]
    unknown: bool,
    /// The steps of every figure, in one list.
    #[serde(skip)]
    working: Working,
}

/// A figure in a line.
struct RowView {
    what: String,
    procedure: String,
    printed: String,
    others: Vec<String>,
    class: String,
    short: bool,
    known: bool,
}

fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let asked = ask.query.text("report").map(|text| text.parse::<EntryId>());
    let id = asked.as_ref().and_then(|id| id.as_ref().ok()).copied();
    let reading = lab_reading(&snapshot, plot.id, id)
        .ok_or_else(|| Problem::not_found("The report of this plot could not be made."))?;
    let units = ask.units();
    let report = reading.report.as_ref();
    let unknown = asked.is_some() && report.is_none_or(|report| Some(report.id) != id);
    let rows = report.map(|report| &report.figures[..]).unwrap_or_default().iter().map(|figure| RowView {
        what: capital(figure.what),
        procedure: figure.procedure.to_owned(),
        printed: figure.printed.clone(),
        others: figure.in_farm_units.clone(),
        class: capital(&tell::class(figure)),
        short: figure.class.as_ref().is_some_and(|class| !class.enough),
        known: figure.class.is_some(),
    });
    let mut working = report
        .map(|report| &report.figures[..])
        .unwrap_or_default()
        .iter()
        .fold(Working::new(), |working, figure| working.then(figure.working.clone()));
    let exchange = report.and_then(|report| report.exchange.as_ref());
    if let Some(exchange) = exchange {
        working = working.then(exchange.working.clone());
    }
    Shown::page(LabPage {
        shell: ask.shell(Section::Farm, format!("Laboratory report, {}", plot.body.name)),
        id: plot.id,
        head: tell::head(&reading, units),
        rows: rows.collect(),
        exchange: exchange.map(tell::exchange).unwrap_or_default(),
        recommended: report
            .map(|report| report.recommended.iter().map(tell::recommended).collect())
            .unwrap_or_default(),
        nitrate: report.and_then(|report| tell::nitrate(report, units)),
        others: reading
            .others
            .iter()
            .map(|other| (other.id, format!("{}, {}", capital(&other.from), advice::words::day(other.on))))
            .collect(),
        unknown,
        working,
        reading,
    })
}
