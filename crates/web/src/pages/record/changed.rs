//! What a record changed: the odds, the water and the findings with it and without it.

use std::collections::BTreeMap;

use advice::{Options, PlotReport, plot_report};
use askama::Template;
use book::Snapshot;
use book::model::{Body, EntryId, Observation};
use ground::kit::units::UnitSystem;
use ground::texture::Class;
use serde::Serialize;

use super::look;
use crate::desk::Desk;
use crate::parts::OddsLine;
use crate::words;

/// What a record changed on its plot.
#[derive(Debug, Serialize, Template)]
#[template(path = "record/changed.html")]
pub(crate) struct Changed {
    /// "Jar test of 3 May 2025".
    pub(crate) what: String,
    pub(crate) plot: EntryId,
    /// "Loam was 41 %, now 63 %; sandy loam was 30 %, now 20 %."
    pub(crate) sentence: String,
    /// Findings that hold more or less surely than before.
    pub(crate) findings: Vec<String>,
    /// What to know beside the reading, most important first.
    pub(crate) notes: Vec<String>,
}

impl askama::filters::HtmlSafe for Changed {}

/// Odds that moved less than this are not spoken of.
const WORTH_TELLING: f64 = 0.01;
/// Classes and findings that are named.
const CLASSES: usize = 3;
const FINDINGS: usize = 5;

/// What the record `id` changed on `plot`: against its own earlier version where it was corrected,
/// else against not having been made. `None` when it is no observation on that plot.
pub(crate) fn changed(
    desk: &Desk,
    snapshot: &Snapshot,
    plot: EntryId,
    id: EntryId,
    units: UnitSystem,
) -> Option<Changed> {
    let held = snapshot.observation(id).filter(|held| held.body.plot == plot)?;
    let earlier = earlier(desk, id, held.number, &held.body);
    let options = Options { weigh_measurements: false, ..Options::default() };
    let before = plot_report(&snapshot.supposing(id, earlier), plot, &options)?;
    let told = desk.told(snapshot, plot)?;
    let after = &told.report;
    let exhibit = after.evidence.iter().find(|exhibit| exhibit.id == id);
    let mut notes: Vec<String> = exhibit
        .map(|exhibit| exhibit.remark.clone())
        .filter(|remark| !remark.is_empty())
        .into_iter()
        .collect();
    if let Ok(Some(look)) = look::of(&held.body.seen, snapshot, plot, units) {
        notes.extend(look.notes);
    }
    Some(Changed {
        what: crate::problem::capital(&words::titled(&held.body.clone().into())),
        plot,
        sentence: sentence(&before, after, units),
        findings: findings(&before, after),
        notes,
    })
}

/// What the record said before. The marks and the end of one jar are one recording, so a jar just
/// finished is told against no jar at all.
fn earlier(desk: &Desk, id: EntryId, number: u32, now: &Observation) -> Option<Observation> {
    if number < 2 {
        return None;
    }
    let history = desk.book().history(id).ok()?;
    let before =
        history.into_iter().rev().find(|revision| revision.number < number && !revision.withdrawn)?;
    match before.body {
        Body::Observation(before) if !settling(&before) || settling(now) => Some(before),
        _ => None,
    }
}

fn settling(observation: &Observation) -> bool {
    matches!(&observation.seen, book::model::Seen::Jar(jar) if !jar.finished)
}

fn sentence(before: &PlotReport, after: &PlotReport, units: UnitSystem) -> String {
    let water = water(before, after, units);
    let text = match (before.make_up_known, after.make_up_known) {
        (false, true) => {
            let named: Vec<String> = after
                .make_up
                .class_odds
                .iter()
                .take(CLASSES)
                .filter(|one| one.odds >= WORTH_TELLING)
                .map(|one| format!("{} {}", one.class.name(), OddsLine::new("", one.odds).words()))
                .collect();
            format!("Nothing was known of this ground. Now the odds are {}.", named.join(", "))
        }
        (true, false) => "Nothing is known of the make-up any more.".to_owned(),
        (false, false) => "Nothing is known of the make-up yet.".to_owned(),
        (true, true) => moved(before, after),
    };
    if water.is_empty() { text } else { format!("{text} {water}") }
}

/// "Loam was 41 %, now 63 %; sandy loam was 30 %, now 20 %."
fn moved(before: &PlotReport, after: &PlotReport) -> String {
    let mut odds: BTreeMap<Class, (f64, f64)> = BTreeMap::new();
    for one in &before.make_up.class_odds {
        odds.entry(one.class).or_default().0 = one.odds;
    }
    for one in &after.make_up.class_odds {
        odds.entry(one.class).or_default().1 = one.odds;
    }
    let mut odds: Vec<(Class, (f64, f64))> = odds.into_iter().collect();
    odds.sort_by(|a, b| b.1.0.max(b.1.1).total_cmp(&a.1.0.max(a.1.1)));
    if odds.iter().all(|(_, (was, is))| (was - is).abs() < WORTH_TELLING) {
        return "The odds of the texture classes stay as they were.".to_owned();
    }
    let words = |share: f64| OddsLine::new("", share).words();
    let told: Vec<String> = odds
        .into_iter()
        .take(CLASSES)
        .map(|(class, (was, is))| format!("{} was {}, now {}", class.name(), words(was), words(is)))
        .collect();
    format!("{}.", crate::problem::capital(&told.join("; ")))
}

/// "Available water was 1.6 in per foot, now 1.8."
fn water(before: &PlotReport, after: &PlotReport, units: UnitSystem) -> String {
    let held = |report: &PlotReport| {
        let spread = report.water.available_water_m3_m3.filter(|_| report.make_up_known)?;
        Some(advice::words::water_held(spread.median, units))
    };
    match (held(before), held(after)) {
        (Some(was), Some(is)) if was != is => format!("Available water was {was}, now {is}."),
        _ => String::new(),
    }
}

fn findings(before: &PlotReport, after: &PlotReport) -> Vec<String> {
    let mut told = Vec::new();
    for finding in &after.findings {
        let was = before.findings.iter().find(|other| other.id == finding.id);
        let now = finding.firmness.words();
        match was {
            Some(was) if was.verdict == finding.verdict && was.firmness == finding.firmness => {}
            Some(was) if was.verdict == finding.verdict => {
                told.push(format!("{}: was {}, now {now}", finding.title, was.firmness.words()));
            }
            // On ground of which nothing was known everything is new; only what is settled is told.
            None if !before.make_up_known && finding.firmness == advice::Firmness::Open => {}
            _ => told.push(format!("{}: {now}", finding.title)),
        }
    }
    told.truncate(FINDINGS);
    told
}
