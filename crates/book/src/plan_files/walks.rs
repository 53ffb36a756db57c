//! Walks: what a track was round, along or between.

use ground::kit::Refusal;
use ground::spatial::frame::LocalFrame;
use serde::Serialize;

use super::{MOST_THINGS, ReadPart, ReadPlan};
use crate::model::{Form, PartKind, Point};

/// What a walk is, where the file does not say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WalkIs {
    /// Round a piece of ground.
    Area,
    /// Along something.
    Line,
    /// From one spot to the next.
    Points,
}

/// The pieces of a track that was broken off are one walk round one piece of ground.
pub(super) fn joined(read: &mut ReadPlan) {
    let mut parts: Vec<ReadPart> = Vec::new();
    let mut broken: Vec<(String, usize)> = Vec::new();
    for part in std::mem::take(&mut read.parts) {
        let before = parts.last_mut().filter(|last| part.track.is_some() && last.track == part.track);
        match (before.map(|last| &mut last.outline.form), part.outline.form.clone()) {
            (Some(Form::Line { through }), Form::Line { through: more }) => {
                through.extend(more);
                match broken.last_mut().filter(|(name, _)| *name == part.name) {
                    Some((_, times)) => *times += 1,
                    None => broken.push((part.name.clone(), 1)),
                }
            }
            _ => parts.push(part),
        }
    }
    read.parts = parts;
    read.remarks.extend(broken.into_iter().map(|(name, times)| {
        let name = if name.is_empty() { "The walk".to_owned() } else { name };
        let times = if times == 1 { "once".to_owned() } else { format!("{times} times") };
        format!("{name} was broken off {times}; its pieces were joined, in the order they were walked, to one outline.")
    }));
}

/// Each place of a walk from spot to spot is a thing of its own.
pub(super) fn few_enough(read: &ReadPlan) -> Result<(), Refusal> {
    let count: usize =
        read.parts.iter().filter(|part| part.walked).map(|part| part.outline.points().count()).sum();
    if count > MOST_THINGS {
        return Err(Refusal::new(
            "walk_is",
            format!("this walk has {count} places, and each would be a spot"),
        )
        .given(count)
        .accepted(format!(
            "at most {MOST_THINGS} spots; a walk along something or round ground has no such limit"
        ))
        .example("area"));
    }
    Ok(())
}

/// Spots and lines of a file that does not say what they are, where areas were expected: they are drawn, but as
/// something else, so that one of them does not keep the rest out.
pub(super) fn no_areas(parts: &mut [ReadPart], kind: PartKind) -> Option<String> {
    if !matches!(kind, PartKind::Plot | PartKind::Bed) {
        return None;
    }
    let mut named = Vec::new();
    for part in parts.iter_mut() {
        if part.kind.is_none() && !matches!(part.outline.form, Form::Area { .. }) {
            part.kind = Some(PartKind::Other);
            named.push(if part.name.is_empty() {
                "one without a name".to_owned()
            } else {
                part.name.clone()
            });
        }
    }
    let first = named.first()?;
    Some(match named.len() {
        1 => format!("One spot or line of the file ({first}) is no area and was drawn as something else."),
        count => format!(
            "{count} spots or lines of the file, {first} the first of them, are no areas and were drawn as something else."
        ),
    })
}

/// A walk as what it is.
pub(super) fn formed(part: ReadPart, walk_is: WalkIs) -> Vec<ReadPart> {
    let Form::Line { through } = &part.outline.form else { return vec![part] };
    if !part.walked {
        return vec![part];
    }
    match walk_is {
        WalkIs::Line => vec![part],
        WalkIs::Area if through.len() > 2 => {
            let mut outer = through.clone();
            if outer.len() > 3 && closes(&outer) {
                outer.pop();
            }
            let mut part = part;
            part.outline.form = Form::Area { outer, holes: Vec::new() };
            vec![part]
        }
        WalkIs::Area => vec![part],
        WalkIs::Points => through
            .iter()
            .enumerate()
            .map(|(place, at)| {
                let mut one = part.clone();
                one.outline.form = Form::Point { at: *at };
                one.number = u16::try_from(place + 1).ok();
                one
            })
            .collect(),
    }
}

/// A walk that ends within 2 m of where it began has come round.
fn closes(through: &[Point]) -> bool {
    let (Some(first), Some(last)) = (through.first(), through.last()) else { return false };
    let at = LocalFrame::at(first[1], first[0]).to_metres(*last);
    at[0].hypot(at[1]) < 2.0
}
