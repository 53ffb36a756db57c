//! Series, effects and walks in a grower's words, the same for the pages, the command line and the work plan.

mod effects;
mod steps;
mod walks;

use book::model::{UnitSystem, month_name};
use ground::trend::breaks::Changed;
use ground::trend::yearly::Direction;
use jiff::civil::Date;

use super::property::Property;
use super::series::{Series, Strand};
use super::{FarmAgain, PlotAgain};
use crate::words;
use steps::{of_strand, step_told, trend, years_needed};

pub use effects::{done, effect};
pub use walks::{group, look, looks, reasons, when};

/// What a series says now: of the readings that are told first, of others made alike, and of a last one that stands alone.
#[must_use]
pub fn series(series: &Series, units: UnitSystem) -> String {
    let property = series.property;
    let name = words::capital(&series.name());
    let Some((last, first)) = series.readings.last().zip(series.told_first()) else {
        return format!("{name}: not read yet.");
    };
    let Some(told) = of_strand(series, first, units) else {
        // None was made as another was.
        return match series.readings.len().checked_sub(2).and_then(|at| series.readings.get(at)) {
            Some(before) => {
                let path = steps::arrow(property, before.value, last.value, units);
                format!(
                    "{name} {path}: the two do not compare, since {}.",
                    since(series, series.readings.len() - 1, units)
                )
            }
            None => format!(
                "{name} {} on {}: one reading, nothing to compare it with yet.",
                property.value(last.value, units),
                words::day(last.on)
            ),
        };
    };
    let mut said = vec![format!("{name} {told}")];
    let strays = |strand: &Strand| strand.step.is_some_and(|step| step.difference.credible);
    if matches!(property, Property::Sand | Property::Clay) && strays(first) {
        said.push(
            "The ground does not change its make-up in a few years: the places or the tests differ."
                .to_owned(),
        );
    }
    said.extend(trend(property, first, units));
    if series.strands.len() > 1 {
        said.push(format!("That is of what was read alike{}.", made(series, first, units)));
    }
    for strand in series.beside() {
        let Some(told) = of_strand(series, strand, units) else { continue };
        said.push(format!("Read otherwise{}: {told}", made(series, strand, units)));
        said.extend(trend(property, strand, units));
    }
    let place = series.readings.len() - 1;
    let alone = series.strands.iter().any(|strand| strand.places == [place]);
    if alone {
        said.push(format!(
            "The last, {} on {}, compares with none of them, since {}.",
            property.value(last.value, units),
            words::day(last.on),
            since(series, place, units)
        ));
    }
    said.join(" ")
}

/// " (Millrace soil laboratory, loss on ignition, 0–20 cm; 2019 to 2025)".
fn made(series: &Series, strand: &Strand, units: UnitSystem) -> String {
    let readings = series.readings_of(strand);
    let Some((first, last)) = readings.first().zip(readings.last()) else { return String::new() };
    let mut how = (*last).clone();
    how.how.cores = None;
    let years = match (first.on.year(), last.on.year()) {
        (one, other) if one == other => one.to_string(),
        (from, to) => format!("{from} to {to}"),
    };
    let how = self::how(&how, units);
    if how.is_empty() { format!(" ({years})") } else { format!(" ({how}; {years})") }
}

/// Why a reading does not compare with the one before it.
fn since(series: &Series, place: usize, units: UnitSystem) -> String {
    match cut(series, place, units) {
        why if why.is_empty() => "it was made otherwise".to_owned(),
        why => why,
    }
}

/// A series year by year with its trend, for the page on structure.
#[must_use]
pub fn years(series: &Series, units: UnitSystem) -> String {
    let property = series.property;
    let years: Vec<String> =
        series.years.iter().map(|(year, one)| format!("{year} {}", property.value(*one, units))).collect();
    let found = series.told_first().and_then(|strand| trend(property, strand, units));
    let verdict = match (found, &series.step) {
        (Some(trend), _) => trend,
        (None, step) => {
            let missing = years_needed(series.years_missing);
            match step {
                Some(step) => format!("{}. {}", step_told(property, step, units), words::capital(&missing)),
                None => missing,
            }
        }
    };
    let others = if series.strands.len() > 1 { " (what was read otherwise is left out)" } else { "" };
    format!("{}: {}{others}: {verdict}", words::capital(&series.name()), years.join(", "))
}

/// Why a series is cut before a reading; empty where it is not.
#[must_use]
pub fn cut(series: &Series, place: usize, units: UnitSystem) -> String {
    let found = series.changed.get(place).map_or(&[][..], Vec::as_slice);
    let cuts: Vec<String> = found.iter().filter(|one| one.cuts()).map(|one| changed(one, units)).collect();
    cuts.join(" and ")
}

/// One thing that was otherwise, in words.
fn changed(changed: &Changed, units: UnitSystem) -> String {
    match changed {
        Changed::Laboratory { from, to } => format!("the laboratory changed from {from} to {to}"),
        Changed::Procedure { from, to } => format!("the procedure changed from {from} to {to}"),
        Changed::Depth { from_cm, to_cm } => {
            let layer = |[top, bottom]: &[f64; 2]| layer(*top, *bottom, units);
            format!("the depth changed from {} to {}", layer(from_cm), layer(to_cm))
        }
        Changed::Month { from, to } => {
            format!("it was read in {} and not in {} as the time before", month(*to), month(*from))
        }
        Changed::Cores { from, to } => format!("the bag held {to} cores, and {from} the time before"),
    }
}

