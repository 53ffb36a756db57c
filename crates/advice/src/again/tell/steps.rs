//! Steps and trends of readings made alike, in a grower's words.

use book::model::UnitSystem;
use ground::trend::yearly::Direction;

use super::super::gather::Reading;
use super::super::property::{Property, Walk};
use super::super::series::{SEASON_DAYS, Series, Step, Strand, a_season_apart, step};
use crate::words;

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
pub(super) const NO_RATIO: &str = "one of the two is nothing, and how far it strays is known only as a share of a value, so the step is not told from scatter";

/// "2.1 → 2.6 %".
pub(super) fn arrow(property: Property, before: f64, after: f64, units: UnitSystem) -> String {
    format!("{} → {}", property.number(before, units), property.value(after, units))
}

/// What would be told from scatter: "above 3 % or below 1.2 % it would be". What no reading can come to is left out.
fn limits(property: Property, step: &Step, units: UnitSystem) -> String {
    let [least, most] = property.bounds();
    let above =
        (step.shows_above < most).then(|| format!("above {}", property.value(step.shows_above, units)));
    let below =
        (step.shows_below > least).then(|| format!("below {}", property.value(step.shows_below, units)));
    match above.into_iter().chain(below).collect::<Vec<_>>().join(" or ") {
        reach if reach.is_empty() => "from such a reading no later one could be".to_owned(),
        reach => format!("{reach} it would be"),
    }
}

/// A step told from scatter: "not yet more than the laboratory's own scatter ...; above 3 % or below 1.2 % it would be".
pub(super) fn step_told(property: Property, step: &Step, units: UnitSystem) -> String {
    if step.difference.credible {
        format!("more than {}{}", scatter(property), good(property, step.after > step.before))
    } else {
        format!("not yet more than {} ({})", scatter(property), limits(property, step, units))
    }
}

fn good(property: Property, rises: bool) -> &'static str {
    match property.rise_is_good() {
        Some(good) if good == rises => ", to the good",
        Some(_) => ", to the bad",
        None => "",
    }
}

/// Readings made alike: their step, why there is none, or that they stand side by side; `None` for fewer than two.
pub(super) fn of_strand(series: &Series, strand: &Strand, units: UnitSystem) -> Option<String> {
    let property = series.property;
    let readings = series.readings_of(strand);
    let [first, .., last] = readings.as_slice() else { return None };
    let path = arrow(property, first.value, last.value, units);
    Some(match &strand.step {
        Some(step) => format!("{path}: {}.", step_told(property, step, units)),
        None if a_season_apart(first, last) => format!("{path}: {NO_RATIO}."),
        None => side_by_side(property, &readings, units),
    })
}

/// Readings with no season between them.
fn side_by_side(property: Property, readings: &[&Reading], units: UnitSystem) -> String {
    let values: Vec<String> = readings
        .iter()
        .map(|one| format!("{} on {}", property.value(one.value, units), words::day(one.on)))
        .collect();
    let apart = readings.iter().any(|one| {
        readings.iter().any(|other| step(property, one, other).is_some_and(|step| step.difference.credible))
    });
    format!(
        "{}: side by side and no change over time, with less than {SEASON_DAYS} days between them. {}",
        values.join(" and "),
        if apart {
            "They lie further apart than scatter: the places or the tests differ."
        } else {
            "They lie within scatter of each other."
        }
    )
}

/// The trend of readings made alike, where there are enough years.
pub(super) fn trend(property: Property, strand: &Strand, units: UnitSystem) -> Option<String> {
    let found = strand.trend.as_ref()?;
    let slope = found.slope.slope_per_year;
    let (unit, scale) = property.unit(units);
    let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
    let ends = format!("{} to {}", signed(scale * slope.low), signed(scale * slope.high));
    let span = strand.years.first().zip(strand.years.last());
    let (from, to) = span.map(|(first, last)| (first.0, last.0))?;
    let over = format!("In {} yearly readings, {from} to {to},", strand.years.len());
    let chance = chance(found.ranks.p_two_sided);
    Some(match strand.direction? {
        Direction::NotShown => format!(
            "{over} there is no trend that chance would not make ({chance}): {}{unit} a year, {ends} with nine chances in ten.{}",
            signed(scale * slope.median),
            if strand.years_missing > 0 {
                format!(
                    " With {} not even a steady rise or fall shows one: {}",
                    strand.years.len(),
                    years_needed(strand.years_missing)
                )
            } else {
                String::new()
            }
        ),
        direction => format!(
            "{over} it {} by {}{unit} a year ({ends} with nine chances in ten{}; {chance}).",
            if direction == Direction::Rises { "rises" } else { "falls" },
            words::short((scale * slope.median).abs()),
            good(property, direction == Direction::Rises),
        ),
    })
}

/// "p 0.03", "p below 0.01".
pub(super) fn chance(p: f64) -> String {
    if p < 0.01 { "p below 0.01".to_owned() } else { format!("p {p:.2}") }
}

pub(super) fn years_needed(missing: usize) -> String {
    match missing {
        1 => "one more year is needed before a trend can be told from chance.".to_owned(),
        more => format!("{more} more years are needed before a trend can be told from chance."),
    }
}

pub(super) fn signed(value: f64) -> String {
    let text = words::short(value.abs());
    if value < 0.0 && text != "0" { format!("−{text}") } else { text }
}
