//! Maps of what varies: their pictures, for pages and paper alike, and the sheet.

use advice::maps::{CellValue, MapReport, PlotFigure, Property, Surface, ZonesTold, tell};
use advice::plan::FarmPlan;
use book::Snapshot;
use book::model::EntryId;
use book::model::plan::{Form, PartKind};
use figures::Figure;
use figures::map::{MOST_TINTS, MapCells, MapPicture, MapPoint, MapTints, ShapeTint, map};
use figures::plan::{PlanForm, PlanKind, PlanShape, PlanSize};
use ground::kit::units::{Dimension, UnitSystem, show};
use ground::spatial::scale::Scale;
use ground::texture::Class;
use serde::Serialize;

use crate::error::SheetError;
use crate::options::SheetOptions;
use crate::plan_shape;
use crate::render::render;
use crate::sheet::{Picture, Sheet};
use crate::templates::Template;

/// The pictures of a map.
#[derive(Debug, Clone, PartialEq)]
pub struct MapPictures {
    /// Readings, and the surface where there is one.
    pub map: Figure,
    /// How wide the 90 % range is, or the odds of the likeliest class; none without a surface.
    pub uncertainty: Option<Figure>,
}

/// Draws a map and, beside it, how sure it is.
#[must_use]
pub fn map_pictures(
    report: &MapReport,
    snapshot: &Snapshot,
    units: UnitSystem,
    size: PlanSize,
) -> MapPictures {
    let plan = FarmPlan::of(snapshot);
    let (shapes, plots) = shapes(report, &plan);
    let points = points(report, units);
    let tints = tints(report, &plots, units);
    let property = report.property;
    let title = format!("{}, {}", property.title(), report.name);
    let figures_are = figures_are(report, units);
    let date = report.latest_on.map_or_else(String::new, advice::words::day);
    let picture = |id: &str, title: &str, cells: Option<&MapCells>, figures_are: &str| {
        map(&MapPicture {
            id,
            title,
            shapes: &shapes,
            points: &points,
            cells,
            tints: tints.as_ref().filter(|_| cells.is_none()),
            figures_are,
            date: &date,
            // On a plan that is not fixed to the Earth, north is nobody's.
            north_up: plan.origin.is_some(),
            size,
            system: units,
        })
    };
    let cells = report.surface.as_ref().map(|surface| value_cells(report, surface, units));
    let uncertainty = report.surface.as_ref().map(|surface| {
        let (cells, said) = doubt_cells(report, surface, units);
        picture("map-doubt", &format!("How surely: {said}"), Some(&cells), &said)
    });
    MapPictures { map: picture("map-value", &title, cells.as_ref(), &figures_are), uncertainty }
}

/// What the figures of a map are: "Organic matter, % (loss on ignition)".
fn figures_are(report: &MapReport, units: UnitSystem) -> String {
    let property = report.property;
    let unit = tell::unit(property, &tell::plot_unit(report), units);
    let words = matches!(property, Property::Class | Property::StandingWater);
    let mut said = property.title();
    if !unit.is_empty() && !words {
        said.push_str(&format!(", {unit}"));
    }
    if !report.values.how.is_empty() {
        said.push_str(&format!(" ({})", report.values.how));
    }
    if report.values.scale == Scale::Logarithm && report.surface.is_some() {
        said.push_str("; medians, worked on logarithms");
    }
    said
}

/// The zones of a plot over the readings.
#[must_use]
pub fn zones_picture(
    plan: &FarmPlan,
    report: &MapReport,
    zones: &ZonesTold,
    units: UnitSystem,
    size: PlanSize,
) -> Figure {
    let shapes: Vec<PlanShape> = zones
        .zones
        .iter()
        .map(|zone| PlanShape {
            kind: PlanKind::Zone,
            name: format!("Zone {}", zone.number),
            form: PlanForm::Area { outer: zone.outer.clone(), holes: zone.holes.clone() },
        })
        .collect();
    let told = |mean: f64| tell::figure(report.property, &report.values.unit, mean, units);
    let tints = MapTints {
        shapes: (0..zones.zones.len())
            .map(|zone| Some(ShapeTint { tint: zone, label: told(zones.zones[zone].mean) }))
            .collect(),
        words: zones.zones.iter().map(|zone| format!("zone {}: {}", zone.number, told(zone.mean))).collect(),
        without: "",
    };
    map(&MapPicture {
        id: "map-zones",
        title: &format!("{} zones of {} by {}", zones.zones.len(), report.name, report.property.words()),
        shapes: &shapes,
        points: &points(report, units),
        cells: None,
        tints: Some(&tints),
        figures_are: &figures_are(report, units),
        date: &report.latest_on.map_or_else(String::new, advice::words::day),
        north_up: plan.origin.is_some(),
        size,
        system: units,
    })
}

