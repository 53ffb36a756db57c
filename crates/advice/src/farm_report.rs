//! The farm at a glance: each plot, what needs attention, and the measurement worth most.

use book::model::{Choice, EntryId, Place, Seen};
use book::{Held, Snapshot};
use ground::belief::{ClassOdds, Level};
use ground::kit::Spread;
use ground::kit::sentence::capital;
use ground::texture::Class;
use serde::Serialize;

use crate::farm_jars::FarmJars;
use crate::finding::{Basis, Firmness, Kind};
use crate::plot_report::{Options, PlotReport, plot_report_with};
use crate::settle::Measurement;
use crate::words;

/// Odds of the likeliest class below which a plot's make-up is called open.
const MAKE_UP_OPEN_BELOW: f64 = 0.5;

/// The farm at a glance.
#[derive(Debug, Clone, Serialize)]
pub struct FarmReport {
    /// Its name.
    pub name: String,
    /// Its plots, in the order in which they were first written.
    pub plots: Vec<PlotLine>,
    /// Plots that were parted into zones, which stand among the plots in their stead.
    pub parted: Vec<Parted>,
    /// What needs attention, most pressing first.
    pub attention: Vec<Attention>,
    /// The measurement worth most across the farm, while anything is open.
    pub next: Option<NextMeasurement>,
    /// Pairs of jar and laboratory on the farm.
    pub jar_lab_pairs: usize,
}

/// A plot that was parted into zones.
#[derive(Debug, Clone, Serialize)]
pub struct Parted {
    /// The plot.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// The names of its zones.
    pub zones: Vec<String>,
}

/// One plot in a line.
#[derive(Debug, Clone, Serialize)]
pub struct PlotLine {
    /// The plot.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// What it lies under.
    pub place: Place,
    /// Area in square metres.
    pub area_m2: f64,
    /// Does any evidence speak of its make-up?
    pub make_up_known: bool,
    /// One sentence on what the ground is.
    pub headline: String,
    /// Most likely class; absent while nothing is known, and so below.
    pub class: Option<Class>,
    /// Odds of the classes, most likely first.
    pub class_odds: Vec<ClassOdds>,
    /// Sand.
    pub sand_percent: Option<Spread>,
    /// Silt.
    pub silt_percent: Option<Spread>,
    /// Clay.
    pub clay_percent: Option<Spread>,
    /// Firm findings.
    pub firm: usize,
    /// Likely findings.
    pub likely: usize,
    /// Open findings.
    pub open: usize,
    /// Pieces of evidence used.
    pub evidence: usize,
    /// The measurement worth most on this plot.
    pub next: Option<Measurement>,
}

/// Why something needs attention, most pressing first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum AttentionKind {
    /// Trouble was seen and nothing is decided about it.
    Trouble,
    /// Evidence contradicts itself.
    Contradiction,
    /// A jar is still settling.
    JarSettling,
    /// Nothing is known of a plot.
    Unknown,
    /// A plot's make-up is open.
    Open,
    /// Something was put off.
    PutOff,
}

/// Something that needs attention.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Attention {
    /// Why.
    pub kind: AttentionKind,
    /// The plot.
    pub plot: EntryId,
    /// Its name.
    pub plot_name: String,
    /// The finding, where there is one.
    pub finding: Option<&'static str>,
    /// The observation, where there is one.
    pub observation: Option<EntryId>,
    /// What it is, for the grower.
    pub text: String,
}

/// The measurement worth most across the farm.
#[derive(Debug, Clone, Serialize)]
pub struct NextMeasurement {
    /// On which plot.
    pub plot: EntryId,
    /// Its name.
    pub plot_name: String,
    /// The measurement.
    pub measurement: Measurement,
}

/// Reports on every plot of a farm.
#[must_use]
pub fn plot_reports(snapshot: &Snapshot, options: &Options) -> Vec<PlotReport> {
    let jars = FarmJars::of(snapshot);
    snapshot.plots.iter().map(|plot| plot_report_with(snapshot, plot, &jars, options)).collect()
}

/// Reports on a farm.
#[must_use]
pub fn farm_report(snapshot: &Snapshot, options: &Options) -> FarmReport {
    farm_report_of(snapshot, &plot_reports(snapshot, options))
}

