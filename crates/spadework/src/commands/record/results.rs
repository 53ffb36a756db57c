//! `record results`: what was read of many bags or points, from a table; all of it is stored, or nothing.

use std::io::Read;
use std::path::PathBuf;

use advice::results::{
    Column, ResultsAbout, TableRead, may_be_second, probe_moisture, read_results, read_table, record_results,
    table_refusals,
};
use advice::{Options, plot_report};
use book::model::SampleDepth;
use book::model::seen::{MoistureFeel, SalinityExtract};
use book::{BookError, RowRefusal};
use clap::builder::PossibleValuesParser;
use clap::{Args, ValueEnum};
use ground::kit::units::{UnitSystem, field_unit, typed};
use ground::kit::{Bounded, Refusal};
use ground::texture::feel::Hand;
use ground::texture::jar::Dispersant;
use jiff::ZonedDateTime;
use serde_json::json;

use super::moisture::step;
use crate::args::Global;
use crate::commands::feel::HandWord;
use crate::commands::jar_args::DispersantWord;
use crate::report::{Report, wrapped};
use crate::shelf::{self, Witnessed};
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// Larger than any table of bags; keeps something huge named by mistake from filling memory.
const LARGEST_BYTES: u64 = 16 * 1024 * 1024;

/// Options of `record results`.
#[derive(Debug, Args)]
#[command(
    after_help = "The table has a line of headings and a line for each bag: bag (or point), any of sand_top, silt_top, clay_top, feel,
sand_percent, silt_percent, clay_percent, organic_matter, ec and hard_from, figures of a laboratory or a meter by
their headings (pH, \"P (Mehlich-3) ppm\"), and note. Cells may carry units, and stay empty where nothing was read.
With a plan the bags are its numbers; without one, what stands on the bag: the same name, day and depth is the same bag.

Examples:
  spadework record results home.farmbook --plan \"Lower field\" --csv results.csv
  printf 'bag,pH,feel\\n1,6.4,1 1/4 in gritty\\n2,6.6,no ribbon\\n' |
    spadework record results home.farmbook --plan \"Lower field\" --csv -
  spadework record results home.farmbook --plot \"Lower field\" --to 6in --csv results.csv --laboratory \"County laboratory\""
)]
pub(crate) struct RecordResults {
    /// The farm book
    book: PathBuf,
    /// The sampling plan: its id, its name, or the name of its plot for the last one made there
    #[arg(long, required_unless_present = "plot", conflicts_with = "plot")]
    plan: Option<String>,
    /// The plot, for bags without a plan
    #[arg(long)]
    plot: Option<String>,
    /// The table, as CSV; - reads it from stdin
    #[arg(long, value_name = "FILE")]
    csv: String,
    /// Top of the layer of bags that are new to the book; the plan's, unless said, else the surface
    #[arg(long, value_name = "DEPTH")]
    from: Option<String>,
    /// Bottom of that layer; the plan's, unless said
    #[arg(long, value_name = "DEPTH")]
    to: Option<String>,
    /// How practised the hand that felt is
    #[arg(long, value_enum, default_value = "new")]
    hand: HandWord,
    /// What was put into the jars
    #[arg(long, value_enum, default_value = "dishwasher-powder")]
    dispersant: DispersantWord,
    /// How moist the ground was under the probe; needed with hard_from
    #[arg(long, value_name = "STEP", value_parser = PossibleValuesParser::new(MoistureFeel::ALL.map(step)))]
    moisture: Option<String>,
    /// What conductivity was measured in
    #[arg(long, value_enum, default_value = "not-stated")]
    extract: ExtractWord,
    /// The laboratory; left out for a meter of your own
    #[arg(long, value_name = "NAME", default_value = "")]
    laboratory: String,
    /// Keep them beside what the book has of the same bag and day, where they say otherwise
    #[arg(long)]
    second_reading: bool,
    #[command(flatten)]
    witnessed: Witnessed,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum ExtractWord {
    /// Extract of the saturated paste
    SaturatedPaste,
    /// One part soil, one part water
    OneToOne,
    /// One part soil, two parts water
    OneToTwo,
    /// One part soil, five parts water
    OneToFive,
    /// Not said
    NotStated,
}

impl From<ExtractWord> for SalinityExtract {
    fn from(word: ExtractWord) -> Self {
        match word {
            ExtractWord::SaturatedPaste => Self::SaturatedPaste,
            ExtractWord::OneToOne => Self::OneToOne,
            ExtractWord::OneToTwo => Self::OneToTwo,
            ExtractWord::OneToFive => Self::OneToFive,
            ExtractWord::NotStated => Self::NotStated,
        }
    }
}

impl RecordResults {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let units = global.system_or(snapshot.farm.body.units);
        let plan = self.plan.as_deref().map(|name| shelf::sampling_plan(&snapshot, name)).transpose()?;
        let plot = match plan {
            Some(plan) => snapshot
                .plot(plan.body.plot)
                .ok_or_else(|| Trouble::other("the plot of this sampling plan was withdrawn"))?,
            None => shelf::plot(&snapshot, self.plot.as_deref().unwrap_or_default())?,
        };
        let (columns, rows, lines): TableRead =
            read_table(&text_of(&self.csv)?).map_err(|refused| told(refused, units))?;
        let of_plan = plan.map(|plan| (plan.body.from_cm, plan.body.to_cm));
        let (from_cm, to_cm) = self.layer(of_plan, &columns, units)?;
        let moisture = self
            .moisture
            .as_deref()
            .and_then(|word| MoistureFeel::ALL.into_iter().find(|feel| step(*feel) == word));
        let day = self.witnessed.day();
        let about = ResultsAbout {
            plot: plot.id,
            plan: plan.map(|plan| plan.id),
            // A day that is refused is told together with the cells.
            on: day.as_ref().copied().unwrap_or_else(|_| ZonedDateTime::now().date()),
            by: self.witnessed.by.trim().to_owned(),
            from_cm,
            to_cm,
            hand: Hand::from(self.hand),
            dispersant: Dispersant::from(self.dispersant),
            moisture: probe_moisture(&columns, &rows, moisture)?,
            extract: self.extract.into(),
            laboratory: self.laboratory.trim().to_owned(),
            second_reading: self.second_reading || day.is_err(),
            units,
        };
        let results = read_results(&snapshot, about, &columns, &rows)
            .map_err(|refused| told(table_refusals(refused, &lines), units));
        let results = match (day, results) {
            (Ok(_), results) => results?,
            (Err(day), Ok(_)) => return Err(day.into()),
            (Err(day), Err(cells)) => return Err(Trouble::from(day).and(&cells)),
        };
        let tells_texture = results.tells_texture();
        let kept = record_results(&mut book, &results, &self.witnessed.stamp())
            .map_err(|error| in_units(error, units))?;
        // The make-up is told where something that tells of it was typed.
        let headline = if tells_texture {
            let options = Options { weigh_measurements: false, ..Options::default() };
            plot_report(&book.snapshot()?, plot.id, &options).map(|report| report.headline)
        } else {
            None
        };
        let stood = match kept.known_already {
            0 => String::new(),
            1 => " One stood in the book already.".to_owned(),
            known => format!(" {known} stood in the book already."),
        };
        let recorded = format!(
            "Recorded: {}, {}, {}.{stood}",
            counted(kept.observations.len(), "result"),
            counted(kept.samples.len(), "new bag"),
            plot.body.name
        );
        let mut text = wrapped(&recorded, terminal.width, "  ");
        if let Some(headline) = &headline {
            text.push_str(&format!("\n{}", wrapped(headline, terminal.width, "")));
        }
        Report::new(&json!({ "recorded": kept, "headline": headline }), text)
    }

