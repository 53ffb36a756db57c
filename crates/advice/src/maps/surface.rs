//! A surface between readings, where their number allows one, with its uncertainty and its mask.

use book::model::plan::Point;
use ground::kit::quantiles::student_within;
use ground::spatial::hull::Hull;
use ground::spatial::kriging::left_out::{CrossValidation, LeftOut, cross_validation};
use ground::spatial::kriging::{Field, Nugget};
use ground::spatial::limits::Shown;
use ground::spatial::plane;
use ground::spatial::prior::{NO_INFORMATION_SHARE, PriorSurface};
use ground::spatial::raster::Raster;
use ground::spatial::scale::Scale;
use ground::spatial::sites::extent_m;
use ground::spatial::texture::TextureSurface;
use ground::spatial::variogram::empirical::{USUAL_LAGS, empirical, usual_cut_off_m};
use ground::spatial::variogram::fit::{FitWeights, Fitted, Seen, fit};
use ground::spatial::variogram::likelihood::reml_fit;
use ground::spatial::variogram::model::{Shape, Variogram};
use ground::texture::{Class, Composition};
use serde::Serialize;

use super::property::Property;
use super::values::SpotValue;

/// Cells of a map.
const CELLS: usize = 1600;
/// Share of variance supposed to be error of the reading where nothing is fitted (our judgement).
pub const SUPPOSED_NUGGET_SHARE: f64 = 0.3;
/// The supposed exponential range as a share of the extent (our judgement: three of them reach over three quarters).
pub const SUPPOSED_RANGE_SHARE: f64 = 0.25;
/// Readings that a likelihood is fitted on at most.
const MOST_FOR_LIKELIHOOD: usize = 100;
/// z of a central 90 % range.
const Z_90: f64 = 1.644_854;
/// Draws of texture are made from this seed, so that a map is the same each time.
const SEED: u64 = 6;

/// What a cell of a surface holds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CellValue {
    /// The estimate; for the texture class, clay in percent.
    pub value: f64,
    /// Lower end of its 90 % range.
    pub low: f64,
    /// Upper end of its 90 % range.
    pub high: f64,
    /// The likeliest class, for texture.
    pub class: Option<Class>,
    /// Its odds.
    pub odds: Option<f64>,
}

/// A surface.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Surface {
    /// The variogram, supposed or fitted; for texture with a sill of its own that does not count.
    pub variogram: Variogram,
    /// Was it supposed, and not fitted?
    pub supposed: bool,
    /// Did a fitted range run into its bound?
    pub range_at_bound: bool,
    /// The scale it was worked on; its cells are brought back from it, as medians.
    pub scale: Scale,
    /// Readings left out one by one, on that scale.
    pub cross: CrossValidation,
    /// The map is drawn no farther beyond the outermost readings than this, m.
    pub beyond_m: f64,
    /// The map. Empty where it is off the plot, too far from the readings, or where they say nothing.
    pub cells: Raster<CellValue>,
    /// Share of the plot's cells that are empty for want of information.
    pub masked_share: f64,
    /// By how much an estimate moves at most when a supposed range is halved or doubled, on the scale it was worked on.
    pub moves_by_range: Option<f64>,
}

/// Why there is no surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum NoSurface {
    /// Too few readings.
    TooFew,
    /// All readings are alike.
    AllAlike,
    /// The readings lie in a line or a heap, so there is no ground between them.
    NoGroundBetween,
    /// Left out in turn, the readings are told no better than by the mean.
    NoBetterThanMean,
    /// The readings say nothing of any cell.
    NothingToTell,
    /// It is told of the plot as a whole.
    OfThePlot,
    /// Some places have none of it.
    NotEverywhere,
}

/// The ground of a map.
pub(super) struct Ground<'a> {
    /// Outline of the plot with its holes, where it is drawn.
    pub(super) area: Option<(&'a [Point], &'a [Vec<Point>])>,
}

