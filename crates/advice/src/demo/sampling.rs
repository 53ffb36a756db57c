//! A sampling plan that waits to be walked. Its points are chance's, from a seed; the plot is invented.

use book::model::SamplingPurpose;
use book::{Book, Result, Stamp};
use ground::kit::Refusal;
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::sampling_plan::{SamplingAsk, sampling_report};

/// Plot that is to be sampled.
const PLOT: &str = "Lower clay";

/// Lays it out and keeps it. Where the plot is drawn by then, its points have their place on the plan.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    let made_on = today.saturating_sub(2.days());
    let snapshot = book.snapshot()?;
    let plot = snapshot
        .plot_named(PLOT)
        .ok_or_else(|| Refusal::new("name", format!("the demonstration has no plot called {PLOT}")))?;
    let ask = SamplingAsk { bags: Some(2), seed: 7, ..SamplingAsk::usual(SamplingPurpose::Fertility) };
    let report = sampling_report(&snapshot, plot, &ask, made_on)?;
    let plan = report.plan(&snapshot, Some("Lower clay, two bags".to_owned()), 0, made_on)?;
    let at = TimeZone::UTC
        .to_timestamp(made_on.at(18, 30, 0, 0))
        .map_err(|error| Refusal::new("made_on", format!("{made_on} cannot be put on a clock: {error}")))?;
    book.record(plan, &Stamp::new(at, "Mab"))?;
    Ok(())
}
