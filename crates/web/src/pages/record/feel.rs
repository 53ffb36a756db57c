//! The feel test: one question a page, then the class and what it leaves open.

use askama::Template;
use book::model::{EntryId, Seen};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};
use ground::texture::Class;
use ground::texture::feel::{
    self, Answers, Asks, FeelReading, Hand, Next, Question, Ribbon, RibbonLength, Rub,
};
use serde::Serialize;

use super::about::{self, ABOUT};
use super::flow::{Flow, Group, Had, chosen, word};
use super::kinds::{self, Kind};
use super::look::{self, Look};
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, join, shown};
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

/// Texture by feel.
pub(super) struct Feel;

const OWN: &[Field] = &[
    Field::one_of(
        "ball_holds",
        "Does it hold together as a ball when squeezed?",
        "",
        &[Choice::new("yes", "Yes"), Choice::new("no", "No, it falls apart")],
    ),
    Field::one_of(
        "ribbon_made",
        "Does it make a ribbon between thumb and finger?",
        "",
        &[Choice::new("yes", "Yes"), Choice::new("no", "No, it would not make one")],
    )
    .optional(),
    Field::measure(
        "ribbon",
        "Length of the ribbon when it broke",
        "The usual length of three tries, for example 1 1/4 in or 35 mm",
        Dimension::SmallLength,
    )
    .optional(),
    Field::one_of(
        "rub",
        "How does a very wet pinch rub?",
        "",
        &[
            Choice::new("gritty", "Very gritty"),
            Choice::new("smooth", "Very smooth"),
            Choice::new("neither", "Neither stands out"),
            Choice::new("open", "I cannot tell"),
        ],
    )
    .optional(),
    Field::one_of(
        "hand",
        "How practised is the hand?",
        "It decides how far the answer is trusted",
        &[
            Choice::new("new", "New to it"),
            Choice::new("practised", "Taught, and has done a few dozen"),
            Choice::new("professional", "Feels soil for a living"),
        ],
    ),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

const GROUPS: &[Group] = &[
    Group::of("What the fingers found", "", &["ball_holds", "ribbon_made", "ribbon", "rub"]),
    Group::of("", "", &["hand"]),
];

impl Flow for Feel {
    const KIND: &'static Kind = &kinds::FEEL;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = GROUPS;
    const ALIASES: &'static [(&'static str, &'static str)] = &[("ribbon_mm", "ribbon")];

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let answers = answers(read);
        let hand = chosen::<Hand>(read, "hand");
        let answers = answers?;
        if answers.ball_holds == Some(true) && answers.ribbon.is_none() && !read.is_refused() {
            read.refuse(
                Refusal::new(
                    "ribbon_made",
                    "A ball that holds is pushed into a ribbon next: did it make one?",
                )
                .given("nothing")
                .accepted("yes with its length, or no"),
            );
        }
        answers.reading(hand?).map(Seen::Feel)
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Feel(FeelReading { ball_holds, ribbon_mm, rub, hand }) = seen else { return form };
        let form = form.set("ball_holds", if *ball_holds { "yes" } else { "no" }).set("hand", word(hand));
        let form = match (ball_holds, ribbon_mm) {
            (true, Some(_)) => form.set("ribbon_made", "yes").measure("ribbon", *ribbon_mm, units),
            (true, None) => form.set("ribbon_made", "no"),
            _ => form,
        };
        match rub {
            Some(rub) => form.set("rub", word(rub)),
            None if ribbon_mm.is_some() => form.set("rub", "open"),
            None => form,
        }
    }
}

/// The answers so far.
fn answers(read: &mut Reader<'_>) -> Option<Answers> {
    let ball_holds = read.choice("ball_holds").map(|answer| answer == "yes");
    let made = read.choice("ribbon_made");
    let length = read.measure::<RibbonLength>("ribbon");
    let rub = read.choice("rub");
    let ribbon = match (made, length) {
        (Some("no"), Some(_)) => {
            read.refuse(
                Refusal::new("ribbon", "A length was typed, and it is said that no ribbon was made")
                    .accepted("one of the two"),
            );
            None
        }
        (Some("no"), None) => Some(Ribbon::None),
        (_, Some(length)) => Some(Ribbon::BrokeAtMm(length)),
        (Some(_), None) => {
            if !read.is_refused_at("ribbon") {
                read.refuse(
                    Refusal::new("ribbon", "Length of the ribbon: fill this in")
                        .given("nothing")
                        .accepted("the length at which it broke, in inches or millimetres")
                        .example("1 1/4 in"),
                );
            }
            None
        }
        (None, None) => None,
    };
    let rub = match rub {
        Some("gritty") => Some(Rub::Gritty),
        Some("smooth") => Some(Rub::Smooth),
        Some("neither") => Some(Rub::Neither),
        _ => None,
    };
    let answers = Answers { ball_holds, ribbon, rub };
    match feel::path::check(&answers) {
        Ok(()) => Some(answers),
        Err(mut refusal) => {
            refusal.field = "ribbon".to_owned();
            read.refuse(refusal);
            None
        }
    }
}

