//! One file a command.

mod calc;
mod completions;
mod feel;
mod man;
mod texture;
mod verify;

use clap::Subcommand;

use crate::args::Global;
use crate::report::Report;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Every command.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Name the texture class of a make-up
    Texture(texture::Texture),
    /// Find the texture by feel: ball, ribbon and rub
    Feel(feel::Feel),
    /// Compute with one published method, JSON in and JSON out
    Calc(calc::Calc),
    /// Hold the methods against published cases
    Verify(verify::Verify),
    /// Write the completions of a shell
    Completions(completions::Completions),
    /// Write the man page
    Man(man::Man),
}

/// Runs a command.
pub(crate) fn run(command: Command, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
    match command {
        Command::Texture(command) => command.run(terminal),
        Command::Feel(command) => command.run(global, terminal),
        Command::Calc(command) => command.run(global),
        Command::Verify(command) => command.run(),
        Command::Completions(command) => command.run(),
        Command::Man(command) => command.run(),
    }
}

/// The steps of a computation, for a person.
fn steps(working: &ground::kit::Working) -> String {
    let mut text = "\n\nWorking".to_owned();
    for (number, step) in working.steps.iter().enumerate() {
        text.push_str(&format!(
            "\n{}. {}: {}\n   {}\n   = {}",
            number + 1,
            step.finds,
            step.rule,
            step.with_numbers,
            step.result
        ));
        if let Some(cite) = step.source {
            text.push_str(&format!("\n   [{}, {}]", cite.key, cite.at));
        }
    }
    text
}
