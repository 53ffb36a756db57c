//! `verify`: the published cases, with what was expected, what came out and what is left between.

use std::path::PathBuf;

use checks::{CheckFile, Outcome};
use clap::Args;
use serde_json::json;

use crate::report::{Report, columns};
use crate::trouble::{Exit, Trouble};

/// Options of `verify`.
#[derive(Debug, Args)]
pub(crate) struct Verify {
    /// Check files of your own; without any, the cases that ship with the program
    files: Vec<PathBuf>,
    /// Print only what does not agree, and the counts
    #[arg(long)]
    brief: bool,
}

impl Verify {
    /// Runs the cases.
    pub(crate) fn run(self) -> Result<Report, Trouble> {
        let files = if self.files.is_empty() {
            checks::shipped().map_err(|error| Trouble::other(error.to_string()))?
        } else {
            self.files.iter().map(read).collect::<Result<_, _>>()?
        };
        let outcomes: Vec<Outcome> =
            files.iter().flat_map(|file| file.case.iter().map(move |case| checks::run(file, case))).collect();
        let failed = outcomes.iter().filter(|outcome| !outcome.status.is_good()).count();
        let known =
            outcomes.iter().filter(|outcome| outcome.status == checks::Status::KnownDifference).count();
        let json = json!({ "cases": outcomes.len(), "failed": failed, "known_differences": known, "outcomes": outcomes });
        let mut text: Vec<String> =
            files.iter().filter_map(|file| of_file(file, &outcomes, self.brief)).collect();
        text.push(format!(
            "{} cases from {} files: {} agree, {known} known differences, {failed} failed.",
            outcomes.len(),
            files.len(),
            outcomes.len() - failed - known
        ));
        let exit = if failed == 0 { Exit::Done } else { Exit::ChecksFailed };
        Ok(Report::new(&json, text.join("\n\n"))?.ending(exit))
    }
}

fn read(path: &PathBuf) -> Result<CheckFile, Trouble> {
    let text = std::fs::read_to_string(path)
        .map_err(|error| Trouble::other(format!("{} could not be read: {error}", path.display())))?;
    checks::parse(&path.display().to_string(), &text).map_err(|error| {
        ground::kit::Refusal::new("file", error.to_string())
            .given(path.display())
            .accepted("a check file: TOML with a [source] and [[case]]s")
            .into()
    })
}

fn of_file(file: &CheckFile, outcomes: &[Outcome], brief: bool) -> Option<String> {
    let mut rows = vec![];
    let mut whys = vec![];
    for outcome in outcomes.iter().filter(|outcome| outcome.file == file.name) {
        if brief && outcome.status.is_good() {
            continue;
        }
        for line in &outcome.lines {
            let number = |value: Option<f64>| value.map(|value| format!("{value:.3e}")).unwrap_or_default();
            rows.push(vec![
                outcome.case.clone(),
                line.path.clone(),
                line.expected.clone(),
                line.got.clone(),
                number(line.residual),
                number(line.tolerance),
                outcome.status.words().to_owned(),
            ]);
        }
        if !outcome.why.is_empty() {
            whys.push(format!("  {}: {}", outcome.case, outcome.why));
        }
    }
    if rows.is_empty() {
        return None;
    }
    let head = ["case", "output", "expected", "got", "residual", "tolerance", ""];
    rows.insert(0, head.iter().map(|cell| (*cell).to_owned()).collect());
    let provenance = file.source.provenance.words();
    let mut text = format!(
        "{} ({}, {}; {provenance})\n{}",
        file.name,
        file.source.key,
        file.source.at,
        columns(&rows, "  ")
    );
    for why in whys {
        text.push('\n');
        text.push_str(&why);
    }
    Some(text)
}
