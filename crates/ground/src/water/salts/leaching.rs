//! Water to put on beyond what the crop uses, so that salts stay within what it bears.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::yield_loss::tolerance_of;
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Electrical conductivity of the irrigation water.
    pub struct WaterEc: "conductivity of the irrigation water", "dS/m", 0.0 ..= 50.0, example 1.2;
    /// EC of the saturation extract that is to be kept.
    pub struct KeptEc: "conductivity of the saturation extract to keep", "dS/m", 0.1 ..= 50.0, example 2.5;
    /// EC of the saturation extract at which the crop yields nothing.
    pub struct ZeroYieldEc: "conductivity at which the crop yields nothing", "dS/m", 0.5 ..= 60.0, example 10.0;
    /// Yield to be kept.
    pub struct KeptYield: "yield to keep", "%", 1.0 ..= 100.0, example 90.0;
    /// Water the crop uses.
    pub struct CropUse: "water the crop uses", "mm", 1.0 ..= 3000.0, example 800.0;
}

/// How the water is put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WateringManner {
    /// Furrows, floods or sprinklers, with days between.
    SurfaceOrSprinkler,
    /// Drip, or sprinklers nearly every day.
    DripOrDaily,
}

/// Leaching requirement of surface and sprinkler irrigation, 0 to 1: ECw / (5 ECe − ECw). `None` where
/// no leaching holds the salts down: from ECw = 2.5 ECe on.
#[must_use]
pub fn leaching_surface(water_ds_m: f64, kept_ds_m: f64) -> Option<f64> {
    let room = 5.0 * kept_ds_m - water_ds_m;
    (room > 0.0).then(|| water_ds_m / room).filter(|share| *share < 1.0)
}

/// Leaching requirement of drip and daily watering, 0 to 1: ECw / (2 × EC of no yield). `None` from 1 on.
#[must_use]
pub fn leaching_frequent(water_ds_m: f64, zero_yield_ds_m: f64) -> Option<f64> {
    (zero_yield_ds_m > 0.0).then(|| water_ds_m / (2.0 * zero_yield_ds_m)).filter(|share| *share < 1.0)
}

/// Water to put on for a crop that uses `use_mm`, with this share draining, mm.
#[must_use]
pub fn applied_mm(use_mm: f64, leaching: f64) -> f64 {
    use_mm / (1.0 - leaching)
}

/// EC of the saturation extract, mean of the root zone, that a leaching fraction leads to in the long
/// run, dS/m: (1 + LF) / LF × ECw / 5. Infinite without leaching.
#[must_use]
pub fn steady_extract_ds_m(water_ds_m: f64, leaching: f64) -> f64 {
    (1.0 + leaching) / leaching * water_ds_m / 5.0
}

/// Input of `leaching-requirement`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeachingInput {
    /// EC of the irrigation water.
    pub water_ec_ds_m: WaterEc,
    /// How it is put on.
    pub manner: WateringManner,
    /// Water the crop uses in the season.
    pub crop_use_mm: CropUse,
    /// Crop of the table. Give this, or the EC that the manner asks for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop: Option<String>,
    /// With a crop: yield to keep; 90 % where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub yield_percent: Option<KeptYield>,
    /// EC of the saturation extract to keep, for surface and sprinkler irrigation.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kept_ec_ds_m: Option<KeptEc>,
    /// EC at which the crop yields nothing, for drip and daily watering.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zero_yield_ec_ds_m: Option<ZeroYieldEc>,
}

impl LeachingInput {
    /// The EC that the equation of this manner takes.
    fn reference(&self) -> Result<f64, Refusal> {
        let (field, own) = match self.manner {
            WateringManner::SurfaceOrSprinkler => ("kept_ec_ds_m", self.kept_ec_ds_m.map(Bounded::get)),
            WateringManner::DripOrDaily => ("zero_yield_ec_ds_m", self.zero_yield_ec_ds_m.map(Bounded::get)),
        };
        match (&self.crop, own) {
            (None, Some(own)) => Ok(own),
            (Some(crop), None) => {
                let usual = tolerance_of("crop", crop)?.usual;
                Ok(match self.manner {
                    WateringManner::SurfaceOrSprinkler => usual.ec_at_yield(self.kept_yield()),
                    WateringManner::DripOrDaily => usual.ec_at_yield(0.0),
                })
            }
            (given, _) => {
                Err(Refusal::new(field, "say which crop, or the conductivity to reckon with, and not both")
                    .given(if given.is_some() { "both" } else { "neither" })
                    .accepted(format!("one of crop and {field}"))
                    .example("crop tomato"))
            }
        }
    }

    fn kept_yield(&self) -> f64 {
        self.yield_percent.map_or(90.0, Bounded::get)
    }
}

/// Output of `leaching-requirement`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct LeachingOutput {
    /// EC the equation took: to be kept, or of no yield.
    pub reference_ec_ds_m: f64,
    /// Share of the water that must drain; nothing where no leaching is enough.
    pub leaching_percent: Option<f64>,
    /// Water to put on in the season.
    pub applied_mm: Option<f64>,
    /// Part of it that drains below the roots.
    pub draining_mm: Option<f64>,
    /// EC of the saturation extract that this leads to in the long run.
    pub steady_ec_ds_m: Option<f64>,
}

