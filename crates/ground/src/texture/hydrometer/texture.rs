//! Texture by hydrometer as a method: the two-point result, the same at the true limits, and the odds.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::reading::{DryMass, HydrometerReading, ReadingTime, ScaleAt, ScaleReading, SuspensionTemperature};
use super::two_readings::{READING_G_L, assess};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::{Class, ClassOdds, Composition, StandardError};

/// Output of `hydrometer-texture`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct HydrometerTextureOutput {
    /// Sand, silt and clay as the two-point test gives them, in percent.
    pub as_read_percent: Composition,
    /// Class of the two-point test.
    pub class_as_read: Class,
    /// Size the early reading cuts at.
    pub early_cut_um: f64,
    /// Size the late reading cuts at.
    pub late_cut_um: f64,
    /// Sand, silt and clay carried to 50 and 2 µm, in percent.
    pub mass_percent: Composition,
    /// One standard deviation, in points.
    pub standard_error_points: StandardError,
    /// Texture class.
    pub class: Class,
    /// Odds of each class within the error, likeliest first.
    pub class_odds: Vec<ClassOdds>,
}

/// Texture from two readings.
pub struct HydrometerTexture;

impl Method for HydrometerTexture {
    type Input = HydrometerReading;
    type Output = HydrometerTextureOutput;

    const CARD: Card = Card {
        name: "hydrometer-texture",
        title: "Texture by hydrometer",
        topic: Topic::Texture,
        computes: "Works out sand, silt and clay from two readings of a hydrometer in a litre of suspension, as \
                   the two-point test gives them and carried to the true limits of 50 and 2 µm, with the error.",
        validity: &[
            "A 152H hydrometer, 40 to 50 g of fine soil or 100 g of sandy soil, dispersed overnight with hexametaphosphate.",
            "Gypsum, lime, iron oxides, salts or more than 5 % organic matter need pretreatment that this test has not.",
            "The late reading comes at least ten times later than the early one.",
        ],
        sources: &[
            Cite::new("Bouyoucos1962", "two-point texture"),
            Cite::new("AstmD422", "15.1"),
            Cite::new("GeeBauder1979", "abstract: the scale reading is the largest error"),
        ],
        cautions: &[
            "Hexametaphosphate and dishwasher powder irritate eyes and skin; keep them labelled and away from children.",
        ],
    };

    fn example() -> Self::Input {
        HydrometerReading {
            dry_mass_g: DryMass::literal(50.0),
            early: ScaleAt {
                after_s: ReadingTime::literal(40.0),
                reading_g_l: ScaleReading::literal(27.0),
                temperature_c: Some(SuspensionTemperature::literal(20.0)),
            },
            late: ScaleAt {
                after_s: ReadingTime::literal(7200.0),
                reading_g_l: ScaleReading::literal(15.0),
                temperature_c: Some(SuspensionTemperature::literal(20.0)),
            },
            blank_g_l: Some(ScaleReading::literal(4.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let finding = assess(input)?;
        let value = HydrometerTextureOutput {
            as_read_percent: finding.as_read,
            class_as_read: Class::of(finding.as_read),
            early_cut_um: finding.cut_um[0],
            late_cut_um: finding.cut_um[1],
            mass_percent: finding.soil,
            standard_error_points: finding.error.standard(),
            class: Class::of(finding.soil),
            class_odds: finding.error.class_odds(finding.soil),
        };
        let mut notes = finding.notes;
        if value.class != value.class_as_read {
            notes.push(Note::new(
                NoteKind::Method,
                format!(
                    "Taken as they stand the readings give {}; at the true limits it is {}.",
                    value.class_as_read.name(),
                    value.class.name()
                ),
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "That the scale reading errs most is published; the sizes of the errors are our judgement.",
        ));
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok(finding) = assess(input) else { return Working::new() };
        let out = &answer.value;
        let [early, late] = finding.corrected_g_l;
        let mass = input.dry_mass_g.get();
        let correction = match input.blank_g_l {
            Some(blank) => ("reading - blank", format!("blank {} g/L", blank.get())),
            None => ("reading + 0.36 × (T - 19.44) - 5, for want of a blank", "no blank".to_owned()),
        };
        let soil = |soil: &Composition| {
            format!("sand {:.2}, silt {:.2}, clay {:.2} %", soil.sand, soil.silt, soil.clay)
        };
        let error = out.standard_error_points;
        Working::new()
            .step(
                "corrected readings",
                correction.0,
                format!(
                    "{} and {} g/L, {}",
                    input.early.reading_g_l.get(),
                    input.late.reading_g_l.get(),
                    correction.1
                ),
                format!("{early:.2} and {late:.2} g/L"),
            )
            .step(
                "two-point texture",
                "silt and clay = 100 × early / mass; clay = 100 × late / mass; sand = the rest",
                format!("100 × {early:.2} / {mass}, 100 × {late:.2} / {mass}"),
                soil(&out.as_read_percent),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "sizes the readings cut at",
                "D = K √(L / t), L = 16.3 - 0.164 R",
                format!("t = {} and {} s", input.early.after_s.get(), input.late.after_s.get()),
                format!("{:.1} and {:.2} µm", out.early_cut_um, out.late_cut_um),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "at 50 and 2 µm",
                "P(d) on the straight line in ln d through both readings",
                format!(
                    "({:.1} µm, {:.2} %) and ({:.2} µm, {:.2} %)",
                    out.early_cut_um, finding.finer_percent[0], out.late_cut_um, finding.finer_percent[1]
                ),
                soil(&out.mass_percent),
            )
            .step(
                "standard error",
                "readings, blank, mass, preparation and sizes, each squared and added",
                format!("one reading {READING_G_L} g/L = {:.2} points", 100.0 * READING_G_L / mass),
                format!("sand {:.1}, silt {:.1}, clay {:.1} points", error.sand, error.silt, error.clay),
            )
            .cite(Self::CARD.sources[2])
    }
}
