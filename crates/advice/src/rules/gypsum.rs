//! Not spreading gypsum on ordinary clay. What sodium means is told by `ground::fertility::acidity::sodium`.

use ground::fertility::acidity::gypsum::NO_GYPSUM;
use ground::fertility::acidity::sodium::{
    SODIC_FROM_PERCENT, SODIC_FROM_RATIO, SodiumStanding, WATCH_FROM_PERCENT,
};
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
    let sodium = ground.water.sodium_percent;
    let standing = sodium.map(|share| SodiumStanding::of(share, None));
    if fine < ARISES_FROM && standing.is_none_or(|standing| standing == SodiumStanding::None) {
        return None;
    }
    let (verdict, statement) = match standing {
        None => (
            "only-with-sodium",
            format!("Do not spread gypsum to loosen clay unless a soil test shows sodium: exchangeable sodium of {SODIC_FROM_PERCENT:.0} % or more, or a sodium adsorption ratio of {SODIC_FROM_RATIO:.0} or more. On other clay it loosens nothing, and it does not lime."),
        ),
        Some(SodiumStanding::None) => ("none", NO_GYPSUM.to_owned()),
        Some(SodiumStanding::Watch) => (
            "look-at-a-crumb",
            format!("The soil test shows sodium of {WATCH_FROM_PERCENT:.0} % or more. Gypsum helps only if the ground disperses: drop a crumb in rain water, and spread none where the water stays clear."),
        ),
        Some(SodiumStanding::Sodic | SodiumStanding::SalineSodic) => (
            "sodic",
            "The soil test shows sodic ground: here gypsum does help, once the ground can drain and there is water to wash the sodium down.".to_owned(),
        ),
    };
    let tested = match sodium {
        Some(share) => format!("The soil test gives {} % exchangeable sodium.", words::short(share)),
        None => "No sodium figure is kept for this plot. In wet climates sodium is rare; near the sea, under salty water or on dry-country clay have it tested.".to_owned(),
    };
    let basis = if sodium.is_some() { Basis::Seen } else { Basis::AnyGround };
    let known = sodium.map_or("no sodium figure is kept for this plot".to_owned(), |share| {
        format!("{} %", words::short(share))
    });
    Some(
        rule.finding(basis, verdict, statement)
            .because(format!("Odds of clay above {TEMPTING_CLAY:.0} % here: {}.", words::odds(fine)))
            .because(tested)
            .worked(
                Working::new()
                    .step(
                        "when gypsum helps",
                        "exchangeable sodium percentage ≥ 15, or sodium adsorption ratio of the saturation extract ≥ 13; from 6 % on where a crumb disperses",
                        known,
                        standing.map_or("not without a test", SodiumStanding::words),
                    )
                    .cite(rule.sources[0]),
            ),
    )
}
