//! Identity of a record.

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

/// Identity of a record: a version 7 UUID (RFC 9562), unique across farms and sorted by time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct EntryId(Uuid);

impl EntryId {
    /// The identity of a record written at `millis` of the Unix clock, with the rest from `bits`.
    pub(crate) fn from_parts(millis: u64, bits: &[u8; 10]) -> Self {
        Self(uuid::Builder::from_unix_timestamp_millis(millis, bits).into_uuid())
    }

    /// All its bits.
    pub(crate) fn as_u128(self) -> u128 {
        self.0.as_u128()
    }
}

impl fmt::Display for EntryId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl FromStr for EntryId {
    type Err = NotAnId;

    fn from_str(text: &str) -> Result<Self, NotAnId> {
        Uuid::try_parse(text.trim()).map(Self).map_err(|_| NotAnId(text.to_owned()))
    }
}

/// A text that is no record's identity.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0:?} is not the identity of a record; one looks like 0190163d-8694-739b-aea5-966c26f8ad91")]
pub struct NotAnId(pub String);

impl JsonSchema for EntryId {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "EntryId".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "format": "uuid",
            "examples": ["0190163d-8694-739b-aea5-966c26f8ad91"],
        })
    }
}
