//! Scatter of the ground itself: how far a bag of a few cores may lie from the plot it stands for.
//!
//! Coefficients of variation within fields are compiled in Mulla and McBratney 2000 (sand 3 to 37 %,
//! clay 16 to 53 %, organic matter 21 to 41 %; recalled, not read again). A vegetable plot is small
//! and worked as one, so values from the lower half are taken: our judgement.

use book::Snapshot;
use book::model::Observation;
use book::model::seen::{OrganicMatter, OrganicMatterMethod};
use ground::belief::{Account, Witness, ilr};
use ground::kit::Bounded;
use ground::spatial::sampling::variation::Property;
use ground::texture::measured::PercentError;

/// Scatter of sand between cores of a plot, share of its value.
pub(crate) const SAND_CV: f64 = 0.12;
/// Scatter of clay between cores of a plot, share of its value.
pub(crate) const CLAY_CV: f64 = 0.22;
/// Scatter of organic matter between cores of a plot, share of its value.
pub(crate) const ORGANIC_MATTER_CV: f64 = 0.25;
/// Cores taken as mixed into a bag where nobody counted.
pub(crate) const CORES_NOT_COUNTED: f64 = 5.0;
/// Handfuls taken as mixed where no sample was recorded at all.
const NO_SAMPLE: f64 = 2.0;
/// Fewer cores than this are remarked on.
const FEW: f64 = 6.0;

/// Scatter of pH between cores of a plot, and of one laboratory on one bag (judgement; repeat tests of well mixed
/// bags of a dozen cores come within about 0.15).
const PH_BETWEEN_CORES: f64 = 0.40;
const PH_OF_LABORATORY: f64 = 0.08;

/// Scatter of one laboratory on one bag, share of the value (judgement; programmes that send one soil to many find one
/// laboratory's repeats within 5 to 10 %).
const PHOSPHORUS_OF_LABORATORY: f64 = 0.08;
const POTASSIUM_OF_LABORATORY: f64 = 0.06;
const NITRATE_OF_LABORATORY: f64 = 0.08;
const SALTS_OF_LABORATORY: f64 = 0.05;
/// The same of organic matter, percent (judgement).
const ORGANIC_MATTER_OF_LABORATORY: f64 = 0.1;

/// How far one laboratory strays from itself on one bag, in the unit of the value; what it does alike every time is no
/// part of it.
pub(crate) fn laboratory_error(property: Property, value: f64) -> f64 {
    match property {
        Property::Ph => PH_OF_LABORATORY,
        Property::Phosphorus => PHOSPHORUS_OF_LABORATORY * value,
        Property::Potassium => POTASSIUM_OF_LABORATORY * value,
        Property::Nitrate => NITRATE_OF_LABORATORY * value,
        Property::Salts => SALTS_OF_LABORATORY * value,
        Property::OrganicMatter => ORGANIC_MATTER_OF_LABORATORY,
        _ => 0.0,
    }
}

/// Standard error of the organic matter of a bag of so many cores, percent: method and ground together.
pub(crate) fn organic_matter_error(found: &OrganicMatter, cores: f64) -> f64 {
    let percent = found.percent.get();
    let method = match found.method {
        Some(OrganicMatterMethod::Guess) => 0.35 * percent + 0.3,
        Some(_) => 0.3,
        None => 0.3 + 0.1 * percent,
    };
    let ground = ORGANIC_MATTER_CV * percent / cores.sqrt();
    (method * method + ground * ground).sqrt()
}

/// Standard error of the pH of a bag of so many cores.
pub(crate) fn ph_error(cores: f64) -> f64 {
    (PH_BETWEEN_CORES * PH_BETWEEN_CORES / cores.max(1.0) + PH_OF_LABORATORY * PH_OF_LABORATORY).sqrt()
}

/// Cores behind an observation.
pub(crate) fn cores(snapshot: &Snapshot, observation: &Observation) -> f64 {
    observation
        .sample
        .and_then(|id| snapshot.sample(id))
        .map_or(NO_SAMPLE, |sample| sample.body.cores.map_or(CORES_NOT_COUNTED, f64::from))
        .max(1.0)
}

/// Covariance, in ilr coordinates, of the mean of so many cores about the plot.
pub(crate) fn scatter(centre: [f64; 2], cores: f64) -> [[f64; 2]; 2] {
    let soil = ilr::from_ilr(ilr::Point::new(centre[0], centre[1]));
    let root = cores.max(1.0).sqrt();
    let error =
        PercentError::none().and(SAND_CV * soil.sand / root, 0.0).and(0.0, CLAY_CV * soil.clay / root);
    let (_, c) = error.in_ilr(soil);
    [[c[(0, 0)], c[(0, 1)]], [c[(1, 0)], c[(1, 1)]]]
}

/// Widens a measured witness by the scatter of its cores; says so where they are few. A named class
/// is so much wider already that the scatter is left out.
pub(crate) fn widen(witness: &mut Witness, cores: f64) -> Option<String> {
    let Account::Measured { centre, covariance, .. } = &mut witness.account else { return None };
    let scatter = scatter(*centre, cores);
    for row in 0..2 {
        for column in 0..2 {
            covariance[row][column] += scatter[row][column];
        }
    }
    (cores < FEW).then(|| {
        format!("Few cores ({cores:.0} counted or supposed): the bag may not stand for the whole plot, so it counts for less.")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_cores_stand_for_the_plot_better() {
        let centre = [0.0, 0.5];
        let (few, many) = (scatter(centre, 2.0), scatter(centre, 20.0));
        for at in 0..2 {
            assert!(few[at][at] > 5.0 * many[at][at], "{few:?} {many:?}");
        }
    }
}
