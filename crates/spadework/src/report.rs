//! What a command found: once for programs, once for people.

use ground::kit::{Note, NoteKind};
use serde::Serialize;
use serde_json::Value;

use crate::trouble::{Exit, Trouble};

/// The outcome of a command.
#[derive(Debug)]
pub(crate) struct Report {
    /// For programs, under `--json`.
    pub json: Value,
    /// For people.
    pub text: String,
    /// How the program ends.
    pub exit: Exit,
}

impl Report {
    /// A report of something that went well.
    pub(crate) fn new(value: &impl Serialize, text: impl Into<String>) -> Result<Self, Trouble> {
        let json = serde_json::to_value(value)
            .map_err(|error| Trouble::other(format!("the answer cannot be written as JSON: {error}")))?;
        Ok(Self { json, text: text.into(), exit: Exit::Done })
    }

    /// A report whose text is its JSON, for commands that speak JSON only.
    pub(crate) fn json_only(json: Value) -> Self {
        Self { text: pretty(&json), json, exit: Exit::Done }
    }

    /// Nothing more to print, for commands that print as they go.
    pub(crate) fn silent() -> Self {
        Self { json: Value::Null, text: String::new(), exit: Exit::Done }
    }

    /// Ends the program with another code.
    pub(crate) fn ending(mut self, exit: Exit) -> Self {
        self.exit = exit;
        self
    }
}

/// JSON as it is printed.
pub(crate) fn pretty(json: &Value) -> String {
    serde_json::to_string_pretty(json).unwrap_or_default()
}

/// Notes below an answer, each marked by a word and not by colour.
pub(crate) fn notes(notes: &[Note], width: usize) -> String {
    notes
        .iter()
        .map(|note| {
            let mark = match note.kind {
                NoteKind::Safety => "Caution: ",
                NoteKind::OutsideRange => "Outside the published range: ",
                NoteKind::NoValue => "No value: ",
                _ => "Note: ",
            };
            wrapped(&format!("{mark}{}", note.text), width, "  ")
        })
        .collect::<Vec<_>>()
        .join("\n")
}

/// A part of a text: its heading, then its lines; nothing where it has none.
pub(crate) fn part(text: &mut String, width: usize, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    text.push_str(&format!("\n\n{title}"));
    for line in lines {
        text.push_str(&format!("\n{}", wrapped(&format!("- {line}"), width, "  ")));
    }
}

/// Breaks text into lines no wider than `width`; later lines begin with `indent`.
pub(crate) fn wrapped(text: &str, width: usize, indent: &str) -> String {
    let mut out = String::new();
    let mut column = 0;
    // A number and its percent sign stay together.
    let text = text.replace(" %", "\u{a0}%");
    for word in text.split_ascii_whitespace() {
        let long = word.chars().count();
        if column > 0 && column + 1 + long > width.max(20) {
            out.push('\n');
            out.push_str(indent);
            column = indent.chars().count();
        } else if column > 0 {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += long;
    }
    out.replace('\u{a0}', " ")
}

/// Is no line wider than that?
pub(crate) fn fits(text: &str, width: usize) -> bool {
    text.lines().all(|line| line.chars().count() <= width)
}

/// Columns where they fit, without empty ones; else a row after another, its cells parted by commas.
pub(crate) fn table(rows: &[Vec<String>], indent: &str, width: usize) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or_default();
    let filled: Vec<usize> = (0..count)
        .filter(|column| rows.iter().any(|row| row.get(*column).is_some_and(|cell| !cell.is_empty())))
        .collect();
    let rows: Vec<Vec<String>> = rows
        .iter()
        .map(|row| filled.iter().map(|column| row.get(*column).cloned().unwrap_or_default()).collect())
        .collect();
    let text = columns(&rows, indent);
    if fits(&text, width) {
        return text;
    }
    let later = format!("{indent}  ");
    rows.iter()
        .map(|row| {
            let said: Vec<&str> = row.iter().map(String::as_str).filter(|cell| !cell.is_empty()).collect();
            format!("{indent}{}", wrapped(&said.join(", "), width - indent.len(), &later))
        })
        .collect::<Vec<_>>()
        .join("\n")
}

/// Columns under each other, the last one as long as it likes.
pub(crate) fn columns(rows: &[Vec<String>], indent: &str) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or_default();
    let widths: Vec<usize> = (0..count)
        .map(|column| {
            rows.iter()
                .filter_map(|row| row.get(column))
                .map(|cell| cell.chars().count())
                .max()
                .unwrap_or_default()
        })
        .collect();
    rows.iter()
        .map(|row| {
            let mut line = indent.to_owned();
            for (column, cell) in row.iter().enumerate() {
                line.push_str(cell);
                if column + 1 < row.len() {
                    line.extend(std::iter::repeat_n(' ', widths[column] - cell.chars().count() + 2));
                }
            }
            line.trim_end().to_owned()
        })
        .collect::<Vec<_>>()
        .join("\n")
}
