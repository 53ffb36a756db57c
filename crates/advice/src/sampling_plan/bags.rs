//! Which core goes into which bag.

use std::collections::BTreeMap;

use book::model::SamplingPoint;

use super::Numbers;

/// Numbers the points as they are walked and gives each its bag. Every bag gets cores from all over the plot: in a
/// plot in parts one from each part, else every second or third of the walk.
pub(super) fn into_bags(mut points: Vec<SamplingPoint>, numbers: &Numbers) -> Vec<SamplingPoint> {
    let mut in_part: BTreeMap<u16, u16> = BTreeMap::new();
    let own_bag = numbers.bags == numbers.places && numbers.bags > 1;
    for (at, point) in (0_u16..).zip(&mut points) {
        point.number = at + 1;
        let turn = match point.stratum {
            Some(part) if !own_bag => {
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
