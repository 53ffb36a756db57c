//! `serve`: the app, on this computer only.

use std::path::PathBuf;

use clap::Args;
use serde_json::json;

use crate::report::{Report, pretty};
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `serve`.
#[derive(Debug, Args)]
pub(crate) struct Serve {
    /// The farm book; one that is not there yet is made by the first page. Without one, the handbook alone
    book: Option<PathBuf>,
    #[command(flatten)]
    listen: Listen,
}

/// Where the app answers.
#[derive(Debug, Args)]
pub(crate) struct Listen {
    /// Port on this computer; 0 takes any free one. Without it, 8417 if that is free, so that a bookmark stays good
    #[arg(long)]
    port: Option<u16>,
    /// Name written beside each record
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl Serve {
    /// Serves until it is interrupted.
    pub(crate) fn run(self, terminal: &Terminal, as_json: bool) -> Result<Report, Trouble> {
        self.listen.serve(self.book, terminal, as_json)?;
        Ok(Report::silent())
    }
}

impl Listen {
    /// Serves until it is interrupted; the address goes to stdout as soon as the app answers.
    pub(crate) fn serve(
        self,
        book: Option<PathBuf>,
        terminal: &Terminal,
        as_json: bool,
    ) -> Result<(), Trouble> {
        let mut options = web::Options {
            book,
            port: self.port.unwrap_or(USUAL_PORT),
            recorded_by: self.by,
            ..web::Options::default()
        };
        let mut outcome = start(&options, *terminal, as_json);
        if matches!(outcome, Err(web::ServeError::Port { .. })) && self.port.is_none() {
            terminal.remark(&format!("Port {USUAL_PORT} is taken; another one is used."));
            options.port = 0;
            outcome = start(&options, *terminal, as_json);
        }
        outcome.map_err(|error| match error {
            web::ServeError::Book(error) => error.into(),
            web::ServeError::Port { .. } => {
                Trouble::other(error.to_string()).hint("--port 0, which takes any free port")
            }
            web::ServeError::Stopped(_) => Trouble::other(error.to_string()),
        })
    }
}

/// Where the app answers unless told otherwise.
const USUAL_PORT: u16 = 8417;

fn start(options: &web::Options, terminal: Terminal, as_json: bool) -> Result<(), web::ServeError> {
    web::serve(options, move |address| {
        let address = format!("http://{address}/");
        terminal.say(&if as_json { pretty(&json!({ "address": address })) } else { address });
        terminal.remark("Open that address in a browser on this computer. Ctrl-C ends it.");
    })
}