/// What is drawn, and of which plot each is.
fn shapes(report: &MapReport, plan: &FarmPlan) -> (Vec<PlanShape>, Vec<Option<EntryId>>) {
    plan.parts
        .iter()
        .filter(|part| matches!(part.form, Form::Area { .. }))
        .filter(|part| match report.plot {
            Some(plot) => part.kind == PartKind::Plot && part.plot == Some(plot),
            None => matches!(part.kind, PartKind::Plot | PartKind::FarmEdge),
        })
        .map(|part| {
            let name = if report.plot.is_some() { String::new() } else { part.name.clone() };
            (plan_shape(part, name), part.plot)
        })
        .unzip()
}

/// Plots by their own figures: over the farm, and where there is nothing but one figure of the plot.
fn tints(report: &MapReport, plots: &[Option<EntryId>], units: UnitSystem) -> Option<MapTints> {
    if report.plot.is_some() && !report.property.of_plots_alone() {
        return None;
    }
    let drawn: Vec<Option<&PlotFigure>> = plots
        .iter()
        .map(|plot| report.plots.iter().find(|told| Some(told.plot) == *plot)?.figure.as_ref())
        .collect();
    let (tints, words) = if drawn.iter().flatten().any(|figure| figure.named.is_some()) {
        named_tints(&drawn)
    } else {
        let figures: Vec<Option<f64>> = drawn.iter().map(|figure| figure.map(|one| one.value)).collect();
        steps(&figures, tell::factor(report.property, units), report.values.scale == Scale::Logarithm)
    };
    let shapes = drawn
        .iter()
        .zip(tints)
        .map(|(figure, tint)| {
            let figure = (*figure)?;
            let odds = figure.odds.map_or_else(String::new, |odds| format!(" {}", advice::words::odds(odds)));
            let label = format!("{}{odds}", tell::plot_figure(report, figure, units));
            Some(ShapeTint { tint: tint?, label })
        })
        .collect();
    let all = drawn.iter().zip(plots).all(|(figure, plot)| figure.is_some() || plot.is_none());
    Some(MapTints { shapes, words, without: if all { "" } else { "not measured here" } })
}

/// A tint for each word that is there, by their ranks; where there are more words than tints the last share one.
fn named_tints(drawn: &[Option<&PlotFigure>]) -> (Vec<Option<usize>>, Vec<String>) {
    let mut there: Vec<(f64, &str)> =
        drawn.iter().flatten().filter_map(|figure| Some((figure.value, figure.named?))).collect();
    there.sort_by(|a, b| a.0.total_cmp(&b.0));
    there.dedup();
    let words = there
        .chunk_by(|one, other| tint_of(&there, one.0) == tint_of(&there, other.0))
        .map(|words| words.iter().map(|one| one.1).collect::<Vec<_>>().join(", "))
        .collect();
    (drawn.iter().map(|figure| figure.map(|figure| tint_of(&there, figure.value))).collect(), words)
}

fn tint_of(there: &[(f64, &str)], rank: f64) -> usize {
    there.iter().position(|one| one.0 >= rank).unwrap_or(0).min(MOST_TINTS - 1)
}

fn points(report: &MapReport, units: UnitSystem) -> Vec<MapPoint> {
    report
        .values
        .at_places
        .iter()
        .map(|one| MapPoint {
            label: tell::label(report.property, one, units),
            at: one.at,
            note: format!(
                "{} east, {} north, {}",
                show(one.at[0], Dimension::Length, units),
                show(one.at[1], Dimension::Length, units),
                advice::words::day(one.seen_on)
            ),
        })
        .collect()
}

fn of_cells(surface: &Surface, tints: Vec<Option<usize>>, words: Vec<String>, lines: bool) -> MapCells {
    MapCells {
        corner: surface.cells.corner,
        cell_m: surface.cells.cell_m,
        columns: surface.cells.columns,
        tints,
        words,
        lines,
    }
}

/// Figures in equal steps; classes each with a tint of its own, the rarer ones together.
fn value_cells(report: &MapReport, surface: &Surface, units: UnitSystem) -> MapCells {
    if report.property == Property::Class {
        return class_cells(surface);
    }
    let factor = tell::factor(report.property, units);
    let ratios = surface.scale == Scale::Logarithm;
    let (tints, words) = steps(&figures_of(surface, |cell| cell.value), factor, ratios);
    of_cells(surface, tints, words, report.shown.contours())
}

