//! Plays the steps of the demonstration into a book, in the order of time.

use std::collections::BTreeMap;

use book::model::{Body, EntryId, Kind};
use book::{Book, Held, Result, Stamp};
use ground::kit::Refusal;
use jiff::Timestamp;
use serde::Deserialize;
use serde_json::Value;

use super::picture;

const FILES: &[&str] = &[
    include_str!("../../demo/plots.toml"),
    include_str!("../../demo/fields.toml"),
    include_str!("../../demo/wet_and_dry.toml"),
    include_str!("../../demo/tunnels.toml"),
    include_str!("../../demo/talk.toml"),
];

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Script {
    step: Vec<Step>,
}

/// One write to the book.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Step {
    at: Timestamp,
    by: String,
    #[serde(default)]
    does: Does,
    /// What later steps call the record.
    #[serde(default)]
    name: Option<String>,
    #[serde(default)]
    kind: Option<Kind>,
    #[serde(default)]
    body: Value,
    #[serde(default)]
    reason: String,
    /// Picture drawn and attached before the record, whose hash and type go into its body.
    #[serde(default)]
    picture: Option<String>,
}

#[derive(Clone, Copy, Default, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Does {
    #[default]
    Record,
    Revise,
    Withdraw,
    Restore,
}

/// Identity and latest revision of each named record.
type Names = BTreeMap<String, (EntryId, u32)>;

pub(super) fn run(book: &mut Book) -> Result<()> {
    let mut names = Names::new();
    for step in steps()? {
        play(book, &mut names, step)?;
    }
    Ok(())
}

fn steps() -> Result<Vec<Step>> {
    let mut steps = Vec::new();
    for text in FILES {
        let script: Script = toml::from_str(text)
            .map_err(|error| Refusal::new("", format!("the demonstration cannot be read: {error}")))?;
        steps.extend(script.step);
    }
    steps.sort_by_key(|step| step.at);
    Ok(steps)
}

fn play(book: &mut Book, names: &mut Names, step: Step) -> Result<()> {
    let stamp = Stamp::new(step.at, step.by.clone());
    let named = || -> Result<(EntryId, u32)> {
        let name = step.name.as_deref().unwrap_or_default();
        Ok(names
            .get(name)
            .copied()
            .ok_or_else(|| Refusal::new("name", format!("no record is called {name}")))?)
    };
    let (id, number) = match step.does {
        Does::Record => {
            let body = body(book, names, &step)?;
            written(book, body, None, "", &stamp)?
        }
        Does::Revise => {
            let (body, old) = (body(book, names, &step)?, named()?);
            written(book, body, Some(old), &step.reason, &stamp)?
        }
        Does::Withdraw => {
            let (id, number) = named()?;
            mark(book.withdraw(id, number, &step.reason, &stamp)?)
        }
        Does::Restore => {
            let (id, number) = named()?;
            mark(book.restore(id, number, &step.reason, &stamp)?)
        }
    };
    if let Some(name) = step.name {
        names.insert(name, (id, number));
    }
    Ok(())
}

fn mark<T>(held: Held<T>) -> (EntryId, u32) {
    (held.id, held.number)
}

/// The step's body with names turned into identities, and its picture attached.
fn body(book: &mut Book, names: &Names, step: &Step) -> Result<Body> {
    let mut json = step.body.clone();
    resolve(&mut json, names)?;
    if let Some(picture) = &step.picture {
        let sha256 = book.attach(&picture::draw(picture), picture::MEDIA_TYPE)?;
        json["sha256"] = Value::from(sha256);
        json["media_type"] = Value::from(picture::MEDIA_TYPE);
    }
    let kind = step.kind.ok_or_else(|| Refusal::new("kind", "a step that writes a record says its kind"))?;
    Ok(Body::read(kind, &json)?)
}

fn resolve(json: &mut Value, names: &Names) -> Result<()> {
    match json {
        Value::String(text) => {
            if let Some(name) = text.strip_prefix('@') {
                let (id, _) = names
                    .get(name)
                    .ok_or_else(|| Refusal::new("body", format!("no earlier step is called {name}")))?;
                *text = id.to_string();
            }
            Ok(())
        }
        Value::Array(items) => items.iter_mut().try_for_each(|item| resolve(item, names)),
        Value::Object(fields) => fields.values_mut().try_for_each(|field| resolve(field, names)),
        _ => Ok(()),
    }
}

/// Writes a body of any kind.
fn written(
    book: &mut Book,
    body: Body,
    instead_of: Option<(EntryId, u32)>,
    reason: &str,
    stamp: &Stamp,
) -> Result<(EntryId, u32)> {
    let held = match instead_of {
        None => book.record_body(body, stamp)?,
        Some((id, number)) => book.revise_body(id, number, body, reason, stamp)?,
    };
    Ok(mark(held))
}
