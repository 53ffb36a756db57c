//! The cells of a surface: which there are, and what each holds.

use book::model::plan::Point;
use ground::kit::quantiles::student_within;
use ground::spatial::hull::Hull;
use ground::spatial::kriging::Field;
use ground::spatial::plane;
use ground::spatial::prior::{NO_INFORMATION_SHARE, PriorSurface};
use ground::spatial::raster::Raster;
use ground::spatial::texture::TextureSurface;
use ground::spatial::variogram::model::Variogram;
use ground::texture::Composition;

use super::super::property::Property;
use super::{CellValue, Ground, SUPPOSED_NUGGET_SHARE};

/// Cells of a map.
const CELLS: usize = 1600;
/// z of a central 90 % range.
const Z_90: f64 = 1.644_854;
/// Draws of texture are made from this seed, so that a map is the same each time.
const SEED: u64 = 6;

pub(super) type Cells = Vec<Option<CellValue>>;

pub(super) fn grid(hull: &Hull, beyond_m: f64, ground: &Ground<'_>) -> Raster<Point> {
    let reach = |fold: fn(f64, f64) -> f64, start: f64, axis: usize| {
        hull.corners().iter().map(|corner| corner[axis]).fold(start, fold)
    };
    let low = [0, 1].map(|axis| reach(f64::min, f64::INFINITY, axis) - beyond_m);
    let high = [0, 1].map(|axis| reach(f64::max, f64::NEG_INFINITY, axis) + beyond_m);
    Raster::over(low, high, CELLS, |place| {
        let on_plot = ground.area.is_none_or(|(outer, holes)| plane::encloses(outer, holes, place));
        on_plot && hull.beyond_m(place) <= beyond_m
    })
}

pub(super) fn kriged(field: &Field, figures: &[f64], places: &[Point]) -> Option<Cells> {
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
pub(super) fn supposed_cells(
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

pub(super) fn textures(
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
