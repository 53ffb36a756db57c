//! A reading of the ground's moisture as the share of the available water that it says is used, draw
//! by draw.
//!
//! # Method
//! * By feel: the middle of the step's range, with the width of the range and the 5 % that the table
//!   itself is good for [NrcsMoistureByFeel1998].
//! * By tension: each draw's own retention curve [SaxtonRawls2006, eq. 11-14]. Soils that differ in
//!   their curves differ in what one reading says of them.
//! * By water content: each draw's own field capacity and wilting point; the reading is of the soil
//!   between the stones.
//!
//! One spot is not the bed: [`SPOT_ERROR`] and [`DEPTH_ERROR`] stand for that and are judgement.

use serde::{Deserialize, Serialize};

use super::feel::FeelStep;
use super::tension_trigger::{TENSIOMETER_LIMIT_KPA, TENSIOMETER_WEAK_KPA};
use crate::irrigation::balance::{BedSoils, RootZone};
use crate::kit::quantity::with_unit;
use crate::kit::{Note, NoteKind, Refusal};
use crate::water::SoilWater;

/// Standard deviation of one spot about its bed, as a share of the available water (judgement).
pub const SPOT_ERROR: f64 = 0.10;
/// Standard deviation of one depth about its root zone, as a share of the available water (judgement).
pub const DEPTH_ERROR: f64 = 0.10;
/// Standard deviation of a practised hand, as a share of the available water.
pub const HAND_ERROR: f64 = 0.05;

/// What a tension was read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Instrument {
    /// A water-filled tensiometer: it fails near 80 to 85 kPa.
    Tensiometer,
    /// A block or another sensor that reads drier ground.
    Sensor,
}

/// What was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MoistureReading {
    /// The feel of a handful.
    Feel(FeelStep),
    /// A tension.
    Tension {
        /// Reading, kPa (1 kPa is 1 centibar).
        tension_kpa: f64,
        /// Its standard error, percent of the reading.
        error_percent: f64,
        /// What it was read from.
        instrument: Instrument,
    },
    /// Water by volume of the soil between the stones.
    WaterContent {
        /// Reading, percent by volume.
        water_percent: f64,
        /// Its standard error, in the same points.
        error_points: f64,
    },
    /// Share of the available water that is left, however it was found.
    Available {
        /// Share, percent.
        available_percent: f64,
        /// Its standard error, in the same points.
        error_points: f64,
    },
}

/// Where it was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// Through the root zone, foot by foot.
    RootZone,
    /// At one depth, m.
    Depth(f64),
}

/// A reading of the ground's moisture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observation {
    /// What was read.
    pub reading: MoistureReading,
    /// Where.
    pub place: Place,
    /// In how many spots of the bed; at least 1.
    pub spots: u32,
}

/// A reading as shares of the available water.
#[derive(Debug, Clone, PartialEq)]
pub struct Observed {
    /// Share used, 0 to 1, as the reading has it for each draw's soil.
    pub used_shares: Vec<f64>,
    /// Standard error of that share, the soil apart.
    pub error: f64,
    /// What to say beside it.
    pub notes: Vec<Note>,
}

/// What a reading says of every draw's root zone.
///
/// # Errors
/// A reading below the roots, a tension that the instrument cannot show, or a soil without a curve.
pub fn observed_shares(
    observation: &Observation,
    soils: &BedSoils,
    zone: &RootZone,
) -> Result<Observed, Refusal> {
    let depth = match observation.place {
        Place::RootZone => zone.depth_m / 2.0,
        Place::Depth(depth) => depth,
    };
    if depth > zone.depth_m {
        return Err(Refusal::new(
            "depth_m",
            format!(
                "the reading is from {}, below the roots, which reach {} now: it tells of water lost, not of water to draw",
                with_unit(depth, "m"),
                with_unit(zone.depth_m, "m")
            ),
        )
        .given(with_unit(depth, "m"))
        .accepted(format!("0 to {}", with_unit(zone.depth_m, "m")))
        .example(with_unit(zone.depth_m / 2.0, "m")));
    }
    let mut notes = Vec::new();
    let layer = soils.layer_at(depth);
    let curves: &[SoilWater] = layer.map_or(&[], |layer| layer.curve.as_slice());
    let (used_shares, own_error) = match observation.reading {
        MoistureReading::Feel(step) => {
            let (low, high) = step.share_percent();
            let used = 1.0 - (low + high) / 200.0;
            // A step says no more than its range: that of evenly likely values.
            let width = (high - low) / 100.0 / 12f64.sqrt();
            (vec![used; zone.draws()], libm::sqrt(width * width + HAND_ERROR * HAND_ERROR))
        }
        MoistureReading::Available { available_percent, error_points } => {
            let used = (1.0 - available_percent / 100.0).clamp(0.0, 1.0);
            (vec![used; zone.draws()], error_points / 100.0)
        }
        MoistureReading::WaterContent { water_percent, error_points } => {
            of_content(curves, water_percent / 100.0, error_points / 100.0, &mut notes)
        }
        MoistureReading::Tension { tension_kpa, error_percent, instrument } => {
            readable(tension_kpa, instrument, &mut notes)?;
            of_tension(curves, tension_kpa, error_percent / 100.0)?
        }
    };
    let spot = SPOT_ERROR / f64::from(observation.spots.max(1)).sqrt();
    let within = match observation.place {
        Place::RootZone => DEPTH_ERROR / 2.0,
        Place::Depth(_) => DEPTH_ERROR,
    };
    let error = libm::sqrt(own_error * own_error + spot * spot + within * within);
    Ok(Observed { used_shares, error, notes })
}

