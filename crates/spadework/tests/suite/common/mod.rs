//! Running the program as a person or a script would.
#![allow(dead_code)]

use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

/// The program in `folder`, away from this machine's settings.
pub(crate) fn program(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_spadework"));
    command
        .current_dir(folder)
        .env_remove("SPADEWORK_UNITS")
        .env_remove("SPADEWORK_NAME")
        .env("COLUMNS", "80")
        .env("LC_ALL", "C.UTF-8")
        .env("NO_COLOR", "1");
    command
}

/// A folder with the demonstration in `a.farmbook`.
pub(crate) fn demo() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    drop(advice::demo::create(folder.path().join("a.farmbook")).expect("the demonstration is written"));
    folder
}

/// The demonstration in a folder of its own, and the program run there.
pub(crate) struct Demo(tempfile::TempDir);

impl Demo {
    pub(crate) fn new() -> Self {
        Self(demo())
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Run {
        run_in(self.0.path(), arguments, "")
    }

    /// It does what it was asked.
    pub(crate) fn ok(&self, arguments: &[&str]) -> Run {
        ok(self.0.path(), arguments)
    }
}

/// How a run ended.
pub(crate) struct Run {
    pub(crate) code: i32,
    pub(crate) stdout: String,
    pub(crate) stderr: String,
}

impl Run {
    fn of(output: &Output) -> Self {
        Self {
            code: output.status.code().expect("the program ends by itself"),
            stdout: String::from_utf8_lossy(&output.stdout).into_owned(),
            stderr: String::from_utf8_lossy(&output.stderr).into_owned(),
        }
    }

    /// Code, stdout and stderr in one text, for snapshots.
    pub(crate) fn told(&self) -> String {
        let part = |name: &str, text: &str| {
            if text.trim().is_empty() { String::new() } else { format!("\n--- {name}\n{}", text.trim_end()) }
        };
        format!("exit {}{}{}", self.code, part("stdout", &self.stdout), part("stderr", &self.stderr))
    }

    /// Do these words stand on stderr, wherever its lines break?
    pub(crate) fn said(&self, words: &str) -> bool {
        self.stderr.split_whitespace().collect::<Vec<_>>().join(" ").contains(words)
    }

    /// Stdout as JSON.
    pub(crate) fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.stdout).unwrap_or_else(|error| panic!("{error}: {}", self.told()))
    }
}

/// Runs the program in `folder`.
pub(crate) fn run_in(folder: &Path, arguments: &[&str], stdin: &str) -> Run {
    let mut child = program(folder)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    // A command that reads no input may have ended by now.
    let _ = child.stdin.take().expect("stdin is a pipe").write_all(stdin.as_bytes());
    Run::of(&child.wait_with_output().expect("the program ends"))
}

/// Runs the program in `folder`; it does what it was asked.
pub(crate) fn ok(folder: &Path, arguments: &[&str]) -> Run {
    let run = run_in(folder, arguments, "");
    assert_eq!(run.code, 0, "{arguments:?}: {}", run.told());
    run
}

/// Runs the program where no file is needed.
pub(crate) fn run(arguments: &[&str]) -> Run {
    run_in(&std::env::temp_dir(), arguments, "")
}
