//! Results of many bags typed at once: a row for each bag or point, a column for each thing that was read.
//!
//! [`read_results`] reads the whole table and refuses every wrong cell by its row and column; [`record_results`] stores
//! all of it in one write, or nothing.

mod cells;
mod column;
mod known;
mod of_plan;
mod row;
mod store;
mod table;

use book::Snapshot;
use book::model::seen::{MoistureFeel, SalinityExtract};
use book::model::{EntryId, SampleDepth, Seen, Spot};
use ground::kit::Refusal;
use ground::kit::units::UnitSystem;
use ground::texture::feel::Hand;
use ground::texture::jar::Dispersant;
use jiff::civil::Date;
use serde::Serialize;

use crate::plan::FarmPlan;

pub use column::Column;
pub use known::{KnownFigure, known_figures};
pub use of_plan::{PlanRow, plan_rows, usual_columns};
pub use row::may_be_second;
pub use store::{Kept, record_results};
pub use table::{TableRead, read_table, table_refusals};

/// Rows that one table may have.
pub const MOST_ROWS: usize = 500;

/// What is the same for all rows.
#[derive(Debug, Clone)]
pub struct ResultsAbout {
    /// The plot.
    pub plot: EntryId,
    /// The sampling plan the rows are bags or points of.
    pub plan: Option<EntryId>,
    /// The day on the records.
    pub on: Date,
    /// Who read it.
    pub by: String,
    /// Top of the layer of bags that are new to the book.
    pub from_cm: SampleDepth,
    /// Its bottom.
    pub to_cm: SampleDepth,
    /// The hand that felt.
    pub hand: Hand,
    /// What was put into jars.
    pub dispersant: Dispersant,
    /// How moist the ground was where the probe was pushed.
    pub moisture: MoistureFeel,
    /// What conductivity was measured in.
    pub extract: SalinityExtract,
    /// The laboratory; empty for a meter of one's own.
    pub laboratory: String,
    /// Is it a second reading of what the book has already, to be kept beside it?
    pub second_reading: bool,
    /// Units of numbers without one.
    pub units: UnitSystem,
}

/// One row as it was typed.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct ResultRow {
    /// What stands on the bag, or the number of the point.
    pub bag: String,
    /// One cell for each column.
    pub cells: Vec<String>,
    /// Anything else.
    pub note: String,
}

impl ResultRow {
    /// Is nothing typed into it but its name?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.cells.iter().chain([&self.note]).all(|cell| is_blank(cell))
    }
}

/// Was nothing read there? A dash stands for nothing, as on paper.
pub(crate) fn is_blank(cell: &str) -> bool {
    matches!(cell.trim(), "" | "-" | "\u{2013}" | "\u{2014}")
}

/// A cell that was refused.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CellRefusal {
    /// Its row, the first is 0.
    pub row: usize,
    /// What stands on its bag.
    pub bag: String,
    /// Its column, the first is 0; `None` where the row as a whole is meant, or its bag.
    pub column: Option<usize>,
    /// The column in words.
    pub column_words: String,
    /// What is wrong and what is accepted.
    pub refusal: Refusal,
}

/// A table that was read: nothing in it is wrong.
#[derive(Debug, Clone)]
pub struct Results {
    about: ResultsAbout,
    rows: Vec<ReadRow>,
    known_already: usize,
}

/// A row that was read.
#[derive(Debug, Clone)]
struct ReadRow {
    /// The plot it is from, or the zone of it.
    plot: EntryId,
    bag: String,
    /// Where it is from, where that is one place.
    spot: Option<Spot>,
    /// Cores in the bag, where its plan says so.
    cores: Option<u16>,
    /// The sample of the book that is this bag.
    sample: Option<EntryId>,
    note: String,
    seen: Vec<Seen>,
}

