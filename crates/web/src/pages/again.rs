//! Looking again: one plot over the years, and when to look next on the farm.

use std::sync::Arc;

use advice::again::{FarmAgain, PlotAgain, Series, Visit, farm_again, plot_again, tell};
use advice::words::{capital, day};
use askama::Template;
use book::model::EntryId;
use figures::Figure;
use figures::series::{Point, Series as Drawn, Slope, series};
use ground::kit::units::UnitSystem;
use ground::trend::yearly::Direction;
use jiff::civil::Date;
use serde::{Serialize, Serializer};

use crate::ask::Ask;
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::when;

/// Addresses of looking again.
pub const ROUTES: &[Route] = &[
    Route::page("/again", "When to look at what again, by date", farm),
    Route::page(
        "/plots/{plot}/again",
        "A plot over the years: what changed and what is only scatter, what jobs did, when to look next",
        plot,
    ),
];

#[derive(Template, Serialize)]
#[template(path = "again/plot.html")]
struct PlotPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(serialize_with = "inside", flatten)]
    report: Arc<PlotAgain>,
    #[serde(skip)]
    lead: String,
    #[serde(skip)]
    visits: Vec<VisitView>,
    #[serde(skip)]
    series: Vec<SeriesView>,
    #[serde(skip)]
    effects: Vec<EffectView>,
}

#[derive(Template, Serialize)]
#[template(path = "again/farm.html")]
struct FarmPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(flatten)]
    report: FarmAgain,
    #[serde(skip)]
    lead: String,
    #[serde(skip)]
    groups: Vec<(String, Vec<VisitView>)>,
}

/// A walk in words.
struct VisitView {
    plot: EntryId,
    plot_name: String,
    what: String,
    form: &'static str,
    when: String,
    late: bool,
    looks: String,
    each: Vec<String>,
    why: Vec<String>,
}

/// A property in words, with its picture.
struct SeriesView {
    key: String,
    name: String,
    said: String,
    changes: Vec<String>,
    figure: Option<Figure>,
    rows: Vec<[String; 3]>,
}

/// What was done, and what the readings say of it.
struct EffectView {
    done: String,
    name: String,
    lines: Vec<String>,
}

fn inside<S: Serializer>(kept: &Arc<PlotAgain>, serializer: S) -> Result<S::Ok, S::Error> {
    kept.serialize(serializer)
}

fn visit(visit: &Visit, today: Date) -> VisitView {
    VisitView {
        plot: visit.plot,
        plot_name: visit.plot_name.clone(),
        what: visit.what.clone(),
        form: visit.walk.form(),
        when: tell::when(visit, today),
        late: visit.is_late(),
        looks: tell::looks(visit),
        each: visit.looks.iter().map(tell::look).collect(),
        why: tell::reasons(visit),
    }
}

fn plot(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let today = when::day_of(ask.stamp().at);
    let units = ask.units();
    let key = format!("over the years of {} on {today}", plot.id);
    let report = desk.derived(&snapshot, &key, |snapshot| plot_again(snapshot, plot.id, today).map(Arc::new));
    let report = (*report)
        .clone()
        .ok_or_else(|| Problem::not_found("The years of this plot could not be put together."))?;
    Shown::page(PlotPage {
        shell: ask.shell(Section::Farm, format!("Over the years, {}", plot.body.name)),
        lead: tell::lead(&report, today),
        visits: report.visits.iter().map(|one| visit(one, today)).collect(),
        series: report.series.iter().map(|one| series_view(one, units)).collect(),
        effects: report
            .effects
            .iter()
            .map(|effect| EffectView {
                done: tell::done(effect),
                name: capital(&effect.name),
                lines: tell::effect(effect, units),
            })
            .collect(),
        report,
    })
}

fn farm(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let today = when::day_of(ask.stamp().at);
    let key = format!("when to look again on {today}");
    let report = (*desk.derived(&snapshot, &key, |snapshot| farm_again(snapshot, today))).clone();
    let mut groups: Vec<(String, Vec<VisitView>)> = Vec::new();
    for one in &report.visits {
        let heading = tell::group(one, today);
        match groups.iter_mut().find(|(name, _)| *name == heading) {
            Some((_, visits)) => visits.push(visit(one, today)),
            None => groups.push((heading, vec![visit(one, today)])),
        }
    }
    // What was due comes first; the rest is in the order of its days.
    groups.sort_by_key(|(_, visits)| !visits.iter().any(|visit| visit.late));
    Shown::page(FarmPage {
        shell: ask.shell(Section::Work, "When to look again"),
        lead: tell::farm_lead(&report),
        groups,
        report,
    })
}

fn series_view(one: &Series, units: UnitSystem) -> SeriesView {
    let property = one.property;
    let rows = one
        .readings
        .iter()
        .map(|reading| {
            let [low, high] = reading.range(property);
            [
                day(reading.on),
                format!(
                    "{} ({} to {})",
                    property.value(reading.value, units),
                    property.number(low, units),
                    property.number(high, units)
                ),
                tell::how(reading, units),
            ]
        })
        .collect();
    SeriesView {
        key: one.key(),
        name: capital(&one.name()),
        said: tell::series(one, units),
        changes: tell::changes(one, units),
        figure: (one.readings.len() > 1).then(|| figure(one, units)),
        rows,
    }
}

fn figure(one: &Series, units: UnitSystem) -> Figure {
    let (unit, scale) = one.property.unit(units);
    let texts: Vec<(String, String, String)> = one
        .readings
        .iter()
        .enumerate()
        .map(|(place, reading)| (day(reading.on), tell::how(reading, units), tell::cut(one, place, units)))
        .collect();
    let points: Vec<Point<'_>> = one
        .readings
        .iter()
        .zip(&texts)
        .map(|(reading, (day, how, cut))| {
            let [low, high] = reading.range(one.property);
            Point {
                year: f64::from(reading.on.year()) + f64::from(reading.on.day_of_year() - 1) / 365.25,
                day,
                value: scale * reading.value,
                range: [scale * low, scale * high],
                how,
                cut,
            }
        })
        .collect();
    let slope = one
        .trend
        .as_ref()
        .filter(|_| one.direction.is_some_and(|direction| direction != Direction::NotShown))
        .zip(one.years.first().zip(one.years.last()))
        .map(|(trend, (first, last))| {
            // The mean of a year stands in its middle.
            let at = |year: i16| (f64::from(year) + 0.5, scale * trend.slope.at(f64::from(year)));
            Slope { from: at(first.0), to: at(last.0) }
        });
    let id = format!("series-{}", one.key());
    series(&Drawn { id: &id, what: &one.name(), unit, points: &points, slope })
}
