//! `record lab`.

use book::model::Seen;
use clap::{Args, ValueEnum};
use ground::texture::SiltLimit;
use ground::texture::lab::{LabProcedure, LabTexture};

use super::About;
use crate::args::Global;
use crate::commands::texture::percent;
use crate::report::Report;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record lab`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework record lab home.farmbook \"Lower field\" 42 38 20 --procedure hydrometer --sample LF-1")]
pub(crate) struct RecordLab {
    #[command(flatten)]
    about: About,
    /// Sand in percent, as printed
    sand: String,
    /// Silt in percent, as printed
    silt: String,
    /// Clay in percent, as printed
    clay: String,
    /// Size in µm at which the laboratory parts silt from sand
    #[arg(long, value_enum, default_value = "50")]
    silt_limit: LimitWord,
    /// How the laboratory measured it
    #[arg(long, value_enum, default_value = "not-stated")]
    procedure: ProcedureWord,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum LimitWord {
    /// USDA
    #[value(name = "50")]
    Usda,
    /// ISO 14688-1 and WRB
    #[value(name = "63")]
    Iso,
    /// International
    #[value(name = "20")]
    International,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum ProcedureWord {
    /// Pipette and sieve
    Pipette,
    /// Hydrometer
    Hydrometer,
    /// Laser diffraction
    LaserDiffraction,
    /// The report does not say
    NotStated,
}

impl RecordLab {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let lab = LabTexture {
            sand_percent: percent("sand", &self.sand)?,
            silt_percent: percent("silt", &self.silt)?,
            clay_percent: percent("clay", &self.clay)?,
            silt_limit: match self.silt_limit {
                LimitWord::Usda => SiltLimit::Usda50,
                LimitWord::Iso => SiltLimit::Iso63,
                LimitWord::International => SiltLimit::International20,
            },
            procedure: match self.procedure {
                ProcedureWord::Pipette => LabProcedure::Pipette,
                ProcedureWord::Hydrometer => LabProcedure::Hydrometer,
                ProcedureWord::LaserDiffraction => LabProcedure::LaserDiffraction,
                ProcedureWord::NotStated => LabProcedure::NotStated,
            },
        };
        self.about.store(Seen::LabTexture(lab), global, terminal)
    }
}
