//! A method's schema laid out as lines: one for each input or output that a person can read.

use serde::Serialize;
use serde_json::Value;

/// One input or output of a method.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Leaf {
    /// Path in the JSON object: `sand_percent`, `mass_percent.sand`.
    pub(super) path: String,
    /// What it is, from the type's documentation.
    pub(super) meaning: String,
    /// Its unit; empty for a pure number or a word.
    pub(super) unit: String,
    /// The accepted range or the fixed answers, in words.
    pub(super) accepted: String,
    /// What is written there.
    pub(super) kind: LeafKind,
    /// Whether it may be left out.
    pub(super) optional: bool,
}

/// What is written in a leaf.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum LeafKind {
    /// A number.
    Number,
    /// A word or a line.
    Text,
    /// One of these words.
    Choice(Vec<String>),
    /// Yes or no.
    YesNo,
    /// A list or a structure, written as JSON.
    Structure,
}

/// The leaves of a schema, in the order of the declaration.
pub(super) fn leaves(schema: &Value) -> Vec<Leaf> {
    let mut found = Vec::new();
    walk(schema, schema, "", false, &mut found);
    found
}

fn walk(root: &Value, object: &Value, prefix: &str, optional: bool, found: &mut Vec<Leaf>) {
    let Some(properties) = object.get("properties").and_then(Value::as_object) else { return };
    let required: Vec<&str> = object
        .get("required")
        .and_then(Value::as_array)
        .map(|names| names.iter().filter_map(Value::as_str).collect())
        .unwrap_or_default();
    for (name, property) in properties {
        let path = if prefix.is_empty() { name.clone() } else { format!("{prefix}.{name}") };
        let optional = optional || !required.contains(&name.as_str());
        let place = resolved(root, property);
        // A structure whose fields are all required can be written field by field; one that may be
        // left out as a whole stays one piece.
        if !optional && place.get("properties").is_some() {
            walk(root, place, &path, optional, found);
            continue;
        }
        found.push(leaf(path, property, place, optional));
    }
}

fn leaf(path: String, property: &Value, place: &Value, optional: bool) -> Leaf {
    let words =
        |value: &Value, key: &str| value.get(key).and_then(Value::as_str).unwrap_or_default().to_owned();
    let kind = kind_of(place);
    let unit = words(place, "x-unit");
    let accepted = match (&kind, place["minimum"].as_f64(), place["maximum"].as_f64()) {
        (LeafKind::Choice(answers), ..) => answers.join(", "),
        (_, Some(min), Some(max)) => ground::kit::quantity::range_words(min, max, &unit),
        (LeafKind::YesNo, ..) => "true or false".to_owned(),
        (LeafKind::Structure, ..) => "a structure, see the schema".to_owned(),
        _ => String::new(),
    };
    let meaning = [words(property, "description"), words(place, "description"), words(place, "title")]
        .into_iter()
        .find(|text| !text.is_empty())
        .unwrap_or_default();
    let meaning = plain(&meaning);
    Leaf { path, meaning, unit, accepted, kind, optional }
}

/// A type's documentation as a sentence on a page: without its line breaks and code marks.
pub(super) fn plain(documentation: &str) -> String {
    documentation.replace('`', "").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn kind_of(place: &Value) -> LeafKind {
    if let Some(answers) = fixed_answers(place) {
        return LeafKind::Choice(answers);
    }
    let named = |name: &str| match &place["type"] {
        Value::String(kind) => kind == name,
        Value::Array(kinds) => kinds.iter().any(|kind| kind == name),
        _ => false,
    };
    if named("number") || named("integer") {
        LeafKind::Number
    } else if named("boolean") {
        LeafKind::YesNo
    } else if named("string") {
        LeafKind::Text
    } else {
        LeafKind::Structure
    }
}

/// The words of an enum, whether its schema lists them at once or one by one with their meanings.
fn fixed_answers(place: &Value) -> Option<Vec<String>> {
    let word = |value: &Value| value.as_str().map(str::to_owned);
    if let Some(words) = place.get("enum").and_then(Value::as_array) {
        return words.iter().map(word).collect();
    }
    let options = place.get("oneOf")?.as_array()?;
    options
        .iter()
        .map(|option| match (option.get("const"), option.get("enum").and_then(Value::as_array)) {
            (Some(only), _) => Some(vec![word(only)?]),
            (None, Some(words)) => words.iter().map(word).collect(),
            (None, None) => None,
        })
        .collect::<Option<Vec<_>>>()
        .map(|words| words.concat())
}

/// Follows `$ref`, and looks through the `anyOf` that an optional field wears.
pub(super) fn resolved<'a>(root: &'a Value, here: &'a Value) -> &'a Value {
    if let Some(target) =
        here.get("$ref").and_then(Value::as_str).and_then(|name| root.pointer(name.trim_start_matches('#')))
    {
        return target;
    }
    here.get("anyOf")
        .and_then(Value::as_array)
        .and_then(|options| options.iter().find(|option| option["type"] != "null"))
        .map_or(here, |option| resolved(root, option))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_registered_method_lays_out_its_input() {
        for method in ground::registry::METHODS.iter() {
            let name = method.card().name;
            for leaf in leaves(&method.input_schema()) {
                assert!(!leaf.meaning.is_empty(), "{name}: {} has no meaning", leaf.path);
            }
        }
    }

    #[test]
    fn a_quantity_carries_unit_and_range() {
        let method = ground::registry::find("texture-class").unwrap();
        let leaves = leaves(&method.input_schema());
        assert_eq!(leaves[0].path, "sand_percent");
        assert_eq!(leaves[0].accepted, "0 to 100 %");
        assert_eq!(leaves[0].kind, LeafKind::Number);
        assert!(!leaves[0].optional);
    }
}
