//! `record lab-report`.

use book::model::Seen;
use book::{LabCell, read_lab_cell};
use clap::Args;
use ground::fertility::analysis::report::{BasisDepth, FreeLime, LabReport, ReportDensity};
use ground::kit::units::{UnitSystem, field_unit, typed};
use ground::kit::{Bounded, Refusal};

use super::About;
use crate::args::Global;
use crate::report::Report;
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record lab-report`.
#[derive(Debug, Args)]
#[command(
    after_help = "A figure is told by its heading, as a table would have it, with its unit and its method where
it matters. \"<2\" is kept as it is. A heading with \"rec\" is what the laboratory itself recommends.

Example:
  spadework record lab-report home.farmbook \"Lower field\" --laboratory \"County laboratory\" --sample LF-1 \\
    --figure pH=5.4 --figure \"Buffer pH (SMP)=6.3\" --figure \"P (Mehlich-3) ppm=<2\" \\
    --figure \"K (Mehlich-3) lb/ac=210\" --basis-depth 6.7in --figure \"Lime rec ton/ac=2.5\""
)]
pub(crate) struct RecordLabReport {
    #[command(flatten)]
    about: About,
    /// A figure of the report; once for each
    #[arg(long = "figure", value_name = "HEADING=VALUE", required = true)]
    figures: Vec<String>,
    /// Who made the analysis
    #[arg(long, value_name = "NAME", default_value = "")]
    laboratory: String,
    /// Number on the report
    #[arg(long, value_name = "TEXT", default_value = "")]
    number: String,
    /// Depth that amounts per area speak of; needed where figures are in lb/acre or kg/ha
    #[arg(long, value_name = "DEPTH")]
    basis_depth: Option<String>,
    /// Density of the sample, g/cm³, where the report gives it
    #[arg(long, value_name = "DENSITY")]
    density: Option<String>,
    /// Fizz with acid: none, slight or strong
    #[arg(long, value_name = "FIZZ")]
    free_lime: Option<String>,
}

impl RecordLabReport {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let farm_units = shelf::read(&self.about.book)?.snapshot()?.farm.body.units;
        let mut report = LabReport::new(self.laboratory.trim());
        report.number = self.number.trim().to_owned();
        let depth_unit = field_unit(BasisDepth::UNIT, global.system_or(farm_units));
        report.basis_depth_cm =
            self.basis_depth.as_deref().map(|text| typed("basis-depth", text, depth_unit)).transpose()?;
        let density_unit = field_unit(ReportDensity::UNIT, UnitSystem::Metric);
        report.density_g_cm3 =
            self.density.as_deref().map(|text| typed("density", text, density_unit)).transpose()?;
        report.free_lime = self.free_lime.as_deref().map(fizz).transpose()?;
        for pair in &self.figures {
            // The last equals sign parts, since a heading may hold one.
            let (heading, value) = pair.rsplit_once('=').ok_or_else(|| {
                Refusal::new("figure", format!("{pair:?} has no equals sign"))
                    .given(pair)
                    .accepted("HEADING=VALUE")
                    .example("P (Mehlich-3) ppm=35")
            })?;
            match read_lab_cell(heading.trim(), value.trim()) {
                Ok(LabCell::Figure(figure)) => report.figures.push(figure),
                Ok(LabCell::Recommended(line)) => report.recommended.push(line),
                Err(refusal) => return Err(Refusal { field: "figure".to_owned(), ..refusal }.into()),
            }
        }
        report.check().map_err(|refusal| match refusal.field.as_str() {
            "basis_depth_cm" => Refusal { field: "basis-depth".to_owned(), ..refusal },
            field if field.starts_with("figures") => Refusal { field: "figure".to_owned(), ..refusal },
            _ => refusal,
        })?;
        self.about.store(Seen::LabReport(report), global, terminal)
    }
}

fn fizz(text: &str) -> Result<FreeLime, Refusal> {
    match text.trim().to_lowercase().as_str() {
        "none" => Ok(FreeLime::None),
        "slight" => Ok(FreeLime::Slight),
        "strong" => Ok(FreeLime::Strong),
        _ => Err(Refusal::new("free-lime", format!("{text:?} is no degree of fizz"))
            .given(text)
            .accepted("none, slight or strong")
            .example("none")),
    }
}
