//! Leave-one-out as a registered method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::field::{Field, Nugget};
use super::left_out::{CrossValidation, cross_validation};
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::spatial::sites::{ReadingAt, sites};
use crate::spatial::variogram::likelihood::{VariogramLikelihood, singular};
use crate::spatial::variogram::model::VariogramGiven;

/// Input of `leave-one-out`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeaveOneOutInput {
    /// Readings, each with its place.
    pub readings: Vec<ReadingAt>,
    /// The model, held as it is.
    pub variogram: VariogramGiven,
}

/// Leave-one-out cross-validation of kriging.
pub struct LeaveOneOut;

impl Method for LeaveOneOut {
    type Input = LeaveOneOutInput;
    type Output = CrossValidation;

    const CARD: Card = Card {
        name: "leave-one-out",
        title: "Does the map tell a reading that it has not seen?",
        topic: Topic::Maps,
        computes: "Each reading in turn is told from all the others by ordinary kriging: how far off that is, whether the \
                   variances are honest, and whether the plain mean of the others would have done as well.",
        validity: &[
            "The model is held as it is; one that was fitted to the same readings looks a little better than it is.",
            "Readings in clusters make a map look better than it is between the clusters.",
        ],
        sources: &[
            Cite::new("Dubrule1983", "all at once from one factor"),
            Cite::new("WebsterOliver2007", "chapter 8"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let example = VariogramLikelihood::example();
        LeaveOneOutInput { readings: example.readings, variogram: example.variogram }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (at, values) = sites(&input.readings, 3)?;
        let model = input.variogram.plain("variogram")?;
        let field = Field::new(&at, model, Nugget::Variation).ok_or_else(singular)?;
        let found = cross_validation(&field.left_out(&values));
        let mut notes = Vec::new();
        if found.explained < 0.1 {
            notes.push(Note::new(
                NoteKind::Method,
                "The map tells a reading hardly better than the mean of the others: one number says as much.",
            ));
        }
        Ok(Answer::with_notes(found, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let found = &answer.value;
        Working::new()
            .step(
                "error of a reading left out",
                "(K⁻¹(z − mean))ᵢ / (K⁻¹ − K⁻¹11ᵀK⁻¹ / 1ᵀK⁻¹1)ᵢᵢ",
                format!("each of {} readings", input.readings.len()),
                format!("root mean square {:.4}", found.rmse),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "share explained",
                "1 − (error of the map / error of the mean)²",
                format!("1 − ({:.4} / {:.4})²", found.rmse, found.rmse_of_mean),
                format!("{:.3}", found.explained),
            )
    }
}
