//! The ends of a fence or trellis, and what leaflets say of the depth of its posts.

use book::model::{EndBrace, StructureKind};
use ground::kit::{Bounded, Method};
use ground::posts::fence_brace::{BraceSpan, FenceBrace, FenceBraceInput, FenceBraceOutput, TiebackAngle};
use ground::posts::fence_practice::{FencePostPractice, FencePracticeInput, FencePracticeOutput, PostUse};
use ground::posts::frost_foot::FrostDepth;
use ground::posts::tunnel_wind::Hold;
use serde::Serialize;

use super::ask::PostAsk;
use super::hold::FootCompared;

/// The end of a line.
#[derive(Debug, Clone, Serialize)]
pub struct Ends {
    /// How it is braced.
    pub brace: EndBrace,
    /// In words.
    pub words: &'static str,
    /// What the wires do to it.
    pub statics: Option<FenceBraceOutput>,
    /// Pull of all wires, kN.
    pub pull_kn: f64,
    /// Remarks of the method.
    pub notes: Vec<String>,
    /// Pull up that the post as it is set may be counted on for, low end of its range, kN.
    pub counted_kn: f64,
}

pub(super) fn ends(ask: &PostAsk, feet: &[FootCompared]) -> Option<Ends> {
    let line = ask.line?;
    let (wires, pull) = (line.wires?, line.wire_pull_kn?);
    let (pull_kn, height) = super::load::wires(ask)?;
    let brace = line.brace?;
    let counted_kn = feet.iter().find(|foot| foot.chosen).map_or(0.0, |foot| foot.counted_kn.low);
    let input = FenceBraceInput {
        wires,
        wire_pull_kn: pull,
        wire_height_m: Bounded::new(height).ok()?,
        brace_span_m: (brace == EndBrace::TwoPosts)
            .then(|| line.brace_span_m.unwrap_or(BraceSpan::literal(2.4384))),
        tieback_angle_degrees: (brace == EndBrace::Tieback)
            .then(|| line.tieback_degrees.unwrap_or(TiebackAngle::literal(45.0))),
        uplift_allowable_kn: Hold::new(counted_kn).ok(),
    };
    let answer = FenceBrace::compute(&input).ok();
    Some(Ends {
        brace,
        words: brace.words(),
        pull_kn,
        counted_kn,
        notes: answer
            .iter()
            .flat_map(|answer| answer.notes.iter().map(|note| note.text.to_string()))
            .collect(),
        statics: answer.map(|answer| answer.value),
    })
}

pub(super) fn practice(ask: &PostAsk) -> Option<FencePracticeOutput> {
    let line = ask.line?;
    let post_use = match ask.kind {
        _ if line.deer => PostUse::DeerFencePost,
        Some(StructureKind::Trellis) => PostUse::VineyardPost,
        _ => PostUse::LinePost,
    };
    let input = FencePracticeInput {
        post_use,
        height_above_m: line.height_m?,
        frost_depth_m: ask.frost_m.and_then(|depth| FrostDepth::new(depth).ok()),
    };
    FencePostPractice::compute(&input).ok().map(|answer| answer.value)
}
