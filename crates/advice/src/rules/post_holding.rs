//! What a post needs to hold in this ground: direction only.

use book::model::Place;
use book::model::seen::Sign;
use ground::kit::{Bounded, Cite, Provenance, Working};
use ground::posts::building_class::BuildingClass;
use ground::posts::class_odds::ClassOdds;
use ground::posts::frost_foot::{HEAVES_FROM_PERCENT, finer_than_20um};
use ground::posts::soil_class::{TOO_ORGANIC_PERCENT, VERY_FINE_AT_MOST, class_of_fines, passing_75um};

use super::post_driving::CAUTIONS;
use crate::facts::{Draw, Ground};
use crate::finding::{Finding, Kind};
use crate::rule::Rule;
use crate::words;

/// Very fine sand as a share of the sand where nobody measured it: half of what may be there.
const VERY_FINE_SHARE_OF_SAND: f64 = VERY_FINE_AT_MOST / 2.0;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "post-holding",
    title: "What a post needs here",
    question: "What does a post need to hold in this ground?",
    kind: Kind::Build,
    sources: &[
        Cite::new("IbcSoilClasses", "Table 1806.2"),
        Cite::new("FrostDesign", "frost-susceptible soils, 3 % finer than 20 µm"),
    ],
    provenance: Provenance::Judgement,
    stake: 0.4,
    look: "Bore a hole to the depth of the foot and do the feel test on what comes up from there.",
    cautions: CAUTIONS,
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("sandy", "it holds like sandy ground"),
    ("fine", "it holds like silt or clay"),
    ("organic", "it is too rich in organic matter to trust"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    // Pasture and orchard fences need posts as tunnels do; only a bench-top plot would not.
    let fines = ground.spread(passing)?;
    let frost =
        ground.odds(|draw| finer_than_20um(draw.soil, draw.gravel_mass_percent) >= HEAVES_FROM_PERCENT);
    let classes = ClassOdds::of(
        ground
            .draws
            .iter()
            .zip(&ground.weights)
            .map(|(draw, weight)| (draw.soil, draw.gravel_mass_percent, *weight)),
    );
    let moves = ground.odds(|draw| draw.soil.clay > 35.0);
    let wet = ground.latest(|sign| match sign {
        Sign::WaterTable { at_cm: at } | Sign::GreyLayer { from_cm: at } | Sign::Mottles { from_cm: at } => {
            Some(at.get())
        }
        _ => None,
    });
    let tunnel = matches!(ground.site.place, Place::HighTunnel | Place::Greenhouse);
    let finding = rule.weighed(ground, ANSWERS, answer, |at| says(at, tunnel));
    let working = Working::new()
        .step(
            "share of the soil that passes the 75 µm sieve, median",
            "(1 − stones) × (silt + clay + 0.585 × very fine sand), very fine sand taken as 15 % of the sand; 50 % and more counts as fine ground",
            format!("over {} possible make-ups", ground.draws.len()),
            format!("{} %", words::range(fines, 1.0)),
        )
        .cite(rule.sources[0])
        .step(
            "odds that frost can heave it",
            "3 % or more finer than 20 µm; clay + 0.715 × silt stands for that",
            format!("over {} possible make-ups", ground.draws.len()),
            words::odds(frost),
        )
        .cite(rule.sources[1]);
    Some(
        finding
            .because(format!("{} % passes the fine sieve (75 µm); half is the line between sandy and fine ground in building codes.", words::range(fines, 1.0)))
            .because((classes.likely() != classes.conservative()).then(|| {
                format!(
                    "Odds that codes count it as silt and clay, over all the very fine sand that may be there: {}. From one in ten on the softer class is built on.",
                    words::odds(classes.silt_and_clay)
                )
            }))
            .because((frost >= 0.5).then(|| {
                format!("Frost can heave it (odds {}): set the foot below the frost depth your local code gives, straight or wider at the foot, never wider at the top.", words::odds(frost))
            }))
            .because((moves >= 0.25).then(|| {
                format!("It may swell and shrink (odds of clay above 35 %: {}): in drought a gap opens round the post and its upper part holds nothing.", words::odds(moves))
            }))
            .because(wet.map(|(on, at)| {
                format!("Wetness from {} down on {}: below water the ground holds about half as much.", words::depth(at, ground.units), words::day(on))
            }))
            .worked(working),
    )
}

fn passing(draw: &Draw) -> f64 {
    passing_75um(draw.soil, VERY_FINE_SHARE_OF_SAND * draw.soil.sand, draw.gravel_mass_percent)
}

fn answer(draw: &Draw) -> usize {
    if draw.organic_matter_percent >= TOO_ORGANIC_PERCENT {
        2
    } else if class_of_fines(passing(draw)) == BuildingClass::SiltAndClay {
        1
    } else {
        0
    }
}

fn says(answer: usize, tunnel: bool) -> String {
    let uplift = if tunnel {
        " On a tunnel it is wind that pulls posts up: anchors and braces count for more than depth alone."
    } else {
        ""
    };
    match answer {
        0 => format!(
            "A post holds by its depth and by ground packed tight against it: go deeper rather than thicker, tamp in layers, and expect little hold near the surface when it is dry and loose.{uplift}"
        ),
        1 => format!(
            "Plan for the weaker class of building codes (silt and clay). Firm when moist, much weaker when soaked: keep roof water away from the posts, go below frost and cracks.{uplift}"
        ),
        _ => format!(
            "Do not trust a post in ground this rich in organic matter: dig down to mineral ground or ask an engineer.{uplift}"
        ),
    }
}
