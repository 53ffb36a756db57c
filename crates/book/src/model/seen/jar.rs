//! A jar in the book: its reading so far, and the clock of a jar still settling.

use ground::kit::{Bounded, Refusal};
use ground::texture::jar::reading::JarHeight;
use ground::texture::jar::{Boundary, JarReading, JarShape, Marks};
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
        check_reading(&self.reading).map_err(|refusal| refusal.inside("reading"))
    }
}

fn check_reading(reading: &JarReading) -> Result<(), Refusal> {
    match &reading.marks {
        Marks::Thicknesses { sand, silt, clay } => {
            for (field, boundary) in [("sand", sand), ("silt", silt), ("clay", clay)] {
                check_boundary(boundary).map_err(|refusal| refusal.inside(&format!("marks.{field}")))?;
            }
        }
        Marks::Heights { sand_top, silt_top, clay_top } => {
            for (field, boundary) in [("sand_top", sand_top), ("silt_top", silt_top), ("clay_top", clay_top)]
            {
                check_boundary(boundary).map_err(|refusal| refusal.inside(&format!("marks.{field}")))?;
            }
        }
        Marks::Timed { marks } => {
            let mut last_s = 0.0;
            for (place, mark) in marks.iter().enumerate() {
                check_boundary(&mark.top)
                    .map_err(|refusal| refusal.inside(&format!("marks.marks[{place}].top")))?;
                let after_s = mark.after_s.get();
                if after_s <= last_s {
                    return Err(Refusal::new(
                        format!("marks.marks[{place}].after_s"),
                        format!("marks must stand in the order of time, but {after_s} s follows {last_s} s"),
                    )
                    .given(after_s)
                    .accepted(format!("more than {last_s} s"))
                    .example(last_s + 60.0));
                }
                last_s = after_s;
            }
        }
    }
    let heights: Vec<f64> = match &reading.shape {
        JarShape::Straight => Vec::new(),
        JarShape::Widths { at } => at.iter().map(|width| width.height_mm.get()).collect(),
        JarShape::Poured { fills } => fills.iter().map(|fill| fill.height_mm.get()).collect(),
    };
    if heights.windows(2).any(|pair| pair[1] <= pair[0]) {
        return Err(Refusal::new(
            "shape",
            "the heights that give the shape of the jar must go from the floor up",
        )
        .given(format!("{heights:?} mm"))
        .accepted("each height above the one before")
        .example("[0.0, 60.0, 120.0] mm"));
    }
    Ok(())
}

fn check_boundary(boundary: &Boundary) -> Result<(), Refusal> {
    match boundary {
        Boundary::Between { low_mm, high_mm } if high_mm.get() < low_mm.get() => Err(Refusal::new(
            "high_mm",
            format!(
                "the upper end of the range lies below its lower end: {} to {} mm",
                low_mm.get(),
                high_mm.get()
            ),
        )
        .given(high_mm.get())
        .accepted(format!("{} mm or more", low_mm.get()))
        .example(low_mm.get() + 2.0)),
        _ => Ok(()),
    }
}