/// "0–6 in".
fn layer(top_cm: f64, bottom_cm: f64, units: UnitSystem) -> String {
    let top = words::depth(top_cm, units);
    format!("{}–{}", top.split(' ').next().unwrap_or_default(), words::depth(bottom_cm, units))
}

fn month(number: u8) -> &'static str {
    i8::try_from(number).map_or("", month_name)
}

/// What changed in how a series was made, a line a day.
#[must_use]
pub fn changes(series: &Series, units: UnitSystem) -> Vec<String> {
    let mut lines = Vec::new();
    for (reading, found) in series.readings.iter().zip(&series.changed) {
        if found.is_empty() {
            continue;
        }
        let all: Vec<String> = found.iter().map(|one| changed(one, units)).collect();
        let cuts = found.iter().any(Changed::cuts);
        lines.push(format!(
            "{}: {}.{}",
            words::day(reading.on),
            all.join("; "),
            if cuts {
                " The series is cut there: a step is as likely the change's as the ground's, and only what was made alike is put together. One bag sent to both, or read both ways, would join it again."
            } else {
                " That adds scatter, and does not cut the series."
            }
        ));
    }
    lines
}

/// How a reading was made, for the table: "Millrace soil laboratory, loss on ignition, 0–20 cm, 15 cores".
#[must_use]
pub fn how(reading: &super::gather::Reading, units: UnitSystem) -> String {
    use ground::kit::Bounded;
    let how = &reading.how;
    let layer = how.from_cm.zip(how.to_cm).map(|(top, bottom)| layer(top.get(), bottom.get(), units));
    let cores = how.cores.map(|cores| format!("{:.0} cores", cores.get()));
    let parts: Vec<String> =
        [how.laboratory.clone(), how.procedure.clone(), layer, cores].into_iter().flatten().collect();
    parts.join(", ")
}

/// Which way readings made alike go, where they do.
fn way(strand: &Strand) -> Option<&'static str> {
    Some(match strand.direction {
        Some(Direction::Rises) => "rises",
        Some(Direction::Falls) => "falls",
        _ => match strand.step.filter(|step| step.difference.credible)? {
            step if step.after > step.before => "rose",
            _ => "fell",
        },
    })
}

/// The whole plot in a sentence or two: what is told from scatter, and what to look at next.
#[must_use]
pub fn lead(report: &PlotAgain, today: Date) -> String {
    let shown: Vec<String> = report
        .series
        .iter()
        .filter_map(|series| {
            let way =
                series.told_first().and_then(way).or_else(|| series.beside().into_iter().find_map(way))?;
            Some(format!("{} {way}", series.name()))
        })
        .collect();
    let again = report.series.iter().filter(|series| series.compares()).count();
    let apart = report.series.iter().filter(|series| series.readings.len() > 1 && !series.compares()).count();
    let mut said = match (shown.is_empty(), again) {
        (false, _) => format!("More than scatter: {}.", shown.join(", ")),
        (true, 0) if apart > 0 => {
            "Nothing was read twice in the same way with a season between, so nothing can be told of change."
                .to_owned()
        }
        (true, 0) => "Nothing was read twice yet, so nothing can be told of change.".to_owned(),
        (true, 1) => {
            "One thing was read more than once in the same way; its change is not more than scatter yet."
                .to_owned()
        }
        (true, more) => {
            format!(
                "{more} things were read more than once in the same way; no change is more than scatter yet."
            )
        }
    };
    match apart {
        0 => {}
        _ if again == 0 && shown.is_empty() => {}
        1 => said.push_str(" One more was read again in a way that does not compare."),
        more => said.push_str(&format!(" {more} more were read again in a way that does not compare.")),
    }
    if let Some(visit) = report.visits.first() {
        said.push_str(&format!(" Next: {} ({}).", visit.what.to_lowercase(), when(visit, today)));
    }
    said
}

/// The farm in a sentence.
#[must_use]
pub fn farm_lead(report: &FarmAgain) -> String {
    let late = report.visits.iter().filter(|visit| visit.is_late()).count();
    let now = report.visits.iter().filter(|visit| visit.from <= report.today && !visit.is_late()).count();
    let looks = |count: usize| if count == 1 { "1 look".to_owned() } else { format!("{count} looks") };
    match (late, now, report.visits.first()) {
        (0, 0, Some(first)) => {
            format!("Nothing is due now; the next look is {} on {}.", words::day(first.from), first.plot_name)
        }
        (_, _, None) => "There is nothing to look at yet.".to_owned(),
        (0, now, _) => format!("{} can be made now, of {} in all.", looks(now), report.visits.len()),
        (late, now, _) => format!(
            "{} should have been made already and {now} can be made now, of {} in all.",
            looks(late),
            report.visits.len()
        ),
    }
}
