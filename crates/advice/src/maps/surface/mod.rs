//! A surface between readings, where their number allows one, with its uncertainty and its mask.

mod cells;
mod model;

use book::model::plan::Point;
use ground::spatial::hull::Hull;
use ground::spatial::kriging::left_out::{CrossValidation, LeftOut, cross_validation};
use ground::spatial::kriging::{Field, Nugget};
use ground::spatial::limits::Shown;
use ground::spatial::raster::Raster;
use ground::spatial::scale::Scale;
use ground::spatial::variogram::model::Variogram;
use ground::texture::{Class, Composition};
use serde::Serialize;

use super::property::Property;
use super::values::SpotValue;
use cells::{grid, kriged, supposed_cells, textures};
pub(super) use model::spacing_m;
use model::{fitted, scaled, standard};

/// Share of variance supposed to be error of the reading where nothing is fitted (our judgement).
pub const SUPPOSED_NUGGET_SHARE: f64 = 0.3;
/// The supposed exponential range as a share of the extent (our judgement: three of them reach over three quarters).
pub const SUPPOSED_RANGE_SHARE: f64 = 0.25;

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
