//! The farm at a glance: every plot with what it is and how surely, and what wants doing.

use advice::{Attention, AttentionKind, FarmReport, Parted, farm_report_of};
use askama::Template;
use book::model::{EntryId, Farm, FarmCrop, WaterSupply};
use book::{Held, Snapshot};
use ground::kit::units::UnitSystem;
use jiff::Timestamp;
use serde::Serialize;

use crate::ask::Ask;
use crate::jars::{JarUnderWay, under_way};
use crate::pages::plot::belongings::{NoteLine, Thing, notes_on, structure_line};
use crate::pages::watering::{self, TodayLine};
use crate::parts::OddsLine;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::when;
use crate::words;

/// Addresses of this page.
pub const ROUTES: &[Route] = &[Route::page("/", "The farm: every plot, and what wants doing", show)];

/// The farm at a glance.
#[derive(Template, Serialize)]
#[template(path = "farm.html")]
struct FarmPage {
    #[serde(skip)]
    shell: Shell,
    farm: Farm,
    plots: Vec<PlotRow>,
    /// Plots that were parted into zones.
    #[serde(skip)]
    parted: Vec<Parted>,
    attention: Vec<AttentionLine>,
    jars: Vec<JarLine>,
    /// Water today, in a sentence; empty where nothing grows.
    water_says: String,
    water: Vec<TodayLine>,
    next: Option<Next>,
    notes: Vec<NoteLine>,
    structures: Vec<Thing>,
    /// Crops with figures of the farm's own.
    crops: Vec<Thing>,
    /// Where water comes from.
    supplies: Vec<Thing>,
    #[serde(skip)]
    known: usize,
    report: Option<FarmReport>,
}

/// A plot in the table.
#[derive(Serialize)]
struct PlotRow {
    id: EntryId,
    name: String,
    place: &'static str,
    size: String,
    known: bool,
    /// "loam 62 %, sandy loam 31 %".
    make_up: String,
    evidence: usize,
    firm: usize,
    likely: usize,
    open: usize,
    #[serde(skip)]
    thumb: String,
}

/// Something that wants attention, with where to go.
#[derive(Serialize)]
struct AttentionLine {
    kind: AttentionKind,
    plot: EntryId,
    plot_name: String,
    text: String,
    /// What the person can do about it.
    action: &'static str,
    to: String,
}

/// A jar still settling.
#[derive(Serialize)]
struct JarLine {
    #[serde(flatten)]
    jar: JarUnderWay,
    started: String,
    due: String,
    due_from_now: String,
}

/// The measurement worth most.
#[derive(Serialize)]
struct Next {
    plot: EntryId,
    plot_name: String,
    name: &'static str,
    how: &'static str,
    minutes: f64,
    money: String,
    settles: Vec<&'static str>,
    to: String,
}

fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let told = desk.told_all(&snapshot);
    let report = farm_report_of(&snapshot, told.iter().map(|told| &told.report));
    let now = ask.stamp().at;
    let (today, water) = watering::lines(ask, &desk, &snapshot);
    let plots = report
        .plots
        .iter()
        .zip(&told)
        .filter_map(|(line, told)| {
            let plot = snapshot.plot(line.id)?;
            Some(PlotRow {
                id: line.id,
                name: line.name.clone(),
                place: line.place.words(),
                size: words::size(plot.body.shape, ask.units()),
                known: line.make_up_known,
                make_up: make_up(&line.class_odds),
                evidence: line.evidence,
                firm: line.firm,
                likely: line.likely,
                open: line.open,
                thumb: told.thumb.svg.clone(),
            })
        })
        .collect();
    let page = FarmPage {
        shell: ask.shell(Section::Farm, "Plots"),
        farm: snapshot.farm.body.clone(),
        plots,
        parted: report.parted.clone(),
        attention: report.attention.iter().filter_map(attention).collect(),
        jars: under_way(&snapshot, now).into_iter().map(|jar| jar_line(jar, now)).collect(),
        water_says: if water.is_empty() { String::new() } else { today.headline },
        water,
        next: next(&report, &snapshot),
        notes: notes_on(&snapshot, None),
        crops: snapshot.crops.iter().map(crop_line).collect(),
        supplies: snapshot.water_supplies.iter().map(|held| supply_line(held, ask.units())).collect(),
        structures: snapshot
            .structures
            .iter()
            .filter(|held| held.body.plot.is_none())
            .map(|held| structure_line(held, ask.units()))
            .collect(),
        known: report.plots.iter().filter(|line| line.make_up_known).count(),
        report: Some(report),
    };
    Shown::page(page)
}

