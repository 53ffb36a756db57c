//! `record job` and `record own-job`: a person's word on a job of the work plan.

use std::path::PathBuf;

use advice::work::{Job, answer, change, changed_materials, done, keep_done, spoken};
use book::BookError;
use book::model::{JobChange, JobChoice, JobDone, JobWord, OWN_JOB, PlannedJob, SpreadMass};
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::kit::units::{UnitSystem, field_unit, typed};
use ground::kit::{Bounded, Refusal};
use jiff::ZonedDateTime;
use serde_json::json;

use crate::args::Global;
use crate::commands::work::{find, plan};
use crate::records;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// Options of `record job`.
#[derive(Debug, Args)]
#[command(
    after_help = "A job marked done writes down what was spread, as planned where --amount says nothing else; that feeds the
balance of the plot and is taken off the shelf.

Examples:
  spadework record job home.farmbook \"mulch Lower\" accepted
  spadework record job home.farmbook \"raise Creek\" postponed --until 2026-10-01
  spadework record job home.farmbook \"mulch Lower\" refused --reason \"No straw to be had\"
  spadework record job home.farmbook \"feather meal Rows\" done --on 2026-04-12 --amount \"feather meal=4lb\""
)]
pub(crate) struct RecordJob {
    /// The farm book
    book: PathBuf,
    /// The job: its key, a part of it, or words of what it says and where
    job: String,
    /// What you say
    #[arg(value_parser = PossibleValuesParser::new(["accepted", "changed", "postponed", "refused", "done"]))]
    word: String,
    /// Day until which it is put off
    #[arg(long, value_name = "DATE")]
    until: Option<String>,
    /// Day it was done, or the other day on which it will be
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// Amount of a material, such as "feather meal=4lb"; may stand several times. 0 for one that was not spread
    #[arg(long, value_name = "MATERIAL=MASS")]
    amount: Vec<String>,
    /// Why
    #[arg(long, default_value = "")]
    reason: String,
    /// What will be, or was, done otherwise
    #[arg(long, default_value = "")]
    note: String,
    /// Who says so
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl RecordJob {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let today = ZonedDateTime::now().date();
        let plan = plan(&snapshot, today);
        let job = find(&plan, &self.job)?;
        let amounts = self.amounts(job, system)?;
        let on = self.on.as_deref().map(|text| shelf::day("on", text)).transpose()?;
        let until = self.until.as_deref().map(|text| shelf::day("until", text)).transpose()?;
        let before = snapshot.job(&job.key);
        let number = before.map_or(0, |held| held.number);
        let stamp = shelf::stamp(&self.by);
        let said = spoken(&snapshot, job);
        let kept = if self.word == "done" {
            let on = on.unwrap_or(today);
            if on > today {
                return Err(Refusal::new("on", format!("{on} has not come yet"))
                    .given(on)
                    .accepted("the day it was done, today at the latest")
                    .example(today)
                    .into());
            }
            let word = done(&snapshot, job, JobDone { on, note: self.note.clone() }, &amounts, None);
            book.write(|writing| keep_done(writing, before, number, word, &stamp))
        } else {
            let word = JobWord { reason: self.reason.clone(), until: None, changed: None, ..said };
            let word = match self.word.as_str() {
                "accepted" => JobWord { choice: JobChoice::Accepted, ..word },
                "postponed" => JobWord { choice: JobChoice::Postponed, until, ..word },
                "refused" => JobWord { choice: JobChoice::Refused, ..word },
                _ => {
                    let materials = changed_materials(job, &amounts);
                    change(word, JobChange { on, materials, note: self.note.clone() })
                }
            };
            book.write(|writing| answer(writing, before, number, word, &stamp))
        };
        let kept = kept.map_err(placed).map_err(|error| in_units(error, system))?;
        let text = format!(
            "Recorded: {}, {} is {} (record {}).",
            job.what,
            job.place,
            self.word,
            records::short(&book, kept.id)
        );
        Report::new(&json!({ "recorded": kept }), wrapped(&text, terminal.width, "  "))
    }

