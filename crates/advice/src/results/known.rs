//! What the book holds of a bag or a point already, so that nobody stores a second figure beside it unawares.

use book::Snapshot;
use book::model::seen::SalinityExtract;
use book::model::{EntryId, Seen, Spot};
use ground::fertility::analysis::report::{LabFigure, LabReport, Procedure};
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem, show};
use ground::texture::feel::FeelReading;
use jiff::civil::Date;
use serde::Serialize;

use super::Column;

/// A figure of a bag that stands in the book.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KnownFigure {
    /// What was read, and what came out: "pH in water 6.4".
    pub words: String,
    /// The record it stands in.
    pub record: EntryId,
    /// Of which day.
    #[serde(serialize_with = "day")]
    pub on: Date,
}

fn day<S: serde::Serializer>(date: &Date, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(date)
}

/// The figures of a bag, or of a point that was read in place, in the order of the book.
#[must_use]
pub fn known_figures(
    snapshot: &Snapshot,
    sample: Option<EntryId>,
    spot: Option<Spot>,
    units: UnitSystem,
) -> Vec<KnownFigure> {
    let of = |one: &book::model::Observation| match one.sample {
        Some(bag) => sample == Some(bag),
        None => spot.is_some() && one.spot == spot,
    };
    snapshot
        .observations
        .iter()
        .filter(|held| of(&held.body))
        .flat_map(|held| {
            words(&held.body.seen, units).into_iter().map(|words| KnownFigure {
                words,
                record: held.id,
                on: held.body.seen_on,
            })
        })
        .collect()
}

/// What a reading says, a text a figure.
fn words(seen: &Seen, units: UnitSystem) -> Vec<String> {
    match seen {
        Seen::Feel(feel) => vec![format!("feel: {}", felt(feel, units))],
        Seen::OrganicMatter(found) => vec![format!("organic matter {} %", found.percent.get())],
        Seen::Salinity(salts) => vec![format!("conductivity {} dS/m", salts.ec_ds_m.get())],
        Seen::LabTexture(of) => vec![format!(
            "sand {} %, silt {} %, clay {} %",
            of.sand_percent.get(),
            of.silt_percent.get(),
            of.clay_percent.get()
        )],
        Seen::LabReport(report) => report.figures.iter().map(figure).collect(),
        Seen::Probe(_) => vec!["a push of the probe".to_owned()],
        Seen::Jar(_) => vec!["a jar".to_owned()],
        _ => vec![seen.label().to_lowercase()],
    }
}

fn figure(figure: &LabFigure) -> String {
    let amount = amount(figure);
    let what = figure.analyte.words();
    match figure.procedure {
        Procedure::NotStated => format!("{what} {amount}"),
        procedure => format!("{what} ({}) {amount}", procedure.words()),
    }
}

fn amount(figure: &LabFigure) -> String {
    format!("{} {}", figure.amount.words(), figure.unit.symbol()).trim_end().to_owned()
}

fn felt(feel: &FeelReading, units: UnitSystem) -> String {
    match feel.ribbon_mm {
        _ if !feel.ball_holds => "no ball".to_owned(),
        None => "no ribbon".to_owned(),
        Some(length) => format!("a ribbon of {}", show(length.get(), Dimension::SmallLength, units)),
    }
}

/// A reading that was typed where the book has another one of the same bag, day and figure.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Other {
    /// The columns it may stand under, or the figure that was typed.
    pub(super) at: At,
    /// What the book has there.
    pub(super) known: String,
}

#[derive(Debug, Clone, PartialEq)]
pub(super) enum At {
    Columns(&'static [Column]),
    Figure(LabFigure),
}

/// Is it the same reading, told as the results screen tells it?
pub(super) fn same(known: &Seen, typed: &Seen) -> bool {
    match (known, typed) {
        (Seen::Jar(one), Seen::Jar(other)) => one.reading.marks == other.reading.marks,
        (Seen::OrganicMatter(one), Seen::OrganicMatter(other)) => one.percent == other.percent,
        (one, other) => one == other,
    }
}

/// Where what was typed says otherwise than what is known of the same bag and day.
pub(super) fn others(known: &Seen, typed: &Seen, units: UnitSystem) -> Vec<Other> {
    const JAR: &[Column] = &[Column::SandTop, Column::SiltTop, Column::ClayTop];
    const PARTS: &[Column] = &[Column::SandPercent, Column::SiltPercent, Column::ClayPercent];
    if same(known, typed) {
        return Vec::new();
    }
    let at = match (known, typed) {
        // A jar that still settles is no reading yet.
        (Seen::Jar(jar), Seen::Jar(_)) if jar.finished => JAR,
        (Seen::Feel(_), Seen::Feel(_)) => &[Column::Feel],
        (Seen::LabTexture(_), Seen::LabTexture(_)) => PARTS,
        (Seen::OrganicMatter(_), Seen::OrganicMatter(_)) => &[Column::OrganicMatter],
        (Seen::Salinity(one), Seen::Salinity(other))
            if [one.extract, other.extract].contains(&SalinityExtract::NotStated)
                || one.extract == other.extract =>
        {
            &[Column::Conductivity]
        }
        // Without a plan each push has its place by name.
        (Seen::Probe(one), Seen::Probe(other))
            if one.points.iter().map(|at| &at.place).eq(other.points.iter().map(|at| &at.place)) =>
        {
            &[Column::HardFrom]
        }
        (Seen::LabReport(one), Seen::LabReport(other)) => return of_report(one, other),
        _ => return Vec::new(),
    };
    vec![Other { at: At::Columns(at), known: words(known, units).join(", ") }]
}

/// Another laboratory reads the same bag by itself, and that is no contradiction.
fn one_laboratory(one: &LabReport, other: &LabReport) -> bool {
    one.laboratory.trim().eq_ignore_ascii_case(other.laboratory.trim())
}

fn of_one_thing(one: &LabFigure, other: &LabFigure) -> bool {
    one.analyte == other.analyte && one.procedure == other.procedure && one.unit == other.unit
}

fn of_report(known: &LabReport, typed: &LabReport) -> Vec<Other> {
    if !one_laboratory(known, typed) {
        return Vec::new();
    }
    typed
        .figures
        .iter()
        .filter_map(|typed| {
            let other = known
                .figures
                .iter()
                .find(|known| of_one_thing(known, typed) && known.amount != typed.amount)?;
            Some(Other { at: At::Figure(*typed), known: figure(other) })
        })
        .collect()
}

/// What of a printout the book does not have yet; `None` where it has all of it.
pub(super) fn news(known: &Seen, typed: Seen) -> Option<Seen> {
    if same(known, &typed) {
        return None;
    }
    let (Seen::LabReport(known), Seen::LabReport(report)) = (known, &typed) else { return Some(typed) };
    if !one_laboratory(known, report) {
        return Some(typed);
    }
    let mut left = report.clone();
    left.figures.retain(|figure| !known.figures.contains(figure));
    left.recommended.retain(|rate| !known.recommended.contains(rate));
    if left.figures.is_empty() && left.recommended.is_empty() { None } else { Some(Seen::LabReport(left)) }
}
