//! A table as a spreadsheet saves it: cells parted by comma, semicolon or tab, lines told by number.

use ground::kit::Refusal;
use serde::{Deserialize, Serialize};

/// A cell, or a whole row, that was refused.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[error("line {line}: {refusal}")]
pub struct RowRefusal {
    /// Line of the text, the heading being line 1.
    pub line: u64,
    /// The column (its heading) and what is wrong.
    pub refusal: Refusal,
}

/// Most rows read from one table.
pub(super) const MOST_ROWS: usize = 20_000;

/// The cells of a text.
#[derive(Debug)]
pub(crate) struct Table {
    pub(crate) headings: csv::StringRecord,
    pub(crate) lines: Vec<Line>,
    /// What parts the cells.
    pub(super) delimiter: u8,
    /// Lines that could not be read, or were too many.
    pub(crate) trouble: Vec<RowRefusal>,
}

/// One row, blank ones left out.
#[derive(Debug)]
pub(crate) struct Line {
    pub(crate) number: u64,
    pub(crate) cells: csv::StringRecord,
}

impl Table {
    /// Reads a text; lines that begin with `comment` are passed over.
    pub(crate) fn read(text: &str, comment: Option<u8>) -> Result<Self, Vec<RowRefusal>> {
        let text = text.trim_start_matches('\u{feff}');
        let mut counted = LineCount { text: text.as_bytes(), comment, at: 0, line: 1 };
        let delimiter = delimiter_of(text, comment);
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(delimiter)
            .comment(comment)
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(text.as_bytes());
        let headings = reader.headers().map_err(|error| vec![unreadable(&error)])?.clone();
        let (mut lines, mut trouble) = (Vec::new(), Vec::new());
        for record in reader.records() {
            let cells = match record {
                Ok(cells) => cells,
                Err(error) => {
                    trouble.push(unreadable(&error));
                    break;
                }
            };
            if cells.iter().all(str::is_empty) {
                continue;
            }
            let number = cells.position().map_or(0, |place| counted.line_of(place.byte()));
            if lines.len() >= MOST_ROWS {
                trouble.push(RowRefusal {
                    line: number,
                    refusal: Refusal::new("", "the table is too long")
                        .accepted(format!("at most {MOST_ROWS} rows")),
                });
                break;
            }
            lines.push(Line { number, cells });
        }
        if trouble.is_empty() && lines.is_empty() {
            trouble.push(RowRefusal { line: 1, refusal: Refusal::new("", "the table has no rows") });
        }
        Ok(Self { headings, lines, delimiter, trouble })
    }
}

/// Counts lines as an editor does. The reader of cells tells the place after the row before: blank lines, comments and
/// the second sign of a line's end may lie between that and the row.
struct LineCount<'a> {
    text: &'a [u8],
    comment: Option<u8>,
    at: usize,
    line: u64,
}

impl LineCount<'_> {
    /// The line of the row that begins at or after a byte; bytes come in ascending order.
    fn line_of(&mut self, byte: u64) -> u64 {
        let mut from = usize::try_from(byte).unwrap_or(usize::MAX).clamp(self.at, self.text.len());
        while let Some(first) = self.text.get(from) {
            if matches!(first, b'\n' | b'\r') {
                from += 1;
            } else if Some(*first) == self.comment && (from == 0 || self.text[from - 1] == b'\n') {
                from += self.text[from..].iter().take_while(|byte| **byte != b'\n').count();
            } else {
                break;
            }
        }
        self.line += self.text[self.at..from].iter().filter(|byte| **byte == b'\n').count() as u64;
        self.at = from;
        self.line
    }
}

impl Line {
    /// The cell at a place, unless it is empty or the row ends before it.
    pub(super) fn cell(&self, place: usize) -> Option<&str> {
        self.cells.get(place).map(str::trim).filter(|text| !text.is_empty())
    }
}

/// Spreadsheets part cells with a comma, a semicolon or a tab, by country; the heading tells which.
fn delimiter_of(text: &str, comment: Option<u8>) -> u8 {
    let is_comment = |line: &&str| comment.is_some_and(|mark| line.as_bytes().first() == Some(&mark));
    let heading = text.lines().find(|line| !is_comment(line)).unwrap_or_default();
    [b';', b'\t', b',']
        .into_iter()
        .max_by_key(|mark| heading.bytes().filter(|byte| byte == mark).count())
        .unwrap_or(b',')
}

fn unreadable(error: &csv::Error) -> RowRefusal {
    let line = error.position().map_or(1, csv::Position::line);
    RowRefusal { line, refusal: Refusal::new("", format!("the table cannot be read here: {error}")) }
}

/// What was given, cut to a length that fits a message.
pub(super) fn short(text: &str) -> String {
    text.chars().take(60).collect()
}
