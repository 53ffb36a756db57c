//! The advice in a grower's words.

use book::model::UnitSystem;
use ground::climate::crops::CropStage;
use ground::irrigation::hardware::LITRES_PER_GALLON;
use ground::kit::sentence::capital;
use jiff::civil::{Date, Weekday};

use super::advise::{Advice, Call, RunAdvice, timer};
use super::bed::BedWater;
use super::hardware::cans;
use super::place::WantedKind;
use crate::finding::Firmness;
use crate::words;

/// A stage in words.
pub(super) fn stage(stage: CropStage) -> &'static str {
    match stage {
        CropStage::Bare => "bare ground",
        CropStage::Initial => "young, little of the ground covered",
        CropStage::Development => "growing to full cover",
        CropStage::Mid => "full grown",
        CropStage::Late => "ripening",
    }
}

/// A volume: "24 gal", "90 L".
#[must_use]
pub(super) fn volume(litres: f64, units: UnitSystem) -> String {
    let us = units == UnitSystem::UsCustomary;
    let (value, unit) = if us { (litres / LITRES_PER_GALLON, "gal") } else { (litres, "L") };
    if value < 9.95 { format!("{} {unit}", words::short(value)) } else { format!("{value:.0} {unit}") }
}

/// "Saturday 28 November".
#[must_use]
pub fn weekday(date: Date) -> String {
    format!("{} {} {}", name(date), date.day(), book::model::month_name(date.month()))
}

fn name(date: Date) -> &'static str {
    match date.weekday() {
        Weekday::Monday => "Monday",
        Weekday::Tuesday => "Tuesday",
        Weekday::Wednesday => "Wednesday",
        Weekday::Thursday => "Thursday",
        Weekday::Friday => "Friday",
        Weekday::Saturday => "Saturday",
        Weekday::Sunday => "Sunday",
    }
}

/// Puts everything into words.
pub(super) fn tell(told: &mut BedWater, units: UnitSystem, area_each_m2: f64) {
    let Some(advice) = told.advice.clone() else {
        told.headline = missing(told).to_owned();
        return;
    };
    let mut lines = Vec::new();
    match advice.call {
        Call::Water => water(told, &advice, units, area_each_m2, &mut lines),
        Call::Wait => wait(told, &advice, units, &mut lines),
    }
    lines.push(sure(&advice));
    if let Some(missed) = &advice.missed {
        let what = if missed.odds_short < 0.05 {
            "the crop is hardly likely to go short".to_owned()
        } else {
            format!(
                "the crop goes short in {} of cases and gets {:.0} % of the water it would use (90 %: {:.0} to {:.0})",
                words::odds(missed.odds_short),
                100.0 * missed.use_share.median,
                100.0 * missed.use_share.low,
                100.0 * missed.use_share.high
            )
        };
        lines.push(format!("Without water for {} days from today {what}.", missed.days));
    }
    if let Some(salts) = &told.salts {
        lines.push(salts.sentence.clone());
    }
    told.lines = lines;
    told.why = why(told, units);
}

/// What stands in the place of advice.
fn missing(told: &BedWater) -> &'static str {
    let wants = |kind: WantedKind| told.wanted.iter().any(|wanted| wanted.kind == kind);
    if wants(WantedKind::Planting) {
        "Nothing grows here now"
    } else if wants(WantedKind::Crop) {
        "The crop's figures are wanted first"
    } else if wants(WantedKind::Latitude) {
        "The farm's latitude is wanted first"
    } else if wants(WantedKind::Weather) {
        "The weather is wanted first"
    } else {
        "Nothing can be said of this bed's water yet"
    }
}

fn each(told: &BedWater) -> &'static str {
    if told.count > 1 { " in each bed" } else { "" }
}

fn water(
    told: &mut BedWater,
    advice: &Advice,
    units: UnitSystem,
    area_each_m2: f64,
    lines: &mut Vec<String>,
) {
    let Some(run) = &advice.run else {
        told.headline = "Water today".to_owned();
        if let Some(day) = told.outlook.first() {
            lines.push(format!(
                "{} over the bed is missing; how long to run cannot be told until it is written down how the bed is watered.",
                words::water(day.deficit_mm.median.max(0.0), units)
            ));
        }
        return;
    };
    told.headline = match (run.set_min, run.pulses) {
        (Some(_), pulses) if pulses > 1 => {
            format!("Run {pulses} times {} today", timer(run.pulse_min.unwrap_or(0.0)))
        }
        (Some(minutes), _) => format!("Run {} today", timer(minutes)),
        (None, _) => format!("Give {}{} today", volume(run.volume_each_l, units), each(told)),
    };
    if let (Some(rest), true) = (run.rest_min, run.pulses > 1) {
        lines.push(format!(
            "Let it rest {} between two runs: the ground takes about {}, less than falls on it, and would run off in one go.",
            timer(rest),
            told.intake.map_or_else(String::new, |intake| words::rate(intake.rate_mm_h.median, units))
        ));
    }
    if let Some(split) = run.split.filter(|split| split.each_min >= 1.0 && run.pulses == 1) {
        lines.push(format!(
            "Or two runs of {}: today and in {}.",
            timer(split.each_min),
            words::days(split.days_between_d as f64)
        ));
    }
    amounts(told, run, units, area_each_m2, lines);
}

