//! Whether each part of a JSON input is of the kind that its schema asks for, told in plain words.

use serde_json::Value;

use super::refusal::Refusal;
use super::schema;

/// The refusal of the first part of `input` that is of another kind than `schema` asks for: a text
/// where a number belongs, a list where named fields belong.
pub(super) fn misfit(schema: &Value, input: &Value) -> Option<Refusal> {
    walk(schema, &options(schema, schema), input, "")
}

/// Whether a list stands anywhere in it. Serde reads a list as an object's fields in their order,
/// which no schema promises; nothing else slips through it.
pub(super) fn holds_a_list(input: &Value) -> bool {
    match input {
        Value::Array(_) => true,
        Value::Object(fields) => fields.values().any(holds_a_list),
        _ => false,
    }
}

fn walk(root: &Value, places: &[&Value], input: &Value, path: &str) -> Option<Refusal> {
    let kinds: Option<Vec<&str>> = places
        .iter()
        .map(|place| kinds(place))
        .collect::<Option<Vec<_>>>()
        .map(|lists| lists.into_iter().flatten().collect());
    if let Some(kinds) = kinds
        && !kinds.is_empty()
        && !kinds.iter().any(|kind| is(input, kind))
    {
        return Some(refusal(root, &kinds, input, path));
    }
    match input {
        Value::Object(fields) => fields.iter().find_map(|(name, part)| {
            let path = if path.is_empty() { name.clone() } else { format!("{path}.{name}") };
            walk(root, &inside(root, places, |place| field(place, name)), part, &path)
        }),
        Value::Array(items) => items.iter().enumerate().find_map(|(at, part)| {
            walk(root, &inside(root, places, |place| item(place, at)), part, &format!("{path}[{at}]"))
        }),
        _ => None,
    }
}

/// The plain schemas that a place stands for: references followed, alternatives side by side.
fn options<'a>(root: &'a Value, place: &'a Value) -> Vec<&'a Value> {
    if let Some(name) = place.get("$ref").and_then(Value::as_str) {
        return root.pointer(name.trim_start_matches('#')).map_or_else(Vec::new, |at| options(root, at));
    }
    let several: Vec<&Value> = ["oneOf", "anyOf", "allOf"]
        .iter()
        .filter_map(|key| place.get(key).and_then(Value::as_array))
        .flatten()
        .flat_map(|option| options(root, option))
        .collect();
    let own = several.is_empty() || place.get("properties").is_some();
    own.then_some(place).into_iter().chain(several).collect()
}

fn inside<'a>(
    root: &'a Value,
    places: &[&'a Value],
    step: impl Fn(&'a Value) -> Option<&'a Value>,
) -> Vec<&'a Value> {
    places.iter().filter_map(|place| step(place)).flat_map(|place| options(root, place)).collect()
}

fn field<'a>(place: &'a Value, name: &str) -> Option<&'a Value> {
    let named = place.get("properties").and_then(|properties| properties.get(name));
    named.or_else(|| place.get("additionalProperties").filter(|schema| schema.is_object()))
}

fn item(place: &Value, at: usize) -> Option<&Value> {
    let in_order = place.get("prefixItems").and_then(|items| items.get(at));
    in_order.or_else(|| place.get("items").filter(|schema| schema.is_object()))
}

/// The JSON kinds that a plain schema accepts; `None` where it does not say.
fn kinds(place: &Value) -> Option<Vec<&str>> {
    match place.get("type") {
        Some(Value::String(kind)) => Some(vec![kind.as_str()]),
        Some(Value::Array(kinds)) => Some(kinds.iter().filter_map(Value::as_str).collect()),
        _ => {
            let listed = place.get("const").or_else(|| place.get("enum").and_then(|all| all.get(0)));
            listed.filter(|value| value.is_string()).map(|_| vec!["string"])
        }
    }
}

fn is(input: &Value, kind: &str) -> bool {
    match kind {
        "number" | "integer" => input.is_number(),
        "string" => input.is_string(),
        "boolean" => input.is_boolean(),
        "object" => input.is_object(),
        "array" => input.is_array(),
        "null" => input.is_null(),
        _ => true,
    }
}

