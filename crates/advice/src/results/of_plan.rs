//! The rows and columns of a sampling plan's results.

use book::model::{SamplingPlan, SamplingPurpose};
use serde::Serialize;

use super::Column;
use crate::sampling_plan::tell::Walk;

/// A row of a plan: a bag, or a point where nothing goes into bags.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PlanRow {
    /// Its number.
    pub number: u16,
    /// Numbers of the points it stands for; none where the plan does not say.
    pub points: Vec<u16>,
}

/// The rows of a plan: its bags, or its points where the ground is probed in place.
#[must_use]
pub fn plan_rows(plan: &SamplingPlan) -> Vec<PlanRow> {
    let mut numbers: Vec<u16> = plan.points.iter().map(|point| point.number).collect();
    if plan.purpose == SamplingPurpose::Structure && !numbers.is_empty() {
        return numbers.into_iter().map(|number| PlanRow { number, points: vec![number] }).collect();
    }
    let told = plan.points.iter().any(|point| point.bag.is_some());
    numbers.sort_unstable();
    (1..=plan.bags)
        .map(|bag| {
            let points = if told {
                plan.points.iter().filter(|point| point.bag == Some(bag)).map(|point| point.number).collect()
            } else if plan.bags == 1 {
                numbers.clone()
            } else if usize::from(plan.bags) == numbers.len() {
                vec![numbers[usize::from(bag - 1)]]
            } else {
                Vec::new()
            };
            PlanRow { number: bag, points }
        })
        .collect()
}

/// The one point that a row stands for.
pub(super) fn point_of(plan: &SamplingPlan, number: u16) -> Option<u16> {
    match plan_rows(plan).into_iter().find(|row| row.number == number)?.points[..] {
        [point] => Some(point),
        _ => None,
    }
}

/// Cores that are mixed for a row: one of each of its points, unless each point has a bag of its own.
pub(super) fn cores_of(plan: &SamplingPlan, number: u16) -> Option<u16> {
    let row = plan_rows(plan).into_iter().find(|row| row.number == number)?;
    let of_points = u16::try_from(row.points.len()).ok().filter(|count| *count > 0);
    let cores = if Walk::of(plan).apart { None } else { of_points };
    Some(cores.unwrap_or(plan.cores_per_bag)).filter(|cores| *cores > 0)
}

/// The columns that a purpose asks for; without a plan those that most growers can fill themselves.
#[must_use]
pub fn usual_columns(purpose: Option<SamplingPurpose>) -> Vec<Column> {
    let jar = [Column::SandTop, Column::SiltTop, Column::ClayTop];
    let figure = |heading: &str| Column::Figure(heading.to_owned());
    match purpose {
        Some(SamplingPurpose::Fertility) => {
            vec![
                figure("pH"),
                Column::OrganicMatter,
                figure("P (Mehlich-3) ppm"),
                figure("K (Mehlich-3) ppm"),
            ]
        }
        Some(SamplingPurpose::Nitrate) => vec![figure("NO3-N ppm")],
        Some(SamplingPurpose::Texture) => jar.into_iter().chain([Column::Feel]).collect(),
        Some(SamplingPurpose::OrganicMatter) => vec![Column::OrganicMatter],
        Some(SamplingPurpose::Salts) => vec![Column::Conductivity, figure("pH")],
        Some(SamplingPurpose::Structure) => vec![Column::HardFrom],
        None => jar.into_iter().chain([Column::Feel, figure("pH"), Column::OrganicMatter]).collect(),
    }
}
