//! `record photo`.

use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use book::LARGEST_ATTACHMENT_BYTES;
use book::model::{Kind, Photo};
use clap::Args;
use ground::kit::Refusal;
use serde_json::json;

use crate::records::{self, Records};
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record photo`.
#[derive(Debug, Args)]
#[command(
    after_help = "JPEG, PNG, WebP or GIF, told by the content and not by the name. The picture is kept inside the book as
it is, with whatever the camera wrote into it, often the place and the time.

Example:
  spadework record photo home.farmbook jar.jpg --plot \"Lower field\" --caption \"The jar after two days\""
)]
pub(crate) struct RecordPhoto {
    /// The farm book
    book: PathBuf,
    /// The picture
    file: PathBuf,
    /// What it shows
    #[arg(long, default_value = "")]
    caption: String,
    /// Name of the plot it shows
    #[arg(long, value_name = "NAME")]
    plot: Option<String>,
    /// The observation it belongs to, by the id of that record
    #[arg(long, value_name = "RECORD")]
    observation: Option<String>,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

impl RecordPhoto {
    pub(crate) fn run(self, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let plot = match &self.plot {
            Some(name) => Some(shelf::plot(&snapshot, name)?.id),
            None => None,
        };
        let observation = match &self.observation {
            Some(text) => Some(observation(&Records::of(&book)?, text)?),
            None => None,
        };
        let bytes = read(&self.file)?;
        let media_type = Photo::media_type_of(&bytes)
            .map_err(|refusal| Refusal { given: self.file.display().to_string(), ..refusal })?;
        // The picture and its record together or not at all.
        let held = book.write(|writing| {
            let sha256 = writing.attach(&bytes, media_type)?;
            let (media_type, caption) = (media_type.to_owned(), self.caption.trim().to_owned());
            writing.record(Photo { plot, observation, sha256, media_type, caption }, &shelf::stamp(&self.by))
        })?;
        let text = format!(
            "Recorded: {} as a photo, {}, {} kB (record {}).",
            self.file.display(),
            held.body.media_type,
            bytes.len().div_ceil(1000),
            records::short(&book, held.id)
        );
        Report::new(&json!({ "recorded": held }), wrapped(&text, terminal.width, "  "))
    }
}

fn observation(records: &Records, text: &str) -> Result<book::model::EntryId, Trouble> {
    let record = records.find(text)?;
    if record.kind == Kind::Observation {
        return Ok(record.id);
    }
    let what = record.kind.label().to_lowercase();
    Err(Trouble::from(
        Refusal::new("observation", format!("record {text} is a {what}, and not something that was seen"))
            .given(text)
            .accepted("the id of an observation"),
    )
    .hint("spadework list BOOK observation"))
}

/// The file, or a little more than may be kept of it.
fn read(path: &Path) -> Result<Vec<u8>, Trouble> {
    let unread = |error: std::io::Error| {
        Trouble::other(format!("{} could not be read: {error}", path.display()))
            .hint("check the name and the folder")
    };
    let file = File::open(path).map_err(unread)?;
    let mut bytes = Vec::new();
    file.take(LARGEST_ATTACHMENT_BYTES as u64 + 1).read_to_end(&mut bytes).map_err(unread)?;
    Ok(bytes)
}
