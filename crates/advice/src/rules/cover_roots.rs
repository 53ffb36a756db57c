//! Cover crops for their roots.

use ground::kit::{Cite, Provenance, Working};

use crate::facts::Ground;
use crate::finding::{Finding, Kind};
use crate::practice::Ranks;
use crate::rule::Rule;
use crate::words;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "cover-roots",
    title: "Cover crops for their roots",
    question: "Which cover roots help this ground most?",
    kind: Kind::Do,
    sources: &[
        Cite::new("BlancoRuis2020", "aggregate stability and density"),
        Cite::new("ChenWeil2010", "roots through compacted layers"),
    ],
    provenance: Provenance::CommonPractice,
    stake: 0.6,
    look: "Dig up the cover in spring and see how deep its roots went.",
    cautions: &[
        "Before stock graze a cover crop ask a veterinarian: sorghums, vetch, buckwheat and others can poison.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("tap-and-fibrous", "fibrous roots and taproots both help"),
    ("fibrous", "fibrous roots help most, taproots somewhat"),
    ("fibrous-only", "fibrous roots help, taproots hardly"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let tap = Ranks::of("taproots");
    Some(
        rule.weighed(ground, ANSWERS, |draw| tap.answer(draw.class), |at| says(at).to_owned())
            .because("Gains come slowly: crumbs first, within a year or two; looser ground later and less.".to_owned())
            .because("Forage radish went through packed layers better than rye in trials, and the next crop used its channels; in waterlogged or massive clay it does poorly.".to_owned())
            .worked(Working::new().step(
                "how much taproots help here",
                "table of practices by texture group, 3 a main help and 2 a useful one",
                format!("over {} possible make-ups", ground.draws.len()),
                format!("odds that taproots are at least useful: {}", words::odds(ground.odds(|draw| tap.on(draw.class) >= 2))),
            )),
    )
}

fn says(answer: usize) -> &'static str {
    match answer {
        0 => {
            "Sow a cover with dense fibrous roots (rye, oats, ryegrass) each year, and a strong taproot (radish, sweetclover, sunflower) where the ground is tight but drained."
        }
        1 => {
            "Sow a cover with dense fibrous roots (rye, oats, ryegrass) at least once a year. A taproot in the mix helps where it is tight."
        }
        _ => {
            "Sow a cover with dense fibrous roots (rye, oats) after every crop: it holds nitrogen and keeps the ground from blowing. Taproots have little to open here."
        }
    }
}