    /// The layer of new bags. What is probed in place goes into none.
    fn layer(
        &self,
        of_plan: Option<(SampleDepth, SampleDepth)>,
        columns: &[Column],
        units: UnitSystem,
    ) -> Result<(SampleDepth, SampleDepth), Trouble> {
        let unit = field_unit(SampleDepth::UNIT, units);
        let typed_depth = |field: &str, text: &Option<String>| {
            text.as_deref().map(|text| typed::<SampleDepth>(field, text, unit)).transpose()
        };
        let from = typed_depth("from", &self.from)?.or(of_plan.map(|(from, _)| from));
        let to = typed_depth("to", &self.to)?.or(of_plan.map(|(_, to)| to));
        let in_place = columns.iter().all(|column| *column == Column::HardFrom);
        let surface = SampleDepth::literal(0.0);
        match to {
            Some(to) => Ok((from.unwrap_or(surface), to)),
            None if in_place => Ok((surface, SampleDepth::literal(15.0))),
            None => Err(Refusal::new("to", "say how deep these bags were taken")
                .given("nothing")
                .accepted("the bottom of the layer; a sampling plan brings its own")
                .example(if units == UnitSystem::Metric { "15cm" } else { "6in" })
                .into()),
        }
    }
}

fn counted(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// Every wrong cell by its line, in the units of the person who typed it.
fn told(refused: Vec<RowRefusal>, units: UnitSystem) -> Trouble {
    let otherwise = refused.iter().any(|row| may_be_second(&row.refusal));
    let rows =
        refused.into_iter().map(|row| RowRefusal { refusal: row.refusal.in_units(units), ..row }).collect();
    let trouble = Trouble::from(BookError::Rows(rows));
    if otherwise {
        trouble
            .hint("--second-reading, where it is one; spadework correct BOOK RECORD, where the book is wrong")
    } else {
        trouble
    }
}

/// The table's text.
fn text_of(name: &str) -> Result<String, Trouble> {
    let mut bytes = Vec::new();
    let read = if name == "-" {
        std::io::stdin().lock().take(LARGEST_BYTES).read_to_end(&mut bytes)
    } else {
        std::fs::File::open(name).and_then(|file| file.take(LARGEST_BYTES).read_to_end(&mut bytes))
    };
    read.map_err(|error| {
        Trouble::other(format!("{name} could not be read: {error}"))
            .hint("check the name, or use --csv - and give the table on stdin")
    })?;
    Ok(book::table_text(&bytes)?)
}
