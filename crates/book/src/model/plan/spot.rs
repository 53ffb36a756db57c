//! Where on the farm something was taken or seen.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::farm::{Latitude, Longitude};
use super::super::{EntryId, text};
use super::{Frame, Point};

ground::quantity! {
    /// How far off a place may be.
    pub struct LocatedWithin: "how far off the place may be", "m", 0.0 ..= 1000.0, example 5.0;
}

/// The place that metres of the plan are counted from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlanOrigin {
    /// Its latitude, WGS 84.
    pub latitude_degrees: Latitude,
    /// Its longitude, WGS 84.
    pub longitude_degrees: Longitude,
}

/// Where on its plot something was taken or seen: a point of a sampling plan, a place, or both.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Spot {
    /// The sampling plan that the number is of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plan: Option<EntryId>,
    /// The number of its point.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub number: Option<u16>,
    /// The place itself, where it is known better than from the plan, or without one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<Located>,
}

/// A place, and how far off it may be.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Located {
    /// What its numbers mean.
    pub frame: Frame,
    /// The place.
    pub at: Point,
    /// How far off it may be.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub within_m: Option<LocatedWithin>,
}

impl Spot {
    /// A point of a sampling plan.
    #[must_use]
    pub fn numbered(plan: EntryId, number: u16) -> Self {
        Self { plan: Some(plan), number: Some(number), at: None }
    }

    /// A place without a plan.
    #[must_use]
    pub fn placed(frame: Frame, at: Point) -> Self {
        Self { plan: None, number: None, at: Some(Located { frame, at, within_m: None }) }
    }

    pub(crate) fn check(&self) -> Result<(), Refusal> {
        if let Some(number) = self.number {
            text::count("number", number, 1, 10_000, 1)?;
        }
        if self.plan.is_some() != self.number.is_some() || (self.plan.is_none() && self.at.is_none()) {
            return Err(Refusal::new("spot", "this does not say where it was")
                .given("half a place")
                .accepted("a sampling plan and the number of its point, or a place")
                .example("point 4 of the plan"));
        }
        let Some(located) = self.at else { return Ok(()) };
        let sound = located.frame.on_the_plan().and_then(|()| located.frame.check(located.at));
        sound.map_err(|refusal| refusal.inside("at"))
    }
}
