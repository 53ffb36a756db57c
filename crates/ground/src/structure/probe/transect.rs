//! A transect of probe pushes: where the pan lies, how thick it is, and how much of the plot has one.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::pan::{Compaction, Pan, hard_above_judged_depth, is_stone, pan};
use super::push::{ProbeDepth, ProbeReading, levels};
use super::strength::{ConeResistance, comparable};
use crate::irrigation::moisture::FeelStep;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Spread, Topic, Working};

/// How far below the pan a shank runs, cm (1 in).
pub const BELOW_THE_PAN_CM: f64 = 2.54;
/// Pushes that a small field wants.
const ENOUGH_PUSHES: usize = 10;
/// z of a two-sided 90 % interval.
const Z_90: f64 = 1.644_854;

/// 90 % interval of a share from `hits` of `n`, by Wilson's score.
#[must_use]
pub fn share_interval(hits: f64, n: f64) -> (f64, f64) {
    let z2 = Z_90 * Z_90;
    let p = hits / n;
    let middle = (p + z2 / (2.0 * n)) / (1.0 + z2 / n);
    let half = Z_90 * (p * (1.0 - p) / n + z2 / (4.0 * n * n)).sqrt() / (1.0 + z2 / n);
    ((middle - half).max(0.0), (middle + half).min(1.0))
}

/// One push.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProbePush {
    /// Readings, top first.
    pub readings: Vec<ProbeReading>,
}

/// Input of `probe-transect`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TransectInput {
    /// Pushes at several places of the plot; keep wheel tracks and paths in a transect of their own.
    pub pushes: Vec<ProbePush>,
    /// What a handful from the depth of the readings does when squeezed.
    pub moisture: FeelStep,
}

/// What one push found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PushFound {
    /// The first hard layer.
    pub pan: Option<Pan>,
    /// Depths at which a stone was struck, cm.
    pub stones_cm: Vec<f64>,
    /// Whether it was stopped in the top 38 cm (15 in).
    pub stopped: bool,
}

/// Output of `probe-transect`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct TransectOutput {
    /// Push by push.
    pub pushes: Vec<PushFound>,
    /// Share of pushes that were stopped in the top 38 cm.
    pub stopped_percent: f64,
    /// Least share of the plot that this number of pushes allows, 90 % interval.
    pub stopped_low_percent: f64,
    /// Greatest share of the plot.
    pub stopped_high_percent: f64,
    /// How compacted the plot is; none where the ground was too dry to say.
    pub compaction: Option<Compaction>,
    /// Whether deep loosening may pay by the published table.
    pub loosening_may_pay: Option<bool>,
    /// Depth at which the pan begins, over the pushes that found one.
    pub pan_top_cm: Option<Spread>,
    /// Depth at which it ends, over the pushes that went through.
    pub pan_bottom_cm: Option<Spread>,
    /// Depth at which a shank runs: 2.5 cm below the deepest bottom found.
    pub working_depth_cm: Option<f64>,
}

/// A transect read.
pub struct ProbeTransect;

impl Method for ProbeTransect {
    type Input = TransectInput;
    type Output = TransectOutput;

    const CARD: Card = Card {
        name: "probe-transect",
        title: "Where the pan lies",
        topic: Topic::Structure,
        computes: "From pushes of a penetrometer or a plain rod at several places: where a hard layer begins and ends, how \
                   much of the plot has one, and how deep a shank would have to run. A pan in one push of ten is a track; \
                   in eight of ten it is the plot.",
        validity: &[
            "Readings every 7.5 cm (3 in) or closer, ten to twenty pushes even in a small field, near field capacity.",
            "A reading more than twice both its neighbours is taken for a stone (common practice).",
            "The limits of 30, 50 and 75 % are recalled; a plain rod stands for a gauge by our judgement alone.",
        ],
        sources: &[
            Cite::new("MurdockCompaction", "rating by share of points above 300 psi"),
            Cite::new("PennStateCompaction", "top and bottom of the layer"),
            Cite::new("Wilson1927", "score interval of a proportion"),
        ],
        cautions: &["Have buried lines located before anything goes into the ground deeper than a hand."],
    };

