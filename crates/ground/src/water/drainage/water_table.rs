//! Is a high or perched water table likely? Reasons for and against, laid open.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::natural_class::NaturalDrainage;
use super::signs::{Reason, Sign, SignDepth, SignKind, StandingDays, Weight, WhenSeen};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};

crate::quantity! {
    /// Depth that the crop roots to.
    pub struct RootsTo: "depth of the roots", "cm", 5.0 ..= 200.0, example 60.0;
}

/// Input of `water-table-likelihood`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WaterTableInput {
    /// What was seen, in any order.
    pub signs: Vec<Sign>,
    /// Depth that matters; 60 cm where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub root_depth_cm: Option<RootsTo>,
}

/// Water within the roots at some time of the year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Likelihood {
    /// No sign speaks either way.
    Unknown,
    /// Signs speak against it and none for it.
    Unlikely,
    /// Something speaks for it.
    Possible,
    /// A strong sign, or two fair ones, speak for it.
    Likely,
    /// Water itself was seen there.
    Seen,
}

/// How well the signs agree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum HowSure {
    /// Hardly anything was looked at.
    Open,
    /// Signs of weight speak on both sides.
    SignsDisagree,
    /// One sign, or signs that only hint.
    Fair,
    /// Several kinds of sign agree, or water itself was seen.
    Firm,
}

/// What holds the water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WaterKind {
    /// Water perched on a tighter layer, with drier ground below.
    Perched,
    /// Groundwater that rises from below.
    Groundwater,
    /// The signs do not tell.
    NotTold,
}

/// Output of `water-table-likelihood`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WaterTableOutput {
    /// Water within the roots at some time of the year.
    pub likelihood: Likelihood,
    /// How well the signs agree.
    pub how_sure: HowSure,
    /// Perched or from below.
    pub kind: WaterKind,
    /// Shallowest depth that shows wetness.
    pub wet_from_cm: Option<f64>,
    /// Greatest depth shown to stay free of water.
    pub free_to_cm: Option<f64>,
    /// Natural drainage class; nothing where nothing wet was seen and nobody looked below 100 cm.
    pub drainage_class: Option<NaturalDrainage>,
    /// Reasons for water within the roots, weightiest first.
    pub reasons_for: Vec<Reason>,
    /// Reasons against it.
    pub reasons_against: Vec<Reason>,
}

/// Weighs the signs: those of checked input only.
#[must_use]
pub fn judge(signs: &[Sign], root_depth_cm: f64) -> WaterTableOutput {
    let (mut reasons_for, mut reasons_against) = (Vec::new(), Vec::new());
    for sign in signs {
        let Some((speaks_for, weight)) = sign.speaks(root_depth_cm) else { continue };
        let reason =
            Reason { kind: sign.kind, text: sign.words(), weight, provenance: Provenance::CommonPractice };
        if speaks_for { reasons_for.push(reason) } else { reasons_against.push(reason) }
    }
    for reasons in [&mut reasons_for, &mut reasons_against] {
        reasons.sort_by_key(|reason: &Reason| std::cmp::Reverse(reason.weight));
    }
    let seen = signs.iter().any(|sign| sign.kind == SignKind::WaterInHole && sign.depth() <= root_depth_cm);
    let wet_from_cm = signs.iter().filter_map(Sign::wet_from).min_by(f64::total_cmp);
    let free_to_cm = signs.iter().filter_map(Sign::free_to).max_by(f64::total_cmp);
    WaterTableOutput {
        likelihood: likelihood(seen, &reasons_for, &reasons_against),
        how_sure: how_sure(seen, &reasons_for, &reasons_against),
        kind: water_kind(signs, wet_from_cm),
        drainage_class: drainage_class(signs, wet_from_cm, free_to_cm),
        wet_from_cm,
        free_to_cm,
        reasons_for,
        reasons_against,
    }
}

