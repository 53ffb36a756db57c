//! One push of a probe as a person writes it in a line: "120, 180, 320, stuck".

use super::push::{ProbeDepth, ProbeReading, RodFeel};
use super::strength::ConeResistance;
use crate::kit::units::{Dimension, Unit, UnitSystem, show_in, typed};
use crate::kit::{Bounded, Refusal};

/// Said of a reading that was left out.
const NOT_READ: &[&str] = &["-", "–", "skip"];
/// Said where the probe could not be pushed further.
pub const STUCK: &str = "stuck";

/// A push as it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct PushLine {
    /// Readings, top first.
    pub readings: Vec<ProbeReading>,
    /// Depth at which it could not be pushed further.
    pub stuck_at_cm: Option<ProbeDepth>,
}

/// How a plain rod went in, in a word.
#[must_use]
pub fn rod_word(rod: RodFeel) -> &'static str {
    match rod {
        RodFeel::Slides => "slides",
        RodFeel::Leans => "leans",
        RodFeel::Stops => "stops",
    }
}

/// The unit of a number without one: psi on a US farm, else MPa.
fn gauge_unit(system: UnitSystem) -> Unit {
    match system {
        UnitSystem::UsCustomary => Unit::Psi,
        UnitSystem::Metric => Unit::Megapascal,
    }
}

fn refused(field: &str, given: &str, message: impl Into<String>) -> Refusal {
    Refusal::new(field, message)
        .given(given)
        .accepted("pressures, or the words slides, leans and stops of a plain rod, one for each depth; stuck where it went no further")
        .example("120, 180, 320, stuck")
}

/// Is a number right after a comma, without a space, perhaps its decimals? In metric units numbers have decimals; in
/// psi a thousand may be written with a comma.
fn may_be_decimals(before: &str, item: &str, system: UnitSystem) -> bool {
    let of_number = |c: char| c.is_ascii_digit() || c == '.';
    let last = before.trim_end_matches(|c: char| !of_number(c));
    if last.len() != before.len() || !item.starts_with(of_number) {
        return false;
    }
    let unit = item.trim_start_matches(of_number).trim();
    let psi = if unit.is_empty() { system == UnitSystem::UsCustomary } else { unit.starts_with("psi") };
    let digits = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
    !psi || (digits(item) == 3 && last.chars().rev().take_while(|c| of_number(*c)).count() == 1)
}

/// Reads one push. Readings are parted by semicolons where there is one, else by commas (or by spaces, where they are
/// bare numbers and words), and lie a step apart, the first a step down; a reading at another depth has it in front: "4 in: 150". "stuck" ends a push
/// that could not be driven further, "-" leaves a depth out.
///
/// # Errors
/// A word or number that cannot be read, nothing at all, a depth that does not rise, a comma that may stand for decimals.
pub fn read_push(field: &str, text: &str, step_cm: f64, system: UnitSystem) -> Result<PushLine, Refusal> {
    let items: Vec<&str> = if text.contains([',', ';']) {
        let pieces: Vec<&str> = text.split(if text.contains(';') { ';' } else { ',' }).collect();
        if let Some(pair) =
            pieces.windows(2).find(|pair| !text.contains(';') && may_be_decimals(pair[0], pair[1], system))
        {
            let given = format!("{},{}", pair[0].trim(), pair[1].trim());
            return Err(Refusal::new(
                field,
                format!("the comma of {given:?} may part two readings or stand for decimals"),
            )
            .given(given)
            .accepted("readings parted by a comma and a space, or by semicolons")
            .example("1.5, 2.1, stuck or 1,5; 2,1; stuck"));
        }
        pieces.into_iter().map(str::trim).filter(|item| !item.is_empty()).collect()
    } else if text.contains(':') {
        vec![text.trim()]
    } else {
        text.split_whitespace().collect()
    };
    let mut line = PushLine { readings: Vec::new(), stuck_at_cm: None };
    let mut above = 0.0;
    for item in items {
        if line.stuck_at_cm.is_some() {
            return Err(refused(field, item, "nothing can follow after the probe was stuck"));
        }
        let (depth_cm, said) = match item.split_once(':') {
            Some((depth, said)) => {
                let depth: ProbeDepth = typed(field, depth.trim(), Dimension::Depth.unit(system))?;
                (depth, said.trim())
            }
            None => (depth_of(field, item, above + step_cm)?, item),
        };
        if depth_cm.get() <= above {
            return Err(refused(field, item, "each reading must lie deeper than the one before"));
        }
        above = depth_cm.get();
        let word = said.to_lowercase();
        if NOT_READ.contains(&word.as_str()) {
            continue;
        }
        if word == STUCK {
            line.stuck_at_cm = Some(depth_cm);
            continue;
        }
        let rod =
            [RodFeel::Slides, RodFeel::Leans, RodFeel::Stops].into_iter().find(|rod| rod_word(*rod) == word);
        let resistance_mpa = match rod {
            Some(_) => None,
            None if word.starts_with(|first: char| first.is_ascii_digit() || first == '.') => {
                Some(typed::<ConeResistance>(field, said, gauge_unit(system))?)
            }
            None => return Err(refused(field, said, format!("{said:?} is not understood"))),
        };
        line.readings.push(ProbeReading { depth_cm, resistance_mpa, rod });
    }
    if line.readings.is_empty() && line.stuck_at_cm.is_none() {
        return Err(refused(field, text, "the push has no reading"));
    }
    Ok(line)
}