/// The surface of one plot's readings.
pub(super) fn surface(
    property: Property,
    scale: Scale,
    values: &[SpotValue],
    ground: &Ground<'_>,
) -> Result<Surface, NoSurface> {
    let shown = Shown::of(values.len());
    if shown == Shown::PointsOnly {
        return Err(NoSurface::TooFew);
    }
    let at: Vec<Point> = values.iter().map(|one| one.at).collect();
    let figures: Vec<f64> = values.iter().map(|one| scale.put(one.value)).collect();
    let soils: Option<Vec<Composition>> =
        property.is_texture().then(|| values.iter().map(|one| one.soil).collect()).flatten();
    if figures.iter().all(|figure| (figure - figures[0]).abs() < 1e-9) {
        return Err(NoSurface::AllAlike);
    }
    let hull = Hull::around(&at);
    if hull.area_m2() < 1.0 {
        return Err(NoSurface::NoGroundBetween);
    }
    let columns: Vec<Vec<f64>> = match &soils {
        Some(soils) => {
            let points: Vec<_> = soils.iter().map(|soil| ground::belief::ilr::to_ilr(*soil)).collect();
            vec![points.iter().map(|point| point.x).collect(), points.iter().map(|point| point.y).collect()]
        }
        None => vec![figures.clone()],
    };
    let (fitted, supposed) = fitted(shown, &at, &columns);
    let model = fitted.variogram;
    let field = Field::new(&at, model, Nugget::ReadingError).ok_or(NoSurface::NothingToTell)?;
    let left: Vec<LeftOut> = match columns.as_slice() {
        [one] => scaled(&field, one),
        // Columns of their own means are put together on the scale of their own deviations, so that none is told by the
        // distance between the means.
        several => several.iter().flat_map(|column| standard(column, scaled(&field, column))).collect(),
    };
    let cross = cross_validation(&left);
    if cross.explained <= 0.0 {
        return Err(NoSurface::NoBetterThanMean);
    }
    let beyond_m = spacing_m(&at);
    let grid = grid(&hull, beyond_m, ground);
    let places: Vec<Point> = grid.cells.iter().flatten().copied().collect();
    let (cells, moves_by_range) = match &soils {
        Some(soils) => (textures(property, &at, soils, &model, supposed, &places), None),
        None if supposed => supposed_cells(&at, &figures, &model, &places),
        None => (kriged(&field, &figures, &places), None),
    };
    let cells = cells.ok_or(NoSurface::NothingToTell)?;
    let told = cells.iter().flatten().count();
    if told == 0 {
        return Err(NoSurface::NothingToTell);
    }
    #[expect(clippy::cast_precision_loss, reason = "cells by the thousand")]
    let masked_share = 1.0 - told as f64 / places.len() as f64;
    let [least, most] = property.limits();
    let within = |value: f64| scale.back(value).clamp(least, most);
    let back = |cell: CellValue| CellValue {
        value: within(cell.value),
        low: within(cell.low),
        high: within(cell.high),
        ..cell
    };
    let mut cells = cells.into_iter().map(|cell| cell.map(back));
    let filled = grid.cells.iter().map(|cell| cell.and_then(|_| cells.next().flatten())).collect();
    Ok(Surface {
        variogram: model,
        supposed,
        scale,
        range_at_bound: fitted.at_bound,
        cross,
        beyond_m,
        cells: grid.with(filled),
        masked_share,
        moves_by_range,
    })
}

/// The variogram: by restricted likelihood within bounds, or by the pairs; or supposed, which is told beside it.
fn fitted(shown: Shown, at: &[Point], columns: &[Vec<f64>]) -> (Fitted, bool) {
    let extent = extent_m(at);
    let supposed = Fitted {
        variogram: Variogram {
            shape: Shape::Exponential,
            nugget: SUPPOSED_NUGGET_SHARE,
            partial_sill: 1.0 - SUPPOSED_NUGGET_SHARE,
            range_m: SUPPOSED_RANGE_SHARE * extent,
            smoothness: 0.5,
        },
        least: 0.0,
        at_bound: false,
    };
    let bounds = ((spacing_m(at) / 2.0).min(extent), extent);
    match shown {
        Shown::PointsOnly | Shown::PriorSurface => (supposed, true),
        Shown::FreeFit if columns.len() == 1 => {
            let seen: Vec<Seen> = empirical(at, &columns[0], usual_cut_off_m(at), USUAL_LAGS)
                .into_iter()
                .map(|lag| Seen {
                    #[expect(clippy::cast_precision_loss, reason = "pairs by the thousand")]
                    pairs: lag.pairs as f64,
                    distance_m: lag.mean_distance_m,
                    semivariance: lag.matheron,
                })
                .collect();
            (fit(&seen, Shape::Spherical, 0.5, FitWeights::PairsOverDistanceSquared, bounds), false)
        }
        Shown::BoundedFit | Shown::FreeFit => {
            let (at, columns) = at_most(MOST_FOR_LIKELIHOOD, at, columns);
            match reml_fit(&at, &columns, Shape::Spherical, bounds) {
                Some(found) => (found, false),
                None => (supposed, true),
            }
        }
    }
}

