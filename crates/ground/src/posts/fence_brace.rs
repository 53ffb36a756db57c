//! What tight wires do to the end of a fence or trellis: an end brace of two posts, or a tieback to an anchor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::tunnel_wind::Hold;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Number of wires.
    pub struct Wires: "number of wires", "", 1.0 ..= 40.0, example 10.0;
    /// Pull of one wire when tight and cold, with crop and wind.
    pub struct WirePull: "pull of one wire", "kN", 0.01 ..= 20.0, example 0.9;
    /// Mean height of the wires above ground.
    pub struct WireHeight: "mean height of the wires", "m", 0.1 ..= 5.0, example 1.2;
    /// Distance between the two posts of a brace.
    pub struct BraceSpan: "distance between the posts of the brace", "m", 0.5 ..= 6.0, example 2.4;
    /// Slope of a tieback, above level.
    pub struct TiebackAngle: "slope of the tieback", "°", 5.0 ..= 80.0, example 45.0;
}

/// Pull up on the end post and push down on the brace post, kN: a couple over the span of the brace.
#[must_use]
pub fn brace_uplift_kn(pull_kn: f64, height_m: f64, span_m: f64) -> f64 {
    pull_kn * height_m / span_m
}

/// Tension of a tieback and the pull up on its anchor, kN, when it takes the whole pull at its own height.
#[must_use]
pub fn tieback(pull_kn: f64, angle_degrees: f64) -> (f64, f64) {
    let (sin, cos) = libm::sincos(angle_degrees.to_radians());
    (pull_kn / cos, pull_kn * sin / cos)
}

/// Input of `fence-brace`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FenceBraceInput {
    /// Number of wires.
    pub wires: Wires,
    /// Pull of each.
    pub wire_pull_kn: WirePull,
    /// Their mean height.
    pub wire_height_m: WireHeight,
    /// Distance between end post and brace post, for a brace of two posts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub brace_span_m: Option<BraceSpan>,
    /// Slope of the tieback, for an anchor.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tieback_angle_degrees: Option<TiebackAngle>,
    /// Pull up that the end post or the anchor may be counted on for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uplift_allowable_kn: Option<Hold>,
}

/// Output of `fence-brace`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct FenceBraceOutput {
    /// Pull of all wires, kN.
    pub pull_kn: f64,
    /// Pull up on the end post of a brace, and push down on the other, kN.
    pub end_post_uplift_kn: Option<f64>,
    /// Least distance between the posts of the brace for the pull up that is allowed, m.
    pub least_brace_span_m: Option<f64>,
    /// Tension of the tieback, kN.
    pub tieback_tension_kn: Option<f64>,
    /// Pull up on the anchor, kN.
    pub anchor_uplift_kn: Option<f64>,
    /// Distance of the anchor from the post, m.
    pub anchor_distance_m: Option<f64>,
    /// What is allowed covers it; `null` when it is not known.
    pub holds: Option<bool>,
}

/// End brace of a fence.
pub struct FenceBrace;

impl Method for FenceBrace {
    type Input = FenceBraceInput;
    type Output = FenceBraceOutput;

    const CARD: Card = Card {
        name: "fence-brace",
        title: "End brace of a fence or trellis",
        topic: Topic::Posts,
        computes: "What tight wires do to the end of a fence, a trellis or a deer fence: how hard the end post is pulled \
                   up in a brace of two posts, or what a tieback and its anchor must hold.",
        validity: &[
            "Plain statics: stiff posts, the rail at or above the wires, the whole pull taken by the brace.",
            "End posts fail by being jacked out: lengthen the brace first, then hold the post down.",
        ],
        sources: &[Cite::new("FencePractice", "end braces; the statics are worked out here")],
        cautions: &[
            cautions::PLANNING,
            cautions::SERVICES,
            cautions::AUTHORITY,
            cautions::COLLAR,
            "Tight wire that breaks lashes back: eye protection, gloves, and nobody in line with it.",
        ],
    };

    fn example() -> Self::Input {
        FenceBraceInput {
            wires: Wires::literal(10.0),
            wire_pull_kn: WirePull::literal(0.89),
            wire_height_m: WireHeight::literal(1.22),
            brace_span_m: Some(BraceSpan::literal(2.44)),
            tieback_angle_degrees: None,
            uplift_allowable_kn: Some(Hold::literal(3.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.wires.get().fract() != 0.0 {
            return Err(Refusal::new("wires", "wires come whole")
                .given(input.wires.get())
                .accepted("1 to 40")
                .example("10"));
        }
        if input.brace_span_m.is_some() == input.tieback_angle_degrees.is_some() {
            return Err(Refusal::new(
                "brace_span_m",
                "give either the span of a brace of two posts or the slope of a tieback",
            )
            .given(if input.brace_span_m.is_some() { "both" } else { "neither" })
            .accepted("one of brace_span_m and tieback_angle_degrees")
            .example("2.4 m"));
        }
        let pull_kn = input.wires.get() * input.wire_pull_kn.get();
        let height = input.wire_height_m.get();
        let allowed = input.uplift_allowable_kn.map(Bounded::get);
        let end_post = input.brace_span_m.map(|span| brace_uplift_kn(pull_kn, height, span.get()));
        let tied = input.tieback_angle_degrees.map(|angle| (angle, tieback(pull_kn, angle.get())));
        let uplift = end_post.or(tied.map(|(_, (_, up))| up)).unwrap_or(0.0);
        let holds = allowed.map(|allowed| uplift <= allowed);
        let mut notes = Vec::new();
        if holds == Some(false) {
            notes.push(Note::new(
                NoteKind::Method,
                "The pull up is more than may be counted on: lengthen the brace, add a second one, or hold the post down with a collar or an anchor.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Method,
            "Cold weather tightens wires: take the pull of the coldest day.",
        ));
        Ok(Answer::with_notes(
            FenceBraceOutput {
                pull_kn,
                end_post_uplift_kn: end_post,
                least_brace_span_m: end_post
                    .and(allowed)
                    .filter(|allowed| *allowed > 0.0)
                    .map(|allowed| pull_kn * height / allowed),
                tieback_tension_kn: tied.map(|(_, (tension, _))| tension),
                anchor_uplift_kn: tied.map(|(_, (_, up))| up),
                anchor_distance_m: tied.map(|(angle, _)| height / libm::tan(angle.get().to_radians())),
                holds,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let working = Working::new().step(
            "pull of all wires",
            "wires × pull of one",
            format!("{} × {}", input.wires.get(), input.wire_pull_kn.get()),
            format!("{:.2} kN", value.pull_kn),
        );
        match (input.brace_span_m, input.tieback_angle_degrees) {
            (Some(span), _) => working.step(
                "pull up on the end post",
                "pull × mean height / span of the brace",
                format!("{:.2} × {} / {}", value.pull_kn, input.wire_height_m.get(), span.get()),
                format!("{:.2} kN", value.end_post_uplift_kn.unwrap_or(0.0)),
            ),
            (None, Some(angle)) => working.step(
                "tieback",
                "tension = pull / cos θ, pull up = pull × tan θ",
                format!("{:.2} kN, θ = {}°", value.pull_kn, angle.get()),
                format!(
                    "{:.2} and {:.2} kN",
                    value.tieback_tension_kn.unwrap_or(0.0),
                    value.anchor_uplift_kn.unwrap_or(0.0)
                ),
            ),
            (None, None) => working,
        }
    }
}
