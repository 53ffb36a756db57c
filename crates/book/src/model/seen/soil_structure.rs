//! Structure: pushes of a probe, cores, a dug block, and what the ground did when it was worked.

use ground::irrigation::moisture::FeelStep;
use ground::kit::{Bounded, Method, Refusal};
use ground::structure::density::core::{CoreBulkDensity, CoreInput};
use ground::structure::probe::push::{ProbeDepth, ProbeReading, RodFeel};
use ground::structure::probe::transect::{ProbePush, ProbeTransect, TransectInput};
use ground::structure::spade::look::{LookInput, SpadeLook, SpadeSign};
use ground::structure::spade::score::{ScoreInput, ScoredLayer, VisualStructureScore};
use ground::structure::spade::worms::{EarthwormCount, WormInput};
use ground::structure::working::ball::Handful;
use ground::structure::working::limits::{ConsistencyLimits, LimitsInput};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::moisture::deeper;
use super::{DaysOfWater, MoistureFeel, SignDepth};
use crate::model::text;

/// Most points of one transect.
pub const MOST_POINTS: usize = 100;
/// Most readings under one point.
const MOST_READINGS: usize = 60;
/// Most cores of one layer in one record.
pub const MOST_CORES: usize = 20;

/// A probe pushed in at several points of a plot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProbeSeen {
    /// What a handful from the depth of the readings did when squeezed.
    pub moisture: MoistureFeel,
    /// Was it pushed in wheel tracks or paths, rather than where crops grow?
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub tracks: bool,
    /// The points, in the order they were walked.
    pub points: Vec<ProbePoint>,
}

/// One push.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProbePoint {
    /// Where it was, for finding it again next year.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// Readings, top first.
    pub readings: Vec<ProbeReading>,
    /// Depth at which it could not be pushed further.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stuck_at_cm: Option<ProbeDepth>,
}

impl ProbeSeen {
    /// As its method reads it: where the probe was stuck counts as a rod that stops.
    #[must_use]
    pub fn input(&self) -> TransectInput {
        let pushes = self.points.iter().map(|point| {
            let stuck = point.stuck_at_cm.map(|depth_cm| ProbeReading {
                depth_cm,
                resistance_mpa: None,
                rod: Some(RodFeel::Stops),
            });
            ProbePush { readings: point.readings.iter().copied().chain(stuck).collect() }
        });
        TransectInput { pushes: pushes.collect(), moisture: self.moisture.into() }
    }

    pub(super) fn check(&self) -> Result<(), Refusal> {
        let count = self.points.len();
        if !(1..=MOST_POINTS).contains(&count) {
            return Err(Refusal::new("points", format!("{count} points were given"))
                .given(count)
                .accepted(format!("1 to {MOST_POINTS} points"))
                .example("10"));
        }
        for (at, point) in self.points.iter().enumerate() {
            text::label(&format!("points[{at}].place"), &point.place, "By the gate")?;
            if point.readings.len() > MOST_READINGS {
                return Err(Refusal::new(
                    format!("points[{at}].readings"),
                    format!("{} readings were given for one point", point.readings.len()),
                )
                .given(point.readings.len())
                .accepted(format!("up to {MOST_READINGS} readings")));
            }
        }
        Ok(())
    }

    pub(super) fn accept(&self) -> Result<(), Refusal> {
        for (at, point) in self.points.iter().enumerate() {
            if let (Some(stuck), Some(last)) = (point.stuck_at_cm, point.readings.last())
                && stuck.get() <= last.depth_cm.get()
            {
                return Err(Refusal::new(
                    format!("points[{at}].stuck_at_cm"),
                    "the probe was stuck above a reading that it gave",
                )
                .given(format!("{} cm", stuck.get()))
                .accepted(format!("more than {} cm", last.depth_cm.get()))
                .example(last.depth_cm.get() + 5.0));
            }
        }
        ProbeTransect::compute(&self.input()).map(drop).map_err(|mut refusal| {
            // The method speaks of pushes, the record of points.
            refusal.field = refusal.field.replace("pushes", "points");
            refusal
        })
    }
}

impl From<MoistureFeel> for FeelStep {
    fn from(feel: MoistureFeel) -> Self {
        match feel {
            MoistureFeel::Dry => Self::Dry,
            MoistureFeel::SlightlyMoist => Self::SlightlyMoist,
            MoistureFeel::Moist => Self::Moist,
            MoistureFeel::Wet => Self::Wet,
            MoistureFeel::FieldCapacity => Self::FieldCapacity,
        }
    }
}

