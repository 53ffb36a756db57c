//! The slake test: soil stability classes of dry crumbs put into water.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Seconds after which half the crumb had lost its shape.
    pub struct HalfGoneAfter: "time until half had fallen apart", "s", 0.0 ..= 300.0, example 20.0;
    /// What stayed on the sieve after five dips.
    pub struct KeptPercent: "kept after dipping", "%", 0.0 ..= 100.0, example 60.0;
}

/// What one crumb did.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "snake_case", tag = "did")]
pub enum Crumb {
    /// Too weak to pick up: it fell through the sieve.
    TooWeak,
    /// Half of it fell apart within the five minutes of soaking.
    FellApart {
        /// After this time.
        half_gone_s: HalfGoneAfter,
    },
    /// It lasted the soaking and was then dipped five times.
    Dipped {
        /// What stayed on the sieve.
        kept_percent: KeptPercent,
    },
}

/// Stability class of one crumb, 0 to 6.
#[must_use]
pub fn stability_class(crumb: Crumb) -> u8 {
    match crumb {
        Crumb::TooWeak => 0,
        Crumb::FellApart { half_gone_s } => match half_gone_s.get() {
            s if s < 5.0 => 1,
            s if s < 30.0 => 2,
            _ => 3,
        },
        Crumb::Dipped { kept_percent } => match kept_percent.get() {
            kept if kept < 10.0 => 3,
            kept if kept < 25.0 => 4,
            kept if kept < 75.0 => 5,
            _ => 6,
        },
    }
}

/// How well crumbs stand water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Stability {
    /// Mean below 3.
    Poor,
    /// 3 to 5.
    Moderate,
    /// 5 and more.
    Good,
}

/// By the mean class (common practice; that 5 and more resist well was read).
#[must_use]
pub fn stability(mean_class: f64) -> Stability {
    match mean_class {
        mean if mean < 3.0 => Stability::Poor,
        mean if mean < 5.0 => Stability::Moderate,
        _ => Stability::Good,
    }
}

/// Input of `slake-test`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SlakeInput {
    /// Each crumb of 6 to 8 mm, air-dry.
    pub crumbs: Vec<Crumb>,
}

/// Output of `slake-test`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SlakeOutput {
    /// Class of each crumb, 0 to 6.
    pub classes: Vec<u8>,
    /// Their mean.
    pub mean_class: f64,
    /// Their standard deviation; none for one crumb.
    pub class_deviation: Option<f64>,
    /// How well they stand water.
    pub stability: Stability,
}

/// Slake test.
pub struct SlakeTest;

const ENOUGH_CRUMBS: usize = 16;

impl Method for SlakeTest {
    type Input = SlakeInput;
    type Output = SlakeOutput;

    const CARD: Card = Card {
        name: "slake-test",
        title: "The slake test",
        topic: Topic::Structure,
        computes: "How well dry crumbs keep their shape in water, class 0 to 6 each and their mean. Crumbs that fall apart \
                   seal the surface in the first hard rain; roots, covers and compost are what holds them.",
        validity: &[
            "Air-dry crumbs of 6 to 8 mm, soaked 5 minutes in 2 cm of water, then dipped five times on a 1.5 mm mesh; sixteen to eighteen crumbs.",
            "Coarse sand cannot reach the highest class. Wet crumbs do better than dry ones: dry them first.",
        ],
        sources: &[Cite::new("Herrick2001", "criteria of the stability classes")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        SlakeInput {
            crumbs: vec![
                Crumb::FellApart { half_gone_s: HalfGoneAfter::literal(20.0) },
                Crumb::Dipped { kept_percent: KeptPercent::literal(60.0) },
                Crumb::Dipped { kept_percent: KeptPercent::literal(80.0) },
            ],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.crumbs.is_empty() || input.crumbs.len() > 200 {
            return Err(Refusal::new("crumbs", format!("{} crumbs were given", input.crumbs.len()))
                .given(input.crumbs.len())
                .accepted("1 to 200 crumbs")
                .example("16"));
        }
        let classes: Vec<u8> = input.crumbs.iter().map(|crumb| stability_class(*crumb)).collect();
        #[expect(clippy::cast_precision_loss, reason = "crumbs by the dozen")]
        let n = classes.len() as f64;
        let mean = classes.iter().map(|class| f64::from(*class)).sum::<f64>() / n;
        let squares: f64 =
            classes.iter().map(|class| (f64::from(*class) - mean) * (f64::from(*class) - mean)).sum();
        let mut notes = Vec::new();
        if classes.len() < ENOUGH_CRUMBS {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "Fewer than sixteen crumbs: the mean is a rough one.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "The means that part poor, moderate and good are common practice.",
        ));
        Ok(Answer::with_notes(
            SlakeOutput {
                mean_class: mean,
                class_deviation: (classes.len() > 1).then(|| (squares / (n - 1.0)).sqrt()),
                stability: stability(mean),
                classes,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "mean class",
                "half gone within 5, 30 or 300 s: 1, 2, 3; kept below 10, 25, 75 % or more: 3, 4, 5, 6",
                format!("{} crumbs: {:?}", input.crumbs.len(), answer.value.classes),
                format!("{:.1}", answer.value.mean_class),
            )
            .cite(Self::CARD.sources[0])
    }
}