fn depth_of(field: &str, item: &str, depth_cm: f64) -> Result<ProbeDepth, Refusal> {
    ProbeDepth::new(depth_cm).map_err(|_| {
        refused(
            field,
            item,
            format!("there are more readings than a probe is long: this one would lie at {depth_cm:.0} cm"),
        )
    })
}

/// Writes a push as [`read_push`] reads it, with the depths that do not follow the step.
#[must_use]
pub fn write_push(
    readings: &[ProbeReading],
    stuck_at_cm: Option<ProbeDepth>,
    step_cm: f64,
    system: UnitSystem,
) -> String {
    let mut items = Vec::new();
    let mut above = 0.0;
    let mut put = |depth_cm: f64, said: String| {
        // Steps add up with rounding.
        if (depth_cm - (above + step_cm)).abs() < 1e-6 {
            items.push(said);
        } else {
            let depth = show_in(depth_cm, Unit::Centimetre, Dimension::Depth.unit(system));
            items.push(format!("{depth}: {said}"));
        }
        above = depth_cm;
    };
    for reading in readings {
        let said = match (reading.resistance_mpa, reading.rod) {
            (Some(gauge), _) => {
                let unit = gauge_unit(system);
                let text = show_in(gauge.get(), Unit::Megapascal, unit);
                text.trim_end_matches(unit.symbol()).trim_end().to_owned()
            }
            (None, Some(rod)) => rod_word(rod).to_owned(),
            (None, None) => "-".to_owned(),
        };
        put(reading.depth_cm.get(), said);
    }
    if let Some(depth) = stuck_at_cm {
        put(depth.get(), STUCK.to_owned());
    }
    items.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    const US: UnitSystem = UnitSystem::UsCustomary;

    fn read(text: &str) -> PushLine {
        read_push("point1", text, 7.62, US).unwrap()
    }

    #[test]
    fn a_line_is_read_step_by_step() {
        // 300 psi are 2.0684 MPa [NIST SP 811, app. B.8].
        let line = read("120, 300, stuck");
        assert_eq!(line.readings.len(), 2);
        assert!((line.readings[1].resistance_mpa.unwrap().get() - 2.068_43).abs() < 1e-5);
        assert!((line.readings[1].depth_cm.get() - 15.24).abs() < 1e-9);
        assert!((line.stuck_at_cm.unwrap().get() - 22.86).abs() < 1e-9);
        assert_eq!(read("slides leans stops").readings[2].rod, Some(RodFeel::Stops));
        let skipped = read("100, -, 12 in: 2 MPa");
        assert!(skipped.readings.len() == 2 && (skipped.readings[1].depth_cm.get() - 30.48).abs() < 1e-9);
    }

    #[test]
    fn what_is_written_reads_back() {
        for text in ["120, 300, stuck", "slides, leans, 10 in: stops", "4 in: 150, 260, 14 in: stuck"] {
            let line = read(text);
            assert_eq!(write_push(&line.readings, line.stuck_at_cm, 7.62, US), text);
        }
    }

    #[test]
    fn a_decimal_comma_makes_no_reading_of_its_own() {
        let metric = |text: &str| read_push("point1", text, 10.0, UnitSystem::Metric);
        let line = metric("1,5; 2,1; stuck").unwrap();
        let gauge: Vec<f64> = line.readings.iter().map(|one| one.resistance_mpa.unwrap().get()).collect();
        assert_eq!(gauge, [1.5, 2.1]);
        assert!((line.stuck_at_cm.unwrap().get() - 30.0).abs() < 1e-9);
        assert_eq!(metric("20 cm: 1,5; 2,1").unwrap().readings.len(), 2);
        assert_eq!(metric("1.5, 2.1,stuck").unwrap().readings.len(), 2);
        for text in ["1,5, 2,1, stuck", "1,5", "0.8,1.2", "1,5 MPa, 2,1 MPa"] {
            let told = metric(text).unwrap_err();
            assert!(told.message.contains("comma") && told.example.contains(';'), "{text}: {told:?}");
        }
        assert!(read_push("point1", "1,5 MPa", 7.62, US).unwrap_err().message.contains("comma"));
        // On a psi gauge a thousand may be meant; 120,180 can be none.
        assert!(read_push("point1", "1,200", 7.62, US).unwrap_err().message.contains("comma"));
        assert_eq!(read("120,180,stuck").readings.len(), 2);
    }

    #[test]
    fn what_cannot_be_read_is_told() {
        for text in ["", "hard", "120, stuck, 150", "8 in: 120, 4 in: 130", "99999"] {
            let told = read_push("point1", text, 7.62, US).unwrap_err();
            assert_eq!(told.field, "point1", "{text}");
            assert!(!told.accepted.is_empty() && !told.example.is_empty(), "{text}");
        }
    }
}
