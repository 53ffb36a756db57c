//! When a plot was last sampled for a purpose, and when it is due again: by the same intervals as looking again.

use book::model::{Plot, SamplingPurpose};
use book::{Held, Snapshot};
use jiff::ToSpan;
use jiff::civil::Date;

use crate::again::Property;
use crate::again::gather::{Wanted, gather};
use crate::again::next::months;

/// The last time and the next.
pub(super) struct Last {
    pub(super) last_on: Option<Date>,
    pub(super) due_on: Option<Date>,
}

/// Readings that answer a purpose.
fn answers(purpose: SamplingPurpose) -> &'static [Property] {
    use Property as P;
    match purpose {
        SamplingPurpose::Fertility => &[P::PhWater, P::PhSalt, P::Phosphorus, P::Potassium, P::Magnesium],
        SamplingPurpose::Nitrate => &[P::Nitrate],
        SamplingPurpose::Texture => &[P::Sand, P::Clay],
        SamplingPurpose::OrganicMatter => &[P::OrganicMatter],
        SamplingPurpose::Salts => &[P::Salts],
        SamplingPurpose::Structure => &[P::Stopped, P::PanTop, P::Density],
    }
}

pub(super) fn last(snapshot: &Snapshot, plot: &Held<Plot>, purpose: SamplingPurpose, today: Date) -> Last {
    let answers = answers(purpose);
    let last_on = gather(snapshot, plot.id, Wanted::All(today))
        .into_iter()
        .filter(|((property, _), _)| answers.contains(property))
        .filter_map(|(_, readings)| readings.last().map(|reading| reading.on))
        .max();
    let every = answers.iter().filter_map(|property| months(*property, plot.body.place)).min();
    let due_on = last_on.zip(every).map(|(last, months)| last.saturating_add(months.months()));
    Last { last_on, due_on }
}