/// Refuses what a tensiometer cannot show.
fn readable(tension_kpa: f64, instrument: Instrument, notes: &mut Vec<Note>) -> Result<(), Refusal> {
    if instrument != Instrument::Tensiometer {
        return Ok(());
    }
    if tension_kpa > TENSIOMETER_LIMIT_KPA {
        return Err(Refusal::new(
            "tension_kpa",
            format!(
                "a tensiometer fails near 80 to 85 kPa, but {} was given: its column has broken, or another sensor was read",
                with_unit(tension_kpa, "kPa")
            ),
        )
        .given(with_unit(tension_kpa, "kPa"))
        .accepted("0 to 85 kPa from a tensiometer; more from another sensor")
        .example("60 kPa"));
    }
    if tension_kpa > TENSIOMETER_WEAK_KPA {
        notes.push(Note::new(
            NoteKind::OutsideRange,
            "A tensiometer near 80 kPa may have lost its column: the ground can be drier than it shows. Refill and read again.",
        ));
    }
    Ok(())
}

fn of_content(curves: &[SoilWater], content: f64, error: f64, notes: &mut Vec<Note>) -> (Vec<f64>, f64) {
    let mut off_range = 0;
    let mut spans = 0.0;
    let shares: Vec<f64> = curves
        .iter()
        .map(|curve| {
            let (held, dry) = (curve.field_capacity.unwrap_or(0.0), curve.wilting_point.unwrap_or(0.0));
            spans += held - dry;
            off_range += usize::from(content < dry || content > curve.saturation.unwrap_or(1.0));
            ((held - content) / (held - dry)).clamp(0.0, 1.0)
        })
        .collect();
    if 2 * off_range > curves.len() {
        notes.push(Note::new(
            NoteKind::OutsideRange,
            "Most soils that this ground may be cannot hold so little, or so much: check the sensor, or what the soil is taken to be.",
        ));
    }
    #[expect(clippy::cast_precision_loss, reason = "draws by the thousand")]
    let span = spans / curves.len().max(1) as f64;
    (shares, error / span.max(0.01))
}

fn of_tension(curves: &[SoilWater], tension_kpa: f64, error: f64) -> Result<(Vec<f64>, f64), Refusal> {
    let used = |curve: &SoilWater, tension: f64| -> Option<f64> {
        let (held, dry) = (curve.field_capacity?, curve.wilting_point?);
        let (content, _) = curve.water_at(tension)?;
        Some(((held - content) / (held - dry)).clamp(0.0, 1.0))
    };
    // Wetter than field capacity nothing is missing, whatever the curve does there.
    let share = |curve: &SoilWater, tension: f64| {
        if tension <= crate::water::equations::FIELD_CAPACITY_KPA { Some(0.0) } else { used(curve, tension) }
    };
    let found: Vec<Option<f64>> = curves.iter().map(|curve| share(curve, tension_kpa)).collect();
    let known: Vec<f64> = found.iter().copied().flatten().collect();
    if known.is_empty() {
        return Err(Refusal::new(
            "tension_kpa",
            "the soil-water equations give no tension curve for this soil, so a tension says nothing of its water",
        )
        .given(with_unit(tension_kpa, "kPa"))
        .accepted("a feel step, a water content or a share of the available water")
        .example("feel moist"));
    }
    #[expect(clippy::cast_precision_loss, reason = "draws by the thousand")]
    let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
    let middle = mean(&known);
    let reach: Vec<f64> = curves
        .iter()
        .filter_map(|curve| {
            let wetter = share(curve, tension_kpa * (1.0 - error).max(0.0))?;
            Some((share(curve, tension_kpa * (1.0 + error))? - wetter).abs() / 2.0)
        })
        .collect();
    let reach = if reach.is_empty() { 0.0 } else { mean(&reach) };
    Ok((found.into_iter().map(|share| share.unwrap_or(middle)).collect(), reach))
}
