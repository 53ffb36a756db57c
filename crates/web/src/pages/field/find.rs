//! From the code of a label, scanned or typed, to its record.

use askama::Template;
use book::model::EntryId;
use book::{Scanned, ShortCode, Snapshot, Tag};
use ground::kit::Refusal;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Field, Form, Reader, Width};
use crate::problem::capital;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

const FIELDS: &[Field] = &[Field::text(
    "code",
    "Code on the label, or what was scanned",
    "Like 4K7M-2XPW or 4K7M-2XPA-3; a scanner types what the QR code holds",
)
.width(Width::Middle)];

#[derive(Template, Serialize)]
#[template(path = "field/find.html")]
struct FindPage {
    #[serde(skip)]
    shell: Shell,
    /// What the code names.
    found: Vec<Found>,
    form: Form,
}

/// A record that a code names.
#[derive(Debug, PartialEq, Eq, Serialize)]
struct Found {
    words: String,
    href: String,
    /// What one mostly comes for: to type its results in.
    enter: Option<String>,
}

/// Without a code the page asks for one; with one it tells what it names.
pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let page = |form: Form, found: Vec<Found>| {
        let shell = ask.shell(Section::Record, "Find a bag by its code");
        FindPage { shell: if form.is_refused() { shell.refused() } else { shell }, found, form }
    };
    if ask.query.get("code").is_none() {
        return Shown::page(page(ask.form(FIELDS), Vec::new()));
    }
    let mut read = Reader::new(FIELDS, ask.units(), &ask.query);
    let Some(code) = read.text("code") else { return Err(read.refused(|form| page(form, Vec::new()))) };
    let refusal = |message: String| {
        Refusal::new("code", message)
            .given(code)
            .accepted("the code printed on a label of this farm, or the text of its QR code")
            .example("4K7M-2XPW-3")
    };
    let found = match Scanned::read(code) {
        Ok(scanned) => found(&snapshot, scanned),
        Err(error) => {
            read.refuse(refusal(capital(&error.to_string())));
            return Err(read.refused(|form| page(form, Vec::new())));
        }
    };
    if found.is_empty() {
        read.refuse(refusal(
            "This book has no sample or sampling plan of that code: it may have been withdrawn, or belong to another book"
                .to_owned(),
        ));
        return Err(read.refused(|form| page(form, Vec::new())));
    }
    Shown::page(page(ask.form_from_query(FIELDS), found))
}

fn found(snapshot: &Snapshot, scanned: Scanned) -> Vec<Found> {
    match scanned {
        Scanned::Tag(Tag::Sample(id)) => of_sample(snapshot, id).into_iter().collect(),
        Scanned::Tag(Tag::Bag { plan, number }) => of_bag(snapshot, plan, number),
        Scanned::Short(code) => of_short(snapshot, code),
    }
}

/// Two records may share a short code, once in a great while: both are told.
fn of_short(snapshot: &Snapshot, code: ShortCode) -> Vec<Found> {
    match code.bag() {
        Some(number) => {
            let plans = snapshot.sampling_plans.iter().filter(|plan| code.names(plan.id));
            plans.flat_map(|plan| of_bag(snapshot, plan.id, number)).collect()
        }
        None => {
            let samples = snapshot.samples.iter().filter(|sample| code.names(sample.id));
            samples.filter_map(|sample| of_sample(snapshot, sample.id)).collect()
        }
    }
}

fn of_sample(snapshot: &Snapshot, id: EntryId) -> Option<Found> {
    let sample = &snapshot.sample(id)?.body;
    let plot = snapshot.plot(sample.plot).map(|plot| plot.body.name.clone()).unwrap_or_default();
    let bag = if sample.bag_label.is_empty() {
        "The sample".to_owned()
    } else {
        format!("Bag {}", sample.bag_label)
    };
    Some(Found {
        words: format!("{bag} of {plot}, taken on {}", advice::words::day(sample.taken_on)),
        href: format!("/records/{id}/history"),
        enter: None,
    })
}

/// A bag of a plan: the sample it was filled with, and the place to type its results.
fn of_bag(snapshot: &Snapshot, plan: EntryId, number: u16) -> Vec<Found> {
    let Some(body) = snapshot.sampling_plan(plan).map(|plan| &plan.body) else { return Vec::new() };
    let Some(row) = advice::results::plan_rows(body).iter().position(|row| row.number == number) else {
        return Vec::new();
    };
    let label = Tag::Bag { plan, number }.short().to_string();
    let sample = snapshot.sample_coded(&label);
    let mut found: Vec<Found> =
        sample.and_then(|sample| of_sample(snapshot, sample.id)).into_iter().collect();
    let plot = snapshot.plot(body.plot).map(|plot| plot.body.name.clone()).unwrap_or_default();
    found.push(Found {
        words: format!("Bag {number} of the plan {}, {plot}", body.name),
        href: format!("/sampling/{plan}/enter#row-{row}"),
        enter: Some(format!("/sampling/{plan}/enter#row-{row}")),
    });
    found
}
