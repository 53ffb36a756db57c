//! Whether the sprinklers of a plot run faster than its ground takes water.

use ground::kit::{Cite, Provenance, Working};
use ground::water::infiltration::sprinkler_rate::{IntakeProfile, greatest_rate_mm_h};

use crate::facts::Ground;
use crate::finding::{Basis, Finding, Firmness, Kind};
use crate::rule::Rule;
use crate::words;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "sprinklers",
    title: "Sprinklers and intake",
    question: "Do the sprinklers here run faster than the ground takes water?",
    kind: Kind::Do,
    sources: &[
        Cite::new("SprinklerHandbook1983", "suggested maximum application rates"),
        Cite::new("ReynoldsElrick1990", "single ring"),
    ],
    provenance: Provenance::Recalled,
    stake: 0.8,
    look: "Watch the end of a run: when the surface shines or water creeps, it runs too fast. Or time an inch of water in a ring, three times.",
    cautions: &[
        "Keep a backflow preventer between any drinking water supply and the sprinklers, as codes ask.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 2] = [
    ("keeps-up", "the ground keeps up with the sprinklers"),
    ("too-fast", "the sprinklers run faster than the ground takes water"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let rate = ground.water.sprinklers_mm_h.iter().copied().max_by(f64::total_cmp)?;
    let units = ground.units;
    let told = words::rate(rate, units);
    if let Some(rings) = &ground.water.rings {
        let (mean, late) = (rings.mean_mm_h, words::rate_spread(rings.mean_mm_h, units));
        let too_fast = rate > mean.median;
        let verdict = ANSWERS[usize::from(too_fast)].0;
        let mut finding = rule.finding(
            Basis::Seen,
            verdict,
            says(usize::from(too_fast), &told, &words::rate(mean.median, units)),
        );
        // The range of the mean on one side of the rate settles it.
        if (mean.low..=mean.high).contains(&rate) {
            finding.firmness = Firmness::Likely;
            finding.look = rule.look;
        }
        return Some(
            finding
                .because(format!("{} took {late}, side flow taken off.", words::capital(&rings.words())))
                .worked(
                    Working::new()
                        .step(
                            "the sprinklers against the measured intake",
                            "an intake measured in the field goes before any table",
                            format!("{told} against {late}"),
                            ANSWERS[usize::from(too_fast)].1,
                        )
                        .cite(rule.sources[1]),
                ),
        );
    }
    let slope = ground.site.slope_percent.unwrap_or(0.0);
    let limit =
        |draw: &crate::facts::Draw| greatest_rate_mm_h(IntakeProfile::of(draw.class, false), slope, false);
    let limits = ground.spread(|draw| limit(draw).unwrap_or(f64::NAN))?;
    let finding = rule.weighed(
        ground,
        ANSWERS,
        |draw| usize::from(limit(draw).is_none_or(|limit| rate > limit)),
        |at| says(at, &told, &words::rate(limits.median, units)),
    );
    Some(
        finding
            .because(format!("The table gives {} for what the ground may be, at a slope of {} %; half that where it is bare or crusts.", words::rate_spread(limits, units), words::short(slope)))
            .worked(
                Working::new()
                    .step(
                        "greatest rate",
                        "row of the texture, column of the slope",
                        format!("over {} possible make-ups", ground.draws.len()),
                        words::rate_spread(limits, units),
                    )
                    .cite(rule.sources[0]),
            ),
    )
}

fn says(answer: usize, rate: &str, limit: &str) -> String {
    match answer {
        0 => format!("At {rate} the sprinklers keep below what the ground takes (about {limit})."),
        _ => format!(
            "At {rate} the sprinklers give more than the ground takes (about {limit}): smaller nozzles, or shorter runs with rests between."
        ),
    }
}
