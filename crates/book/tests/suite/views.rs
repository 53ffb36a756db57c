//! Nothing that a record keeps is lost in the views of the file, and so in the tables of the export.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common;

use std::collections::BTreeMap;

use crate::common::stamp;
use book::Book;
use book::model::{Decision, Kind};
use proptest::prelude::*;
use serde_json::Value;

/// Tables that show the long lists of a kind, one row an item, and the column that names the record.
const LISTS: [(Kind, &str, &str); 3] = [
    (Kind::WeatherNormals, "weather_months", "normals_id"),
    (Kind::WeatherTable, "weather_days", "table_id"),
    (Kind::SamplingPlan, "sampling_points", "sampling_plan_id"),
];
/// Columns that every view begins with and that are not of the record: id, number, time and person.
const ABOUT: usize = 4;

struct Table {
    headings: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Table {
    fn of(book: &Book, view: &str) -> Self {
        let bytes = book.csv_table(view).unwrap();
        let mut read = csv::Reader::from_reader(bytes.as_slice());
        let text = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect::<Vec<_>>();
        let headings = text(read.headers().unwrap());
        Self { headings, rows: read.records().map(|row| text(&row.unwrap())).collect() }
    }

    fn at(&self, heading: &str) -> usize {
        self.headings.iter().position(|one| one == heading).unwrap()
    }

    fn of_record(&self, column: &str, id: &str) -> Vec<&[String]> {
        let at = self.at(column);
        self.rows.iter().filter(|row| row[at] == id).map(Vec::as_slice).collect()
    }
}

fn leaves(value: &Value, path: &str, found: &mut Vec<(String, Value)>) {
    match value {
        Value::Object(fields) => {
            fields.iter().for_each(|(key, value)| leaves(value, &format!("{path}.{key}"), found))
        }
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(at, value)| leaves(value, &format!("{path}[{at}]"), found));
        }
        Value::Null => {}
        leaf => found.push((path.to_owned(), leaf.clone())),
    }
}

fn same(leaf: &Value, cell: &str) -> bool {
    match leaf {
        Value::String(text) => cell == text || cell.strip_prefix('\'') == Some(text),
        Value::Bool(yes) => cell == if *yes { "1" } else { "0" },
        Value::Number(number) => {
            let number = number.as_f64().unwrap();
            cell.parse::<f64>().is_ok_and(|cell| (cell - number).abs() <= 1e-12 * number.abs())
        }
        _ => false,
    }
}

fn shows(cell: &str, leaf: &Value) -> bool {
    if same(leaf, cell) {
        return true;
    }
    if !cell.starts_with(['{', '[']) {
        return false;
    }
    let mut inside = Vec::new();
    if let Ok(json) = serde_json::from_str::<Value>(cell) {
        leaves(&json, "", &mut inside);
    }
    inside.iter().any(|(_, one)| one == leaf)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, ..ProptestConfig::default() })]

    #[test]
    fn every_field_of_every_kind_stands_in_its_view(script in common::any_script()) {
        let folder = tempfile::tempdir().unwrap();
        let mut book = common::fill(&folder.path().join("a.farmbook"), &script).unwrap();
        let plot = book.snapshot().unwrap().plots[0].id;
        // The one of the script was withdrawn.
        book.record(Decision { plot, ..script.decision.clone() }, &stamp(90, "Ada")).unwrap();

        let history = Table::of(&book, "history");
        let column = |heading: &str| history.at(heading);
        let (id, kind, withdrawn, body) = (column("id"), column("kind"), column("withdrawn"), column("body"));
        let latest: BTreeMap<&str, &Vec<String>> =
            history.rows.iter().map(|row| (row[id].as_str(), row)).collect();
        let mut seen = std::collections::BTreeSet::new();
        let mut tables = BTreeMap::new();
        for row in latest.values().filter(|row| row[withdrawn] == "0") {
            let kind = Kind::of_name(&row[kind]).unwrap();
            seen.insert(kind);
            let view = tables.entry(kind).or_insert_with(|| Table::of(&book, kind.view()));
            let shown = view.of_record("id", &row[id]);
            prop_assert_eq!(shown.len(), 1, "{} in {}", &row[id], kind.view());
            let mut cells: Vec<&str> = shown[0][ABOUT..].iter().map(String::as_str).collect();
            let list = LISTS.iter().find(|(of, ..)| *of == kind).map(|(_, view, column)| (Table::of(&book, view), *column));
            if let Some((table, column)) = &list {
                cells.extend(table.of_record(column, &row[id]).into_iter().flatten().map(String::as_str));
            }
            let mut kept = Vec::new();
            leaves(&serde_json::from_str(&row[body]).unwrap(), "", &mut kept);
            for (path, leaf) in kept {
                prop_assert!(
                    cells.iter().any(|cell| shows(cell, &leaf)),
                    "{}{path} = {leaf} is in no column of {}", kind.name(), kind.view()
                );
            }
        }
        let all: Vec<Kind> = Kind::ALL.to_vec();
        prop_assert_eq!(seen.into_iter().collect::<Vec<_>>(), all);
    }
}
