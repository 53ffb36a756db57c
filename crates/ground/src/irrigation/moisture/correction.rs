//! A reckoned depletion corrected by one reading, for one soil.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::assimilate::{Correction, correct};
use super::feel::FeelStep;
use super::observation::{Instrument, MoistureReading, Observation, Place, observed_shares};
use crate::belief::Known;
use crate::irrigation::balance::available::{FieldCapacity, RootDepth, WiltingPoint, ordered};
use crate::irrigation::balance::{BedSoils, RootZone, Rules};
use crate::kit::quantiles::normal;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::water::tension::Tension;

crate::quantity! {
    /// Water by volume of the soil between the stones.
    pub struct WaterPercent: "water content", "%", 0.0 ..= 70.0, example 21.0;
    /// Share of the available water left.
    pub struct AvailablePercent: "available water left", "%", 0.0 ..= 100.0, example 55.0;
    /// Standard error of a reading: percent of a tension, points of a water content or a share.
    pub struct ReadingError: "error of the reading", "%", 0.5 ..= 50.0, example 10.0;
    /// Depth of the reading.
    pub struct ReadingDepth: "depth of the reading", "m", 0.0 ..= 5.0, example 0.15;
    /// Spots read.
    pub struct Spots: "number of spots", "", 1.0 ..= 100.0, example 3.0;
}

/// Input of `moisture-correction`: give one of `feel`, `tension_kpa`, `water_percent` and
/// `available_percent`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CorrectionInput {
    /// Water at field capacity.
    pub field_capacity_m3_m3: FieldCapacity,
    /// Water at the wilting point.
    pub wilting_point_m3_m3: WiltingPoint,
    /// Depth of the roots.
    pub root_depth_m: RootDepth,
    /// Depletion as reckoned, mm: 5th percentile, median and 95th percentile.
    pub reckoned_mm: Known,
    /// The feel of a handful.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feel: Option<FeelStep>,
    /// A tension.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tension_kpa: Option<Tension>,
    /// What the tension was read from; a tensiometer where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<Instrument>,
    /// A water content by volume.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_percent: Option<WaterPercent>,
    /// A share of the available water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub available_percent: Option<AvailablePercent>,
    /// Standard error of the reading: percent of a tension (10 where nothing is said), points of a
    /// water content (3) or of a share (10). The feel test has its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub error_percent: Option<ReadingError>,
    /// Depth of the reading; through the root zone where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth_m: Option<ReadingDepth>,
    /// How many spots of the bed were read; one where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spots: Option<Spots>,
}

/// Output of `moisture-correction`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct CorrectionOutput {
    /// Before, observed, after.
    #[serde(flatten)]
    pub correction: Correction,
    /// Standard error of the reading, as a share of the available water.
    pub reading_error_share: f64,
    /// Available water of the root zone.
    pub total_available_mm: f64,
}

/// A reckoning corrected by a reading.
pub struct MoistureCorrection;

/// Draws of the reckoning.
const DRAWS: u32 = 1000;

impl Method for MoistureCorrection {
    type Input = CorrectionInput;
    type Output = CorrectionOutput;

