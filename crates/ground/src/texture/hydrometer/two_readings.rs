//! Sand, silt and clay from two hydrometer readings.
//!
//! # Method
//! Bouyoucos' two readings [Bouyoucos1962]: what is still up at the early reading is silt and clay, what
//! is still up at the late one is clay. Neither reading cuts at exactly 50 or 2 µm, so both are also
//! carried to those sizes along the straight line in ln(size) through the two.

use super::cut::{USUAL_SPECIFIC_GRAVITY, diameter_um};
use super::percent_finer::percent_finer as suspended_percent;
use super::reading::{HydrometerReading, ScaleAt, ScaleReading, SuspensionTemperature};
use crate::belief::Witness;
use crate::kit::quantity::with_unit;
use crate::kit::{Bounded, Note, NoteKind, Refusal};
use crate::texture::size_limit::percent_finer;
use crate::texture::{Composition, PercentError};

/// Added to a reading for each °C above [`RULE_FROM_C`]: 0.2 for each °F above 67 °F, from a state
/// agency's revised Bouyoucos sheet. Too strong in cold water; a blank at the same temperature is better.
const RULE_G_L_PER_C: f64 = 0.36;
/// 67 °F.
const RULE_FROM_C: f64 = 35.0 / 1.8;
/// What the usual dispersant solution reads where no blank was taken: 4 to 6 g/L.
const USUAL_BLANK_G_L: f64 = 5.0;
/// Temperature taken where none is given, and its standard error, in °C. Our judgement.
const ROOM_C: f64 = 20.0;
const ROOM_ERROR_C: f64 = 3.0;
/// Standard error of one reading: anywhere within one division of the scale. The largest error of the
/// test [GeeBauder1979, abstract]; its size is our judgement.
pub(super) const READING_G_L: f64 = 0.577;
/// Standard error of taking the usual blank. Our judgement.
const MISSING_BLANK_G_L: f64 = 1.0;
/// Standard error of the dry mass, as a fraction. Our judgement.
const MASS_FRACTION: f64 = 0.01;
/// Standard error of dispersing and pouring, in points, for each limit. Our judgement.
const PREPARATION_POINTS: f64 = 1.0;
/// A reading may fall below the blank by one division and still be a reading of nothing.
const DIVISION_G_L: f64 = 1.0;
/// The late reading must come this many times later than the early one to tell clay from silt.
const LEAST_TIMES_LATER: f64 = 10.0;
/// A late reading that cuts above this size says little of clay, in µm. Our judgement.
const COARSE_LATE_UM: f64 = 6.0;

/// Two readings worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct HydrometerFinding {
    /// Early and late reading less blank, or by the temperature rule, in g/L.
    pub corrected_g_l: [f64; 2],
    /// Percent of the soil still up at each reading.
    pub finer_percent: [f64; 2],
    /// Sizes in µm that the two readings cut at.
    pub cut_um: [f64; 2],
    /// Two-point texture: the early reading taken as 50 µm and the late one as 2 µm.
    pub as_read: Composition,
    /// Carried to 50 and 2 µm.
    pub soil: Composition,
    /// Readings, blank, mass, preparation and sizes together.
    pub error: PercentError,
    /// What should be known beside it.
    pub notes: Vec<Note>,
}