/// Leaching requirement.
pub struct LeachingRequirement;

impl Method for LeachingRequirement {
    type Input = LeachingInput;
    type Output = LeachingOutput;

    const CARD: Card = Card {
        name: "leaching-requirement",
        title: "Water to keep salts moving down",
        topic: Topic::Water,
        computes: "The share of the irrigation water that must drain below the roots so that salts do not gather beyond \
                   what the crop bears, and the water to put on in the season.",
        validity: &[
            "Long-run balance, even watering, salts that neither dissolve from the ground nor settle in it.",
            "Rain that drains counts towards it. Above about 30 % another crop or another water is the better way (common \
             practice).",
            "Other published models ask for less: read it as a careful figure.",
        ],
        sources: &[
            Cite::new("Fao29", "eq. 9, leaching requirement"),
            Cite::new("Fao29", "leaching requirement of frequent irrigation"),
            Cite::new("Fao56", "eq. 93"),
        ],
        cautions: &[super::DRAINAGE_FIRST, super::LEACHING, super::SODIC_FIRST, super::BACKFLOW],
    };

    fn example() -> Self::Input {
        LeachingInput {
            water_ec_ds_m: WaterEc::literal(1.2),
            manner: WateringManner::SurfaceOrSprinkler,
            crop_use_mm: CropUse::literal(800.0),
            crop: Some("maize, sweet".to_owned()),
            yield_percent: None,
            kept_ec_ds_m: None,
            zero_yield_ec_ds_m: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let reference = input.reference()?;
        let water = input.water_ec_ds_m.get();
        let share = match input.manner {
            WateringManner::SurfaceOrSprinkler => leaching_surface(water, reference),
            WateringManner::DripOrDaily => leaching_frequent(water, reference),
        };
        let applied = share.map(|share| applied_mm(input.crop_use_mm.get(), share));
        let mut notes = Vec::new();
        match share {
            None => notes.push(Note::new(
                NoteKind::NoValue,
                "No leaching keeps the salts of this water within what the crop bears: another crop, or another water.",
            )),
            Some(share) if share > 0.3 => notes.push(Note::new(
                NoteKind::Method,
                "More than about 30 % draining is seldom practical: another crop or another water is the better way (common practice, no source).",
            )),
            Some(_) => {}
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "The equation for surface and sprinkler irrigation was read where FAO 56 quotes it; that for drip, and the water to \
             put on, are recalled.",
        ));
        Ok(Answer::with_notes(
            LeachingOutput {
                reference_ec_ds_m: reference,
                leaching_percent: share.map(|share| 100.0 * share),
                applied_mm: applied,
                draining_mm: applied.map(|applied| applied - input.crop_use_mm.get()),
                steady_ec_ds_m: share
                    .map(|share| steady_extract_ds_m(water, share))
                    .filter(|ec| ec.is_finite()),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let (water, reference) =
            (number(input.water_ec_ds_m.get()), format!("{:.3}", value.reference_ec_ds_m));
        let said = |share: Option<f64>| {
            share.map_or_else(|| "no leaching is enough".to_owned(), |s| format!("{s:.1} %"))
        };
        let working = match input.manner {
            WateringManner::SurfaceOrSprinkler => Working::new()
                .step(
                    "share that must drain",
                    "ECw / (5 ECe − ECw), ECe the one to be kept",
                    format!("{water} / (5 × {reference} − {water})"),
                    said(value.leaching_percent),
                )
                .cite(Self::CARD.sources[0]),
            WateringManner::DripOrDaily => Working::new()
                .step(
                    "share that must drain",
                    "ECw / (2 ECe), ECe that of no yield",
                    format!("{water} / (2 × {reference})"),
                    said(value.leaching_percent),
                )
                .cite(Self::CARD.sources[1]),
        };
        let (Some(share), Some(applied)) = (value.leaching_percent, value.applied_mm) else { return working };
        working.step(
            "water to put on",
            "crop use / (1 − LR)",
            format!("{} / (1 − {:.4})", number(input.crop_use_mm.get()), share / 100.0),
            format!("{applied:.0} mm"),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn denominators_are_guarded_and_saltier_water_asks_for_more() {
        assert!(leaching_surface(12.5, 2.5).is_none() && leaching_surface(6.25, 2.5).is_none());
        assert!(leaching_surface(20.0, 2.5).is_none() && leaching_frequent(20.0, 10.0).is_none());
        let mut last = 0.0;
        for step in 1..60_u32 {
            let share = leaching_surface(f64::from(step) * 0.1, 2.5).unwrap();
            assert!(share > last && share < 1.0);
            last = share;
        }
        assert_eq!(leaching_surface(0.0, 2.5), Some(0.0));
    }

    /// FAO 56, eq. 93 at leaching fractions of 10, 15 and 20 % (read; p. 181 rounds the second to 1.5).
    #[test]
    fn steady_state_factors() {
        for (leaching, factor) in [(0.10, 2.20), (0.15, 1.533), (0.20, 1.20)] {
            assert!((steady_extract_ds_m(1.0, leaching) - factor).abs() < 5e-4);
        }
    }
}