    const CARD: Card = Card {
        name: "moisture-correction",
        title: "A reckoning corrected by a reading",
        topic: Topic::Irrigation,
        computes: "Sets a reckoned depletion right by one look at the ground: a handful, a tensiometer, a sensor. It \
                   says how far off the reckoning was and how much the reading was let count.",
        validity: &[
            "One soil known exactly; a plot's own draws carry their differences into the reading.",
            "One spot strays by a tenth of the available water from its bed, and one depth from its root zone (judgement).",
            "A tension wetter than 33 kPa is read as nothing missing.",
            "A tensiometer fails near 80 to 85 kPa.",
        ],
        sources: &[
            Cite::new("WhitakerHamill2002", "square-root update"),
            Cite::new("SaxtonRawls2006", "eq. 11-15"),
            Cite::new("NrcsMoistureByFeel1998", "the table"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        CorrectionInput {
            field_capacity_m3_m3: FieldCapacity::literal(0.28),
            wilting_point_m3_m3: WiltingPoint::literal(0.14),
            root_depth_m: RootDepth::literal(0.4),
            reckoned_mm: Known { low: 12.0, likely: 18.0, high: 24.0 },
            feel: None,
            tension_kpa: Some(Tension::literal(60.0)),
            instrument: Some(Instrument::Tensiometer),
            water_percent: None,
            available_percent: None,
            error_percent: None,
            depth_m: Some(ReadingDepth::literal(0.15)),
            spots: Some(Spots::literal(2.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        ordered(input.field_capacity_m3_m3, input.wilting_point_m3_m3)?;
        let observation = observation(input)?;
        let depth = input.root_depth_m.get();
        let mut soils = BedSoils::one(
            input.field_capacity_m3_m3.get(),
            input.wilting_point_m3_m3.get(),
            depth,
            20.0,
            8.0,
        );
        repeat(&mut soils, DRAWS as usize);
        let rules = Rules { least_depth_m: 0.0, ..Rules::default() };
        let mut zone = RootZone::full(&soils, &rules, depth);
        let total = zone.total_available_mm[0];
        let reckoned = input.reckoned_mm.checked("reckoned_mm", 0.0, total)?;
        for (at, depletion) in (0..DRAWS).zip(&mut zone.depletion_mm) {
            let share = (f64::from(at) + 0.5) / f64::from(DRAWS);
            *depletion = reckoned.draw(normal(share), 0.0, total);
        }
        let observed = observed_shares(&observation, &soils, &zone)?;
        let Some(correction) = correct(&mut zone, &observed) else {
            unreachable!("the reading was made of the same draws");
        };
        let mut notes = observed.notes;
        if correction.surprise > 2.0 {
            notes.push(Note::new(
                NoteKind::Method,
                "The reading lies far from the reckoning: look for a watering not written down, a flow not as \
                 reckoned, another soil or a faulty sensor.",
            ));
        }
        let value =
            CorrectionOutput { correction, reading_error_share: observed.error, total_available_mm: total };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let correction = &value.correction;
        Working::new()
            .step(
                "what the reading says",
                "share of the available water used, from the feel step, the retention curve or the water content",
                format!("TAW = {:.1} mm", value.total_available_mm),
                format!("{:.3} ± {:.3}", correction.observed_share, value.reading_error_share),
            )
            .step(
                "weight of the reading",
                "K = P / (P + R)",
                format!("R = {:.3}²", value.reading_error_share),
                format!("{:.3}", correction.weight),
            )
            .cite(Cite::new("WhitakerHamill2002", "square-root update"))
            .step(
                "share used after it",
                "reckoned + K (read − reckoned)",
                format!(
                    "{:.3} + {:.3} ({:.3} − {:.3})",
                    correction.before_share,
                    correction.weight,
                    correction.observed_share,
                    correction.before_share
                ),
                format!("{:.3}, {:.1} mm", correction.after_share, correction.after_mm.median),
            )
    }
}

/// The one reading that was given.
fn observation(input: &CorrectionInput) -> Result<Observation, Refusal> {
    let error = |standing_in: f64| input.error_percent.map_or(standing_in, Bounded::get);
    let mut readings = Vec::new();
    if let Some(step) = input.feel {
        readings.push(MoistureReading::Feel(step));
    }
    if let Some(tension) = input.tension_kpa {
        readings.push(MoistureReading::Tension {
            tension_kpa: tension.get(),
            error_percent: error(10.0),
            instrument: input.instrument.unwrap_or(Instrument::Tensiometer),
        });
    }
    if let Some(water) = input.water_percent {
        readings.push(MoistureReading::WaterContent { water_percent: water.get(), error_points: error(3.0) });
    }
    if let Some(share) = input.available_percent {
        let reading =
            MoistureReading::Available { available_percent: share.get(), error_points: error(10.0) };
        readings.push(reading);
    }
    let [reading] = readings[..] else {
        return Err(Refusal::new(
            "feel",
            format!("{} readings were given, and one is wanted", readings.len()),
        )
        .given(readings.len())
        .accepted("one of feel, tension_kpa, water_percent and available_percent")
        .example("feel moist"));
    };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 100")]
    let spots = input.spots.map_or(1, |spots| spots.get() as u32);
    let place = input.depth_m.map_or(Place::RootZone, |depth| Place::Depth(depth.get()));
    Ok(Observation { reading, place, spots })
}

/// One soil, many times.
fn repeat(soils: &mut BedSoils, draws: usize) {
    for layer in &mut soils.layers {
        layer.available_m3_m3 = vec![layer.available_m3_m3[0]; draws];
        layer.curve = vec![layer.curve[0]; draws];
        layer.class = vec![layer.class[0]; draws];
    }
    for values in [&mut soils.evaporable_mm, &mut soils.readily_evaporable_mm, &mut soils.demand_factor] {
        *values = vec![values[0]; draws];
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_reading_is_wanted_and_a_tensiometer_has_its_limit() {
        let mut input = MoistureCorrection::example();
        input.feel = Some(FeelStep::Moist);
        assert_eq!(MoistureCorrection::compute(&input).unwrap_err().field, "feel");
        input.feel = None;
        input.tension_kpa = Some(Tension::literal(90.0));
        assert_eq!(MoistureCorrection::compute(&input).unwrap_err().field, "tension_kpa");
        input.instrument = Some(Instrument::Sensor);
        assert!(MoistureCorrection::compute(&input).is_ok());
        input.instrument = None;
        input.tension_kpa = Some(Tension::literal(82.0));
        assert_eq!(MoistureCorrection::compute(&input).unwrap().notes.len(), 1);
        input.depth_m = Some(ReadingDepth::literal(0.5));
        assert_eq!(MoistureCorrection::compute(&input).unwrap_err().field, "depth_m");
    }

    #[test]
    fn a_reading_far_off_is_told() {
        let mut input = MoistureCorrection::example();
        input.tension_kpa = None;
        input.feel = Some(FeelStep::Dry);
        input.reckoned_mm = Known { low: 0.0, likely: 1.0, high: 3.0 };
        let answer = MoistureCorrection::compute(&input).unwrap();
        assert!(answer.value.correction.surprise > 2.0 && answer.notes.len() == 1);
        assert!(answer.value.correction.drier_by_mm > 30.0);
    }
}
