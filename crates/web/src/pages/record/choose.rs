//! Choosing the plot, and what to record on it.

use askama::Template;
use book::model::EntryId;
use serde::Serialize;

use super::kinds::{KINDS, Kind};
use crate::ask::Ask;
use crate::jars::{JarUnderWay, under_way};
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::when;

/// Jars that still settle, and the plots.
#[derive(Template, Serialize)]
#[template(path = "record/plots.html")]
struct PlotsPage {
    #[serde(skip)]
    shell: Shell,
    jars: Vec<JarLine>,
    plots: Vec<PlotLine>,
}

/// What can be recorded on a plot.
#[derive(Template, Serialize)]
#[template(path = "record/kinds.html")]
struct KindsPage {
    #[serde(skip)]
    shell: Shell,
    plot: EntryId,
    plot_name: String,
    jars: Vec<JarLine>,
    /// What a plot page sent one here for, on top.
    wanted: Option<&'static Kind>,
    kinds: Vec<&'static Kind>,
}

#[derive(Serialize)]
struct PlotLine {
    id: EntryId,
    name: String,
    /// Pieces of evidence.
    evidence: usize,
}

/// A jar still settling.
#[derive(Serialize)]
struct JarLine {
    #[serde(flatten)]
    jar: JarUnderWay,
    #[serde(skip)]
    started: String,
    #[serde(skip)]
    due: String,
    #[serde(skip)]
    due_from_now: String,
}

fn jar_lines(ask: &Ask, snapshot: &book::Snapshot, plot: Option<EntryId>) -> Vec<JarLine> {
    let now = ask.stamp().at;
    under_way(snapshot, now)
        .into_iter()
        .filter(|jar| plot.is_none_or(|plot| plot == jar.plot))
        .map(|jar| JarLine {
            started: when::moment(jar.started_at),
            due: jar.next.map(|next| when::due(jar.started_at, next.due_at)).unwrap_or_default(),
            due_from_now: jar.next.map(|next| when::from_now(next.due_at, now)).unwrap_or_default(),
            jar,
        })
        .collect()
}

pub(super) fn plots(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plots = snapshot
        .plots
        .iter()
        .map(|plot| PlotLine {
            id: plot.id,
            name: plot.body.name.clone(),
            evidence: snapshot.evidence(plot.id).count(),
        })
        .collect();
    Shown::page(PlotsPage {
        shell: ask.shell(Section::Record, "Record what you saw"),
        jars: jar_lines(ask, &snapshot, None),
        plots,
    })
}

pub(super) fn kinds(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let wanted = ask.query.text("for").and_then(|key| KINDS.into_iter().find(|kind| kind.key == key));
    Shown::page(KindsPage {
        shell: ask.shell(Section::Record, format!("Record on {}", plot.body.name)),
        plot: plot.id,
        plot_name: plot.body.name.clone(),
        jars: jar_lines(ask, &snapshot, Some(plot.id)),
        wanted,
        kinds: KINDS.into_iter().filter(|kind| wanted.is_none_or(|wanted| wanted.key != kind.key)).collect(),
    })
}
