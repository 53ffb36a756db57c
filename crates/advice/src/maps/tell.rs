//! The map in sentences, for the page, the sheet and the command line.

use ground::kit::units::{Dimension, UnitSystem, show};
use ground::spatial::limits::{BOUNDED_FIT_FROM, FREE_FIT_FROM, PRIOR_FROM, Shown};
use ground::spatial::scale::Scale;

use super::property::Property;
use super::values::NOT_SAID_HOW;
use super::{MapReport, NoSurface, PlotFigure, PlotTold, SpotValue, Surface};
use crate::words::{day, odds};

pub use super::parts_told::zones;

/// Beyond so many days nobody counts how long water takes to drain.
const COUNTED_DAYS: f64 = 365.0;
const OVER_A_YEAR: &str = "over a year";

/// A figure of a property with its unit, in the reader's.
#[must_use]
pub fn figure(property: Property, unit: &str, value: f64, units: UnitSystem) -> String {
    match property {
        Property::Infiltration | Property::Conductivity => crate::words::rate(value, units),
        Property::PanTop => crate::words::depth(value, units),
        Property::UsableWater => crate::words::water(value, units),
        Property::LimeNeed => crate::feeding::acidity::tell::per_area(value, units),
        Property::DaysToDrain if value > COUNTED_DAYS => OVER_A_YEAR.to_owned(),
        Property::DaysToDrain => format!("{} days", crate::words::short(value)),
        Property::AvailableWater => crate::words::water_held(value / 1000.0, units),
        _ => {
            let number = format!("{value:.*}", property.decimals());
            if unit.is_empty() { number } else { format!("{number} {unit}") }
        }
    }
}

/// The label of a reading on a map: short, without the unit.
#[must_use]
pub fn label(property: Property, one: &SpotValue, units: UnitSystem) -> String {
    match (property, one.class) {
        (Property::Class, Some(class)) => class.name().to_owned(),
        _ => short(property, one.value, units),
    }
}

/// A figure without its unit.
#[must_use]
pub fn short(property: Property, value: f64, units: UnitSystem) -> String {
    if !has_own_unit(property) {
        return format!("{value:.*}", property.decimals());
    }
    match figure(property, "", value, units) {
        over if over == OVER_A_YEAR => over,
        told => told.split(' ').next().unwrap_or_default().to_owned(),
    }
}

/// What the figures of a legend are in.
#[must_use]
pub fn unit(property: Property, unit: &str, units: UnitSystem) -> String {
    if !has_own_unit(property) {
        return unit.to_owned();
    }
    let words = figure(property, "", 10.0, units);
    words.split_once(' ').map_or_else(String::new, |parts| parts.1.to_owned())
}

/// What a figure is multiplied by to come into the unit that it is shown in.
#[must_use]
pub fn factor(property: Property, units: UnitSystem) -> f64 {
    let us = units == UnitSystem::UsCustomary;
    match property {
        Property::AvailableWater if us => 0.012,
        Property::Infiltration | Property::Conductivity | Property::UsableWater if us => 1.0 / 25.4,
        Property::PanTop if us => 1.0 / 2.54,
        Property::LimeNeed if us => 9.290_304 / 0.453_592_37,
        Property::LimeNeed => 1000.0,
        _ => 1.0,
    }
}

/// Is its unit that of the property, and not that of the readings?
fn has_own_unit(property: Property) -> bool {
    matches!(
        property,
        Property::Infiltration
            | Property::Conductivity
            | Property::PanTop
            | Property::AvailableWater
            | Property::UsableWater
            | Property::LimeNeed
            | Property::DaysToDrain
    )
}

/// The map in sentences.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sentences {
    /// What is shown, and of what.
    pub lead: String,
    /// Why it is that and not more.
    pub reasons: Vec<String>,
    /// What more readings would allow.
    pub next: Option<String>,
    /// How good the surface is.
    pub quality: Vec<String>,
    /// What should be known beside it.
    pub notes: Vec<String>,
}

/// Tells a map.
#[must_use]
pub fn sentences(report: &MapReport, units: UnitSystem) -> Sentences {
    if !report.zones.is_empty() {
        return Sentences {
            lead: format!(
                "{} was parted into {}. Readings with a place went to the zone they lie in: look at the map of the farm, or of a zone.",
                report.name,
                crate::words::counted(report.zones.len(), "zone", "zones")
            ),
            reasons: Vec::new(),
            next: None,
            quality: Vec::new(),
            notes: Vec::new(),
        };
    }
    let located = report.values.at_places.len();
    let all = located + report.without_place;
    let words = report.property.words();
    let measured = report.plots.iter().filter(|plot| plot.figure.is_some()).count();
    let shown = match (report.shown, report.plot) {
        _ if report.property.of_plots_alone() || (report.plot.is_none() && report.property.worked_out()) => {
            format!(
                "Worked out for {measured} of {}, each as a whole, from everything that is known of it.",
                crate::words::counted(report.plots.len(), "plot", "plots")
            )
        }
        _ if all == 0 => format!("No reading of {words} is in the book for {}.", report.name),
        (_, None) if measured == report.plots.len() => {
            "Readings at their places and the means of the plots.".to_owned()
        }
        (_, None) => format!(
            "Readings at their places and the means of {measured} of {}; the others are not measured, or in a way that does not compare.",
            crate::words::counted(report.plots.len(), "plot", "plots")
        ),
        (shown, _) => {
            let text = shown.words();
            text[..1].to_uppercase() + &text[1..] + "."
        }
    };
    let counted = match (located, report.without_place) {
        _ if all == 0 => String::new(),
        (located, 0) => {
            let have = if located == 1 { "reading has" } else { "readings have" };
            format!(" {located} {have} a place.")
        }
        (0, others) => {
            format!(" {}, none with a place.", crate::words::counted(others, "reading", "readings"))
        }
        (located, others) => {
            format!(
                " {located} of {} have a place.",
                crate::words::counted(located + others, "reading", "readings")
            )
        }
    };
    Sentences {
        lead: shown + &counted,
        reasons: reasons(report),
        next: next(report),
        quality: report.surface.as_ref().map(|surface| quality(report, surface, units)).unwrap_or_default(),
        notes: notes(report),
    }
}

