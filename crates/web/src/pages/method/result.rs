//! A method's answer as lines of a table.

use ground::kit::Note;
use serde::Serialize;
use serde_json::Value;

use super::leaf::{plain, resolved};

/// One line of an answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct ResultLine {
    /// Path in the answer.
    pub(super) path: String,
    /// What it is.
    pub(super) meaning: String,
    /// The value as a person reads it.
    pub(super) value: String,
    /// Its unit.
    pub(super) unit: String,
}

/// Lists longer than this are named by their length; the JSON has them in full.
const LONGEST_LIST: usize = 12;

/// The answer's lines, in the order of the method's output.
pub(super) fn lines(answer: &Value, schema: &Value) -> Vec<ResultLine> {
    let mut lines = Vec::new();
    walk(answer, schema, schema, "", &mut lines);
    lines
}

/// The remarks that came with the answer.
pub(super) fn notes(answer: &Value) -> Vec<Note> {
    answer.get("notes").cloned().and_then(|notes| serde_json::from_value(notes).ok()).unwrap_or_default()
}

fn walk(value: &Value, root: &Value, schema: &Value, path: &str, lines: &mut Vec<ResultLine>) {
    let place = resolved(root, schema);
    let whole = whole_words(value);
    match value {
        Value::Object(_) if whole.is_some() => {
            lines.push(line(whole.unwrap_or_default(), schema, place, path))
        }
        Value::Object(fields) => {
            for (name, value) in fields.iter().filter(|(name, _)| !(path.is_empty() && *name == "notes")) {
                let inner = if path.is_empty() { name.clone() } else { format!("{path}.{name}") };
                let property = place.get("properties").and_then(|all| all.get(name)).unwrap_or(&Value::Null);
                walk(value, root, property, &inner, lines);
            }
        }
        Value::Array(items) if items.iter().any(Value::is_object) && items.len() <= LONGEST_LIST => {
            let inner = place.get("items").unwrap_or(&Value::Null);
            for (index, item) in items.iter().enumerate() {
                walk(item, root, inner, &format!("{path}[{index}]"), lines);
            }
        }
        _ => lines.push(line(words(value), schema, place, path)),
    }
}

fn line(value: String, schema: &Value, place: &Value, path: &str) -> ResultLine {
    let described = |place: &Value| place["description"].as_str().map(plain);
    let unit = if value == NOTHING { String::new() } else { unit(place, path) };
    let (value, unit) = match value.split_once(SPREAD) {
        // The unit belongs to the median; its range follows.
        Some((median, range)) if !unit.is_empty() => {
            (format!("{median} {unit}{SPREAD}{range}"), String::new())
        }
        _ => (value, unit),
    };
    let meaning = described(schema).or_else(|| described(place)).unwrap_or_default();
    ResultLine { path: path.to_owned(), meaning, value, unit }
}

/// An object that reads best as one value: a spread, or a word with what belongs to it.
fn whole_words(value: &Value) -> Option<String> {
    let fields = value.as_object()?;
    let number = |name: &str| fields.get(name).and_then(Value::as_f64).map(significant);
    if fields.len() == 3
        && let (Some(low), Some(median), Some(high)) = (number("low"), number("median"), number("high"))
    {
        return Some(format!("{median}{SPREAD}{low} to {high})"));
    }
    let short = fields.len() <= 3 && fields.values().all(|value| !value.is_object() && !value.is_array());
    let named = fields.values().any(Value::is_string);
    let parts = fields.iter().map(|(name, value)| format!("{name} {}", words(value)));
    (short && named).then(|| parts.collect::<Vec<_>>().join(", "))
}

const NOTHING: &str = "none";

/// Between a median and its range.
const SPREAD: &str = " (90 %: ";

fn words(value: &Value) -> String {
    match value {
        Value::Null => NOTHING.to_owned(),
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Value::String(text) => text.clone(),
        Value::Number(number) => number.as_f64().map_or_else(|| number.to_string(), significant),
        Value::Array(items) if items.is_empty() => NOTHING.to_owned(),
        Value::Array(items) if items.len() > LONGEST_LIST => format!("{} values, see the JSON", items.len()),
        Value::Array(items) => items.iter().map(words).collect::<Vec<_>>().join(", "),
        Value::Object(_) => value.to_string(),
    }
}