/// Works out two readings.
///
/// # Errors
/// A late reading that is not late (`late.after_s`) or above the early one (`late.reading_g_l`), a
/// reading below the blank (`early.reading_g_l`, `late.reading_g_l`), more in suspension than was put in
/// (`dry_mass_g`).
pub fn assess(reading: &HydrometerReading) -> Result<HydrometerFinding, Refusal> {
    let (early, late) = (&reading.early, &reading.late);
    check_order(early, late)?;
    let mut notes = Vec::new();
    let raw_early = corrected(early, reading.blank_g_l);
    let raw_late = corrected(late, reading.blank_g_l);
    let early_g_l = not_below_nothing("early.reading_g_l", early, raw_early, &mut notes)?;
    let late_g_l = not_below_nothing("late.reading_g_l", late, raw_late, &mut notes)?.min(early_g_l);

    let mass = reading.dry_mass_g.get();
    let share = |g_l: f64| suspended_percent(g_l, 1.0, mass);
    if share(early_g_l) > 105.0 {
        return Err(Refusal::new(
            "dry_mass_g",
            format!("{mass} g of soil cannot leave {early_g_l:.1} g/L in suspension at the early reading"),
        )
        .given(format!("{mass} g"))
        .accepted(format!("{} g or more with these readings", early_g_l.ceil()))
        .example("50 g"));
    }
    if share(early_g_l) > 100.0 {
        notes.push(Note::new(
            NoteKind::Adjusted,
            "A little more soil is in suspension than was put in, which reading errors can explain; there is taken to be no sand.",
        ));
    }
    let finer = [share(early_g_l).min(100.0), share(late_g_l).min(100.0)];
    let size = |at: &ScaleAt| {
        let temperature = at.temperature_c.map_or(ROOM_C, SuspensionTemperature::get);
        diameter_um(at.reading_g_l.get(), at.after_s.get(), temperature, USUAL_SPECIFIC_GRAVITY)
    };
    let cut_um = [size(early), size(late)];
    let as_read = Composition { sand: 100.0 - finer[0], silt: finer[0] - finer[1], clay: finer[1] };
    let soil = at_the_limits(cut_um, finer);
    notes.extend(remarks(reading, cut_um));
    Ok(HydrometerFinding {
        corrected_g_l: [early_g_l, late_g_l],
        finer_percent: finer,
        cut_um,
        as_read,
        soil,
        error: error(reading, finer, as_read, soil),
        notes,
    })
}

/// A reading less the blank; without a blank, by the temperature rule less what the usual dispersant
/// solution reads.
fn corrected(at: &ScaleAt, blank: Option<ScaleReading>) -> f64 {
    let reading = at.reading_g_l.get();
    match blank {
        Some(blank) => reading - blank.get(),
        None => {
            let warmth = at.temperature_c.map_or(0.0, |temperature| temperature.get() - RULE_FROM_C);
            reading + RULE_G_L_PER_C * warmth - USUAL_BLANK_G_L
        }
    }
}

fn check_order(early: &ScaleAt, late: &ScaleAt) -> Result<(), Refusal> {
    let least = LEAST_TIMES_LATER * early.after_s.get();
    if late.after_s.get() < least {
        return Err(Refusal::new(
            "late.after_s",
            format!(
                "the late reading must come at least {least} s after stirring to tell clay from silt, but {} s was given",
                late.after_s.get()
            ),
        )
        .given(format!("{} s", late.after_s.get()))
        .accepted(format!("{least} s or later"))
        .example("7200 s (2 h)"));
    }
    if late.reading_g_l.get() > early.reading_g_l.get() {
        return Err(Refusal::new(
            "late.reading_g_l",
            format!(
                "the late reading cannot be above the early one of {}, but {} was given",
                with_unit(early.reading_g_l.get(), "g/L"),
                with_unit(late.reading_g_l.get(), "g/L")
            ),
        )
        .given(with_unit(late.reading_g_l.get(), "g/L"))
        .accepted(format!("up to {}", with_unit(early.reading_g_l.get(), "g/L")))
        .example("15 g/L"));
    }
    Ok(())
}

fn not_below_nothing(
    field: &str,
    at: &ScaleAt,
    corrected: f64,
    notes: &mut Vec<Note>,
) -> Result<f64, Refusal> {
    if corrected >= 0.0 {
        return Ok(corrected);
    }
    let reading = at.reading_g_l.get();
    if corrected < -DIVISION_G_L {
        return Err(Refusal::new(
            field,
            format!(
                "a reading of {reading} g/L is {:.1} g/L below the water with dispersant alone",
                -corrected
            ),
        )
        .given(format!("{reading} g/L"))
        .accepted("a reading at or above the blank")
        .example("15 g/L with a blank of 4 g/L"));
    }
    notes.push(Note::new(
        NoteKind::Adjusted,
        format!("The reading of {reading} g/L is {:.1} g/L below the blank, within one division of the scale; nothing is taken to be in suspension.", -corrected),
    ));
    Ok(0.0)
}

/// Carries the two points of the curve to 50 and 2 µm. A late reading that cuts above 2 µm is carried
/// beyond its end, where a steep silt curve would leave no clay at all; it is let remove half at most
/// (our judgement).
fn at_the_limits(cut_um: [f64; 2], finer: [f64; 2]) -> Composition {
    let curve = |um: f64| percent_finer(um, (cut_um[0], finer[0]), (cut_um[1], finer[1])).clamp(0.0, 100.0);
    let at_50 = curve(50.0).max(finer[1]);
    let at_2 = curve(2.0).max(finer[1] / 2.0).min(at_50);
    Composition { sand: 100.0 - at_50, silt: at_50 - at_2, clay: at_2 }
}

