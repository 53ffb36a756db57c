//! From the cells of a table to typed rows, every wrong cell named.

use ground::fertility::analysis::report::LabReport;
use ground::kit::units::{TypedReading, UnitSystem, field_unit, typed, typed_reading};
use ground::kit::{Bounded, Refusal};
use ground::texture::lab::LabTexture;
use jiff::civil::Date;
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::columns::LabColumn;
use super::figures;
use super::lab::LabImport;
use super::table::{Line, RowRefusal, Table, short};
use super::weather::dates;
use crate::model::{HeadingMeans, LabHeading, SampleDepth, Seen, seen};

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    pub(super) line: u64,
    pub(super) plot: String,
    /// Day of the sample or of the report; a bag that is known has its own.
    pub(super) date: Option<Date>,
    pub(super) layer: Option<(SampleDepth, SampleDepth)>,
    pub(super) cores: Option<u16>,
    pub(super) bag: String,
    pub(super) by: String,
    pub(super) note: String,
    pub(super) seen: Vec<Seen>,
}

/// Reads a whole table.
pub(super) fn read(text: &str, import: &LabImport, system: UnitSystem) -> Result<Vec<Row>, Vec<RowRefusal>> {
    let Table { headings, lines, delimiter, trouble } = Table::read(text, None)?;
    let width = headings.len();
    check_columns(&headings, import)?;
    let (mut rows, mut refusals) = (Vec::new(), Vec::new());
    for Line { number: line, cells } in &lines {
        let row = match spilled(cells, width, delimiter) {
            Some(refusal) => Err(vec![refusal]),
            None => row(&Cells { record: cells, import, system, delimiter }, *line),
        };
        match row {
            Ok(row) => rows.push(row),
            Err(all) => refusals.extend(all.into_iter().map(|refusal| RowRefusal { line: *line, refusal })),
        }
    }
    refusals.extend(trouble);
    if refusals.is_empty() { Ok(rows) } else { Err(refusals) }
}

/// The columns told must be those of the table, and none of them twice.
fn check_columns(headings: &csv::StringRecord, import: &LabImport) -> Result<(), Vec<RowRefusal>> {
    let mut refusals = Vec::new();
    let mut refuse = |refusal| refusals.push(RowRefusal { line: 1, refusal });
    let told: Vec<&str> = import.columns.iter().map(|column| column.heading.as_str()).collect();
    if headings.len() != told.len()
        || headings.iter().zip(&told).any(|(here, told)| here.trim() != told.trim())
    {
        refuse(
            Refusal::new("", "the columns told are not those of this table")
                .given(headings.iter().take(20).collect::<Vec<_>>().join(", "))
                .accepted(told.join(", ")),
        );
        return Err(refusals);
    }
    for (at, LabHeading { heading, means }) in import.columns.iter().enumerate() {
        let twin = import.columns[..at].iter().find(|other| clash(other.means, *means));
        if let Some(twin) = twin {
            refuse(
                Refusal::new(
                    heading,
                    format!("{heading:?} and {:?} are said to hold the same thing", twin.heading),
                )
                .given(means_words(*means))
                .accepted("one column for each thing; pass the other over"),
            );
        }
    }
    let has = |means: HeadingMeans| import.columns.iter().any(|column| column.means == means);
    if !has(HeadingMeans::Plot) && !has(HeadingMeans::BagLabel) {
        refuse(
            Refusal::new("plot", "no column says from which plot or bag the soil is")
                .given(headings.iter().take(20).collect::<Vec<_>>().join(", "))
                .accepted("a column with the name of the plot, or with the label of its bag")
                .example(LabColumn::Plot.example()),
        );
    }
    if !has(HeadingMeans::TakenOn)
        && !has(HeadingMeans::ReportedOn)
        && !has(HeadingMeans::BagLabel)
        && import.date.is_none()
    {
        refuse(
            Refusal::new("date", "no column holds a day, and none was told for the whole table")
                .given(headings.iter().take(20).collect::<Vec<_>>().join(", "))
                .accepted(LabColumn::Date.accepted())
                .example(LabColumn::Date.example()),
        );
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}

/// Two columns hold the same thing: for figures, the same analyte by the same procedure.
fn clash(one: HeadingMeans, other: HeadingMeans) -> bool {
    use HeadingMeans::{Figure, FromCm, FromIn, PassedOver, Recommended, ToCm, ToIn};
    match (one, other) {
        (PassedOver, _) | (_, PassedOver) => false,
        (Figure { analyte: a, procedure: p, .. }, Figure { analyte: b, procedure: q, .. }) => {
            a == b && p == q
        }
        (Recommended { what: a, .. }, Recommended { what: b, .. }) => a == b,
        (FromCm | FromIn, FromCm | FromIn) | (ToCm | ToIn, ToCm | ToIn) => true,
        (one, other) => one == other,
    }
}

/// What a column means, in words.
#[must_use]
pub fn means_words(means: HeadingMeans) -> String {
    match means {
        HeadingMeans::PassedOver => "passed over".to_owned(),
        HeadingMeans::BagLabel => "label on the bag".to_owned(),
        HeadingMeans::Plot => "name of the plot".to_owned(),
        HeadingMeans::Number => "the laboratory's number".to_owned(),
        HeadingMeans::TakenOn => "day the sample was taken".to_owned(),
        HeadingMeans::ReportedOn => "day of the report".to_owned(),
        HeadingMeans::Crop => "crop that is recommended for".to_owned(),
        HeadingMeans::FromCm => "top of the layer, cm".to_owned(),
        HeadingMeans::ToCm => "bottom of the layer, cm".to_owned(),
        HeadingMeans::FromIn => "top of the layer, in".to_owned(),
        HeadingMeans::ToIn => "bottom of the layer, in".to_owned(),
        HeadingMeans::FreeLime => "fizz with acid".to_owned(),
        HeadingMeans::Density => "density of the sample, g/cm³".to_owned(),
        HeadingMeans::Figure { analyte, procedure, unit } => {
            format!("{}, {}, {}", analyte.words(), procedure.words(), unit.words())
        }
        HeadingMeans::Recommended { what, unit } => {
            format!("recommended {}, {}", what.words(), unit.symbol())
        }
        HeadingMeans::Other { column } => column.heading().replace('_', " "),
    }
}

/// A row with more cells than headings: a decimal comma has parted a number, as a rule.
fn spilled(cells: &csv::StringRecord, width: usize, delimiter: u8) -> Option<Refusal> {
    let extra = cells.iter().skip(width).any(|cell| !cell.trim().is_empty());
    if !extra {
        return None;
    }
    let given: String = cells.iter().collect::<Vec<_>>().join(&char::from(delimiter).to_string());
    let refusal = Refusal::new("", format!("this row has {} cells under {width} headings", cells.len()));
    Some(if delimiter == b',' {
        Refusal {
            message: format!(
                "{}; a decimal comma in a table whose cells are parted by commas does that",
                refusal.message
            ),
            ..refusal
        }
        .given(short(&given))
        .accepted("decimal points, or cells parted by semicolons")
        .example("6.4")
    } else {
        refusal.given(short(&given)).accepted("one cell under each heading")
    })
}

pub(super) struct Cells<'a> {
    record: &'a csv::StringRecord,
    pub(super) import: &'a LabImport,
    /// Units of a depth that names none.
    system: UnitSystem,
    pub(super) delimiter: u8,
}

