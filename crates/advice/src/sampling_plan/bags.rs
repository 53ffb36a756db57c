//! Which core goes into which bag.

use std::collections::{BTreeMap, BTreeSet};

use book::model::{Design, SamplingPoint};

use super::{Numbers, SamplingAsk};

/// Gives each point its bag: that of the earlier plan where its points are taken again and no other number of bags was
/// asked for, else numbered anew as they are walked.
pub(super) fn into_bags(
    points: Vec<SamplingPoint>,
    numbers: &mut Numbers,
    asked: &SamplingAsk,
) -> Vec<SamplingPoint> {
    let known = points.iter().all(|point| point.bag.is_some());
    if asked.design == Design::Repeat && asked.bags.is_none() && !asked.apart && known {
        return as_before(points, numbers);
    }
    walked(points, numbers)
}

/// The bags of the earlier plan. One that lost all its points is gone, and those behind it move up.
fn as_before(mut points: Vec<SamplingPoint>, numbers: &mut Numbers) -> Vec<SamplingPoint> {
    let left: BTreeSet<u16> = points.iter().filter_map(|point| point.bag).collect();
    let place: BTreeMap<u16, u16> = left.into_iter().zip(1..).collect();
    for point in &mut points {
        point.bag = point.bag.and_then(|bag| place.get(&bag).copied());
    }
    numbers.bags = place.values().copied().max().unwrap_or(1);
    points
}

/// Numbers the points as they are walked and gives each its bag. Every bag gets cores from all over the plot: one from
/// each part where the parts hold a point for every bag, else every second or third of the walk.
fn walked(mut points: Vec<SamplingPoint>, numbers: &Numbers) -> Vec<SamplingPoint> {
    let mut of_part: BTreeMap<u16, u16> = BTreeMap::new();
    for part in points.iter().filter_map(|point| point.stratum) {
        *of_part.entry(part).or_insert(0) += 1;
    }
    let by_parts = of_part.values().all(|count| *count >= numbers.bags);
    let mut in_part: BTreeMap<u16, u16> = BTreeMap::new();
    let own_bag = numbers.bags == numbers.places && numbers.bags > 1;
    for (at, point) in (0_u16..).zip(&mut points) {
        point.number = at + 1;
        let turn = match point.stratum {
            Some(part) if by_parts && !own_bag => {
                let seen = in_part.entry(part).or_insert(0);
                *seen += 1;
                *seen - 1
            }
            _ => at,
        };
        point.bag = Some(turn % numbers.bags.max(1) + 1);
    }
    points
}
