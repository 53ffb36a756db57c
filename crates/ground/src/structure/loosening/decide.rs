//! The decision on loosening: one plain rule for one possible plot, to be run over many.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::structure::probe::pan::Compaction;
use crate::structure::probe::transect::BELOW_THE_PAN_CM;
use crate::structure::root_limits::RootRating;
use crate::structure::working::limits::Workable;
use crate::texture::Class;

/// What loosens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Tool {
    /// A broadfork, lifted and not turned.
    Broadfork,
    /// Shanks behind a tractor.
    Subsoiler,
}

/// What is known for the decision. Everything may be missing but the class.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Facts {
    /// Texture class.
    pub class: Class,
    /// From probe pushes near field capacity.
    pub compaction: Option<Compaction>,
    /// From cores of the hard layer.
    pub density: Option<RootRating>,
    /// Depth at which the hard layer ends, cm.
    pub pan_bottom_cm: Option<f64>,
    /// Whether the spade shows plates or a massive layer and roots that turn aside.
    pub spade_confirms: Option<bool>,
    /// Whether water stands for more than a day after rain.
    pub water_stands: Option<bool>,
    /// The hand's word on a handful from the hard layer.
    pub moisture: Option<Workable>,
    /// Depth that the broadfork at hand reaches, cm.
    pub broadfork_cm: Option<f64>,
    /// Depth that the shanks at hand reach, cm.
    pub subsoiler_cm: Option<f64>,
}

/// What to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Loosening {
    /// Nothing is known of hardness: push a probe or dig first.
    MeasureFirst,
    /// Nothing to loosen.
    Leave,
    /// Somewhat hard: roots and permanent paths, no iron.
    CoversInstead,
    /// Water first.
    DrainFirst,
    /// Readings say hard; look with the spade before iron goes in.
    LookWithSpade,
    /// The layer's bottom is not known: push deeper.
    FindBottom,
    /// Too wet at depth: iron would smear.
    WaitUntilDrier,
    /// Too dry and hard for hand tools.
    WaitUntilMoister,
    /// Loosen now.
    Loosen,
}

/// A decision with its tool and depth, where it comes to that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Decision {
    /// What to do.
    pub what: Loosening,
    /// With what: also for a decision to wait.
    pub tool: Option<Tool>,
    /// How deep, cm.
    pub depth_cm: Option<f64>,
}

const fn plain(what: Loosening) -> Decision {
    Decision { what, tool: None, depth_cm: None }
}

/// Does loosening help this class at all? In sand it does not last (common practice).
#[must_use]
pub fn holds_open(class: Class) -> bool {
    !matches!(class, Class::Sand | Class::LoamySand)
}

/// The decision. The order is: is it hard; is water the cause; does the spade agree; where does it end; which tool
/// reaches; is it dry enough to shatter.
#[must_use]
pub fn decide(facts: &Facts) -> Decision {
    let hard = facts.compaction.is_some_and(Compaction::loosening_may_pay)
        || facts.density == Some(RootRating::Restricts);
    let somewhat = facts.compaction == Some(Compaction::Slight)
        || matches!(facts.density, Some(RootRating::Hinders | RootRating::Watch));
    let known = facts.compaction.is_some() || facts.density.is_some();
    if !hard {
        return plain(match (known, somewhat, facts.spade_confirms) {
            // The spade sees what the readings missed.
            (_, _, Some(true)) => Loosening::CoversInstead,
            (false, _, None) => Loosening::MeasureFirst,
            (_, true, _) => Loosening::CoversInstead,
            _ => Loosening::Leave,
        });
    }
    if facts.water_stands == Some(true) {
        return plain(Loosening::DrainFirst);
    }
    match facts.spade_confirms {
        None => return plain(Loosening::LookWithSpade),
        // Hard, but roots and worms have ways through: iron would break them.
        Some(false) => return plain(Loosening::Leave),
        Some(true) => {}
    }
    if !holds_open(facts.class) {
        return plain(Loosening::CoversInstead);
    }
    let Some(bottom) = facts.pan_bottom_cm else { return plain(Loosening::FindBottom) };
    let depth_cm = bottom + BELOW_THE_PAN_CM;
    let reaches = |reach: Option<f64>| reach.is_some_and(|reach| reach >= depth_cm);
    let tool = if reaches(facts.broadfork_cm) {
        Tool::Broadfork
    } else if reaches(facts.subsoiler_cm) {
        Tool::Subsoiler
    } else {
        return plain(Loosening::CoversInstead);
    };
    let what = match (facts.moisture, tool) {
        (Some(Workable::TooWet | Workable::Doubtful), _) => Loosening::WaitUntilDrier,
        (Some(Workable::Dry), Tool::Broadfork) => Loosening::WaitUntilMoister,
        _ => Loosening::Loosen,
    };
    Decision { what, tool: Some(tool), depth_cm: Some(depth_cm) }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HARD: Facts = Facts {
        class: Class::Loam,
        compaction: Some(Compaction::Severe),
        density: None,
        pan_bottom_cm: Some(28.0),
        spade_confirms: Some(true),
        water_stands: Some(false),
        moisture: Some(Workable::Ready),
        broadfork_cm: Some(35.0),
        subsoiler_cm: Some(60.0),
    };

    #[test]
    fn each_step_of_the_rule_speaks_in_its_turn() {
        let what = |facts: Facts| decide(&facts).what;
        assert_eq!(what(HARD), Loosening::Loosen);
        assert_eq!(decide(&HARD).tool, Some(Tool::Broadfork));
        assert!((decide(&HARD).depth_cm.unwrap() - 30.54).abs() < 1e-9);
        assert_eq!(decide(&Facts { pan_bottom_cm: Some(45.0), ..HARD }).tool, Some(Tool::Subsoiler));
        assert_eq!(what(Facts { pan_bottom_cm: Some(70.0), ..HARD }), Loosening::CoversInstead);
        assert_eq!(what(Facts { pan_bottom_cm: None, ..HARD }), Loosening::FindBottom);
        assert_eq!(what(Facts { moisture: Some(Workable::TooWet), ..HARD }), Loosening::WaitUntilDrier);
        assert_eq!(what(Facts { moisture: Some(Workable::Dry), ..HARD }), Loosening::WaitUntilMoister);
        assert_eq!(
            what(Facts { moisture: Some(Workable::Dry), pan_bottom_cm: Some(45.0), ..HARD }),
            Loosening::Loosen
        );
        assert_eq!(what(Facts { spade_confirms: None, ..HARD }), Loosening::LookWithSpade);
        assert_eq!(what(Facts { spade_confirms: Some(false), ..HARD }), Loosening::Leave);
        assert_eq!(what(Facts { water_stands: Some(true), ..HARD }), Loosening::DrainFirst);
        assert_eq!(what(Facts { class: Class::Sand, ..HARD }), Loosening::CoversInstead);
        assert_eq!(what(Facts { compaction: Some(Compaction::Slight), ..HARD }), Loosening::CoversInstead);
        let calm = Facts { compaction: Some(Compaction::Little), spade_confirms: None, ..HARD };
        assert_eq!(what(calm), Loosening::Leave);
        assert_eq!(what(Facts { compaction: None, ..calm }), Loosening::MeasureFirst);
        assert_eq!(what(Facts { density: Some(RootRating::Restricts), ..calm }), Loosening::LookWithSpade);
    }
}
