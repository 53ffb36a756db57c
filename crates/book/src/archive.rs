//! The whole book as one JSON file, history and photos included, and back.
//!
//! The archive is the log in the order of writing. A book made from it has the same records, the
//! same revisions under the same numbers, and the same attached files.

use std::collections::BTreeMap;
use std::path::Path;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD as BASE64;
use ground::kit::Refusal;
use jiff::Timestamp;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::error::{BookError, Result};
use crate::held::Revision;
use crate::model::{Body, EntryId, Kind, text};
use crate::store::{Attachment, Book, check_attachment, hash, whole};

/// What an archive says it is.
const FORMAT: &str = "spadework farm book archive";
/// Version of the archive's own layout.
const VERSION: u32 = 1;

/// An archive.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct Archive {
    /// Always the same words.
    format: String,
    /// Layout of the archive.
    version: u32,
    /// Every revision, in the order of writing.
    log: Vec<Line>,
    /// Every attached file.
    attachments: Vec<AttachedFile>,
}

/// A revision in an archive.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct Line {
    id: EntryId,
    kind: Kind,
    number: u32,
    #[schemars(with = "String")]
    recorded_at: Timestamp,
    recorded_by: String,
    withdrawn: bool,
    reason: String,
    body: Value,
}

/// An attached file in an archive.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct AttachedFile {
    sha256: String,
    media_type: String,
    base64: String,
}

impl Book {
    /// The whole book as one JSON text.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn to_archive(&self) -> Result<String> {
        let (revisions, files) = self.whole_log()?;
        let archive = Archive {
            format: FORMAT.to_owned(),
            version: VERSION,
            log: revisions.into_iter().map(Line::of).collect::<Result<_>>()?,
            attachments: files
                .into_iter()
                .map(|Attachment { sha256, media_type, bytes }| AttachedFile {
                    sha256,
                    media_type,
                    base64: BASE64.encode(bytes),
                })
                .collect(),
        };
        let mut json = serde_json::to_string_pretty(&archive).map_err(unwritable)?;
        json.push('\n');
        Ok(json)
    }

    /// Writes the archive to a new file.
    ///
    /// # Errors
    /// A file is there already or cannot be written, or the book cannot be read.
    pub fn save_archive(&self, to: impl AsRef<Path>) -> Result<()> {
        let to = to.as_ref();
        if to.exists() {
            return Err(BookError::Exists { path: to.to_owned() });
        }
        let json = self.to_archive()?;
        whole::appear(to, |draft| {
            std::fs::write(draft, json).map_err(|source| BookError::io(to, "written", source))
        })
    }

    /// Makes a new book from an archive. Everything is checked before the book appears; nothing is
    /// ever merged into a book that is there.
    ///
    /// # Errors
    /// A file is at `path` already; or the archive is refused, and the refusal names the place.
    pub fn from_archive(path: impl AsRef<Path>, json: &str) -> Result<Self> {
        let archive = read(json)?;
        let (revisions, files) = archive.checked()?;
        Self::create_with(path.as_ref(), |book| {
            book.fill(&revisions, &files)?;
            match book.check()?.problems.into_iter().next() {
                None => Ok(()),
                Some(problem) => Err(Refusal::new(problem.place, problem.detail).into()),
            }
        })
    }
}

impl Line {
    fn of(revision: Revision) -> Result<Self> {
        let Revision { id, kind, number, recorded_at, recorded_by, body, withdrawn, reason } = revision;
        let body = serde_json::to_value(body).map_err(unwritable)?;
        Ok(Self { id, kind, number, recorded_at, recorded_by, withdrawn, reason, body })
    }
}

fn unwritable(error: serde_json::Error) -> BookError {
    Refusal::new("", format!("the archive cannot be written down: {error}")).into()
}

fn read(json: &str) -> Result<Archive> {
    let value: Value = serde_json::from_str(json.trim_start_matches('\u{feff}')).map_err(|error| {
        Refusal::new("", format!("this is not an archive of a farm book: it is not JSON ({error})"))
            .accepted("the JSON file that the export of a farm book made")
    })?;
    if value.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(Refusal::new("format", "this is not an archive of a farm book")
            .given(value.get("format").map_or_else(|| "nothing".to_owned(), short))
            .accepted(FORMAT)
            .into());
    }
    if let Some(version) = value.get("version").and_then(Value::as_u64)
        && version > u64::from(VERSION)
    {
        return Err(Refusal::new(
            "version",
            "this archive was made by a newer version of Spadework; update Spadework first",
        )
        .given(version)
        .accepted(format!("1 to {VERSION}"))
        .into());
    }
    Ok(ground::kit::method::read(&value)?)
}

