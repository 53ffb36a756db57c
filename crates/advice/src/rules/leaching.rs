//! How readily nitrogen washes below the roots.

use ground::kit::{Cite, Provenance, Working};
use ground::water::nitrate_leaching::share_leached;

use crate::facts::{Draw, Ground};
use crate::finding::{Finding, Kind};
use crate::rule::Rule;
use crate::words;

/// Water draining in the case that is judged: a wet spell of 2 in.
const DRAINAGE_MM: f64 = 50.0;
/// Depth below which nitrate is lost to a vegetable crop in the case that is judged.
const DEPTH_CM: f64 = 30.0;
/// Shares lost that part the answers: our judgement.
const HOLDS_BELOW: f64 = 0.40;
const LOSES_FROM: f64 = 0.60;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "leaching",
    title: "Losing nitrogen",
    question: "Does nitrogen wash out of this ground?",
    kind: Kind::Behaviour,
    sources: &[Cite::new("Burns1976", "uniformly distributed nitrate")],
    provenance: Provenance::Recalled,
    stake: 1.0,
    look: "Look at the leaves after a wet spell: if the crop pales within two weeks, it is losing nitrogen.",
    cautions: &[
        "Nitrogen that leaves the roots reaches wells and streams: keep the distances and dates your local rules ask for.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("holds", "it holds nitrogen fairly well"),
    ("some", "it loses some nitrogen in a wet spell"),
    ("loses", "it loses nitrogen fast"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let each = ground.each(share);
    let lost = ground.spread_each(&each)?;
    let cover = ground.site.place.under_cover();
    let units = ground.units;
    let case = format!(
        "{} of water draining through {} of ground",
        words::water(DRAINAGE_MM, units),
        words::depth(DEPTH_CM, units)
    );
    let finding = rule.weighed_each(
        ground,
        ANSWERS,
        each.iter().map(|share| match *share {
            s if s < HOLDS_BELOW => 0,
            s if s < LOSES_FROM => 1,
            _ => 2,
        }),
        |at| says(at, cover).to_owned(),
    );
    let working = Working::new()
        .step(
            "share of the nitrate that is lost, median",
            "(P / (P + V/100))^(h/2), P drainage in cm, V water at field capacity in volume %, h depth in cm",
            format!(
                "P = {}, h = {}, over {} possible make-ups",
                DRAINAGE_MM / 10.0,
                DEPTH_CM,
                ground.draws.len()
            ),
            format!("{} %", words::range(lost, 100.0)),
        )
        .cite(rule.sources[0]);
    Some(
        finding
            .because(format!("With {case}, {} % of the nitrate in it is lost.", words::range(lost, 100.0)))
            .worked(working),
    )
}

fn share(draw: &Draw) -> f64 {
    share_leached(DRAINAGE_MM, draw.field_capacity * (1.0 - draw.gravel_volume_percent / 100.0), DEPTH_CM)
}

fn says(answer: usize, cover: bool) -> &'static str {
    match (answer, cover) {
        (0, _) => {
            "It holds nitrogen fairly well. Feeding in one or two goes will do; still leave no ground bare over winter."
        }
        (1, false) => {
            "A wet spell takes some of the nitrogen. Split feeding in two or three, and sow a cover that takes up what is left in autumn."
        }
        (1, true) => {
            "Over-watering takes some of the nitrogen. Split feeding in two or three and keep drip runs short."
        }
        (_, false) => {
            "Nitrogen washes out fast. Feed little and often, never before heavy rain, keep something growing all winter, and build organic matter to hold it."
        }
        (_, true) => {
            "Nitrogen washes out with every long drip run. Feed little and often and keep runs short."
        }
    }
}
