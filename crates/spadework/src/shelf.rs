//! Farm books, plots and samples as they are named on the command line.

use std::collections::BTreeSet;
use std::path::Path;

use book::model::{Body, EntryId, Plot, Sample, SamplingPlan};
use book::{Book, BookError, Held, Snapshot, Stamp, Withdrawn};
use clap::Args;
use ground::kit::Refusal;
use jiff::civil::Date;
use jiff::{Timestamp, ZonedDateTime};

use crate::near::nearest;
use crate::records;
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
    /// The day, which has come already.
    pub(crate) fn day(&self) -> Result<Date, Refusal> {
        let today = ZonedDateTime::now().date();
        let Some(text) = self.on.as_deref() else { return Ok(today) };
        let seen = day("on", text)?;
        if seen > today {
            return Err(Refusal::new("on", format!("{seen} has not come yet"))
                .given(text)
                .accepted("the day it was seen, today at the latest")
                .example(today));
        }
        Ok(seen)
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

/// The plot of that name, or of that id.
pub(crate) fn plot<'a>(snapshot: &'a Snapshot, name: &str) -> Result<&'a Held<Plot>, Trouble> {
    if let Some(plot) = snapshot.plot_named(name) {
        return Ok(plot);
    }
    let mut by_id = snapshot.plots_and_parted().filter(|plot| records::names(plot.id, name));
    if let (Some(plot), None) = (by_id.next(), by_id.next()) {
        return Ok(plot);
    }
    let gone = |one: &&Withdrawn| matches!(&one.record.body, Body::Plot(plot) if plot.name.trim().eq_ignore_ascii_case(name.trim()));
    if let Some(gone) = snapshot.withdrawn.iter().find(gone) {
        let refusal = Refusal::new("plot", format!("the plot {name:?} was withdrawn"));
        return Err(Trouble::from(refusal.given(name).accepted("a plot that counts"))
            .hint(format!("spadework restore BOOK {}, which brings it back", gone.record.id)));
    }
    let names: Vec<&str> = snapshot.plots.iter().map(|plot| plot.body.name.as_str()).collect();
    let message = if name.trim().is_empty() {
        "the name of the plot is empty".to_owned()
    } else {
        format!("no plot is called {name:?}")
    };
    let refusal = Refusal::new("plot", message).given(name);
    Err(match names.first() {
        None => Trouble::from(refusal.accepted("the name of a plot; this book has none yet"))
            .hint("spadework record plot BOOK NAME --area 4000sqft, which adds one"),
        Some(first) => {
            let near = nearest(name, names.iter().copied()).unwrap_or(first);
            refusal.accepted(names.join(", ")).example(near).into()
        }
    })
}

/// The sample with that label on its bag, or of that id, from that plot.
pub(crate) fn sample<'a>(
    snapshot: &'a Snapshot,
    plot: EntryId,
    label: &str,
) -> Result<&'a Held<Sample>, Trouble> {
    let samples: Vec<&Held<Sample>> = snapshot.samples_of(plot).collect();
    let wanted = label.trim();
    // A sample without a label is not what an empty label means.
    let labelled = |sample: &&Held<Sample>| {
        !wanted.is_empty() && sample.body.bag_label.trim().eq_ignore_ascii_case(wanted)
    };
    if let Some(sample) = samples.iter().copied().find(labelled) {
        return Ok(sample);
    }
    let mut by_id = samples.iter().copied().filter(|sample| records::names(sample.id, label));
    if let (Some(sample), None) = (by_id.next(), by_id.next()) {
        return Ok(sample);
    }
    let refusal =
        Refusal::new("sample", format!("no sample of this plot has {label:?} on its bag")).given(label);
    let labels: Vec<&str> = samples
        .iter()
        .map(|sample| sample.body.bag_label.as_str())
        .filter(|label| !label.is_empty())
        .collect::<BTreeSet<_>>()
        .into_iter()
        .collect();
    Err(match labels.first() {
        None if samples.is_empty() => Trouble::from(refusal.accepted("this plot has no samples yet"))
            .hint("spadework record sample BOOK PLOT --to 8in --label LF-1, which adds one"),
        None => Trouble::from(refusal.accepted("the id of a sample; no bag of this plot has a label"))
            .hint("spadework list BOOK sample"),
        Some(first) => {
            let near = nearest(label, labels.iter().copied()).unwrap_or(first);
            refusal.accepted(labels.join(", ")).example(near).into()
        }
    })
}

/// The sampling plan of that name or id, or the last one made on the plot of that name.
pub(crate) fn sampling_plan<'a>(
    snapshot: &'a Snapshot,
    name: &str,
) -> Result<&'a Held<SamplingPlan>, Trouble> {
    let plans = &snapshot.sampling_plans;
    let wanted = name.trim();
    // Of two of one name, or on one plot, the one made last.
    let last = |is: &dyn Fn(&Held<SamplingPlan>) -> bool| {
        plans.iter().filter(|plan| is(plan)).max_by_key(|plan| (plan.body.made_on, plan.id))
    };
    if let Some(plan) = last(&|plan| !wanted.is_empty() && plan.body.name.trim().eq_ignore_ascii_case(wanted))
    {
        return Ok(plan);
    }
    let mut by_id = plans.iter().filter(|plan| records::names(plan.id, name));
    if let (Some(plan), None) = (by_id.next(), by_id.next()) {
        return Ok(plan);
    }
    if let Some(plot) = snapshot.plot_named(name)
        && let Some(plan) = last(&|plan| plan.body.plot == plot.id)
    {
        return Ok(plan);
    }
    let refusal = Refusal::new("plan", format!("no sampling plan has the name or id {name:?}")).given(name);
    let names: Vec<&str> = plans.iter().map(|plan| plan.body.name.as_str()).collect();
    Err(match names.first() {
        None => Trouble::from(refusal.accepted("a sampling plan; this book has none yet"))
            .hint("spadework record sampling BOOK PLOT, which makes one"),
        Some(first) => {
            let near = nearest(name, names.iter().copied()).unwrap_or(first);
            refusal.accepted(names.join(", ")).example(near).into()
        }
    })
}
