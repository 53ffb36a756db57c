//! `completions`: what a shell needs to complete our commands.

use clap::{Args, CommandFactory};
use serde_json::json;

use crate::args::Cli;
use crate::report::Report;
use crate::trouble::Trouble;

/// Options of `completions`.
#[derive(Debug, Args)]
#[command(
    after_help = "For bash: spadework completions bash > ~/.local/share/bash-completion/completions/spadework"
)]
pub(crate) struct Completions {
    /// The shell
    #[arg(value_enum)]
    shell: clap_complete::Shell,
}

impl Completions {
    /// Writes them.
    pub(crate) fn run(self) -> Result<Report, Trouble> {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut Cli::command(), "spadework", &mut script);
        let script = String::from_utf8_lossy(&script).into_owned();
        Report::new(&json!({ "shell": self.shell.to_string(), "script": script }), script)
    }
}
