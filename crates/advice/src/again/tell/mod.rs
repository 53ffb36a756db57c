//! Series, effects and walks in a grower's words, the same for the pages, the command line and the work plan.

mod effects;
mod walks;

use book::model::{UnitSystem, month_name};
use ground::trend::breaks::Changed;
use ground::trend::yearly::Direction;
use jiff::civil::Date;

use super::property::{Property, Walk};
use super::series::{Series, Step};
use super::{FarmAgain, PlotAgain};
use crate::words;

pub use effects::{done, effect};
pub use walks::{group, look, looks, reasons, when};

/// What strays, in words.
fn scatter(property: Property) -> &'static str {
    match property.walk() {
        Some(Walk::SoilTest) => "the laboratory's own scatter and that of the bag",
        _ if property == Property::Nitrate => "the laboratory's own scatter and that of the bag",
        _ if property == Property::Yield => "weather alone makes of a yield",
        _ => "readings stray by themselves",
    }
}

/// Why a step from or to nothing is not told.
const NO_RATIO: &str = "one of the two is nothing, and how far it strays is known only as a share of a value, so the step is not told from scatter";

/// "2.1 → 2.6 %".
fn arrow(property: Property, before: f64, after: f64, units: UnitSystem) -> String {
    format!("{} → {}", property.number(before, units), property.value(after, units))
}

/// A step told from scatter: "not yet more than the laboratory's own scatter ...; it would be above 3 % or below 1.2 %".
fn step_told(property: Property, step: &Step, units: UnitSystem) -> String {
    let limits = || {
        let above = property.value(step.shows_above, units);
        if step.shows_below > 0.0 {
            format!("above {above} or below {} it would be", property.value(step.shows_below, units))
        } else {
            format!("above {above} it would be")
        }
    };
    if step.difference.credible {
        format!("more than {}{}", scatter(property), good(property, step.after > step.before))
    } else {
        format!("not yet more than {} ({})", scatter(property), limits())
    }
}

fn good(property: Property, rises: bool) -> &'static str {
    match property.rise_is_good() {
        Some(good) if good == rises => ", to the good",
        Some(_) => ", to the bad",
        None => "",
    }
}

/// What a series says now, in one or two sentences.
#[must_use]
pub fn series(series: &Series, units: UnitSystem) -> String {
    let property = series.property;
    let name = words::capital(&series.name());
    let Some(last) = series.readings.last() else { return format!("{name}: not read yet.") };
    let mut said = match (&series.step, series.latest()) {
        (Some(step), _) => format!(
            "{name} {}: {}.",
            arrow(property, step.before, step.after, units),
            step_told(property, step, units)
        ),
        (None, [first, .., last]) => {
            format!("{name} {}: {}.", arrow(property, first.value, last.value, units), NO_RATIO)
        }
        (None, _) if series.readings.len() > 1 => {
            let before = &series.readings[series.readings.len() - 2];
            format!(
                "{name} {}: the two do not compare, since {}.",
                arrow(property, before.value, last.value, units),
                cut(series, series.readings.len() - 1, units)
            )
        }
        _ => format!(
            "{name} {} on {}: one reading, nothing to compare it with yet.",
            property.value(last.value, units),
            words::day(last.on)
        ),
    };
    if matches!(property, Property::Sand | Property::Clay)
        && series.step.is_some_and(|step| step.difference.credible)
    {
        said.push_str(
            " The ground does not change its make-up in a few years: the places or the tests differ.",
        );
    }
    if let Some(trend) = trend(series, units) {
        said.push(' ');
        said.push_str(&trend);
    }
    said
}

/// The trend of a series, where there are enough years.
fn trend(series: &Series, units: UnitSystem) -> Option<String> {
    let found = series.trend.as_ref()?;
    let property = series.property;
    let slope = found.slope.slope_per_year;
    let (unit, scale) = property.unit(units);
    let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
    let ends = format!("{} to {}", signed(scale * slope.low), signed(scale * slope.high));
    let years = found.years;
    Some(match series.direction? {
        Direction::NotShown => format!(
            "Over {years} years no trend that chance would not make (p {:.2}): {}{unit} a year, {ends} with nine chances in ten.{}",
            found.ranks.p_two_sided,
            signed(scale * slope.median),
            if series.years_missing > 0 {
                format!(
                    " In {years} years not even a steady rise or fall shows one: {}",
                    years_needed(series)
                )
            } else {
                String::new()
            }
        ),
        direction => format!(
            "Over {years} years it {} by {}{unit} a year ({ends} with nine chances in ten{}; p {:.2}).",
            if direction == Direction::Rises { "rises" } else { "falls" },
            words::short((scale * slope.median).abs()),
            good(property, direction == Direction::Rises),
            found.ranks.p_two_sided
        ),
    })
}

fn years_needed(series: &Series) -> String {
    match series.years_missing {
        1 => "one more year is needed before a trend can be told from chance.".to_owned(),
        more => format!("{more} more years are needed before a trend can be told from chance."),
    }
}

fn signed(value: f64) -> String {
    let text = words::short(value.abs());
    if value < 0.0 && text != "0" { format!("−{text}") } else { text }
}

/// A series year by year with its trend, for the page on structure.
#[must_use]
pub fn years(series: &Series, units: UnitSystem) -> String {
    let property = series.property;
    let years: Vec<String> =
        series.years.iter().map(|(year, one)| format!("{year} {}", property.value(*one, units))).collect();
    let verdict = match (trend(series, units), &series.step) {
        (Some(trend), _) => trend,
        (None, step) => {
            let missing = years_needed(series);
            match step {
                Some(step) => format!("{}. {}", step_told(property, step, units), words::capital(&missing)),
                None => missing,
            }
        }
    };
    let before =
        if series.stretches.len() > 1 { " (what was read otherwise before is left out)" } else { "" };
    format!("{}: {}{before}: {verdict}", words::capital(&series.name()), years.join(", "))
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
                " The series is cut there: a step is as likely the change's as the ground's. One bag sent to both, or read both ways, would join it again."
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

/// The whole plot in a sentence or two: what is told from scatter, and what to look at next.
#[must_use]
pub fn lead(report: &PlotAgain, today: Date) -> String {
    let shown: Vec<String> = report
        .series
        .iter()
        .filter_map(|series| {
            let way = match series.direction {
                Some(Direction::Rises) => "rises",
                Some(Direction::Falls) => "falls",
                _ => match series.step.filter(|step| step.difference.credible)? {
                    step if step.after > step.before => "rose",
                    _ => "fell",
                },
            };
            Some(format!("{} {way}", series.name()))
        })
        .collect();
    let again = report.series.iter().filter(|series| series.readings.len() > 1).count();
    let mut said = match (shown.is_empty(), again) {
        (false, _) => format!("More than scatter: {}.", shown.join(", ")),
        (true, 0) => "Nothing was read twice yet, so nothing can be told of change.".to_owned(),
        (true, 1) => "One thing was read more than once; its change is not more than scatter yet.".to_owned(),
        (true, more) => {
            format!("{more} things were read more than once; no change is more than scatter yet.")
        }
    };
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
