//! Sand, silt and clay between readings: both log-ratio coordinates kriged under one correlation, and draws of them
//! turned back, so that no place leaves the triangle and each has its odds of a class.

use nalgebra::Matrix2;

use super::kriging::{Field, Nugget};
use super::sites::Place;
use super::variogram::model::Variogram;
use crate::belief::ilr::{self, Point};
use crate::kit::Spread;
use crate::kit::chance::Chance;
use crate::texture::{Class, Composition};

/// Draws a place.
pub const DRAWS: usize = 400;

/// Texture as it is believed of places, under one correlation for both coordinates (so that the weights are the same
/// for both) and a joint covariance of the two.
pub struct TextureSurface {
    field: Field,
    solved: [super::kriging::Solved; 2],
    /// Joint covariance of the coordinates, nugget and all.
    pub covariance: Matrix2<f64>,
    freedom: u32,
    heavy_tails: bool,
    partial: f64,
}

/// Texture believed of one place.
#[derive(Debug, Clone, PartialEq)]
pub struct TextureThere {
    /// The composition at the estimate.
    pub centre: Composition,
    /// Sand with its 90 % range, %.
    pub sand_percent: Spread,
    /// Silt with its 90 % range, %.
    pub silt_percent: Spread,
    /// Clay with its 90 % range, %.
    pub clay_percent: Spread,
    /// Share of the draws in each class, the likeliest first; classes without a draw are left out.
    pub classes: Vec<(Class, f64)>,
    /// Deviation as a share of what was believed before any reading.
    pub deviation_share: f64,
}

impl TextureSurface {
    /// Takes in readings under a correlation: the shape, range and nugget share of `model` count, its sill does not.
    /// With `supposed`, the covariance is known from the readings alone and draws have Student's tails. `None` for
    /// fewer than three readings, or where the covariance is singular.
    #[must_use]
    pub fn new(at: &[Place], soils: &[Composition], model: &Variogram, supposed: bool) -> Option<Self> {
        let freedom = u32::try_from(at.len().checked_sub(1)?).ok().filter(|freedom| *freedom >= 2)?;
        let share = model.nugget_share();
        let unit = Variogram { nugget: share, partial_sill: 1.0 - share, ..*model };
        let field = Field::new(at, unit, Nugget::ReadingError)?;
        let points: Vec<Point> = soils.iter().map(|soil| ilr::to_ilr(*soil)).collect();
        let columns = [0, 1].map(|axis| points.iter().map(|point| point[axis]).collect::<Vec<f64>>());
        let solved = [0, 1].map(|axis| field.solve(&columns[axis]));
        let both: Vec<f64> = columns[0].iter().zip(&columns[1]).map(|(a, b)| a + b).collect();
        // The cross term from the square of the sum.
        let cross = 0.5 * (field.solve(&both).square - solved[0].square - solved[1].square);
        let covariance = Matrix2::new(solved[0].square, cross, cross, solved[1].square) / f64::from(freedom);
        Some(Self { field, solved, covariance, freedom, heavy_tails: supposed, partial: 1.0 - share })
    }

    /// What is believed of places, from draws of a seed.
    #[must_use]
    pub fn at(&self, places: &[Place], seed: u64) -> Vec<TextureThere> {
        let many = self.field.estimates(&[&self.solved[0], &self.solved[1]], places);
        let root = self.covariance.cholesky().map_or_else(Matrix2::zeros, |factor| factor.l());
        let mut chance = Chance::new(seed);
        // The same draws at every place: what differs from place to place is the ground, not chance.
        let deviates: Vec<Point> = (0..DRAWS)
            .map(|_| {
                let stretch = if self.heavy_tails { chance.stretch(Some(self.freedom)) } else { 1.0 };
                root * Point::new(chance.normal(), chance.normal()) * stretch
            })
            .collect();
        (0..places.len())
            .map(|place| {
                let centre = Point::new(many.values[0][place], many.values[1][place]);
                let wide = many.variance[place].sqrt();
                there(centre, wide, &deviates, (many.variance[place] / self.partial).sqrt())
            })
            .collect()
    }
}

fn there(centre: Point, wide: f64, deviates: &[Point], deviation_share: f64) -> TextureThere {
    let mut parts = [Vec::with_capacity(DRAWS), Vec::with_capacity(DRAWS), Vec::with_capacity(DRAWS)];
    let mut counts = [0_u32; Class::ALL.len()];
    for deviate in deviates {
        let soil = ilr::from_ilr(centre + deviate * wide);
        counts[Class::of(soil) as usize] += 1;
        for (list, part) in parts.iter_mut().zip([soil.sand, soil.silt, soil.clay]) {
            list.push(part);
        }
    }
    let mut classes: Vec<(Class, f64)> = Class::ALL
        .iter()
        .filter(|class| counts[**class as usize] > 0)
        .map(|class| (*class, f64::from(counts[*class as usize]) / DRAWS as f64))
        .collect();
    classes.sort_by(|a, b| b.1.total_cmp(&a.1));
    let soil = ilr::from_ilr(centre);
    let [sand, silt, clay] = parts
        .map(|mut list| Spread::of_equal(&mut list).unwrap_or(Spread { low: 0.0, median: 0.0, high: 100.0 }));
    TextureThere {
        centre: soil,
        sand_percent: sand,
        silt_percent: silt,
        clay_percent: clay,
        classes,
        deviation_share,
    }
}
