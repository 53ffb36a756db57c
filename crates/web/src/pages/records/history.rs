//! The history of a record, of a plot, of the whole book: who wrote what, when, why, and what changed.

use std::collections::BTreeSet;

use askama::Template;
use book::model::{EntryId, Kind};
use book::{Book, BookError, Revision, Snapshot};
use serde::Serialize;

use super::home;
use crate::ask::Ask;
use crate::problem::capital;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::when;
use crate::words::{self, Change, Line};

/// Most revisions on one page.
const MOST: usize = 200;

#[derive(Template, Serialize)]
#[template(path = "history.html")]
struct HistoryPage {
    #[serde(skip)]
    shell: Shell,
    title: String,
    lead: String,
    revisions: Vec<Entry>,
    /// Revisions that did not fit.
    left_out: usize,
    #[serde(skip)]
    back: String,
    #[serde(skip)]
    back_words: String,
    /// Whether the record was withdrawn; only on the page of one record.
    withdrawn: Option<EntryId>,
    /// Whether the page is about one record, so that its name need not be repeated.
    #[serde(skip)]
    single: bool,
}

/// One revision.
#[derive(Serialize)]
struct Entry {
    id: EntryId,
    kind: Kind,
    number: u32,
    title: String,
    /// "recorded", "changed", "withdrawn", "restored".
    done: &'static str,
    at: String,
    #[serde(rename = "recorded_at")]
    moment: jiff::Timestamp,
    by: String,
    reason: String,
    /// What the first revision says.
    says: Vec<Line>,
    /// What a later one changed.
    changes: Vec<Change>,
    /// A photo's picture.
    picture: bool,
}

pub(super) fn of_record(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let revisions = desk.book().history(ask.entry("id")?)?;
    let last = revisions.last().cloned();
    let entries = entries(ask, &snapshot, &revisions);
    let title = last.as_ref().map(|last| words::titled(&last.body)).unwrap_or_default();
    let back = last.as_ref().map_or_else(|| "/".to_owned(), |last| home(&snapshot, last));
    let page = page(ask, capital(&format!("History of the {title}")), entries, back);
    let withdrawn = last.filter(|last| last.withdrawn).map(|last| last.id);
    Shown::page(HistoryPage {
        lead: "Nothing is ever overwritten: each change is a further version, with who made it and why."
            .to_owned(),
        withdrawn,
        single: true,
        ..page
    })
}

pub(super) fn of_plot(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let ids = ids_of(&snapshot, Some(plot.id));
    let entries = gathered(ask, &snapshot, &desk.book(), &ids)?;
    let page = page(ask, format!("History of {}", plot.body.name), entries, format!("/plots/{}", plot.id));
    Shown::page(HistoryPage { back_words: plot.body.name.clone(), ..page })
}

pub(super) fn of_book(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let entries = gathered(ask, &snapshot, &desk.book(), &ids_of(&snapshot, None))?;
    Shown::page(page(ask, "Everything that was written".to_owned(), entries, "/".to_owned()))
}

fn page(ask: &Ask, title: String, mut revisions: Vec<Entry>, back: String) -> HistoryPage {
    revisions.sort_by(|a, b| b.moment.cmp(&a.moment).then(b.number.cmp(&a.number)));
    let left_out = revisions.len().saturating_sub(MOST);
    revisions.truncate(MOST);
    HistoryPage {
        shell: ask.shell(Section::Farm, title.clone()),
        title,
        lead: "Latest first.".to_owned(),
        revisions,
        left_out,
        back,
        back_words: "Plots".to_owned(),
        withdrawn: None,
        single: false,
    }
}

/// Every record that belongs to a plot, withdrawn ones too; of the whole book without one.
fn ids_of(snapshot: &Snapshot, plot: Option<EntryId>) -> BTreeSet<EntryId> {
    let belongs = |of: Option<EntryId>| plot.is_none() || of == plot;
    let mut ids = BTreeSet::new();
    match plot {
        Some(plot) => drop(ids.insert(plot)),
        None => {
            ids.insert(snapshot.farm.id);
            ids.extend(snapshot.plots_and_parted().map(|held| held.id));
        }
    }
    ids.extend(snapshot.beds.iter().filter(|held| belongs(Some(held.body.plot))).map(|held| held.id));
    ids.extend(snapshot.structures.iter().filter(|held| belongs(held.body.plot)).map(|held| held.id));
    ids.extend(snapshot.samples.iter().filter(|held| belongs(Some(held.body.plot))).map(|held| held.id));
    ids.extend(snapshot.observations.iter().filter(|held| belongs(Some(held.body.plot))).map(|held| held.id));
    ids.extend(snapshot.decisions.iter().filter(|held| belongs(Some(held.body.plot))).map(|held| held.id));
    ids.extend(snapshot.notes.iter().filter(|held| belongs(held.body.plot)).map(|held| held.id));
    let in_beds = (snapshot.plantings.iter().map(|held| (held.id, held.body.bed)))
        .chain(snapshot.watering_systems.iter().map(|held| (held.id, held.body.bed)))
        .chain(snapshot.waterings.iter().map(|held| (held.id, held.body.bed)));
    ids.extend(in_beds.filter(|(_, bed)| belongs(snapshot.plot_of_bed(*bed))).map(|(id, _)| id));
    if plot.is_none() {
        ids.extend(snapshot.weather_normals.iter().map(|held| held.id));
        ids.extend(snapshot.weather_tables.iter().map(|held| held.id));
        ids.extend(snapshot.crops.iter().map(|held| held.id));
        ids.extend(snapshot.water_supplies.iter().map(|held| held.id));
    }
    match plot {
        Some(plot) => ids.extend(snapshot.photos_of(plot).map(|held| held.id)),
        None => ids.extend(snapshot.photos.iter().map(|held| held.id)),
    }
    let withdrawn = snapshot.withdrawn.iter().filter(|one| belongs(snapshot.plot_of(&one.record.body)));
    ids.extend(withdrawn.map(|one| one.record.id));
    ids
}

fn gathered(
    ask: &Ask,
    snapshot: &Snapshot,
    book: &Book,
    ids: &BTreeSet<EntryId>,
) -> Result<Vec<Entry>, BookError> {
    let mut all = Vec::new();
    for id in ids {
        all.extend(entries(ask, snapshot, &book.history(*id)?));
    }
    Ok(all)
}

/// The revisions of one record, each with what it changed.
fn entries(ask: &Ask, snapshot: &Snapshot, revisions: &[Revision]) -> Vec<Entry> {
    let units = ask.units();
    let mut before: Option<&Revision> = None;
    let mut entries = Vec::with_capacity(revisions.len());
    for revision in revisions {
        let done = revision.done(before);
        entries.push(Entry {
            id: revision.id,
            kind: revision.kind,
            number: revision.number,
            title: capital(&words::titled(&revision.body)),
            done,
            at: when::moment(revision.recorded_at),
            moment: revision.recorded_at,
            by: revision.recorded_by.clone(),
            reason: revision.reason.clone(),
            says: before.map_or_else(|| words::lines(&revision.body, snapshot, units), |_| Vec::new()),
            changes: before
                .map(|last| words::changes(&last.body, &revision.body, snapshot, units))
                .unwrap_or_default(),
            picture: revision.kind == Kind::Photo,
        });
        before = Some(revision);
    }
    entries
}
