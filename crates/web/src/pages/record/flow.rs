//! One way through for every kind of evidence: a form, a look at what it would say, and the book.

use askama::Template;
use book::model::{EntryId, Observation, Plot, Seen};
use book::{BookError, Held, Snapshot};
use ground::kit::Refusal;
use ground::kit::units::UnitSystem;
use jiff::Timestamp;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value, json};

use super::about::{self, About};
use super::kinds::Kind;
use super::look::{self, Look};
use crate::ask::Ask;
pub(super) use crate::form::Group;
use crate::form::{Field, Form, GroupView, Reader, echo, in_its_row};
use crate::pages::things::Clash;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

/// A kind of evidence that is recorded on one form.
pub(super) trait Flow: Send + 'static {
    /// What it is.
    const KIND: &'static Kind;
    /// Its own fields and those of every form.
    const FIELDS: &'static [Field];
    /// Its own fields in groups.
    const GROUPS: &'static [Group];
    /// Fields of the record that go by another name in the form.
    const ALIASES: &'static [(&'static str, &'static str)] = &[];

    /// The list of the record that stands row by row in the form, and the row of each of its items: rows left blank
    /// between are not in the list.
    fn rows(_read: &mut Reader<'_>) -> Option<(&'static str, Vec<usize>)> {
        None
    }

    /// Usual values for a form that nobody has touched yet.
    fn usual(form: Form, _units: UnitSystem) -> Form {
        form
    }

    /// Gives the form what it needs from the book: answers to choose from, words that fit the plot.
    fn prepare(form: Form, _ask: &Ask, _snapshot: &Snapshot, _plot: EntryId) -> Form {
        form
    }

    /// Other ways to word one of the fields.
    fn wordings() -> Option<&'static Wordings> {
        None
    }

    /// Whether there is anything to look at before saving.
    fn looks() -> bool {
        !Self::KIND.method.is_empty()
    }

    /// Reads the form.
    fn read(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen>;

    /// Reads a form that may be half filled, to show what it would say so far.
    fn read_so_far(read: &mut Reader<'_>, had: &Had<'_>) -> Option<Seen> {
        Self::read(read, had)
    }

    /// Fills the form with what the book holds.
    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form;

    /// Something to add to the note, where the book has no other place for it.
    fn remark(_read: &mut Reader<'_>) -> String {
        String::new()
    }

    /// Where a person is sent when it is kept.
    fn onward(held: &Held<Observation>) -> String {
        format!("/plots/{}?done=kept&saw={}", held.body.plot, held.id)
    }
}

/// Other ways to word a field.
#[derive(Debug)]
pub(super) struct Wordings {
    /// The field.
    pub(super) field: &'static str,
    /// What they are called, and the query that asks for them.
    pub(super) ways: &'static [(&'static str, &'static str)],
}

/// What a form is read against.
pub(super) struct Had<'a> {
    /// What the book holds, in a correction.
    pub(super) before: Option<&'a Seen>,
    /// The moment.
    pub(super) now: Timestamp,
}

/// Groups of what surrounds every reading.
const ABOUT_GROUPS: &[Group] = &[
    Group::of("Soil, day and person", "", &["sample"]),
    Group::of(
        "The new bag",
        "Written down once, so that a jar, a feel test and a laboratory can all speak of it.",
        &["sample_label", "sample_from", "sample_to", "sample_cores"],
    )
    .only("sample", "new"),
    Group::of("", "", &["seen_on", "seen_by", "note"]),
];

/// The page of a form.
#[derive(Template, Serialize)]
#[template(path = "record/form.html")]
pub(super) struct FormPage {
    #[serde(skip)]
    pub(super) shell: Shell,
    pub(super) plot: EntryId,
    pub(super) plot_name: String,
    #[serde(flatten)]
    pub(super) kind: &'static Kind,
    #[serde(skip)]
    pub(super) heading: String,
    #[serde(skip)]
    pub(super) form: Form,
    #[serde(skip)]
    pub(super) drawn: Vec<GroupView>,
    /// What it would say, where that was asked.
    pub(super) look: Option<Look>,
    /// Whether there is anything to look at before saving.
    #[serde(skip)]
    pub(super) looks: bool,
    /// Other ways to word one of the fields.
    #[serde(skip)]
    pub(super) wordings: Option<&'static Wordings>,
    #[serde(skip)]
    pub(super) correcting: bool,
    pub(super) clash: Option<Clash>,
}

impl FormPage {
    pub(super) fn new<F: Flow>(ask: &Ask, snapshot: &Snapshot, plot: &Held<Plot>, form: Form) -> Self {
        let form = dressed::<F>(form, ask, snapshot, plot.id);
        let refused = form.is_refused();
        let shell = ask.shell(Section::Record, format!("{}: {}", F::KIND.title, plot.body.name));
        let drawn = F::GROUPS.iter().chain(ABOUT_GROUPS).map(|group| GroupView::of(group, &form)).collect();
        Self {
            shell: if refused { shell.refused() } else { shell },
            plot: plot.id,
            plot_name: plot.body.name.clone(),
            kind: F::KIND,
            heading: F::KIND.title.to_owned(),
            form,
            drawn,
            look: None,
            looks: F::looks(),
            wordings: F::wordings(),
            correcting: false,
            clash: None,
        }
    }

    /// Where the live look is asked.
    fn preview(&self) -> String {
        format!("/api/plots/{}/record/{}/preview", self.plot, self.kind.key)
    }
}

