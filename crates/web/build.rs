//! Builds the front end (`ui/`) into `OUT_DIR/ui`, so that one `cargo` command builds everything.

use std::path::{Path, PathBuf};
use std::process::{Command, exit};
use std::time::SystemTime;

const SOURCES: &[&str] =
    &["ui/src", "ui/package.json", "ui/package-lock.json", "ui/vite.config.ts", "ui/.npmrc", "build.rs"];

fn main() {
    for source in SOURCES {
        println!("cargo::rerun-if-changed={source}");
    }
    let ui = from_env("CARGO_MANIFEST_DIR").join("ui");
    let out = from_env("OUT_DIR").join("ui");
    if is_older(&ui.join("node_modules/.package-lock.json"), &ui.join("package-lock.json")) {
        // The build needs the bundler only; the test tools are installed by the tests.
        npm(&ui, &["ci", "--omit=dev", "--no-audit", "--no-fund"]);
    }
    let out = out.to_string_lossy();
    npm(&ui, &["run", "build", "--", "--outDir", &out, "--emptyOutDir", "--logLevel", "warn"]);
}

fn from_env(name: &str) -> PathBuf {
    match std::env::var_os(name) {
        Some(value) => PathBuf::from(value),
        None => fail(&format!("cargo did not set {name}")),
    }
}

/// Whether `file` is missing or older than `than`.
fn is_older(file: &Path, than: &Path) -> bool {
    let changed =
        |path: &Path| path.metadata().and_then(|data| data.modified()).unwrap_or(SystemTime::UNIX_EPOCH);
    changed(file) < changed(than)
}

fn npm(ui: &Path, arguments: &[&str]) {
    let program = if cfg!(windows) { "npm.cmd" } else { "npm" };
    let line = format!("npm {}", arguments.join(" "));
    match Command::new(program).args(arguments).current_dir(ui).output() {
        Ok(output) if output.status.success() => {}
        Ok(output) => fail(&format!(
            "`{line}` failed in {}:\n{}{}",
            ui.display(),
            String::from_utf8_lossy(&output.stdout),
            String::from_utf8_lossy(&output.stderr)
        )),
        Err(error) => fail(&format!(
            "`{line}` could not be started ({error}).\n\
             The pages of Spadework are built with Node.js. Install Node 20.19 or 22.12 or newer, with npm,\n\
             from your system's packages or https://nodejs.org, and run the same cargo command again."
        )),
    }
}

fn fail(message: &str) -> ! {
    for line in message.lines() {
        println!("cargo::error={line}");
    }
    exit(1);
}
