//! Fields in groups, and fields in rows and columns.

use askama::Template;
use ground::kit::units::Unit;

use super::view::{FieldView, Form};

/// Some fields under a heading.
#[derive(Debug, Clone, Copy)]
pub struct Group {
    /// The heading.
    pub title: &'static str,
    /// What to know before filling it in.
    pub intro: &'static str,
    /// Names of the fields.
    pub fields: &'static [&'static str],
    /// Asked only when that field has that answer. Shown to everyone without script.
    pub only: Option<(&'static str, &'static str)>,
    /// Folded away while nothing stands in it.
    pub folded: bool,
    /// Fields in rows and columns, below the others.
    pub table: Option<&'static Table>,
}

/// Fields in rows and columns.
#[derive(Debug)]
pub struct Table {
    /// What it holds, for those who do not see it.
    pub caption: &'static str,
    /// Heading of the column of row names.
    pub corner: &'static str,
    /// Headings of the columns.
    pub columns: &'static [&'static str],
    /// The rows.
    pub rows: &'static [Row],
}

/// A row of fields.
#[derive(Debug)]
pub struct Row {
    /// Its name.
    pub label: &'static str,
    /// Its fields, one a column.
    pub fields: &'static [&'static str],
}

impl Group {
    /// A group that is always asked.
    #[must_use]
    pub const fn of(title: &'static str, intro: &'static str, fields: &'static [&'static str]) -> Self {
        Self { title, intro, fields, only: None, folded: false, table: None }
    }

    /// A group that is asked only when `field` is answered by `answer`.
    #[must_use]
    pub const fn only(mut self, field: &'static str, answer: &'static str) -> Self {
        self.only = Some((field, answer));
        self
    }

    /// A group that most people can pass over.
    #[must_use]
    pub const fn folded(mut self) -> Self {
        self.folded = true;
        self
    }

    /// The same group with a table below its fields.
    #[must_use]
    pub const fn table(mut self, table: &'static Table) -> Self {
        self.table = Some(table);
        self
    }
}

/// Rows of a repeated field that are always drawn.
const ROWS: usize = 3;

/// A group as it is drawn.
#[derive(Debug, Clone)]
pub struct GroupView {
    /// The heading.
    pub title: &'static str,
    /// What to know before filling it in.
    pub intro: &'static str,
    /// Names of the fields that are drawn.
    pub fields: Vec<&'static str>,
    /// Asked only when that field has that answer.
    pub only: Option<(&'static str, &'static str)>,
    /// Whether it can be folded away.
    pub folded: bool,
    /// Whether it stands open though it can be folded away.
    pub open: bool,
    /// Fields in rows and columns.
    pub table: Option<TableView>,
}

/// A table as it is drawn.
#[derive(Debug, Clone)]
pub struct TableView {
    /// What it holds.
    pub table: &'static Table,
    /// Headings of the columns, each with its unit.
    pub heads: Vec<Head>,
}

/// Heading of a column.
#[derive(Debug, Clone)]
pub struct Head {
    /// What stands in it.
    pub label: &'static str,
    /// In which unit.
    pub unit: String,
}

impl GroupView {
    /// The group as `form` fills it.
    #[must_use]
    pub fn of(group: &Group, form: &Form) -> Self {
        let fields: Vec<&str> = group.fields.iter().copied().filter(|name| drawn(name, form)).collect();
        let in_table = group.table.map_or(&[][..], |table| table.rows).iter().flat_map(|row| row.fields);
        let open = group.fields.iter().chain(in_table).any(|name| filled(name, form));
        Self {
            title: group.title,
            intro: group.intro,
            fields,
            only: group.only,
            folded: group.folded,
            open,
            table: group.table.map(|table| TableView::of(table, form)),
        }
    }
}

impl TableView {
    fn of(table: &'static Table, form: &Form) -> Self {
        let first = table.rows.first().map_or(&[][..], |row| row.fields);
        let unit = |at: usize| first.get(at).map(|name| spelled(form.draw(name).unit)).unwrap_or_default();
        let heads =
            table.columns.iter().enumerate().map(|(at, label)| Head { label, unit: unit(at) }).collect();
        Self { table, heads }
    }

    /// Heading of a column in one line, for a narrow screen.
    #[must_use]
    #[allow(clippy::trivially_copy_pass_by_ref, reason = "a template passes references")]
    pub fn label(&self, at: &usize) -> String {
        match self.heads.get(*at) {
            Some(head) if head.unit.is_empty() => head.label.to_owned(),
            Some(head) => format!("{} ({})", head.label, head.unit),
            None => String::new(),
        }
    }
}

fn filled(name: &str, form: &Form) -> bool {
    form.fields()
        .iter()
        .any(|field| field.name == name && !(field.text.is_empty() && field.refusal.is_none()))
}

/// Of fields that repeat (`width_across_4`), one row more than is filled is drawn.
fn drawn(name: &str, form: &Form) -> bool {
    let Some((stem, row)) = name.rsplit_once('_') else { return true };
    let Ok(row) = row.parse::<usize>() else { return true };
    row <= ROWS || filled(name, form) || filled(&format!("{stem}_{}", row - 1), form)
}

/// A field in a table: its label stands in the headings and is told to those who do not see them.
#[derive(Debug, Clone, Template)]
#[template(path = "parts/cell.html")]
pub struct Cell {
    field: FieldView,
}

impl askama::filters::HtmlSafe for Cell {}

impl Cell {
    /// Whether a keypad of digits will do: many have no minus, which a temperature may need.
    fn keypad(&self) -> bool {
        self.field.is_number() && !self.field.unit.starts_with('\u{b0}')
    }

    fn name(&self) -> String {
        if self.field.unit.is_empty() {
            self.field.label.clone()
        } else {
            format!("{}, {}", self.field.label, spelled(self.field.unit.clone()))
        }
    }
}

/// A unit over a column: a lone "d" is not read as days.
fn spelled(unit: String) -> String {
    if unit == Unit::Day.symbol() { "days".to_owned() } else { unit }
}

impl Form {
    /// Draws one field in a table.
    #[must_use]
    pub fn cell(&self, name: &str) -> Cell {
        Cell { field: self.draw(name) }
    }
}
