//! What a part says of itself beside its outline: one list for every kind of file.

use serde_json::{Map, Value, json};

use super::{Names, ReadPart, why_of};
use crate::model::{Outline, PartKind, PlanPart};

/// What can be said, by the names that files use.
pub(super) const NAMES: [&str; 11] = [
    "kind",
    "name",
    "plot_name",
    "bed_name",
    "structure_name",
    "plot",
    "bed",
    "structure",
    "number",
    "why",
    "note",
];

/// What a part says; what it leaves open is left out.
pub(super) fn written(part: &PlanPart, names: &Names) -> Map<String, Value> {
    let said = |name: &str| match name {
        "kind" => json!(part.kind),
        "name" if part.kind == PartKind::Plot => json!(names.plot),
        "name" => json!(part.name),
        "plot_name" => json!(names.plot),
        "bed_name" => json!(names.bed),
        "structure_name" => json!(names.structure),
        "plot" => json!(part.plot),
        "bed" => json!(part.bed),
        "structure" => json!(part.structure),
        "number" => json!(part.number),
        "why" => json!(part.why),
        "note" => json!(part.note),
        _ => Value::Null,
    };
    NAMES
        .iter()
        .map(|name| ((*name).to_owned(), said(name)))
        .filter(|(_, value)| !value.is_null() && *value != json!(""))
        .collect()
}

/// The text of what was said; empty where nothing was.
pub(super) fn text(said: Option<&Value>) -> String {
    match said {
        Some(Value::String(text)) => text.clone(),
        Some(Value::Number(number)) => number.to_string(),
        _ => String::new(),
    }
}

/// A part of what `said` tells behind each name. Each kind of file says for itself what is wrong with a kind.
pub(super) fn read(said: impl Fn(&str) -> String, kind: Option<PartKind>, outline: Outline) -> ReadPart {
    ReadPart {
        kind,
        name: said("name"),
        plot_name: said("plot_name"),
        plot: said("plot").parse().ok(),
        bed: said("bed").parse().ok(),
        bed_name: said("bed_name"),
        structure: said("structure").parse().ok(),
        structure_name: said("structure_name"),
        number: said("number").parse().ok(),
        why: why_of(&said("why")),
        outline,
        walked: false,
        track: None,
        note: said("note"),
    }
}
