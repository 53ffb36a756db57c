//! What is said on the command line of a bed, and measures that may be left out.

use std::path::PathBuf;

use book::model::{Bed, Body};
use book::{Book, Held, Snapshot};
use clap::Args;
use ground::kit::units::{UnitSystem, field_unit, typed};
use ground::kit::{Bounded, Refusal};
use serde_json::json;

use crate::args::Global;
use crate::near::nearest;
use crate::records;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// A bed of a plot.
#[derive(Debug, Args)]
pub(crate) struct InBed {
    /// The farm book
    pub(crate) book: PathBuf,
    /// Name of the plot
    plot: String,
    /// Name of the bed, or of the equal beds of one record
    bed: String,
}

impl InBed {
    /// The bed of that name in that plot.
    pub(crate) fn find<'a>(&self, snapshot: &'a Snapshot) -> Result<&'a Held<Bed>, Trouble> {
        let plot = shelf::plot(snapshot, &self.plot)?;
        bed(snapshot, plot.id, &self.bed)
    }
}

/// The bed of that name, or of that id, in a plot.
pub(super) fn bed<'a>(
    snapshot: &'a Snapshot,
    plot: book::EntryId,
    name: &str,
) -> Result<&'a Held<Bed>, Trouble> {
    let beds: Vec<&Held<Bed>> = snapshot.beds_of(plot).collect();
    let named = |bed: &&&Held<Bed>| bed.body.name.trim().eq_ignore_ascii_case(name.trim());
    let mut found: Vec<&Held<Bed>> = beds.iter().filter(named).copied().collect();
    if found.is_empty() {
        found = beds.iter().filter(|bed| records::names(bed.id, name)).copied().collect();
    }
    match found[..] {
        [one] => return Ok(one),
        [] => {}
        _ => {
            let refusal =
                Refusal::new("bed", format!("{} beds of this plot are called {name:?}", found.len()));
            return Err(Trouble::from(refusal.given(name).accepted("the id of one of them"))
                .hint("spadework list BOOK bed, which shows the ids"));
        }
    }
    let names: Vec<&str> = beds.iter().map(|bed| bed.body.name.as_str()).collect();
    let refusal = Refusal::new("bed", format!("no bed of this plot is called {name:?}")).given(name);
    Err(match names.first() {
        None => Trouble::from(refusal.accepted("the name of a bed; this plot has none yet"))
            .hint("spadework record bed BOOK PLOT NAME --length 50ft --width 30in, which adds one"),
        Some(first) => {
            let near = nearest(name, names.iter().copied()).unwrap_or(first);
            refusal.accepted(names.join(", ")).example(near).into()
        }
    })
}

/// A measure that may be left out.
pub(super) fn given<Q: Bounded>(
    field: &str,
    text: Option<&str>,
    system: UnitSystem,
) -> Result<Option<Q>, Refusal> {
    text.map(|text| typed::<Q>(field, text, field_unit(Q::UNIT, system))).transpose()
}

/// A measure that is needed.
pub(super) fn needed<Q: Bounded>(field: &str, text: Option<&str>, system: UnitSystem) -> Result<Q, Refusal> {
    given::<Q>(field, text, system)?.ok_or_else(|| {
        Refusal::new(field, format!("the {} is missing", Q::NAME))
            .given("nothing")
            .accepted(format!("{} to {} {}", Q::MIN, Q::MAX, Q::UNIT).trim_end().to_owned())
            .example(format!("{} {}", Q::EXAMPLE, Q::UNIT).trim_end())
    })
}

/// Stores a record and says what it is.
pub(super) fn store(
    book: &mut Book,
    body: impl Into<Body>,
    by: &str,
    global: &Global,
    terminal: &Terminal,
) -> Result<Report, Trouble> {
    let system = global.system_or(book.snapshot()?.farm.body.units);
    let held = book.record_body(body.into(), &shelf::stamp(by)).map_err(|error| in_units(error, system))?;
    let snapshot = book.snapshot()?;
    let bed = held.body.links().bed.and_then(|bed| snapshot.bed(bed));
    let place = bed.map_or_else(String::new, |bed| {
        format!(", {} of {}", bed.body.name, web::words::name_of(&snapshot, bed.body.plot))
    });
    let text = format!(
        "Recorded: {}{place} (record {}).",
        web::words::titled(&held.body),
        records::short(book, held.id)
    );
    Report::new(&json!({ "recorded": held }), wrapped(&text, terminal.width, "  "))
}