fn kinds_of(reasons: &[Reason], least: Weight) -> usize {
    let mut kinds: Vec<SignKind> =
        reasons.iter().filter(|reason| reason.weight >= least).map(|reason| reason.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    kinds.len()
}

fn likelihood(seen: bool, reasons_for: &[Reason], against: &[Reason]) -> Likelihood {
    if seen {
        Likelihood::Seen
    } else if kinds_of(reasons_for, Weight::Strong) > 0 || kinds_of(reasons_for, Weight::Fair) > 1 {
        Likelihood::Likely
    } else if reasons_for.is_empty() && kinds_of(against, Weight::Fair) > 0 {
        Likelihood::Unlikely
    } else if !reasons_for.is_empty() {
        Likelihood::Possible
    } else {
        Likelihood::Unknown
    }
}

fn how_sure(seen: bool, reasons_for: &[Reason], against: &[Reason]) -> HowSure {
    let (pro, contra) = (kinds_of(reasons_for, Weight::Fair), kinds_of(against, Weight::Fair));
    if pro > 0 && contra > 0 && !seen {
        HowSure::SignsDisagree
    } else if seen || pro.max(contra) > 1 {
        HowSure::Firm
    } else if reasons_for.is_empty() && contra == 0 {
        HowSure::Open
    } else {
        HowSure::Fair
    }
}

fn water_kind(signs: &[Sign], wet_from: Option<f64>) -> WaterKind {
    let Some(wet) = wet_from else { return WaterKind::NotTold };
    let below = |kind| signs.iter().any(|sign| sign.kind == kind && sign.depth() >= wet);
    if below(SignKind::DryBelowWet) {
        WaterKind::Perched
    } else if signs.iter().any(|sign| sign.kind == SignKind::WaterInHole && sign.when == Some(WhenSeen::Dry))
    {
        // Perched water is gone in a dry time; what still stands comes from below.
        WaterKind::Groundwater
    } else if below(SignKind::TightLayer) {
        WaterKind::Perched
    } else {
        WaterKind::NotTold
    }
}

fn drainage_class(signs: &[Sign], wet: Option<f64>, free: Option<f64>) -> Option<NaturalDrainage> {
    let drowned = signs.iter().any(|sign| {
        sign.kind == SignKind::StandingWater
            && sign.days_d.is_some_and(|days: StandingDays| days.get() > 183.0)
    });
    if drowned {
        return Some(NaturalDrainage::VeryPoor);
    }
    wet.or(free.filter(|depth| *depth >= 100.0).map(|depth| depth + 1.0)).map(NaturalDrainage::of_wet_depth)
}

/// Likelihood of a high or perched water table.
pub struct WaterTableLikelihood;

impl Method for WaterTableLikelihood {
    type Input = WaterTableInput;
    type Output = WaterTableOutput;

    const CARD: Card = Card {
        name: "water-table-likelihood",
        title: "Does water stand in the ground?",
        topic: Topic::Water,
        computes: "From signs in a hole and on the surface: whether water is likely to stand within the roots at some time \
                   of the year, whether it is perched or rises from below, and the natural drainage class. Every reason for \
                   and against is shown.",
        validity: &[
            "The weights and the depths of the classes are common practice, put in order by our judgement; they are no odds.",
            "Spots outlast drains: old ones remain where drains now keep the water down.",
            "A dry hole in a dry time says little. Look again in the wet season.",
        ],
        sources: &[Cite::new("SoilSurveyManual2017", "ch. 3, natural drainage classes")],
        cautions: &[
            super::DIGGING,
            "Never enter a pit deeper than about 1.2 m that is not shored, and cover holes you leave overnight.",
            "Wetlands are protected: ask before you drain ground that shows their signs.",
        ],
    };

    fn example() -> Self::Input {
        let sign = |kind, depth, when| Sign {
            kind,
            depth_cm: Some(SignDepth::literal(depth)),
            days_d: None,
            on: Some("2025-04-12".to_owned()),
            when,
        };
        WaterTableInput {
            signs: vec![
                sign(SignKind::Mottles, 45.0, None),
                sign(SignKind::WaterInHole, 55.0, Some(WhenSeen::Wet)),
                sign(SignKind::TightLayer, 70.0, None),
            ],
            root_depth_cm: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        for (at, sign) in input.signs.iter().enumerate() {
            sign.check(at)?;
        }
        let value = judge(&input.signs, roots(input));
        let mut notes = Vec::new();
        if value.how_sure != HowSure::Firm {
            notes.push(Note::new(
                NoteKind::Method,
                "What would settle it: a hole as deep as the roots, left overnight, in the wet season.",
            ));
        }
        if value.wet_from_cm.zip(value.free_to_cm).is_some_and(|(wet, free)| free > wet) {
            notes.push(Note::new(
                NoteKind::Method,
                "One sign shows the ground wet where another shows it free of water: spots may be old, or the places differ.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "What each sign weighs is common practice without a source; the depths of the drainage classes are commonly used, \
             and states differ.",
        ));
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let said = |depth: Option<f64>| {
            depth.map_or_else(|| "none".to_owned(), |depth| format!("{} cm", number(depth)))
        };
        let mut working = Working::new();
        for (side, reasons) in [("for", &value.reasons_for), ("against", &value.reasons_against)] {
            for reason in reasons {
                let weight = match reason.weight {
                    Weight::Weak => "weak",
                    Weight::Fair => "fair",
                    Weight::Strong => "strong",
                };
                working = working.step(
                    format!("a reason {side} water within {} cm", number(roots(input))),
                    "the weight of the sign, common practice",
                    reason.text.clone(),
                    weight,
                );
            }
        }
        working
            .step(
                "natural drainage class",
                "depth where wetness shows: below 25 poor, to 50 somewhat poor, to 100 moderately well, deeper well drained",
                format!("wet from {}, free to {}", said(value.wet_from_cm), said(value.free_to_cm)),
                value.drainage_class.map_or("not told by these signs", NaturalDrainage::words),
            )
            .cite(Self::CARD.sources[0])
    }
}

fn roots(input: &WaterTableInput) -> f64 {
    input.root_depth_cm.map_or(60.0, Bounded::get)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sign(kind: SignKind, depth: f64, when: Option<WhenSeen>) -> Sign {
        Sign { kind, depth_cm: Some(SignDepth::literal(depth)), days_d: None, on: None, when }
    }

    #[test]
    fn water_that_was_seen_is_not_argued_away() {
        let signs =
            [sign(SignKind::WaterInHole, 50.0, Some(WhenSeen::Wet)), sign(SignKind::EvenColour, 120.0, None)];
        let judged = judge(&signs, 60.0);
        assert_eq!((judged.likelihood, judged.how_sure), (Likelihood::Seen, HowSure::Firm));
    }

    #[test]
    fn signs_add_up_and_disagree_in_the_open() {
        assert_eq!(judge(&[], 60.0).likelihood, Likelihood::Unknown);
        assert_eq!(judge(&[], 60.0).how_sure, HowSure::Open);
        let mottles = sign(SignKind::Mottles, 40.0, None);
        let one = judge(std::slice::from_ref(&mottles), 60.0);
        assert_eq!(one.likelihood, Likelihood::Possible);
        assert_eq!(one.drainage_class, Some(NaturalDrainage::SomewhatPoor));
        // The same kind twice is one kind of sign.
        assert_eq!(judge(&[mottles.clone(), mottles.clone()], 60.0).likelihood, Likelihood::Possible);
        let plants = Sign { depth_cm: None, ..sign(SignKind::WetlandPlants, 0.0, None) };
        assert_eq!(judge(&[mottles.clone(), plants], 60.0).likelihood, Likelihood::Likely);
        let dry = sign(SignKind::DryHole, 90.0, Some(WhenSeen::Wet));
        assert_eq!(judge(&[mottles, dry.clone()], 60.0).how_sure, HowSure::SignsDisagree);
        let clean = judge(&[dry, sign(SignKind::EvenColour, 110.0, None)], 60.0);
        assert_eq!((clean.likelihood, clean.how_sure), (Likelihood::Unlikely, HowSure::Firm));
        assert_eq!(clean.drainage_class, Some(NaturalDrainage::WellOrBetter));
    }

    #[test]
    fn a_dry_hole_in_a_dry_time_shows_nothing() {
        let judged = judge(&[sign(SignKind::DryHole, 100.0, Some(WhenSeen::Dry))], 60.0);
        assert_eq!((judged.likelihood, judged.drainage_class), (Likelihood::Unknown, None));
    }

    #[test]
    fn perched_water_has_drier_ground_or_a_floor_below() {
        let water = |when| sign(SignKind::WaterInHole, 40.0, when);
        let tight = sign(SignKind::TightLayer, 55.0, None);
        assert_eq!(judge(&[water(Some(WhenSeen::Wet)), tight.clone()], 60.0).kind, WaterKind::Perched);
        assert_eq!(judge(&[water(Some(WhenSeen::Dry)), tight], 60.0).kind, WaterKind::Groundwater);
        assert_eq!(judge(&[water(None)], 60.0).kind, WaterKind::NotTold);
    }
}
