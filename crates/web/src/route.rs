//! The one list of addresses, from which the router, the JSON twins and the OpenAPI document are made.

use askama::Template;
use serde::Serialize;
use serde_json::Value;

use crate::ask::Ask;
use crate::form::Field;
use crate::problem::Problem;
use crate::{api, pages};

/// How an address is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verb {
    /// Reads.
    Get,
    /// Writes.
    Post,
}

/// Where an address is served.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Faces {
    /// As a page, and as JSON under `/api`.
    Both,
    /// As JSON only; the path already begins with `/api`.
    JsonOnly,
    /// As it is, a picture or a file, without a twin.
    Plain,
}

/// What a page answers, and how it fails.
pub type Outcome = Result<Shown, Problem>;

/// One address.
#[derive(Clone, Copy)]
pub struct Route {
    /// How it is asked.
    pub verb: Verb,
    /// Where it is served.
    pub faces: Faces,
    /// Its path, with named parts in braces.
    pub path: &'static str,
    /// What it gives, in a sentence.
    pub summary: &'static str,
    /// Fields of the form it takes.
    pub fields: &'static [Field],
    /// Most bytes it takes: of a form with files, each of its fields.
    pub limit_bytes: usize,
    /// The page itself. Runs on a thread of its own, so it may compute and read the book.
    pub run: fn(&Ask) -> Outcome,
}

/// A form of text fields never comes near this.
const FORM_BYTES: usize = 1 << 20;

impl Route {
    /// A page with its twin.
    #[must_use]
    pub const fn page(path: &'static str, summary: &'static str, run: fn(&Ask) -> Outcome) -> Self {
        Self { verb: Verb::Get, faces: Faces::Both, path, summary, fields: &[], limit_bytes: FORM_BYTES, run }
    }

    /// A form's post; the twin takes the same fields as a JSON object.
    #[must_use]
    pub const fn save(
        path: &'static str,
        summary: &'static str,
        fields: &'static [Field],
        run: fn(&Ask) -> Outcome,
    ) -> Self {
        Self { verb: Verb::Post, faces: Faces::Both, path, summary, fields, limit_bytes: FORM_BYTES, run }
    }

    /// An address for programs only.
    #[must_use]
    pub const fn api(
        verb: Verb,
        path: &'static str,
        summary: &'static str,
        run: fn(&Ask) -> Outcome,
    ) -> Self {
        Self { verb, faces: Faces::JsonOnly, path, summary, fields: &[], limit_bytes: FORM_BYTES, run }
    }

    /// A picture or a file to keep.
    #[must_use]
    pub const fn file(path: &'static str, summary: &'static str, run: fn(&Ask) -> Outcome) -> Self {
        Self {
            verb: Verb::Get,
            faces: Faces::Plain,
            path,
            summary,
            fields: &[],
            limit_bytes: FORM_BYTES,
            run,
        }
    }

    /// The same route taking up to `bytes`, for uploads.
    #[must_use]
    pub const fn up_to(mut self, bytes: usize) -> Self {
        self.limit_bytes = bytes;
        self
    }
}

/// A page: a template for people that serialises for programs.
pub trait Page: Send {
    /// The page.
    fn html(&self) -> askama::Result<String>;
    /// Its twin.
    fn json(&self) -> serde_json::Result<Value>;
}

impl<T: Template + Serialize + Send> Page for T {
    fn html(&self) -> askama::Result<String> {
        self.render()
    }

    fn json(&self) -> serde_json::Result<Value> {
        serde_json::to_value(self)
    }
}

/// What a page answers with.
pub enum Shown {
    /// A page or its twin.
    Page(Box<dyn Page>),
    /// JSON for programs.
    Json(Value),
    /// Something was kept: people are sent on to `to`, programs get `twin`.
    Kept {
        /// Where to look at it.
        to: String,
        /// What was kept.
        twin: Value,
        /// Who records from now on in this browser, where that was said.
        who: Option<String>,
    },
    /// A file, shown in place or kept under a name.
    File {
        /// Its media type.
        media_type: String,
        /// Name to keep it under; without one it is shown in place.
        name: Option<String>,
        /// The file.
        bytes: Vec<u8>,
    },
}

impl Shown {
    /// A page.
    pub fn page(page: impl Page + 'static) -> Outcome {
        Ok(Self::Page(Box::new(page)))
    }

    /// Something was kept.
    pub fn kept(to: impl Into<String>, twin: impl Serialize) -> Outcome {
        let twin = serde_json::to_value(twin).unwrap_or_default();
        Ok(Self::Kept { to: to.into(), twin, who: None })
    }
}

/// Every address of the app.
pub fn all() -> impl Iterator<Item = &'static Route> {
    pages::ROUTES.iter().chain(api::ROUTES).copied().flatten()
}

/// Whether a page stands at exactly this path.
#[must_use]
pub fn exists(path: &str) -> bool {
    all().any(|route| route.path == path && route.verb == Verb::Get)
}

/// Path of the JSON twin of a page.
#[must_use]
pub fn twin(path: &str) -> String {
    if path == "/" { "/api".to_owned() } else { format!("/api{path}") }
}