fn class_cells(surface: &Surface) -> MapCells {
    let class_of = |cell: &Option<CellValue>| cell.and_then(|cell| cell.class);
    let mut counts: Vec<(Class, usize)> = Class::ALL
        .iter()
        .map(|class| {
            (*class, surface.cells.cells.iter().filter(|cell| class_of(cell) == Some(*class)).count())
        })
        .filter(|one| one.1 > 0)
        .collect();
    counts.sort_by_key(|one| std::cmp::Reverse(one.1));
    let rare = counts.len() > MOST_TINTS;
    counts.truncate(if rare { MOST_TINTS - 1 } else { MOST_TINTS });
    // From sand to clay, so that dark means heavy.
    counts.sort_by_key(|one| one.0 as usize);
    let tints = surface
        .cells
        .cells
        .iter()
        .map(|cell| {
            let class = class_of(cell)?;
            counts.iter().position(|one| one.0 == class).or(Some(MOST_TINTS - 1))
        })
        .collect();
    let mut words: Vec<String> = counts.iter().map(|one| one.0.name().to_owned()).collect();
    if rare {
        words.push("another class".to_owned());
    }
    of_cells(surface, tints, words, true)
}

fn doubt_cells(report: &MapReport, surface: &Surface, units: UnitSystem) -> (MapCells, String) {
    if report.property == Property::Class {
        let (tints, words) = steps(&figures_of(surface, |cell| cell.odds.unwrap_or(0.0)), 100.0, false);
        return (of_cells(surface, tints, words, false), "odds of the likeliest class, %".to_owned());
    }
    let factor = tell::factor(report.property, units);
    let (tints, words) = steps(&figures_of(surface, |cell| (cell.high - cell.low) / 2.0), factor, false);
    let unit = tell::unit(report.property, &report.values.unit, units);
    let unit = if unit.is_empty() { String::new() } else { format!(", {unit}") };
    (of_cells(surface, tints, words, false), format!("half the width of the 90 % range{unit}"))
}

fn figures_of(surface: &Surface, of: impl Fn(&CellValue) -> f64) -> Vec<Option<f64>> {
    surface.cells.cells.iter().map(|cell| cell.as_ref().map(&of)).collect()
}

/// Up to five steps between round figures, in the reader's unit; `ratios` for figures that stray by factors.
fn steps(figures: &[Option<f64>], factor: f64, ratios: bool) -> (Vec<Option<usize>>, Vec<String>) {
    let shown: Vec<Option<f64>> = figures.iter().map(|figure| figure.map(|one| one * factor)).collect();
    let low = shown.iter().flatten().copied().fold(f64::INFINITY, f64::min);
    let high = shown.iter().flatten().copied().fold(f64::NEG_INFINITY, f64::max);
    if low.is_finite() && high - low <= 1e-9 * high.abs() {
        let tints = figures.iter().map(|figure| figure.map(|_| 0)).collect();
        return (tints, vec![advice::words::short(low)]);
    }
    let edges = round_edges(low, high, MOST_TINTS, ratios);
    let Some(count) = edges.len().checked_sub(1).filter(|count| *count > 0) else {
        return (vec![None; figures.len()], Vec::new());
    };
    let words = edges.windows(2).map(|pair| format!("{} to {}", plain(pair[0]), plain(pair[1]))).collect();
    let tint =
        |figure: f64| edges[1..count].iter().take_while(|edge| figure >= **edge - 1e-9 * edge.abs()).count();
    (shown.iter().map(|figure| figure.map(tint)).collect(), words)
}

/// Round figures that enclose a range: equal steps of 1, 2, 2.5 or 5 times a power of ten, or the series 1, 2, 5, 10.
fn round_edges(low: f64, high: f64, most: usize, ratios: bool) -> Vec<f64> {
    if !(low.is_finite() && high.is_finite()) {
        return Vec::new();
    }
    if ratios && low > 0.0 {
        let series = |at: i32| [1.0, 2.0, 5.0][at.rem_euclid(3) as usize] * 10_f64.powi(at.div_euclid(3));
        let from = (-30..60).rev().find(|at| series(*at) <= low * (1.0 + 1e-9)).unwrap_or(-30);
        let edges: Vec<f64> = (from..60)
            .map(series)
            .scan(false, |ended, edge| {
                let told = (!*ended).then_some(edge);
                *ended |= edge >= high * (1.0 - 1e-9);
                told
            })
            .collect();
        if (3..=most + 1).contains(&edges.len()) {
            return edges;
        }
    }
    let wide = (high - low).max(1e-9 * high.abs()).max(1e-9);
    let power = (wide / most as f64).log10().floor() as i32;
    (power..power + 3)
        .flat_map(|power| [1.0, 2.0, 2.5, 5.0].map(|one| one * 10_f64.powi(power)))
        .find_map(|step| {
            let (from, to) = (
                (low / step + 1e-9).floor(),
                (high / step - 1e-9).ceil().max((low / step + 1e-9).floor() + 1.0),
            );
            (to - from <= most as f64 + 1e-9)
                .then(|| (0..=(to - from) as i32).map(|at| (from + f64::from(at)) * step).collect())
        })
        .unwrap_or_default()
}

