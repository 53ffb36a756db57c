//! Printouts of one round of sampling, taken together: a plot is told by the mean of its bags and not by one of them.

use std::borrow::Cow;

use book::model::{EntryId, Observation};
use book::{Held, Snapshot};
use ground::fertility::analysis::report::{Amount, LabFigure, LabReport};
use ground::kit::Bounded;

/// What a figure below what can be told counts for in a mean: half of it (common practice, no source).
const OF_LEAST: f64 = 0.5;

/// What one laboratory found on one day in one layer of a plot: a printout, or the means of several bags.
#[derive(Debug, Clone)]
pub struct Round<'a> {
    /// The printout that was written last.
    pub held: &'a Held<Observation>,
    /// Its figures; of several bags their means. What the laboratory recommends stands where all of them say the same.
    pub report: Cow<'a, LabReport>,
    /// Bags.
    pub bags: usize,
}

impl Round<'_> {
    /// ", mean of 36 bags"; nothing of one.
    #[must_use]
    pub fn of_bags(&self) -> String {
        if self.bags > 1 { format!(", mean of {} bags", self.bags) } else { String::new() }
    }
}

/// A printout and the record it stands in.
type Printout<'a> = (&'a Held<Observation>, &'a LabReport);

/// The rounds of a plot, earliest first; of one day the one written last stands last.
#[must_use]
pub fn lab_rounds(snapshot: &Snapshot, plot: EntryId) -> Vec<Round<'_>> {
    let mut groups: Vec<(usize, Vec<Printout<'_>>)> = Vec::new();
    for (at, (held, report)) in snapshot.lab_reports_on(plot).enumerate() {
        let group = groups.iter_mut().find(|(_, group)| {
            let (other, printed) = group[0];
            // A report of no bag speaks of the plot by itself: a later one takes its place.
            layer(snapshot, held).is_some()
                && other.body.seen_on == held.body.seen_on
                && printed.laboratory.trim().eq_ignore_ascii_case(report.laboratory.trim())
                && printed.basis_depth_cm == report.basis_depth_cm
                && layer(snapshot, other) == layer(snapshot, held)
        });
        match group {
            Some((last, group)) => {
                group.push((held, report));
                *last = at;
            }
            None => groups.push((at, vec![(held, report)])),
        }
    }
    groups.sort_by_key(|(last, _)| *last);
    groups.iter().filter_map(|(_, group)| round(group)).collect()
}

fn layer(snapshot: &Snapshot, held: &Held<Observation>) -> Option<[f64; 2]> {
    let sample = &snapshot.sample(held.body.sample?)?.body;
    Some([sample.from_cm.get(), sample.to_cm.get()])
}

fn round<'a>(group: &[Printout<'a>]) -> Option<Round<'a>> {
    let (held, last) = *group.last()?;
    if group.len() == 1 {
        return Some(Round { held, report: Cow::Borrowed(last), bags: 1 });
    }
    let mut bags: Vec<EntryId> = group.iter().filter_map(|(held, _)| held.body.sample).collect();
    bags.sort_unstable();
    bags.dedup();
    let mut figures: Vec<LabFigure> = Vec::new();
    for figure in group.iter().flat_map(|(_, report)| &report.figures) {
        if !figures.iter().any(|known| alike(known, figure)) {
            figures.push(*figure);
        }
    }
    for figure in &mut figures {
        let of = |report: &LabReport| report.figures.iter().find(|one| alike(one, figure)).copied();
        let amounts: Vec<Amount> =
            group.iter().filter_map(|(_, report)| of(report)).map(|one| one.amount).collect();
        figure.amount = mean(&amounts);
    }
    let mut report = last.clone();
    report.figures = figures;
    if group.iter().any(|(_, other)| other.recommended != last.recommended) {
        report.recommended = Vec::new();
    }
    Some(Round { held, report: Cow::Owned(report), bags: bags.len() })
}

fn alike(one: &LabFigure, other: &LabFigure) -> bool {
    (one.analyte, one.procedure, one.unit) == (other.analyte, other.procedure, other.unit)
}

/// The mean of several bags, with a digit more than they were printed with. Where most could not be told the limit stands.
#[expect(clippy::cast_precision_loss, reason = "a few bags")]
fn mean(amounts: &[Amount]) -> Amount {
    let count = |is: fn(&Amount) -> bool| amounts.iter().filter(|amount| is(amount)).count();
    let limit = |all: &[Amount]| all.iter().map(|amount| amount.printed()).fold(0.0, f64::max);
    if 2 * count(|amount| matches!(amount, Amount::Below(_))) > amounts.len() {
        return Amount::Below(limit(amounts));
    }
    if 2 * count(|amount| matches!(amount, Amount::Above(_))) > amounts.len() {
        return Amount::Above(limit(amounts));
    }
    let value = |amount: &Amount| match amount {
        Amount::Below(least) => OF_LEAST * least,
        Amount::Exactly(value) | Amount::Above(value) => *value,
    };
    let mean = amounts.iter().map(value).sum::<f64>() / amounts.len().max(1) as f64;
    let digits = amounts.iter().map(|amount| decimals(amount.printed())).max().unwrap_or(0);
    if amounts.len() < 2 {
        return amounts.first().copied().unwrap_or(Amount::Exactly(mean));
    }
    let scale = libm::pow(10.0, f64::from(digits + 1));
    Amount::Exactly((mean * scale).round() / scale)
}

/// Digits behind the point of a figure as it is printed.
pub(crate) fn decimals(value: f64) -> u8 {
    let text = ground::kit::quantity::number(value);
    let after = text.split_once('.').map_or(0, |(_, after)| after.len());
    u8::try_from(after).unwrap_or(u8::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: (5.9 + 6.4 + 6.6) / 3 = 6.3; (2 + 8 + 9) / 3 with the first below 4.
    #[test]
    fn bags_are_told_by_their_mean() {
        let exact = |values: &[f64]| mean(&values.iter().copied().map(Amount::Exactly).collect::<Vec<_>>());
        assert_eq!(exact(&[5.9, 6.4, 6.6]), Amount::Exactly(6.3));
        assert_eq!(exact(&[5.9, 6.4]), Amount::Exactly(6.15));
        assert_eq!(exact(&[23.0]), Amount::Exactly(23.0));
        let some = [Amount::Below(4.0), Amount::Exactly(8.0), Amount::Exactly(9.0)];
        assert_eq!(mean(&some), Amount::Exactly(6.3));
        let most = [Amount::Below(4.0), Amount::Below(2.0), Amount::Exactly(9.0)];
        assert_eq!(mean(&most), Amount::Below(9.0));
    }
}