fn short(value: &Value) -> String {
    value.to_string().chars().take(60).collect()
}

impl Archive {
    /// The log and the files, each line checked.
    fn checked(self) -> Result<(Vec<Revision>, Vec<Attachment>)> {
        let mut files = Vec::with_capacity(self.attachments.len());
        let mut types: BTreeMap<String, String> = BTreeMap::new();
        for (place, file) in self.attachments.into_iter().enumerate() {
            let file = file.checked().map_err(|refusal| refusal.inside(&format!("attachments[{place}]")))?;
            if types.insert(file.sha256.clone(), file.media_type.clone()).is_some() {
                return Err(Refusal::new(
                    format!("attachments[{place}].sha256"),
                    "this file stands in the archive twice",
                )
                .given(file.sha256)
                .into());
            }
            files.push(file);
        }
        let mut known: BTreeMap<EntryId, (Kind, u32)> = BTreeMap::new();
        let mut revisions = Vec::with_capacity(self.log.len());
        for (place, line) in self.log.into_iter().enumerate() {
            let revision = line
                .checked(&mut known, &types)
                .map_err(|refusal| refusal.inside(&format!("log[{place}]")))?;
            revisions.push(revision);
        }
        if known.values().filter(|(kind, _)| *kind == Kind::Farm).count() != 1 {
            return Err(Refusal::new("log", "an archive holds exactly one farm").into());
        }
        Ok((revisions, files))
    }
}

impl Line {
    fn checked(
        self,
        known: &mut BTreeMap<EntryId, (Kind, u32)>,
        types: &BTreeMap<String, String>,
    ) -> std::result::Result<Revision, Refusal> {
        let Self { id, kind, number, recorded_at, recorded_by, withdrawn, reason, body } = self;
        let (first_kind, last) = known.get(&id).copied().unwrap_or((kind, 0));
        if kind != first_kind {
            return Err(Refusal::new("kind", format!("this record was a {} before", first_kind.name()))
                .given(kind.name()));
        }
        if Some(number) != last.checked_add(1) {
            return Err(Refusal::new("number", format!("revision {number} follows revision {last}"))
                .given(number)
                .accepted(format!("{}", u64::from(last) + 1)));
        }
        text::label("recorded_by", &recorded_by, "Ada")?;
        text::note("reason", &reason)?;
        if kind == Kind::Farm && withdrawn {
            return Err(Refusal::new("withdrawn", "the farm itself cannot be withdrawn from its book"));
        }
        let body = Body::read(kind, &body).map_err(|refusal| refusal.inside("body"))?;
        let links = body.links();
        for (link, wanted) in links.records() {
            let field = wanted.name();
            if let Some(link) = link
                && known.get(&link).is_none_or(|(kind, _)| *kind != wanted)
            {
                return Err(Refusal::new(
                    format!("body.{field}"),
                    format!("there is no such {field} earlier in the log"),
                )
                .given(link));
            }
        }
        if let Body::Photo(photo) = &body
            && types.get(&photo.sha256) != Some(&photo.media_type)
        {
            return Err(Refusal::new(
                "body.sha256",
                "the archive does not hold this file under this media type",
            )
            .given(&photo.sha256));
        }
        known.insert(id, (kind, number));
        Ok(Revision { id, kind, number, recorded_at, recorded_by, body, withdrawn, reason })
    }
}

impl AttachedFile {
    fn checked(self) -> std::result::Result<Attachment, Refusal> {
        let bytes = BASE64
            .decode(self.base64.as_bytes())
            .map_err(|error| Refusal::new("base64", format!("the file cannot be read: {error}")))?;
        check_attachment(&bytes, &self.media_type)?;
        let sha256 = hash(&bytes);
        if sha256 != self.sha256 {
            return Err(Refusal::new(
                "sha256",
                "the file is not the one that was attached: its SHA-256 differs",
            )
            .given(self.sha256.chars().take(80).collect::<String>())
            .accepted(sha256));
        }
        Ok(Attachment { sha256, media_type: self.media_type, bytes })
    }
}
