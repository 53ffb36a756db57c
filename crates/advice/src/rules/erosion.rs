//! Whether bare ground washes away on this slope.

use book::model::seen::Sign;
use ground::kit::{Cite, Provenance, Working};
use ground::structure::erodibility::{erodibility, permeability_code};
use ground::structure::slope_steepness::slope_steepness;
use ground::texture::Composition;

use crate::facts::{Draw, Ground};
use crate::finding::{Basis, Finding, Kind};
use crate::rule::Rule;
use crate::words;

/// Very fine sand as a share of the sand where nobody measured it.
const VERY_FINE_SHARE_OF_SAND: f64 = 0.2;
/// Structure code of tilled ground: medium or coarse granular.
const STRUCTURE_CODE: f64 = 3.0;
/// K × S below this: bare ground loses little. Our judgement, so is the next.
const LITTLE_BELOW: f64 = 0.10;
const MUCH_FROM: f64 = 0.25;

/// The gentle slope of most vegetable ground, where none is given.
pub(crate) const USUAL_SLOPE_PERCENT: f64 = 2.0;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "erosion",
    title: "Washing away",
    question: "Does bare ground wash away here?",
    kind: Kind::Behaviour,
    sources: &[Cite::new("WischmeierSmith1978", "p. 10"), Cite::new("McCool1987", "steepness factor")],
    provenance: Provenance::Judgement,
    stake: 1.0,
    look: "Walk it in the next hard rain, and record rills or washed soil.",
    cautions: &[],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("little", "bare ground loses little soil here"),
    ("some", "bare ground loses some soil here"),
    ("much", "bare ground washes away here"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    if ground.site.place.under_cover() {
        return None;
    }
    let each = ground.each(k_factor);
    let k = ground.spread_each(&each)?;
    let washed = ground.latest(|sign| matches!(sign, Sign::Washing).then_some(()));
    // Without a slope the question is put for the gentle slope of most vegetable ground.
    let slope = ground.site.slope_percent.unwrap_or(USUAL_SLOPE_PERCENT);
    let steepness = slope_steepness(slope);
    let weighed = rule
        .weighed_each(ground, ANSWERS, each.iter().map(|k| answer(steepness * k)), |at| says(at).to_owned());
    let finding = match washed {
        Some((on, ())) => rule.finding(
            Basis::Seen,
            "much",
            format!("It washes: rills or washed soil were seen on {}. {}", words::day(on), says(2)),
        ),
        None => weighed,
    };
    let working = Working::new()
        .step(
            "erodibility K in US customary units, median",
            "the erodibility equation, a fifth of the sand taken as very fine, structure code 3, permeability from the conductivity",
            format!("over {} possible make-ups", ground.draws.len()),
            words::range(k, 1.0),
        )
        .cite(rule.sources[0])
        .step("slope steepness factor", "10.8 × sin θ + 0.03, or 16.8 × sin θ − 0.50 from 9 %", format!("slope {} %", words::short(slope)), words::short(steepness))
        .cite(rule.sources[1])
        .step("K × S, median", "under 0.1 little, 0.25 and more much", format!("{} × {}", words::short(k.median), words::short(steepness)), words::short(k.median * steepness));
    Some(
        finding
            .because(format!("Erodibility K {} (clay and coarse sand about 0.1, silt loam 0.35 to 0.45).", words::range(k, 1.0)))
            .because(Some(match ground.site.slope_percent {
                Some(slope) => format!("A slope of {} %: a steepness factor of {}.", words::short(slope), words::short(steepness)),
                None => "The slope of this plot is not given; 2 % stands in for it. Give it in the plot's settings.".to_owned(),
            }))
            .worked(working),
    )
}

fn k_factor(draw: &Draw) -> f64 {
    erosion_k(draw.soil, draw.organic_matter_percent, draw.conductivity_mm_h)
}

/// K in US customary units of tilled ground, a fifth of its sand taken as very fine.
pub(crate) fn erosion_k(soil: Composition, organic_matter_percent: f64, conductivity_mm_h: f64) -> f64 {
    erodibility(
        soil.silt,
        VERY_FINE_SHARE_OF_SAND * soil.sand,
        soil.clay,
        organic_matter_percent,
        STRUCTURE_CODE,
        permeability_code(conductivity_mm_h),
    )
}

fn answer(loss: f64) -> usize {
    match loss {
        l if l < LITTLE_BELOW => 0,
        l if l < MUCH_FROM => 1,
        _ => 2,
    }
}

fn says(answer: usize) -> &'static str {
    match answer {
        0 => "Bare ground loses little soil on this slope. Ordinary care is enough.",
        1 => {
            "Bare ground loses some soil in hard rain. Run beds across the slope and leave no ground bare over winter."
        }
        _ => {
            "Bare ground washes away here. Keep it covered the year round, run beds and wheel tracks across the slope, and leave a grass strip below."
        }
    }
}
