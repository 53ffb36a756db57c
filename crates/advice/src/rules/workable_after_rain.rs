//! How easily the ground packs when wet, and when it may be worked after rain.

use ground::kit::{Cite, Provenance, Working};

use crate::facts::Ground;
use crate::finding::{Finding, Kind};
use crate::practice::Group;
use crate::rule::Rule;
use crate::words;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "workable-after-rain",
    title: "Working it after rain",
    question: "How easily does it pack, and when may it be worked after a soaking rain?",
    kind: Kind::Behaviour,
    sources: &[Cite::new("DexterBird2001", "optimum water content for tillage")],
    provenance: Provenance::CommonPractice,
    stake: 1.0,
    look: "Do the working test each day after the next soaking rain, and record the day on which the ball shatters.",
    cautions: &[],
    judge,
};

const ANSWERS: [(&str, &str); 4] = [
    ("a-day", "it is ready within a day"),
    ("two-days", "it is ready in one or two days"),
    ("four-days", "it is ready in two to four days"),
    ("a-week", "it takes three days to a week"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let cover = ground.site.place.under_cover();
    let clay = ground.spread(|draw| draw.soil.clay)?;
    let air = ground.spread(|draw| draw.saturation - draw.field_capacity);
    let finding = rule.weighed(
        ground,
        ANSWERS,
        |draw| match Group::of(draw.class) {
            Group::Sand => 0,
            Group::SandyLoam => 1,
            Group::Loam | Group::Silt => 2,
            Group::ClayLoam | Group::Clay => 3,
        },
        |at| says(at, cover),
    );
    let working = Working::new().step(
        "days until workable",
        "by texture group in spring drying weather with free drainage: sand half a day to 1, sandy loam 1 to 2, loam and silt loam 2 to 4, clay loam 3 to 5, clay 4 to 7 and more; twice as long when shaded, cold, or with water within 2 ft (60 cm)",
        words::share("clay", clay),
        finding.alternatives.first().map(|lead| lead.words).unwrap_or_default(),
    );
    Some(
        finding
            .because(format!("{}: the finer the ground, the longer it stays above the point where it smears.", words::share("clay", clay)))
            .because(ground.structure.handful.and_then(|(on, days, handful)| {
                let days = days?;
                Some(format!(
                    "On {}, {} after a soaking, a handful from working depth showed: {}.",
                    words::day(on),
                    words::days(days),
                    handful.words()
                ))
            }))
            .because(air.map(|air| {
                format!(
                    "When it has drained it still holds {} % air by volume; under about 10 % roots run short and a wheel does most harm.",
                    words::range(air, 100.0)
                )
            }))
            .worked(working),
    )
}

fn says(answer: usize, cover: bool) -> String {
    const BALL: &str = "Squeeze a handful from working depth: work it only if the ball shatters when dropped or pressed; a dent, a smear or a ribbon means wait. The test overrules the days.";
    if cover {
        let how = match answer {
            0 => "It packs little.",
            1 | 2 => "It packs when wet.",
            _ => "It packs hard when wet and mends slowly.",
        };
        return format!("{how} Under cover the days since rain mean nothing: go by the hand. {BALL}");
    }
    let when = match answer {
        0 => "It packs little and may be worked within a day of a soaking rain.",
        1 => "It may be worked one or two days after a soaking rain.",
        2 => "It packs when wet. Wait two to four days after a soaking rain.",
        _ => {
            "It packs hard when wet and mends slowly. Wait three days to a week after a soaking rain, longer in cold or shade."
        }
    };
    format!("{when} {BALL}")
}
