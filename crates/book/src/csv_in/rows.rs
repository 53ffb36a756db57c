//! From the cells of a table to typed rows, every wrong cell named.

use std::collections::BTreeMap;

use ground::kit::units::{TypedReading, UnitSystem, field_unit, typed, typed_reading};
use ground::kit::{Bounded, Refusal};
use ground::texture::lab::LabTexture;
use jiff::civil::Date;
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::columns::{LabColumn, LabColumns};
use super::table::{Line, RowRefusal, Table, short};
use crate::model::{SampleDepth, Seen, seen};

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    pub(super) line: u64,
    pub(super) plot: String,
    pub(super) date: Date,
    pub(super) layer: Option<(SampleDepth, SampleDepth)>,
    pub(super) cores: Option<u16>,
    pub(super) bag: String,
    pub(super) by: String,
    pub(super) note: String,
    pub(super) seen: Vec<Seen>,
}

/// Reads a whole table.
pub(super) fn read(
    text: &str,
    columns: &LabColumns,
    system: UnitSystem,
) -> Result<Vec<Row>, Vec<RowRefusal>> {
    let Table { headings, lines, delimiter: _, trouble } = Table::read(text, None)?;
    let places = places(&headings, columns)?;
    let (mut rows, mut refusals) = (Vec::new(), Vec::new());
    for Line { number: line, cells } in &lines {
        let cells = Cells { record: cells, places: &places, columns, system };
        match row(&cells, *line) {
            Ok(row) => rows.push(row),
            Err(refusal) => refusals.push(RowRefusal { line: *line, refusal }),
        }
    }
    refusals.extend(trouble);
    if refusals.is_empty() { Ok(rows) } else { Err(refusals) }
}

fn places(
    headings: &csv::StringRecord,
    columns: &LabColumns,
) -> Result<BTreeMap<LabColumn, usize>, Vec<RowRefusal>> {
    let mut places = BTreeMap::new();
    let mut refusals = Vec::new();
    let mut refuse = |refusal| refusals.push(RowRefusal { line: 1, refusal });
    for column in LabColumn::all() {
        let wanted = columns.heading(column);
        let found: Vec<usize> = (0..headings.len())
            .filter(|place| {
                headings.get(*place).is_some_and(|heading| heading.trim().eq_ignore_ascii_case(wanted.trim()))
            })
            .collect();
        match found[..] {
            [] if column.required() => refuse(
                Refusal::new(wanted, format!("the table has no column {wanted:?}"))
                    .given(headings.iter().take(20).collect::<Vec<_>>().join(", "))
                    .accepted(column.accepted())
                    .example(column.example()),
            ),
            [] => {}
            [place] => {
                places.insert(column, place);
            }
            _ => refuse(Refusal::new(wanted, format!("the table has more than one column {wanted:?}"))),
        }
    }
    let known = |place: usize| places.values().any(|taken| *taken == place);
    for (place, heading) in headings.iter().enumerate() {
        // A column that is not understood is told, so that no figure is lost without a word.
        if !heading.trim().is_empty() && !known(place) && !says_nothing_new(heading) {
            refusals.push(RowRefusal {
                line: 1,
                refusal: Refusal::new(
                    heading.chars().take(60).collect::<String>(),
                    "this column is not understood",
                )
                .given(heading.chars().take(60).collect::<String>())
                .accepted(
                    LabColumn::all().map(|column| columns.heading(column)).collect::<Vec<_>>().join(", "),
                )
                .example("take the column out, or rename it"),
            });
        }
    }
    if refusals.is_empty() { Ok(places) } else { Err(refusals) }
}

/// Columns of the CSV export that may come back and say nothing new.
fn says_nothing_new(heading: &str) -> bool {
    ["id", "number", "recorded_at", "recorded_by"].contains(&heading.trim())
}

struct Cells<'a> {
    record: &'a csv::StringRecord,
    places: &'a BTreeMap<LabColumn, usize>,
    columns: &'a LabColumns,
    /// Units of a depth that names none.
    system: UnitSystem,
}

impl Cells<'_> {
    fn text(&self, column: LabColumn) -> Option<&str> {
        self.places
            .get(&column)
            .and_then(|place| self.record.get(*place))
            .map(str::trim)
            .filter(|text| !text.is_empty())
    }

    fn refusal(&self, column: LabColumn, message: impl Into<String>) -> Refusal {
        Refusal::new(self.columns.heading(column), message)
            .given(self.text(column).unwrap_or("nothing").chars().take(60).collect::<String>())
            .accepted(column.accepted())
            .example(column.example())
    }

    fn required(&self, column: LabColumn) -> Result<&str, Refusal> {
        self.text(column).ok_or_else(|| self.refusal(column, "this cell is empty"))
    }

    /// A measure, in the unit that its heading names unless the cell names another.
    fn number<Q: Bounded>(&self, column: LabColumn) -> Result<Option<Q>, Refusal> {
        self.text(column)
            .map(|text| typed(self.columns.heading(column), text, field_unit(Q::UNIT, UnitSystem::Metric)))
            .transpose()
    }

    /// "0-15 cm", "6 in": a depth alone is measured from the surface.
    fn depth(&self) -> Result<Option<(SampleDepth, SampleDepth)>, Refusal> {
        let column = LabColumn::Depth;
        let Some(text) = self.text(column) else { return Ok(None) };
        let unit = field_unit(SampleDepth::UNIT, self.system);
        match typed_reading(self.columns.heading(column), text, unit)? {
            TypedReading::At(to) => Ok(Some((SampleDepth::literal(0.0), to))),
            TypedReading::Between(from, to) => Ok(Some((from, to))),
            TypedReading::NotSeen => Ok(None),
        }
    }

    /// A cell that holds one of a set of words.
    fn word<T: DeserializeOwned>(&self, column: LabColumn) -> Result<Option<T>, Refusal> {
        let Some(text) = self.text(column) else { return Ok(None) };
        let spaced = text.to_lowercase();
        let joined = spaced.replace([' ', '-'], "_");
        [spaced, joined]
            .into_iter()
            .find_map(|word| serde_json::from_value(Value::String(word)).ok())
            .map(Some)
            .ok_or_else(|| self.refusal(column, format!("{:?} is not known here", short(text))))
    }
}

