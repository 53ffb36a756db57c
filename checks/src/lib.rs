//! Published cases and their runner.
//!
//! Each `*.toml` beside this crate's manifest holds the cases of one source: input, expected value
//! as the source prints it, and, where the tolerance is wider than half a unit of the last printed
//! digit, why. The same runner serves `cargo test`, `spadework verify` and the handbook pages.

mod file;
mod printed;
mod run;

pub use file::{Case, CheckFile, Expected, FileError, SourceNote, parse};
pub use printed::Printed;
pub use run::{Line, Outcome, Status, run};

/// The check files that ship with the program, as name and text.
pub const SHIPPED: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/files.rs"));

/// Reads every check file that ships with the program.
///
/// # Errors
/// The first file that cannot be read as checks; a test keeps that from shipping.
pub fn shipped() -> Result<Vec<CheckFile>, FileError> {
    SHIPPED.iter().map(|(name, text)| parse(name, text)).collect()
}

/// Outcomes of every shipped case of one method, for its handbook page. Empty: the method is
/// implemented, not validated.
#[must_use]
pub fn of_method(method: &str) -> Vec<Outcome> {
    let Ok(files) = shipped() else { return Vec::new() };
    files
        .iter()
        .flat_map(|file| file.case.iter().map(move |case| (file, case)))
        .filter(|(_, case)| case.method == method)
        .map(|(file, case)| run(file, case))
        .collect()
}
