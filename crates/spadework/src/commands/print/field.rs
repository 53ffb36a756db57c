//! Sheets for the field: a sampling plan's, bag labels, the jar strip, the feel card, the probe form.

use std::path::PathBuf;

use book::Snapshot;
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::kit::Bounded;
use ground::kit::units::{UnitSystem, field_unit, typed};
use ground::texture::jar::{JarHeight, JarTemperature};
use jiff::ZonedDateTime;
use report::SheetOptions;
use report::field::{
    JarStripAsk, LabelAsk, LabelStock, ProbeFormAsk, feel_card_pdf, jar_strip_pdf, labels_pdf, plan_labels,
    plan_sheet_pdf, probe_form_pdf, sample_labels, samples_to_label,
};

use super::{OnPaper, Out};
use crate::args::Global;
use crate::report::Report;
use crate::shelf;
use crate::trouble::Trouble;

/// Options of the field sheet.
#[derive(Debug, Args)]
pub(super) struct FieldSheet {
    /// The farm book
    book: PathBuf,
    /// The sampling plan: its id, its name, or the name of its plot for the last one made there
    #[arg(long)]
    plan: String,
    #[command(flatten)]
    paper: OnPaper,
}

impl FieldSheet {
    pub(super) fn print(&self, global: &Global) -> Result<Report, Trouble> {
        self.paper.out.may_be_written()?;
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let plan = shelf::sampling_plan(&snapshot, &self.plan)?;
        let units = global.system_or(snapshot.farm.body.units);
        let options = self.paper.options(&snapshot, global, ZonedDateTime::now().date());
        self.paper.out.write("field sheet", plan_sheet_pdf(&snapshot, plan, units, &options), units)
    }
}

/// Options of the labels.
#[derive(Debug, Args)]
#[command(
    after_help = "Without a plan the bags of a plot that are in the book get labels: those of the last day on which any was taken,
or of --day, or those named with --sample.

Examples:
  spadework print labels home.farmbook --plan \"Lower field\" --out labels.pdf
  spadework print labels home.farmbook --plot \"Lower field\" --sample LF-1 --sample LF-2 --out labels.pdf --edges"
)]
pub(super) struct Labels {
    /// The farm book
    book: PathBuf,
    /// The sampling plan: its id, its name, or the name of its plot for the last one made there
    #[arg(long, required_unless_present = "plot", conflicts_with = "plot")]
    plan: Option<String>,
    /// The plot whose bags get labels
    #[arg(long)]
    plot: Option<String>,
    /// Label on a bag of that plot, or the id of its record; once for each
    #[arg(long = "sample", value_name = "LABEL", requires = "plot")]
    samples: Vec<String>,
    /// The sheet of labels; the usual one of the farm's paper, unless said
    #[arg(long, value_name = "SHEET", value_parser = stocks())]
    stock: Option<String>,
    /// The first label still on the sheet, counted along the rows
    #[arg(long, value_name = "N", default_value_t = 1)]
    start: u16,
    /// The day to print on a plan's labels, which else have a line to write it on; with --plot the day they were taken
    #[arg(long, value_name = "DATE")]
    day: Option<String>,
    /// Draw the edges: for plain paper that is cut up, and to try the measures
    #[arg(long)]
    edges: bool,
    #[command(flatten)]
    out: Out,
}

/// The sheets of labels by their keys, each with its measures.
fn stocks() -> PossibleValuesParser {
    PossibleValuesParser::new(
        LabelStock::ALL.iter().map(|stock| clap::builder::PossibleValue::new(stock.key).help(stock.words)),
    )
}

impl Labels {
    pub(super) fn print(&self, global: &Global) -> Result<Report, Trouble> {
        self.out.may_be_written()?;
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let units = global.system_or(snapshot.farm.body.units);
        let day = self.day.as_deref().map(|text| shelf::day("day", text)).transpose()?;
        let options = SheetOptions::of(&snapshot, units, ZonedDateTime::now().date());
        let labels = if let Some(plan) = &self.plan {
            plan_labels(&snapshot, shelf::sampling_plan(&snapshot, plan)?, units, day)
        } else {
            let plot = shelf::plot(&snapshot, self.plot.as_deref().unwrap_or_default())?;
            let named = self
                .samples
                .iter()
                .map(|label| Ok(shelf::sample(&snapshot, plot.id, label)?.id))
                .collect::<Result<Vec<_>, Trouble>>()?;
            let samples = samples_to_label(&snapshot, plot.id, &named, day)?;
            sample_labels(&snapshot, &samples, units)
        };
        let stock = self.stock.as_deref().and_then(LabelStock::of_key);
        let ask = LabelAsk {
            stock: stock.unwrap_or_else(|| LabelStock::usual(options.paper)),
            start: self.start,
            edges: self.edges,
        };
        self.out.write(
            &format!("labels ({}, on {})", labels.len(), ask.stock.words),
            labels_pdf(&labels, &ask, &options),
            units,
        )
    }
}

