//! Where the answer goes: data to stdout, everything else to stderr.

use std::io::{self, IsTerminal, Write};

use crate::report::{Report, pretty};
use crate::trouble::Trouble;

/// What the place we print to can show.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Terminal {
    json: bool,
    /// Draw the small pictures.
    pub picture: bool,
    /// Block and dot characters may be used.
    pub unicode: bool,
    /// Columns to fill.
    pub width: usize,
}

impl Terminal {
    /// Looks at stdout and at the environment.
    pub(crate) fn new(json: bool, picture: bool) -> Self {
        let interactive = io::stdout().is_terminal();
        let told = std::env::var("COLUMNS").ok().and_then(|text| text.parse().ok());
        let width = told.or_else(seen_width).unwrap_or(80);
        Self {
            json,
            picture: !json && (picture || interactive),
            unicode: speaks_utf8(),
            width: width.clamp(40, 100),
        }
    }

    /// May a question be asked?
    pub(crate) fn can_ask(self) -> bool {
        !self.json && io::stdin().is_terminal() && io::stderr().is_terminal()
    }

    /// Prints what was found.
    pub(crate) fn print(self, report: &Report) {
        if self.json && !report.json.is_null() {
            self.say(&pretty(&report.json));
        } else {
            self.say(&report.text);
        }
    }

    /// Prints one piece of data at once.
    pub(crate) fn say(self, text: &str) {
        if text.is_empty() {
            return;
        }
        let mut out = io::stdout().lock();
        // A reader that has gone away, as `head` does, is no reason to fail.
        let _ = out
            .write_all(text.as_bytes())
            .and_then(|()| if text.ends_with('\n') { Ok(()) } else { out.write_all(b"\n") });
        let _ = out.flush();
    }

    /// Says something that is not data.
    pub(crate) fn remark(self, text: &str) {
        let _ = writeln!(io::stderr(), "{text}");
    }

    /// Tells what went wrong: as an object on stdout for programs, in words on stderr for people.
    pub(crate) fn complain(self, trouble: &Trouble) {
        if self.json {
            self.say(&pretty(&trouble.json()));
        } else {
            self.remark(&trouble.words(self.width));
        }
    }
}

/// Columns of the window that is printed to. A shell does not hand them on by itself.
fn seen_width() -> Option<usize> {
    let size = terminal_size::terminal_size_of(io::stdout())
        .or_else(|| terminal_size::terminal_size_of(io::stderr()));
    size.map(|(width, _)| usize::from(width.0)).filter(|width| *width > 0)
}

fn speaks_utf8() -> bool {
    ["LC_ALL", "LC_CTYPE", "LANG"]
        .iter()
        .find_map(|name| std::env::var(name).ok().filter(|value| !value.is_empty()))
        .is_none_or(|locale| {
            let locale = locale.to_lowercase();
            locale.contains("utf-8") || locale.contains("utf8")
        })
}