fn row(cells: &Cells<'_>, line: u64) -> Result<Row, Refusal> {
    let plot = cells.required(LabColumn::Plot)?.to_owned();
    let date = cells.required(LabColumn::Date)?;
    let date: Date = date
        .parse()
        .map_err(|_| cells.refusal(LabColumn::Date, format!("{:?} is not a date", short(date))))?;
    let layer = match (cells.number(LabColumn::FromCm)?, cells.number(LabColumn::ToCm)?) {
        (None, None) => cells.depth()?,
        (None, Some(to)) => Some((SampleDepth::literal(0.0), to)),
        (Some(_), None) => {
            return Err(cells.refusal(LabColumn::ToCm, "the bottom of the layer is missing"));
        }
        (Some(from), Some(to)) => Some((from, to)),
    };
    let cores = match cells.text(LabColumn::Cores) {
        None => None,
        Some(text) => Some(
            text.parse()
                .map_err(|_| cells.refusal(LabColumn::Cores, format!("{:?} is not a count", short(text))))?,
        ),
    };
    let seen = measured(cells)?;
    let owned = |column| cells.text(column).unwrap_or_default().to_owned();
    Ok(Row {
        line,
        plot,
        date,
        layer,
        cores,
        bag: owned(LabColumn::Bag),
        by: owned(LabColumn::By),
        note: owned(LabColumn::Note),
        seen,
    })
}

/// Everything a row says was measured, at least one thing.
fn measured(cells: &Cells<'_>) -> Result<Vec<Seen>, Refusal> {
    let mut seen = Vec::new();
    match (cells.number(LabColumn::Sand)?, cells.number(LabColumn::Silt)?, cells.number(LabColumn::Clay)?) {
        (None, None, None) => {}
        (Some(sand_percent), Some(silt_percent), Some(clay_percent)) => {
            let texture = Seen::LabTexture(LabTexture {
                sand_percent,
                silt_percent,
                clay_percent,
                silt_limit: cells.word(LabColumn::SiltLimit)?.unwrap_or_default(),
                procedure: cells.word(LabColumn::Procedure)?.unwrap_or_default(),
            });
            texture.accept()?;
            seen.push(texture);
        }
        (sand, silt, _) => {
            let missing = match (sand, silt) {
                (None, _) => LabColumn::Sand,
                (_, None) => LabColumn::Silt,
                _ => LabColumn::Clay,
            };
            return Err(cells.refusal(missing, "sand, silt and clay go together, and one of them is missing"));
        }
    }
    if let Some(percent) = cells.number(LabColumn::OrganicMatter)? {
        seen.push(Seen::OrganicMatter(seen::OrganicMatter { percent, method: None }));
    }
    if let Some(mass) = cells.number(LabColumn::GravelMass)? {
        seen.push(Seen::Gravel(seen::Gravel::MassPercent(mass)));
    }
    if let Some(density) = cells.number(LabColumn::BulkDensity)? {
        seen.push(Seen::Packing(seen::Packing::BulkDensity(density)));
    }
    if let Some(ec_ds_m) = cells.number(LabColumn::Ec)? {
        let extract = cells.word(LabColumn::EcExtract)?.unwrap_or(seen::SalinityExtract::NotStated);
        seen.push(Seen::Salinity(seen::Salinity { ec_ds_m, extract }));
    }
    if seen.is_empty() {
        return Err(cells.refusal(LabColumn::Sand, "this row holds no result"));
    }
    Ok(seen)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

        /// Any text, and any text under a right heading: rows or refusals, never a panic.
        #[test]
        fn hostile_text_never_panics(
            text in "([ -~\n\r;,\t\"\u{e9}\u{0}]{0,40}|[0-9.,eE+-]{0,12}|nan|inf|1e999|Lower field|2026-04-12|,){0,12}",
            heading in any::<bool>(),
        ) {
            let heading = if heading {
                "plot,date,from_cm,to_cm,cores,bag,sand_percent,silt_percent,clay_percent,ec_ds_m,note\nEast,2026-04-12,"
            } else {
                ""
            };
            match read(&format!("{heading}{text}"), &LabColumns::default(), UnitSystem::Metric) {
                Ok(rows) => prop_assert!(rows.iter().all(|row| !row.seen.is_empty())),
                Err(refusals) => prop_assert!(!refusals.is_empty()),
            }
        }
    }
}
