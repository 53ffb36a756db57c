//! Files kept inside the book: photos above all.

use std::fmt::Write as _;

use ground::kit::Refusal;
use rusqlite::{OptionalExtension, params};
use sha2::{Digest, Sha256};

use super::{Book, Writing};
use crate::error::{BookError, Result};

/// Largest file that may be attached, in bytes.
pub const LARGEST_ATTACHMENT_BYTES: usize = 32 * 1024 * 1024;

/// An attached file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attachment {
    /// SHA-256 of its bytes, lower-case hexadecimal.
    pub sha256: String,
    /// Its media type.
    pub media_type: String,
    /// The file.
    pub bytes: Vec<u8>,
}

impl Book {
    /// Keeps a file in the book and gives its SHA-256; a file already there is kept once.
    ///
    /// # Errors
    /// The file is empty or too large, its media type is malformed or differs from the one it was
    /// kept under before, or the book cannot be written.
    pub fn attach(&mut self, bytes: &[u8], media_type: &str) -> Result<String> {
        self.write(|writing| writing.attach(bytes, media_type))
    }

    /// An attached file.
    ///
    /// # Errors
    /// There is none with that SHA-256.
    pub fn attachment(&self, sha256: &str) -> Result<Attachment> {
        self.read(|connection| {
            connection
                .query_row(
                    "SELECT sha256, media_type, bytes FROM attachment WHERE sha256 = ?1",
                    [sha256],
                    |row| Ok(Attachment { sha256: row.get(0)?, media_type: row.get(1)?, bytes: row.get(2)? }),
                )
                .optional()
        })?
        .ok_or_else(|| BookError::NoAttachment { sha256: sha256.chars().take(80).collect() })
    }
}

impl Writing<'_> {
    /// See [`Book::attach`].
    ///
    /// # Errors
    /// See [`Book::attach`].
    pub fn attach(&mut self, bytes: &[u8], media_type: &str) -> Result<String> {
        check(bytes, media_type)?;
        let sha256 = hash(bytes);
        match self.media_type_of(&sha256)? {
            None => self.sql(
                "INSERT INTO attachment (sha256, media_type, bytes) VALUES (?1, ?2, ?3)",
                params![sha256, media_type, bytes],
            )?,
            Some(known) if known != media_type => {
                return Err(Refusal::new(
                    "media_type",
                    format!("this file is in the book already, as {known}"),
                )
                .given(media_type)
                .accepted(known.clone())
                .example(known)
                .into());
            }
            Some(_) => {}
        }
        Ok(sha256)
    }
}

/// SHA-256 in lower-case hexadecimal.
pub(crate) fn hash(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold(String::with_capacity(64), |mut text, byte| {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

pub(crate) fn check(bytes: &[u8], media_type: &str) -> std::result::Result<(), Refusal> {
    if bytes.is_empty() || bytes.len() > LARGEST_ATTACHMENT_BYTES {
        return Err(Refusal::new("bytes", format!("the file holds {} bytes", bytes.len()))
            .given(format!("{} bytes", bytes.len()))
            .accepted("a file of 1 byte to 32 MB")
            .example("a photo straight from the phone"));
    }
    let plain = |part: &str| {
        !part.is_empty()
            && part.len() <= 60
            && part.bytes().all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'+' | b'.'))
    };
    if !media_type.split_once('/').is_some_and(|(kind, subtype)| plain(kind) && plain(subtype)) {
        return Err(Refusal::new("media_type", "this is not a media type")
            .given(media_type.chars().take(60).collect::<String>())
            .accepted("two words parted by a slash")
            .example("image/jpeg"));
    }
    Ok(())
}
