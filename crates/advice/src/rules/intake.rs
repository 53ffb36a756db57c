//! How fast the ground takes water in, and whether it ponds.

use book::model::UnitSystem;
use book::model::seen::Sign;
use ground::kit::{Cite, Provenance, Working};

use crate::facts::Ground;
use crate::finding::{Basis, Finding, Firmness, Kind};
use crate::rings::Rings;
use crate::rule::Rule;
use crate::words;

/// Class limits of the infiltration table: 2, 0.6 and 0.2 in/h.
const LIMITS_MM_H: [f64; 3] = [2.0 * 25.4, 0.6 * 25.4, 0.2 * 25.4];

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "intake",
    title: "Taking water in",
    question: "Does water go in, or does it stand or run off?",
    kind: Kind::Behaviour,
    sources: &[
        Cite::new("NrcsTestKit1999", "infiltration classes"),
        Cite::new("SaxtonRawls2006", "eq. 16"),
        Cite::new("SprinklerHandbook1983", "suggested application rates"),
    ],
    provenance: Provenance::Recalled,
    stake: 1.5,
    look: "Look two hours after the next hard rain or long watering, and record whether water stands, runs off or is gone.",
    cautions: &[
        "Before any ditch or drain: have buried services located, never enter an unsupported trench, and ask whether a permit is needed.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 4] = [
    ("fast", "water goes in fast"),
    ("steady", "water goes in steadily"),
    ("slow", "water goes in slowly"),
    ("ponds", "water stands or runs off"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let units = ground.units;
    let rates = ground.spread(|draw| draw.conductivity_mm_h)?;
    let slope = ground.site.slope_percent.unwrap_or(0.0);
    let cover = ground.site.place.under_cover();
    // A draw without a value has no pores left to drain through: the slowest answer.
    let weighed = rule.weighed(
        ground,
        ANSWERS,
        |draw| answer(draw.conductivity_mm_h),
        |at| says(at, slope, cover, units),
    );
    let stood = ground.latest(|sign| match sign {
        Sign::StandingWater { days } => Some(ground::kit::Bounded::get(days)),
        _ => None,
    });
    let ran_off = ground.latest(|sign| matches!(sign, Sign::Runoff).then_some(()));
    let ponds_by_reckoning = matches!(weighed.verdict, "slow" | "ponds");
    let rings = ground.water.rings.as_ref();
    let finding = match (stood, ran_off) {
        (Some((on, days)), _) => rule.finding(
            Basis::Seen,
            "ponds",
            if ponds_by_reckoning {
                format!(
                    "Water stands here: it stood for {} on {}. The ground itself lets it through only slowly. Drain the surface first, shape the beds, and water slower than it goes in.",
                    words::days(days),
                    words::day(on)
                )
            } else {
                format!(
                    "Water stood here for {} on {}, although ground of this make-up should let it through. Look for the cause: a pan under the spade, a crust, water coming in from above, or a high water table.",
                    words::days(days),
                    words::day(on)
                )
            },
        ),
        (None, Some((on, ()))) => rule.finding(
            Basis::Seen,
            "runs-off",
            format!(
                "Water ran off here on {}. Cover the surface, break any crust, and water slower than it goes in.",
                words::day(on)
            ),
        ),
        (None, None) => match rings {
            Some(rings) => measured(rule, rings, slope, cover, units),
            None => weighed.clone(),
        },
    };
    let working = Working::new()
        .step(
            "saturated conductivity, median",
            "1930 × (saturation − field capacity)^(3 − λ)",
            format!("over {} possible make-ups", ground.draws.len()),
            words::rate_spread(rates, units),
        )
        .cite(rule.sources[1])
        .step(
            "odds of each answer",
            format!(
                "fast from {}, steady from {}, slow from {}, else it ponds",
                words::rate(LIMITS_MM_H[0], units),
                words::rate(LIMITS_MM_H[1], units),
                words::rate(LIMITS_MM_H[2], units)
            ),
            "weight of the make-ups in each class",
            weighed
                .alternatives
                .iter()
                .map(|other| format!("{}: {}", other.words, words::odds(other.odds)))
                .collect::<Vec<_>>()
                .join("; "),
        )
        .cite(rule.sources[0]);
    Some(
        finding
            .because(format!(
                "Wet through, it passes {}; that counts how far real soils stray from the published equation (two in three within a factor of two, our judgement).",
                words::rate_spread(rates, units)
            ))
            .because(rings.map(|rings| {
                format!(
                    "{} on {} took {}, side flow taken off: measured, it goes before the make-up.",
                    words::capital(&rings.words()),
                    words::day(rings.last_on()),
                    words::rate_spread(rings.mean_mm_h, units)
                )
            }))
            .because(
                ground
                    .latest(|sign| {
                        matches!(sign, Sign::Wormcasts { amount: book::model::seen::Amount::Many })
                            .then_some(())
                    })
                    .map(|(on, ())| {
                        format!(
                            "Many wormcasts on {}: worm holes take water in faster than the make-up says.",
                            words::day(on)
                        )
                    }),
            )
            .worked(working),
    )
}

/// What rings say: firm where the range of their mean lies within one answer.
fn measured(rule: &Rule, rings: &Rings, slope: f64, cover: bool, units: UnitSystem) -> Finding {
    let mean = rings.mean_mm_h;
    let at = answer(mean.median);
    let mut finding = rule.finding(
        Basis::Seen,
        ANSWERS[at].0,
        format!("Measured: {}. {}", ANSWERS[at].1, says(at, slope, cover, units)),
    );
    if answer(mean.low) != at || answer(mean.high) != at {
        finding.firmness = Firmness::Likely;
        finding.look = "Run two or three more rings in places that look alike.";
    }
    finding
}

fn answer(rate: f64) -> usize {
    LIMITS_MM_H.iter().position(|limit| rate >= *limit).unwrap_or(3)
}

/// Greatest sprinkler rate for a soil like that of the answer, in/h, for slopes up to 5, 8, 12 and beyond.
const SPRINKLER_IN_H: [[f64; 4]; 4] =
    [[2.0, 1.5, 1.0, 0.5], [1.0, 0.8, 0.6, 0.4], [0.5, 0.4, 0.3, 0.2], [0.15, 0.1, 0.08, 0.06]];

fn says(answer: usize, slope: f64, cover: bool, units: UnitSystem) -> String {
    if cover {
        return match answer {
            0 => "Water goes straight in, and down more than sideways: short drip runs, lines close together.".to_owned(),
            1 => "Water goes in as fast as drip gives it. Puddles under the emitters would be a surprise here.".to_owned(),
            2 => "Water goes in slowly: use slow emitters, and break a long run in two with an hour between.".to_owned(),
            _ => "Water puddles under the emitters: slow emitters, short runs with rests, beds shaped, and roof water led well away from the sides.".to_owned(),
        };
    }
    let column = [5.0, 8.0, 12.0].iter().position(|limit| slope <= *limit).unwrap_or(3);
    let sprinkler = words::rate(25.4 * SPRINKLER_IN_H[answer.min(3)][column], units);
    match answer {
        0 => format!(
            "Heavy rain goes straight in; standing water would be a surprise here. Sprinklers up to about {sprinkler}."
        ),
        1 => format!(
            "Ordinary rain goes in; a cloudburst may stand for an hour. Sprinklers up to about {sprinkler}, half that on bare ground that crusts."
        ),
        2 => format!(
            "Rain goes in slowly and stands in the low spots. Keep it covered, shape the beds so that water can leave, sprinklers no faster than about {sprinkler}."
        ),
        _ => format!(
            "Water stands or runs off after most rains. Give it a way out before anything else, shape the beds, and water by drip or no faster than about {sprinkler}."
        ),
    }
}