/// A round figure without needless zeros.
fn plain(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.replace('-', "\u{2212}") }
}

/// The sheet of a map.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct MapSheet {
    title: String,
    /// What is shown.
    lead: Vec<String>,
    /// Where the template finds the pictures, with their captions and what they show in words.
    pictures: Vec<[String; 3]>,
    /// Plots, each with its figure in words.
    plots: Vec<[String; 2]>,
    /// Parts with their sentences.
    parts: Vec<MapPart>,
    #[serde(skip)]
    drawn: Vec<Picture>,
}

/// A part of the sheet.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct MapPart {
    /// Its heading.
    heading: String,
    /// Its sentences.
    lines: Vec<String>,
}

impl Sheet for MapSheet {
    const TEMPLATE: Template = Template::MAP;

    fn title(&self) -> &str {
        &self.title
    }

    fn pictures(&self) -> &[Picture] {
        &self.drawn
    }
}

/// The sheet of a map as PDF.
///
/// # Errors
/// A fault of the program, never of what the report says.
pub fn map_pdf(
    report: &MapReport,
    snapshot: &Snapshot,
    units: UnitSystem,
    options: &SheetOptions,
) -> Result<Vec<u8>, SheetError> {
    render(&map_sheet(report, snapshot, units), options)
}

/// The map as its sheet.
#[must_use]
pub fn map_sheet(report: &MapReport, snapshot: &Snapshot, units: UnitSystem) -> MapSheet {
    let said = tell::sentences(report, units);
    // Two stand on a page, so their lettering has to be large.
    let drawn = map_pictures(report, snapshot, units, PlanSize::Phone);
    let part = |heading: &str, lines: Vec<String>| {
        (!lines.is_empty()).then(|| MapPart { heading: heading.to_owned(), lines })
    };
    let mut why = said.reasons;
    why.extend(said.next);
    let mut sheet = MapSheet {
        title: format!("Map of {}: {}", report.property.words(), report.name),
        lead: vec![said.lead],
        plots: report
            .plots
            .iter()
            .map(|plot| [plot.name.clone(), tell::plot_words(report, plot, units)])
            .collect(),
        parts: [
            part("Why this and not more", why),
            part("How good the surface is", said.quality),
            part("To be known beside it", said.notes),
        ]
        .into_iter()
        .flatten()
        .collect(),
        ..MapSheet::default()
    };
    for (name, figure) in [("map", Some(drawn.map)), ("doubt", drawn.uncertainty)] {
        if let Some(figure) = figure {
            sheet.pictures.push([Picture::path(name), figure.title.clone(), figure.description.clone()]);
            sheet.drawn.push(Picture::new(name, figure.svg));
        }
    }
    sheet
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand.
    #[test]
    fn edges_are_round_and_enclose_the_figures() {
        let told = |low, high, ratios| {
            round_edges(low, high, MOST_TINTS, ratios).into_iter().map(plain).collect::<Vec<_>>()
        };
        assert_eq!(told(5.93, 6.71, false), ["5.8", "6", "6.2", "6.4", "6.6", "6.8"]);
        assert_eq!(told(0.11, 0.17, false), ["0.1", "0.12", "0.14", "0.16", "0.18"]);
        assert_eq!(told(13.0, 190.0, true), ["10", "20", "50", "100", "200"]);
        assert_eq!(told(-2.0, 7.0, false), ["\u{2212}2", "0", "2", "4", "6", "8"]);
        assert!(told(f64::INFINITY, f64::NEG_INFINITY, false).is_empty());
    }

    #[test]
    fn a_figure_gets_the_tint_of_its_step() {
        let (tints, words) = steps(&[Some(6.0), Some(6.19), None, Some(6.71), Some(5.93)], 1.0, false);
        assert_eq!(words, ["5.8 to 6", "6 to 6.2", "6.2 to 6.4", "6.4 to 6.6", "6.6 to 6.8"]);
        assert_eq!(tints, [Some(1), Some(1), None, Some(4), Some(0)]);
        assert_eq!(
            steps(&[Some(6.31), None, Some(6.31)], 1.0, false),
            (vec![Some(0), None, Some(0)], vec!["6.3".to_owned()])
        );
        assert_eq!(steps(&[None], 1.0, false), (vec![None], Vec::new()));
    }
}