/// A form with the answers that come from the book, and with how each measure was understood.
fn dressed<F: Flow>(form: Form, ask: &Ask, snapshot: &Snapshot, plot: EntryId) -> Form {
    let units = ask.units();
    let mut form = F::prepare(about::answers(form, snapshot, plot, units), ask, snapshot, plot);
    for field in F::FIELDS {
        let text = form.fields().iter().find(|view| view.name == field.name).map(|view| view.text.clone());
        if let Some(text) = text.filter(|text| !text.is_empty()) {
            form = form.echo(field.name, echo(field, &text, units));
        }
    }
    form
}

/// The empty form.
pub(super) fn show<F: Flow>(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let form = about::usual(F::usual(ask.form_from_query(F::FIELDS), ask.units()), ask);
    Shown::page(FormPage::new::<F>(ask, &snapshot, plot, form))
}

/// Keeps what was typed, or shows what it would say when that was asked (`look`).
pub(super) fn save<F: Flow>(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let again = |form: Form| FormPage::new::<F>(ask, &snapshot, plot, form);
    let mut read = ask.reader(F::FIELDS);
    let had = Had { before: None, now: ask.stamp().at };
    let seen = F::read(&mut read, &had);
    let about = About::read(&mut read);
    let remark = F::remark(&mut read);
    let looked = seen.as_ref().and_then(|seen| judged::<F>(&mut read, &snapshot, plot.id, seen, ask.units()));
    let (Some(seen), Some(mut about), false) = (seen, about, read.is_refused()) else {
        return Err(read.refused(again));
    };
    if ask.body.text("look").is_some() {
        let mut page = again(Form::filled(F::FIELDS, ask.units(), &ask.body));
        page.look = looked;
        return Shown::page(page);
    }
    about.remark(&remark);
    let written =
        ask.write(|book, stamp| book.write(|writing| about.record(writing, plot.id, seen, stamp)))?;
    let written = written.map_err(|error| placed::<F>(error, &mut read));
    let held = read.kept(written, again)?;
    Shown::kept(F::onward(&held), held)
}

/// What a reading would say by itself. A reading that contradicts itself is refused at its field.
pub(super) fn judged<F: Flow>(
    read: &mut Reader<'_>,
    snapshot: &Snapshot,
    plot: EntryId,
    seen: &Seen,
    units: UnitSystem,
) -> Option<Look> {
    match look::of(seen, snapshot, plot, units) {
        Ok(look) => look,
        Err(refusal) => {
            // The same field may have been refused on reading already.
            let refusal = at_field::<F>(refusal, read);
            if !read.is_refused_at(&refusal.field) {
                read.refuse(refusal);
            }
            None
        }
    }
}

/// What a half-filled form would say so far: how each measure was understood, what cannot be read,
/// the picture and the odds. Stores nothing.
pub(super) fn preview<F: Flow>(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let units = ask.units();
    let mut read = ask.reader(F::FIELDS);
    let had = Had { before: None, now: ask.stamp().at };
    let seen = F::read_so_far(&mut read, &had);
    let look = seen.and_then(|seen| judged::<F>(&mut read, &snapshot, plot.id, &seen, units));
    let mut echoes = Map::new();
    for field in F::FIELDS {
        let told = ask.body.text(field.name).map(|text| echo(field, text, units)).unwrap_or_default();
        if !told.is_empty() {
            echoes.insert(field.name.to_owned(), Value::String(told));
        }
    }
    // What is merely not filled in yet is no problem yet.
    let problems: Map<String, Value> = read
        .refusals()
        .iter()
        .filter(|refusal| refusal.given != "nothing")
        .map(|refusal| (refusal.field.clone(), Value::String(refusal.message.clone())))
        .collect();
    let html = look.as_ref().and_then(|look| look.render().ok()).unwrap_or_default();
    Ok(Shown::Json(json!({ "echoes": echoes, "problems": problems, "look": look, "html": html })))
}

/// A refusal of the book, at the field of this form.
pub(super) fn placed<F: Flow>(error: BookError, read: &mut Reader<'_>) -> BookError {
    match error {
        BookError::Refused(refusal) => BookError::Refused(at_field::<F>(refusal, read)),
        other => other,
    }
}

/// A refusal that names a field of the record, at the field of this form.
fn at_field<F: Flow>(mut refusal: Refusal, read: &mut Reader<'_>) -> Refusal {
    let mut path = refusal.field.trim_start_matches("seen.").trim_start_matches("reading.").to_owned();
    if let Some((list, rows)) = F::rows(read) {
        path = in_its_row(&path, list, &rows);
    }
    let known = |name: &str| F::FIELDS.iter().any(|field| field.name == name);
    let alias = F::ALIASES.iter().find(|(from, _)| *from == path || path.starts_with(&format!("{from}.")));
    let last = path.rsplit('.').next().unwrap_or_default().to_owned();
    let found = alias
        .map(|(_, to)| (*to).to_owned())
        .or_else(|| [path.replace('.', "_"), last].into_iter().find(|name| known(name)));
    if let Some(found) = found {
        refusal.field = found;
    }
    refusal
}

/// One of the field's answers as the value it names in the record.
pub(super) fn chosen<T: DeserializeOwned>(read: &mut Reader<'_>, name: &str) -> Option<T> {
    let word = read.choice(name)?;
    serde_json::from_value(Value::String(word.to_owned())).ok()
}

/// The word by which a value is chosen.
pub(super) fn word(value: impl Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(Value::String(word)) => word,
        _ => String::new(),
    }
}
