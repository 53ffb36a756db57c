//! The structure of a plot: loosen or not, where the pan lies, and when it may be worked.

use std::sync::Arc;

use advice::structure::decision::Tools;
use advice::structure::tell::{self, Sentences};
use advice::structure::{StructureReport, structure};
use askama::Template;
use book::model::EntryId;
use figures::Figure;
use ground::kit::units::{Dimension, UnitSystem, typed};
use ground::kit::{Bounded, Refusal};
use ground::structure::loosening::method::ToolReach;
use serde::{Serialize, Serializer};

use super::record::look_soil;
use crate::ask::Ask;
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
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
    broadfork: Tool,
    #[serde(skip)]
    subsoiler: Tool,
}

/// The reach of a tool as it was typed.
struct Tool {
    text: String,
    cm: Option<f64>,
    refused: Option<String>,
}

impl Tool {
    /// What the address says; a field left empty, or none, is no tool.
    fn asked(ask: &Ask, name: &str, usual: Option<f64>) -> Self {
        let units = ask.units();
        match ask.query.text(name).map(str::trim) {
            None => {
                let text = usual.map_or_else(String::new, |cm| advice::words::depth(cm, units));
                Self { text, cm: usual, refused: None }
            }
            Some("" | "none") => Self { text: "none".to_owned(), cm: None, refused: None },
            Some(text) => {
                let read: Result<ToolReach, Refusal> = typed(name, text, Dimension::Depth.unit(units));
                match read {
                    Ok(reach) => Self { text: text.to_owned(), cm: Some(reach.get()), refused: None },
                    Err(refusal) => Self {
                        text: text.to_owned(),
                        cm: usual,
                        refused: Some(refusal.in_units(units).message),
                    },
                }
            }
        }
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
    let usual = Tools::default();
    let broadfork = Tool::asked(ask, "broadfork", usual.broadfork_cm);
    let subsoiler = Tool::asked(ask, "subsoiler", usual.subsoiler_cm);
    let tools = Tools { broadfork_cm: broadfork.cm, subsoiler_cm: subsoiler.cm };
    let key = format!("structure of {} on {today}, {tools:?}", plot.id);
    let report = desk
        .derived(&snapshot, &key, |snapshot| structure(snapshot, &told.report, tools, today).map(Arc::new));
    let report = (*report)
        .clone()
        .ok_or_else(|| Problem::not_found("The structure of this plot could not be worked out."))?;
    Shown::page(StructurePage {
        shell: ask.shell(Section::Farm, format!("Structure, {}", plot.body.name)),
        id: plot.id,
        said: tell::sentences(&report, units),
        chart: chart(&report, units),
        cautions: tell::cautions(&report, units),
        broadfork,
        subsoiler,
        report,
    })
}

fn chart(report: &StructureReport, units: UnitSystem) -> Option<Figure> {
    let transect = report.transect.as_ref()?;
    look_soil::chart("probe-chart", &transect.seen, &transect.found, units).ok()
}
