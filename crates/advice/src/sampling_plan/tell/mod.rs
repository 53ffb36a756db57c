//! A sampling plan in sentences, for the page, the command line and the sheet alike.

mod number;
mod walk;

use book::model::{Design, SamplingPurpose, UnitSystem};
use ground::kit::units::{Dimension, show};
use serde::Serialize;

use super::{KeptTo, OutlineFrom, SamplingReport, tape};
use crate::words;

pub(crate) use walk::points;
pub use walk::{Walk, bring, kept, steps};

const INCH_CM: f64 = 2.54;

/// The report in sentences.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Sentences {
    /// How many, how deep, in one.
    pub lead: String,
    /// Why so many.
    pub number: Vec<String>,
    /// Layers and depth.
    pub depth: Vec<String>,
    /// When, and when again.
    pub when: Vec<String>,
    /// When to part the plot: what the book tells.
    pub split: Vec<String>,
    /// And what to look for.
    pub look: Vec<String>,
    /// Where: design, margins, remarks.
    pub place: Vec<String>,
    /// Step by step.
    pub steps: Vec<String>,
    /// What to bring.
    pub bring: Vec<String>,
}

/// The bag of a point, "bag 3", as it stands beside its number; empty where it has none.
#[must_use]
pub fn bag(bag: Option<u16>) -> String {
    bag.map_or_else(String::new, |bag| format!("bag {bag}"))
}

/// A distance on the ground.
#[must_use]
pub fn far(metres: f64, units: UnitSystem) -> String {
    let rounded = match units {
        // Nobody paces by the inch.
        UnitSystem::UsCustomary if metres > 0.9 => (metres / 0.3048).round() * 0.3048,
        UnitSystem::UsCustomary => (metres / 0.0254).round() * 0.0254,
        UnitSystem::Metric if metres > 20.0 => metres.round(),
        UnitSystem::Metric => (metres * 10.0).round() / 10.0,
    };
    show(rounded, Dimension::Length, units)
}

/// The whole report.
#[must_use]
pub fn sentences(report: &SamplingReport, units: UnitSystem) -> Sentences {
    let first = report.layers.first();
    let (from, to) = first.map_or((0.0, 20.0), |layer| (layer.from_cm, layer.to_cm));
    Sentences {
        lead: lead(report, &layer(from, to, units)),
        number: number::number(report, units),
        depth: number::depth(report, units),
        when: number::when(report),
        split: report.split.iter().filter(|split| split.known).map(|split| split.why.clone()).collect(),
        look: report.split.iter().filter(|split| !split.known).map(|split| split.why.clone()).collect(),
        place: place(report, units),
        steps: steps(
            &Walk {
                purpose: report.ask.purpose,
                apart: report.ask.apart,
                cores_per_bag: report.numbers.cores_per_bag,
                points: !report.points.is_empty(),
                from_cm: from,
                to_cm: to,
            },
            units,
        ),
        bring: bring(report.ask.purpose, report.ask.apart),
    }
}

fn lead(report: &SamplingReport, layer: &str) -> String {
    let numbers = &report.numbers;
    if report.ask.purpose == SamplingPurpose::Structure {
        return format!("Push the probe at {}, {layer} deep.", points(numbers.places.into()));
    }
    if report.ask.apart {
        return format!(
            "Go to {} places, pull {} cores within a few steps of each, {layer} deep, and give each place a bag of its own.",
            numbers.places, numbers.cores_per_bag
        );
    }
    let bags = match numbers.bags {
        1 => "mix them into one bag".to_owned(),
        bags => format!("mix them into {bags} bags of {}", numbers.cores_per_bag),
    };
    match report.parts {
        0 | 1 => format!("Pull {} cores, {layer} deep, and {bags}.", numbers.cores),
        parts => format!(
            "This plot is too large for one bag: take it in {parts} parts. In each part pull {} cores, {layer} deep, and {bags}.",
            numbers.cores
        ),
    }
}

/// "8 in", "from 6 in to 18 in".
pub(crate) fn layer(from: f64, to: f64, units: UnitSystem) -> String {
    if from > 0.0 { format!("from {} to {}", deep(from, units), deep(to, units)) } else { deep(to, units) }
}

