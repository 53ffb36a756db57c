//! `import --lab`: laboratory results from a table; `import --undo`: a table taken back as a whole.

use book::model::weather::DateOrder;
use book::model::{HeadingMeans, LabHeading};
use book::{Book, BookError, LabColumn, LabImport, LabProposal, means_words, propose_lab_columns};
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::fertility::analysis::report::{Analyte, BasisDepth, Procedure, ReportUnit};
use ground::kit::units::{field_unit, typed};
use ground::kit::{Bounded, Refusal};
use serde::de::DeserializeOwned;
use serde_json::{Value, json};

use crate::args::Global;
use crate::near::nearest;
use crate::records::{self, Records};
use crate::report::{Report, columns, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// What is said of a laboratory's table.
#[derive(Debug, Args)]
#[group(id = "told_of_lab")]
pub(super) struct Told {
    /// Read a column under another heading; once for each
    #[arg(long = "column", value_name = "COLUMN=HEADING", requires = "lab")]
    headings: Vec<String>,
    /// Say what a heading means: "K (AA)=potassium ammonium_acetate lb_per_acre", or pass to leave it out
    #[arg(long = "meaning", value_name = "HEADING=WHAT [METHOD] [UNIT]", requires = "lab")]
    meanings: Vec<String>,
    /// The laboratory; what its columns mean is remembered by it
    #[arg(long, value_name = "NAME", requires = "lab")]
    laboratory: Option<String>,
    /// Depth that amounts per area speak of; needed where figures are in lb/acre or kg/ha
    #[arg(long, value_name = "DEPTH", requires = "lab")]
    basis_depth: Option<String>,
    /// Day of samples that have none in the table and whose bag is not known
    #[arg(long, value_name = "DAY", requires = "lab")]
    sampled: Option<String>,
    /// Which comes first in a date of the table
    #[arg(long, requires = "lab", value_parser = PossibleValuesParser::new(["year-first", "day-first", "month-first"]))]
    lab_dates: Option<String>,
    /// Show how the columns are read, and store nothing
    #[arg(long, requires = "lab")]
    show_columns: bool,
}

impl Told {
    /// Records the results of a table.
    pub(super) fn import(
        &self,
        book: &mut Book,
        text: &str,
        file_name: &str,
        by: &str,
        global: &Global,
        terminal: &Terminal,
    ) -> Result<Report, Trouble> {
        let snapshot = book.snapshot()?;
        let laboratory = self.laboratory.as_deref().unwrap_or_default().trim();
        let mut proposal =
            propose_lab_columns(text, &snapshot.laboratories, laboratory).map_err(BookError::Rows)?;
        self.put(&mut proposal)?;
        if self.show_columns {
            return shown(&proposal);
        }
        let unit = field_unit(BasisDepth::UNIT, global.system_or(snapshot.farm.body.units));
        let basis = self.basis_depth.as_deref().map(|text| typed("basis-depth", text, unit)).transpose()?;
        let date = self.sampled.as_deref().map(|text| crate::shelf::day("sampled", text)).transpose()?;
        let date_order = match self.lab_dates.as_deref() {
            Some("day-first") => DateOrder::DayMonthYear,
            Some("month-first") => DateOrder::MonthDayYear,
            Some(_) => DateOrder::YearMonthDay,
            None => proposal.date_order.unwrap_or(DateOrder::YearMonthDay),
        };
        let import = LabImport {
            laboratory: if laboratory.is_empty() {
                proposal.laboratory.clone().unwrap_or_default()
            } else {
                laboratory.to_owned()
            },
            file_name: file_name.to_owned(),
            basis_depth_cm: basis.or(proposal.basis_depth_cm),
            date,
            date_order,
            columns: told(&proposal)?,
        };
        let imported = book.import_lab_table(text, &import, &shelf::stamp(by)).map_err(|error| {
            let in_the_table = matches!(error, BookError::Rows(_));
            let trouble = Trouble::from(error);
            if in_the_table {
                trouble.hint(
                    "--column sand_percent=HEADING where a heading differs; --meaning says what a figure's heading means; \
                     --show-columns shows how they are read; --lab-columns lists the plain columns",
                )
            } else {
                trouble
            }
        })?;
        let mut words = format!(
            "Recorded {} results from {} new samples; {} stood in the book already.",
            imported.observations.len(),
            imported.samples.len(),
            imported.known_already
        );
        if let Some(id) = imported.import {
            words.push_str(&format!(" Undo it as a whole: import BOOK --undo {}.", records::short(book, id)));
        }
        let mut text = wrapped(&words, terminal.width, "  ");
        for remark in &imported.remarks {
            text.push_str(&format!("\n{}", wrapped(&format!("- {remark}"), terminal.width, "  ")));
        }
        let json = json!({
            "import": imported.import, "samples": imported.samples, "observations": imported.observations,
            "known_already": imported.known_already, "remarks": imported.remarks
        });
        Report::new(&json, text)
    }

    /// Puts what was said into the proposal.
    fn put(&self, proposal: &mut LabProposal) -> Result<(), Trouble> {
        for (column, heading) in headings(&self.headings)? {
            set(proposal, &heading, column.means(), "column")?;
        }
        for pair in &self.meanings {
            // The last equals sign parts, since a heading may hold one.
            let (heading, words) = pair.rsplit_once('=').ok_or_else(|| meaning_refused(pair))?;
            set(proposal, heading, meaning(pair, words)?, "meaning")?;
        }
        Ok(())
    }
}

/// Takes a table back as a whole.
pub(super) fn undo(book: &mut Book, text: &str, reason: &str, by: &str) -> Result<Report, Trouble> {
    let id = Records::of(book)?.find(text)?.id;
    let undone = book.undo_import(id, reason, &shelf::stamp(by))?;
    let words =
        format!("Undone: {undone} records made from that table no longer count. They stay in the history.");
    Report::new(&json!({ "undone": id, "records": undone }), words)
}

fn set(proposal: &mut LabProposal, heading: &str, means: HeadingMeans, option: &str) -> Result<(), Refusal> {
    let heading = heading.trim();
    let names: Vec<String> = proposal.columns.iter().map(|column| column.heading.clone()).collect();
    match proposal.columns.iter_mut().find(|column| column.heading.eq_ignore_ascii_case(heading)) {
        Some(column) => {
            (column.means, column.unit_open) = (Some(means), false);
            Ok(())
        }
        None => Err(Refusal::new(option, format!("the table has no column {heading:?}"))
            .given(heading)
            .accepted(names.join(", "))
            .example(nearest(heading, names.iter().map(String::as_str)).unwrap_or("pH"))),
    }
}

fn told(proposal: &LabProposal) -> Result<Vec<LabHeading>, Trouble> {
    proposal
        .columns
        .iter()
        .map(|column| match (column.means, column.unit_open) {
            (Some(means), false) => Ok(LabHeading { heading: column.heading.clone(), means }),
            (Some(_), true) => Err(Refusal::new(
                column.heading.clone(),
                "this heading does not say in which unit its figures are",
            )
            .given(&column.heading)
            .accepted("--meaning, with the unit")
            .example(format!("--meaning \"{}=potassium mehlich_3_icp ppm\"", column.heading))
            .into()),
            (None, _) => Err(Trouble::from(
                Refusal::new(column.heading.clone(), "this column is not understood")
                    .given(&column.heading)
                    .accepted("--meaning, which says what it holds, or pass to leave it out")
                    .example(format!("--meaning \"{}=pass\"", column.heading)),
            )),
        })
        .collect()
}

fn of_key<T: DeserializeOwned>(key: &str) -> Option<T> {
    serde_json::from_value(Value::String(key.to_owned())).ok()
}

/// "potassium ammonium_acetate lb_per_acre", "bag_label", "pass".
fn meaning(pair: &str, words: &str) -> Result<HeadingMeans, Refusal> {
    let lower = words.trim().to_lowercase();
    let words: Vec<&str> = lower.split_whitespace().collect();
    let refused = || meaning_refused(pair);
    let (first, rest) = words.split_first().ok_or_else(refused)?;
    if rest.is_empty() {
        if *first == "pass" {
            return Ok(HeadingMeans::PassedOver);
        }
        if let Ok(means) = serde_json::from_value::<HeadingMeans>(json!({ "is": first })) {
            return Ok(means);
        }
        if let Some(column) = of_key::<LabColumn>(first) {
            return Ok(column.means());
        }
    }
    let analyte: Analyte = of_key(first).ok_or_else(refused)?;
    let mut procedure = Procedure::NotStated;
    let mut unit = match analyte.units() {
        [only] => Some(*only),
        _ => None,
    };
    for word in rest {
        if let Some(found) = of_key::<ReportUnit>(word) {
            unit = Some(found);
        } else {
            procedure = of_key(word).ok_or_else(refused)?;
        }
    }
    let unit = unit.filter(|unit| analyte.units().contains(unit)).ok_or_else(refused)?;
    if !procedure.fits(analyte) {
        return Err(refused());
    }
    Ok(HeadingMeans::Figure { analyte, procedure, unit })
}

fn meaning_refused(pair: &str) -> Refusal {
    Refusal::new("meaning", format!("{pair:?} does not say what a heading means"))
        .given(pair)
        .accepted(
            "HEADING=WHAT METHOD UNIT with the keys of the record, the method left out where it is not stated; or HEADING=pass, \
             plot, bag_label, number, taken_on, reported_on",
        )
        .example("K (AA)=potassium ammonium_acetate ppm")
}

fn shown(proposal: &LabProposal) -> Result<Report, Trouble> {
    let rows: Vec<Vec<String>> = proposal
        .columns
        .iter()
        .map(|column| {
            let means = match (column.means, column.unit_open) {
                (Some(means), false) => means_words(means),
                (Some(means), true) => format!("{} (unit not said)", means_words(means)),
                (None, _) => "not understood".to_owned(),
            };
            vec![column.heading.clone(), means, column.cells.join(", ")]
        })
        .collect();
    let mut text = columns(&rows, "");
    if let Some(laboratory) = &proposal.laboratory {
        text = format!("Read as the tables of {laboratory} before.\n{text}");
    }
    Report::new(proposal, text)
}

fn headings(pairs: &[String]) -> Result<Vec<(LabColumn, String)>, Refusal> {
    pairs
        .iter()
        .map(|pair| {
            let known = pair.split_once('=').and_then(|(name, heading)| {
                Some((
                    LabColumn::all().find(|column| column.heading() == name.trim())?,
                    heading.trim().to_owned(),
                ))
            });
            known.ok_or_else(|| {
                let names: Vec<&str> = LabColumn::all().map(LabColumn::heading).collect();
                Refusal::new("column", format!("{pair:?} does not name a column"))
                    .given(pair)
                    .accepted(format!("COLUMN=HEADING, with one of {}", names.join(", ")))
                    .example("clay_percent=Clay (%)")
            })
        })
        .collect()
}

/// The columns that a table may have.
pub(super) fn list_columns() -> Result<Report, Trouble> {
    let rows: Vec<Vec<String>> = LabColumn::all()
        .map(|column| {
            vec![
                column.heading().to_owned(),
                if column.required() { "required".to_owned() } else { String::new() },
                column.accepted().to_owned(),
                format!("such as {}", column.example()),
            ]
        })
        .collect();
    let json: Vec<Value> = LabColumn::all()
        .map(|column| {
            json!({
                "column": column.heading(), "required": column.required(),
                "accepted": column.accepted(), "example": column.example()
            })
        })
        .collect();
    Report::new(&json!({ "columns": json }), columns(&rows, ""))
}