/// Why no surface is drawn of what is worked out for plots.
const OF_PLOTS: &str =
    "It is worked out from everything known of a plot as a whole, so nothing within a plot is told apart.";

fn reasons(report: &MapReport) -> Vec<String> {
    let located = report.values.at_places.len();
    let Some(why) = report.no_surface else {
        return match report.shown {
            _ if report.plot.is_none() && report.property.of_plots_alone() => vec![OF_PLOTS.to_owned()],
            _ if report.plot.is_none() => {
                vec!["A surface is drawn for one plot at a time: what varies ends at its edge.".to_owned()]
            }
            Shown::PriorSurface => vec![format!(
                "{located} readings are too few to find how far likeness reaches, so that is supposed; only from {BOUNDED_FIT_FROM} on is it fitted."
            )],
            Shown::BoundedFit => vec![format!(
                "{located} readings allow a range fitted by restricted likelihood within bounds; published advice for a variogram is {FREE_FIT_FROM} readings and more, so read the surface as a guide."
            )],
            _ => vec![format!("{located} readings meet the low end of published advice for a variogram.")],
        };
    };
    vec![match why {
        NoSurface::TooFew => format!(
            "With {located} readings a surface tells a new place hardly better than their mean does, and a fitted range would be noise; nothing smooth is drawn below {PRIOR_FROM}."
        ),
        NoSurface::OfThePlot => OF_PLOTS.to_owned(),
        NoSurface::NotEverywhere => {
            "At some places the probe found no pan, so a surface over all of them would show one where there is none.".to_owned()
        }
        NoSurface::AllAlike => "All readings are alike: there is nothing to map.".to_owned(),
        NoSurface::NoGroundBetween => {
            "The readings lie in a line or at one spot: there is no ground between them to map.".to_owned()
        }
        NoSurface::NoBetterThanMean => "Left out in turn, each reading is told no better by its neighbours than by the mean of all: a surface would show chance.".to_owned(),
        NoSurface::NothingToTell => {
            "Between the readings nothing is known better than their mean: a surface would show one value.".to_owned()
        }
    }]
}

fn next(report: &MapReport) -> Option<String> {
    report.plot.filter(|_| !report.property.of_plots_alone())?;
    let (next, at) = report.allowed.next()?;
    let more = at.saturating_sub(report.values.at_places.len());
    Some(format!(
        "{} at places of their own would allow {}.",
        crate::words::counted(more, "more reading", "more readings"),
        next.words()
    ))
}

fn quality(report: &MapReport, surface: &Surface, units: UnitSystem) -> Vec<String> {
    let far = |metres: f64| show(metres, Dimension::Length, units);
    let mut said = Vec::new();
    let share = surface.cross.explained;
    said.push(format!(
        "Each reading told from the others: the surface takes away {} of the squared error that their mean leaves.",
        odds(share)
    ));
    if surface.scale == Scale::Logarithm {
        let factor = |log: f64| format!("{:.2}", libm::exp(log));
        said.push(format!(
            "It is then off by a factor of {} on the average (root mean square of the logarithms), their mean by {}.",
            factor(surface.cross.rmse),
            factor(surface.cross.rmse_of_mean)
        ));
        said.push(ON_LOGARITHMS.to_owned());
    } else if !report.property.is_texture() {
        let told = |value: f64| figure(report.property, &report.values.unit, value, units);
        said.push(format!(
            "It is then off by {} on the average (root mean square), the mean by {}.",
            told(surface.cross.rmse),
            told(surface.cross.rmse_of_mean)
        ));
    }
    if share < 0.1 {
        said.push("That is hardly better than one number for the whole plot.".to_owned());
    }
    let reach = far(surface.variogram.effective_range_m());
    let error = odds(surface.variogram.nugget_share());
    said.push(if surface.supposed {
        format!("Supposed, not found: likeness reaches about {reach}, and {error} of the variance is error of a reading.")
    } else {
        format!("Fitted: likeness reaches about {reach}, and {error} of the variance is error of a reading.")
    });
    if surface.range_at_bound {
        said.push(
            "The fitted reach ran into the extent of the readings: they do not show where likeness ends."
                .to_owned(),
        );
    }
    if let Some(moves) = surface.moves_by_range {
        said.push(format!(
            "Were likeness to reach half or twice as far, no estimate would move by more than {}.",
            if surface.scale == Scale::Logarithm {
                format!("a factor of {:.2}", libm::exp(moves))
            } else {
                figure(report.property, &report.values.unit, moves, units)
            }
        ));
    }
    said.push(format!(
        "It ends {} beyond the outermost readings. {}",
        far(surface.beyond_m),
        if surface.masked_share > 0.005 {
            format!("Left blank for want of information: {} of it.", odds(surface.masked_share))
        } else {
            "Nothing within is left blank.".to_owned()
        }
    ));
    said
}

