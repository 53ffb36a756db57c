//! A kept sampling plan, with its places in metres and in degrees.

use book::model::{EntryId, Point, SamplingPlan};
use book::{Held, Snapshot};
use ground::kit::Refusal;
use serde::Serialize;

use crate::plan::FarmPlan;

/// A point of a kept plan.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ToldPoint {
    /// Its number.
    pub number: u16,
    /// Metres east and north on the plan of the farm, or from the corner of a plot that is not drawn.
    pub metres: Option<Point>,
    /// Longitude and latitude, where they are known.
    pub degrees: Option<Point>,
    /// The part of the plot it stands for.
    pub stratum: Option<u16>,
    /// The bag it goes into.
    pub bag: Option<u16>,
    /// Metres to walk from the point before.
    pub step_m: Option<f64>,
    /// Samples that were written down for it.
    pub samples: usize,
}

/// A kept plan as it is shown.
#[derive(Debug, Clone, Serialize)]
pub struct ToldPlan {
    /// The record.
    pub id: EntryId,
    /// Its revision.
    pub revision: u32,
    /// The plan.
    pub plan: SamplingPlan,
    /// Name of its plot.
    pub plot_name: String,
    /// Its points, in the order in which they are walked.
    pub points: Vec<ToldPoint>,
    /// Length of the walk.
    pub walk_m: f64,
    /// Has it a bag for every point, with several cores about it?
    pub apart: bool,
    /// Was soil written down as taken for it?
    pub taken: bool,
}

/// Reads a kept plan.
#[must_use]
pub fn told(snapshot: &Snapshot, id: EntryId) -> Option<ToldPlan> {
    let held: &Held<SamplingPlan> = snapshot.sampling_plan(id)?;
    let plan = &held.body;
    let farm = FarmPlan::about(snapshot, plan);
    let frame = farm.frame();
    let mut before: Option<Point> = None;
    let mut walk_m = 0.0;
    let of_point = |number: u16| {
        let here = |spot: Option<book::model::Spot>| {
            spot.is_some_and(|spot| spot.plan == Some(id) && spot.number == Some(number))
        };
        snapshot.samples.iter().filter(|sample| here(sample.body.spot)).count()
    };
    let points = plan
        .points
        .iter()
        .map(|point| {
            let metres = farm.on_its_sheet(plan, point.at);
            let step_m = before.zip(metres).map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1]));
            walk_m += step_m.unwrap_or(0.0);
            before = metres.or(before);
            let degrees = match plan.frame {
                book::model::Frame::Wgs84 => Some(point.at),
                book::model::Frame::Metres => {
                    metres.and_then(|at| frame.as_ref().map(|frame| frame.to_degrees(at)))
                }
                book::model::Frame::PlotCorner => None,
            };
            ToldPoint {
                number: point.number,
                metres,
                degrees,
                stratum: point.stratum,
                bag: point.bag,
                step_m,
                samples: of_point(point.number),
            }
        })
        .collect();
    let taken = taken(snapshot, held);
    Some(ToldPlan {
        id,
        revision: held.number,
        apart: super::tell::Walk::of(plan).apart,
        plan: plan.clone(),
        plot_name: snapshot.plot(plan.plot).map_or_else(String::new, |plot| plot.body.name.clone()),
        points,
        walk_m,
        taken,
    })
}

/// Was soil taken for it: at one of its points, or from its plot and depth since it was made?
pub(crate) fn taken(snapshot: &Snapshot, plan: &Held<SamplingPlan>) -> bool {
    snapshot.samples.iter().any(|sample| {
        let sample = &sample.body;
        let at_point = sample.spot.is_some_and(|spot| spot.plan == Some(plan.id));
        let since = sample.plot == plan.body.plot
            && sample.taken_on >= plan.body.made_on
            && sample.spot.is_none()
            && sample.from_cm == plan.body.from_cm
            && sample.to_cm == plan.body.to_cm;
        at_point || since
    }) || snapshot
        .observations
        .iter()
        .any(|held| held.body.spot.is_some_and(|spot| spot.plan == Some(plan.id)))
}

impl ToldPlan {
    /// Its places in degrees, for a phone.
    ///
    /// # Errors
    /// The plan of the farm has no place on the Earth, or the plan has no points.
    pub fn in_degrees(&self) -> Result<Vec<(u16, Point, String)>, Refusal> {
        if self.points.is_empty() {
            return Err(Refusal::new("plot", "this plan has no points: only the area of its plot was known")
                .given(&self.plot_name)
                .accepted("a plot that is drawn on the plan")
                .example("draw it, then make a new sampling plan"));
        }
        self.points
            .iter()
            .map(|point| {
                let at = point.degrees.ok_or_else(|| {
                    Refusal::new("frame", "these points are metres on a plan that has no place on the Earth, so a phone cannot find them")
                        .given("metres")
                        .accepted("a plan with latitude and longitude of one of its places, and the plot drawn on it")
                        .example("42.5 N, 93.5 W for the corner of the barn, on the page of the plan; then make the sampling plan anew")
                })?;
                Ok((point.number, at, super::tell::bag(point.bag)))
            })
            .collect()
    }
}
