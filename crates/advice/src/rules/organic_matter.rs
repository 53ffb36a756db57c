//! What organic matter does for this ground, and how to add it.

use book::model::UnitSystem;
use ground::kit::{Cite, Provenance, Working};

use crate::facts::{Draw, Ground};
use crate::finding::{Finding, Kind};
use crate::practice::{Group, Ranks};
use crate::rule::Rule;
use crate::words;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "organic-matter",
    title: "Organic matter",
    question: "What does organic matter do for this ground, and how is it best added?",
    kind: Kind::Do,
    sources: &[Cite::new("Khaleel1981", "bulk density and added carbon")],
    provenance: Provenance::CommonPractice,
    stake: 0.6,
    look: "",
    cautions: &[
        "Ask for a test of bought compost: salts, phosphorus, metals, and weedkiller that outlasts composting.",
        "Raw manure carries disease: keep the interval to harvest that food-safety rules ask for, and keep both away from water.",
    ],
    judge,
};

/// Organic matter from which more is habit rather than help: our judgement.
const PLENTY_FROM_PERCENT: f64 = 5.0;

const ANSWERS: [(&str, &str); 4] = [
    ("main", "compost is a main help here"),
    ("useful", "compost is a useful help here"),
    ("little", "compost does little here"),
    ("plenty", "there is plenty already"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let ranks = Ranks::of("organic_matter");
    let coarse = ground.odds(|draw| matches!(Group::of(draw.class), Group::Sand | Group::SandyLoam)) >= 0.5;
    let units = ground.units;
    let measured = ground.measured.organic_matter;
    let answer = |draw: &Draw| {
        if measured && draw.organic_matter_percent >= PLENTY_FROM_PERCENT {
            3
        } else {
            ranks.answer(draw.class)
        }
    };
    let organic = ground.spread(|draw| draw.organic_matter_percent)?;
    let working = Working::new().step(
        "how much it helps here",
        "table of practices by texture group, 3 a main help and 2 a useful one",
        format!("over {} possible make-ups", ground.draws.len()),
        format!(
            "odds that the ground is sand or sandy loam: {}",
            words::odds(ground.odds(|draw| matches!(Group::of(draw.class), Group::Sand | Group::SandyLoam)))
        ),
    );
    Some(
        rule.weighed(ground, ANSWERS, answer, |at| says(at, coarse, units))
            .because(Some(if ground.measured.organic_matter {
                format!("Organic matter here is {} %.", words::range(organic, 1.0))
            } else {
                "Organic matter was not measured here; any soil test gives it.".to_owned()
            }))
            .because("Stop adding compost, or halve it, when a soil test shows phosphorus above what the crop needs.".to_owned())
            .worked(working),
    )
}

fn says(answer: usize, coarse: bool, units: UnitSystem) -> String {
    let first = words::inches(1.0, 2.0, units);
    let later = words::inches(0.25, 1.0, units);
    match (answer, coarse) {
        (3, _) => "There is plenty of organic matter. Keep it up with mulch and covers, and add compost only when a soil test says that phosphorus and salts allow it.".to_owned(),
        (2, _) => "Compost does little for this ground.".to_owned(),
        (_, true) => format!(
            "Add compost in small doses and often: it is burnt up fast in open ground. {first} worked into the top the first years, then {later} a year, and something growing or a mulch in between. It holds water and nitrogen that this ground lets go."
        ),
        (_, false) => format!(
            "Add compost every year: {first} worked into the top the first years, then {later} a year laid on top. It makes crumbs, so that water goes in and roots find air."
        ),
    }
}
