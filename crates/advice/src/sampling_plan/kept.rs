//! A kept sampling plan, with its places in metres and in degrees.

use book::model::{EntryId, Point, Sample, SamplingPlan, UnitSystem};
use book::{Held, Scanned, Snapshot, Tag};
use ground::kit::Refusal;
use serde::Serialize;

use super::{Corner, remarks};
use crate::plan::FarmPlan;
use crate::results::plan_rows;

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
    /// Metres along the side that leads away from the corner of the plan, and across from it.
    pub along_across_m: Option<[f64; 2]>,
    /// Samples that were written down for it, or for the bag it goes into.
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
    /// The corner that its points are counted from.
    pub corner: Option<Corner>,
    /// What should be known of it.
    pub remarks: Vec<String>,
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
pub fn told(snapshot: &Snapshot, id: EntryId, units: UnitSystem) -> Option<ToldPlan> {
    let held: &Held<SamplingPlan> = snapshot.sampling_plan(id)?;
    let plan = &held.body;
    let farm = FarmPlan::about(snapshot, plan);
    let frame = farm.frame();
    let mut before: Option<Point> = None;
    let mut walk_m = 0.0;
    let corner = Corner::of_plan(snapshot, &farm, held);
    let rows = plan_rows(plan);
    let samples_of = |number: u16| {
        let row = rows.iter().find(|row| row.points.contains(&number)).map(|row| row.number);
        let code = row.map(|number| Tag::Bag { plan: id, number }.short().to_string());
        let here = |sample: &Sample| {
            let at_point =
                sample.spot.is_some_and(|spot| spot.plan == Some(id) && spot.number == Some(number));
            at_point || code.as_ref().is_some_and(|code| sample.bag_label.trim().eq_ignore_ascii_case(code))
        };
        snapshot.samples.iter().filter(|sample| here(&sample.body)).count()
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
                along_across_m: corner.as_ref().zip(metres).map(|(corner, at)| corner.to(at)),
                samples: samples_of(point.number),
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
        corner,
        remarks: remarks::of_kept(snapshot, &farm, plan, units),
        points,
        walk_m,
        taken,
    })
}

/// A kept plan that is the same in all but its name and day, and for which no soil was taken yet.
#[must_use]
pub fn kept_already<'a>(snapshot: &'a Snapshot, plan: &SamplingPlan) -> Option<&'a Held<SamplingPlan>> {
    snapshot.sampling_plans.iter().find(|held| {
        let named = SamplingPlan { name: plan.name.clone(), made_on: plan.made_on, ..held.body.clone() };
        named == *plan && !taken(snapshot, held)
    })
}

/// Was soil taken for it: at one of its points, in one of its bags, or from its plot and depth since it was made?
///
/// A bag that carries the code of another plan was taken for that one.
pub(crate) fn taken(snapshot: &Snapshot, plan: &Held<SamplingPlan>) -> bool {
    snapshot.samples.iter().any(|sample| {
        let sample = &sample.body;
        let at_point = sample.spot.is_some_and(|spot| spot.plan == Some(plan.id));
        if let Some(of_plan) = of_plan(&sample.bag_label, plan.id) {
            return at_point || of_plan;
        }
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

/// Is this label the code of a bag of the plan? Nothing where it is no code of a plan's bag.
fn of_plan(label: &str, plan: EntryId) -> Option<bool> {
    match Scanned::read(label) {
        Ok(Scanned::Short(code)) if code.bag().is_some() => Some(code.names(plan)),
        Ok(Scanned::Tag(Tag::Bag { plan: named, .. })) => Some(named == plan),
        _ => None,
    }
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
