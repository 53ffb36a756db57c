//! Trying a method on its page: the query's text becomes the method's input.

use ground::kit::Refusal;
use ground::kit::units::{Dimension, Unit, parse_in};
use serde_json::{Map, Value, json};

use super::leaf::{Leaf, LeafKind};
use crate::form::{FieldView, Form};
use crate::typed::Typed;

/// The form of a method, filled with what was typed or else with the method's example.
pub(super) fn form(leaves: &[Leaf], example: &Value, typed: &Typed) -> Form {
    let fields = leaves.iter().map(|leaf| {
        let text = if typed.is_empty() {
            text_of(at(example, &leaf.path), &leaf.kind)
        } else {
            typed.get(&leaf.path).unwrap_or_default().to_owned()
        };
        let hint = match &leaf.kind {
            LeafKind::Number if !leaf.accepted.is_empty() => {
                format!("{} Accepted: {}.", leaf.meaning, leaf.accepted)
            }
            LeafKind::Structure => format!("{} Written as JSON.", leaf.meaning),
            _ => leaf.meaning.clone(),
        };
        let field = match &leaf.kind {
            LeafKind::Number => FieldView::number(&leaf.path, &leaf.unit),
            LeafKind::Text => FieldView::line(&leaf.path),
            LeafKind::YesNo => FieldView::pick(&leaf.path, &["true".to_owned(), "false".to_owned()]),
            LeafKind::Choice(answers) => FieldView::pick(&leaf.path, answers),
            LeafKind::Structure => FieldView::lines(&leaf.path),
        };
        field.labelled(&leaf.path, hint, leaf.optional).typed(&text)
    });
    Form::of(fields.collect())
}

/// The input that the typed texts mean.
pub(super) fn input(leaves: &[Leaf], typed: &Typed) -> Result<Value, Vec<Refusal>> {
    let mut input = Map::new();
    let mut refusals = Vec::new();
    for leaf in leaves {
        let Some(text) = typed.text(&leaf.path) else { continue };
        match value_of(leaf, text) {
            Ok(value) => put(&mut input, &leaf.path, value),
            Err(refusal) => refusals.push(refusal),
        }
    }
    let known = |name: &str| leaves.iter().any(|leaf| leaf.path == name);
    for (name, text) in typed.iter().filter(|(name, _)| !known(name)) {
        refusals.push(
            Refusal::new(name, format!("{name} is not one of the fields"))
                .given(text)
                .accepted(leaves.iter().map(|leaf| leaf.path.as_str()).collect::<Vec<_>>().join(", ")),
        );
    }
    if refusals.is_empty() { Ok(Value::Object(input)) } else { Err(refusals) }
}

fn value_of(leaf: &Leaf, text: &str) -> Result<Value, Refusal> {
    match &leaf.kind {
        LeafKind::Number => {
            let own = Unit::of_symbol(&leaf.unit).unwrap_or(Unit::One);
            let read = |text: &str| parse_in(text, Dimension::of_unit(own), own, own);
            // A clock west of Greenwich, land below the sea: no other time or length has a minus.
            let below =
                text.trim().strip_prefix(['-', '\u{2212}']).filter(|_| leaf.accepted.starts_with('-'));
            read(text)
                .or_else(|error| below.and_then(|rest| read(rest).ok()).map(|value| -value).ok_or(error))
                .map(number)
                .map_err(|error| error.at(&leaf.path))
        }
        LeafKind::YesNo => match text {
            "true" => Ok(json!(true)),
            "false" => Ok(json!(false)),
            _ => Err(Refusal::new(&leaf.path, format!("\u{201c}{text}\u{201d} is neither true nor false"))
                .given(text)
                .accepted(&leaf.accepted)
                .example("true")),
        },
        LeafKind::Text | LeafKind::Choice(_) => Ok(json!(text)),
        LeafKind::Structure => serde_json::from_str(text).map_err(|error| {
            Refusal::new(&leaf.path, format!("{} is not JSON: {error}", leaf.path))
                .given(text)
                .accepted("a JSON value, as in the example")
        }),
    }
}

/// Whole numbers are written whole, so that a count stays a count.
fn number(value: f64) -> Value {
    if value.fract() == 0.0 && value.abs() < 9e15 { json!(value as i64) } else { json!(value) }
}

fn put(into: &mut Map<String, Value>, path: &str, value: Value) {
    match path.split_once('.') {
        None => {
            into.insert(path.to_owned(), value);
        }
        Some((outer, rest)) => {
            let inner = into.entry(outer).or_insert_with(|| json!({}));
            if let Some(inner) = inner.as_object_mut() {
                put(inner, rest, value);
            }
        }
    }
}

fn at<'a>(value: &'a Value, path: &str) -> Option<&'a Value> {
    path.split('.').try_fold(value, |here, part| here.get(part))
}

fn text_of(value: Option<&Value>, kind: &LeafKind) -> String {
    match value {
        None | Some(Value::Null) => String::new(),
        Some(Value::String(text)) if *kind != LeafKind::Structure => text.clone(),
        Some(value @ (Value::Array(_) | Value::Object(_))) => {
            serde_json::to_string_pretty(value).unwrap_or_default()
        }
        Some(other) => match other.as_f64() {
            // 40 and not 40.0.
            Some(number) => number.to_string(),
            None => other.to_string(),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::super::leaf::leaves;
    use super::*;
    use ground::registry;
    use proptest::prelude::*;

    /// Filling the form from the example and reading it back gives the example's answer.
    #[test]
    fn every_example_survives_its_own_form() {
        for method in registry::METHODS.iter() {
            let name = method.card().name;
            let leaves = leaves(&method.input_schema());
            let form = form(&leaves, &method.example(), &Typed::default());
            let mut typed = Typed::default();
            for field in form.fields() {
                typed.add(field.name.clone(), field.text.clone());
            }
            let input = input(&leaves, &typed).unwrap_or_else(|refusals| panic!("{name}: {refusals:?}"));
            assert_eq!(
                method.answer(&input).map_err(|refusal| panic!("{name}: {refusal}")),
                method.answer(&method.example()),
                "{name}"
            );
        }
    }

    #[test]
    fn measures_are_read_in_any_unit() {
        let method = registry::find("settling-time").unwrap();
        let leaves = leaves(&method.input_schema());
        let typed = Typed::from_form(b"diameter_um=2&depth_mm=4+in&water_temperature_c=68+F");
        let input = input(&leaves, &typed).unwrap();
        assert_eq!(input["depth_mm"], 101.6);
        assert_eq!(input["water_temperature_c"], 20);
    }

    proptest! {
        #[test]
        fn no_text_makes_a_method_page_panic(text in any::<String>(), which in 0..registry::METHODS.len()) {
            let method = registry::METHODS[which];
            let leaves = leaves(&method.input_schema());
            for leaf in &leaves {
                let mut typed = Typed::default();
                typed.add(leaf.path.clone(), text.clone());
                if let Ok(input) = input(&leaves, &typed) {
                    let _ = method.answer(&input);
                }
                let _ = form(&leaves, &method.example(), &typed);
            }
        }
    }
}
