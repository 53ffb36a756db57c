//! Means of parts of a plot and of the whole of it, with their spread.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::sites::MappedValue;
use crate::kit::{
    Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Spread, Topic, Working, quantiles,
};

crate::quantity! {
    /// Size of a part: its area, or any number in proportion to it.
    pub struct PartSize: "size of the part", "", 1e-9 ..= 1e9, example 0.5;
}

/// Mean of readings.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Mean {
    /// How many readings.
    pub readings: usize,
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation; none for a single reading.
    pub deviation: Option<f64>,
    /// Standard error of the mean.
    pub standard_error: Option<f64>,
    /// The mean with its 90 % range.
    pub spread: Option<Spread>,
}

/// Mean of readings taken at random places, with Student's 90 % range; `None` for none.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "readings by the dozen")]
pub fn mean_of(values: &[f64]) -> Option<Mean> {
    if values.is_empty() {
        return None;
    }
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    if values.len() == 1 {
        return Some(Mean { readings: 1, mean, deviation: None, standard_error: None, spread: None });
    }
    let variance = values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / (n - 1.0);
    let error = (variance / n).sqrt();
    let freedom = u32::try_from(values.len() - 1).unwrap_or(u32::MAX);
    Some(Mean {
        readings: values.len(),
        mean,
        deviation: Some(variance.sqrt()),
        standard_error: Some(error),
        spread: Some(about(mean, error, freedom)),
    })
}

fn about(mean: f64, error: f64, freedom: u32) -> Spread {
    let reach = quantiles::student_within(0.9, f64::from(freedom.max(1))) * error;
    Spread { low: mean - reach, median: mean, high: mean + reach }
}

/// Mean of a whole made of parts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StratifiedMean {
    /// The mean, parts weighted by their size.
    pub mean: f64,
    /// Variance of that mean; none where a part has a single reading.
    pub variance: Option<f64>,
    /// Its root.
    pub standard_error: Option<f64>,
    /// The mean with its 90 % range.
    pub spread: Option<Spread>,
}

/// Mean of the whole from parts of given sizes. Degrees of freedom by Satterthwaite, rounded down. `None` where a part
/// has no reading.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "readings by the dozen")]
pub fn stratified(parts: &[(f64, Mean)]) -> Option<StratifiedMean> {
    let whole: f64 = parts.iter().map(|part| part.0).sum();
    if parts.is_empty() || whole <= 0.0 {
        return None;
    }
    let mean = parts.iter().map(|(size, part)| size / whole * part.mean).sum();
    let each: Option<Vec<(f64, f64)>> = parts
        .iter()
        .map(|(size, part)| {
            let error = size / whole * part.standard_error?;
            Some((error * error, part.readings as f64 - 1.0))
        })
        .collect();
    let variance = each.as_ref().map(|each| each.iter().map(|one| one.0).sum::<f64>());
    let spread = each.zip(variance).map(|(each, variance)| {
        let below: f64 = each.iter().map(|(part, freedom)| part * part / freedom).sum();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to a small count")]
        let freedom = if below > 0.0 { (variance * variance / below).clamp(1.0, 1e6) as u32 } else { 1 };
        about(mean, variance.sqrt(), freedom)
    });
    Some(StratifiedMean { mean, variance, standard_error: variance.map(f64::sqrt), spread })
}

/// A part with its readings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PartGiven {
    /// Its area, or a number in proportion.
    pub size: PartSize,
    /// Readings at random places in it.
    pub values: Vec<MappedValue>,
}

/// Input of `stratified-mean`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StratifiedInput {
    /// The parts.
    pub parts: Vec<PartGiven>,
}

/// Output of `stratified-mean`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StratifiedOutput {
    /// The whole.
    #[serde(flatten)]
    pub whole: StratifiedMean,
    /// Each part, in the order given.
    pub parts: Vec<Mean>,
}

/// Mean of a plot from its parts.
pub struct StratifiedMeanMethod;

impl Method for StratifiedMeanMethod {
    type Input = StratifiedInput;
    type Output = StratifiedOutput;

    const CARD: Card = Card {
        name: "stratified-mean",
        title: "Mean of a plot from its parts",
        topic: Topic::Maps,
        computes: "The mean of each part of a plot with its 90 % range, and of the whole with each part counted by its size. It \
                   supposes nothing of how readings vary over distance, so it holds with few readings.",
        validity: &[
            "Readings at random places within each part; two in each part at least, or the whole has no range.",
            "A zigzag walk is no random choice: its range is then only a guide.",
        ],
        sources: &[
            Cite::new("Cochran1977", "chapter 5, stratified random sampling"),
            Cite::new("Satterthwaite1946", "degrees of freedom"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let part = |size: f64, values: &[f64]| PartGiven {
            size: PartSize::literal(size),
            values: values.iter().map(|value| MappedValue::literal(*value)).collect(),
        };
        StratifiedInput {
            parts: vec![
                part(0.5, &[12.0, 15.0, 14.0]),
                part(0.3, &[22.0, 25.0, 19.0, 20.0]),
                part(0.2, &[31.0, 28.0]),
            ],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if !(1..=200).contains(&input.parts.len()) {
            return Err(Refusal::new("parts", format!("{} parts were given", input.parts.len()))
                .given(input.parts.len())
                .accepted("1 to 200 parts")
                .example("3"));
        }
        let mut parts = Vec::new();
        for (at, part) in input.parts.iter().enumerate() {
            let values: Vec<f64> = part.values.iter().map(|value| value.get()).collect();
            let Some(mean) = mean_of(&values) else {
                return Err(Refusal::new(format!("parts[{at}].values"), "this part has no reading")
                    .given("none")
                    .accepted("one reading at least, two for a range")
                    .example("12, 15"));
            };
            parts.push((part.size.get(), mean));
        }
        let mut notes = Vec::new();
        if parts.iter().any(|part| part.1.readings == 1) {
            notes.push(Note::new(
                NoteKind::NoValue,
                "A part with a single reading leaves the whole without a range: take a second one there.",
            ));
        }
        match stratified(&parts) {
            Some(whole) => Ok(Answer::with_notes(
                StratifiedOutput { whole, parts: parts.into_iter().map(|part| part.1).collect() },
                notes,
            )),
            None => Err(Refusal::new("parts", "the parts have no size")
                .accepted("sizes above nothing")
                .example("0.5")),
        }
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let whole = &answer.value.whole;
        let working = Working::new()
            .step(
                "mean of the whole",
                "Σ share × mean of the part",
                format!("{} parts", input.parts.len()),
                format!("{:.4}", whole.mean),
            )
            .cite(Self::CARD.sources[0]);
        match whole.standard_error {
            None => working,
            Some(error) => working.step(
                "standard error",
                "√ Σ share² × variance / readings of the part",
                format!("{} parts", input.parts.len()),
                format!("{error:.4}"),
            ),
        }
    }
}