/// What is worked on logarithms.
const ON_LOGARITHMS: &str = "A few high readings pull the mean up, so it was worked on logarithms: the map shows medians, as likely to be passed as not. The mean of a place lies higher and is not told.";

fn notes(report: &MapReport) -> Vec<String> {
    let mut said = Vec::new();
    if !report.values.how.is_empty() {
        said.push(if report.values.how == NOT_SAID_HOW {
            "How it was measured is not said.".to_owned()
        } else {
            format!("Read as {}.", report.values.how)
        });
    }
    if report.values.other_ways > 0 {
        said.push(format!(
            "{} made in another way or unit left out: such figures do not compare.",
            crate::words::counted(report.values.other_ways, "reading", "readings")
        ));
    }
    if report.values.older > 0 {
        said.push(format!(
            "{} more than a year older than the latest of the same plot left out: the ground may have changed since. Looking again tells how.",
            crate::words::counted(report.values.older, "reading", "readings")
        ));
    }
    if report.values.same_day > 0 {
        said.push(format!(
            "{} of a place and day that another one is of too left out: the one recorded last counts.",
            crate::words::counted(report.values.same_day, "reading", "readings")
        ));
    }
    if report.values.without > 0 && report.property == Property::PanTop {
        said.push(format!(
            "At {} the probe found no pan: the figures are of the places that have one.",
            crate::words::counted(report.values.without, "place", "places")
        ));
    }
    if !report.not_drawn.is_empty() {
        said.push(format!(
            "Not drawn on the plan, so not on the map: {}. Draw them, and they are tinted too.",
            report.not_drawn.join(", ")
        ));
    }
    if report.without_place > 0 && !report.property.worked_out() {
        said.push("Readings without a place count in the mean of their plot; say where a bag came from and it is mapped.".to_owned());
    }
    let mut means = report.plots.iter().filter_map(|plot| plot.figure.as_ref()).filter(|one| !one.worked_out);
    if means.clone().any(|one| one.spread.is_some()) {
        said.push("Ranges of means suppose that places were chosen by chance.".to_owned());
    }
    if means.any(|one| one.of_logarithms) {
        said.push(
            "Means are geometric, those of logarithms: such readings stray by factors, and a few high ones would pull a plain mean up."
                .to_owned(),
        );
    }
    said
}

/// What a plot is told to be, in words: "6.3 (90 %: 6.1 to 6.5) from 12 readings", "loam (82 %)", "not measured here".
#[must_use]
pub fn plot_words(report: &MapReport, plot: &PlotTold, units: UnitSystem) -> String {
    let Some(found) = &plot.figure else {
        return plot.why_not.unwrap_or("not measured here").to_owned();
    };
    let figure_words = plot_figure(report, found, units);
    let range =
        found.spread.map(|spread| [spread.low, spread.high].map(|end| short(report.property, end, units)));
    let whole = match (range, found.odds) {
        (_, Some(odds_of)) => format!("{figure_words} ({})", odds(odds_of)),
        (Some([low, high]), _) if low != high => format!("{figure_words} (90 %: {low} to {high})"),
        _ => figure_words,
    };
    match (found.worked_out, found.readings, found.latest_on) {
        (false, 1, Some(on)) => format!("{whole} from one reading of {}; its range is not known", day(on)),
        (false, 2, Some(on)) => {
            format!("{whole} from two readings, the latest of {}; two give no range", day(on))
        }
        (false, count, Some(on)) => format!("{whole} from {count} readings, the latest of {}", day(on)),
        _ => whole,
    }
}

/// The figure of a plot alone, with its unit.
#[must_use]
pub fn plot_figure(report: &MapReport, found: &PlotFigure, units: UnitSystem) -> String {
    match found.named {
        Some(named) => named.to_owned(),
        None if report.property == Property::LimeNeed && found.value <= 0.0 => "none called for".to_owned(),
        None => figure(report.property, &plot_unit(report), found.value, units),
    }
}

/// The unit of plots' figures: readings tell it, and where there is none the property.
#[must_use]
pub fn plot_unit(report: &MapReport) -> String {
    match report.property {
        Property::Sand | Property::Silt | Property::Clay => "%".to_owned(),
        _ => report.values.unit.clone(),
    }
}