    fn example() -> Self::Input {
        let push = |list: &[f64]| ProbePush {
            readings: list
                .iter()
                .zip([7.5, 15.0, 22.5, 30.0, 37.5])
                .map(|(mpa, depth)| ProbeReading {
                    depth_cm: ProbeDepth::literal(depth),
                    resistance_mpa: Some(ConeResistance::literal(*mpa)),
                    rod: None,
                })
                .collect(),
        };
        TransectInput {
            pushes: vec![
                push(&[0.8, 1.5, 2.3, 2.6, 1.7]),
                push(&[0.9, 1.4, 2.2, 2.4, 1.8]),
                push(&[0.7, 1.1, 1.6, 1.9, 1.8]),
            ],
            moisture: FeelStep::FieldCapacity,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.pushes.is_empty() || input.pushes.len() > 500 {
            return Err(Refusal::new("pushes", format!("{} pushes were given", input.pushes.len()))
                .given(input.pushes.len())
                .accepted("1 to 500 pushes")
                .example("10"));
        }
        let mut pushes = Vec::with_capacity(input.pushes.len());
        for (at, push) in input.pushes.iter().enumerate() {
            let levels = levels(&push.readings, &format!("pushes[{at}].readings"))?;
            pushes.push(PushFound {
                pan: pan(&levels),
                stones_cm: (0..levels.len())
                    .filter(|at| is_stone(&levels, *at))
                    .map(|at| levels[at].depth_cm)
                    .collect(),
                stopped: hard_above_judged_depth(&levels),
            });
        }
        #[expect(clippy::cast_precision_loss, reason = "pushes by the hundred")]
        let (hits, n) = (pushes.iter().filter(|push| push.stopped).count() as f64, pushes.len() as f64);
        let usable = comparable(input.moisture);
        let (low, high) = share_interval(hits, n);
        let rating = usable.then(|| Compaction::of_share(hits / n));
        let mut tops: Vec<f64> = pushes.iter().filter_map(|push| push.pan.map(|pan| pan.top_cm)).collect();
        let mut bottoms: Vec<f64> =
            pushes.iter().filter_map(|push| push.pan.and_then(|pan| pan.bottom_cm)).collect();
        let working_depth_cm =
            bottoms.iter().copied().reduce(f64::max).map(|deepest| deepest + BELOW_THE_PAN_CM);
        let notes = notes(input, &pushes, usable);
        Ok(Answer::with_notes(
            TransectOutput {
                stopped_percent: 100.0 * hits / n,
                stopped_low_percent: 100.0 * low,
                stopped_high_percent: 100.0 * high,
                compaction: rating,
                loosening_may_pay: rating.map(Compaction::loosening_may_pay),
                pan_top_cm: Spread::of_equal(&mut tops),
                pan_bottom_cm: Spread::of_equal(&mut bottoms),
                working_depth_cm,
                pushes,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let v = &answer.value;
        Working::new()
            .step(
                "share of pushes that were stopped",
                "pushes with a reading above 300 psi (2.07 MPa) in the top 15 in (38 cm), stones left out",
                format!("{} of {}", v.pushes.iter().filter(|push| push.stopped).count(), input.pushes.len()),
                format!(
                    "{:.0} % ({:.0} to {:.0} %)",
                    v.stopped_percent, v.stopped_low_percent, v.stopped_high_percent
                ),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "working depth",
                "deepest bottom of the layer + 2.5 cm (1 in)",
                v.pan_bottom_cm
                    .map_or_else(|| "no bottom found".to_owned(), |_| "from the pushes".to_owned()),
                v.working_depth_cm.map_or_else(|| "none".to_owned(), |depth| format!("{depth:.0} cm")),
            )
            .cite(Self::CARD.sources[1])
    }
}

fn notes(input: &TransectInput, pushes: &[PushFound], usable: bool) -> Vec<Note> {
    let mut notes = Vec::new();
    let mut say = |kind, text: &str| notes.push(Note::new(kind, text));
    if !usable {
        say(
            NoteKind::NoValue,
            "The ground was drier than field capacity: the readings show where a layer lies, not how bad it is. Push \
             again one or two days after a soaking, and beside a path where nothing drives.",
        );
    }
    if pushes.len() < ENOUGH_PUSHES {
        say(NoteKind::OutsideRange, "Fewer than ten pushes: the share of the plot is a wide guess.");
    }
    if pushes.iter().any(|push| push.pan.is_some_and(|pan| pan.bottom_cm.is_none())) {
        say(NoteKind::Method, "At least one push did not come out below the layer: its bottom lies deeper.");
    }
    if input.pushes.iter().flat_map(|push| &push.readings).any(|reading| reading.rod.is_some()) {
        say(
            NoteKind::Provenance,
            "A plain rod was used for some readings: it stands for a gauge by our judgement alone.",
        );
    }
    say(NoteKind::Provenance, "The shares that part slight, moderate and severe are recalled.");
    notes
}
