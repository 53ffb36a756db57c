//! `correct`: a further version of a record, which stands in the place of the one before.

use std::path::{Path, PathBuf};

use book::model::{Body, EntryId};
use book::{Revision, Snapshot};
use clap::Args;
use ground::kit::Refusal;
use serde_json::{Value, json};

use super::history::change_words;
use super::input::json_from;
use crate::args::Global;
use crate::records::Records;
use crate::report::{Report, wrapped};
use crate::setting;
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Which record is changed, from which version, by whom and why.
#[derive(Debug, Args)]
pub(crate) struct Change {
    /// The farm book
    pub(super) book: PathBuf,
    /// A record by its id, or a plot by its name; spadework list shows the ids
    pub(super) record: String,
    /// Why; a few words for whoever reads the history
    #[arg(long, value_name = "TEXT")]
    pub(super) reason: Option<String>,
    /// The version this starts from; refused where the record has moved on since. The latest, unless said
    #[arg(long, value_name = "VERSION")]
    pub(super) from: Option<u32>,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    pub(super) by: String,
}

impl Change {
    /// The reason, which nobody may leave out.
    pub(super) fn reason(&self, doing: &str) -> Result<&str, Refusal> {
        self.reason.as_deref().map(str::trim).filter(|reason| !reason.is_empty()).ok_or_else(|| {
            Refusal::new("reason", format!("say why the record is {doing}"))
                .given("nothing")
                .accepted("a few words for whoever reads the history")
                .example("--reason \"typing slip\"")
        })
    }
}

/// Options of `correct`.
#[derive(Debug, Args)]
#[command(
    after_help = "Nothing is overwritten: history shows every version. --show prints the fields with their paths.

Examples:
  spadework correct home.farmbook 4a91c2 --show
  spadework correct home.farmbook 4a91c2 --set cores=12 --reason \"typing slip\"
  spadework correct home.farmbook 4a91c2 --set plot=\"Hill field\" --reason \"wrong plot\"
  spadework correct home.farmbook \"Lower field\" --set root_depth_cm=18in --reason \"dug and looked\""
)]
pub(crate) struct Correct {
    #[command(flatten)]
    change: Change,
    /// Set one field; measures are read as people write them, a plot or a sample by its name
    #[arg(long = "set", value_name = "FIELD=VALUE")]
    settings: Vec<String>,
    /// Take the value of a field away
    #[arg(long = "clear", value_name = "FIELD")]
    cleared: Vec<String>,
    /// Read the whole record, a JSON object, from a file, or from stdin where it is -
    #[arg(long = "in", value_name = "FILE")]
    input: Option<String>,
    /// Print the record as it stands, to be changed and given back with --in, and change nothing
    #[arg(long, conflicts_with_all = ["settings", "cleared", "input", "reason", "from"])]
    show: bool,
}

impl Correct {
    /// Corrects.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        if self.show {
            let book = shelf::read(&self.change.book)?;
            let records = Records::of(&book)?;
            let record = records.find(&self.change.record)?;
            return Ok(Report::json_only(json!(record.body)));
        }
        let mut book = shelf::open(&self.change.book)?;
        let (snapshot, records) = (book.snapshot()?, Records::of(&book)?);
        let record = records.find(&self.change.record)?.clone();
        let reason = self.change.reason("corrected")?;
        let body = self.body(&record, &records, &snapshot, global)?;
        if body == record.body && self.change.from.is_none_or(|from| from == record.number) {
            return Err(Refusal::new("set", "this changes nothing: the record says so already")
                .accepted("--set FIELD=VALUE, --clear FIELD or --in FILE with something new")
                .example("--set note=\"taken after rain\"")
                .into());
        }
        let from = self.change.from.unwrap_or(record.number);
        let stamp = shelf::stamp(&self.change.by);
        let held = book
            .revise_body(record.id, from, body, reason, &stamp)
            .map_err(|error| seeing(error.into(), &self.change.book, &records.short(record.id)))?;
        let after = book.snapshot()?;
        let system = global.system_or(after.farm.body.units);
        let changes = web::words::changes(&record.body, &held.body, &after, system);
        let now = Revision { number: held.number, body: held.body.clone(), ..record };
        let head =
            format!("Corrected: {}, now version {}.", Records::of(&book)?.called(&now, &after), held.number);
        let mut text = wrapped(&head, terminal.width, "  ");
        for change in &changes {
            text.push_str(&format!("\n  {}", wrapped(&change_words(change), terminal.width - 2, "    ")));
        }
        Report::new(&json!({ "corrected": held, "changes": changes }), text)
    }

    /// The record as it is to be.
    fn body(
        &self,
        record: &Revision,
        records: &Records,
        snapshot: &Snapshot,
        global: &Global,
    ) -> Result<Body, Trouble> {
        if self.input.is_none() && self.settings.is_empty() && self.cleared.is_empty() {
            return Err(Trouble::from(
                Refusal::new("set", "nothing is said about what to change")
                    .given("nothing")
                    .accepted("--set FIELD=VALUE, --clear FIELD or --in FILE")
                    .example("--set note=\"taken after rain\""),
            )
            .hint("spadework correct BOOK RECORD --show, which prints the fields"));
        }
        let mut json = match &self.input {
            Some(from) => json_from(from)?,
            None => json!(record.body),
        };
        let mut settings = Vec::new();
        for pair in &self.settings {
            settings.push(linked(pair, &json, records, snapshot)?);
        }
        let system = global.system_or(snapshot.farm.body.units);
        setting::apply(&settings, &record.kind.schema().to_value(), system, &mut json)?;
        for field in &self.cleared {
            setting::clear(&mut json, field)?;
        }
        Ok(Body::read(record.kind, &json)?)
    }
}

/// A clash shows where both versions can be looked at.
pub(super) fn seeing(trouble: Trouble, book: &Path, short: &str) -> Trouble {
    if trouble.is_about("from") {
        trouble.hint(format!("spadework history {} {short}, which shows what changed", book.display()))
    } else {
        trouble
    }
}

/// `plot=Hill field` with the identity of that plot in the place of its name.
fn linked(pair: &str, json: &Value, records: &Records, snapshot: &Snapshot) -> Result<String, Trouble> {
    let Some((field, text)) = pair.split_once('=') else { return Ok(pair.to_owned()) };
    let plot = || json.get("plot").and_then(Value::as_str)?.parse::<EntryId>().ok();
    let id = match (field.trim(), plot()) {
        ("plot", _) => shelf::plot(snapshot, text)?.id,
        ("sample", Some(plot)) => shelf::sample(snapshot, plot, text)?.id,
        ("observation", _) => records.find(text)?.id,
        _ => return Ok(pair.to_owned()),
    };
    Ok(format!("{}={id}", field.trim()))
}
