//! Not spreading gypsum on ordinary clay.

use ground::kit::{Cite, Provenance, Working};

use crate::facts::Ground;
use crate::finding::{Basis, Finding, Kind};
use crate::rule::Rule;
use crate::words;

/// Clay from which gypsum is sold for loosening.
const TEMPTING_CLAY: f64 = 27.0;
/// Odds of fine ground below which the question does not arise.
const ARISES_FROM: f64 = 0.05;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "gypsum",
    title: "No gypsum on ordinary clay",
    question: "Would gypsum loosen this ground?",
    kind: Kind::Avoid,
    sources: &[Cite::new("Handbook60", "exchangeable sodium 15 %, sodium adsorption ratio 13")],
    provenance: Provenance::Recalled,
    stake: 0.3,
    look: "",
    cautions: &[
        "Where sodium is the cause, gypsum works only with drainage and water to leach: ask an adviser for the amount.",
    ],
    judge,
};

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let fine = ground.odds(|draw| draw.soil.clay >= TEMPTING_CLAY);
    if fine < ARISES_FROM {
        return None;
    }
    Some(
        rule.finding(
            Basis::AnyGround,
            "only-with-sodium",
            "Do not spread gypsum to loosen clay unless a soil test shows sodium: exchangeable sodium of 15 % or more, or a sodium adsorption ratio of 13 or more. On other clay it loosens nothing, and it does not lime.".to_owned(),
        )
        .because(format!("Odds of clay above {TEMPTING_CLAY:.0} % here: {}.", words::odds(fine)))
        .because("No sodium figure is kept for this plot. In wet climates sodium is rare; near the sea, under salty water or on dry-country clay have it tested.".to_owned())
        .worked(
            Working::new()
                .step(
                    "when gypsum helps",
                    "exchangeable sodium percentage ≥ 15, or sodium adsorption ratio of the saturation extract ≥ 13",
                    "no sodium figure is kept for this plot",
                    "not without a test",
                )
                .cite(rule.sources[0]),
        ),
    )
}