/// So many of the readings, evenly through their order: each trial of a likelihood takes the cube of their number.
fn at_most(most: usize, at: &[Point], columns: &[Vec<f64>]) -> (Vec<Point>, Vec<Vec<f64>>) {
    let count = at.len();
    let kept: Vec<usize> = (0..count.min(most)).map(|place| place * count / count.min(most)).collect();
    let of = |column: &Vec<f64>| kept.iter().map(|index| column[*index]).collect();
    (kept.iter().map(|index| at[*index]).collect(), columns.iter().map(of).collect())
}

/// What was left out, in deviations of its column from the column's mean.
#[expect(clippy::cast_precision_loss, reason = "readings by the hundred")]
fn standard(column: &[f64], left: Vec<LeftOut>) -> Vec<LeftOut> {
    let count = column.len() as f64;
    let mean = column.iter().sum::<f64>() / count;
    let square = column.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / (count - 1.0);
    let deviation = square.sqrt().max(f64::MIN_POSITIVE);
    left.into_iter()
        .map(|one| LeftOut {
            reading: (one.reading - mean) / deviation,
            estimate: (one.estimate - mean) / deviation,
            variance: one.variance / square.max(f64::MIN_POSITIVE),
        })
        .collect()
}

/// Leave-one-out of a column with the variance that its own readings give.
#[expect(clippy::cast_precision_loss, reason = "readings by the hundred")]
fn scaled(field: &Field, column: &[f64]) -> Vec<LeftOut> {
    let sill = (field.solve(column).square / (column.len() as f64 - 1.0)).max(f64::MIN_POSITIVE);
    field
        .left_out(column)
        .into_iter()
        .map(|left| LeftOut { variance: left.variance * sill, ..left })
        .collect()
}

/// Mean distance from a reading to its nearest neighbour, m.
#[expect(clippy::cast_precision_loss, reason = "readings by the hundred")]
pub(super) fn spacing_m(at: &[Point]) -> f64 {
    let nearest = |one: usize| {
        at.iter()
            .enumerate()
            .filter(|(other, _)| *other != one)
            .map(|(_, other)| plane::distance_m(at[one], *other))
            .fold(f64::INFINITY, f64::min)
    };
    (0..at.len()).map(nearest).sum::<f64>() / at.len() as f64
}

fn grid(hull: &Hull, beyond_m: f64, ground: &Ground<'_>) -> Raster<Point> {
    let reach = |fold: fn(f64, f64) -> f64, start: f64, axis: usize| {
        hull.corners().iter().map(|corner| corner[axis]).fold(start, fold)
    };
    let low = [0, 1].map(|axis| reach(f64::min, f64::INFINITY, axis) - beyond_m);
    let high = [0, 1].map(|axis| reach(f64::max, f64::NEG_INFINITY, axis) + beyond_m);
    Raster::over(low, high, CELLS, |place| {
        let on_plot = ground.area.is_none_or(|(outer, holes)| {
            plane::inside(outer, place) && !holes.iter().any(|hole| plane::inside(hole, place))
        });
        on_plot && hull.beyond_m(place) <= beyond_m
    })
}

type Cells = Vec<Option<CellValue>>;

fn kriged(field: &Field, figures: &[f64], places: &[Point]) -> Option<Cells> {
    let solved = field.solve(figures);
    let prior = field.prior_variance();
    Some(
        field
            .estimate_all(&solved, places)
            .into_iter()
            .map(|estimate| {
                let reach = Z_90 * estimate.variance.sqrt();
                (estimate.variance.sqrt() <= NO_INFORMATION_SHARE * prior.sqrt()).then_some(CellValue {
                    value: estimate.value,
                    low: estimate.value - reach,
                    high: estimate.value + reach,
                    class: None,
                    odds: None,
                })
            })
            .collect(),
    )
}

