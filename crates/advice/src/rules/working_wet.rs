//! Not working the ground when it is wet.

use book::model::seen::Sign;
use ground::kit::{Cite, Provenance, Working};

use crate::facts::Ground;
use crate::finding::{Basis, Finding, Kind};
use crate::practice::Group;
use crate::rule::Rule;
use crate::words;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "working-wet",
    title: "Do not work it wet",
    question: "How much harm does working it wet do?",
    kind: Kind::Avoid,
    sources: &[Cite::new("DexterBird2001", "optimum water content for tillage")],
    provenance: Provenance::CommonPractice,
    stake: 0.5,
    look: "Break a clod that was trodden wet last season: does it crumble or cut like cheese?",
    cautions: &[],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("years", "working it wet does harm for years"),
    ("season", "working it wet does harm for a season"),
    ("little", "working it wet does little lasting harm"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let smeared = ground.latest(|sign| matches!(sign, Sign::Smeared | Sign::Clods).then_some(()));
    let weighed = rule.weighed(
        ground,
        ANSWERS,
        |draw| match Group::of(draw.class) {
            Group::ClayLoam | Group::Clay => 0,
            Group::Loam | Group::Silt | Group::SandyLoam => 1,
            Group::Sand => 2,
        },
        |at| says(at).to_owned(),
    );
    let finding = match smeared {
        Some((on, ())) => rule.finding(
            Basis::Seen,
            "years",
            format!("Do not work it wet: smeared faces or hard clods from working it wet were seen on {}. Let frost, drying and cover roots mend them, and go by the ball test.", words::day(on)),
        ),
        None => weighed,
    };
    Some(finding.because("The spade, the wheel and the foot press out the air and close the pores; drying then sets it like a brick.".to_owned()).worked(
        Working::new().step(
            "how long the harm lasts",
            "by texture group: the clay loams and clays years, loams, silts and sandy loam a season, sand hardly",
            format!("over {} possible make-ups", ground.draws.len()),
            format!("odds of the clay loams and clays: {}", words::odds(ground.odds(|draw| matches!(Group::of(draw.class), Group::ClayLoam | Group::Clay)))),
        ),
    ))
}

fn says(answer: usize) -> &'static str {
    match answer {
        0 => {
            "Do not till, tread or drive on it wet, not even once: it smears, sets hard, and takes years to mend."
        }
        1 => "Do not till or drive on it wet: it loses its crumbs for a season, and silt crusts after.",
        _ => {
            "Working it wet does little lasting harm, but it stays packed under wheels: keep them on the paths."
        }
    }
}
