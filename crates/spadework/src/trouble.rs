//! What can go wrong, how it is told, and the exit codes.

use std::process::ExitCode;

use book::BookError;
use ground::kit::Refusal;
use ground::kit::units::UnitSystem;
use serde_json::{Value, json};

use crate::arguments::Names;
use crate::report::wrapped;

/// How the program ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Exit {
    /// All was done.
    Done = 0,
    /// Something else went wrong.
    Other = 1,
    /// The input was refused.
    Refused = 2,
    /// The farm book could not be used.
    Book = 3,
    /// A check did not agree.
    ChecksFailed = 4,
}

impl Exit {
    /// Every way to end, in the order of the codes.
    pub(crate) const ALL: [Self; 5] =
        [Self::Done, Self::Other, Self::Refused, Self::Book, Self::ChecksFailed];

    /// What the code means.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Done => "done",
            Self::Other => "something went wrong that none of the others covers",
            Self::Refused => "the input was refused; nothing was stored",
            Self::Book => "the farm book could not be opened, read or written",
            Self::ChecksFailed => "a published case, or the check of a book, did not come out right",
        }
    }

    /// For the operating system.
    pub(crate) fn code(self) -> ExitCode {
        ExitCode::from(self as u8)
    }
}

/// Something that went wrong.
#[derive(Debug)]
pub(crate) struct Trouble(Box<Told>);

#[derive(Debug)]
struct Told {
    kind: Kind,
    hints: Vec<String>,
    /// Is the refused field an option of the command line?
    option: bool,
}

#[derive(Debug)]
enum Kind {
    Refused(Refusal),
    Book(String),
    Other(String),
}

impl Trouble {
    /// Something that none of the other kinds covers.
    pub(crate) fn other(message: impl Into<String>) -> Self {
        Self::of(Kind::Other(message.into()))
    }

    /// The farm book could not be used.
    pub(crate) fn of_book(message: impl Into<String>) -> Self {
        Self::of(Kind::Book(message.into()))
    }

    fn of(kind: Kind) -> Self {
        Self(Box::new(Told { kind, hints: Vec::new(), option: false }))
    }

    /// A command line that cannot be read.
    pub(crate) fn of_usage(error: &clap::Error) -> Self {
        use clap::error::{ContextKind, ContextValue};
        let text = |kind| match error.get(kind) {
            Some(ContextValue::String(text)) => text.clone(),
            Some(ContextValue::Strings(texts)) => texts.join(", "),
            _ => String::new(),
        };
        let field = text(ContextKind::InvalidArg).trim_start_matches('-').to_owned();
        let rendered = error.to_string();
        let message = rendered.lines().next().unwrap_or_default().trim_start_matches("error: ").to_owned();
        let refusal = Refusal::new(field.split([' ', '=']).next().unwrap_or_default(), message)
            .given(format!("{}{}", text(ContextKind::InvalidValue), text(ContextKind::InvalidSubcommand)))
            .accepted(text(ContextKind::ValidValue))
            .example(text(ContextKind::SuggestedArg));
        Self::from(refusal)
            .hint("spadework --help lists every command; spadework COMMAND --help every option")
    }

    /// Adds something to try.
    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.0.hints.push(hint.into());
        self
    }

    /// With what else was refused, told after it.
    pub(crate) fn and(mut self, other: &Self) -> Self {
        if let (Kind::Refused(refusal), Kind::Refused(more)) = (&mut self.0.kind, &other.0.kind) {
            refusal.message = format!("{}; {}", refusal.message, more.message);
        }
        self
    }

    /// Is it the refusal of that field?
    pub(crate) fn is_about(&self, field: &str) -> bool {
        matches!(&self.0.kind, Kind::Refused(refusal) if refusal.field == field)
    }

    /// Names the refused field as it is typed.
    pub(crate) fn told_as_typed(mut self, names: &Names) -> Self {
        if let Kind::Refused(refusal) = &mut self.0.kind
            && let Some((typed, option)) = names.typed_for(&refusal.field)
        {
            refusal.field = typed;
            self.0.option = option;
        }
        self
    }

    /// How the program ends because of it.
    pub(crate) fn exit(&self) -> Exit {
        match self.0.kind {
            Kind::Refused(_) => Exit::Refused,
            Kind::Book(_) => Exit::Book,
            Kind::Other(_) => Exit::Other,
        }
    }

    /// For a program: always the same shape.
    pub(crate) fn json(&self) -> Value {
        let refusal = match &self.0.kind {
            Kind::Refused(refusal) => refusal.clone(),
            Kind::Book(message) | Kind::Other(message) => Refusal::new("", message.clone()),
        };
        let mut error = json!(refusal);
        if !self.0.hints.is_empty() {
            error["try"] = json!(self.0.hints);
        }
        json!({ "error": error })
    }

    /// For a person: what happened, then what to try.
    pub(crate) fn words(&self, width: usize) -> String {
        let mut words = match &self.0.kind {
            Kind::Refused(refusal) => {
                let mut words =
                    wrapped(&format!("refused: {}", with_field(refusal, self.0.option)), width, "  ");
                if !refusal.accepted.is_empty() && !refusal.message.contains(&refusal.accepted) {
                    let accepted = format!("accepted: {}", refusal.accepted);
                    words.push_str(&format!("\n  {}", wrapped(&accepted, width - 2, "    ")));
                }
                if !refusal.example.is_empty() && !refusal.message.contains(&refusal.example) {
                    words.push_str(&format!("\n  example: {}", refusal.example));
                }
                words
            }
            Kind::Book(message) => wrapped(&format!("farm book: {message}"), width, "  "),
            Kind::Other(message) => wrapped(&format!("error: {message}"), width, "  "),
        };
        for hint in &self.0.hints {
            words.push_str("\nTry: ");
            words.push_str(hint);
        }
        words
    }
}

/// The field is named unless the sentence begins with it; an option always, as it is typed.
fn with_field(refusal: &Refusal, option: bool) -> String {
    if option && !refusal.message.starts_with("--") {
        return format!("--{}: {}", refusal.field, refusal.message);
    }
    let named = refusal.message.starts_with(&refusal.field) || refusal.message.starts_with("--");
    if named { refusal.message.clone() } else { refusal.to_string() }
}

/// What the book or a method refused, in the units of the person who typed it.
pub(crate) fn in_units<E: Into<BookError>>(error: E, system: UnitSystem) -> Trouble {
    match error.into() {
        BookError::Refused(refusal) => refusal.in_units(system).into(),
        other => other.into(),
    }
}

impl From<Refusal> for Trouble {
    fn from(refusal: Refusal) -> Self {
        Self::of(Kind::Refused(refusal))
    }
}

impl From<BookError> for Trouble {
    fn from(error: BookError) -> Self {
        match error {
            BookError::Refused(refusal) => refusal.into(),
            // Every wrong cell stands in the words; the field is that of the first.
            BookError::Rows(ref rows) => {
                let first = rows.first().map_or_else(|| Refusal::new("", ""), |row| row.refusal.clone());
                Refusal { message: error.to_string(), ..first }.into()
            }
            BookError::Clash { from_number, ref now, .. } => Refusal::new("from", error.to_string())
                .given(from_number)
                .accepted(format!("version {}, the one that stands now", now.number))
                .example(format!("--from {}", now.number))
                .into(),
            other => Self::of(Kind::Book(other.to_string())),
        }
    }
}