/// All causes of error together. What the readings are moved by to reach the limits is taken as
/// uncertain by half, because the curve is not straight in truth (our judgement).
fn error(
    reading: &HydrometerReading,
    finer: [f64; 2],
    as_read: Composition,
    soil: Composition,
) -> PercentError {
    let points = 100.0 / reading.dry_mass_g.get();
    let mut blank = if reading.blank_g_l.is_some() { READING_G_L } else { MISSING_BLANK_G_L };
    if reading.blank_g_l.is_none()
        && (reading.early.temperature_c.is_none() || reading.late.temperature_c.is_none())
    {
        blank = libm::hypot(blank, RULE_G_L_PER_C * ROOM_ERROR_C);
    }
    let drift = match (reading.early.temperature_c, reading.late.temperature_c) {
        (Some(early), Some(late)) if reading.blank_g_l.is_some() => {
            RULE_G_L_PER_C * (late.get() - early.get()).abs() / 2.0
        }
        _ => 0.0,
    };
    PercentError::none()
        .and_sand_for_silt(points * READING_G_L)
        .and_silt_for_clay(points * READING_G_L)
        .and_sand_for_clay(points * blank)
        .and_silt_for_clay(points * drift)
        .and(MASS_FRACTION * finer[0], -MASS_FRACTION * finer[1])
        .and_sand_for_silt(PREPARATION_POINTS)
        .and_silt_for_clay(PREPARATION_POINTS)
        .and_sand_for_silt(0.5 * (soil.sand - as_read.sand).abs())
        .and_silt_for_clay(0.5 * (soil.clay - as_read.clay).abs())
}

fn remarks(reading: &HydrometerReading, cut_um: [f64; 2]) -> Vec<Note> {
    let mut notes = vec![Note::new(
        NoteKind::Method,
        format!(
            "The early reading cuts at {:.0} µm and the late one at {:.1} µm; the result is carried to 50 and 2 µm along a straight line, and half of what that moves is counted as error.",
            cut_um[0], cut_um[1]
        ),
    )];
    if cut_um[1] > COARSE_LATE_UM {
        notes.push(Note::new(
            NoteKind::Method,
            format!("At {:.1} µm the late reading still holds much silt; wait two hours or better a night for clay.", cut_um[1]),
        ));
    }
    if reading.blank_g_l.is_none() {
        notes.push(Note::new(
            NoteKind::Method,
            "No blank was read, so 5 g/L was taken off for the dispersant and the temperature rule was used. A reading in the same solution without soil takes two minutes and removes this error.",
        ));
    }
    if reading.blank_g_l.is_none()
        && (reading.early.temperature_c.is_none() || reading.late.temperature_c.is_none())
    {
        notes.push(Note::new(
            NoteKind::Method,
            "The temperature is not known; about 20 °C is taken, and the result is less certain for it.",
        ));
    }
    if let (Some(_), Some(early), Some(late)) =
        (reading.blank_g_l, reading.early.temperature_c, reading.late.temperature_c)
        && (early.get() - late.get()).abs() > 1.0
    {
        notes.push(Note::new(NoteKind::Method, "The water changed by more than 1 °C between the readings, and one blank cannot fit both; the result is less certain for it."));
    }
    notes
}

