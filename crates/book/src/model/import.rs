//! A table that was taken in as one: what came from it can be undone together.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::laboratory::{LabHeading, check_headings};
use super::{EntryId, Kind, Links, Record, text};

/// One table taken in. The records made from it carry its identity.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Import {
    /// Name of the file.
    pub file_name: String,
    /// The laboratory, where one is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub laboratory: Option<EntryId>,
    /// SHA-256 of the file, lower-case hexadecimal; the same table is known again by it.
    pub file_sha256: String,
    /// Rows that were taken.
    pub rows: u32,
    /// How the columns were read, in their order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub columns: Vec<LabHeading>,
    /// What was noticed on the way in: bags that were known, results that stood in the book already.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub remarks: Vec<String>,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

impl Record for Import {
    const KIND: Kind = Kind::Import;

    fn check(&self) -> Result<(), Refusal> {
        text::name("file_name", &self.file_name, "results.csv")?;
        if self.file_sha256.len() != 64
            || !self.file_sha256.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'))
        {
            return Err(Refusal::new("file_sha256", "this is not a SHA-256")
                .given(self.file_sha256.chars().take(80).collect::<String>())
                .accepted("64 hexadecimal digits in lower case"));
        }
        check_headings("columns", &self.columns)?;
        for (place, remark) in self.remarks.iter().enumerate() {
            text::note(&format!("remarks[{place}]"), remark)?;
        }
        text::note("note", &self.note)
    }

    fn links(&self) -> Links {
        Links { laboratory: self.laboratory, ..Links::default() }
    }
}
