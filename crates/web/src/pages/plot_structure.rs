//! The structure of a plot: loosen or not, where the pan lies, and when it may be worked.

use std::sync::Arc;

use advice::structure::decision::Tools;
use advice::structure::tell::{self, Sentences};
use advice::structure::{StructureReport, structure};
use askama::Template;
use book::model::EntryId;
use figures::Figure;
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem};
use ground::structure::loosening::method::ToolReach;
use serde::{Serialize, Serializer};

use super::record::look_soil;
use crate::ask::Ask;
use crate::form::{Field, Form, Reader};
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::typed::Typed;
use crate::when;

/// Addresses of a plot's structure.
pub const ROUTES: &[Route] = &[Route::page(
    "/plots/{plot}/structure",
    "The structure of a plot and whether to loosen it: ?broadfork= and ?subsoiler= are how deep the tools at hand reach, or none",
    show,
)];

#[derive(Template, Serialize)]
#[template(path = "plot_structure.html")]
struct StructurePage {
    #[serde(skip)]
    shell: Shell,
    #[serde(serialize_with = "inside", flatten)]
    report: Arc<StructureReport>,
    #[serde(skip)]
    id: EntryId,
    #[serde(skip)]
    said: Sentences,
    #[serde(skip)]
    chart: Option<Figure>,
    #[serde(skip)]
    cautions: Vec<String>,
    #[serde(skip)]
    form: Form,
}

const FIELDS: &[Field] = &[
    Field::measure("broadfork", "Depth that your broadfork reaches", "Or none", Dimension::Depth).optional(),
    Field::measure("subsoiler", "Depth that shanks at hand reach", "Or none", Dimension::Depth).optional(),
];

/// The reach of a tool: what the query says, the usual one where it says nothing; a field left empty, or none, is no tool.
fn reach(read: &mut Reader<'_>, typed: &Typed, name: &str, usual: Option<f64>) -> Option<f64> {
    match typed.get(name).map(str::trim) {
        None => usual,
        Some("" | "none") => None,
        Some(_) => read.measure(name).map(ToolReach::get),
    }
}

fn inside<S: Serializer>(kept: &Arc<StructureReport>, serializer: S) -> Result<S::Ok, S::Error> {
    kept.serialize(serializer)
}

fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let told = desk
        .told(&snapshot, plot.id)
        .ok_or_else(|| Problem::not_found("The report on this plot could not be made."))?;
    let today = when::day_of(ask.stamp().at);
    let units = ask.units();
    let page = |tools: Tools, form: Form| -> Result<StructurePage, Problem> {
        let key = format!("structure of {} on {today}, {tools:?}", plot.id);
        let report = desk.derived(&snapshot, &key, |snapshot| {
            structure(snapshot, &told.report, tools, today).map(Arc::new)
        });
        let report = (*report)
            .clone()
            .ok_or_else(|| Problem::not_found("The structure of this plot could not be worked out."))?;
        Ok(StructurePage {
            shell: ask.shell(Section::Farm, format!("Structure, {}", plot.body.name)),
            id: plot.id,
            said: tell::sentences(&report, units),
            chart: chart(&report, units),
            cautions: tell::cautions(&report, units),
            form,
            report,
        })
    };
    let usual = Tools::default();
    let mut read = Reader::new(FIELDS, units, &ask.query);
    let tools = Tools {
        broadfork_cm: reach(&mut read, &ask.query, "broadfork", usual.broadfork_cm),
        subsoiler_cm: reach(&mut read, &ask.query, "subsoiler", usual.subsoiler_cm),
    };
    if read.is_refused() {
        let shown = page(usual, Form::default())?;
        return Err(read.refused(|form| StructurePage { shell: shown.shell.refused(), form, ..shown }));
    }
    let words = |cm: Option<f64>| cm.map_or_else(|| "none".to_owned(), |cm| advice::words::depth(cm, units));
    let form = ask
        .form_from_query(FIELDS)
        .with("broadfork", words(tools.broadfork_cm))
        .with("subsoiler", words(tools.subsoiler_cm));
    Shown::page(page(tools, form)?)
}

fn chart(report: &StructureReport, units: UnitSystem) -> Option<Figure> {
    let transect = report.transect.as_ref()?;
    look_soil::chart("probe-chart", &transect.seen, &transect.found, units).ok()
}
