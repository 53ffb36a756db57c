//! What was done to a plot, and what the readings say of it.

use book::model::UnitSystem;

use super::super::effects::Effect;
use super::super::next::LIME_MONTHS;
use super::super::property::Property;
use super::steps::{NO_RATIO, arrow, signed, step_told};
use crate::words;

/// What was done and what the readings say of it.
#[must_use]
pub fn effect(effect: &Effect, units: UnitSystem) -> Vec<String> {
    let property = effect.property;
    let mut lines = Vec::new();
    let path = arrow(property, effect.before.value, effect.after.value, units);
    let days = format!("{} and {}", words::day(effect.before.on), words::day(effect.after.on));
    match &effect.step {
        None => {
            let nothing =
                property.by_ratio() && [&effect.before, &effect.after].iter().any(|one| one.value <= 0.0);
            let why = if nothing {
                NO_RATIO
            } else {
                "the two readings do not compare, since laboratory, procedure or depth changed"
            };
            lines.push(format!("{} {path} between {days}: {why}.", words::capital(&effect.name)));
            return lines;
        }
        Some(step) => lines.push(format!(
            "{} {path} between {days}: {}.",
            words::capital(&effect.name),
            step_told(property, step, units)
        )),
    }
    if effect.too_soon {
        let [from, to] = LIME_MONTHS;
        lines.push(format!(
            "The later reading was made before the lime could show most of its work; a test {from} to {to} months after liming tells it."
        ));
    }
    if let Some(found) = &effect.by_itself {
        lines.push(if found.expected_step == 0.0 {
            format!(
                "If the plot was picked because that first reading was poor, part of the step comes by itself (regression to the mean); with {} of the farm read it cannot be told how much. Test twice before you treat.",
                plots(found.plots)
            )
        } else {
            format!(
                "The first reading stood apart from the mean of {} plots ({}): {} would be expected with nothing done (regression to the mean).",
                found.plots,
                property.value(found.mean, units),
                rise(property, found.expected_step, units)
            )
        });
    }
    match &effect.left_alone {
        Some(alone) => {
            // pH and nutrients are worked on to raise them.
            let wanted = property.rise_is_good().unwrap_or(true) == (alone.beyond.change > 0.0);
            let beyond = match (alone.beyond.credible, wanted) {
                (true, true) => "that is more than scatter: something was gained by the work",
                (true, false) => "that is more than scatter, and the other way from what the work is done for",
                (false, _) => "that is not more than scatter",
            };
            lines.push(format!(
                "Left alone over the same time, {} moved by {}; the step here goes beyond that by {}, and {beyond}.",
                alone.plots.join(", "),
                size(property, alone.mean_step, units),
                size(property, alone.beyond.change, units)
            ));
        }
        None => lines.push(
            "No plot of the farm was left alone and read both times: without one, the weather and the year are in the step too."
                .to_owned(),
        ),
    }
    lines
}

fn plots(count: usize) -> String {
    if count == 1 { "one plot".to_owned() } else { format!("{count} plots") }
}

/// A step on the scale of the difference: "0.12", "−15 %".
fn size(property: Property, step: f64, units: UnitSystem) -> String {
    if property.by_ratio() {
        let percent = 100.0 * (libm::exp(step) - 1.0);
        return format!("{} %", signed(percent.round()));
    }
    let (unit, scale) = property.unit(units);
    let number = signed(scale * step);
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}

/// "a rise of 0.12", "a fall of 15 %".
fn rise(property: Property, step: f64, units: UnitSystem) -> String {
    let size = size(property, step, units);
    let way = if step < 0.0 { "fall" } else { "rise" };
    format!("a {way} of {}", size.trim_start_matches('\u{2212}'))
}

/// What was done, in a line: "lime (Calcitic lime) on 1 May 2026".
#[must_use]
pub fn done(effect: &Effect) -> String {
    let mut all: Vec<String> = Vec::new();
    for one in &effect.done {
        let name = if one.what == one.work.words() {
            words::capital(one.work.words())
        } else {
            format!("{} ({})", words::capital(one.work.words()), one.what.to_lowercase())
        };
        let line = format!("{name} on {}", words::day(one.on));
        if !all.contains(&line) {
            all.push(line);
        }
    }
    all.join("; ")
}