fn amounts(told: &BedWater, run: &RunAdvice, units: UnitSystem, area_each_m2: f64, lines: &mut Vec<String>) {
    let range = run.minutes.map_or_else(String::new, |minutes| {
        format!(" ({} to {} nine times in ten)", timer(minutes.low.max(1.0)), timer(minutes.high))
    });
    let all = if told.count > 1 {
        format!(", {} for all {} beds", volume(run.volume_all_l, units), told.count)
    } else {
        String::new()
    };
    lines.push(format!(
        "That is {} over the bed{range}, {}{}{all}.",
        words::water(run.gross_mm, units),
        volume(run.volume_each_l, units),
        each(told)
    ));
    if run.minutes.is_none() {
        let can = cans(run.volume_each_l, units == UnitSystem::UsCustomary);
        lines.push(format!(
            "About {can}{}; spread it over all of its {}.",
            each(told),
            ground::kit::units::show(area_each_m2, ground::kit::units::Dimension::Area, units)
        ));
    }
    if run.room_for_rain {
        lines.push(
            "It is not filled to the brim, since rain today or tomorrow is more likely than not.".to_owned(),
        );
    }
    if run.outruns_the_ground {
        lines.push(
            "Water falls faster than this ground takes it; short runs with rests do not help for long."
                .to_owned(),
        );
    }
}

fn wait(told: &mut BedWater, advice: &Advice, units: UnitSystem, lines: &mut Vec<String>) {
    told.headline = "No water needed today".to_owned();
    let Some(due) = advice.due_on else {
        lines.push("More likely than not it needs none for the coming week.".to_owned());
        return;
    };
    let then = advice.run.as_ref().map_or_else(String::new, |run| match run.set_min {
        Some(minutes) => format!(", then about {}", timer(minutes)),
        None => format!(", then about {}{}", volume(run.volume_each_l, units), each(told)),
    });
    lines.push(format!("Most likely due by {}{then}.", weekday(due)));
    if let Some(surely) = advice.surely_due_on.filter(|surely| *surely != due) {
        lines.push(format!("Almost surely by {}.", weekday(surely)));
    }
}

fn sure(advice: &Advice) -> String {
    let odds = if advice.call == Call::Water { advice.odds_due } else { 1.0 - advice.odds_due };
    let what = match advice.call {
        Call::Water => "the crop would pass its limit by tonight",
        Call::Wait => "it gets through today without harm",
    };
    let word = match advice.firmness {
        Firmness::Firm => "Firm",
        Firmness::Likely => "Likely",
        Firmness::Open => "Open",
    };
    let settle = if advice.firmness == Firmness::Open {
        " Feel the ground at half the root depth before you decide, and write down what you find."
    } else {
        ""
    };
    format!("{word}: {what} (odds {}).{settle}", words::odds(odds))
}

fn why(told: &BedWater, units: UnitSystem) -> Vec<String> {
    let mut why = Vec::new();
    if let Some(crop) = &told.crop {
        why.push(format!(
            "{}, day {}: {}, roots to {}.",
            capital(&crop.name),
            crop.day_number,
            crop.stage_words,
            words::depth(crop.root_depth_cm, units)
        ));
    }
    if let (Some(day), Some(yesterday)) = (told.outlook.first(), told.season.last()) {
        why.push(format!(
            "By last night {} was missing (90 %: {} to {}); about {} may be missing before the crop suffers, of {} that the roots can draw in all.",
            words::water(yesterday.deficit_mm.median.max(0.0), units),
            words::water(yesterday.deficit_mm.low.max(0.0), units),
            words::water(yesterday.deficit_mm.high.max(0.0), units),
            words::water(day.allowable_mm, units),
            words::water(yesterday.total_available_mm, units),
        ));
    }
    if told.given_today_mm > 0.0 {
        why.push(format!(
            "Water given today is counted: {} over the bed.",
            words::water(told.given_today_mm, units)
        ));
    }
    let last = told.waterings.iter().find(|line| line.on < told.today && line.depth_mm.is_some());
    let week: Vec<_> = told.season.iter().rev().take(7).collect();
    if !week.is_empty() {
        let sum = |of: fn(&super::season::SeasonDay) -> f64| week.iter().map(|day| of(day)).sum::<f64>();
        why.push(format!(
            "Over the last {} it used {}; rain brought {} and watering {}.{}",
            words::days(week.len() as f64),
            words::water(sum(|day| day.use_mm), units),
            words::water(sum(|day| day.rain_mm), units),
            words::water(sum(|day| day.watering_mm), units),
            last.map_or_else(
                || " No watering is written down before today.".to_owned(),
                |line| format!(" It was last watered on {}.", weekday(line.on))
            )
        ));
    }
    if let Some(look) = told.looks.last() {
        why.push(format!("{} ({}). {}", capital(&weekday(look.date)), look.label, look.sentence));
    }
    why
}
