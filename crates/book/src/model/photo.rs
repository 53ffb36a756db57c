//! A photo: the picture itself is attached to the book under its SHA-256.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

/// A photo.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Photo {
    /// The plot it shows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plot: Option<EntryId>,
    /// The observation it belongs to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub observation: Option<EntryId>,
    /// SHA-256 of the attached file, in lower-case hexadecimal; attach the file first.
    pub sha256: String,
    /// Media type of the attached file.
    pub media_type: String,
    /// What it shows.
    #[serde(default)]
    pub caption: String,
}

impl Record for Photo {
    const KIND: Kind = Kind::Photo;

    fn check(&self) -> Result<(), Refusal> {
        if self.sha256.len() != 64 || !self.sha256.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f')) {
            return Err(Refusal::new("sha256", "this is not the SHA-256 of an attached file")
                .given(self.sha256.chars().take(80).collect::<String>())
                .accepted("64 lower-case hexadecimal digits")
                .example("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"));
        }
        text::name("media_type", &self.media_type, "image/jpeg")?;
        text::note("caption", &self.caption)
    }

    fn links(&self) -> Links {
        Links {
            plot: self.plot,
            observation: self.observation,
            attachment: Some(self.sha256.clone()),
            ..Links::default()
        }
    }
}
