//! `print`: a sheet for the field or the shop, as PDF.

mod field;

use std::path::PathBuf;

use advice::feeding::plan::FarmPlan;
use book::Snapshot;
use clap::{Args, Subcommand, ValueEnum};
use ground::kit::units::UnitSystem;
use jiff::ZonedDateTime;
use jiff::civil::Date;
use report::{
    Paper, SheetError, SheetOptions, buying_list_pdf, covers_pdf, map_pdf, posts_pdf, spread_pdf,
    work_plan_pdf,
};
use serde_json::json;

use super::spread::Wanted;
use crate::args::Global;
use crate::files;
use crate::report::Report;
use crate::shelf;
use crate::trouble::Trouble;

/// Options of `print`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework print work farm.farmbook --out work.pdf
  spadework print spread farm.farmbook --out spread.pdf --paper a4
  spadework print posts farm.farmbook \"New tunnel\" --out posts.pdf
  spadework print map farm.farmbook ph \"Long strip\" --out ph.pdf
  spadework print buying farm.farmbook --out buying.pdf --on 2026-03-01 --force
  spadework print field-sheet farm.farmbook --plan \"Long strip\" --out sheet.pdf
  spadework print labels farm.farmbook --plan \"Long strip\" --out labels.pdf --stock letter-3x10 --start 4")]
pub(crate) struct Print {
    #[command(subcommand)]
    what: What,
}

/// The sheets.
#[derive(Debug, Subcommand)]
enum What {
    /// The work plan: jobs by the time they are due, with a box to tick
    Work(Work),
    /// What to spread, bed by bed, with a box to tick for each material
    Spread(Plan),
    /// The buying list, in whole bags, with what it comes to
    Buying(Plan),
    /// The posts of a structure: depth, pull, wind, concrete, and boxes to tick
    Posts(PostSheet),
    /// Crops and covers over twelve months, the gaps, and the seed to have
    Covers(Work),
    /// A map of what varies: readings, the surface where there may be one, and how sure it is
    Map(MapOf),
    /// The sheet of a sampling plan: where to pull cores, what to do, boxes to fill
    FieldSheet(field::FieldSheet),
    /// Labels for bags of soil, each with a code that opens its record
    Labels(field::Labels),
    /// A paper scale to tape on a jar, with the times to mark
    JarStrip(field::JarStrip),
    /// The feel test on a card, with lines to fill in
    FeelCard(field::FeelCard),
    /// A form for a probe: pushes by depth
    ProbeForm(field::ProbeForm),
}

/// Options of the map.
#[derive(Debug, Args)]
struct MapOf {
    /// The farm book
    book: PathBuf,
    /// What to map: ph, organic-matter, clay ...
    property: String,
    /// Name of a plot, or its id; the whole farm where nothing is said
    plot: Option<String>,
    #[command(flatten)]
    paper: OnPaper,
}

/// Options of the work plan and of the calendar.
#[derive(Debug, Args)]
struct Work {
    /// The farm book
    book: PathBuf,
    /// The day, such as 2026-03-01; today where nothing is said
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    #[command(flatten)]
    paper: OnPaper,
}

/// Options of the post sheet.
#[derive(Debug, Args)]
struct PostSheet {
    /// The farm book
    book: PathBuf,
    /// Name of the structure, or its id
    structure: String,
    #[command(flatten)]
    paper: OnPaper,
}

/// Options of the sheets of a plan.
#[derive(Debug, Args)]
struct Plan {
    #[command(flatten)]
    wanted: Wanted,
    #[command(flatten)]
    paper: OnPaper,
}

/// Where a sheet goes.
#[derive(Debug, Args)]
struct Out {
    /// The PDF to make; one that is there already is left as it is
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// Replace a file that is there already
    #[arg(long)]
    force: bool,
}

/// Options of every sheet whose paper can be chosen.
#[derive(Debug, Args)]
struct OnPaper {
    #[command(flatten)]
    out: Out,
    /// The paper; letter for a farm in US units, A4 for a metric one
    #[arg(long, value_enum)]
    paper: Option<PaperName>,
}

/// The papers by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum PaperName {
    /// US letter, 8.5 × 11 in
    Letter,
    /// 210 × 297 mm
    A4,
}

