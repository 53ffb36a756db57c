//! What went wrong, for people and for programs.

use askama::Template;
use axum::http::StatusCode;
use ground::kit::Refusal;
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
    },
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
        Self::Refused { refusals, page: Some(Box::new(page)) }
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
            Self::Refused { .. } => StatusCode::UNPROCESSABLE_ENTITY,
            Self::Trouble(trouble) => trouble.status,
        }
    }

    /// The problem for a program: the first refusal under `error`, all of them under `errors`.
    #[must_use]
    pub fn json(&self) -> Value {
        let refusals = match self {
            Self::Refused { refusals, .. } => refusals.clone(),
            Self::Trouble(trouble) => {
                vec![Refusal::new("", trouble.message.clone()).accepted(trouble.hints.join(" "))]
            }
        };
        json!({ "error": refusals.first(), "errors": refusals })
    }
}

impl From<Refusal> for Problem {
    fn from(refusal: Refusal) -> Self {
        Self::Refused { refusals: vec![refusal], page: None }
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
