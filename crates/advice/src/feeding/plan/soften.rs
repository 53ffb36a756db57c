//! Where needs clash, the fewest give way, each by as little as will do, and the plan is made with the rest.

use ground::fertility::blend::give_way::{Conflict, Side};
use ground::fertility::blend::problem::{BlendProblem, Kilograms};
use ground::kit::Bounded;

/// A hair more than what must give way, so that the solver's tolerance does not undo it.
const HAIR: f64 = 1e-6;

/// Lets the needs of the conflicts give way. Whether anything did.
pub(super) fn soften(problem: &mut BlendProblem, conflicts: &[Conflict]) -> bool {
    let mut changed = false;
    for conflict in conflicts {
        for claim in &conflict.gives_way {
            let Some(area) =
                problem.beds.iter().find(|bed| bed.name == claim.bed).map(|bed| bed.area_m2.get())
            else {
                continue;
            };
            // A clash of like beds is told of the first of them.
            let alike = |name: &str| {
                name == claim.bed
                    || (!conflict.clashing.is_empty() && conflict.beds.iter().any(|bed| bed == name))
            };
            for bed in problem.beds.iter_mut().filter(|bed| alike(&bed.name)) {
                let by = claim.gives_way_kg * bed.area_m2.get() / area;
                for need in bed.needs.iter_mut().filter(|need| need.carried == claim.carried) {
                    match claim.side {
                        Side::AtLeast => {
                            let low = (need.low_kg() - by) * (1.0 - HAIR) - 1e-9;
                            need.at_least_kg = Kilograms::new(low.max(0.0)).ok();
                        }
                        Side::AtMost => {
                            let high = (need.high_kg().unwrap_or_default() + by) * (1.0 + HAIR) + 1e-9;
                            need.at_most_kg = Kilograms::new(high).ok();
                        }
                    }
                    changed = true;
                }
            }
        }
        if let Some(most) = conflict.most_materials {
            for bed in problem.beds.iter_mut().filter(|bed| conflict.beds.contains(&bed.name)) {
                bed.most_materials = Some(most + 1);
                changed = true;
            }
        }
    }
    changed
}
