//! The season in words and numbers, and its key.

use super::{Day, Plot, deficit};
use crate::canvas::{At, Canvas};
use crate::chart::{self, Entry};
use crate::figure::Table;
use crate::measures::{is_water, is_water_spread};
use crate::palette::Stuff;

/// Sets the key; returns where it ends.
pub(super) fn key(canvas: &mut Canvas, plot: &Plot<'_>, top: f64) -> f64 {
    let rain = |canvas: &mut Canvas, at: At| chart::swatch(canvas, at, Stuff::Rain);
    let watering = |canvas: &mut Canvas, at: At| chart::swatch(canvas, at, Stuff::Watering);
    let due = |canvas: &mut Canvas, at: At| {
        canvas.dashed((at.0, at.1 + 5.0), (at.0 + 16.0, at.1 + 5.0), 1.8, "7 4")
    };
    let mut entries = vec![
        Entry { sign: &rain, words: "rain" },
        Entry { sign: &watering, words: "watering" },
        Entry { sign: &due, words: "allowable deficit" },
        Entry { sign: &deficit::line_sign, words: "deficit, 90 % range" },
    ];
    if (0..plot.days.len()).any(|day| plot.is_forecast(day)) {
        entries.push(Entry { sign: &deficit::forecast_sign, words: "forecast" });
    }
    if plot.season.observations.iter().any(|look| look.day < plot.days.len()) {
        entries.push(Entry { sign: &deficit::look_sign, words: "looked: before, after" });
    }
    chart::key(canvas, &entries, 4.0, plot.right + 8.0, top)
}

/// What a day is called: by the tick on it, else counted from the nearest tick before it.
fn called(plot: &Plot<'_>, day: usize) -> String {
    let before = plot.season.ticks.iter().filter(|tick| tick.day <= day).max_by_key(|tick| tick.day);
    match before {
        Some(tick) if tick.day == day => tick.label.to_owned(),
        Some(tick) => format!("{} + {} d", tick.label, day - tick.day),
        None => format!("day {}", day + 1),
    }
}

/// The day whose state is told: today, or the last that is known.
fn telling<'a>(plot: &Plot<'a>) -> Option<(usize, &'a Day)> {
    let known = |(_, day): &(usize, &Day)| is_water_spread(&day.deficit_mm);
    plot.days.iter().enumerate().filter(|(day, _)| !plot.is_forecast(*day)).rfind(known)
}

pub(super) fn describe(plot: &Plot<'_>) -> String {
    let shown = plot.shown;
    let mut text = String::new();
    if let Some((day, one)) = telling(plot) {
        let when = if plot.season.today == Some(day) {
            "Today".to_owned()
        } else {
            format!("On {}", called(plot, day))
        };
        let (median, range) = (one.deficit_mm.median, shown.range(one.deficit_mm));
        text.push_str(&if median < 0.0 {
            format!("{when} the root zone is {} above full (90 %: a deficit of {range}).", shown.say(-median))
        } else {
            format!("{when} the root zone is {} short of full (90 %: {range}).", shown.say(median))
        });
        if is_water(one.allowable_mm) {
            text.push_str(&format!(" Watering is due at {}.", shown.say(one.allowable_mm)));
        }
        if is_water(one.total_available_mm) {
            text.push_str(&format!(" The crop can use {} in all.", shown.say(one.total_available_mm)));
        }
    }
    let due_now = telling(plot).is_some_and(|(_, one)| one.deficit_mm.median >= one.allowable_mm);
    let due =
        |(day, one): &(usize, &Day)| plot.is_forecast(*day) && one.deficit_mm.median >= one.allowable_mm;
    if due_now {
        text.push_str(" More likely than not it is due already.");
    } else if let Some((day, _)) = plot.days.iter().enumerate().find(due) {
        text.push_str(&format!(" By the forecast it gets there on {}.", called(plot, day)));
    }
    let past = plot.days.iter().enumerate().filter(|(day, _)| !plot.is_forecast(*day));
    let (mut rain, mut watering) = (0.0, 0.0);
    for (_, day) in past {
        rain += if is_water(day.rain_mm) { day.rain_mm } else { 0.0 };
        watering += if is_water(day.watering_mm) { day.watering_mm } else { 0.0 };
    }
    text.push_str(&format!(" So far: rain {}, watering {}.", shown.say(rain), shown.say(watering)));
    let looks: Vec<String> = plot
        .season
        .observations
        .iter()
        .filter(|look| look.day < plot.days.len() && look.before_mm.is_finite() && look.after_mm.is_finite())
        .map(|look| {
            format!(
                " Looked {} on {}: from {} to {}.",
                look.label,
                called(plot, look.day),
                shown.number(look.before_mm),
                shown.say(look.after_mm)
            )
        })
        .collect();
    text.push_str(&looks.concat());
    text.trim_start().to_owned()
}

pub(super) fn table(plot: &Plot<'_>) -> Table {
    let (shown, unit) = (plot.shown, plot.shown.unit);
    let deficit = format!("Deficit, {unit}");
    let (rain, watering) = (format!("Rain, {unit}"), format!("Watering, {unit}"));
    let due = format!("Watering due at, {unit}");
    let mut table = Table::new(["Day", &deficit, "90 % from", "90 % to", &due, &rain, &watering]);
    for (day, one) in plot.days.iter().enumerate() {
        let forecast = if plot.is_forecast(day) { " (forecast)" } else { "" };
        let spread = one.deficit_mm;
        table.row([
            format!("{}{forecast}", called(plot, day)),
            shown.number(spread.median),
            shown.number(spread.low),
            shown.number(spread.high),
            shown.number(one.allowable_mm),
            shown.number(one.rain_mm),
            shown.number(one.watering_mm),
        ]);
    }
    table
}
