//! `record decision`: the grower's answer to a finding.

use std::path::PathBuf;

use advice::{Finding, Options, plot_report};
use book::model::{Choice, Decision};
use clap::{Args, ValueEnum};
use ground::kit::Refusal;
use serde_json::json;

use crate::near::nearest;
use crate::records;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record decision`.
#[derive(Debug, Args)]
#[command(after_help = "A decision taken again takes the place of the one before; history shows both.

Example:
  spadework record decision home.farmbook \"Lower field\" crusting postpone --reason \"no mulch this year\"")]
pub(crate) struct RecordDecision {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    /// The finding, by its title or its id, as spadework plot prints it
    finding: String,
    /// What will be done
    #[arg(value_enum)]
    choice: ChoiceWord,
    /// Why; asked for when it is refused
    #[arg(long, value_name = "TEXT", default_value = "")]
    reason: String,
    /// Who decides
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum ChoiceWord {
    /// It will be done, or reckoned with
    Accept,
    /// Not now
    Postpone,
    /// It will not be done
    Refuse,
}

impl RecordDecision {
    pub(crate) fn run(self, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let plot = shelf::plot(&snapshot, &self.plot)?;
        let options = Options { weigh_measurements: false, ..Options::default() };
        let report = plot_report(&snapshot, plot.id, &options)
            .ok_or_else(|| Trouble::other("the plot was withdrawn"))?;
        let finding = finding(&report.findings, &self.finding, &plot.body.name)?;
        let reason = self.reason.trim();
        if self.choice == ChoiceWord::Refuse && reason.is_empty() {
            return Err(Refusal::new("reason", "say why it is refused; next year you will want to know")
                .given("nothing")
                .accepted("a few words")
                .example("--reason \"the bed is given up next year\"")
                .into());
        }
        let decision = Decision {
            plot: plot.id,
            finding_id: finding.id.to_owned(),
            choice: match self.choice {
                ChoiceWord::Accept => Choice::Accepted,
                ChoiceWord::Postpone => Choice::Postponed,
                ChoiceWord::Refuse => Choice::Refused,
            },
            reason: reason.to_owned(),
        };
        let stamp = shelf::stamp(&self.by);
        let held = match snapshot.decision_on(plot.id, finding.id) {
            Some(before) => book.revise(before.id, before.number, decision, "decided again", &stamp)?,
            None => book.record(decision, &stamp)?,
        };
        let text = format!(
            "Recorded: {} on {}: {} (record {}).\n{}",
            finding.title,
            plot.body.name,
            held.body.choice.words(),
            records::short(&book, held.id),
            wrapped(&finding.statement, terminal.width, "")
        );
        Report::new(&json!({ "recorded": held }), text)
    }
}

/// The finding of that id or title.
fn finding<'a>(findings: &'a [Finding], text: &str, plot: &str) -> Result<&'a Finding, Trouble> {
    let folded = |text: &str| text.trim().to_lowercase().replace(' ', "-");
    let wanted = folded(text);
    findings.iter().find(|one| one.id == wanted || folded(one.title) == wanted).ok_or_else(|| {
        let ids: Vec<&str> = findings.iter().map(|one| one.id).collect();
        let refusal =
            Refusal::new("finding", format!("nothing called {text:?} was found on {plot}")).given(text);
        if ids.is_empty() {
            return Trouble::from(refusal.accepted("a finding; this plot has none yet"))
                .hint("spadework record feel BOOK PLOT, which tells what the ground is");
        }
        let titles = findings.iter().map(|one| one.title);
        let near = nearest(text, ids.iter().copied().chain(titles)).unwrap_or(ids[0]);
        Trouble::from(refusal.accepted(ids.join(", ")).example(near))
    })
}
