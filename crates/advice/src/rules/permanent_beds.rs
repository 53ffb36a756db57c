//! Permanent beds and paths, and how high to shape them.

use book::model::UnitSystem;
use ground::kit::{Provenance, Working};

use crate::facts::Ground;
use crate::finding::{Finding, Kind};
use crate::practice::Ranks;
use crate::rule::Rule;
use crate::words;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "permanent-beds",
    title: "Permanent beds",
    question: "Do permanent beds and paths pay here, and should the beds be raised?",
    kind: Kind::Do,
    sources: &[],
    provenance: Provenance::CommonPractice,
    stake: 0.6,
    look: "",
    cautions: &[
        "Near old buildings, roads or orchards have the soil tested for lead and arsenic before growing food in it.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("raised", "beds should be permanent and raised"),
    ("shaped", "beds should be permanent and may be raised a little"),
    ("flat", "beds should be permanent and flat"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let shaped = Ranks::of("shaped_beds");
    let units = ground.units;
    let lasting = Ranks::of("permanent_beds");
    let main = ground.odds(|draw| lasting.on(draw.class) >= 3);
    Some(
        rule.weighed(ground, ANSWERS, |draw| shaped.answer(draw.class), |at| says(at, units))
            .because(format!("Odds that keeping feet and wheels off the bed is a main help on this ground: {}. The first pass of a wheel does most of the harm.", words::odds(main)))
            .worked(Working::new().step(
                "how much raised beds help here",
                "table of practices by texture group, 3 a main help and 2 a useful one",
                format!("over {} possible make-ups", ground.draws.len()),
                format!("odds that raising helps much: {}", words::odds(ground.odds(|draw| shaped.on(draw.class) >= 3))),
            )),
    )
}

fn says(answer: usize, units: UnitSystem) -> String {
    let width = words::inches(30.0, 48.0, units);
    match answer {
        0 => format!(
            "Lay out permanent beds {width} wide with all feet and wheels in the paths, and shape them {} high so that water leaves and they warm sooner.",
            words::inches(6.0, 8.0, units)
        ),
        1 => format!(
            "Lay out permanent beds {width} wide with all feet and wheels in the paths. Shape them up to {} high where spring is wet.",
            words::depth(15.0, units)
        ),
        _ => format!(
            "Lay out permanent beds {width} wide with all feet and wheels in the paths, and keep them flat: raised beds dry out too fast on ground like this."
        ),
    }
}