/// Cores of known volume from one layer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DensityCores {
    /// Top of the layer.
    pub from_cm: SignDepth,
    /// Its bottom.
    pub to_cm: SignDepth,
    /// The cores.
    pub cores: Vec<CoreInput>,
}

impl DensityCores {
    /// Middle of the layer, cm.
    #[must_use]
    pub fn middle_cm(&self) -> f64 {
        f64::midpoint(self.from_cm.get(), self.to_cm.get())
    }

    pub(super) fn check(&self) -> Result<(), Refusal> {
        if self.to_cm.get() <= self.from_cm.get() {
            return Err(deeper("to_cm", self.from_cm, self.to_cm));
        }
        let count = self.cores.len();
        if !(1..=MOST_CORES).contains(&count) {
            return Err(Refusal::new("cores", format!("{count} cores were given"))
                .given(count)
                .accepted(format!("1 to {MOST_CORES} cores"))
                .example("3"));
        }
        Ok(())
    }

    pub(super) fn accept(&self) -> Result<(), Refusal> {
        self.cores.iter().enumerate().try_for_each(|(at, core)| {
            CoreBulkDensity::compute(core)
                .map(drop)
                .map_err(|refusal| refusal.inside(&format!("cores[{at}]")))
        })
    }
}

/// A block dug with the spade: any of its parts may be missing, but not all.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SpadeBlock {
    /// Its layers with their scores, top first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub layers: Vec<ScoredLayer>,
    /// What was seen in it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub signs: Vec<SpadeSign>,
    /// Earthworms that were counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub worms: Option<WormInput>,
}

impl SpadeBlock {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        if self.layers.is_empty() && self.signs.is_empty() && self.worms.is_none() {
            return Err(Refusal::new("signs", "nothing was said of the block")
                .given("nothing")
                .accepted("a score, a sign or a count of earthworms")
                .example("roots that turn aside"));
        }
        if self.layers.len() > 10 || self.signs.len() > 20 {
            return Err(Refusal::new("layers", "more was given than a block can show")
                .given(format!("{} layers, {} signs", self.layers.len(), self.signs.len()))
                .accepted("up to 10 layers and 20 signs")
                .example("2 layers"));
        }
        Ok(())
    }

    pub(super) fn accept(&self) -> Result<(), Refusal> {
        if !self.layers.is_empty() {
            VisualStructureScore::compute(&ScoreInput { layers: self.layers.clone() })?;
        }
        if !self.signs.is_empty() {
            SpadeLook::compute(&LookInput { signs: self.signs.clone() })?;
        }
        if let Some(worms) = &self.worms {
            EarthwormCount::compute(worms).map_err(|refusal| refusal.inside("worms"))?;
        }
        Ok(())
    }
}

/// What the ground did under the tool.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WhenWorked {
    /// It broke into crumbs.
    Crumbled,
    /// It came up in hard clods.
    Clods,
    /// It smeared and shone.
    Smeared,
    /// It went to dust.
    Dust,
}

impl WhenWorked {
    /// Every answer.
    pub const ALL: [Self; 4] = [Self::Crumbled, Self::Clods, Self::Smeared, Self::Dust];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Crumbled => "it broke into crumbs",
            Self::Clods => "it came up in hard clods",
            Self::Smeared => "it smeared and shone",
            Self::Dust => "it went to dust",
        }
    }
}

/// A handful from working depth, and how the ground worked that day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WorkingTest {
    /// Depth that the handful came from.
    pub depth_cm: SignDepth,
    /// What it did when squeezed and pressed.
    pub handful: Handful,
    /// Days since a soaking rain or watering.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days_since_rain: Option<DaysOfWater>,
    /// What the ground did, where it was worked that day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub worked: Option<WhenWorked>,
    /// Consistency limits, where they were found.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limits: Option<LimitsInput>,
}

impl WorkingTest {
    pub(super) fn accept(&self) -> Result<(), Refusal> {
        match &self.limits {
            Some(limits) => {
                ConsistencyLimits::compute(limits).map(drop).map_err(|refusal| refusal.inside("limits"))
            }
            None => Ok(()),
        }
    }
}
