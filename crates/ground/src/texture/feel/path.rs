//! The path of questions: which comes next, and which classes are still possible.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::reading::{FeelReading, Hand, RibbonLength, Rub};
use crate::kit::{Bounded, Refusal};
use crate::texture::Class;

/// A ribbon from here on is medium, in mm (1 in) [Thien1979].
pub const MEDIUM_FROM_MM: f64 = 25.0;
/// A ribbon from here on is long, in mm (2 in) [Thien1979].
pub const LONG_FROM_MM: f64 = 50.0;

/// What has been answered so far; anything may still be open.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Answers {
    /// Does the ball hold?
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ball_holds: Option<bool>,
    /// The ribbon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ribbon: Option<Ribbon>,
    /// The rub.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rub: Option<Rub>,
}

/// What came of pushing a ribbon.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Ribbon {
    /// It would not make one.
    None,
    /// It broke at this length.
    BrokeAtMm(RibbonLength),
}

/// What a question is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Asks {
    /// Does the ball hold: yes or no.
    Ball,
    /// Length of the ribbon, or none.
    Ribbon,
    /// How it rubs: gritty, smooth or neither.
    Rub,
}

/// One question, for one page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Question {
    /// What it is about.
    pub asks: Asks,
    /// The question.
    pub text: String,
    /// How to go about it.
    pub hint: String,
}

