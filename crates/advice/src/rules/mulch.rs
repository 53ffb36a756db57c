//! Mulch on the surface.

use book::model::Place;
use book::model::UnitSystem;
use ground::kit::{Provenance, Working};

use crate::facts::Ground;
use crate::finding::{Finding, Kind};
use crate::practice::{Group, Ranks};
use crate::rule::Rule;
use crate::words;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "mulch",
    title: "Mulch",
    question: "Does a straw or leaf mulch pay here, and when?",
    kind: Kind::Do,
    sources: &[],
    provenance: Provenance::CommonPractice,
    stake: 0.6,
    look: "",
    cautions: &[
        "Ask where straw and hay come from: some weedkillers outlast baling and kill vegetables. Keep mulch clear of heaters and engines.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("main", "mulch is a main help here"),
    ("useful", "mulch is a useful help here"),
    ("little", "mulch does little here"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    if ground.site.place == Place::Pasture {
        return None;
    }
    let ranks = Ranks::of("mulch");
    let fine = ground.odds(|draw| matches!(Group::of(draw.class), Group::ClayLoam | Group::Clay)) >= 0.5;
    let units = ground.units;
    Some(
        rule.weighed(ground, ANSWERS, |draw| ranks.answer(draw.class), |at| says(at, fine, units))
            .because("A mulch breaks the fall of the rain, keeps the surface from drying and crusting, and feeds worms.".to_owned())
            .because("Straw dug in takes up nitrogen for some weeks; left on top it does not.".to_owned())
            .worked(Working::new().step(
                "how much mulch helps here",
                "table of practices by texture group, 3 a main help and 2 a useful one",
                format!("over {} possible make-ups", ground.draws.len()),
                format!("odds that it is a main help: {}", words::odds(ground.odds(|draw| ranks.on(draw.class) >= 3))),
            )),
    )
}

fn says(answer: usize, fine: bool, units: UnitSystem) -> String {
    let depth = words::inches(2.0, 4.0, units);
    match (answer, fine) {
        (2, _) => "Mulch does little for this ground.".to_owned(),
        (_, true) => format!(
            "Mulch {depth} deep, but only once the ground has warmed: it keeps fine ground cold and wet in spring. Watch for slugs."
        ),
        (_, false) => {
            format!("Mulch {depth} deep once the ground has warmed: it saves water and shields the surface.")
        }
    }
}
