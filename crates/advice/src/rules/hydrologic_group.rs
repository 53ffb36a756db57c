//! Hydrologic soil group: how much of a storm the ground sheds, as planners ask for it.

use book::model::seen::Sign;
use ground::kit::{Bounded, Cite, Provenance, Working};
use ground::water::drainage::water_table::judge as weigh;
use ground::water::infiltration::{HydrologicGroup, hydrologic_group};

use crate::facts::Ground;
use crate::finding::{Finding, Kind};
use crate::rule::Rule;
use crate::water::signs_of;
use crate::words;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "hydrologic-group",
    title: "Hydrologic soil group",
    question: "To which group of runoff tables does this ground belong?",
    kind: Kind::Build,
    sources: &[Cite::new("Neh630", "ch. 7, Table 7-1")],
    provenance: Provenance::Recalled,
    stake: 0.3,
    look: "Auger to 40 in (1 m) and look for a tight layer, rock or water: they decide the group more than the topsoil.",
    cautions: &[
        "A direction only: for a permit, a pond or a culvert use the group that the soil survey maps, and let a licensed person design it.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 4] = [
    ("A", "group A: sheds least"),
    ("B", "group B: sheds little"),
    ("C", "group C: sheds much"),
    ("D", "group D: sheds most"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let rates = ground.spread(|draw| draw.conductivity_mm_h)?;
    let floor = ground.latest(|sign| match sign {
        Sign::Rock { at_cm } => Some(at_cm.get()),
        _ => None,
    });
    let wet = weigh(&signs_of(&ground.signs, None), ground.site.root_depth_cm).wet_from_cm;
    let (floor_cm, table_cm) = (floor.map_or(f64::INFINITY, |(_, cm)| cm), wet.unwrap_or(f64::INFINITY));
    let group = |rate: f64| hydrologic_group(if rate.is_finite() { rate } else { 0.0 }, floor_cm, table_cm);
    let dual = table_cm < 60.0;
    let finding = rule.weighed(
        ground,
        ANSWERS,
        |draw| match group(draw.conductivity_mm_h).when(true) {
            HydrologicGroup::A => 0,
            HydrologicGroup::B => 1,
            HydrologicGroup::C => 2,
            _ => 3,
        },
        |at| {
            let name = ANSWERS[at].0;
            if dual && at < 3 {
                format!("By its make-up, group {name} once it is drained, and D as long as water stands so near the surface (written {name}/D).")
            } else {
                format!("By its make-up it belongs to {}.", ANSWERS[at].1)
            }
        },
    );
    let units = ground.units;
    Some(
        finding
            .because("Reckoned from the topsoil's make-up as if the ground below were alike: a tight layer below makes it shed more.".to_owned())
            .because(floor.map(|(on, cm)| format!("Rock at {} on {}.", words::depth(cm, units), words::day(on))))
            .because(wet.map(|cm| format!("Wetness shows from {} down.", words::depth(cm, units))))
            .worked(
                Working::new()
                    .step(
                        "group",
                        "by the least conductivity: over 36, 14.4 and 1.4 mm/h where the uppermost 100 cm count, over 144, 36 and 3.6 mm/h where the uppermost 50 cm do; D over a floor within 50 cm",
                        words::rate_spread(rates, units),
                        finding_words(&ANSWERS, ground, &group),
                    )
                    .cite(rule.sources[0]),
            ),
    )
}

fn finding_words(
    answers: &[(&str, &str); 4],
    ground: &Ground,
    group: &impl Fn(f64) -> HydrologicGroup,
) -> String {
    let of = [HydrologicGroup::A, HydrologicGroup::B, HydrologicGroup::C, HydrologicGroup::D];
    of.into_iter()
        .zip(answers)
        .map(|(one, (name, _))| {
            let odds = ground.odds(|draw| group(draw.conductivity_mm_h).when(true) == one);
            format!("{name} {}", words::odds(odds))
        })
        .collect::<Vec<_>>()
        .join(", ")
}