/// A question, or the end of the path.
#[derive(Template, Serialize)]
#[template(path = "record/feel.html")]
struct FeelPage {
    #[serde(skip)]
    shell: Shell,
    plot: EntryId,
    plot_name: String,
    #[serde(flatten)]
    kind: &'static Kind,
    /// How to make the soil ready; told before the first question only.
    prepare: Option<&'static str>,
    question: Option<&'static Question>,
    /// Which question this is, from 1.
    step: usize,
    steps: usize,
    /// Answers so far, for people.
    answered: Vec<(&'static str, String)>,
    /// Answers so far, carried along.
    #[serde(skip)]
    carried: Vec<(String, String)>,
    class: Option<Class>,
    /// Classes that the answers leave open.
    possible: Vec<&'static str>,
    look: Option<Look>,
    #[serde(skip)]
    form: Form,
}

impl FeelPage {
    /// Whether this is the question.
    fn is(&self, asks: &str) -> bool {
        self.question.is_some_and(|question| word(question.asks) == asks)
    }
}

/// The next question, or the class with the form that keeps it. Answers stand in the address, so
/// that the Back button takes one back.
pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let units = ask.units();
    let mut read = Reader::new(FIELDS, units, &ask.query);
    // The path begins with nothing answered.
    let started = ask.query.text("ball_holds").is_some();
    let answers = if started { answers(&mut read) } else { Some(Answers::default()) };
    let page = |answers: &Answers, form: Form| -> FeelPage {
        let broken_off = ask.query.text("rub") == Some("open") && answers.ribbon.is_some();
        let next = if broken_off { None } else { feel::next(answers).ok() };
        let (question, class) = match next {
            Some(Next::Question(question)) => (Some(question), None),
            Some(Next::Outcome(class)) => (None, Some(class)),
            None => (None, None),
        };
        let carried = ["ball_holds", "ribbon_made", "ribbon", "rub"]
            .into_iter()
            .filter(|name| {
                !(question.is_some_and(|one| one.asks == Asks::Ribbon) && name.starts_with("ribbon"))
            })
            .filter_map(|name| Some((name.to_owned(), ask.query.text(name)?.to_owned())))
            .collect();
        let look = question
            .is_none()
            .then(|| answers.reading(Hand::Practised))
            .flatten()
            .and_then(|reading| look::of(&Seen::Feel(reading), &snapshot, plot.id, units).ok().flatten());
        let refused = form.is_refused();
        let shell = ask.shell(Section::Record, format!("{}: {}", kinds::FEEL.title, plot.body.name));
        FeelPage {
            shell: if refused { shell.refused() } else { shell },
            plot: plot.id,
            plot_name: plot.body.name.clone(),
            kind: &kinds::FEEL,
            prepare: (!started).then(feel::prepare),
            step: question.map_or(feel::questions().len(), |one| {
                feel::questions().iter().position(|other| other == one).map_or(1, |at| at + 1)
            }),
            steps: feel::questions().len(),
            question,
            answered: told(answers, units),
            carried,
            class,
            possible: feel::possible(answers).into_iter().map(Class::name).collect(),
            look,
            form: about::answers(about::usual(form, ask), &snapshot, plot.id, units),
        }
    };
    match answers {
        Some(answers) if !read.is_refused() => {
            Shown::page(page(&answers, Form::blank(FIELDS, units).with("hand", "new")))
        }
        _ => {
            // The question that was answered badly is asked again, with what was typed.
            let before = match ask.query.text("ball_holds") {
                Some("yes") => Answers { ball_holds: Some(true), ..Answers::default() },
                _ => Answers::default(),
            };
            Err(read.refused(|form| page(&before, form)))
        }
    }
}

fn told(answers: &Answers, units: UnitSystem) -> Vec<(&'static str, String)> {
    let mut told = Vec::new();
    if let Some(holds) = answers.ball_holds {
        told.push(("Ball", if holds { "holds" } else { "falls apart" }.to_owned()));
    }
    match answers.ribbon {
        Some(Ribbon::None) => told.push(("Ribbon", "none".to_owned())),
        Some(Ribbon::BrokeAtMm(length)) => told.push(("Ribbon", shown(length, units))),
        None => {}
    }
    if let Some(rub) = answers.rub {
        let rub = match rub {
            Rub::Gritty => "very gritty",
            Rub::Smooth => "very smooth",
            Rub::Neither => "neither gritty nor smooth",
        };
        told.push(("Rub", rub.to_owned()));
    }
    told
}
