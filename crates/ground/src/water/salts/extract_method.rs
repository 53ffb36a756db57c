//! `ec-to-saturation-extract`: a laboratory's reading made comparable.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::extract::{ExtractRange, ExtractRatio, TextureGroup, at_25_degrees, saturation_extract_ds_m};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;

crate::quantity! {
    /// Electrical conductivity of an extract.
    pub struct ExtractReading: "conductivity of the extract", "dS/m", 0.0 ..= 100.0, example 0.9;
    /// Temperature of the extract when it was read.
    pub struct ReadAt: "temperature of the extract", "°C", 1.0 ..= 45.0, example 20.0;
}

/// Input of `ec-to-saturation-extract`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExtractInput {
    /// Reading of the meter; 1 dS/m is 1 mS/cm, 1 mmho/cm or 1000 µS/cm.
    pub ec_ds_m: ExtractReading,
    /// Soil to water.
    pub ratio: ExtractRatio,
    /// Texture class; all published lines count where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub texture_class: Option<Class>,
    /// Temperature, when the meter does not correct to 25 °C itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature_c: Option<ReadAt>,
}

/// Output of `ec-to-saturation-extract`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct ExtractOutput {
    /// The reading at 25 °C.
    pub ec_at_25_ds_m: f64,
    /// Group the texture belongs to.
    pub group: Option<TextureGroup>,
    /// EC of the saturation extract.
    #[serde(flatten)]
    pub range: ExtractRange,
}

/// From a thinner extract to the saturation extract.
pub struct EcToSaturationExtract;

impl Method for EcToSaturationExtract {
    type Input = ExtractInput;
    type Output = ExtractOutput;

    const CARD: Card = Card {
        name: "ec-to-saturation-extract",
        title: "Salt reading on the common scale",
        topic: Topic::Water,
        computes: "Turns a laboratory's or pocket meter's salt reading in a 1:1, 1:2 or 1:5 extract into that of the \
                   saturation extract, on which crops' tolerances are given. Published lines disagree: the answer is their \
                   range.",
        validity: &[
            "Ask the laboratory which extract it used: a 1:2 scale must never be read against a saturated-paste number.",
            "Readings below what a line was fitted to would fall below 0 and are taken as 0.",
            "Gypsum dissolves in thin extracts and makes ground look saltier than it is.",
        ],
        sources: &[
            Cite::new("Ec2018", "Table 2"),
            Cite::new("RaymentLyons2011", "method 14B1, Table 14.2"),
            Cite::new("Sonmez2008", "fits by texture"),
            Cite::new("Handbook60", "temperature"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        ExtractInput {
            ec_ds_m: ExtractReading::literal(0.9),
            ratio: ExtractRatio::OneToTwo,
            texture_class: Some(Class::Loam),
            temperature_c: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let read = input.ec_ds_m.get();
        let ec = input.temperature_c.map_or(read, |t| at_25_degrees(read, t.get()));
        let group = input.texture_class.map(TextureGroup::of);
        let range = saturation_extract_ds_m(input.ratio, group, ec);
        let mut notes = Vec::new();
        if range.below_fit {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "The reading is lower than some lines were fitted to; where they fell below 0 they count as 0.",
            ));
        }
        if range.lines == 1 {
            notes.push(Note::new(
                NoteKind::Method,
                "Only one published line fits: the answer shows no range, but is no surer than others, which spread by a factor of about two.",
            ));
        }
        if range.recalled > 0 || input.temperature_c.is_some() {
            notes.push(Note::new(
                NoteKind::Provenance,
                "Some of the lines, and the correction of 2 % a degree, are recalled and were not read again.",
            ));
        }
        if group.is_some() && range.lines > 0 {
            notes.push(Note::new(
                NoteKind::Provenance,
                "Which classes count as coarse, medium and fine is our judgement.",
            ));
        }
        Ok(Answer::with_notes(ExtractOutput { ec_at_25_ds_m: ec, group, range }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let mut working = Working::new();
        if let Some(temperature) = input.temperature_c {
            working = working
                .step(
                    "reading at 25 °C",
                    "EC / (1 + 0.02 (T − 25))",
                    format!(
                        "{} / (1 + 0.02 × ({} − 25))",
                        number(input.ec_ds_m.get()),
                        number(temperature.get())
                    ),
                    format!("{:.3} dS/m", value.ec_at_25_ds_m),
                )
                .cite(Self::CARD.sources[3]);
        }
        let rule = if value.range.lines == 0 {
            "a saturated paste is the common scale itself"
        } else {
            "slope × EC + intercept of each line that fits ratio and texture; lowest, median and highest"
        };
        working
            .step(
                "saturation extract",
                rule,
                format!("{} lines at {:.3} dS/m", value.range.lines, value.ec_at_25_ds_m),
                format!(
                    "{:.2} dS/m, {:.2} to {:.2}",
                    value.range.middle_ds_m, value.range.low_ds_m, value.range.high_ds_m
                ),
            )
            .cite(Self::CARD.sources[usize::from(input.ratio == ExtractRatio::OneToFive)])
    }
}
