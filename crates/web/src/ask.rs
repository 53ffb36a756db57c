//! One request, as a page sees it.

use std::sync::Arc;

use book::model::{EntryId, Plot};
use book::{Book, Held, Snapshot, Stamp};
use ground::kit::Refusal;
use ground::kit::units::UnitSystem;
use serde_json::Value;

use crate::app::App;
use crate::desk::Desk;
use crate::form::{Field, Form, Reader};
use crate::problem::Problem;
use crate::shell::{PartedPlot, Section, Shell};
use crate::typed::Typed;

/// Whether a person or a program asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// A page.
    Html,
    /// The page's twin.
    Json,
}

/// A file sent with a form.
#[derive(Debug, Clone)]
pub struct Upload {
    /// Name of the form's field.
    pub field: String,
    /// Name of the file where it came from.
    pub file_name: String,
    /// Media type as the browser gave it; never trusted.
    pub media_type: String,
    /// The file.
    pub bytes: Vec<u8>,
}

/// A file that is larger than its page takes; what else was sent with it is kept.
#[derive(Debug, Clone)]
pub struct TooLarge {
    /// Name of the form's field.
    pub field: String,
    /// Its size, as far as it was counted.
    pub bytes: usize,
    /// Most bytes that its page takes.
    pub limit_bytes: usize,
}

/// One request.
pub struct Ask {
    /// The app.
    pub app: Arc<App>,
    /// Whether a person or a program asks.
    pub format: Format,
    /// Path as asked, without `/api`.
    pub path: String,
    /// Parts of the path that the route names.
    pub params: Vec<(String, String)>,
    /// The query.
    pub query: Typed,
    /// The posted fields, from a form or from JSON.
    pub body: Typed,
    /// The posted JSON as it came.
    pub json: Option<Value>,
    /// Posted files.
    pub files: Vec<Upload>,
    /// Posted files that were too large; a reader refuses them at their fields.
    pub too_large: Vec<TooLarge>,
    /// Who records, where this browser was told.
    pub who: Option<String>,
}

impl Ask {
    /// A part of the path that the route names.
    #[must_use]
    pub fn param(&self, name: &str) -> &str {
        self.params.iter().find(|(param, _)| param == name).map_or("", |(_, value)| value)
    }

    /// The record that a part of the path names.
    pub fn entry(&self, name: &str) -> Result<EntryId, Problem> {
        let text = self.param(name);
        text.parse().map_err(|_| {
            Problem::not_found(format!("\u{201c}{text}\u{201d} is not the identity of a record."))
        })
    }

    /// The plot that the part `{plot}` of the path names.
    pub fn plot<'a>(&self, snapshot: &'a Snapshot) -> Result<&'a Held<Plot>, Problem> {
        snapshot.plot(self.entry("plot")?).ok_or_else(|| {
            Problem::not_found(
                "This book has no such plot. It may have been withdrawn, or belong to another book.",
            )
        })
    }

    /// The units the farm reads and writes.
    #[must_use]
    pub fn units(&self) -> UnitSystem {
        self.app.units()
    }

    /// Now, and who records.
    #[must_use]
    pub fn stamp(&self) -> Stamp {
        let stamp = self.app.stamp();
        match &self.who {
            Some(who) => Stamp::new(stamp.at, who),
            None => stamp,
        }
    }

    /// The frame of a page.
    #[must_use]
    pub fn shell(&self, section: Section, title: impl Into<String>) -> Shell {
        let shell = Shell::new(&self.app, section, title.into(), &self.path, &self.query);
        Shell { parted: self.parted(), ..shell }
    }

    /// The parted plot that a page below its own is about.
    fn parted(&self) -> Option<PartedPlot> {
        let id = self.param("plot");
        if self.path.trim_end_matches('/').ends_with(id) {
            return None;
        }
        PartedPlot::of(&*self.snapshot().ok()?, id.parse().ok()?)
    }

    /// An empty form in the farm's units.
    #[must_use]
    pub fn form(&self, fields: &[Field]) -> Form {
        Form::blank(fields, self.app.units())
    }

    /// A form with the fields given in the query, for a page that asks and answers by itself.
    #[must_use]
    pub fn form_from_query(&self, fields: &[Field]) -> Form {
        Form::filled(fields, self.app.units(), &self.query)
    }

    /// Reads the posted form.
    #[must_use]
    pub fn reader(&self, fields: &'static [Field]) -> Reader<'_> {
        let mut reader = Reader::new(fields, self.app.units(), &self.body);
        for file in &self.too_large {
            let [size, most] = [file.bytes.div_ceil(1 << 20), file.limit_bytes >> 20];
            reader.refuse_file(
                Refusal::new(
                    &file.field,
                    format!("This has {size} MB, more than the {most} MB that fit. Make it smaller and choose it again; what you wrote is still here"),
                )
                .given(format!("{size} MB"))
                .accepted(format!("up to {most} MB"))
                .example(if matches!(file.field.as_str(), "file" | "table") {
                    "the walk of one day, or the table of one season"
                } else {
                    "a picture scaled to 3000 pixels along its longer side"
                }),
            );
        }
        reader
    }

    /// The open book, or a problem that leads to the start page.
    pub fn desk(&self) -> Result<Arc<Desk>, Problem> {
        self.app.desk().ok_or(Problem::NoFarm)
    }

    /// The present state of the book.
    pub fn snapshot(&self) -> Result<Arc<Snapshot>, Problem> {
        Ok(self.desk()?.snapshot()?)
    }

    /// Writes to the book. What is refused can be put back into the form by [`Reader::kept`].
    pub fn write<T>(
        &self,
        write: impl FnOnce(&mut Book, &Stamp) -> Result<T, book::BookError>,
    ) -> Result<Result<T, book::BookError>, Problem> {
        let desk = self.desk()?;
        let stamp = self.stamp();
        let mut book = desk.book();
        let done = write(&mut book, &stamp);
        drop(book);
        if done.is_ok() {
            self.app.prepare();
        }
        Ok(done)
    }

    /// The posted JSON, or a refusal that says how to send it.
    pub fn json(&self) -> Result<&Value, Problem> {
        self.json.as_ref().ok_or_else(|| {
            Problem::from(
                Refusal::new("", "the request carries no JSON object")
                    .accepted("a JSON object, with the header content-type: application/json")
                    .example("{\"sand_percent\": 40}"),
            )
        })
    }
}