fn refusal(root: &Value, kinds: &[&str], input: &Value, path: &str) -> Refusal {
    let mut wanted: Vec<&str> =
        kinds.iter().filter(|kind| **kind != "null").map(|kind| words(kind)).collect();
    wanted.dedup();
    let wanted = if path.is_empty() { "one JSON object".to_owned() } else { wanted.join(" or ") };
    let what = if path.is_empty() { "the input" } else { path };
    let place = schema::at(root, path);
    let range = place.map(schema::accepted).filter(|range| !range.is_empty() && !path.is_empty());
    Refusal::new(path, format!("{what} must be {wanted}, but {} was given", given(input)))
        .given(input)
        .accepted(range.unwrap_or(wanted))
        .example(place.map(schema::example).unwrap_or_default())
}

fn words(kind: &str) -> &str {
    match kind {
        "number" | "integer" => "a number",
        "string" => "a text",
        "boolean" => "true or false",
        "object" => "an object of named fields",
        "array" => "a list",
        other => other,
    }
}

fn given(input: &Value) -> String {
    match input {
        Value::Null => "null".to_owned(),
        Value::Bool(truth) => truth.to_string(),
        Value::Number(number) => format!("the number {number}"),
        Value::String(text) if text.chars().count() > 40 => "a longer text".to_owned(),
        Value::String(text) => format!("the text \u{201c}{text}\u{201d}"),
        Value::Array(_) => "a list".to_owned(),
        Value::Object(_) => "an object".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::registry;

    fn refused(method: &str, input: serde_json::Value) -> (String, String, String) {
        let refusal = registry::find(method).unwrap().answer(&input).unwrap_err();
        (refusal.field, refusal.message, refusal.accepted)
    }

    #[test]
    fn the_wrong_kind_is_told_in_plain_words() {
        let soil = |sand| json!({"sand_percent": sand, "silt_percent": 40, "clay_percent": 20});
        let (field, message, accepted) = refused("texture-class", soil(json!("40")));
        assert_eq!(field, "sand_percent");
        assert_eq!(message, "sand_percent must be a number, but the text \u{201c}40\u{201d} was given");
        assert_eq!(accepted, "0 to 100 %");
        for odd in [json!(null), json!([40]), json!({}), json!(true)] {
            assert_eq!(refused("texture-class", soil(odd)).0, "sand_percent");
        }
        let (field, message, _) = refused("texture-class", json!(null));
        assert_eq!(
            (field.as_str(), message.as_str()),
            ("", "the input must be one JSON object, but null was given")
        );
    }

    #[test]
    fn a_list_does_not_pass_for_named_fields() {
        assert_eq!(refused("texture-class", json!([40, 40, 20])).0, "");
        let reading =
            json!({"dry_mass_g": 50, "early": [27, 40, 20], "late": {"reading_g_l": 15, "after_s": 7200}});
        assert_eq!(refused("hydrometer-texture", reading).0, "early");
    }

    /// Every example and every part of it is of the kind its own schema asks for.
    #[test]
    fn every_example_fits() {
        for method in registry::METHODS.iter() {
            let misfit = super::misfit(&method.input_schema(), &method.example());
            assert_eq!(misfit, None, "{}", method.card().name);
        }
    }

    /// Serde's own words name types of this program, which no grower knows.
    #[test]
    fn no_refusal_speaks_in_types_of_this_program() {
        for method in registry::METHODS.iter() {
            for (name, _) in method.example().as_object().unwrap() {
                for odd in [json!("x"), json!(-1e300), json!([1, 2]), json!({"x": 1}), json!(true), json!("")]
                {
                    let mut input = method.example();
                    input[name] = odd;
                    let Err(refusal) = method.answer(&input) else { continue };
                    for word in ["invalid type", "invalid length", "struct ", "f64", "expected", "variant"] {
                        assert!(!refusal.message.contains(word), "{}: {refusal}", method.card().name);
                    }
                    assert!(refusal.field.starts_with(name.as_str()) || !refusal.field.is_empty());
                }
            }
        }
    }
}
