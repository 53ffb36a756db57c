//! Not mixing sand into clay.

use ground::kit::{Provenance, Working};

use crate::facts::Ground;
use crate::finding::{Finding, Kind};
use crate::rule::Rule;
use crate::words;

/// Clay that ground would have to come down to before it works like a loam, percent.
const LOAM_CLAY: f64 = 20.0;
/// Odds of fine ground below which the question does not arise.
const ARISES_FROM: f64 = 0.05;
/// Clay above which growers are tempted.
const TEMPTING_CLAY: f64 = 27.0;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "sand-into-clay",
    title: "No sand into clay",
    question: "Would mixing sand in loosen this ground?",
    kind: Kind::Avoid,
    sources: &[],
    provenance: Provenance::Computed,
    stake: 0.3,
    look: "",
    cautions: &[],
    judge,
};

const ANSWERS: [(&str, &str); 2] =
    [("no", "sand would do harm or take far too much"), ("no-need", "there is not the clay to need it")];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    if ground.odds(|draw| draw.soil.clay >= TEMPTING_CLAY) < ARISES_FROM {
        return None;
    }
    let clay = ground.spread(|draw| draw.soil.clay)?;
    let ratio = sand_per_soil(clay.median);
    let weighed = rule.weighed(
        ground,
        ANSWERS,
        |draw| usize::from(draw.soil.clay < TEMPTING_CLAY),
        |at| says(at).to_owned(),
    );
    Some(
        weighed
            .because(ratio.map(|ratio| {
                format!(
                    "To bring {:.0} % clay down to {LOAM_CLAY:.0} % would take {} weights of sand to each weight of soil: about {} of sand on every {}.",
                    clay.median,
                    words::short(ratio),
                    words::depth(2.54 * SAND_INCHES_PER_SIX * ratio, ground.units),
                    words::depth(15.24, ground.units)
                )
            }))
            .because("Less than that packs denser than the clay alone. It does not turn to concrete, as is often said: there is no cement in it.".to_owned())
            .worked(Working::new().step(
                "sand to each weight of soil",
                "f / (1 − f) with f = 1 − 20 / clay",
                format!("clay {:.0} %", clay.median),
                ratio.map_or_else(|| "none needed".to_owned(), words::short),
            )),
    )
}

/// Inches of sand on six inches of soil for one weight to one, sand and soil lying equally dense.
const SAND_INCHES_PER_SIX: f64 = 6.0;

/// Weights of sand to a weight of soil to bring its clay down to [`LOAM_CLAY`]; `None` where it is there already.
fn sand_per_soil(clay: f64) -> Option<f64> {
    (clay > LOAM_CLAY).then(|| {
        let sand = 1.0 - LOAM_CLAY / clay;
        sand / (1.0 - sand)
    })
}

fn says(answer: usize) -> &'static str {
    match answer {
        0 => "Do not mix sand in. Spend the money on compost, beds and drainage.",
        _ => "Sand is not needed: this ground has not that much clay. Compost does the job.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mass balance worked by hand: 50 % clay down to 20 % takes 1.5 weights, 45 % takes 1.25, 60 % takes 2.
    #[test]
    fn dilution_is_a_mass_balance() {
        for (clay, ratio) in [(50.0, 1.5), (45.0, 1.25), (60.0, 2.0)] {
            assert!((sand_per_soil(clay).unwrap() - ratio).abs() < 1e-12);
        }
        assert_eq!(sand_per_soil(15.0), None);
    }
}
