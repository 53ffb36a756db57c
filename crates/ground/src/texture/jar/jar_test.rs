//! The jar test as a method: a reading in, what it says out.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::assess::{JarFinding, assess};
use super::packing::{DENSITIES, Packing, SHIFT};
use super::reading::{
    Boundary, Clarity, Dispersant, JarHeight, JarReading, JarShape, JarTemperature, Marks, RulerStep,
    SettledFor, TimedMark,
};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};
use crate::texture::settling::stokes;

/// Input of `jar-test`: a reading as the farm book keeps it, and the packing to read it with.
///
/// The fields are those of [`JarReading`]; serde cannot both flatten a record and refuse unknown
/// fields, so they stand here again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JarTestInput {
    /// The layers, however they were read.
    pub marks: Marks,
    /// Distance between two marks of the ruler; 1 mm where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ruler_step_mm: Option<RulerStep>,
    /// Shape of the jar inside.
    #[serde(default)]
    pub shape: JarShape,
    /// Height of the water surface above the jar floor.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_height_mm: Option<JarHeight>,
    /// Water temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_temperature_c: Option<JarTemperature>,
    /// What was added to part the clay.
    #[serde(default)]
    pub dispersant: Dispersant,
    /// How the water looked after a day or more.
    #[serde(default)]
    pub water_after_a_day: Clarity,
    /// Thickness of organic matter that floats or caps the clay; it is left out of the layers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub floating_organic_mm: Option<JarHeight>,
    /// Packing to read the layers with, as `jar-calibration` gives it; the published packing where
    /// nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub packing: Option<Packing>,
}

impl JarTestInput {
    /// The reading with the packing to read it with.
    #[must_use]
    pub fn new(reading: JarReading, packing: Option<Packing>) -> Self {
        let JarReading {
            marks,
            ruler_step_mm,
            shape,
            water_height_mm,
            water_temperature_c,
            dispersant,
            water_after_a_day,
            floating_organic_mm,
        } = reading;
        Self {
            marks,
            ruler_step_mm,
            shape,
            water_height_mm,
            water_temperature_c,
            dispersant,
            water_after_a_day,
            floating_organic_mm,
            packing,
        }
    }

    fn reading(&self) -> JarReading {
        JarReading {
            marks: self.marks.clone(),
            ruler_step_mm: self.ruler_step_mm,
            shape: self.shape.clone(),
            water_height_mm: self.water_height_mm,
            water_temperature_c: self.water_temperature_c,
            dispersant: self.dispersant,
            water_after_a_day: self.water_after_a_day,
            floating_organic_mm: self.floating_organic_mm,
        }
    }

    fn finding(&self) -> Result<JarFinding, Refusal> {
        assess(&self.reading(), &self.packing.unwrap_or_default())
    }
}

/// A jar with three timed marks, well made.
#[must_use]
pub(super) fn example_reading() -> JarReading {
    let mark = |after_s: f64, mm: f64| TimedMark {
        after_s: SettledFor::literal(after_s),
        top: Boundary::At { mm: JarHeight::literal(mm) },
    };
    JarReading {
        marks: Marks::Timed { marks: vec![mark(60.0, 34.0), mark(7200.0, 58.0), mark(86400.0, 72.0)] },
        ruler_step_mm: None,
        shape: JarShape::Straight,
        water_height_mm: Some(JarHeight::literal(180.0)),
        water_temperature_c: Some(JarTemperature::literal(20.0)),
        dispersant: Dispersant::DishwasherPowder,
        water_after_a_day: Clarity::Cloudy,
        floating_organic_mm: None,
    }
}

/// The jar test.
pub struct JarTest;

impl Method for JarTest {
    type Input = JarTestInput;
    type Output = JarFinding;

    const CARD: Card = Card {
        name: "jar-test",
        title: "Jar test",
        topic: Topic::Texture,
        computes: "Reads sand, silt and clay, and the odds of each texture class, from the layers of a shaken and \
                   settled jar. It counts the ruler, the jar's shape, how densely each layer packs, which size each \
                   timed mark really parts, the fines carried down into the layer below, and the clay still up in \
                   the water; the answer is as wide as all of that makes it.",
        validity: &[
            "Soil finer than 2 mm, without stones and roots, in a jar a quarter to a half full or less.",
            "A boundary may be a range or unseen; the answer is wider then, never refused. With fewer than two of the three boundaries seen it names no class.",
            "The packing of the layers is from reservoir deposits, recalled from memory; no published comparison of jar and laboratory was found. The width of the answer is judgement.",
            "Clear water after a day means that the clay clumped, and that the layers are not size classes.",
            "It tells nothing useful of peat and other organic soils.",
        ],
        sources: &[
            stokes::STOKES,
            stokes::CROWDING,
            DENSITIES,
            SHIFT,
            Cite::new("GumSupplement1", "propagation of distributions"),
            Cite::new("ClemsonJarTest2018", "procedure with marks at 1 min, 2 h and 48 h"),
            Cite::new("MontanaJarTest2021", "procedure with marks at 1 min, 6 h and 24 h"),
            Cite::new("StottTheron2016", "abstract: clay left in crumbs by a standard dispersant"),
            Cite::new("FritschCarlson1980", "monotone curve through poured volumes"),
        ],
        cautions: &[
            "Dishwasher powder and hexametaphosphate irritate eyes and skin: keep them off children, rinse spills.",
            "A glass jar can break when shaken: hold it over grass, with the lid tight, or use a plastic one.",
            "Label the jar. Pour the water on bare ground away from wells and streams, the soil after it.",
        ],
    };

    fn example() -> Self::Input {
        JarTestInput::new(example_reading(), None)
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let finding = input.finding()?;
        let notes = finding.notes.clone();
        Ok(Answer::with_notes(finding, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        answer.value.working.clone()
    }
}
