//! `feel`: ball, ribbon and rub, by flags or by questions.

use std::io::{BufRead, Write};

use clap::{Args, ValueEnum};
use ground::kit::units::{UnitSystem, field_unit, typed};
use ground::kit::{Bounded, Method, Refusal};
use ground::texture::feel::by_feel::TextureByFeel;
use ground::texture::feel::{
    Answers, Asks, FeelReading, Hand, Next, Ribbon, RibbonLength, Rub, next, prepare,
};
use serde_json::json;

use crate::args::Global;
use crate::picture;
use crate::report::{Report, notes, wrapped};
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `feel`.
#[derive(Debug, Args)]
#[command(after_help = "Without answers it asks one question after another.

Examples:
  spadework feel
  spadework feel --ball yes --ribbon 1.5in --rub neither --hand new")]
pub(crate) struct Feel {
    /// What the fingers found
    #[command(flatten)]
    pub answers: FeelAnswers,
    /// Add the steps
    #[arg(long)]
    working: bool,
}

/// The answers, shared with `record feel`.
#[derive(Debug, Args)]
pub(crate) struct FeelAnswers {
    /// Does moist soil, squeezed, hold as a ball?
    #[arg(long, value_enum, value_name = "YES|NO")]
    ball: Option<YesNo>,
    /// Length of the ribbon when it broke, or "none"
    #[arg(long, value_name = "LENGTH")]
    ribbon: Option<String>,
    /// How a very wet pinch rubs
    #[arg(long, value_enum)]
    rub: Option<RubWord>,
    /// How practised the hand is; new to it, unless said
    #[arg(long, value_enum)]
    hand: Option<HandWord>,
}

/// Yes or no.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum YesNo {
    /// Yes
    #[value(alias = "y")]
    Yes,
    /// No
    #[value(alias = "n")]
    No,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum RubWord {
    Gritty,
    Smooth,
    Neither,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum HandWord {
    /// Feels soil for a living
    Professional,
    /// Has been taught and has done a few dozen
    Practised,
    /// New to it
    New,
}

impl From<RubWord> for Rub {
    fn from(word: RubWord) -> Self {
        match word {
            RubWord::Gritty => Self::Gritty,
            RubWord::Smooth => Self::Smooth,
            RubWord::Neither => Self::Neither,
        }
    }
}

impl From<HandWord> for Hand {
    fn from(word: HandWord) -> Self {
        match word {
            HandWord::Professional => Self::Professional,
            HandWord::Practised => Self::Practised,
            HandWord::New => Self::New,
        }
    }
}

impl Feel {
    /// Follows the path to its end.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let reading = self.answers.reading(global.system(), terminal)?;
        let answer = TextureByFeel::compute(&reading)?;
        let mut text = match answer.value.class {
            Some(class) => format!("By feel: {}", class.name()),
            None => {
                let open: Vec<&str> = answer.value.possible.iter().map(|class| class.name()).collect();
                format!("By feel, one of: {}", open.join(", "))
            }
        };
        text.push_str(&format!(
            "\n{}\n\n{}\n",
            wrapped(
                &format!(
                    "A hand like this one names exactly the right class {:.0} times in a hundred, and the right class or a neighbour {:.0} times.",
                    answer.value.exact_percent, answer.value.within_one_percent
                ),
                terminal.width,
                ""
            ),
            wrapped("Odds of each class, if all were equally common:", terminal.width, "")
        ));
        let odds: Vec<(String, f64)> = answer
            .value
            .class_odds
            .iter()
            .filter(|odds| odds.odds_percent >= 0.5)
            .map(|odds| (odds.class.name().to_owned(), odds.odds_percent / 100.0))
            .collect();
        text.push_str(&picture::bars(&odds, terminal));
        let mut json = json!(answer);
        if self.working {
            let working = TextureByFeel::working(&reading, &answer);
            json["working"] = json!(working);
            text.push_str(&super::steps(&working));
        }
        if !answer.notes.is_empty() {
            text.push_str("\n\n");
            text.push_str(&notes(&answer.notes, terminal.width));
        }
        Report::new(&json, text)
    }
}

