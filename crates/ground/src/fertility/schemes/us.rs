//! Rates of United States schemes, pounds an acre, as far as each was read.

use std::sync::LazyLock;

use serde::Deserialize;

use super::class::ClassFound;
use super::rates::{CropRates, Missing, Nutrient, RateQuestion, RateRange, SchemeCrop, no_class};
use super::scheme::Scheme;
use super::unit::KG_HA;
use crate::kit::Provenance;
use crate::kit::table::rows as read_table;

#[derive(Deserialize)]
struct Row {
    scheme: Scheme,
    crop: String,
    nutrient: Nutrient,
    class: String,
    low: f64,
    high: f64,
    source: String,
    at: String,
    provenance: Provenance,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_table("us_rates.csv", include_str!("data/us_rates.csv")));

fn rows(scheme: Scheme) -> impl Iterator<Item = &'static Row> {
    ROWS.iter().filter(move |row| row.scheme == scheme)
}

pub(super) fn crops(scheme: Scheme) -> Vec<SchemeCrop> {
    let mut keys: Vec<&str> = Vec::new();
    for row in rows(scheme) {
        if !keys.contains(&row.crop.as_str()) {
            keys.push(&row.crop);
        }
    }
    keys.into_iter().map(|key| SchemeCrop { key: key.to_owned(), title: key.replace('-', " ") }).collect()
}

pub(super) fn rates(scheme: Scheme, question: &RateQuestion) -> Option<CropRates> {
    let of_crop: Vec<&Row> = rows(scheme).filter(|row| row.crop == question.crop).collect();
    if of_crop.is_empty() {
        return None;
    }
    let mut missing = Vec::new();
    let mut find = |nutrient: Nutrient, class: Option<&ClassFound>| {
        let rows: Vec<&Row> = of_crop.iter().copied().filter(|row| row.nutrient == nutrient).collect();
        let rate = one(scheme, &rows, class, question.organic_matter_percent);
        match rate {
            Ok(rate) => Some(rate),
            Err(None) => {
                // Boron and magnesia are told only where a scheme speaks of them.
                if rows.is_empty() && matches!(nutrient, Nutrient::B | Nutrient::Mgo) {
                    return None;
                }
                missing.push(no_class(nutrient));
                None
            }
            Err(Some(why)) => {
                missing.push(Missing { nutrient, why });
                None
            }
        }
    };
    let n = find(Nutrient::N, None);
    let p2o5 = find(Nutrient::P2o5, question.phosphorus);
    let k2o = find(Nutrient::K2o, question.potassium);
    let b = find(Nutrient::B, None);
    Some(CropRates {
        scheme,
        crop: question.crop.to_owned(),
        title: question.crop.replace('-', " "),
        n,
        p2o5,
        k2o,
        mgo: None,
        b,
        timing: timing(scheme).to_owned(),
        missing,
    })
}

/// When the scheme says to give it.
fn timing(scheme: Scheme) -> &'static str {
    match scheme {
        Scheme::Midatlantic => {
            "Phosphate and potash at planting; nitrogen in two or three parts, at planting and two to six weeks later"
        }
        Scheme::NewEngland => {
            "Phosphate and potash before planting; 100 lb of nitrogen an acre before planting, 60 after the first or second cut"
        }
        Scheme::Utah => {
            "Phosphate and potash with a third to half of the nitrogen before planting; the rest in the season"
        }
        Scheme::GeorgiaCoastalPlain | Scheme::GeorgiaPiedmont => "All phosphate at or before planting",
        Scheme::Illinois => "On sand half before planting and half when the vines run",
        _ => "Phosphate at planting; nitrogen and potash in parts over the season on sand",
    }
}

fn one(
    scheme: Scheme,
    rows: &[&Row],
    class: Option<&ClassFound>,
    organic_matter_percent: Option<f64>,
) -> Result<RateRange, Option<String>> {
    let Some(first) = rows.first() else {
        return Err(Some(format!("{} was read without this rate for this crop", scheme.title())));
    };
    if first.class == "any" {
        return Ok(range(first, None));
    }
    if first.class.starts_with("om ") {
        let Some(percent) = organic_matter_percent else {
            return Err(Some("the rate hangs on organic matter, which is not known".to_owned()));
        };
        let place = match percent {
            p if p < 2.0 => 0,
            p if p < 10.0 => 1,
            p if p <= 20.0 => 2,
            _ => 3,
        };
        return rows.get(place).map(|row| range(row, None)).ok_or(None);
    }
    let Some(found) = class else { return Err(None) };
    let row = rows
        .iter()
        .find(|row| row.class == found.class)
        .ok_or_else(|| Some(format!("the rate for class \"{}\" was not read", found.class)))?;
    Ok(range(row, Some(found)))
}

fn range(row: &Row, class: Option<&ClassFound>) -> RateRange {
    let (low, high) = (row.low * KG_HA, row.high * KG_HA);
    RateRange {
        low_kg_ha: low,
        target_kg_ha: target(row, class) * KG_HA,
        high_kg_ha: high,
        class: if row.class == "any" { String::new() } else { row.class.clone() },
        source: row.source.clone(),
        at: row.at.clone(),
        provenance: row.provenance,
    }
}

/// The middle; Utah gives the high end at the low end of a class, which is a straight line within it.
fn target(row: &Row, class: Option<&ClassFound>) -> f64 {
    let middle = f64::midpoint(row.low, row.high);
    let Some(found) = class.filter(|_| row.scheme == Scheme::Utah) else { return middle };
    let Some(up_to) = found.up_to else { return middle };
    let from = found.from.unwrap_or(0.0);
    let share = ((found.value - from) / (up_to - from)).clamp(0.0, 1.0);
    row.high + (row.low - row.high) * share
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rates_fall_from_class_to_class() {
        for scheme in Scheme::ALL {
            for crop in crops(*scheme) {
                for nutrient in [Nutrient::P2o5, Nutrient::K2o] {
                    let highs: Vec<f64> = rows(*scheme)
                        .filter(|row| row.crop == crop.key && row.nutrient == nutrient)
                        .filter(|row| row.class != "below optimum")
                        .map(|row| row.high)
                        .collect();
                    assert!(highs.windows(2).all(|pair| pair[0] >= pair[1]), "{scheme:?} {}", crop.key);
                }
            }
        }
        assert!(ROWS.iter().all(|row| row.low <= row.high));
    }
}
