//! The commands and options that all commands share.

use clap::{Args, Parser, ValueEnum};
use ground::kit::units::UnitSystem;

use crate::commands::Command;
use crate::trouble::Exit;

/// What the ground on each plot is, how surely, and what that means for water and work.
///
/// From cheap evidence (a jar of settled soil, a ribbon between the fingers, a hydrometer, a laboratory
/// report) Spadework works out what the ground is and says which decisions are firm and which are open. It
/// keeps the record in one file of your own. Nothing leaves this machine.
///
/// Measures are read as people write them: 2 3/16in, 55mm, 7/16, "2 lb 4 oz", 68F, "1 d 2 h"; a doubtful
/// one as a range, "1 1/8 to 1 1/4 in", and one that could not be seen as "?".
#[derive(Debug, Parser)]
#[command(name = "spadework", version, after_help = exit_codes(), max_term_width = 100, propagate_version = false)]
pub(crate) struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// Options of every command.
    #[command(flatten)]
    pub global: Global,
}

/// Options of every command.
#[derive(Debug, Clone, Args)]
pub(crate) struct Global {
    /// Print one JSON object on stdout, errors too
    #[arg(long, global = true, help_heading = "Everywhere")]
    pub json: bool,
    /// Draw the small pictures even where stdout is no terminal
    #[arg(long, global = true, help_heading = "Everywhere")]
    pub picture: bool,
    /// Units shown, and meant by a number without unit; a farm book brings its own
    #[arg(long, global = true, value_enum, env = "SPADEWORK_UNITS", help_heading = "Everywhere")]
    pub units: Option<Units>,
}

impl Global {
    /// The units of this run, where no farm says otherwise.
    pub(crate) fn system(&self) -> UnitSystem {
        self.system_or(UnitSystem::UsCustomary)
    }

    /// The units of this run, on a farm of that system.
    pub(crate) fn system_or(&self, farm: UnitSystem) -> UnitSystem {
        match self.units {
            Some(Units::Us) => UnitSystem::UsCustomary,
            Some(Units::Metric) => UnitSystem::Metric,
            None => farm,
        }
    }
}

/// The units of a farm, as they are chosen here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    /// Inches, feet, pounds, °F (without a book, unless said otherwise)
    Us,
    /// Millimetres, metres, grams, °C
    Metric,
}

/// The table of exit codes, for the help and the man page.
pub(crate) fn exit_codes() -> String {
    let mut text = "Exit codes:".to_owned();
    for exit in Exit::ALL {
        text.push_str(&format!("\n  {}  {}", exit as u8, exit.words()));
    }
    text
}
