//! Farm books, plots and samples as they are named on the command line.

use std::path::Path;

use book::model::{EntryId, Plot, Sample};
use book::{Book, BookError, Held, Snapshot, Stamp};
use clap::Args;
use ground::kit::Refusal;
use jiff::civil::Date;
use jiff::{Timestamp, ZonedDateTime};

use crate::trouble::Trouble;

/// Who records, and when it was seen.
#[derive(Debug, Args)]
pub(crate) struct Witnessed {
    /// Day it was seen, such as 2026-04-12; today where nothing is said
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// Who saw it
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    pub(crate) by: String,
    /// Anything else, doubts above all
    #[arg(long, default_value = "")]
    pub(crate) note: String,
}

impl Witnessed {
    /// The day.
    pub(crate) fn day(&self) -> Result<Date, Refusal> {
        self.on.as_deref().map_or_else(|| Ok(ZonedDateTime::now().date()), |text| day("on", text))
    }

    /// Now, and who records.
    pub(crate) fn stamp(&self) -> Stamp {
        stamp(&self.by)
    }
}

/// Now, and who records.
pub(crate) fn stamp(by: &str) -> Stamp {
    Stamp::new(Timestamp::now(), by)
}

/// A calendar day.
pub(crate) fn day(field: &str, text: &str) -> Result<Date, Refusal> {
    text.trim().parse().map_err(|_| {
        Refusal::new(field, format!("{text:?} is not a day of the calendar"))
            .given(text)
            .accepted("a date written as year-month-day")
            .example("2026-04-12")
    })
}

/// Opens a book for writing.
pub(crate) fn open(path: &Path) -> Result<Book, Trouble> {
    Book::open(path).map_err(|error| explained(error, path))
}

/// Opens a book for reading; one of an older version is brought up to date, where that can be done.
pub(crate) fn read(path: &Path) -> Result<Book, Trouble> {
    match Book::open_read_only(path) {
        Err(BookError::Older { .. }) => open(path),
        other => other.map_err(|error| explained(error, path)),
    }
}

fn explained(error: BookError, path: &Path) -> Trouble {
    let missing = matches!(error, BookError::Missing { .. });
    let trouble = Trouble::from(error);
    if missing {
        trouble
            .hint(format!("spadework new {} --name \"Long Furrow\" makes a new book there", path.display()))
    } else {
        trouble
    }
}

/// The plot of that name.
pub(crate) fn plot<'a>(snapshot: &'a Snapshot, name: &str) -> Result<&'a Held<Plot>, Trouble> {
    let by_id = || name.parse::<EntryId>().ok().and_then(|id| snapshot.plot(id));
    snapshot.plot_named(name).or_else(by_id).ok_or_else(|| {
        let names: Vec<&str> = snapshot.plots.iter().map(|plot| plot.body.name.as_str()).collect();
        let refusal = Refusal::new("plot", format!("no plot is called {name:?}")).given(name);
        if names.is_empty() {
            Trouble::from(refusal.accepted("the name of a plot; this book has none yet"))
                .hint("spadework record plot BOOK NAME adds one")
        } else {
            Trouble::from(refusal.accepted(names.join(", ")).example(names[0]))
        }
    })
}

/// The sample with that label on its bag, from that plot.
pub(crate) fn sample<'a>(
    snapshot: &'a Snapshot,
    plot: EntryId,
    label: &str,
) -> Result<&'a Held<Sample>, Trouble> {
    let matches = |sample: &&Held<Sample>| {
        sample.body.bag_label.trim().eq_ignore_ascii_case(label.trim()) || sample.id.to_string() == label
    };
    snapshot.samples_of(plot).find(matches).ok_or_else(|| {
        let labels: Vec<&str> =
            snapshot.samples_of(plot).map(|sample| sample.body.bag_label.as_str()).collect();
        Refusal::new("sample", format!("no sample of this plot has {label:?} on its bag"))
            .given(label)
            .accepted(if labels.is_empty() {
                "this plot has no samples yet".to_owned()
            } else {
                labels.join(", ")
            })
            .into()
    })
}