/// Classes worth naming, likeliest first.
pub(super) fn make_up(odds: &[ground::belief::ClassOdds]) -> String {
    let named: Vec<String> = odds
        .iter()
        .enumerate()
        .filter(|(at, one)| *at == 0 || (*at < 3 && one.odds >= 0.1))
        .map(|(_, one)| format!("{} {}", one.class.name(), OddsLine::new("", one.odds).words()))
        .collect();
    named.join(", ")
}

/// Jars have a list of their own on this page.
fn attention(one: &Attention) -> Option<AttentionLine> {
    let plot = one.plot;
    let finding = |id: Option<&str>| {
        id.map_or_else(|| format!("/plots/{plot}#decisions"), |id| format!("/plots/{plot}/findings/{id}"))
    };
    let (action, to) = match one.kind {
        AttentionKind::JarSettling => return None,
        AttentionKind::Trouble => ("Decide", finding(one.finding)),
        AttentionKind::PutOff => ("Decide again", finding(one.finding)),
        AttentionKind::Contradiction => ("Look at the evidence", format!("/plots/{plot}#evidence")),
        AttentionKind::Unknown => ("Record something", format!("/plots/{plot}/record")),
        AttentionKind::Open => ("See what would settle it", format!("/plots/{plot}#settle")),
    };
    Some(AttentionLine {
        kind: one.kind,
        plot,
        plot_name: one.plot_name.clone(),
        text: one.text.clone(),
        action,
        to,
    })
}

fn jar_line(jar: JarUnderWay, now: Timestamp) -> JarLine {
    let (due, due_from_now) = jar
        .next
        .map_or_else(Default::default, |next| (when::moment(next.due_at), when::from_now(next.due_at, now)));
    JarLine { started: when::moment(jar.started_at), due, due_from_now, jar }
}

fn next(report: &FarmReport, snapshot: &Snapshot) -> Option<Next> {
    let next = report.next.as_ref()?;
    let measurement = &next.measurement;
    Some(Next {
        plot: next.plot,
        plot_name: next.plot_name.clone(),
        name: measurement.name,
        how: measurement.how,
        minutes: measurement.minutes,
        money: money(measurement.cost_money, &snapshot.farm.body),
        settles: measurement.may_settle.iter().take(3).map(|one| one.title).collect(),
        to: format!("/plots/{}/record?for={}", next.plot, measurement.key),
    })
}

/// "no money", "3 USD".
pub(super) fn money(amount: f64, farm: &Farm) -> String {
    if amount <= 0.0 {
        return "no money".to_owned();
    }
    let currency = farm.currency.as_deref().unwrap_or("in your money");
    if amount.fract() == 0.0 { format!("{amount:.0} {currency}") } else { format!("{amount:.2} {currency}") }
}

fn crop_line(held: &Held<FarmCrop>) -> Thing {
    let crop = &held.body;
    let detail = crop.key.as_deref().map_or_else(
        || "with figures of its own".to_owned(),
        |key| format!("after {}", crate::crops::words(key)),
    );
    Thing { id: held.id, name: crop.name.clone(), detail, note: crop.note.clone() }
}

fn supply_line(held: &Held<WaterSupply>, units: UnitSystem) -> Thing {
    let supply = &held.body;
    let mut parts: Vec<String> = Vec::new();
    parts.extend(supply.flow_l_min.map(|flow| crate::form::shown(flow, units)));
    parts.extend(supply.ec_ds_m.map(|ec| crate::form::shown(ec, units)));
    let detail = if parts.is_empty() { "flow not said".to_owned() } else { parts.join(", ") };
    Thing { id: held.id, name: supply.name.clone(), detail, note: supply.note.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ground::belief::ClassOdds;
    use ground::texture::Class;

    #[test]
    fn a_plot_is_named_by_its_likeliest_classes() {
        let odds =
            [(Class::Loam, 0.62), (Class::SandyLoam, 0.31), (Class::SiltLoam, 0.05), (Class::Clay, 0.02)]
                .map(|(class, odds)| ClassOdds { class, odds });
        assert_eq!(make_up(&odds), "loam 62 %, sandy loam 31 %");
        assert_eq!(make_up(&odds[3..]), "clay 2 %");
        assert_eq!(make_up(&[]), "");
    }
}
