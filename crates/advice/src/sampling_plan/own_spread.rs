//! How much the farm's own results of one plot differ, where there are enough of one year.

use std::collections::BTreeMap;

use book::Snapshot;
use book::model::{EntryId, Seen};
use ground::fertility::analysis::report::{Amount, Analyte};
use ground::kit::Bounded;
use ground::spatial::sampling::variation::Property;

use crate::sampling;

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

/// Results that compare: one year, layer and way of finding them, and points bagged apart or cores mixed over the plot.
type Alike = (i16, String, [i64; 2], bool);

/// What each bag says, and the cores that it differs less for.
struct Bag {
    value: f64,
    cores: f64,
    laboratory: f64,
}

/// The spread between single cores from the latest year with four bags or more of one layer of the plot, found one way.
pub(super) fn own_spread(snapshot: &Snapshot, plot: EntryId, property: Property) -> Option<Own> {
    let mut alike: BTreeMap<Alike, Vec<Bag>> = BTreeMap::new();
    for held in snapshot.evidence(plot) {
        let Some((value, how)) = value(&held.body.seen, property) else { continue };
        let Some(sample) = held.body.sample.and_then(|id| snapshot.sample(id)) else { continue };
        let sample = &sample.body;
        // A bag of one place differs from the next as places do, however many cores were mixed about it. A bag of cores
        // from all over differs less than its cores: by the root of their number, as far as cores are independent.
        let apart = sample.spot.is_some();
        let cores = if apart { 1.0 } else { f64::from(sample.cores.unwrap_or(0)) };
        if cores < 1.0 {
            continue;
        }
        let layer = [sample.from_cm.get(), sample.to_cm.get()].map(in_mm);
        let laboratory = sampling::laboratory_error(property, value);
        alike.entry((sample.taken_on.year(), how, layer, apart)).or_default().push(Bag {
            value,
            cores,
            laboratory,
        });
    }
    let ((year, ..), bags) = alike
        .into_iter()
        .filter(|(_, bags)| bags.len() >= LEAST)
        .max_by_key(|((year, ..), bags)| (*year, bags.len()))?;
    let n = count(&bags);
    let mean = bags.iter().map(|bag| bag.value).sum::<f64>() / n;
    let cores = bags.iter().map(|bag| bag.cores).sum::<f64>() / n;
    let all = bags.iter().map(|bag| (bag.value - mean) * (bag.value - mean)).sum::<f64>() / (n - 1.0);
    // The laboratory strays alike however many cores are in the bag, so its part goes before cores are counted.
    let between = all - bags.iter().map(|bag| bag.laboratory * bag.laboratory).sum::<f64>() / n;
    if mean <= 0.0 || between <= 0.0 {
        return None;
    }
    let cv = 100.0 * (between * cores).sqrt() / mean;
    // 80 % range of a standard deviation, by its own standard error s / √(2 (n − 1)).
    let reach = (1.2816 / (2.0 * (n - 1.0)).sqrt()).min(0.9);
    Some(Own {
        results: bags.len(),
        year,
        cv_percent: cv,
        low_percent: cv * (1.0 - reach),
        high_percent: cv * (1.0 + reach),
    })
}

#[expect(clippy::cast_precision_loss, reason = "results by the dozen")]
fn count(bags: &[Bag]) -> f64 {
    bags.len() as f64
}

#[expect(clippy::cast_possible_truncation, reason = "a few metres at most")]
fn in_mm(cm: f64) -> i64 {
    (10.0 * cm).round() as i64
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
                Amount::Exactly(value) => {
                    let how = format!("{} {:?} {:?}", report.laboratory, figure.procedure, figure.unit);
                    Some((value, how))
                }
                Amount::Below(_) | Amount::Above(_) => None,
            }
        }
        Seen::OrganicMatter(organic) if property == Property::OrganicMatter => {
            Some((organic.percent.get(), format!("{:?}", organic.method)))
        }
        _ => None,
    }
}