/// "0 to 6 in", "7 1/2 to 12 in".
#[must_use]
pub fn layer_between(from_cm: f64, to_cm: f64, units: UnitSystem) -> String {
    let (from, to) = (deep(from_cm, units), deep(to_cm, units));
    let same_unit = from.rsplit_once(' ').zip(to.rsplit_once(' ')).filter(|(from, to)| from.1 == to.1);
    format!("{} to {to}", same_unit.map_or(from.as_str(), |(from, _)| from.0))
}

/// A depth as it was asked for: inches and their fractions come back as they were typed, and what was meant in
/// centimetres, as 45 cm, is told in whole inches.
fn deep(cm: f64, units: UnitSystem) -> String {
    // No sixteenth of an inch below 20 in is a whole or half centimetre.
    let sixteenths = 16.0 * cm / INCH_CM;
    if units == UnitSystem::UsCustomary && (sixteenths - sixteenths.round()).abs() < 1e-3 {
        show(cm, Dimension::Depth, units)
    } else {
        words::depth(cm, units)
    }
}

fn place(report: &SamplingReport, units: UnitSystem) -> Vec<String> {
    let mut lines = Vec::new();
    if report.outline == OutlineFrom::Nothing {
        return report.remarks.clone();
    }
    match report.kept_to {
        KeptTo::Plot => {}
        KeptTo::Beds => lines.push("Places lie in the drawn beds alone.".to_owned()),
        KeptTo::TreeRows { from_m, to_m } => lines.push(format!(
            "Places lie {} to {} from the drawn rows of trees, for the ground that feeds them. Where the branches reach less far, step nearer until you stand inside the drip line.",
            tape(from_m, units),
            tape(to_m, units)
        )),
        KeptTo::TreeRowsNotDrawn => lines.push(
            "Cores for trees belong in the tree row, inside the drip line, and no row is drawn on the plan: these places lie anywhere on the plot. Step from each to the nearest tree, or draw the rows.".to_owned(),
        ),
    }
    lines.push(match report.ask.design {
        Design::StratifiedRandom if matches!(report.kept_to, KeptTo::Plot | KeptTo::TreeRowsNotDrawn) => "The plot is parted into compact parts of equal area, with two places or more drawn by chance in each: spread out, and honest about the error.".to_owned(),
        Design::StratifiedRandom => "That ground is parted into compact parts of equal area, with two places or more drawn by chance in each: spread out, and honest about the error.".to_owned(),
        Design::Zigzag => "Points at equal steps along a zigzag walk, from a start drawn by chance.".to_owned(),
        Design::SpatialCoverage => "Points spread so that no spot lies far from one: best for a map. They are not drawn by chance, so their error cannot be worked out from them alone.".to_owned(),
        Design::Repeat => "The points of the earlier plan again, so that a change is not mistaken for a difference between places.".to_owned(),
        Design::ByHand => "Points set by hand.".to_owned(),
    });
    if report.margin_m > 0.0 {
        lines.push(format!("It stays {} from the edges of the plot.", far(report.margin_m, units)));
    }
    if let Some(inside) = report.in_beds.filter(|_| report.kept_to == KeptTo::Plot) {
        lines.push(format!(
            "{inside} of the {} lie in drawn beds, the others between them; places can be kept to the beds alone.",
            points(report.points.len())
        ));
    }
    if !report.keeps_off.is_empty() {
        let told: Vec<String> = report
            .keeps_off
            .iter()
            .map(|line| {
                line.rsplit_once(": ")
                    .and_then(|(what, away)| Some((what, away.trim_end_matches(" m").parse::<f64>().ok()?)))
                    .map_or_else(|| line.clone(), |(what, away)| format!("{what}, {}", far(away, units)))
            })
            .collect();
        lines.push(format!("It keeps away from: {}.", told.join("; ")));
    }
    if report.walk_m > 0.0 {
        lines.push(format!(
            "The walk from the first point to the last is {} in straight lines.",
            far(report.walk_m, units)
        ));
    }
    if report.outline == OutlineFrom::Sides {
        lines.push(
            "The plot is not drawn on the plan, so it is taken as a rectangle of its sides.".to_owned(),
        );
    }
    lines.extend(report.corner.map(|corner| corner.words(units)));
    lines.extend(report.remarks.iter().cloned());
    lines
}
