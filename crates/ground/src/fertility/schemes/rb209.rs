//! The United Kingdom's table of vegetable rates: each nutrient by its own index.

use std::sync::LazyLock;

use serde::Deserialize;

use super::class::ClassFound;
use super::potato;
use super::rates::{CropRates, Missing, Nutrient, RateQuestion, RateRange, SchemeCrop, no_class};
use super::scheme::Scheme;
use crate::kit::Provenance;
use crate::kit::table::rows as read_table;

#[derive(Deserialize)]
struct Row {
    key: String,
    title: String,
    at: String,
    n: String,
    n_top_dressing: String,
    n_more_low: f64,
    n_more_high: f64,
    p2o5: String,
    k2o: String,
    mgo: String,
    timing: String,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_table("rb209_crops.csv", include_str!("data/rb209_crops.csv")));

/// The figures of a cell, in the order of the index.
fn figures(cell: &str) -> Vec<f64> {
    cell.split(';').filter_map(|part| part.parse().ok()).collect()
}

/// The figure at an index; the last one counts for all beyond.
fn at(cell: &str, place: usize) -> Option<f64> {
    let all = figures(cell);
    all.get(place).or(all.last()).copied()
}

/// Place of an index in a row. Potassium's index 2 is split in two, so that later ones move up by one.
fn place(class: &str, split: bool) -> Option<usize> {
    match class {
        "2-" => Some(2),
        "2+" => Some(3),
        whole => whole.parse().ok().map(|index: usize| if split && index > 2 { index + 1 } else { index }),
    }
}

pub(super) fn crops() -> Vec<SchemeCrop> {
    ROWS.iter().map(|row| SchemeCrop { key: row.key.clone(), title: row.title.clone() }).collect()
}

fn exact(kg_ha: f64, class: String, row: &Row) -> RateRange {
    RateRange {
        low_kg_ha: kg_ha,
        target_kg_ha: kg_ha,
        high_kg_ha: kg_ha,
        class,
        source: source(row).to_owned(),
        at: row.at.clone(),
        provenance: Provenance::Read,
    }
}

fn source(row: &Row) -> &'static str {
    if row.key == "potato" { "Rb209Potatoes" } else { "Rb209Vegetables" }
}

pub(super) fn rates(question: &RateQuestion) -> Option<CropRates> {
    let row = ROWS.iter().find(|row| row.key == question.crop)?;
    let mut missing = Vec::new();
    let n = nitrogen(row, question, &mut missing);
    let mut by_class = |nutrient, cell: &str, class: Option<&ClassFound>, split| {
        let rate = class.and_then(|found| {
            place(&found.class, split)
                .and_then(|place| at(cell, place))
                .map(|kg_ha| exact(kg_ha, found.class.clone(), row))
        });
        if rate.is_none() {
            missing.push(no_class(nutrient));
        }
        rate
    };
    let p2o5 = by_class(Nutrient::P2o5, &row.p2o5, question.phosphorus, false);
    let k2o = by_class(Nutrient::K2o, &row.k2o, question.potassium, true)
        .map(|rate| potash_for_yield(row, rate, question));
    let mgo = by_class(Nutrient::Mgo, &row.mgo, question.magnesium, false);
    Some(CropRates {
        scheme: Scheme::Rb209,
        crop: row.key.clone(),
        title: row.title.clone(),
        n,
        p2o5,
        k2o,
        mgo,
        b: None,
        timing: row.timing.clone(),
        missing,
    })
}

fn nitrogen(row: &Row, question: &RateQuestion, missing: &mut Vec<Missing>) -> Option<RateRange> {
    let Some(index) = question.sns_index else {
        missing.push(no_class(Nutrient::N));
        return None;
    };
    let class = format!("supply index {index}");
    if row.key == "potato" {
        let Some((days, group)) = question.potato else {
            missing.push(Missing {
                nutrient: Nutrient::N,
                why: "potatoes need the length of their season and their variety group".to_owned(),
            });
            return None;
        };
        let Some((low, high)) = potato::nitrogen(days, group, index) else {
            missing.push(Missing {
                nutrient: Nutrient::N,
                why: format!("the table has no figure for variety group {group} in a season of {days} days"),
            });
            return None;
        };
        return Some(RateRange {
            low_kg_ha: low,
            target_kg_ha: f64::midpoint(low, high),
            high_kg_ha: high,
            at: "Section 5, T5.10".to_owned(),
            ..exact(low, class, row)
        });
    }
    let Some(base) = at(&row.n, usize::from(index)) else {
        missing.push(Missing { nutrient: Nutrient::N, why: row.timing.clone() });
        return None;
    };
    let base = base + at(&row.n_top_dressing, usize::from(index)).unwrap_or(0.0);
    let (low, high) = (base + row.n_more_low, base + row.n_more_high);
    Some(RateRange {
        low_kg_ha: low,
        target_kg_ha: f64::midpoint(low, high),
        high_kg_ha: high,
        ..exact(low, class, row)
    })
}

/// Potatoes take 5.8 kg K2O more for each tonne above 50 t/ha (less below) at index 0 to 2; head cabbage
/// 40 kg more for each ten tonnes above 40 t/ha.
fn potash_for_yield(row: &Row, rate: RateRange, question: &RateQuestion) -> RateRange {
    let Some(yield_t_ha) = question.yield_t_ha else { return rate };
    let below_3 = matches!(rate.class.as_str(), "0" | "1" | "2-" | "2+");
    if row.key == "potato" && below_3 {
        return rate.plus(5.8 * (yield_t_ha - 50.0));
    }
    if row.key.starts_with("cabbage") && rate.target_kg_ha > 0.0 && yield_t_ha > 40.0 {
        return rate.plus(4.0 * (yield_t_ha - 40.0));
    }
    rate
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_whole_and_falls_as_the_index_rises() {
        for row in ROWS.iter() {
            for (cell, length) in [(&row.p2o5, 7), (&row.k2o, 8), (&row.mgo, 7)] {
                let figures = figures(cell);
                assert_eq!(figures.len(), length, "{}", row.key);
                assert!(figures.windows(2).all(|pair| pair[0] >= pair[1]), "{} {cell}", row.key);
            }
            if !row.n.is_empty() {
                let n = figures(&row.n);
                assert_eq!(n.len(), 7, "{}", row.key);
                assert!(n.windows(2).all(|pair| pair[0] >= pair[1]), "{}", row.key);
            }
            assert!(!row.timing.is_empty() && !row.title.is_empty(), "{}", row.key);
        }
    }
}
