//! Whether to drain before anything else.

use book::model::seen::Sign;
use ground::kit::{Bounded, Provenance, Working};

use crate::facts::Ground;
use crate::finding::{Basis, Finding, Kind};
use crate::practice::Ranks;
use crate::rule::Rule;
use crate::words;

/// Water that stands longer than a day asks for drainage.
const STANDS_TOO_LONG_DAYS: f64 = 1.0;
/// Wetness nearer the surface than this hurts most vegetables.
const WET_WITHIN_CM: f64 = 50.0;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "drainage-first",
    title: "Drainage first",
    question: "Should water be given a way out before anything else?",
    kind: Kind::Do,
    sources: &[],
    provenance: Provenance::CommonPractice,
    stake: 1.0,
    look: "Dig a hole two spades deep in late winter, and record water, grey or rusty spots, or none.",
    cautions: &[
        "Before digging: have buried services located; your own water and power lines will not be marked for you.",
        "Never enter an unsupported trench. Wetlands, ditches and neighbours' outlets are regulated: ask before you drain.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("main", "drainage comes first"),
    ("useful", "drainage may help"),
    ("little", "drainage is not the trouble"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let stood = ground.latest(|sign| match sign {
        Sign::StandingWater { days } if days.get() > STANDS_TOO_LONG_DAYS => Some(days.get()),
        _ => None,
    });
    let wet_at = ground.latest(|sign| match sign {
        Sign::Mottles { from_cm: at } | Sign::GreyLayer { from_cm: at } | Sign::WaterTable { at_cm: at }
            if at.get() <= WET_WITHIN_CM =>
        {
            Some(at.get())
        }
        _ => None,
    });
    let ranks = Ranks::of("drainage_first");
    let cover = ground.site.place.under_cover();
    let working = Working::new().step(
        "how much drainage helps here",
        "water that stood for more than a day, or wetness within 20 in (50 cm), decides; else the table of practices by texture",
        format!("over {} possible make-ups", ground.draws.len()),
        match (stood, wet_at) {
            (Some((_, days)), _) => format!("water stood for {}", words::days(days)),
            (None, Some((_, at))) => format!("wet from {}", words::depth(at, ground.units)),
            (None, None) => "no sign of wetness recorded".to_owned(),
        },
    );
    let finding = match (stood, wet_at) {
        (Some((on, days)), _) => rule.finding(
            Basis::Seen,
            "main",
            format!("Drain first: water stood here for {} on {}. Find where it comes from and give it a way out before loosening, liming or feeding. Grade the surface and shape beds before thinking of buried drains.", words::days(days), words::day(on)),
        ),
        (None, Some((on, at))) => rule.finding(
            Basis::Seen,
            "main",
            format!("Drain first: the ground showed wetness from {} down on {}. Raise the beds, keep roof and road water away, and find out how high the water stands in winter before spending on anything else.", words::depth(at, ground.units), words::day(on)),
        ),
        (None, None) => rule
            .weighed(ground, ANSWERS, |draw| ranks.answer(draw.class), |at| says(at, cover).to_owned())
            .because("No standing water, grey or rusty spots are recorded for this plot. Look after the next long rain and note what you see, dry or wet: it counts for more than the texture.".to_owned()),
    };
    Some(finding.worked(working))
}

fn says(answer: usize, cover: bool) -> &'static str {
    match answer {
        0 | 1 if cover => {
            "Lead roof water well away from the sides: under cover it is what wets the ground from beside and below. Shape the beds."
        }
        0 => {
            "Give water a way out before anything else: grade the surface, shape the beds, clear the ditch. Nothing else works on ground this fine while water stands in it."
        }
        1 => "Shaped beds and a clear outlet help in wet springs. Look after a long rain before doing more.",
        _ => {
            "Drainage is hardly ever the trouble on ground like this. If water stands all the same, look for a pan or a high water table."
        }
    }
}
