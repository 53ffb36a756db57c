//! Which core goes into which bag.

use std::collections::BTreeMap;

use book::model::SamplingPoint;

use super::Numbers;

/// Numbers the points as they are walked and gives each its bag. Every bag gets cores from all over the plot: one from
/// each part where the parts hold a point for every bag, else every second or third of the walk.
pub(super) fn into_bags(mut points: Vec<SamplingPoint>, numbers: &Numbers) -> Vec<SamplingPoint> {
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
