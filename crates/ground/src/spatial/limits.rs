//! What may honestly be shown from a number of readings.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Readings at known places.
    pub struct ReadingCount: "number of readings", "", 0.0 ..= 1e6, example 8.0;
}

/// Fewest readings for a surface under a supposed range.
pub const PRIOR_FROM: usize = 10;
/// Fewest readings for a range fitted by restricted likelihood within bounds.
pub const BOUNDED_FIT_FROM: usize = 30;
/// Fewest readings for a variogram fitted freely.
pub const FREE_FIT_FROM: usize = 100;

/// What may be shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Shown {
    /// Readings at their places and the mean with its range; nothing smooth.
    PointsOnly,
    /// A surface under a supposed range, with its uncertainty and a mask.
    PriorSurface,
    /// Kriging with a range fitted within bounds by restricted likelihood, flagged.
    BoundedFit,
    /// Kriging with a variogram fitted to the pairs.
    FreeFit,
}

impl Shown {
    /// For a number of readings at places of their own.
    #[must_use]
    pub fn of(readings: usize) -> Self {
        match readings {
            n if n < PRIOR_FROM => Self::PointsOnly,
            n if n < BOUNDED_FIT_FROM => Self::PriorSurface,
            n if n < FREE_FIT_FROM => Self::BoundedFit,
            _ => Self::FreeFit,
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::PointsOnly => {
                "the readings at their places and the mean with its range, nothing smooth between them"
            }
            Self::PriorSurface => "a surface under a supposed range, masked where the readings say nothing",
            Self::BoundedFit => "a kriged surface, its range fitted within bounds and not to be trusted far",
            Self::FreeFit => "a kriged surface from a variogram fitted to the pairs of readings",
        }
    }

    /// The next step and how many readings it asks for.
    #[must_use]
    pub fn next(self) -> Option<(Self, usize)> {
        match self {
            Self::PointsOnly => Some((Self::PriorSurface, PRIOR_FROM)),
            Self::PriorSurface => Some((Self::BoundedFit, BOUNDED_FIT_FROM)),
            Self::BoundedFit => Some((Self::FreeFit, FREE_FIT_FROM)),
            Self::FreeFit => None,
        }
    }

    /// May lines of equal value be drawn? From kriging alone.
    #[must_use]
    pub fn contours(self) -> bool {
        self >= Self::BoundedFit
    }
}

/// Input of `map-limits`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LimitsInput {
    /// Readings, each at a place of its own.
    pub readings: ReadingCount,
}

/// Output of `map-limits`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LimitsOutput {
    /// What may be shown.
    pub shown: Shown,
    /// The same in words.
    pub words: String,
    /// May lines of equal value be drawn?
    pub contours: bool,
    /// The next step.
    pub next: Option<Shown>,
    /// Readings that are still wanting for it.
    pub readings_wanting: Option<usize>,
}

/// What a number of readings may show.
pub struct MapLimits;

impl Method for MapLimits {
    type Input = LimitsInput;
    type Output = LimitsOutput;

    const CARD: Card = Card {
        name: "map-limits",
        title: "What may be mapped from so many readings",
        topic: Topic::Maps,
        computes: "What may honestly be shown from a number of readings at known places: the readings alone, a surface under a \
                   supposed range, or a kriged one; and how many more the next step asks for.",
        validity: &[
            "Published advice for a variogram from pairs is 150 to 225 readings, elsewhere more than 100 to 150; likelihood needs about half to two thirds as many.",
            "The steps at 10, 30 and 100 are our judgement within that advice. In 400 trials with 8 of 155 published readings, a fitted range ran from 0.03 to 1294 m.",
        ],
        sources: &[
            Cite::new("WebsterOliver1992", "150 to 225 readings, as cited by others"),
            Cite::new("WebsterOliver2007", "more than 100 to 150 readings, as cited by others"),
            Cite::new("Lark2000", "half to two thirds as many by likelihood, as cited by others"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        LimitsInput { readings: ReadingCount::literal(8.0) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to a million")]
        let readings = input.readings.get().floor() as usize;
        let shown = Shown::of(readings);
        let next = shown.next();
        Ok(Answer::with_notes(
            LimitsOutput {
                shown,
                words: shown.words().to_owned(),
                contours: shown.contours(),
                next: next.map(|next| next.0),
                readings_wanting: next.map(|next| next.1 - readings),
            },
            vec![Note::new(
                NoteKind::Provenance,
                "The steps at 10, 30 and 100 readings are our judgement; the published figures behind them were read where others cite them.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "what may be shown",
                "below 10 the readings alone; from 10 a supposed range; from 30 a range fitted within bounds; from 100 a free fit",
                format!("{} readings", input.readings.get()),
                answer.value.words.clone(),
            )
            .cite(Self::CARD.sources[0])
    }
}
