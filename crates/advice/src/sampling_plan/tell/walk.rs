//! How a plan is walked: its steps, what to bring, and a kept plan in a line.

use book::model::{SamplingPlan, SamplingPurpose, UnitSystem};
use ground::kit::Bounded;

use super::super::ToldPlan;
use super::{far, layer};

/// What the steps of a walk hang on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Walk {
    /// What the soil is wanted for.
    pub purpose: SamplingPurpose,
    /// Has every point a bag of its own?
    pub apart: bool,
    /// Cores in a bag.
    pub cores_per_bag: u16,
    /// Are there points to walk to?
    pub points: bool,
    /// Top of the layer.
    pub from_cm: f64,
    /// Its bottom.
    pub to_cm: f64,
}

impl Walk {
    /// That of a plan.
    #[must_use]
    pub fn of(plan: &SamplingPlan) -> Self {
        Self {
            purpose: plan.purpose,
            apart: plan.bags > 1 && usize::from(plan.bags) == plan.points.len(),
            cores_per_bag: plan.cores_per_bag,
            points: !plan.points.is_empty(),
            from_cm: plan.from_cm.get(),
            to_cm: plan.to_cm.get(),
        }
    }
}

/// A kept plan in a line: places, depth, bags and the way between.
#[must_use]
pub fn kept(told: &ToldPlan, units: UnitSystem) -> String {
    let plan = &told.plan;
    let layer = layer(plan.from_cm.get(), plan.to_cm.get(), units);
    let bags = if plan.bags == 1 { "one bag".to_owned() } else { format!("{} bags", plan.bags) };
    let places = told.points.len();
    let walk = format!("The walk is {} in straight lines.", far(told.walk_m, units));
    match (plan.purpose, places) {
        (SamplingPurpose::Structure, 0) => {
            let pushes = usize::from(plan.cores_per_bag) * usize::from(plan.bags);
            format!("Push the probe at {}, {layer} deep, where you choose.", points(pushes))
        }
        (SamplingPurpose::Structure, _) => {
            format!("Push the probe at {}, {layer} deep. {walk}", points(places))
        }
        (_, 0) => format!(
            "{} to a bag, {layer} deep, {bags}, at places of your choice.",
            cores(plan.cores_per_bag.into())
        ),
        _ if told.apart => format!(
            "{} with {} about each, {layer} deep, a bag for each.",
            points(places),
            cores(plan.cores_per_bag.into())
        ),
        _ => format!("{}, {layer} deep, into {bags}. {walk}", cores(places as u64)),
    }
}

/// "1 point", "12 points".
pub(crate) fn points(count: usize) -> String {
    if count == 1 { "1 point".to_owned() } else { format!("{count} points") }
}

fn cores(count: u64) -> String {
    if count == 1 { "1 core".to_owned() } else { format!("{count} cores") }
}

/// Step by step; for the sheet too.
#[must_use]
pub fn steps(walk: &Walk, units: UnitSystem) -> Vec<String> {
    let line = |text: &str| text.to_owned();
    let depth = |cm: f64| super::deep(cm, units);
    if walk.purpose == SamplingPurpose::Structure {
        return vec![
            line(
                "Go a day or two after the whole depth was wetted: dry ground is hard whatever its structure.",
            ),
            line(
                "At each point push the probe straight down, slowly and evenly, and write down the depth at which it first goes hard; where it slides all the way, \u{201c}none\u{201d} and the depth it reached.",
            ),
            line("Where it stops at once, step a hand's width aside and push again: one stone is no pan."),
        ];
    }
    let cores = match (walk.points, walk.apart, walk.cores_per_bag) {
        (false, ..) => {
            format!("Take {} cores for each bag on a zigzag over the whole plot.", walk.cores_per_bag)
        }
        (true, true, 0 | 1) => line("Walk the points in their order and take one core at each."),
        (true, true, cores) => {
            format!("Walk the points in their order and take {cores} cores within two paces of each.")
        }
        (true, false, _) => line("Walk the points in their order and take one core at each."),
    };
    let core = if walk.from_cm > 0.0 {
        format!(
            "Dig or bore to {}, clean the hole, and take a core of equal thickness down to {}.",
            depth(walk.from_cm),
            depth(walk.to_cm)
        )
    } else {
        format!(
            "Push the probe straight down to {}; with a spade cut a V and take a slice of equal thickness down its side. The same amount every time.",
            depth(walk.to_cm)
        )
    };
    let mix = if walk.apart {
        "Mix the cores about one point in the bucket, break the lumps, pick out stones and roots, and fill its own bag. Wipe the bucket before the next."
    } else {
        "Put the core into the bucket of its bag. After the last one break the lumps, pick out stones and roots, mix well, and fill a bag with one or two cups; the rest goes back."
    };
    let dry = match walk.purpose {
        SamplingPurpose::Nitrate => {
            "Keep it cool and send it within a day or two, or spread it thin to dry at once: nitrate changes in a warm bag."
        }
        _ => "Let it dry in the air, spread on paper; never in an oven.",
    };
    vec![
        format!(
            "{cores} If one falls on a post, a path, a drip line, a burnt spot or a dropping, step aside two paces and note it."
        ),
        line("Scrape plants and litter off; do not scrape soil away."),
        core,
        line(mix),
        line("Put its label on the bag, or write plot, depth, day and bag number on it, before you go on."),
        line(dry),
    ]
}

/// What to bring.
#[must_use]
pub fn bring(purpose: SamplingPurpose, apart: bool) -> Vec<String> {
    let mut lines: Vec<&str> = if purpose == SamplingPurpose::Structure {
        vec!["Penetrometer or a pointed rod with depths marked on it", "Spade"]
    } else {
        vec![
            "Soil probe of steel, or a spade and a trowel",
            "Clean plastic bucket, one for each bag that is filled at the same time; no zinc, brass or rubber where trace elements are tested",
            "Bags, their labels, and a pen that stands wet",
        ]
    };
    if purpose == SamplingPurpose::Nitrate {
        lines.push("Cool box");
    }
    if apart {
        lines.push("Cloth to wipe the bucket between bags");
    }
    lines.extend([
        "The field sheet, or the points on a phone",
        "Tape or stakes to find the points by",
        "Gloves, and water to wash hands",
    ]);
    lines.into_iter().map(str::to_owned).collect()
}
