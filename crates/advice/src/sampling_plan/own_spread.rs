//! How much the farm's own results of one plot differ, where there are enough of one year.

use std::collections::BTreeMap;

use book::Snapshot;
use book::model::{EntryId, Seen};
use ground::fertility::analysis::report::{Amount, Analyte};
use ground::spatial::sampling::variation::Property;

/// Fewer results of one year and procedure tell nothing of a spread.
const LEAST: usize = 4;

/// The spread of the farm's own results.
pub(super) struct Own {
    pub(super) results: usize,
    pub(super) year: i16,
    pub(super) cv_percent: f64,
    pub(super) low_percent: f64,
    pub(super) high_percent: f64,
}

/// The spread between single cores from the latest year with four bags or more of the plot, by one procedure.
pub(super) fn own_spread(snapshot: &Snapshot, plot: EntryId, property: Property) -> Option<Own> {
    let mut years: BTreeMap<(i16, String), Vec<(f64, f64)>> = BTreeMap::new();
    for held in snapshot.evidence(plot) {
        let Some((value, how)) = value(&held.body.seen, property) else { continue };
        // A bag of cores differs less than its cores do: by the root of their number, as far as cores are independent.
        let cores = held.body.sample.and_then(|id| snapshot.sample(id)).and_then(|sample| sample.body.cores);
        let cores = f64::from(cores.unwrap_or(1).max(1));
        years.entry((held.body.seen_on.year(), how)).or_default().push((value, cores));
    }
    let ((year, _), values) = years.into_iter().rev().find(|(_, values)| values.len() >= LEAST)?;
    #[expect(clippy::cast_precision_loss, reason = "results by the dozen")]
    let n = values.len() as f64;
    let mean = values.iter().map(|one| one.0).sum::<f64>() / n;
    let cores = values.iter().map(|one| one.1).sum::<f64>() / n;
    let variance = values.iter().map(|one| (one.0 - mean) * (one.0 - mean)).sum::<f64>() / (n - 1.0);
    if mean <= 0.0 || variance <= 0.0 {
        return None;
    }
    let cv = 100.0 * (variance * cores).sqrt() / mean;
    // 80 % range of a standard deviation, by its own standard error s / √(2 (n − 1)).
    let reach = (1.2816 / (2.0 * (n - 1.0)).sqrt()).min(0.9);
    Some(Own {
        results: values.len(),
        year,
        cv_percent: cv,
        low_percent: cv * (1.0 - reach),
        high_percent: cv * (1.0 + reach),
    })
}

/// The value and how it was found, so that only like is put with like.
fn value(seen: &Seen, property: Property) -> Option<(f64, String)> {
    let analyte = match property {
        Property::Ph => Analyte::PhWater,
        Property::Phosphorus => Analyte::Phosphorus,
        Property::Potassium => Analyte::Potassium,
        Property::OrganicMatter => Analyte::OrganicMatter,
        Property::Nitrate => Analyte::NitrateN,
        Property::Salts => Analyte::Ec,
        _ => return None,
    };
    match seen {
        Seen::LabReport(report) => {
            let figure = report.first(analyte)?;
            match figure.amount {
                Amount::Exactly(value) => Some((value, format!("{:?} {:?}", figure.procedure, figure.unit))),
                Amount::Below(_) | Amount::Above(_) => None,
            }
        }
        Seen::OrganicMatter(organic) if property == Property::OrganicMatter => {
            Some((ground::kit::Bounded::get(organic.percent), format!("{:?}", organic.method)))
        }
        _ => None,
    }
}
