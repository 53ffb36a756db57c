//! Every record of a book, and how one is named on the command line: by its id, by a few characters
//! of it, or by the name of a plot.

use book::model::{Body, EntryId, Kind};
use book::{Book, Revision, Snapshot};
use ground::kit::Refusal;
use serde_json::{Value, json};

use crate::near::nearest;
use crate::trouble::Trouble;

/// Fewer characters than this name no record.
const FEWEST: usize = 4;
/// Characters of an id that are shown, unless more are needed to tell records apart.
const SHOWN: usize = 6;

/// The records of a book, those withdrawn too.
pub(crate) struct Records {
    all: Vec<Revision>,
    shown: usize,
}

impl Records {
    /// Reads them.
    pub(crate) fn of(book: &Book) -> Result<Self, Trouble> {
        let all = book.entries()?;
        let ids: Vec<String> = all.iter().map(|record| digits(record.id)).collect();
        let apart = |length: usize| {
            let mut ends: Vec<&str> = ids.iter().map(|id| &id[id.len() - length..]).collect();
            ends.sort_unstable();
            ends.windows(2).all(|pair| pair[0] != pair[1])
        };
        let shown = (SHOWN..32).find(|length| apart(*length)).unwrap_or(32);
        Ok(Self { all, shown })
    }

    /// All of them, in the order in which they were first written.
    pub(crate) fn iter(&self) -> impl Iterator<Item = &Revision> {
        self.all.iter()
    }

    fn get(&self, id: EntryId) -> Option<&Revision> {
        self.all.iter().find(|record| record.id == id)
    }

    /// The last characters of an id: identities begin with the time, so records of one day begin alike.
    pub(crate) fn short(&self, id: EntryId) -> String {
        let id = digits(id);
        id[id.len() - self.shown..].to_owned()
    }

    /// The plot a record belongs to.
    pub(crate) fn plot_of(&self, record: &Revision) -> Option<EntryId> {
        if record.kind == Kind::Plot {
            return Some(record.id);
        }
        let links = record.body.links();
        let through = || self.plot_of(self.get(links.observation.or(links.bed).or(links.planting)?)?);
        links.plot.or_else(through)
    }

    /// Does it count? A record of a plot, a bed or a planting that was withdrawn does not.
    pub(crate) fn counts(&self, record: &Revision) -> bool {
        let links = record.body.links();
        let planting = links.planting.and_then(|planting| self.get(planting));
        let bed = links.bed.or_else(|| planting?.body.links().bed).and_then(|bed| self.get(bed));
        !record.withdrawn
            && planting.is_none_or(|planting| !planting.withdrawn)
            && bed.is_none_or(|bed| !bed.withdrawn)
            && self.plot_of(record).and_then(|plot| self.get(plot)).is_none_or(|plot| !plot.withdrawn)
    }

    /// The record of that plot's name, of "farm", or whose id has these characters.
    pub(crate) fn find(&self, text: &str) -> Result<&Revision, Trouble> {
        if let Some(plot) = self.plot_named(text) {
            return Ok(plot);
        }
        if text.trim().eq_ignore_ascii_case("farm")
            && let Some(farm) = self.all.iter().find(|record| record.kind == Kind::Farm)
        {
            return Ok(farm);
        }
        let mut found: Vec<&Revision> = self.all.iter().filter(|record| names(record.id, text)).collect();
        // What is shown of an id names it, wherever else it may stand.
        let shown = |record: &&Revision| self.short(record.id).eq_ignore_ascii_case(text.trim());
        if let Some(at) = found.iter().position(shown) {
            found = vec![found[at]];
        }
        match found.as_slice() {
            [one] => Ok(one),
            [] => Err(self.unknown(text)),
            several => {
                let ids: Vec<String> = several.iter().map(|record| self.short(record.id)).collect();
                Err(Refusal::new("record", format!("{} records have ids with {text:?}", several.len()))
                    .given(text)
                    .accepted(format!("more characters of the id: {}", ids.join(", ")))
                    .example(&ids[0])
                    .into())
            }
        }
    }

    /// One that counts goes before one of the same name that was withdrawn.
    pub(crate) fn plot_named(&self, text: &str) -> Option<&Revision> {
        let wanted = text.trim().to_lowercase();
        let named = |record: &&Revision| matches!(&record.body, Body::Plot(plot) if plot.name.trim().to_lowercase() == wanted);
        let mut plots: Vec<&Revision> = self.all.iter().filter(named).collect();
        plots.sort_by_key(|record| record.withdrawn);
        plots.first().copied()
    }

    fn unknown(&self, text: &str) -> Trouble {
        let plots = self.all.iter().filter_map(|record| match &record.body {
            Body::Plot(plot) => Some(plot.name.as_str()),
            _ => None,
        });
        let mut refusal =
            Refusal::new("record", format!("no record or plot of this book is called {text:?}"))
                .given(text)
                .accepted(format!("{FEWEST} or more characters of a record's id, or a plot's name"));
        if let Some(near) = nearest(text, plots) {
            refusal = refusal.example(near);
        } else if let Some(last) = self.all.last() {
            refusal = refusal.example(self.short(last.id));
        }
        Trouble::from(refusal).hint("spadework list BOOK, which shows every record with its id")
    }

    /// A record in one line for a program.
    pub(crate) fn json(&self, record: &Revision, snapshot: &Snapshot) -> Value {
        let plot = self.plot_of(record);
        json!({
            "id": record.id, "short_id": self.short(record.id), "kind": record.kind,
            "title": web::words::titled(&record.body), "plot_id": plot,
            "plot": plot.map(|plot| web::words::name_of(snapshot, plot)),
            "number": record.number, "recorded_at": record.recorded_at.to_string(),
            "recorded_by": record.recorded_by, "counts": self.counts(record), "withdrawn": record.withdrawn,
        })
    }

    /// What a record is called in a sentence, with its plot and its id.
    pub(crate) fn called(&self, record: &Revision, snapshot: &Snapshot) -> String {
        let plot = match self.plot_of(record).filter(|plot| *plot != record.id) {
            Some(plot) => format!(", {}", name_of_plot(snapshot, plot)),
            None => String::new(),
        };
        format!("{}{plot} ({})", web::words::titled(&record.body), self.short(record.id))
    }
}

/// The name of a plot, withdrawn or not.
pub(crate) fn name_of_plot(snapshot: &Snapshot, plot: EntryId) -> String {
    let withdrawn = snapshot.withdrawn.iter().find(|one| one.record.id == plot);
    match withdrawn.map(|one| &one.record.body) {
        Some(Body::Plot(plot)) => plot.name.clone(),
        _ => web::words::name_of(snapshot, plot),
    }
}

/// Is this text a part of that id, long enough to name it?
pub(crate) fn names(id: EntryId, text: &str) -> bool {
    let wanted = text.trim().replace('-', "").to_lowercase();
    let id = digits(id);
    wanted.len() >= FEWEST && id.contains(&wanted)
}

/// An id without its dashes.
fn digits(id: EntryId) -> String {
    id.to_string().replace('-', "")
}

/// The id of a record just written, as people are shown it.
pub(crate) fn short(book: &Book, id: EntryId) -> String {
    Records::of(book).map_or_else(|_| id.to_string(), |records| records.short(id))
}
