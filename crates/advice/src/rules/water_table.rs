//! Whether water stands within the roots for part of the year.

use ground::kit::{Cite, Provenance, Working};
use ground::water::drainage::water_table::{HowSure, Likelihood, judge as weigh};

use crate::facts::Ground;
use crate::finding::{Basis, Finding, Firmness, Kind};
use crate::rule::Rule;
use crate::water::{LOOK, sentence, signs_of};
use crate::words;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "water-table",
    title: "Water in the ground",
    question: "Does water stand within the roots for part of the year?",
    kind: Kind::Behaviour,
    sources: &[Cite::new("SoilSurveyManual2017", "ch. 3, natural drainage classes")],
    provenance: Provenance::CommonPractice,
    stake: 1.0,
    look: LOOK,
    cautions: &[
        "Before digging: have buried services located. Never enter a pit deeper than about 4 ft (1.2 m) that is not shored, and cover holes you leave overnight.",
    ],
    judge,
};

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let judged = weigh(&signs_of(&ground.signs, None), ground.site.root_depth_cm);
    let (verdict, firmness) = match (judged.likelihood, judged.how_sure) {
        // Nobody looked: the question of drainage asks for it.
        (Likelihood::Unknown, _) => return None,
        (Likelihood::Seen, _) => ("seen", Firmness::Firm),
        (Likelihood::Likely, HowSure::Firm) => ("likely", Firmness::Firm),
        (Likelihood::Likely, _) => ("likely", Firmness::Likely),
        (Likelihood::Possible, _) => ("possible", Firmness::Open),
        (Likelihood::Unlikely, HowSure::Firm) => ("unlikely", Firmness::Firm),
        (Likelihood::Unlikely, _) => ("unlikely", Firmness::Likely),
    };
    let mut statement = sentence(&judged);
    if let Some(class) = judged.drainage_class {
        statement.push_str(&format!(" That is what is called {} ground.", class.words()));
    }
    let mut finding = rule.finding(Basis::Seen, verdict, statement);
    finding.firmness = firmness;
    if firmness != Firmness::Firm {
        finding.look = rule.look;
    }
    let told = |text: &str| words::depths(text, ground.units);
    for reason in &judged.reasons_for {
        finding = finding.because(format!("For it: {}.", told(&reason.text)));
    }
    for reason in &judged.reasons_against {
        finding = finding.because(format!("Against it: {}.", told(&reason.text)));
    }
    let depth = |cm: Option<f64>| cm.map_or_else(|| "none".to_owned(), |cm| words::depth(cm, ground.units));
    Some(finding.worked(
        Working::new()
            .step(
                "natural drainage class",
                told("depth where wetness shows: within 25 cm poor, to 50 cm somewhat poor, to 100 cm moderately well, deeper well drained"),
                format!("wet from {}, free to {}", depth(judged.wet_from_cm), depth(judged.free_to_cm)),
                judged.drainage_class.map_or("not told by these signs", |class| class.words()),
            )
            .cite(rule.sources[0]),
    ))
}