/// Under a supposed range, and what halving or doubling it does.
fn supposed_cells(
    at: &[Point],
    figures: &[f64],
    model: &Variogram,
    places: &[Point],
) -> (Option<Cells>, Option<f64>) {
    let of = |factor: f64| PriorSurface::new(at, figures, model.range_m * factor, SUPPOSED_NUGGET_SHARE);
    let (Some(half), Some(given), Some(twice)) = (of(0.5), of(1.0), of(2.0)) else { return (None, None) };
    let t = student_within(0.9, f64::from(given.freedom));
    let others = [half.at(places), twice.at(places)];
    let mut moves: f64 = 0.0;
    let cells = given
        .at(places)
        .into_iter()
        .enumerate()
        .map(|(index, believed)| {
            given.tells(&believed).then(|| {
                for other in &others {
                    moves = moves.max((other[index].value - believed.value).abs());
                }
                CellValue {
                    value: believed.value,
                    low: believed.value - t * believed.standard_error,
                    high: believed.value + t * believed.standard_error,
                    class: None,
                    odds: None,
                }
            })
        })
        .collect();
    (Some(cells), Some(moves))
}

fn textures(
    property: Property,
    at: &[Point],
    soils: &[Composition],
    model: &Variogram,
    supposed: bool,
    places: &[Point],
) -> Option<Cells> {
    let surface = TextureSurface::new(at, soils, model, supposed)?;
    Some(
        surface
            .at(places, SEED)
            .into_iter()
            .map(|there| {
                if there.deviation_share > NO_INFORMATION_SHARE {
                    return None;
                }
                let part = match property {
                    Property::Sand => there.sand_percent,
                    Property::Silt => there.silt_percent,
                    _ => there.clay_percent,
                };
                let likeliest = there.classes.first().copied();
                Some(CellValue {
                    value: part.median,
                    low: part.low,
                    high: part.high,
                    class: likeliest.map(|one| one.0),
                    odds: likeliest.map(|one| one.1),
                })
            })
            .collect(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Twenty readings of noise in two columns of far apart means: neither column is told by its neighbours, so both
    /// together are not either (the definition of the share of squared error, one column at a time).
    #[test]
    fn columns_of_far_apart_means_are_not_told_by_the_distance_of_the_means() {
        let at: Vec<Point> = (0..20).map(|i| [f64::from(i % 5) * 10.0, f64::from(i / 5) * 10.0]).collect();
        let noise = |seed: u32| -> Vec<f64> {
            (0..20_u32).map(|i| f64::from((i * 7919 + seed * 104_729) % 97) / 97.0 - 0.5).collect()
        };
        let (one, other) = (noise(1), noise(2).iter().map(|value| value + 50.0).collect::<Vec<f64>>());
        let (found, supposed) = fitted(Shown::PriorSurface, &at, &[one.clone(), other.clone()]);
        assert!(supposed);
        let field = Field::new(&at, found.variogram, Nugget::ReadingError).unwrap();
        let alone = |column: &Vec<f64>| cross_validation(&scaled(&field, column)).explained;
        let both: Vec<LeftOut> =
            [&one, &other].into_iter().flat_map(|column| standard(column, scaled(&field, column))).collect();
        let together = cross_validation(&both).explained;
        let (low, high) = (alone(&one).min(alone(&other)), alone(&one).max(alone(&other)));
        assert!((low - 0.05..=high + 0.05).contains(&together), "{low} {together} {high}");
        let mixed: Vec<LeftOut> =
            [&one, &other].into_iter().flat_map(|column| scaled(&field, column)).collect();
        assert!(cross_validation(&mixed).explained > 0.9, "what it would have boasted");
    }

    #[test]
    fn a_likelihood_takes_so_many_readings_and_no_more() {
        let at: Vec<Point> = (0..250).map(|i| [f64::from(i), 0.0]).collect();
        let column: Vec<f64> = (0..250).map(f64::from).collect();
        let (some, columns) = at_most(100, &at, &[column]);
        assert_eq!((some.len(), columns[0].len()), (100, 100));
        assert!(some.windows(2).all(|pair| pair[1][0] > pair[0][0]) && some[99][0] > 240.0);
        assert_eq!(at_most(100, &at[..30], &[vec![0.0; 30]]).0.len(), 30);
    }
}
