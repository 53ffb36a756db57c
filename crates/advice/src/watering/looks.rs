//! Moisture readings in a bed, and how far off the reckoning was.

use book::model::seen::{Moisture, MoistureReading as BookReading};
use book::model::{EntryId, UnitSystem};
use ground::irrigation::balance::{BedSoils, RootZone};
use ground::irrigation::moisture::observation::Instrument;
use ground::irrigation::moisture::{
    Correction, MoistureReading, Observation, Place, correct, observed_shares,
};
use ground::kit::{Bounded, Note};
use jiff::civil::Date;
use serde::Serialize;

use crate::words;

/// Standard error of a tension, percent of the reading (judgement).
const TENSION_ERROR_PERCENT: f64 = 15.0;
/// Standard error of a sensor or a dried core, percent by volume (judgement).
const CONTENT_ERROR_POINTS: f64 = 3.0;
/// Tension up to which a reading may be a tensiometer's, kPa.
const TENSIOMETER_TO_KPA: f64 = 80.0;
/// Standard deviations from which something is amiss.
const SURPRISING: f64 = 2.0;

/// A reading of the book, as the reckoning takes it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Reading {
    pub id: EntryId,
    pub date: Date,
    pub moisture: Moisture,
    pub units: UnitSystem,
}

/// A look at the ground's moisture.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Look {
    /// The record.
    pub id: EntryId,
    /// The day, in its morning.
    pub date: Date,
    /// "by feel, moist, at 6 in".
    pub label: String,
    /// What it did to the reckoning; absent where it could not be used.
    pub correction: Option<Correction>,
    /// In a sentence: "The reckoning was 9 mm too wet".
    pub sentence: String,
    /// Does it lie further off than the errors of both explain?
    pub surprising: bool,
    /// What to say beside it.
    pub notes: Vec<Note>,
}

/// Puts a reading to the root zone.
pub(super) fn look(reading: &Reading, soils: &BedSoils, zone: &mut RootZone) -> Look {
    let label = label(&reading.moisture, reading.units);
    let mut told = Look {
        id: reading.id,
        date: reading.date,
        label,
        correction: None,
        sentence: String::new(),
        surprising: false,
        notes: Vec::new(),
    };
    if reading.moisture.from_cm.get() > 100.0 * zone.depth_m {
        told.sentence = format!(
            "Not used: it was read below the roots, which reach {} now; it tells of water lost, not of water to draw.",
            words::depth(100.0 * zone.depth_m, reading.units)
        );
        return told;
    }
    let observed = match observed_shares(&observation(&reading.moisture, zone.depth_m), soils, zone) {
        Ok(observed) => observed,
        Err(refusal) => {
            told.sentence = format!("Not used: {}.", refusal.message);
            return told;
        }
    };
    told.notes = observed.notes.clone();
    if let Some(correction) = correct(zone, &observed) {
        told.surprising = correction.surprise > SURPRISING;
        told.sentence = sentence(&correction, told.surprising, reading.units);
        told.correction = Some(correction);
    }
    told
}

fn sentence(correction: &Correction, surprising: bool, units: UnitSystem) -> String {
    let off = correction.after_mm.median - correction.before_mm.median;
    let by = correction.drier_by_mm;
    let moved = if off.abs() < 0.5 {
        "it stays as it was".to_owned()
    } else {
        format!("it now stands at {} missing", words::water(correction.after_mm.median.max(0.0), units))
    };
    let mut text = if by.abs() < 1.5 {
        format!("The reckoning agreed with the reading; {moved}.")
    } else {
        format!(
            "By the reading the reckoning was {} too {}; {moved}.",
            words::water(by.abs(), units),
            if by > 0.0 { "wet" } else { "dry" }
        )
    };
    if surprising {
        text.push_str(
            " That is further than both can be off by chance: a watering may not be written down, a flow may be other than reckoned, or the sensor may be at fault.",
        );
    }
    text
}

fn observation(moisture: &Moisture, root_depth_m: f64) -> Observation {
    let through = moisture.to_cm.is_some_and(|to| {
        moisture.from_cm.get() <= 5.0 && to.get() >= 80.0 * root_depth_m && to.get() <= 130.0 * root_depth_m
    });
    let place = if through { Place::RootZone } else { Place::Depth(moisture.middle_cm() / 100.0) };
    let reading = match moisture.reading {
        BookReading::Feel(feel) => MoistureReading::Feel(feel.into()),
        BookReading::TensionKpa(tension) => MoistureReading::Tension {
            tension_kpa: tension.get(),
            error_percent: TENSION_ERROR_PERCENT,
            // The book does not tell the instrument; what no tensiometer shows came from another.
            instrument: if tension.get() <= TENSIOMETER_TO_KPA {
                Instrument::Tensiometer
            } else {
                Instrument::Sensor
            },
        },
        BookReading::VolumetricPercent(water) => {
            MoistureReading::WaterContent { water_percent: water.get(), error_points: CONTENT_ERROR_POINTS }
        }
    };
    Observation { reading, place, spots: 1 }
}

fn label(moisture: &Moisture, units: UnitSystem) -> String {
    let depth = match moisture.to_cm {
        Some(to) => {
            format!("{} to {}", words::depth(moisture.from_cm.get(), units), words::depth(to.get(), units))
        }
        None => words::depth(moisture.from_cm.get(), units),
    };
    match moisture.reading {
        BookReading::Feel(feel) => format!("by feel at {depth}: {}", feel.words()),
        BookReading::TensionKpa(tension) => {
            format!("tension at {depth}: {} kPa", words::short(tension.get()))
        }
        BookReading::VolumetricPercent(water) => {
            format!("water content at {depth}: {} %", words::short(water.get()))
        }
    }
}