/// What two readings say, for belief.
///
/// # Errors
/// As [`assess`].
pub fn witness(reading: &HydrometerReading, id: &str, label: &str) -> Result<Witness, Refusal> {
    let finding = assess(reading)?;
    Ok(Witness { id: id.to_owned(), label: label.to_owned(), account: finding.error.account(finding.soil) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::belief::Account;
    use crate::kit::Method;
    use crate::texture::hydrometer::texture::HydrometerTexture;
    use crate::texture::hydrometer::{DryMass, ReadingTime};

    fn read(early: f64, late: f64, blank: Option<f64>) -> HydrometerReading {
        let mut reading = HydrometerTexture::example();
        reading.early.reading_g_l = ScaleReading::new(early).unwrap();
        reading.late.reading_g_l = ScaleReading::new(late).unwrap();
        reading.blank_g_l = blank.map(|blank| ScaleReading::new(blank).unwrap());
        reading
    }

    #[test]
    fn crossed_readings_are_refused_by_field() {
        assert_eq!(assess(&read(20.0, 21.0, Some(4.0))).unwrap_err().field, "late.reading_g_l");
        assert_eq!(assess(&read(20.0, 2.0, Some(4.0))).unwrap_err().field, "late.reading_g_l");
        assert_eq!(assess(&read(2.0, 2.0, Some(4.0))).unwrap_err().field, "early.reading_g_l");
        assert_eq!(assess(&read(58.0, 20.0, Some(4.0))).unwrap_err().field, "dry_mass_g");
        let mut soon = read(27.0, 15.0, Some(4.0));
        soon.late.after_s = ReadingTime::literal(300.0);
        assert_eq!(assess(&soon).unwrap_err().field, "late.after_s");
    }

    #[test]
    fn a_reading_just_below_the_blank_is_no_clay() {
        let finding = assess(&read(20.0, 3.5, Some(4.0))).unwrap();
        assert_eq!(finding.as_read.clay, 0.0);
        assert_eq!(finding.notes[0].kind, NoteKind::Adjusted);
    }

    /// The rule adds 0.2 g/L for each °F above 67 °F (a state agency's revised Bouyoucos sheet).
    #[test]
    fn the_temperature_rule_adds_a_fifth_for_each_degree_fahrenheit() {
        let at = |fahrenheit: f64| ScaleAt {
            temperature_c: Some(SuspensionTemperature::new((fahrenheit - 32.0) / 1.8).unwrap()),
            ..HydrometerTexture::example().early
        };
        assert!((corrected(&at(67.0), None) - (27.0 - 5.0)).abs() < 1e-9);
        assert!((corrected(&at(77.0), None) - (27.0 - 5.0 + 2.0)).abs() < 1e-9);
        assert!((corrected(&at(77.0), Some(ScaleReading::literal(4.0))) - 23.0).abs() < 1e-9);
    }

    #[test]
    fn without_a_blank_it_is_less_sure() {
        let with = assess(&read(27.0, 15.0, Some(4.0))).unwrap().error.standard();
        let without = assess(&read(27.0, 15.0, None)).unwrap().error.standard();
        assert!(without.clay > with.clay && without.sand > with.sand);
    }

    /// Gee and Bauder 1979, abstract: of the measured quantities the scale reading errs most. Each is
    /// moved by its own standard error and the clay that results is compared.
    #[test]
    fn the_scale_reading_is_the_largest_measured_error() {
        let clay = |reading: &HydrometerReading| assess(reading).unwrap().soil.clay;
        let usual = read(27.0, 15.0, Some(4.0));
        let by_reading = clay(&read(27.0, 15.0 + READING_G_L, Some(4.0))) - clay(&usual);
        let mut moved = usual.clone();
        moved.dry_mass_g = DryMass::new(50.0 * (1.0 + MASS_FRACTION)).unwrap();
        let by_mass = clay(&moved) - clay(&usual);
        let mut moved = usual.clone();
        moved.late.temperature_c = Some(SuspensionTemperature::literal(21.0));
        let by_temperature = clay(&moved) - clay(&usual);
        let mut moved = usual.clone();
        moved.late.after_s = ReadingTime::literal(7320.0);
        let by_time = clay(&moved) - clay(&usual);
        for other in [by_mass, by_temperature, by_time] {
            assert!(by_reading.abs() > 2.0 * other.abs(), "{by_reading} against {other}");
        }
    }

    #[test]
    fn the_witness_stands_at_the_true_limits() {
        let reading = read(27.0, 15.0, Some(4.0));
        let Account::Measured { centre, covariance, .. } =
            witness(&reading, "1", "the hydrometer").unwrap().account
        else {
            panic!("a hydrometer measures")
        };
        let found = crate::belief::ilr::from_ilr(centre.into());
        let soil = assess(&reading).unwrap().soil;
        assert!(
            (found.sand - soil.sand).abs() < 1.0 && (found.clay - soil.clay).abs() < 1.0,
            "{found:?} {soil:?}"
        );
        assert!(covariance[0][0] > 0.0 && covariance[1][1] > 0.0);
    }
}
