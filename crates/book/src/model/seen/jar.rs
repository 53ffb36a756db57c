//! A jar in the book: its reading so far, and the clock of a jar still settling.

use ground::kit::Refusal;
use ground::texture::jar::reading::JarHeight;
use ground::texture::jar::{JarReading, Marks, layer_tops};
use jiff::Timestamp;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A jar.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JarSeen {
    /// When the shaken jar was set down; needed for a jar still settling.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>", example = &"2026-04-12T08:30:00Z")]
    pub started_at: Option<Timestamp>,
    /// Height of the loose dry soil in the jar before the water; with it the times of the marks can
    /// allow for grains that crowd each other.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub soil_height_mm: Option<JarHeight>,
    /// Are all marks made? A jar still settling is kept but not yet believed.
    pub finished: bool,
    /// The marks so far, and what is known of the jar and the water.
    pub reading: JarReading,
}

impl JarSeen {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        if !self.finished && self.started_at.is_none() {
            return Err(Refusal::new(
                "started_at",
                "a jar still settling needs the time at which it was set down",
            )
            .given("nothing")
            .accepted("a date and time")
            .example("2026-04-12T08:30:00Z"));
        }
        Ok(())
    }

    /// Marks and jar must make sense together, as far as they have been made.
    pub(super) fn accept(&self) -> Result<(), Refusal> {
        if !self.finished && matches!(&self.reading.marks, Marks::Timed { marks } if marks.is_empty()) {
            return Ok(());
        }
        layer_tops(&self.reading).map(drop).map_err(|refusal| refusal.inside("reading"))
    }
}
