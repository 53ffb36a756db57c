//! What to do in the field, what to bring, and what to look out for, by what the soil is wanted for.
//!
//! Common practice of extension services; the depths and cores are those of the plan.

use book::model::{SamplingPlan, SamplingPurpose};
use ground::kit::Bounded;

/// From here on a probe may meet a pipe or a cable, cm. Judgement.
const DEEP_CM: f64 = 30.0;

pub(super) fn to_do(plan: &SamplingPlan, layer: &str) -> Vec<String> {
    if plan.purpose == SamplingPurpose::Structure {
        return [
            "Come a day or two after the whole depth was wetted.".to_owned(),
            "Walk the points in the order of the list. Push the rod straight down, slowly and evenly.".to_owned(),
            "Write down the depth at which it first takes both arms or stops; \"none\" and the depth it reached where it \
             slid all the way."
                .to_owned(),
            "Try again a step aside where it stops at once: one stone is no pan.".to_owned(),
        ]
        .to_vec();
    }
    let cores = match (plan.points.len(), usize::from(plan.bags)) {
        (0, _) => format!("Take {} cores for each bag on a zigzag over the whole plot.", plan.cores_per_bag),
        (points, bags) if points == bags && plan.cores_per_bag > 1 => {
            format!(
                "At each point take {} cores within two steps of it; each point has its own bag.",
                plan.cores_per_bag
            )
        }
        (points, bags) if points == bags => "Take one core at each point into its own bag.".to_owned(),
        _ => "Take one core at each point into the bucket of its bag.".to_owned(),
    };
    let mut steps = vec![
        "Scrape litter and mulch aside; leave the soil itself.".to_owned(),
        format!("Walk the points in the order of the list. {cores}"),
        format!("Every core goes from {layer} and is as thick at its foot as at its top."),
        "Move a step aside from a point that falls on a manure or burn spot, a drip line, a track or a fertilizer band; \
         note it."
            .to_owned(),
        "Crumble the cores of a bag in the bucket, pick out stones and roots, mix well, and fill the bag with about two \
         cups (half a litre)."
            .to_owned(),
        "Put the label on the bag before the next one is begun.".to_owned(),
    ];
    steps.push(
        match plan.purpose {
            SamplingPurpose::Nitrate => {
                "Keep the bags cool and send them the same day, or spread the soil thin to dry at once: nitrate changes in \
                 a warm bag."
            }
            SamplingPurpose::Texture => "Let the soil dry in the air, out of the sun and never in an oven.",
            _ => "Let the soil dry in the air, never in an oven, or send it fresh; come back in the same season next time.",
        }
        .to_owned(),
    );
    steps
}

pub(super) fn to_bring(plan: &SamplingPlan) -> Vec<String> {
    let list: &[&str] = match plan.purpose {
        SamplingPurpose::Structure => {
            &["Probe with a gauge, or a plain rod marked by depth", "Spade", "This sheet, a pen, a tape"]
        }
        SamplingPurpose::Fertility | SamplingPurpose::Salts => &[
            "Soil probe or spade, without rust or zinc",
            "Clean bucket of plastic",
            "Bags and their labels",
            "Tape or a marked string",
            "This sheet and a pen that bears rain",
        ],
        SamplingPurpose::Nitrate => &[
            "Soil probe that reaches the depth",
            "Clean bucket of plastic",
            "Bags and their labels",
            "A cool box with ice",
            "This sheet and a pen that bears rain",
        ],
        SamplingPurpose::Texture | SamplingPurpose::OrganicMatter => &[
            "Soil probe or spade",
            "Clean bucket",
            "Bags and their labels",
            "Water in a bottle, to feel the soil",
            "This sheet and a pen that bears rain",
        ],
    };
    list.iter().map(|what| (*what).to_owned()).collect()
}

/// Boxes to fill at each point.
pub(super) fn boxes(purpose: SamplingPurpose) -> Vec<String> {
    let list: &[&str] = match purpose {
        SamplingPurpose::Structure => &["Hard from", "Moist?"],
        SamplingPurpose::Texture => &["Taken", "Feel", "Stones"],
        _ => &["Taken", "Moist?"],
    };
    list.iter().map(|what| (*what).to_owned()).collect()
}

pub(super) fn cautions(plan: &SamplingPlan) -> Vec<&'static str> {
    let mut list = Vec::new();
    if plan.to_cm.get() > DEEP_CM || plan.purpose == SamplingPurpose::Structure {
        list.push(
            "Have buried lines located before a probe goes in, and know where your own pipes and cables lie.",
        );
    }
    list.push(
        "Wear gloves and wash your hands where old paint, old sprays, waste or traffic may have left lead or arsenic; have \
         such ground tested before food is grown on it.",
    );
    list
}