/// Four significant digits; whole numbers in full.
fn significant(value: f64) -> String {
    let size = value.abs();
    if value == 0.0 || (value.fract() == 0.0 && size < 1e9) {
        return format!("{value}");
    }
    if !(1e-4..1e7).contains(&size) {
        return format!("{value:.3e}");
    }
    // How many digits stand before the point decides how many are shown after it.
    let after = (0..=8).find(|&after| size * 10f64.powi(after) >= 1000.0).unwrap_or(8);
    let fixed = format!("{value:.*}", after as usize);
    if fixed.contains('.') { fixed.trim_end_matches('0').trim_end_matches('.').to_owned() } else { fixed }
}

/// The unit from the schema or, for an output that is a plain number, from the end of its name.
fn unit(place: &Value, path: &str) -> String {
    if let Some(unit) = place["x-unit"].as_str() {
        return unit.to_owned();
    }
    let stem = path.split('.').rev().find(|part| SUFFIXES.iter().any(|(end, _)| part.ends_with(end)));
    stem.and_then(|part| SUFFIXES.iter().find(|(end, _)| part.ends_with(end)))
        .map_or_else(String::new, |(_, unit)| (*unit).to_owned())
}

/// Name endings and the units they mean; longer endings first.
const SUFFIXES: &[(&str, &str)] = &[
    ("_m3_m3", "m³/m³"),
    ("_kg_m3", "kg/m³"),
    ("_g_cm3", "g/cm³"),
    ("_ds_m", "dS/m"),
    ("_mm_h", "mm/h"),
    ("_mm_m", "mm/m"),
    ("_in_ft", "in/ft"),
    ("_mpa_s", "mPa s"),
    ("_pa_s", "Pa s"),
    ("_m_s", "m/s"),
    ("_mm_s", "mm/s"),
    ("_g_l", "g/L"),
    ("_m2_s", "m²/s"),
    ("_percent", "%"),
    ("_um", "µm"),
    ("_mm", "mm"),
    ("_cm", "cm"),
    ("_kpa", "kPa"),
    ("_min", "min"),
    ("_ml", "mL"),
    ("_s", "s"),
    ("_h", "h"),
    ("_c", "°C"),
    ("_g", "g"),
    ("_m", "m"),
    ("_in", "in"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn numbers_keep_four_digits() {
        for (value, shown) in [
            (0.0, "0"),
            (40.0, "40"),
            (123_456.7, "123457"),
            (27.456_78, "27.46"),
            (0.012_345_6, "0.01235"),
            (2e-9, "2.000e-9"),
            (0.5, "0.5"),
            (-3.25, "-3.25"),
        ] {
            assert_eq!(significant(value), shown);
        }
    }

    #[test]
    fn nested_answers_become_lines_with_units() {
        let answer = json!({"mass_percent": {"sand": 64.93}, "time_s": 28_800, "notes": []});
        let lines = lines(&answer, &Value::Null);
        assert_eq!(lines[0].path, "mass_percent.sand");
        assert_eq!((lines[0].value.as_str(), lines[0].unit.as_str()), ("64.93", "%"));
        assert_eq!(lines[1].unit, "s");
        assert_eq!(lines.len(), 2);
    }

    #[test]
    fn spreads_and_short_records_stay_in_one_line() {
        let answer = json!({
            "sand_percent": {"low": 42.1, "median": 47.2, "high": 52.9},
            "class_odds": [{"class": "loam", "odds": 0.75}, {"class": "clay loam", "odds": 0.25}],
            "depth_mm": null,
        });
        let lines = lines(&answer, &Value::Null);
        let shown: Vec<_> = lines.iter().map(|line| (line.value.as_str(), line.unit.as_str())).collect();
        assert_eq!(
            shown,
            [
                ("47.2 % (90 %: 42.1 to 52.9)", ""),
                ("class loam, odds 0.75", ""),
                ("class clay loam, odds 0.25", ""),
                ("none", "")
            ]
        );
    }
}