/// A book that may be left out: it gives the farm's name and units.
fn maybe_book(book: Option<&PathBuf>) -> Result<Option<Snapshot>, Trouble> {
    book.map(|path| Ok(shelf::read(path)?.snapshot()?)).transpose()
}

fn units_of(snapshot: Option<&Snapshot>, global: &Global) -> UnitSystem {
    snapshot.map_or_else(|| global.system(), |snapshot| global.system_or(snapshot.farm.body.units))
}

/// Options of the jar strip.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework print jar-strip --jar-height 6.5in --water-height 6in --soil-height 1.5in --water-temperature 68F --out strip.pdf")]
pub(super) struct JarStrip {
    /// The farm book, for its name and units; may be left out
    book: Option<PathBuf>,
    /// Height of the jar's straight wall, from the inner floor to where the shoulder begins
    #[arg(long, value_name = "HEIGHT")]
    jar_height: String,
    /// Height of the water above the inner floor
    #[arg(long, value_name = "HEIGHT")]
    water_height: String,
    /// Height of the loose dry soil before the water; left out, the times are those of little soil
    #[arg(long, value_name = "HEIGHT")]
    soil_height: Option<String>,
    /// Temperature of the water
    #[arg(long, value_name = "TEMPERATURE")]
    water_temperature: String,
    #[command(flatten)]
    paper: OnPaper,
}

impl JarStrip {
    pub(super) fn print(&self, global: &Global) -> Result<Report, Trouble> {
        self.paper.out.may_be_written()?;
        let snapshot = maybe_book(self.book.as_ref())?;
        let units = units_of(snapshot.as_ref(), global);
        let height =
            |field: &str, text: &str| typed::<JarHeight>(field, text, field_unit(JarHeight::UNIT, units));
        let ask = JarStripAsk {
            jar_height_mm: height("jar-height", &self.jar_height)?,
            water_height_mm: height("water-height", &self.water_height)?,
            soil_height_mm: self
                .soil_height
                .as_deref()
                .map(|text| height("soil-height", text))
                .transpose()?,
            water_temperature_c: typed::<JarTemperature>(
                "water-temperature",
                &self.water_temperature,
                field_unit(JarTemperature::UNIT, units),
            )?,
        };
        let options = self.paper.options_of(snapshot.as_ref(), units);
        self.paper.out.write("jar strip", jar_strip_pdf(&ask, units, &options), units)
    }
}

/// Options of the feel card.
#[derive(Debug, Args)]
pub(super) struct FeelCard {
    /// The farm book, for its name and units; may be left out
    book: Option<PathBuf>,
    #[command(flatten)]
    paper: OnPaper,
}

impl FeelCard {
    pub(super) fn print(&self, global: &Global) -> Result<Report, Trouble> {
        self.paper.out.may_be_written()?;
        let snapshot = maybe_book(self.book.as_ref())?;
        let units = units_of(snapshot.as_ref(), global);
        let options = self.paper.options_of(snapshot.as_ref(), units);
        self.paper.out.write("feel-test card", feel_card_pdf(units, &options), units)
    }
}

/// Options of the probe form.
#[derive(Debug, Args)]
pub(super) struct ProbeForm {
    /// The farm book, for its name and units; may be left out
    book: Option<PathBuf>,
    /// The plot it is for
    #[arg(long, requires = "book", conflicts_with = "plan")]
    plot: Option<String>,
    /// The sampling plan whose points it lists: its id, its name, or the name of its plot for the last one made there
    #[arg(long, requires = "book")]
    plan: Option<String>,
    #[command(flatten)]
    paper: OnPaper,
}

impl ProbeForm {
    pub(super) fn print(&self, global: &Global) -> Result<Report, Trouble> {
        self.paper.out.may_be_written()?;
        let snapshot = maybe_book(self.book.as_ref())?;
        let units = units_of(snapshot.as_ref(), global);
        let ask = match (&snapshot, &self.plan, &self.plot) {
            (Some(snapshot), Some(plan), _) => {
                ProbeFormAsk::of_plan(snapshot, shelf::sampling_plan(snapshot, plan)?)
            }
            (Some(snapshot), None, Some(plot)) => ProbeFormAsk {
                plot: shelf::plot(snapshot, plot)?.body.name.clone(),
                ..ProbeFormAsk::default()
            },
            _ => ProbeFormAsk::default(),
        };
        let options = self.paper.options_of(snapshot.as_ref(), units);
        self.paper.out.write("probe form", probe_form_pdf(&ask, units, &options), units)
    }
}
