//! How hard posts drive into this ground.

use book::model::seen::Sign;
use ground::kit::{Bounded, Provenance, Working};
use ground::posts::cautions;
use ground::posts::driving::{Driving, WhenDriven, driving};

use crate::facts::{Draw, Ground};
use crate::finding::{Finding, Kind};
use crate::rule::Rule;
use crate::words;

/// Guards the person who drives.
const GUARD: &str = "Guard fingers, eyes and ears when driving posts, and cover open holes.";

/// What every finding on posts says first: what every page on posts says, and how to stay whole.
pub(super) const CAUTIONS: &[&str] =
    &[cautions::SERVICES, cautions::PLANNING, cautions::AUTHORITY, cautions::COLLAR, GUARD];

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "post-driving",
    title: "Driving posts",
    question: "How do posts go into this ground?",
    kind: Kind::Build,
    sources: &[],
    provenance: Provenance::CommonPractice,
    stake: 0.4,
    look: "Push a thin bar in where the posts will stand, at three points, when the ground is moist.",
    cautions: CAUTIONS,
    judge,
};

const ANSWERS: [(&str, &str); 4] = [
    ("easy", "posts drive easily when it is moist"),
    ("soft", "posts drive easily but the ground is weak when wet"),
    ("hard-dry", "posts drive hard when it is dry"),
    ("stones", "stones stop posts"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let rock = ground.latest(|sign| match sign {
        Sign::Rock { at_cm } => Some(at_cm.get()),
        _ => None,
    });
    let finding = rule.weighed(ground, ANSWERS, answer, |at| says(at).to_owned());
    let stones = ground.spread(|draw| draw.gravel_volume_percent)?;
    let working = Working::new().step(
        "how posts drive",
        "stones above 35 % by volume stop posts; else by texture group: silt easy but weak, the clay loams and clays hard when dry, the rest easy when moist",
        format!("over {} possible make-ups", ground.draws.len()),
        finding
            .alternatives
            .iter()
            .map(|other| format!("{}: {}", other.words, words::odds(other.odds)))
            .collect::<Vec<_>>()
            .join("; "),
    );
    Some(
        finding
            .because(rock.map(|(on, at)| {
                format!(
                    "Rock or stones stopped the spade at {} on {}. Probe at three points before deciding: one stop may be one boulder.",
                    words::depth(at, ground.units),
                    words::day(on)
                )
            }))
            .because(ground.measured.gravel.then(|| format!("Stones {} % by volume.", words::range(stones, 1.0))))
            .because("It is the ground at a third of the post's depth and at its foot that counts, not the tilled layer: the samples here may not reach it.".to_owned())
            .worked(working),
    )
}

fn answer(draw: &Draw) -> usize {
    let when = |when| driving(draw.class, when, draw.gravel_volume_percent);
    match (when(WhenDriven::Moist), when(WhenDriven::Soaked), when(WhenDriven::Dry)) {
        (Driving::PilotHole, ..) => 3,
        (_, Driving::EasyButWeak, Driving::Hard) => 2,
        (_, Driving::EasyButWeak, _) => 1,
        _ => 0,
    }
}

fn says(answer: usize) -> &'static str {
    match answer {
        0 => {
            "Posts drive easily when it is moist; dry dense sand fights back. An augered hole in dry sand caves in: drive, or use a form tube."
        }
        1 => "Posts drive easily, and hold little once it is wet: do not take easy driving for a good hold.",
        2 => {
            "Drive posts when it is moist: dry clay fights the post and splits it. Wet, it closes round the post and holds."
        }
        _ => {
            "Stones turn posts aside. Make a pilot hole or auger; note the depth where a post stops and do not cut it off before asking whether it holds."
        }
    }
}
