//! Clay at 2 µm from two hydrometer readings that stand on either side of it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::reading::{DryMass, HydrometerReading, ReadingTime, ScaleAt, ScaleReading, SuspensionTemperature};
use super::two_readings::assess;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::size_limit::percent_finer;

/// Output of `hydrometer-clay-two-microns`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct HydrometerClayOutput {
    /// Percent finer at the early reading.
    pub early_percent: f64,
    /// Percent finer at the late reading.
    pub late_percent: f64,
    /// Size the early reading cuts at.
    pub early_cut_um: f64,
    /// Size the late reading cuts at.
    pub late_cut_um: f64,
    /// Percent finer than 2 µm.
    pub clay_percent: f64,
}

/// Clay at 2 µm by interpolation.
pub struct HydrometerClay;

impl Method for HydrometerClay {
    type Input = HydrometerReading;
    type Output = HydrometerClayOutput;

    const CARD: Card = Card {
        name: "hydrometer-clay-two-microns",
        title: "Clay at 2 µm by hydrometer",
        topic: Topic::Texture,
        computes: "Finds clay at exactly 2 µm from two hydrometer readings on either side of it, usually at an \
                   hour and a half and at 24 hours, on a straight line in the log of the size.",
        validity: &[
            "The early reading cuts above 2 µm and the late one below; otherwise the line is carried beyond the readings, with a note.",
            "The late reading comes at least ten times later than the early one.",
        ],
        sources: &[Cite::new("GeeBauder1986", "hydrometer method, 2 µm clay")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let at = |after_s, reading| ScaleAt {
            after_s: ReadingTime::literal(after_s),
            reading_g_l: ScaleReading::literal(reading),
            temperature_c: Some(SuspensionTemperature::literal(20.0)),
        };
        HydrometerReading {
            dry_mass_g: DryMass::literal(50.0),
            early: at(5400.0, 17.0),
            late: at(86_400.0, 14.0),
            blank_g_l: Some(ScaleReading::literal(4.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let finding = assess(input)?;
        let [early_cut_um, late_cut_um] = finding.cut_um;
        let [early_percent, late_percent] = finding.finer_percent;
        let clay_percent =
            percent_finer(2.0, (early_cut_um, early_percent), (late_cut_um, late_percent)).clamp(0.0, 100.0);
        let mut notes = Vec::new();
        if !(late_cut_um..=early_cut_um).contains(&2.0) {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                format!("Both readings lie on one side of 2 µm ({early_cut_um:.1} and {late_cut_um:.1} µm); the line is carried beyond them and may be well off."),
            ));
        }
        let value =
            HydrometerClayOutput { early_percent, late_percent, early_cut_um, late_cut_um, clay_percent };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let out = &answer.value;
        Working::new()
            .step(
                "percent finer and size at each reading",
                "P = 100 (R - blank) / W; X = 1000 K √(L / t)",
                "early; late",
                format!(
                    "{:.2} % at {:.2} µm; {:.2} % at {:.2} µm",
                    out.early_percent, out.early_cut_um, out.late_percent, out.late_cut_um
                ),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "clay at 2 µm",
                "m = (P early - P late) / ln(X early / X late); P = m ln(2 / X late) + P late",
                format!(
                    "({:.2} - {:.2}) / ln({:.2} / {:.2}) × ln(2 / {:.2}) + {:.2}",
                    out.early_percent,
                    out.late_percent,
                    out.early_cut_um,
                    out.late_cut_um,
                    out.late_cut_um,
                    out.late_percent
                ),
                format!("{:.2} %", out.clay_percent),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Gee and Bauder 1979 (abstract; the halved weighted sum is inferred from its wording):
    /// clay = (P24 + 0.876 P1.5) / 2 for 5 to 60 % clay. Another route to the same soil.
    #[test]
    fn the_published_shortcut_agrees_within_half_a_point() {
        let clay = HydrometerClay::compute(&HydrometerClay::example()).unwrap().value.clay_percent;
        let shortcut = (20.0 + 0.876 * 26.0) / 2.0;
        assert!((clay - shortcut).abs() < 0.5, "{clay} {shortcut}");
    }

    #[test]
    fn readings_on_one_side_of_two_microns_are_flagged() {
        let mut input = HydrometerClay::example();
        input.early.after_s = ReadingTime::literal(300.0);
        input.late.after_s = ReadingTime::literal(7200.0);
        let answer = HydrometerClay::compute(&input).unwrap();
        assert_eq!(answer.notes[0].kind, NoteKind::OutsideRange);
    }
}
