//! The map in sentences, for the page, the sheet and the command line.

use ground::kit::units::{Dimension, UnitSystem, show};
use ground::spatial::limits::{BOUNDED_FIT_FROM, FREE_FIT_FROM, PRIOR_FROM, Shown};

use super::parts::ZonesTold;
use super::property::Property;
use super::{MapReport, NoSurface, PlotMean, SpotValue, Surface};
use crate::words::{day, odds};

/// A figure of a property with its unit, in the reader's.
#[must_use]
pub fn figure(property: Property, unit: &str, value: f64, units: UnitSystem) -> String {
    match property {
        Property::Infiltration => crate::words::rate(value, units),
        Property::PanTop => crate::words::depth(value, units),
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
    let words = match property {
        Property::Infiltration | Property::PanTop | Property::AvailableWater => {
            figure(property, "", value, units)
        }
        _ => return format!("{value:.*}", property.decimals()),
    };
    words.split(' ').next().unwrap_or_default().to_owned()
}

/// What the figures of a legend are in.
#[must_use]
pub fn unit(property: Property, unit: &str, units: UnitSystem) -> String {
    match property {
        Property::Infiltration | Property::PanTop | Property::AvailableWater => {
            let words = figure(property, "", 10.0, units);
            words.split_once(' ').map_or_else(String::new, |parts| parts.1.to_owned())
        }
        _ => unit.to_owned(),
    }
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
    let located = report.values.at_places.len();
    let all = located + report.without_place;
    let words = report.property.words();
    let shown = match (report.shown, report.plot) {
        _ if all == 0 => format!("No reading of {words} is in the book for {}.", report.name),
        (_, None) => "Readings at their places and the means of the plots.".to_owned(),
        (shown, _) => {
            let text = shown.words();
            text[..1].to_uppercase() + &text[1..] + "."
        }
    };
    let counted = match (located, report.without_place) {
        (_, 0) | (0, _) if all == 0 => String::new(),
        (located, 0) => {
            format!(" {} of {words}.", counted(located, "reading at a place", "readings at places"))
        }
        (located, others) => format!(
            " {} of {words}, and {} without a place.",
            counted(located, "reading at a place", "readings at places"),
            counted(others, "more", "more")
        ),
    };
    Sentences {
        lead: shown + &counted,
        reasons: reasons(report),
        next: next(report),
        quality: report.surface.as_ref().map(|surface| quality(report, surface, units)).unwrap_or_default(),
        notes: notes(report),
    }
}

fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}

fn reasons(report: &MapReport) -> Vec<String> {
    let located = report.values.at_places.len();
    let Some(why) = report.no_surface else {
        return match report.shown {
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
    report.plot?;
    let (next, at) = report.allowed.next()?;
    let more = at.saturating_sub(report.values.at_places.len());
    Some(format!(
        "{} at places of their own would allow {}.",
        counted(more, "more reading", "more readings"),
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
    if !report.property.is_texture() {
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
            figure(report.property, &report.values.unit, moves, units)
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

fn notes(report: &MapReport) -> Vec<String> {
    let mut said = Vec::new();
    if !report.values.how.is_empty() {
        said.push(format!("Read as {}.", report.values.how));
    }
    if report.values.other_ways > 0 {
        said.push(format!(
            "{} made in another way or unit left out: such figures do not compare.",
            counted(report.values.other_ways, "reading", "readings")
        ));
    }
    if report.without_place > 0 {
        said.push("Readings without a place count in the mean of their plot; say where a bag came from and it is mapped.".to_owned());
    }
    said.push("Ranges of means suppose that places were chosen by chance.".to_owned());
    said
}

/// A plot's mean in words.
#[must_use]
pub fn mean_words(report: &MapReport, mean: &PlotMean, units: UnitSystem) -> String {
    let told = |value: f64| figure(report.property, &report.values.unit, value, units);
    match mean.spread {
        Some(spread) => format!(
            "{} (90 %: {} to {}) from {} readings, the latest of {}",
            told(mean.mean),
            short(report.property, spread.low, units),
            short(report.property, spread.high, units),
            mean.readings,
            day(mean.latest_on)
        ),
        None => {
            format!("{} from one reading of {}; its range is not known", told(mean.mean), day(mean.latest_on))
        }
    }
}

/// Zones in sentences: what they explain, and whether they are worth their trouble.
#[must_use]
pub fn zones(told: &ZonesTold) -> Vec<String> {
    let worth = &told.worth;
    let count = told.zones.len();
    let mut said =
        vec![format!("{count} zones hold {} of the variance of the map.", odds(told.explained_of_map))];
    said.push(if worth.better_than_one {
        format!(
            "By the readings, each left out in turn, the means of the zones take away {} of the squared error of one mean.",
            odds(worth.explained)
        )
    } else {
        format!("By the readings, each left out in turn, {count} zones are no better than one: treat the plot as a whole.")
    });
    said.push(
        "The readings that made the map also judge its zones, so this is a little too kind.".to_owned(),
    );
    said
}
