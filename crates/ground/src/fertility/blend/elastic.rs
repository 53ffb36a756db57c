//! The needs made elastic: each side may give way, and as few as possible do.

use super::give_way::Side;
use super::prepared::{Group, Supply};
use super::program::{Builder, Program, Rule, Watch};
use good_lp::Expression;

/// A side that gives way.
pub(super) struct Way {
    pub group: usize,
    pub row: usize,
    pub side: Side,
    /// In kg of the group.
    pub by: f64,
}

/// The fewest sides that must give way, a least amount before a limit, by as little as will do.
pub(super) fn fewest(groups: &[Group], supplies: Option<&[Supply]>, watch: &mut Watch<'_>) -> Vec<Way> {
    let mut build = Builder::new();
    let mut uses: Vec<Expression> = vec![Expression::default(); supplies.map_or(0, <[Supply]>::len)];
    let mut gives = Vec::new();
    for (at, group) in groups.iter().enumerate() {
        let caps: Vec<f64> = (0..group.usable.len()).map(|place| group.useful(place)).collect();
        let amounts: Vec<_> = caps.iter().map(|&cap| build.add(0.0, cap, false, 0.0).0).collect();
        for (&material, amount) in group.usable.iter().zip(&amounts) {
            if let Some(uses) = uses.get_mut(material) {
                uses.add_mul(1.0, *amount);
            }
        }
        for (line, row) in group.rows.iter().enumerate() {
            let scale = row.scale();
            let mut left = Expression::default();
            for (amount, content) in amounts.iter().zip(&row.content) {
                if *content > 0.0 {
                    left.add_mul(content * scale, *amount);
                }
            }
            if row.low > 0.0 {
                let low = row.low * scale;
                let (by, place) = build.give(low, 1.0);
                let mut enough = -left.clone();
                enough.add_mul(-1.0, by);
                build.at_most(enough, -low);
                gives.push((at, line, Side::AtLeast, place, scale));
            }
            if let Some(high) = row.high {
                let most: f64 =
                    caps.iter().zip(&row.content).map(|(cap, content)| cap * content * scale).sum();
                // A limit guards health, ground or water: it gives way last.
                let (by, place) = build.give(most.max(1.0), 1.5);
                left.add_mul(-1.0, by);
                build.at_most(left, high * scale);
                gives.push((at, line, Side::AtMost, place, scale));
            }
        }
    }
    for (uses, supply) in uses.into_iter().zip(supplies.unwrap_or_default()) {
        build.at_most(uses, supply.in_hand_kg + f64::from(supply.most_packs) * supply.pack_kg);
    }
    let places: Vec<_> = gives.iter().map(|give| give.3).collect();
    let run = Program::of(build, vec![places.into_iter().map(Some).collect()])
        .run(Rule { gap: 0.0, patience: 0, most: 5_000 }, watch);
    let Some(by) = run.amounts.and_then(|amounts| amounts.into_iter().next()) else { return Vec::new() };
    gives
        .into_iter()
        .zip(by)
        .filter(|(_, by)| *by > 1e-7)
        .map(|((group, row, side, _, scale), by)| Way { group, row, side, by: by / scale })
        .collect()
}

impl Builder {
    /// How far a side gives way, as a share of it; that it does at all counts `weight`.
    fn give(&mut self, most: f64, weight: f64) -> (good_lp::Variable, usize) {
        let by = self.add(0.0, most, false, 0.01 / most);
        let (does, _) = self.add(0.0, 1.0, true, weight);
        let mut only_then = Expression::default();
        only_then.add_mul(1.0, by.0);
        only_then.add_mul(-most, does);
        self.at_most(only_then, 0.0);
        by
    }
}
