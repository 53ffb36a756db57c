//! What went wrong, for people and for programs.

use askama::Template;
use axum::http::StatusCode;
use book::BookError;
use ground::kit::Refusal;
pub(crate) use ground::kit::sentence::capital;
use serde::Serialize;
use serde_json::{Value, json};

use crate::route::Page;
use crate::shell::Shell;

/// Why a request did not get what it asked for.
pub enum Problem {
    /// Something given was refused.
    Refused {
        /// What, field by field.
        refusals: Vec<Refusal>,
        /// The form again, with everything typed and the reasons beside the fields.
        page: Option<Box<dyn Page>>,
        /// Status of the response.
        status: StatusCode,
    },
    /// No book is open yet.
    NoFarm,
    /// Anything else.
    Trouble(Trouble),
}

/// A trouble that no field can mend.
#[derive(Debug, Clone, Serialize)]
pub struct Trouble {
    /// Status of the response.
    #[serde(skip)]
    pub status: StatusCode,
    /// Heading of the page.
    pub title: String,
    /// What happened.
    pub message: String,
    /// What to try.
    pub hints: Vec<String>,
}

impl Trouble {
    /// A trouble with its sentence.
    #[must_use]
    pub fn new(status: StatusCode, title: impl Into<String>, message: impl Into<String>) -> Self {
        Self { status, title: title.into(), message: message.into(), hints: Vec::new() }
    }

    /// Adds something to try.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hints.push(hint.into());
        self
    }
}

impl Problem {
    /// A form that was refused, shown again.
    #[must_use]
    pub fn form(refusals: Vec<Refusal>, page: impl Page + 'static) -> Self {
        Self::Refused { refusals, page: Some(Box::new(page)), status: StatusCode::UNPROCESSABLE_ENTITY }
    }

    /// Nothing stands at this address.
    #[must_use]
    pub fn not_found(message: impl Into<String>) -> Self {
        Trouble::new(StatusCode::NOT_FOUND, "Not found", message)
            .hint("Check the address, or start again from the farm page.")
            .into()
    }

    /// Status of the response.
    #[must_use]
    pub fn status(&self) -> StatusCode {
        match self {
            Self::Refused { status, .. } => *status,
            Self::NoFarm => StatusCode::CONFLICT,
            Self::Trouble(trouble) => trouble.status,
        }
    }

    /// The problem for a program: the first refusal under `error`, all of them under `errors`.
    #[must_use]
    pub fn json(&self) -> Value {
        let refusals = match self {
            Self::Refused { refusals, .. } => refusals.clone(),
            Self::NoFarm => vec![
                Refusal::new("", "no farm book is open").accepted("start a farm first, or open its book"),
            ],
            Self::Trouble(trouble) => {
                vec![Refusal::new("", trouble.message.clone()).accepted(trouble.hints.join(" "))]
            }
        };
        json!({ "error": refusals.first(), "errors": refusals })
    }
}

impl From<Refusal> for Problem {
    fn from(refusal: Refusal) -> Self {
        let status = StatusCode::UNPROCESSABLE_ENTITY;
        Self::Refused { refusals: vec![refusal], page: None, status }
    }
}

impl From<BookError> for Problem {
    fn from(error: BookError) -> Self {
        let status = status_of(&error);
        match error {
            BookError::Refused(refusal) => refusal.into(),
            other => Trouble::new(status, "The farm book", capital(&other.to_string())).into(),
        }
    }
}

/// Status that tells a program what kind of trouble the book has.
pub(crate) fn status_of(error: &BookError) -> StatusCode {
    match error {
        BookError::Refused(_) => StatusCode::UNPROCESSABLE_ENTITY,
        BookError::Clash { .. } | BookError::Exists { .. } => StatusCode::CONFLICT,
        BookError::NotFound { .. } | BookError::NoAttachment { .. } => StatusCode::NOT_FOUND,
        BookError::Busy { .. } => StatusCode::SERVICE_UNAVAILABLE,
        BookError::Full { .. } => StatusCode::INSUFFICIENT_STORAGE,
        BookError::ReadOnly { .. } => StatusCode::FORBIDDEN,
        _ => StatusCode::INTERNAL_SERVER_ERROR,
    }
}

impl From<Trouble> for Problem {
    fn from(trouble: Trouble) -> Self {
        Self::Trouble(trouble)
    }
}

/// The page of a problem that has no form to go back to.
#[derive(Template, Serialize)]
#[template(path = "problem.html")]
pub(crate) struct ProblemPage {
    #[serde(skip)]
    pub(crate) shell: Shell,
    pub(crate) message: String,
    pub(crate) refusals: Vec<Refusal>,
    pub(crate) hints: Vec<String>,
}

#[cfg(test)]
impl ProblemPage {
    /// A page for tests of what surrounds it.
    pub(crate) fn empty() -> Self {
        use crate::typed::Typed;
        let app = crate::app::App::new(crate::app::Options::default()).unwrap();
        let shell = Shell::new(&app, crate::shell::Section::Farm, String::new(), "/", &Typed::default());
        Self { shell, message: String::new(), refusals: Vec::new(), hints: Vec::new() }
    }
}