impl Cells<'_> {
    /// The cell of a column, unless it is empty.
    pub(super) fn cell(&self, place: usize) -> Option<&str> {
        self.record.get(place).map(str::trim).filter(|text| !text.is_empty())
    }

    fn place(&self, means: HeadingMeans) -> Option<usize> {
        self.import.columns.iter().position(|column| column.means == means)
    }

    pub(super) fn of(&self, means: HeadingMeans) -> Option<&str> {
        self.cell(self.place(means)?)
    }

    fn text(&self, column: LabColumn) -> Option<&str> {
        self.of(column.means())
    }

    pub(super) fn heading_of(&self, means: HeadingMeans) -> Option<&str> {
        Some(&self.import.columns[self.place(means)?].heading)
    }

    fn heading(&self, column: LabColumn) -> &str {
        self.heading_of(column.means()).unwrap_or_else(|| column.heading())
    }

    fn refusal(&self, column: LabColumn, message: impl Into<String>) -> Refusal {
        Refusal::new(self.heading(column), message)
            .given(self.text(column).unwrap_or("nothing").chars().take(60).collect::<String>())
            .accepted(column.accepted())
            .example(column.example())
    }

    /// A measure, in the unit that its heading names unless the cell names another.
    fn number<Q: Bounded>(&self, column: LabColumn) -> Result<Option<Q>, Refusal> {
        self.text(column)
            .map(|text| typed(self.heading(column), text, field_unit(Q::UNIT, UnitSystem::Metric)))
            .transpose()
    }

    /// The top or the bottom of the layer, whichever unit its column is in.
    fn end(&self, column: LabColumn, inches: HeadingMeans) -> Result<Option<SampleDepth>, Refusal> {
        match (self.number(column)?, self.of(inches)) {
            (None, Some(text)) => {
                let heading = self.heading_of(inches).unwrap_or_default();
                typed(heading, text, field_unit(SampleDepth::UNIT, UnitSystem::UsCustomary)).map(Some)
            }
            (found, _) => Ok(found),
        }
    }

    /// "0-15 cm", "6 in": a depth alone is measured from the surface.
    fn depth(&self) -> Result<Option<(SampleDepth, SampleDepth)>, Refusal> {
        let column = LabColumn::Depth;
        let Some(text) = self.text(column) else { return Ok(None) };
        let unit = field_unit(SampleDepth::UNIT, self.system);
        match typed_reading(self.heading(column), text, unit)? {
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

    fn day(&self, means: HeadingMeans) -> Result<Option<Date>, Refusal> {
        let Some(text) = self.of(means) else { return Ok(None) };
        dates::read(text, self.import.date_order).map(Some).map_err(|trouble| {
            Refusal::new(
                self.heading_of(means).unwrap_or_default(),
                format!("{:?} is not a date that can be read: {}", short(text), trouble.words()),
            )
            .given(short(text))
            .accepted(LabColumn::Date.accepted())
            .example(LabColumn::Date.example())
        })
    }
}

fn row(cells: &Cells<'_>, line: u64) -> Result<Row, Vec<Refusal>> {
    let mut refusals = Vec::new();
    let mut keep = |refusal: Refusal| refusals.push(refusal);
    let owned = |column| cells.text(column).unwrap_or_default().to_owned();
    let (plot, bag) = (owned(LabColumn::Plot), owned(LabColumn::Bag));
    if plot.is_empty() && bag.is_empty() {
        let column = if cells.place(HeadingMeans::Plot).is_some() { LabColumn::Plot } else { LabColumn::Bag };
        keep(cells.refusal(column, "this cell is empty"));
    }
    let taken = cells.day(HeadingMeans::TakenOn).unwrap_or_else(|refusal| {
        keep(refusal);
        None
    });
    let reported = cells.day(HeadingMeans::ReportedOn).unwrap_or_else(|refusal| {
        keep(refusal);
        None
    });
    let date = taken.or(reported).or(cells.import.date);
    let bare = cells.place(HeadingMeans::TakenOn).is_some() && cells.text(LabColumn::Date).is_none();
    if date.is_none() && bag.is_empty() && bare {
        keep(cells.refusal(LabColumn::Date, "this cell is empty"));
    }
    let layer = layer(cells).unwrap_or_else(|refusal| {
        keep(refusal);
        None
    });
    let cores = cells.text(LabColumn::Cores).and_then(|text| {
        text.parse()
            .map_err(|_| {
                keep(cells.refusal(LabColumn::Cores, format!("{:?} is not a count", short(text))));
            })
            .ok()
    });
    let (report, wrong) = figures::report(cells);
    let unread = !wrong.is_empty();
    wrong.into_iter().for_each(&mut keep);
    let seen = match measured(cells, report, unread) {
        Ok(seen) => seen,
        Err(refusal) => {
            keep(refusal);
            Vec::new()
        }
    };
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let (by, note) = (owned(LabColumn::By), owned(LabColumn::Note));
    Ok(Row { line, plot, date, layer, cores, bag, by, note, seen })
}

fn layer(cells: &Cells<'_>) -> Result<Option<(SampleDepth, SampleDepth)>, Refusal> {
    let from = cells.end(LabColumn::FromCm, HeadingMeans::FromIn)?;
    match (from, cells.end(LabColumn::ToCm, HeadingMeans::ToIn)?) {
        (None, None) => cells.depth(),
        (None, Some(to)) => Ok(Some((SampleDepth::literal(0.0), to))),
        (Some(_), None) => Err(cells.refusal(LabColumn::ToCm, "the bottom of the layer is missing")),
        (Some(from), Some(to)) => Ok(Some((from, to))),
    }
}

/// Everything a row says was measured, at least one thing.
fn measured(cells: &Cells<'_>, report: Option<LabReport>, unread: bool) -> Result<Vec<Seen>, Refusal> {
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
    seen.extend(report.map(Seen::LabReport));
    if seen.is_empty() && !unread {
        let column = if cells.place(LabColumn::Sand.means()).is_some() || !cells.import.has_figures() {
            LabColumn::Sand
        } else {
            LabColumn::Bag
        };
        return Err(cells.refusal(column, "this row holds no result"));
    }
    Ok(seen)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::LabColumns;
    use super::super::lab::read_for_test;
    use super::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

        /// Any text, and any text under a right heading: rows or refusals, never a panic.
        #[test]
        fn hostile_text_never_panics(
            text in "([ -~\n\r;,\t\"\u{e9}\u{0}]{0,40}|[0-9.,eE+<>-]{0,12}|nan|inf|1e999|Lower field|2026-04-12|,){0,12}",
            heading in any::<bool>(),
        ) {
            let heading = if heading {
                "plot,date,from_cm,to_cm,cores,bag,sand_percent,silt_percent,clay_percent,ec_ds_m,note,pH,P (M3) ppm,K lb/ac\nEast,2026-04-12,"
            } else {
                ""
            };
            match read_for_test(&format!("{heading}{text}"), &LabColumns::default()) {
                Ok(rows) => prop_assert!(rows.iter().all(|row| !row.seen.is_empty())),
                Err(refusals) => prop_assert!(!refusals.is_empty()),
            }
        }
    }
}
