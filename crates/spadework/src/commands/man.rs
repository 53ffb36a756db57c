//! `man`: the manual page, made from the same description as the help.

use clap::{Args, Command, CommandFactory};
use serde_json::json;

use crate::args::Cli;
use crate::near::nearest;
use crate::report::Report;
use crate::trouble::Trouble;

/// Options of `man`.
#[derive(Debug, Args)]
#[command(after_help = "To read it: spadework man > spadework.1 && man ./spadework.1")]
pub(crate) struct Man {
    /// The page of one command, such as record jar, instead of the whole program's
    command: Vec<String>,
}

impl Man {
    /// Writes it.
    pub(crate) fn run(self) -> Result<Report, Trouble> {
        let mut root = Cli::command();
        root.build();
        let mut described = root;
        for name in &self.command {
            described = of_command(&described, name)?;
        }
        let mut page = Vec::new();
        clap_mangen::Man::new(described)
            .render(&mut page)
            .map_err(|error| Trouble::other(format!("the page could not be written: {error}")))?;
        let page = String::from_utf8_lossy(&page).into_owned();
        Report::new(&json!({ "page": page }), page)
    }
}

fn of_command(root: &Command, name: &str) -> Result<Command, Trouble> {
    let found = root.get_subcommands().find(|command| command.get_name() == name);
    found.cloned().ok_or_else(|| {
        let known: Vec<&str> = root.get_subcommands().map(Command::get_name).collect();
        let near = nearest(name, known.iter().copied()).or(known.first().copied()).unwrap_or("none");
        ground::kit::Refusal::new("command", format!("no command is called {name:?}"))
            .given(name)
            .accepted(known.join(", "))
            .example(near)
            .into()
    })
}
