//! What each plot is told to be as a whole: worked out from all its evidence, or the mean of its readings.

use book::model::EntryId;
use book::{Held, Snapshot, model::Plot};
use ground::kit::Spread;
use ground::kit::quantiles::student_within;
use ground::spatial::scale::Scale;
use ground::water::drainage::water_table::Likelihood;
use jiff::civil::Date;
use serde::Serialize;

use super::property::Property;
use super::values::Values;
use crate::feeding::acidity::{AcidityOptions, Standing, acidity};
use crate::plot_report::PlotReport;
use crate::water::plot_water;

/// The figure of a plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlotFigure {
    /// The figure; for classes and the like their rank.
    pub value: f64,
    /// With its 90 % range; none where that is not known.
    pub spread: Option<Spread>,
    /// A class, or another word instead of a figure.
    pub named: Option<&'static str>,
    /// Its odds.
    pub odds: Option<f64>,
    /// Worked out from everything known of the plot, and not a mean of readings?
    pub worked_out: bool,
    /// Readings behind a mean.
    pub readings: usize,
    /// Is the mean that of logarithms?
    pub of_logarithms: bool,
    /// Day of the latest reading behind a mean.
    pub latest_on: Option<Date>,
}

/// A plot on the map of the farm.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlotTold {
    /// The plot.
    pub plot: EntryId,
    /// Its name.
    pub name: String,
    /// Its readings that have a place.
    pub at_places: usize,
    /// Its figure; none where nothing was measured.
    pub figure: Option<PlotFigure>,
    /// Why there is none, in words.
    pub why_not: Option<&'static str>,
}

/// What a plot is told to be.
pub(super) fn told(
    snapshot: &Snapshot,
    plot: &Held<Plot>,
    property: Property,
    values: &Values,
    report: Option<&PlotReport>,
    today: Date,
) -> PlotTold {
    let found = if property.worked_out() {
        report.map_or(Err("nothing is known of its make-up"), |report| {
            worked_out(snapshot, report, property, today)
        })
    } else {
        mean(property, values, plot.id).ok_or(if values.other_ways_on.contains(&plot.id) {
            "measured in another way, which does not compare"
        } else {
            "not measured here"
        })
    };
    let (figure, why_not) = match found {
        Ok(figure) => (Some(figure), None),
        Err(why) => (None, Some(why)),
    };
    let at_places = values.at_places.iter().filter(|one| one.plot == plot.id).count();
    PlotTold { plot: plot.id, name: plot.body.name.clone(), at_places, figure, why_not }
}

fn of_spread(spread: Spread) -> PlotFigure {
    PlotFigure {
        value: spread.median,
        spread: Some(spread),
        named: None,
        odds: None,
        worked_out: true,
        readings: 0,
        of_logarithms: false,
        latest_on: None,
    }
}

fn of_word(rank: usize, named: &'static str, odds: Option<f64>) -> PlotFigure {
    #[expect(clippy::cast_precision_loss, reason = "a dozen classes")]
    let value = rank as f64;
    PlotFigure {
        named: Some(named),
        odds,
        spread: None,
        ..of_spread(Spread { low: value, median: value, high: value })
    }
}

fn worked_out(
    snapshot: &Snapshot,
    report: &PlotReport,
    property: Property,
    today: Date,
) -> Result<PlotFigure, &'static str> {
    const NO_MAKE_UP: &str = "nothing is known of its make-up";
    let make_up = &report.make_up;
    match property {
        Property::LimeNeed => return lime(snapshot, report, today),
        Property::StandingWater => return standing_water(snapshot, report, today),
        _ if !report.make_up_known => return Err(NO_MAKE_UP),
        _ => {}
    }
    let spread = match property {
        Property::Sand => Some(make_up.sand_percent),
        Property::Silt => Some(make_up.silt_percent),
        Property::Clay => Some(make_up.clay_percent),
        Property::AvailableWater => report.water.available_water_m3_m3.map(|one| scaled(one, 1000.0)),
        Property::UsableWater => report.water.available_water_mm,
        Property::Conductivity => report.water.saturated_conductivity_mm_h,
        Property::DaysToDrain => {
            plot_water(snapshot, report, today).and_then(|water| water.drainage.days_to_air)
        }
        _ => {
            let odds = make_up.class_odds.first().map(|one| one.odds);
            return Ok(of_word(make_up.class as usize, make_up.class.name(), odds));
        }
    };
    spread.map(of_spread).ok_or("the equations give no figure for this ground")
}

