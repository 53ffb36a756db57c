//! `salt-yield-loss`: a crop at a salt content.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::tolerance::{SaltTolerance, ToleranceRange, crop_tolerance, crops};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Electrical conductivity of the saturation extract of the root zone.
    pub struct RootZoneEc: "conductivity of the saturation extract", "dS/m", 0.0 ..= 100.0, example 2.4;
    /// Threshold of a crop.
    pub struct ThresholdEc: "threshold of the crop", "dS/m", 0.0 ..= 20.0, example 1.3;
    /// Slope of a crop, percent of yield per dS/m.
    pub struct YieldSlope: "yield lost per dS/m", "", 0.1 ..= 100.0, example 13.0;
}

/// Crop or tolerance of a question.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SaltYieldInput {
    /// EC of the saturation extract, mean of the root zone.
    pub ec_ds_m: RootZoneEc,
    /// Crop of the table. Give this, or threshold and slope.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop: Option<String>,
    /// Threshold of one's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub threshold_ds_m: Option<ThresholdEc>,
    /// Slope of one's own, percent of yield per dS/m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slope_percent_per_ds_m: Option<YieldSlope>,
}

/// Tolerance of a crop of the table.
///
/// # Errors
/// A refusal that lists the crops, or says that the crop is rated only in words.
pub fn tolerance_of(field: &str, crop: &str) -> Result<ToleranceRange, Refusal> {
    let Some(row) = crop_tolerance(crop) else {
        let names: Vec<&str> =
            crops().iter().filter(|row| row.range().is_some()).map(|row| row.crop.as_str()).collect();
        return Err(Refusal::new(
            field,
            format!("no crop of the table is called \u{201c}{}\u{201d}", shortened(crop)),
        )
        .given(shortened(crop))
        .accepted(names.join("; "))
        .example("tomato"));
    };
    row.range().ok_or_else(|| {
        Refusal::new(
            field,
            format!(
                "the sources rate {} only in words ({}), and give no threshold",
                row.crop,
                row.rating().unwrap_or("not rated")
            ),
        )
        .given(crop)
        .accepted("a crop with a threshold, or a threshold and slope of your own")
        .example("tomato")
    })
}

fn shortened(text: &str) -> String {
    text.chars().take(40).collect()
}

impl SaltYieldInput {
    fn tolerance(&self) -> Result<ToleranceRange, Refusal> {
        match (&self.crop, self.threshold_ds_m, self.slope_percent_per_ds_m) {
            (Some(crop), None, None) => tolerance_of("crop", crop),
            (None, Some(threshold), Some(slope)) => Ok(ToleranceRange::exactly(SaltTolerance {
                threshold_ds_m: threshold.get(),
                slope_percent_per_ds_m: slope.get(),
            })),
            _ => Err(Refusal::new("crop", "say which crop, or give both a threshold and a slope")
                .given("another choice of these")
                .accepted("crop, or threshold_ds_m and slope_percent_per_ds_m")
                .example("tomato")),
        }
    }
}

/// Output of `salt-yield-loss`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct SaltYieldOutput {
    /// Yield, percent of that without salts, by the usual tolerance.
    pub yield_percent: f64,
    /// The same by the most sensitive figures of the sources.
    pub yield_low_percent: f64,
    /// The same by the most tolerant.
    pub yield_high_percent: f64,
    /// Yield lost by the usual tolerance.
    pub loss_percent: f64,
    /// EC at which 90 % is left.
    pub ec_at_90_ds_m: f64,
    /// EC at which 75 % is left.
    pub ec_at_75_ds_m: f64,
    /// EC at which 50 % is left.
    pub ec_at_50_ds_m: f64,
    /// EC at which nothing is left.
    pub ec_at_0_ds_m: f64,
    /// The tolerances used.
    pub tolerance: ToleranceRange,
}

/// Yield lost to salts.
pub struct SaltYieldLoss;

impl Method for SaltYieldLoss {
    type Input = SaltYieldInput;
    type Output = SaltYieldOutput;

    const CARD: Card = Card {
        name: "salt-yield-loss",
        title: "What salts cost the crop",
        topic: Topic::Water,
        computes: "The share of a crop's yield that is left at a salt content of the root zone, and the contents at which \
                   nine tenths, three quarters, half and nothing are left. Where the sources disagree, their range.",
        validity: &[
            "EC of the saturation extract, averaged over the root zone. Readings of other extracts must be converted first.",
            "Seedlings are more sensitive than these figures.",
            "Chloride, sodium and boron hurt some crops before the salts as a whole do.",
        ],
        sources: &[
            Cite::new("MaasHoffman1977", "threshold and slope"),
            Cite::new("Maas1990", "vegetable and fruit list"),
            Cite::new("Fao56", "Table 23"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        SaltYieldInput {
            ec_ds_m: RootZoneEc::literal(3.5),
            crop: Some("tomato".to_owned()),
            threshold_ds_m: None,
            slope_percent_per_ds_m: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let tolerance = input.tolerance()?;
        let ec = input.ec_ds_m.get();
        let usual = tolerance.usual;
        let yield_percent = usual.yield_percent(ec);
        let mut notes = Vec::new();
        if tolerance.disagrees() {
            notes.push(Note::new(
                NoteKind::Method,
                "The sources disagree on this crop: the low and high yields are the most sensitive and the most tolerant figures they print.",
            ));
        }
        Ok(Answer::with_notes(
            SaltYieldOutput {
                yield_percent,
                yield_low_percent: tolerance.most_sensitive.yield_percent(ec),
                yield_high_percent: tolerance.most_tolerant.yield_percent(ec),
                loss_percent: 100.0 - yield_percent,
                ec_at_90_ds_m: usual.ec_at_yield(90.0),
                ec_at_75_ds_m: usual.ec_at_yield(75.0),
                ec_at_50_ds_m: usual.ec_at_yield(50.0),
                ec_at_0_ds_m: usual.ec_at_yield(0.0),
                tolerance,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let usual = answer.value.tolerance.usual;
        Working::new()
            .step(
                "yield left",
                "100 − b (ECe − a), 100 up to the threshold a and never below 0",
                format!(
                    "100 − {} × ({} − {})",
                    number(usual.slope_percent_per_ds_m),
                    number(input.ec_ds_m.get()),
                    number(usual.threshold_ds_m)
                ),
                format!(
                    "{:.0} %, {:.0} to {:.0} % by the sources",
                    answer.value.yield_percent,
                    answer.value.yield_low_percent,
                    answer.value.yield_high_percent
                ),
            )
            .cite(Self::CARD.sources[0])
    }
}
