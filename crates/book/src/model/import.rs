//! A table that was taken in as one: what came from it can be undone together.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::laboratory::{LabHeading, check_headings};
use super::{EntryId, Kind, Links, Record, text};

/// Most remarks that an import keeps.
pub(crate) const MOST_REMARKS: usize = 20_000;

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
        if self.remarks.len() > MOST_REMARKS {
            return Err(Refusal::new("remarks", format!("{} remarks were given", self.remarks.len()))
                .given(self.remarks.len())
                .accepted(format!("at most {MOST_REMARKS} remarks"))
                .example("Line 4: bag A7 is known."));
        }
        for (place, remark) in self.remarks.iter().enumerate() {
            text::note(&format!("remarks[{place}]"), remark)?;
        }
        text::note("note", &self.note)
    }

    fn links(&self) -> Links {
        Links { laboratory: self.laboratory, ..Links::default() }
    }
}

/// The remarks that an import keeps; of more than it can keep, how many more there were.
pub(crate) fn kept_remarks(remarks: &[String]) -> Vec<String> {
    let mut kept = remarks.to_vec();
    if kept.len() > MOST_REMARKS {
        kept.truncate(MOST_REMARKS - 1);
        kept.push(format!("And {} more.", remarks.len() - kept.len()));
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn remarks_are_bounded_and_what_is_cut_is_counted() {
        let said = |count: usize| vec!["Known.".to_owned(); count];
        let import = |remarks| Import {
            file_name: "results.csv".to_owned(),
            laboratory: None,
            file_sha256: "0".repeat(64),
            rows: 1,
            columns: Vec::new(),
            remarks,
            note: String::new(),
        };
        assert_eq!(import(said(MOST_REMARKS + 1)).check().unwrap_err().field, "remarks");
        let kept = kept_remarks(&said(MOST_REMARKS + 5));
        assert_eq!(kept.last().unwrap(), "And 6 more.");
        assert!(import(kept).check().is_ok() && kept_remarks(&said(3)).len() == 3);
    }
}