fn scaled(spread: Spread, factor: f64) -> Spread {
    Spread { low: factor * spread.low, median: factor * spread.median, high: factor * spread.high }
}

fn standing_water(snapshot: &Snapshot, report: &PlotReport, today: Date) -> Result<PlotFigure, &'static str> {
    let water = plot_water(snapshot, report, today).ok_or("nothing is known of its ground")?;
    let (rank, named) = match water.drainage.likelihood {
        Likelihood::Unknown => return Err("no sign was looked for here"),
        Likelihood::Unlikely => (0, "unlikely"),
        Likelihood::Possible => (1, "possible"),
        Likelihood::Likely => (2, "likely"),
        Likelihood::Seen => (3, "seen"),
    };
    Ok(of_word(rank, named, None))
}

fn lime(snapshot: &Snapshot, report: &PlotReport, today: Date) -> Result<PlotFigure, &'static str> {
    let found = acidity(snapshot, report, AcidityOptions::default(), today).ok_or("not tested here")?;
    match (found.standing, found.need) {
        (Standing::NotTested, _) => Err("its acidity was not tested"),
        (Standing::SaltOnly, _) => Err("only its pH in salt was tested, which no method here reads"),
        (Standing::TooAcid, Some(need)) => Ok(of_spread(need.carbonate_kg_m2)),
        (Standing::TooAcid, None) => {
            Err("lime is called for, and the farm's lime method gives no need for it")
        }
        _ => Ok(of_spread(Spread { low: 0.0, median: 0.0, high: 0.0 })),
    }
}

/// The mean of all readings of a plot, on the scale that they are worked on; its range is Student's.
#[expect(clippy::cast_precision_loss, reason = "readings by the dozen")]
fn mean(property: Property, values: &Values, plot: EntryId) -> Option<PlotFigure> {
    let placed = values.at_places.iter().filter(|one| one.plot == plot).map(|one| (one.seen_on, one.value));
    let other = values.elsewhere.iter().filter(|one| one.0 == plot).map(|one| (one.1, one.2));
    let all: Vec<(Date, f64)> = placed.chain(other).collect();
    let latest_on = all.iter().map(|one| one.0).max()?;
    let scale = if all.iter().all(|one| one.1 > 0.0) { values.scale } else { Scale::Plain };
    let n = all.len() as f64;
    let on_scale: Vec<f64> = all.iter().map(|one| scale.put(one.1)).collect();
    let mean = on_scale.iter().sum::<f64>() / n;
    let [least, most] = property.limits();
    // Two readings tell a difference, and no range that means anything.
    let spread = (all.len() > 2).then(|| {
        let square = on_scale.iter().map(|one| (one - mean) * (one - mean)).sum::<f64>() / (n - 1.0);
        let reach = student_within(0.9, n - 1.0) * (square / n).sqrt();
        let end = |value: f64| scale.back(value).clamp(least, most);
        Spread { low: end(mean - reach), median: scale.back(mean), high: end(mean + reach) }
    });
    Some(PlotFigure {
        value: scale.back(mean),
        spread,
        named: None,
        odds: None,
        worked_out: false,
        readings: all.len(),
        of_logarithms: scale == Scale::Logarithm && all.len() > 1,
        latest_on: Some(latest_on),
    })
}