    /// The amounts: as planned, with those that were given.
    fn amounts(&self, job: &Job, system: UnitSystem) -> Result<Vec<(usize, SpreadMass)>, Refusal> {
        let mut amounts: Vec<(usize, Option<SpreadMass>)> =
            job.spread.iter().enumerate().map(|(at, spread)| (at, SpreadMass::new(spread.kg).ok())).collect();
        for pair in &self.amount {
            let names: Vec<&str> = job.spread.iter().map(|spread| spread.name.as_str()).collect();
            let refused = |message: String| {
                Refusal::new("amount", message)
                    .given(pair)
                    .accepted(if names.is_empty() {
                        "nothing: this job spreads nothing".to_owned()
                    } else {
                        format!("a material of the job and a mass: {}", names.join(", "))
                    })
                    .example(format!("{}=4lb", names.first().unwrap_or(&"feather meal")))
            };
            let (name, mass) = pair
                .split_once('=')
                .ok_or_else(|| refused(format!("{pair:?} is not a material and its mass")))?;
            let named = |spread: &advice::work::Spread| spread.name.trim().eq_ignore_ascii_case(name.trim());
            let at = job
                .spread
                .iter()
                .position(named)
                .ok_or_else(|| refused(format!("the job takes no {:?}", name.trim())))?;
            amounts[at].1 = if mass.trim() == "0" {
                None
            } else {
                Some(typed::<SpreadMass>("amount", mass, field_unit(SpreadMass::UNIT, system))?)
            };
        }
        Ok(amounts.into_iter().filter_map(|(at, kg)| Some((at, kg?))).collect())
    }
}

/// Names of the book as the options have them.
fn placed(error: BookError) -> BookError {
    match error {
        BookError::Refused(refusal) => {
            let field = match refusal.field.as_str() {
                "changed" | "changed.note" | "done_on" => "on",
                "key" => "job",
                "as_planned.what" => "what",
                "as_planned.to" => "to",
                "as_planned.place" => "place",
                other => other,
            }
            .to_owned();
            BookError::Refused(Refusal { field, ..refusal })
        }
        other => other,
    }
}

/// Options of `record own-job`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework record own-job home.farmbook \"Mend the end wall\" --plot \"East tunnel\" --to 2026-10-15")]
pub(crate) struct RecordOwnJob {
    /// The farm book
    book: PathBuf,
    /// What is to be done
    what: String,
    /// The plot it is about
    #[arg(long, value_name = "NAME")]
    plot: Option<String>,
    /// Where, in words
    #[arg(long, value_name = "WORDS")]
    place: Option<String>,
    /// First day that suits
    #[arg(long, value_name = "DATE")]
    from: Option<String>,
    /// Last day that suits
    #[arg(long, value_name = "DATE")]
    to: Option<String>,
    /// Anything else
    #[arg(long, default_value = "")]
    note: String,
    /// Who says so
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl RecordOwnJob {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let plot = self.plot.as_deref().map(|name| shelf::plot(&snapshot, name)).transpose()?;
        let day = |field: &str, text: &Option<String>| {
            text.as_deref().map(|text| shelf::day(field, text)).transpose()
        };
        let stamp = shelf::stamp(&self.by);
        let word = JobWord {
            // The moment tells jobs of one person apart.
            key: format!("{OWN_JOB}{}", stamp.at.as_microsecond()),
            plot: plot.map(|plot| plot.id),
            bed: None,
            choice: JobChoice::Accepted,
            until: None,
            changed: None,
            reason: self.note.clone(),
            done: None,
            as_planned: PlannedJob {
                what: self.what.trim().to_owned(),
                place: self
                    .place
                    .clone()
                    .or_else(|| plot.map(|plot| plot.body.name.clone()))
                    .unwrap_or_default(),
                from: day("from", &self.from)?,
                to: day("to", &self.to)?,
                materials: Vec::new(),
            },
        };
        let kept = book.record(word, &stamp).map_err(placed).map_err(|error| in_units(error, system))?;
        let text = format!(
            "Recorded: job {:?} (record {}).",
            kept.body.as_planned.what,
            records::short(&book, kept.id)
        );
        Report::new(&json!({ "recorded": kept }), wrapped(&text, terminal.width, "  "))
    }
}
