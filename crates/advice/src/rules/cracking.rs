//! Whether the ground swells and cracks.

use book::model::seen::Sign;
use ground::kit::{Bounded, Cite, Provenance, Working};

use crate::facts::Ground;
use crate::finding::{Basis, Finding, Kind};
use crate::rule::Rule;
use crate::words;

/// Clay below this swells little whatever its kind; above the second it moves with most kinds.
const LITTLE_BELOW_CLAY: f64 = 18.0;
const MOVES_ABOVE_CLAY: f64 = 35.0;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "cracking",
    title: "Swelling and cracking",
    question: "Does it swell when wet and crack when dry?",
    kind: Kind::Behaviour,
    sources: &[Cite::new("Thomas2000", "classes of swelling; the kind of clay decides")],
    provenance: Provenance::CommonPractice,
    stake: 0.7,
    look: "Look in the driest week of summer, and record cracks with their width, or none.",
    cautions: &[
        "Swelling ground lifts and breaks footings, posts and buried pipes: for anything built on it ask the local building office or an engineer.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("little", "it hardly moves"),
    ("some", "it may move, depending on the kind of clay"),
    ("moves", "it swells and cracks"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let clay = ground.spread(|draw| draw.soil.clay)?;
    let cracks = ground.latest(|sign| match sign {
        Sign::Cracks { width_mm } => Some(width_mm.map(Bounded::get)),
        _ => None,
    });
    let weighed = rule.weighed(
        ground,
        ANSWERS,
        |draw| match draw.soil.clay {
            c if c < LITTLE_BELOW_CLAY => 0,
            c if c <= MOVES_ABOVE_CLAY => 1,
            _ => 2,
        },
        |at| says(at).to_owned(),
    );
    let finding = match cracks {
        Some((on, width)) => rule.finding(
            Basis::Seen,
            "moves",
            format!(
                "It cracks: cracks{} were seen on {}. {}",
                width.map(|mm| format!(" {} wide", words::small(mm, ground.units))).unwrap_or_default(),
                words::day(on),
                says(2)
            ),
        ),
        None => weighed,
    };
    Some(
        finding
            .because(format!(
                "{}. Below 18 % ground moves little whatever its clay; above 35 % it moves with most clays.",
                words::share("clay", clay)
            ))
            .because("The kind of clay decides as much as how much there is, and no farm test tells it; the swelling figure of a local soil survey does.".to_owned())
            .worked(Working::new().step(
                "how much clay there is",
                "below 18 % little; 18 to 35 % by the kind of clay; above 35 % it moves",
                format!("over {} possible make-ups", ground.draws.len()),
                words::share("clay", clay),
            )),
    )
}

fn says(answer: usize) -> &'static str {
    match answer {
        0 => "It hardly swells or cracks.",
        1 => {
            "It may swell and crack in a dry summer, depending on its clay. Watch for cracks and note them; they settle it."
        }
        _ => {
            "It swells and cracks. Keep the moisture even with mulch and steady watering, close early cracks before drip tape hangs over them, and expect posts and pipes to move."
        }
    }
}