/// Reports on a farm whose plots were reported on already, in any order.
#[must_use]
pub fn farm_report_of<'a>(
    snapshot: &Snapshot,
    reports: impl IntoIterator<Item = &'a PlotReport>,
) -> FarmReport {
    let reports: Vec<&PlotReport> = reports.into_iter().collect();
    let of = |id: EntryId| reports.iter().copied().find(|report| report.id == id);
    let plots: Vec<PlotLine> = snapshot
        .plots
        .iter()
        .filter_map(|plot| Some(line(of(plot.id)?, plot.body.shape.area_m2())))
        .collect();
    let mut attention: Vec<Attention> = snapshot
        .plots
        .iter()
        .filter_map(|plot| of(plot.id))
        .flat_map(|report| troubles(snapshot, report))
        .collect();
    attention.extend(snapshot.running_jars().into_iter().filter_map(|jar| settling(snapshot, jar)));
    // Stable: within a kind the order of the plots stays.
    attention.sort_by_key(|one| one.kind);
    let next =
        plots
            .iter()
            .filter_map(|plot| {
                let measurement = plot.next.clone().filter(|best| best.gain > 0.0)?;
                Some(NextMeasurement { plot: plot.id, plot_name: plot.name.clone(), measurement })
            })
            // The first of equals, so that the order of the plots decides.
            .reduce(|best, other| {
                if other.measurement.gain_per_cost > best.measurement.gain_per_cost { other } else { best }
            });
    FarmReport {
        name: snapshot.farm.body.name.clone(),
        plots,
        parted: snapshot
            .parted
            .iter()
            .map(|whole| Parted {
                id: whole.id,
                name: whole.body.name.clone(),
                zones: snapshot.zones_of(whole.id).map(|zone| zone.body.name.clone()).collect(),
            })
            .collect(),
        attention,
        next,
        jar_lab_pairs: snapshot.jar_lab_pairs().len(),
    }
}

fn line(report: &PlotReport, area_m2: f64) -> PlotLine {
    let count = |firmness| report.findings.iter().filter(|finding| finding.firmness == firmness).count();
    let known = report.make_up_known;
    PlotLine {
        id: report.id,
        name: report.name.clone(),
        place: report.place,
        area_m2,
        make_up_known: known,
        headline: report.headline.clone(),
        class: known.then_some(report.make_up.class),
        class_odds: if known { report.make_up.class_odds.clone() } else { Vec::new() },
        sand_percent: known.then_some(report.make_up.sand_percent),
        silt_percent: known.then_some(report.make_up.silt_percent),
        clay_percent: known.then_some(report.make_up.clay_percent),
        firm: count(Firmness::Firm),
        likely: count(Firmness::Likely),
        open: count(Firmness::Open),
        evidence: report.evidence.iter().filter(|exhibit| exhibit.used).count(),
        next: report.measurements.first().cloned(),
    }
}

fn troubles(snapshot: &Snapshot, report: &PlotReport) -> Vec<Attention> {
    let about = |kind, finding, observation, text| Attention {
        kind,
        plot: report.id,
        plot_name: report.name.clone(),
        finding,
        observation,
        text,
    };
    let mut all = Vec::new();
    for finding in &report.findings {
        match snapshot.decision_on(report.id, finding.id).map(|held| held.body.choice) {
            None if finding.basis == Basis::Seen && finding.kind != Kind::Avoid => {
                all.push(about(AttentionKind::Trouble, Some(finding.id), None, finding.statement.clone()))
            }
            Some(Choice::Postponed) => all.push(about(
                AttentionKind::PutOff,
                Some(finding.id),
                None,
                format!("{} was put off. {}", finding.title, finding.statement),
            )),
            _ => {}
        }
    }
    if let Some(worst) = report.disagreements.first().filter(|one| one.level == Level::Contradicts) {
        all.push(about(
            AttentionKind::Contradiction,
            None,
            worst.id.parse().ok(),
            format!("{} One of them is wrong, or they are not the same ground.", sentence(&worst.sentence)),
        ));
    }
    if !report.make_up_known {
        all.push(about(AttentionKind::Unknown, None, None, report.headline.clone()));
    } else if report.make_up.class_odds.first().is_none_or(|lead| lead.odds < MAKE_UP_OPEN_BELOW) {
        all.push(about(AttentionKind::Open, None, None, report.headline.clone()));
    }
    all
}

/// With a capital and a full stop.
fn sentence(text: &str) -> String {
    let whole = capital(text);
    if whole.ends_with('.') { whole } else { format!("{whole}.") }
}

fn settling(snapshot: &Snapshot, jar: &Held<book::model::Observation>) -> Option<Attention> {
    let plot = snapshot.plot(jar.body.plot)?;
    let Seen::Jar(_) = &jar.body.seen else { return None };
    Some(Attention {
        kind: AttentionKind::JarSettling,
        plot: plot.id,
        plot_name: plot.body.name.clone(),
        finding: None,
        observation: Some(jar.id),
        text: format!(
            "A jar set down on {} is still settling; its marks are not all made.",
            words::day(jar.body.seen_on)
        ),
    })
}
