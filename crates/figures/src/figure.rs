//! A finished picture with its text alternative and its numbers.

use std::fmt;

use serde::Serialize;

/// A picture, what it says in words, and its numbers as a table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Figure {
    /// What the picture shows, as a caption.
    pub title: String,
    /// What a person would read off it, in sentences.
    pub description: String,
    /// The same numbers as a table.
    pub table: Table,
    /// The picture: one `<svg>` element, safe to place in HTML unescaped.
    pub svg: String,
}

impl fmt::Display for Figure {
    /// The `<svg>` element.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.svg)
    }
}

/// The numbers of a picture. The first cell of each row names the row.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Table {
    /// Column headings.
    pub head: Vec<String>,
    /// Rows, each as long as the head.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    pub(crate) fn new<const N: usize>(head: [&str; N]) -> Self {
        Self { head: head.map(str::to_owned).to_vec(), rows: Vec::new() }
    }

    pub(crate) fn row<const N: usize>(&mut self, cells: [String; N]) {
        debug_assert_eq!(N, self.head.len());
        self.rows.push(cells.to_vec());
    }
}