/// Reads a table of results against what the book holds. Rows without a result are passed over, and results that the
/// book has already (the same reading of the same bag on the same day) are counted and not stored again; one that says
/// otherwise than the book is refused, unless it is said to be a second reading.
///
/// # Errors
/// Every cell that is refused.
pub fn read_results(
    snapshot: &Snapshot,
    about: ResultsAbout,
    columns: &[Column],
    rows: &[ResultRow],
) -> Result<Results, Vec<CellRefusal>> {
    let mut results = Results { about, rows: Vec::new(), known_already: 0 };
    let mut refusals = whole_table(columns, rows);
    let plan = results.about.plan.and_then(|id| snapshot.sampling_plan(id)).map(|plan| &plan.body);
    let of_plan = plan.map(plan_rows);
    let farm = FarmPlan::of(snapshot);
    for (at, row) in rows.iter().enumerate().take(MOST_ROWS).filter(|(_, row)| !row.is_empty()) {
        let refuse = |column: Option<usize>, refusal: Refusal| CellRefusal {
            row: at,
            bag: row.bag.trim().to_owned(),
            column,
            column_words: column.and_then(|at| columns.get(at)).map_or("Bag", Column::words).to_owned(),
            refusal,
        };
        if let Err(refusal) = name_of(rows, at, of_plan.as_deref()) {
            refusals.push(refuse(None, refusal));
        }
        match cells::read_row(&results.about, columns, row) {
            Ok(seen) => {
                let told_otherwise = results.take(snapshot, &farm, plan, columns, row, seen);
                refusals.extend(told_otherwise.into_iter().map(|(column, refusal)| refuse(column, refusal)));
            }
            Err(all) => {
                refusals.extend(all.into_iter().map(|(column, refusal)| refuse(Some(column), refusal)))
            }
        }
    }
    if refusals.is_empty() && results.rows.is_empty() && results.known_already == 0 {
        refusals.push(of_table(
            Refusal::new("rows", "No result was typed")
                .given("nothing")
                .accepted("at least one reading in the row of its bag")
                .example("6.4 under pH"),
        ));
    }
    if refusals.is_empty() { Ok(results) } else { Err(refusals) }
}

/// How moist the ground was under the probe, which has to be said where the probe found something.
///
/// # Errors
/// Nothing was said, and a cell of [`Column::HardFrom`] is filled in.
pub fn probe_moisture(
    columns: &[Column],
    rows: &[ResultRow],
    said: Option<MoistureFeel>,
) -> Result<MoistureFeel, Refusal> {
    let probed = columns
        .iter()
        .position(|column| *column == Column::HardFrom)
        .is_some_and(|at| rows.iter().any(|row| row.cells.get(at).is_some_and(|cell| !is_blank(cell))));
    match said {
        Some(moisture) => Ok(moisture),
        // It goes into no record then.
        None if !probed => Ok(MoistureFeel::Moist),
        None => Err(Refusal::new("moisture", "How moist the ground was under the probe was not said")
            .given("nothing")
            .accepted("dry, slightly moist, moist, wet or at field capacity: the limits of roots hold in moist ground alone")
            .example("moist")),
    }
}

fn of_table(refusal: Refusal) -> CellRefusal {
    CellRefusal { row: 0, bag: String::new(), column: None, column_words: String::new(), refusal }
}

fn whole_table(columns: &[Column], rows: &[ResultRow]) -> Vec<CellRefusal> {
    let mut refusals = Vec::new();
    if rows.len() > MOST_ROWS {
        refusals.push(of_table(
            Refusal::new("rows", format!("{} rows are too many for one table", rows.len()))
                .given(rows.len())
                .accepted(format!("at most {MOST_ROWS} rows"))
                .example("30"),
        ));
    }
    for (at, column) in columns.iter().enumerate() {
        if columns[..at].contains(column) {
            let refusal = Refusal::new("columns", format!("{} stands over two columns", column.words()))
                .given(column.key())
                .accepted("each column once");
            refusals.push(CellRefusal {
                column: Some(at),
                column_words: column.words().to_owned(),
                ..of_table(refusal)
            });
        }
    }
    refusals
}

/// A bag has a name of its own.
fn name_of(rows: &[ResultRow], at: usize, of_plan: Option<&[PlanRow]>) -> Result<(), Refusal> {
    let name = rows[at].bag.trim();
    let refusal = |what: String| {
        Refusal::new("bag", what)
            .given(name)
            .accepted("what stands on the bag, or the number of the point; each one once")
            .example("LF-1")
    };
    if name.is_empty() {
        return Err(refusal("Results stand in this row, but not of which bag".to_owned()));
    }
    let twice = |row: &ResultRow| !row.is_empty() && row.bag.trim().eq_ignore_ascii_case(name);
    if rows[..at].iter().any(twice) {
        return Err(refusal(format!("{name} stands in two rows")));
    }
    if let Some(of_plan) = of_plan
        && !of_plan.iter().any(|row| row.number.to_string() == name)
    {
        let known = of_plan.iter().map(|row| row.number.to_string()).collect::<Vec<_>>();
        return Err(Refusal::new("bag", format!("This plan has no {name}"))
            .given(name)
            .accepted(format!("a number of the plan: {}", known.join(", ")))
            .example(known.first().map_or("1", String::as_str)));
    }
    Ok(())
}

impl Results {
    /// Does anything in it tell of sand, silt and clay?
    #[must_use]
    pub fn tells_texture(&self) -> bool {
        let tells = |seen: &Seen| matches!(seen, Seen::Jar(_) | Seen::Feel(_) | Seen::LabTexture(_));
        self.rows.iter().any(|row| row.seen.iter().any(tells))
    }
}
