//! Whether rain beats the bare surface into a crust.

use book::model::seen::Sign;
use book::model::{Place, Watering};
use ground::kit::{Bounded, Cite, Provenance, Working};
use ground::structure::crusting::crusting_index;

use crate::facts::{Draw, Ground};
use crate::finding::{Basis, Finding, Kind};
use crate::rule::Rule;
use crate::words;

/// Class limits of the index as published: below 1.4 it does not crust, from 1.8 strongly.
const MAY_FROM: f64 = 1.4;
const READILY_FROM: f64 = 1.8;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "crusting",
    title: "Crusting",
    question: "Will a bare seedbed crust over?",
    kind: Kind::Behaviour,
    sources: &[Cite::new("RemyMarinLafleche1974", "crusting index")],
    provenance: Provenance::Recalled,
    stake: 1.0,
    look: "Look at a bare seedbed as it dries after a hard rain, and record a crust or none.",
    cautions: &[],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("hardly", "it hardly crusts"),
    ("may", "it may crust after a hard rain"),
    ("readily", "it crusts readily"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let seen = ground.latest(|sign| match sign {
        Sign::Crust { thickness_mm } => Some(thickness_mm.map(Bounded::get)),
        _ => None,
    });
    let rain_never_beats_it = matches!(ground.site.place, Place::HighTunnel | Place::Greenhouse)
        && !matches!(ground.site.watering, Some(Watering::Sprinkler | Watering::ByHand));
    if rain_never_beats_it && seen.is_none() {
        return None;
    }
    let indices = ground.spread(index)?;
    let weighed = rule.weighed(ground, ANSWERS, |draw| answer(index(draw)), |at| says(at).to_owned());
    let finding = match seen {
        Some((on, thickness)) => rule.finding(
            Basis::Seen,
            "readily",
            format!(
                "It crusts: a crust{} was seen on {}. {}",
                thickness.map(|mm| format!(" {} thick", words::small(mm, ground.units))).unwrap_or_default(),
                words::day(on),
                says(2)
            ),
        ),
        None => weighed,
    };
    let working = Working::new()
        .step(
            "crusting index, median",
            "(1.5 × fine silt + 0.75 × coarse silt) / (clay + 10 × organic matter)",
            format!(
                "over {} possible make-ups; silt parted at 20 µm by the log-linear rule",
                ground.draws.len()
            ),
            words::range(indices, 1.0),
        )
        .cite(rule.sources[0]);
    Some(
        finding
            .because(format!(
                "Crusting index {}: below 1.4 a surface hardly crusts, from 1.8 it crusts readily.",
                words::range(indices, 1.0)
            ))
            .because(
                (!ground.measured.organic_matter)
                    .then(|| "Organic matter holds crumbs together and was not measured here.".to_owned()),
            )
            .worked(working),
    )
}

fn index(draw: &Draw) -> f64 {
    crusting_index(draw.soil.silt, draw.soil.clay, draw.organic_matter_percent)
}

fn answer(index: f64) -> usize {
    match index {
        i if i < MAY_FROM => 0,
        i if i < READILY_FROM => 1,
        _ => 2,
    }
}

fn says(answer: usize) -> &'static str {
    match answer {
        0 => "A bare seedbed hardly crusts. Sow and water as usual.",
        1 => {
            "A bare seedbed may crust after a hard rain. Do not make a powder of it, and keep a light cover over the row until seedlings are through."
        }
        _ => {
            "Do not make a powder of the seedbed. Cover the row with a little compost or fleece, water with fine gentle drops until seedlings are through, and raise organic matter."
        }
    }
}