impl FeelAnswers {
    /// The reading, asking for what is missing where someone is there to answer.
    pub(crate) fn reading(&self, system: UnitSystem, terminal: &Terminal) -> Result<FeelReading, Trouble> {
        let mut answers = Answers {
            ball_holds: self.ball.map(|answer| answer == YesNo::Yes),
            ribbon: self.ribbon.as_deref().map(|text| ribbon(text, system)).transpose()?,
            rub: self.rub.map(Rub::from),
        };
        // A ribbon answers the question whether the ball held.
        if answers.ball_holds.is_none() && matches!(answers.ribbon, Some(Ribbon::BrokeAtMm(_))) {
            answers.ball_holds = Some(true);
        }
        let mut hand = Hand::from(self.hand.unwrap_or(HandWord::New));
        let mut begun = false;
        loop {
            let question = match next(&answers)? {
                Next::Outcome(_) => break,
                Next::Question(question) => question,
            };
            if !terminal.can_ask() {
                // A missing rub leaves classes open, which is an answer too; a missing ball is none.
                if answers.reading(hand).is_some() {
                    break;
                }
                let (flag, example) = match question.asks {
                    Asks::Ball => ("ball", "--ball yes"),
                    Asks::Ribbon => ("ribbon", "--ribbon 35mm"),
                    Asks::Rub => ("rub", "--rub gritty"),
                };
                return Err(Refusal::new(flag, format!("the path stops at a question: {}", question.text))
                    .given("nothing")
                    .accepted(accepted(question.asks, system))
                    .example(example)
                    .into());
            }
            if !begun {
                terminal.remark(&wrapped(prepare(), terminal.width, ""));
                begun = true;
            }
            terminal.remark(&format!(
                "\n{}\n{}",
                wrapped(&question.text, terminal.width, ""),
                wrapped(&question.hint, terminal.width, "")
            ));
            let open = answers.reading(hand).is_some();
            let told = accepted(question.asks, system);
            let told = if open { format!("{told}; ? where you cannot tell") } else { told };
            let given = until_answered(&told, terminal, |line| match line {
                "?" if open => Ok(None),
                line => answer(question.asks, line, system).map(Some),
            })?;
            match given {
                Some(given) => given.put(&mut answers),
                None => break,
            }
        }
        if begun && self.hand.is_none() {
            terminal.remark("\nHow practised is the hand that felt it?");
            hand = until_answered("professional, practised or new", terminal, |line| {
                HandWord::from_str(line, true)
                    .map(Hand::from)
                    .map_err(|_| not_one_of("hand", line, "professional, practised or new"))
            })?;
        }
        answers.reading(hand).ok_or_else(|| Trouble::other("the path ended without a reading"))
    }
}

fn accepted(asks: Asks, system: UnitSystem) -> String {
    match asks {
        Asks::Ball => "yes or no".to_owned(),
        Asks::Ribbon => match system {
            UnitSystem::UsCustomary => "a length, in inches unless you say otherwise, or none".to_owned(),
            UnitSystem::Metric => "a length, in mm unless you say otherwise, or none".to_owned(),
        },
        Asks::Rub => "gritty, smooth or neither".to_owned(),
    }
}

/// Asks until the answer can be read.
fn until_answered<T>(
    accepted: &str,
    terminal: &Terminal,
    read: impl Fn(&str) -> Result<T, Refusal>,
) -> Result<T, Trouble> {
    loop {
        terminal.remark(&wrapped(&format!("({accepted})"), terminal.width, " "));
        let Some(line) = ask()? else {
            terminal.remark("");
            return Err(Trouble::other("the questions were broken off; nothing was stored"));
        };
        match read(&line) {
            Ok(given) => return Ok(given),
            Err(refusal) => {
                terminal.remark(&format!("\n{}", wrapped(&refusal.message, terminal.width, "  ")))
            }
        }
    }
}

fn not_one_of(field: &str, text: &str, accepted: &str) -> Refusal {
    let message = if text.is_empty() {
        "nothing was written".to_owned()
    } else {
        format!("{text:?} is not one of the answers")
    };
    Refusal::new(field, message).given(text).accepted(accepted)
}

fn ask() -> Result<Option<String>, Trouble> {
    let _ = write!(std::io::stderr(), "> ").and_then(|()| std::io::stderr().flush());
    let mut line = String::new();
    match std::io::stdin().lock().read_line(&mut line) {
        Ok(0) => Ok(None),
        Ok(_) => Ok(Some(line.trim().to_owned())),
        Err(error) => Err(Trouble::other(format!("the answer could not be read: {error}"))),
    }
}

enum Given {
    Ball(bool),
    Ribbon(Ribbon),
    Rub(Rub),
}

impl Given {
    fn put(self, answers: &mut Answers) {
        match self {
            Self::Ball(holds) => answers.ball_holds = Some(holds),
            Self::Ribbon(ribbon) => answers.ribbon = Some(ribbon),
            Self::Rub(rub) => answers.rub = Some(rub),
        }
    }
}

fn answer(asks: Asks, text: &str, system: UnitSystem) -> Result<Given, Refusal> {
    match asks {
        Asks::Ball => YesNo::from_str(text, true)
            .map(|answer| Given::Ball(answer == YesNo::Yes))
            .map_err(|_| not_one_of("ball", text, "yes or no")),
        Asks::Ribbon => ribbon(text, system).map(Given::Ribbon),
        Asks::Rub => RubWord::from_str(text, true)
            .map(|answer| Given::Rub(answer.into()))
            .map_err(|_| not_one_of("rub", text, "gritty, smooth or neither")),
    }
}

fn ribbon(text: &str, system: UnitSystem) -> Result<Ribbon, Refusal> {
    if matches!(text.trim().to_lowercase().as_str(), "none" | "no" | "0") {
        return Ok(Ribbon::None);
    }
    typed::<RibbonLength>("ribbon", text, field_unit(RibbonLength::UNIT, system)).map(Ribbon::BrokeAtMm)
}
