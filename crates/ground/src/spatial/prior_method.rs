//! The surface from few readings as a registered method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::prior::PriorSurface;
use super::sites::{Place, PlaceAt, ReadingAt, sites};
use super::variogram::model::RangeM;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Share of the variance that is the reading's own error.
    pub struct NuggetShare: "share of the variance that is error of the reading", "", 0.01 ..= 0.95, example 0.2;
    /// Share of a central interval.
    pub struct Confidence: "confidence", "%", 50.0 ..= 99.9, example 90.0;
}

/// Input of `prior-surface`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PriorInput {
    /// Readings, each with its place.
    pub readings: Vec<ReadingAt>,
    /// Supposed range of the exponential form.
    pub range_m: RangeM,
    /// Supposed share of the variance that is the reading's own error.
    pub nugget_share: NuggetShare,
    /// Places to estimate.
    pub places: Vec<PlaceAt>,
    /// Confidence of the interval; 90 % where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub confidence_percent: Option<Confidence>,
}

/// What is believed of one place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PriorAt {
    /// The estimate.
    pub value: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
    /// Standard error of a new reading there.
    pub new_reading_error: f64,
    /// Do the readings tell anything of this place beyond the mean?
    pub tells: bool,
    /// The least estimate under half, the given and twice the range.
    pub lowest_by_range: f64,
    /// The greatest of them.
    pub highest_by_range: f64,
}

/// Output of `prior-surface`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PriorOutput {
    /// Mean by generalised least squares.
    pub mean: f64,
    /// Its standard error.
    pub mean_standard_error: f64,
    /// Variance about it, found from the readings.
    pub variance: f64,
    /// Standard errors to one side of the interval.
    pub t: f64,
    /// At each place, in the order given.
    pub at: Vec<PriorAt>,
}

/// A surface from few readings under a supposed range.
pub struct PriorSurfaceMethod;

impl Method for PriorSurfaceMethod {
    type Input = PriorInput;
    type Output = PriorOutput;

    const CARD: Card = Card {
        name: "prior-surface",
        title: "A surface from few readings",
        topic: Topic::Maps,
        computes: "Estimates between few readings where the range is supposed and not fitted: the mean and the variance are \
                   found from the readings, the interval is Student's, and the estimate is told for half and twice the range too.",
        validity: &[
            "For 10 to 29 readings; with fewer, show the readings themselves. The interval holds for the supposed range alone.",
            "Where the standard error is above 0.9 of what was believed beforehand, the readings say nothing of a place.",
        ],
        sources: &[
            Cite::new("DiggleRibeiro2007", "prediction with unknown mean and variance"),
            Cite::new("WebsterOliver1992", "too few readings to fit a variogram"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        PriorInput {
            readings: [
                (10.0, 10.0, 18.0),
                (50.0, 15.0, 21.0),
                (90.0, 10.0, 27.0),
                (20.0, 50.0, 17.0),
                (60.0, 45.0, 24.0),
                (95.0, 55.0, 30.0),
            ]
            .map(|(east, north, value)| ReadingAt::literal(east, north, value))
            .to_vec(),
            range_m: RangeM::literal(40.0),
            nugget_share: NuggetShare::literal(0.2),
            places: vec![PlaceAt::literal(30.0, 30.0)],
            confidence_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (at, values) = sites(&input.readings, 3)?;
        let surface = |factor: f64| {
            PriorSurface::new(&at, &values, input.range_m.get() * factor, input.nugget_share.get())
                .ok_or_else(|| {
                    Refusal::new("nugget_share", "no weights can be found under so small a share")
                        .given(input.nugget_share.get())
                        .accepted("a larger share")
                        .example("0.2")
                })
        };
        let (half, given, twice) = (surface(0.5)?, surface(1.0)?, surface(2.0)?);
        let places: Vec<Place> = input.places.iter().map(|place| place.place()).collect();
        let t = given.reach(input.confidence_percent.map_or(0.9, |share| share.get() / 100.0));
        let others = [half.at(&places), twice.at(&places)];
        let told = given
            .at(&places)
            .into_iter()
            .enumerate()
            .map(|(index, believed)| {
                let by_range = [believed.value, others[0][index].value, others[1][index].value];
                PriorAt {
                    value: believed.value,
                    standard_error: believed.standard_error,
                    low: believed.value - t * believed.standard_error,
                    high: believed.value + t * believed.standard_error,
                    new_reading_error: believed.new_reading_error,
                    tells: given.tells(&believed),
                    lowest_by_range: by_range.into_iter().fold(f64::INFINITY, f64::min),
                    highest_by_range: by_range.into_iter().fold(f64::NEG_INFINITY, f64::max),
                }
            })
            .collect();
        let (mean, mean_standard_error) = given.mean();
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "Range and share of error are supposed, not found from these readings; the bound of 0.9 is our judgement.",
        )];
        if values.len() < 10 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "With fewer than ten readings a surface is hardly better than their mean: show the readings themselves.",
            ));
        }
        Ok(Answer::with_notes(
            PriorOutput { mean, mean_standard_error, variance: given.variance, t, at: told },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let found = &answer.value;
        let working = Working::new()
            .step(
                "mean",
                "1ᵀR⁻¹y / 1ᵀR⁻¹1",
                format!("{} readings, range {} m", input.readings.len(), input.range_m.get()),
                format!("{:.4} ± {:.4}", found.mean, found.mean_standard_error),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "variance",
                "(y − mean)ᵀR⁻¹(y − mean) / (n − 1)",
                format!("n = {}", input.readings.len()),
                format!("{:.4}", found.variance),
            );
        found.at.iter().take(3).fold(working, |working, one| {
            working.step(
                "an estimate",
                "mean + rᵀR⁻¹(y − mean), ± t standard errors",
                format!("t {:.3}, standard error {:.4}", found.t, one.standard_error),
                format!("{:.4} ({:.4} to {:.4})", one.value, one.low, one.high),
            )
        })
    }
}