/// What comes after the answers so far.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Next {
    /// This question.
    Question(&'static Question),
    /// Nothing more to ask: the class.
    Outcome(Class),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Reach {
    None,
    Short,
    Medium,
    Long,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Outcome {
    ball_holds: bool,
    ribbon: Option<Reach>,
    rub: Option<Rub>,
    class: Class,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Path {
    prepare: String,
    question: Vec<Question>,
    outcome: Vec<Outcome>,
}

static PATH: LazyLock<Path> = LazyLock::new(|| match toml::from_str(include_str!("path.toml")) {
    Ok(path) => path,
    // Compiled in, and a test walks all of it.
    Err(error) => unreachable!("feel/path.toml: {error}"),
});

/// How to make the soil ready, before the first question.
#[must_use]
pub fn prepare() -> &'static str {
    &PATH.prepare
}

/// Every question in the order they are asked.
#[must_use]
pub fn questions() -> &'static [Question] {
    &PATH.question
}

impl Ribbon {
    fn reach(self) -> Reach {
        match self {
            Self::None => Reach::None,
            Self::BrokeAtMm(length) if length.get() < MEDIUM_FROM_MM => Reach::Short,
            Self::BrokeAtMm(length) if length.get() < LONG_FROM_MM => Reach::Medium,
            Self::BrokeAtMm(_) => Reach::Long,
        }
    }
}

impl Outcome {
    /// Could this be the end, given the answers so far?
    fn agrees(&self, answers: &Answers) -> bool {
        answers.ball_holds.is_none_or(|holds| holds == self.ball_holds)
            && self.ribbon.zip(answers.ribbon).is_none_or(|(reach, ribbon)| reach == ribbon.reach())
            && self.rub.zip(answers.rub).is_none_or(|(rub, felt)| rub == felt)
    }
}

/// The classes the answers so far leave open, in the order of the chart.
#[must_use]
pub fn possible(answers: &Answers) -> Vec<Class> {
    PATH.outcome.iter().filter(|outcome| outcome.agrees(answers)).map(|outcome| outcome.class).collect()
}

/// The next question, or the class where nothing more need be asked [Thien1979].
///
/// # Errors
/// Answers that cannot stand together; see [`check`].
pub fn next(answers: &Answers) -> Result<Next, Refusal> {
    check(answers)?;
    let mut open = PATH.outcome.iter().filter(|outcome| outcome.agrees(answers));
    if let (Some(only), None) = (open.next(), open.next()) {
        return Ok(Next::Outcome(only.class));
    }
    let answered = |asks: Asks| match asks {
        Asks::Ball => answers.ball_holds.is_some(),
        Asks::Ribbon => answers.ribbon.is_some(),
        Asks::Rub => answers.rub.is_some(),
    };
    match PATH.question.iter().find(|question| !answered(question.asks)) {
        Some(question) => Ok(Next::Question(question)),
        // The chart has an end for every full set of answers; a test walks them all.
        None => unreachable!("the feel chart has no single end for {answers:?}"),
    }
}

/// Refuses a ribbon made from a ball that does not hold.
///
/// # Errors
/// Names `ribbon_mm`.
pub fn check(answers: &Answers) -> Result<(), Refusal> {
    if let (Some(false), Some(Ribbon::BrokeAtMm(length))) = (answers.ball_holds, answers.ribbon) {
        return Err(Refusal::new(
            "ribbon_mm",
            format!(
                "soil that does not hold as a ball makes no ribbon, but a ribbon of {} mm was given",
                length.get()
            ),
        )
        .given(format!("{} mm", length.get()))
        .accepted("no ribbon length, or a ball that holds")
        .example("ball_holds true with ribbon_mm 35"));
    }
    Ok(())
}

impl From<&FeelReading> for Answers {
    fn from(reading: &FeelReading) -> Self {
        Self {
            ball_holds: Some(reading.ball_holds),
            ribbon: match reading.ribbon_mm {
                Some(length) => Some(Ribbon::BrokeAtMm(length)),
                None => reading.ball_holds.then_some(Ribbon::None),
            },
            rub: reading.rub,
        }
    }
}

impl Answers {
    /// The reading to keep, once the ball is answered and, where it holds, the ribbon.
    #[must_use]
    pub fn reading(&self, hand: Hand) -> Option<FeelReading> {
        let ball_holds = self.ball_holds?;
        let ribbon_mm = match (ball_holds, self.ribbon) {
            (true, None) => return None,
            (true, Some(Ribbon::BrokeAtMm(length))) => Some(length),
            _ => None,
        };
        Some(FeelReading { ball_holds, ribbon_mm, rub: self.rub.filter(|_| ribbon_mm.is_some()), hand })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(length: f64) -> Ribbon {
        Ribbon::BrokeAtMm(RibbonLength::new(length).unwrap())
    }

    #[test]
    fn questions_come_in_turn_and_stop_when_the_class_is_known() {
        let mut answers = Answers::default();
        let asks = |answers: &Answers| match next(answers).unwrap() {
            Next::Question(question) => Some(question.asks),
            Next::Outcome(_) => None,
        };
        assert_eq!(asks(&answers), Some(Asks::Ball));
        assert_eq!(possible(&answers).len(), 11);
        answers.ball_holds = Some(true);
        assert_eq!(asks(&answers), Some(Asks::Ribbon));
        answers.ribbon = Some(mm(24.9));
        assert_eq!(asks(&answers), Some(Asks::Rub));
        assert_eq!(possible(&answers), [Class::SandyLoam, Class::SiltLoam, Class::Loam]);
        answers.rub = Some(Rub::Smooth);
        assert_eq!(next(&answers).unwrap(), Next::Outcome(Class::SiltLoam));

        let sand = Answers { ball_holds: Some(false), ..Answers::default() };
        assert_eq!(next(&sand).unwrap(), Next::Outcome(Class::Sand));
        let loamy_sand = Answers { ball_holds: Some(true), ribbon: Some(Ribbon::None), rub: None };
        assert_eq!(next(&loamy_sand).unwrap(), Next::Outcome(Class::LoamySand));
    }

    #[test]
    fn every_full_set_of_answers_has_one_end_and_every_class_but_silt_is_reached() {
        let mut reached = Vec::new();
        for ball_holds in [false, true] {
            for ribbon in [Ribbon::None, mm(1.0), mm(24.9), mm(25.0), mm(49.9), mm(50.0), mm(200.0)] {
                for rub in [Rub::Gritty, Rub::Smooth, Rub::Neither] {
                    let answers =
                        Answers { ball_holds: Some(ball_holds), ribbon: Some(ribbon), rub: Some(rub) };
                    match next(&answers) {
                        Ok(Next::Outcome(class)) => reached.push(class),
                        Ok(Next::Question(question)) => panic!("asks {question:?} after {answers:?}"),
                        Err(refusal) => assert!(!ball_holds && refusal.field == "ribbon_mm"),
                    }
                }
            }
        }
        for class in Class::ALL {
            assert_eq!(reached.contains(&class), class != Class::Silt, "{class:?}");
        }
    }

    #[test]
    fn answers_and_readings_turn_into_each_other() {
        let answers = Answers { ball_holds: Some(true), ribbon: Some(mm(35.0)), rub: Some(Rub::Neither) };
        let reading = answers.reading(Hand::New).unwrap();
        assert_eq!(Answers::from(&reading), answers);
        assert!(Answers { ribbon: None, ..answers }.reading(Hand::New).is_none());
        assert!(Answers::default().reading(Hand::New).is_none());
    }
}