impl Print {
    /// Makes the sheet.
    pub(crate) fn run(self, global: &Global) -> Result<Report, Trouble> {
        match self.what {
            What::Work(Work { book, on, paper }) => {
                paper.out.may_be_written()?;
                let snapshot = shelf::read(&book)?.snapshot()?;
                let day = on
                    .as_deref()
                    .map_or_else(|| Ok(ZonedDateTime::now().date()), |text| shelf::day("on", text))?;
                let plan = super::work::plan(&snapshot, day);
                let options = paper.options(&snapshot, global, day);
                paper.out.write("work plan", work_plan_pdf(&plan, &options), units(&snapshot, global))
            }
            What::Covers(Work { book, on, paper }) => {
                paper.out.may_be_written()?;
                let snapshot = shelf::read(&book)?.snapshot()?;
                let day = on
                    .as_deref()
                    .map_or_else(|| Ok(ZonedDateTime::now().date()), |text| shelf::day("on", text))?;
                let options = paper.options(&snapshot, global, day);
                paper.out.write(
                    "calendar of covers",
                    covers_pdf(&snapshot, day, &options),
                    units(&snapshot, global),
                )
            }
            What::Map(MapOf { book, property, plot, paper }) => {
                paper.out.may_be_written()?;
                let snapshot = shelf::read(&book)?.snapshot()?;
                let report = super::map::report_of(&snapshot, &property, plot.as_deref())?;
                let options = paper.options(&snapshot, global, ZonedDateTime::now().date());
                let units = units(&snapshot, global);
                paper.out.write("map", map_pdf(&report, &snapshot, units, &options), units)
            }
            What::Spread(plan) => plan.print(global, "sheet of what to spread", spread_pdf),
            What::Buying(plan) => plan.print(global, "buying list", buying_list_pdf),
            What::Posts(PostSheet { book, structure, paper }) => {
                paper.out.may_be_written()?;
                let snapshot = shelf::read(&book)?.snapshot()?;
                let report =
                    super::posts::report_of(&snapshot, &super::posts::of_structure(&snapshot, &structure)?)?;
                let options = paper.options(&snapshot, global, ZonedDateTime::now().date());
                let units = units(&snapshot, global);
                paper.out.write("post sheet", posts_pdf(&report, units, &options), units)
            }
            What::FieldSheet(sheet) => sheet.print(global),
            What::Labels(labels) => labels.print(global),
            What::JarStrip(strip) => strip.print(global),
            What::FeelCard(card) => card.print(global),
            What::ProbeForm(form) => form.print(global),
        }
    }
}

fn units(snapshot: &Snapshot, global: &Global) -> UnitSystem {
    global.system_or(snapshot.farm.body.units)
}

impl Plan {
    fn print(
        self,
        global: &Global,
        what: &str,
        pdf: fn(&FarmPlan, &SheetOptions) -> Result<Vec<u8>, SheetError>,
    ) -> Result<Report, Trouble> {
        self.paper.out.may_be_written()?;
        let snapshot = shelf::read(self.wanted.book())?.snapshot()?;
        let plan = self.wanted.plan_of(&snapshot, global)?;
        let options = self.paper.options(&snapshot, global, plan.today);
        self.paper.out.write(what, pdf(&plan, &options), units(&snapshot, global))
    }
}

impl Out {
    /// Asked before the work, so that nobody waits for a refusal.
    fn may_be_written(&self) -> Result<(), Trouble> {
        files::can_save("out", &self.out, self.force)
    }

    fn write(
        &self,
        what: &str,
        pdf: Result<Vec<u8>, SheetError>,
        units: UnitSystem,
    ) -> Result<Report, Trouble> {
        let bytes = pdf.map_err(|error| match error {
            SheetError::Refused(refusal) => refusal.in_units(units).into(),
            fault => Trouble::other(fault.to_string()),
        })?;
        files::save("out", &self.out, &bytes, self.force)?;
        let text = format!("Wrote the {what} to {}.", self.out.display());
        Report::new(&json!({ "sheet": what, "file": self.out, "bytes": bytes.len() }), text)
    }
}

impl OnPaper {
    fn options(&self, snapshot: &Snapshot, global: &Global, day: Date) -> SheetOptions {
        self.chosen(SheetOptions::of(snapshot, global.system_or(snapshot.farm.body.units), day))
    }

    /// Those of today, of a sheet that needs no farm.
    fn options_of(&self, snapshot: Option<&Snapshot>, units: UnitSystem) -> SheetOptions {
        let day = ZonedDateTime::now().date();
        self.chosen(match snapshot {
            Some(snapshot) => SheetOptions::of(snapshot, units, day),
            None => SheetOptions { farm: String::new(), day, paper: Paper::of(units) },
        })
    }

    fn chosen(&self, usual: SheetOptions) -> SheetOptions {
        let paper = match self.paper {
            Some(PaperName::Letter) => Paper::Letter,
            Some(PaperName::A4) => Paper::A4,
            None => usual.paper,
        };
        SheetOptions { paper, ..usual }
    }
}
