//! The grid that results are typed into: a row for each bag, a column for each thing that was read.

use advice::results::{CellRefusal, Column, KnownFigure, ResultRow};
use book::model::EntryId;
use ground::kit::Refusal;
use serde::Serialize;

use crate::form::{FieldView, Form};
use crate::typed::Typed;

/// Rows of a grid without a plan.
pub(super) const USUAL_ROWS: usize = 12;
/// Most rows that are drawn.
pub(super) const MOST_ROWS: usize = 500;

/// A grid, as it is drawn.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Grid {
    pub(super) columns: Vec<Head>,
    pub(super) rows: Vec<Row>,
    /// How cells are typed: the columns that are typed alike, and how.
    #[serde(skip)]
    pub(super) hints: Vec<(String, &'static str)>,
}

/// A heading.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Head {
    pub(super) key: String,
    pub(super) words: String,
    pub(super) hint: &'static str,
}

/// A row, with the names of its fields.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Row {
    /// What stands before it, where it is of a plan: "Bag 3".
    pub(super) words: String,
    /// What is told beside it: the code on its label.
    pub(super) beside: String,
    /// What the book has of it.
    pub(super) kept: Vec<Kept>,
    /// The bag; empty where it is typed.
    pub(super) bag: String,
    pub(super) bag_field: String,
    pub(super) cells: Vec<String>,
    pub(super) note: String,
}

/// A figure that the book has, and its record.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Kept {
    pub(super) words: String,
    pub(super) record: EntryId,
}

impl From<KnownFigure> for Kept {
    fn from(known: KnownFigure) -> Self {
        Self { words: format!("{}, {}", known.words, advice::words::day(known.on)), record: known.record }
    }
}

/// What is known of a row before anything is typed.
#[derive(Debug, Clone, Default)]
pub(super) struct RowHead {
    /// What stands before it; nothing where its bag is typed.
    pub(super) words: String,
    pub(super) beside: String,
    pub(super) bag: String,
    pub(super) kept: Vec<Kept>,
}

pub(super) fn bag_field(row: usize) -> String {
    format!("bag_{row}")
}

pub(super) fn cell_field(row: usize, column: usize) -> String {
    format!("cell_{row}_{column}")
}

/// The row and the column of a cell's field.
pub(super) fn cell_at(field: &str) -> Option<(usize, usize)> {
    let (row, column) = field.strip_prefix("cell_")?.split_once('_')?;
    Some((row.parse().ok()?, column.parse().ok()?))
}

pub(super) fn note_field(row: usize) -> String {
    format!("note_{row}")
}

impl Grid {
    pub(super) fn new(columns: &[Column], rows: Vec<RowHead>) -> Self {
        let heads: Vec<Head> = columns
            .iter()
            .map(|column| Head {
                key: column.key().to_owned(),
                words: column.words().to_owned(),
                hint: column.hint(),
            })
            .collect();
        let rows = rows
            .into_iter()
            .enumerate()
            .map(|(at, RowHead { words, beside, bag, kept })| Row {
                words,
                beside,
                kept,
                bag,
                bag_field: bag_field(at),
                cells: (0..columns.len()).map(|column| cell_field(at, column)).collect(),
                note: note_field(at),
            })
            .collect();
        let mut hints: Vec<(String, &'static str)> = Vec::new();
        for head in &heads {
            match hints.iter_mut().find(|(_, hint)| *hint == head.hint) {
                Some((words, _)) => *words = format!("{words}, {}", head.words),
                None => hints.push((head.words.clone(), head.hint)),
            }
        }
        Self { columns: heads, rows, hints }
    }

    /// Its fields, with what was typed.
    pub(super) fn form(&self, typed: &Typed) -> Form {
        let field = |name: &str, label: &str| {
            FieldView::line(name).labelled(label, "", true).typed(typed.get(name).unwrap_or_default())
        };
        let mut fields = Vec::new();
        for (at, row) in self.rows.iter().enumerate() {
            let of = if row.words.is_empty() { format!("row {}", at + 1) } else { row.words.clone() };
            fields.push(field(&row.bag_field, &format!("Bag, {of}")));
            for (name, head) in row.cells.iter().zip(&self.columns) {
                fields.push(field(name, &format!("{}, {of}", head.words)));
            }
            fields.push(field(&row.note, &format!("Note, {of}")));
        }
        Form::of(fields)
    }
}

/// The rows that were posted.
pub(super) fn typed_rows(typed: &Typed, columns: usize) -> Vec<ResultRow> {
    let text = |name: &str| typed.get(name).unwrap_or_default().to_owned();
    (0..=MOST_ROWS)
        .take_while(|row| {
            typed.get(&bag_field(*row)).is_some()
                || (0..columns).any(|column| typed.get(&cell_field(*row, column)).is_some())
        })
        .map(|row| ResultRow {
            bag: text(&bag_field(row)),
            cells: (0..columns).map(|column| text(&cell_field(row, column))).collect(),
            note: text(&note_field(row)),
        })
        .collect()
}

/// A refusal at the field of its cell, with the row and the column in words.
pub(super) fn at_field(cell: CellRefusal) -> Refusal {
    let CellRefusal { row, bag, column, column_words, refusal } = cell;
    let field = match (column, column_words.is_empty()) {
        (Some(column), _) => cell_field(row, column),
        (None, false) => bag_field(row),
        (None, true) => return Refusal { field: String::new(), ..refusal },
    };
    let of = if bag.is_empty() { format!("row {}", row + 1) } else { format!("row {} ({bag})", row + 1) };
    let message = format!("{column_words}, {of}: {}", refusal.message);
    Refusal { field, message, ..refusal }
}
