//! The points of an earlier plan, taken again.

use book::model::{Design, Frame, Plot, SamplingPlan, SamplingPoint};
use book::{Held, Snapshot};
use ground::kit::Refusal;
use ground::spatial::sampling::ground_to_sample::{Ground, nothing_left};

use super::SamplingAsk;
use super::tell::Walk;
use crate::plan::FarmPlan;
use crate::results::plan_rows;

/// The earlier plan that is meant; nothing where other points are asked for.
pub(super) fn earlier<'a>(
    snapshot: &'a Snapshot,
    plot: &Held<Plot>,
    ask: &SamplingAsk,
) -> Result<Option<&'a Held<SamplingPlan>>, Refusal> {
    if ask.design != Design::Repeat {
        return Ok(None);
    }
    let of_plot = |plan: &&Held<SamplingPlan>| plan.body.plot == plot.id && !plan.body.points.is_empty();
    let earlier = match ask.repeats {
        Some(id) => snapshot.sampling_plan(id).filter(of_plot),
        None => snapshot.sampling_plans.iter().filter(of_plot).max_by_key(|plan| plan.body.made_on),
    };
    earlier.map(Some).ok_or_else(|| {
        Refusal::new("design", "this plot has no earlier sampling plan whose points could be taken again")
            .given("the points of an earlier plan")
            .accepted("stratified random, zigzag walk or spatial coverage, for the first time")
            .example("stratified_random")
    })
}

/// The question with what the earlier plan answers: its bags, unless others are asked for.
pub(super) fn as_before(ask: &SamplingAsk, earlier: &Held<SamplingPlan>) -> SamplingAsk {
    let before = &earlier.body;
    let bags = ask.bags.or((!ask.apart).then_some(before.bags));
    SamplingAsk {
        repeats: Some(earlier.id),
        apart: ask.apart || (ask.bags.is_none() && Walk::of(before).apart),
        bags,
        cores: u16::try_from(before.points.len()).ok(),
        ..*ask
    }
}

/// Its points as far as they still lie on the ground, in its own order and with its own numbers and bags.
pub(super) fn points(
    farm: &FarmPlan,
    plot: &Held<Plot>,
    earlier: &Held<SamplingPlan>,
    ground: &Ground,
    remarks: &mut Vec<String>,
) -> Result<Vec<SamplingPoint>, Refusal> {
    let earlier = &earlier.body;
    if earlier.frame == Frame::PlotCorner && farm.area_of(plot.id).is_some() {
        return Err(Refusal::new(
            "design",
            "the earlier plan counts from a corner of this plot, before it was drawn: nobody can say which corner that is",
        )
        .given("the points of an earlier plan")
        .accepted("a new layout on the plot as it is drawn now")
        .example("stratified_random"));
    }
    let rows = plan_rows(&SamplingPlan {
        // Points that are probed go by their own number, and into no bag.
        purpose: book::model::SamplingPurpose::Fertility,
        ..earlier.clone()
    });
    let bag = |number: u16| rows.iter().find(|row| row.points.contains(&number)).map(|row| row.number);
    let mut points = Vec::new();
    for point in &earlier.points {
        match farm.on_its_sheet(earlier, point.at).filter(|at| ground.allows(*at)) {
            Some(at) => points.push(SamplingPoint { at, bag: bag(point.number), ..*point }),
            None => remarks.push(format!(
                "Point {} of the earlier plan no longer lies on ground to sample and was left out.",
                point.number
            )),
        }
    }
    if points.is_empty() {
        return Err(nothing_left(ground));
    }
    Ok(points)
}
