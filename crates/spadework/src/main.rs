//! The command line of Spadework: one file a command, all of them on the same functions as the app.

mod args;
mod arguments;
mod commands;
mod files;
mod near;
mod picture;
mod post_args;
mod records;
mod report;
mod setting;
mod shelf;
mod terminal;
mod trouble;

use std::process::ExitCode;

use clap::{CommandFactory, FromArgMatches};

use args::Cli;
use arguments::Names;
use terminal::Terminal;
use trouble::Trouble;

fn main() -> ExitCode {
    let mut command = Cli::command();
    let arguments: Vec<_> = arguments::joined(std::env::args_os(), &command).collect();
    let read = command.try_get_matches_from_mut(arguments).and_then(|matches| {
        let cli = Cli::from_arg_matches(&matches).map_err(|error| error.format(&mut command))?;
        Ok((cli, Names::of(&command, &matches)))
    });
    let (cli, names) = match read {
        Ok(read) => read,
        Err(error) => return misread(&error),
    };
    let terminal = Terminal::new(cli.global.json, cli.global.picture);
    match commands::run(cli.command, &cli.global, &terminal) {
        Ok(report) => {
            terminal.print(&report);
            report.exit.code()
        }
        Err(trouble) => {
            let trouble = trouble.told_as_typed(&names);
            terminal.complain(&trouble);
            trouble.exit().code()
        }
    }
}

/// Help, version, and a command line that cannot be read.
fn misread(error: &clap::Error) -> ExitCode {
    let as_json = std::env::args().any(|argument| argument == "--json");
    if error.use_stderr() && as_json {
        let trouble = Trouble::of_usage(error);
        Terminal::new(true, false).complain(&trouble);
        return trouble.exit().code();
    }
    // A closed pipe is no reason to fail.
    let _ = error.print();
    if error.use_stderr() { trouble::Exit::Refused.code() } else { trouble::Exit::Done.code() }
}
