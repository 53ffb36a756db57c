//! A picture of the farmer's own under the plan: scanned, or from the air.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::{Kind, Links, Record, text};
use super::{Frame, Point};

ground::quantity! {
    /// How much a picture hides what lies under it.
    pub struct Opacity: "opacity", "%", 0.0 ..= 100.0, example 60.0;
}

/// A picture under the plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Underlay {
    /// What it is called.
    pub name: String,
    /// SHA-256 of the attached picture; attach it first.
    pub sha256: String,
    /// Media type of the picture.
    pub media_type: String,
    /// Its width in pixels.
    pub width_px: u32,
    /// Its height in pixels.
    pub height_px: u32,
    /// Spots of the picture whose place is known: none yet, or two or three that fix it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fixed: Vec<FixedPoint>,
    /// How much it hides what lies under it; 60 % where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opacity_percent: Option<Opacity>,
    /// Anything else.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A spot of a picture whose place is known.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FixedPoint {
    /// Pixels from the left edge.
    pub x_px: f64,
    /// Pixels from the top edge.
    pub y_px: f64,
    /// What the numbers of its place mean.
    pub frame: Frame,
    /// Its place.
    pub at: Point,
}

/// Most pixels along a side of a picture.
const MOST_PX: u32 = 50_000;

impl Record for Underlay {
    const KIND: Kind = Kind::Underlay;

    fn check(&self) -> Result<(), Refusal> {
        text::name("name", &self.name, "The farm from the air")?;
        text::sha256("sha256", &self.sha256)?;
        text::name("media_type", &self.media_type, "image/jpeg")?;
        text::note("note", &self.note)?;
        for (field, side) in [("width_px", self.width_px), ("height_px", self.height_px)] {
            if !(1..=MOST_PX).contains(&side) {
                return Err(Refusal::new(field, format!("a picture cannot be {side} pixels on a side"))
                    .given(side)
                    .accepted(format!("1 to {MOST_PX} pixels"))
                    .example("2400"));
            }
        }
        if self.fixed.len() > 3 || self.fixed.len() == 1 {
            return Err(Refusal::new("fixed", "a picture is fixed by two or three known points")
                .given(self.fixed.len())
                .accepted("two or three points, or none yet")
                .example("a gate post and a corner of the barn"));
        }
        for point in &self.fixed {
            let inside = (0.0..=f64::from(self.width_px)).contains(&point.x_px)
                && (0.0..=f64::from(self.height_px)).contains(&point.y_px);
            if !inside {
                return Err(Refusal::new("fixed", "this spot lies outside the picture")
                    .given(format!("{}, {}", point.x_px, point.y_px))
                    .accepted(format!("0 to {} and 0 to {} pixels", self.width_px, self.height_px))
                    .example("a spot inside the picture"));
            }
            let sound = point.frame.on_the_plan().and_then(|()| point.frame.check(point.at));
            sound.map_err(|refusal| refusal.inside("fixed"))?;
        }
        Ok(())
    }

    fn links(&self) -> Links {
        Links { attachment: Some(self.sha256.clone()), ..Links::default() }
    }
}
