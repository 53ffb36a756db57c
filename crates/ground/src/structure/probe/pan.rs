//! Where a pan begins and ends under one push, and what the share of pushes that find one means.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::push::Level;
use super::strength::STOPPED_MPA;

/// Depth to which the share of hard pushes is counted, cm (15 in).
pub const JUDGED_TO_CM: f64 = 38.1;

/// A reading this many times both neighbours is a stone (common practice).
const STONE_TIMES: f64 = 2.0;

/// A hard layer under one push.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Pan {
    /// First depth above the limit.
    pub top_cm: f64,
    /// First deeper depth below it again; none where the probe was not pushed through.
    pub bottom_cm: Option<f64>,
    /// Hardest reading inside.
    pub hardest_mpa: f64,
}

impl Pan {
    /// Thickness, cm, where both ends were found.
    #[must_use]
    pub fn thickness_cm(&self) -> Option<f64> {
        self.bottom_cm.map(|bottom| bottom - self.top_cm)
    }
}

/// Is the reading at `at` a stone? It must stand above both neighbours by [`STONE_TIMES`].
#[must_use]
pub fn is_stone(levels: &[Level], at: usize) -> bool {
    let here = levels[at].resistance_mpa;
    let over = |other: Option<&Level>| other.is_some_and(|level| here > STONE_TIMES * level.resistance_mpa);
    at > 0 && over(levels.get(at - 1)) && over(levels.get(at + 1))
}

/// The first hard layer under one push, stones left out; `None` where nothing is above the limit.
#[must_use]
pub fn pan(levels: &[Level]) -> Option<Pan> {
    let kept = |at: &usize| !is_stone(levels, *at);
    let top = (0..levels.len()).filter(kept).find(|at| levels[*at].resistance_mpa > STOPPED_MPA)?;
    let bottom = (top + 1..levels.len()).filter(kept).find(|at| levels[*at].resistance_mpa <= STOPPED_MPA);
    let hardest_mpa = (top..bottom.unwrap_or(levels.len()))
        .filter(kept)
        .fold(0.0, |most: f64, at| most.max(levels[at].resistance_mpa));
    Some(Pan { top_cm: levels[top].depth_cm, bottom_cm: bottom.map(|at| levels[at].depth_cm), hardest_mpa })
}

/// Does the hardest reading above [`JUDGED_TO_CM`] lie over the limit?
#[must_use]
pub fn hard_above_judged_depth(levels: &[Level]) -> bool {
    (0..levels.len()).any(|at| {
        levels[at].depth_cm <= JUDGED_TO_CM
            && levels[at].resistance_mpa > STOPPED_MPA
            && !is_stone(levels, at)
    })
}

/// How compacted a plot is, by the share of pushes that were stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Compaction {
    /// Below 30 % of the pushes.
    Little,
    /// 30 % to 50 %.
    Slight,
    /// Above 50 % to 75 %.
    Moderate,
    /// Above 75 %.
    Severe,
}

impl Compaction {
    /// By the share of pushes whose hardest reading in the top 15 in is above 300 psi, 0 to 1. The ends as
    /// they are held here: 30 % is slight, 50 % still slight, 75 % still moderate.
    #[must_use]
    pub fn of_share(share: f64) -> Self {
        match share {
            share if share < 0.30 => Self::Little,
            share if share <= 0.50 => Self::Slight,
            share if share <= 0.75 => Self::Moderate,
            _ => Self::Severe,
        }
    }

    /// Does the published table expect deep loosening to be worth it?
    #[must_use]
    pub fn loosening_may_pay(self) -> bool {
        self >= Self::Moderate
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn push(readings: &[(f64, f64)]) -> Vec<Level> {
        readings
            .iter()
            .map(|(depth_cm, resistance_mpa)| Level { depth_cm: *depth_cm, resistance_mpa: *resistance_mpa })
            .collect()
    }

    #[test]
    fn a_pan_is_found_between_soft_ground() {
        let found = pan(&push(&[(7.5, 0.9), (15.0, 1.6), (22.5, 2.4), (30.0, 2.8), (37.5, 1.9)])).unwrap();
        assert_eq!((found.top_cm, found.bottom_cm, found.hardest_mpa), (22.5, Some(37.5), 2.8));
        assert_eq!(found.thickness_cm(), Some(15.0));
        assert_eq!(pan(&push(&[(7.5, 0.9), (15.0, 1.6)])), None);
        assert_eq!(pan(&push(&[(7.5, 0.9), (15.0, 2.6)])).unwrap().bottom_cm, None);
    }

    #[test]
    fn a_stone_is_not_a_pan() {
        let stony = push(&[(7.5, 0.9), (15.0, 4.0), (22.5, 1.0), (30.0, 1.1)]);
        assert!(is_stone(&stony, 1) && pan(&stony).is_none() && !hard_above_judged_depth(&stony));
        // The last reading has no deeper neighbour: it may be the top of a pan and is kept.
        let last = push(&[(7.5, 0.9), (15.0, 4.0)]);
        assert!(!is_stone(&last, 1) && pan(&last).is_some());
    }

    #[test]
    fn the_ends_of_the_shares_are_where_the_docs_put_them() {
        for (share, wanted) in [
            (0.0, Compaction::Little),
            (0.299, Compaction::Little),
            (0.30, Compaction::Slight),
            (0.50, Compaction::Slight),
            (0.51, Compaction::Moderate),
            (0.75, Compaction::Moderate),
            (0.76, Compaction::Severe),
        ] {
            assert_eq!(Compaction::of_share(share), wanted, "{share}");
        }
    }
}
