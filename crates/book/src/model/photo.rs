//! A photo: the picture itself is attached to the book under its SHA-256.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};
use crate::store::LARGEST_ATTACHMENT_BYTES;

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

impl Photo {
    /// The media type of a picture by its first bytes, whatever its name says.
    ///
    /// # Errors
    /// The file is empty, too large, or no picture that a browser can show.
    pub fn media_type_of(bytes: &[u8]) -> Result<&'static str, Refusal> {
        const LIMIT_MB: usize = LARGEST_ATTACHMENT_BYTES >> 20;
        let refused = |message: String| {
            Refusal::new("photo", message)
                .accepted(format!("a JPEG, PNG, WebP or GIF picture of up to {LIMIT_MB} MB"))
                .example("a photo straight from the phone")
        };
        match bytes {
            [] => Err(refused("the file is missing or empty".to_owned())),
            _ if bytes.len() > LARGEST_ATTACHMENT_BYTES => Err(refused(format!(
                "this file has {} MB, more than the {LIMIT_MB} MB that fit",
                bytes.len().div_ceil(1 << 20)
            ))),
            [0xff, 0xd8, 0xff, ..] => Ok("image/jpeg"),
            [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, ..] => Ok("image/png"),
            [b'G', b'I', b'F', b'8', b'7' | b'9', b'a', ..] => Ok("image/gif"),
            [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => Ok("image/webp"),
            [_, _, _, _, b'f', b't', b'y', b'p', ..] => Err(refused(
                "this is a HEIC or video file, which most browsers cannot show; set the phone to save photos as JPEG"
                    .to_owned(),
            )),
            _ => Err(refused("this file is no picture of a known kind".to_owned())),
        }
    }
}

impl Record for Photo {
    const KIND: Kind = Kind::Photo;

    fn check(&self) -> Result<(), Refusal> {
        text::sha256("sha256", &self.sha256)?;
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn pictures_are_told_by_their_content() {
        // Signatures from RFC 2083 (PNG), ITU-T T.81 (JPEG start of image and a marker), the GIF89a
        // specification and RFC 9649 (WebP), from memory.
        for (bytes, expected) in [
            (&b"\xff\xd8\xff\xe0rest"[..], Some("image/jpeg")),
            (b"\x89PNG\r\n\x1a\nrest", Some("image/png")),
            (b"GIF89a", Some("image/gif")),
            (b"RIFF\0\0\0\0WEBPVP8 ", Some("image/webp")),
            (b"\0\0\0\x18ftypheic", None),
            (b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>", None),
            (b"%PDF-1.7", None),
            (b"", None),
        ] {
            assert_eq!(Photo::media_type_of(bytes).ok(), expected, "{bytes:?}");
        }
        assert!(Photo::media_type_of(&vec![0xff; LARGEST_ATTACHMENT_BYTES + 1]).is_err());
    }

    proptest! {
        #[test]
        fn no_bytes_panic(bytes in proptest::collection::vec(any::<u8>(), 0..64)) {
            let _ = Photo::media_type_of(&bytes);
        }
    }
}
