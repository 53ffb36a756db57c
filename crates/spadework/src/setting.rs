//! `--set field=value`: a method's input from the command line, with measures as people write them.

use ground::kit::units::{Dimension, Unit, UnitSystem, field_unit, parse_in};
use ground::kit::{Refusal, schema};
use serde_json::{Map, Value};

/// Puts each `field=value` into `input`. The schema says in which unit a field is kept, so that
/// `depth_mm=2in` stores 50.8.
pub(crate) fn apply(
    pairs: &[String],
    schema: &Value,
    system: UnitSystem,
    input: &mut Value,
) -> Result<(), Refusal> {
    for pair in pairs {
        let Some((field, text)) = pair.split_once('=') else {
            return Err(Refusal::new("set", format!("{pair:?} has no equals sign"))
                .given(pair)
                .accepted("field=value")
                .example("clay_percent=20"));
        };
        let field = field.trim();
        let value = read(field, text.trim(), schema, system)?;
        put(input, field, value)?;
    }
    Ok(())
}

/// Takes the value of a field away.
pub(crate) fn clear(input: &mut Value, field: &str) -> Result<(), Refusal> {
    put(input, field.trim(), Value::Null)
}

fn read(field: &str, text: &str, schema: &Value, system: UnitSystem) -> Result<Value, Refusal> {
    let place = schema::at(schema, field);
    let of_type =
        |name: &str| place.and_then(|place| place.get("type")).is_some_and(|found| holds(found, name));
    if let Some(symbol) = place.and_then(schema::unit) {
        let own = Unit::of_symbol(symbol).unwrap_or(Unit::One);
        let shown = field_unit(symbol, system);
        return parse_in(text, Dimension::of_unit(own), shown, own)
            .map(Value::from)
            .map_err(|error| error.at(field));
    }
    if of_type("boolean") {
        return match text.to_lowercase().as_str() {
            "yes" | "y" | "true" => Ok(Value::Bool(true)),
            "no" | "n" | "false" => Ok(Value::Bool(false)),
            _ => Err(Refusal::new(field, format!("{field} is yes or no, but {text:?} was given"))
                .given(text)
                .accepted("yes or no")
                .example("yes")),
        };
    }
    if of_type("integer") && text.parse::<i64>().is_err() {
        return Err(Refusal::new(field, format!("{field} is a whole number, but {text:?} was given"))
            .given(text)
            .accepted("a whole number")
            .example(
                place.map(schema::example).filter(|example| !example.is_empty()).unwrap_or("12".to_owned()),
            ));
    }
    if of_type("string") {
        return Ok(Value::from(text));
    }
    if let Some(choice) = place.map(schema::choices).filter(|choices| !choices.is_empty()) {
        // "dishwasher powder" and "dishwasher-powder" are how a person writes dishwasher_powder.
        let folded = |word: &str| word.to_lowercase().replace([' ', '-'], "_");
        let found = choice.iter().find(|word| folded(word) == folded(text));
        return Ok(Value::from(found.copied().unwrap_or(text)));
    }
    Ok(serde_json::from_str(text).unwrap_or_else(|_| Value::from(text)))
}

fn holds(found: &Value, name: &str) -> bool {
    match found {
        Value::String(one) => one == name,
        Value::Array(several) => several.iter().any(|one| one == name),
        _ => false,
    }
}

/// The most items a list may be grown to from the command line.
const LONGEST_LIST: usize = 1000;

fn put(input: &mut Value, field: &str, value: Value) -> Result<(), Refusal> {
    let refused = |what: String| {
        Refusal::new(field, what).given(field).accepted("a field of the input, such as clay_percent")
    };
    let mut here = input;
    let mut depth = 0;
    for part in schema::parts(field) {
        depth += 1;
        if depth > 16 {
            return Err(refused(format!("{field:?} goes too deep")));
        }
        here = match part.parse::<usize>() {
            Ok(index) if index < LONGEST_LIST => {
                if here.is_null() {
                    *here = Value::Array(Vec::new());
                }
                let list = here
                    .as_array_mut()
                    .ok_or_else(|| refused(format!("{field:?} counts into what is no list")))?;
                while list.len() <= index {
                    list.push(Value::Null);
                }
                &mut list[index]
            }
            Ok(_) => return Err(refused(format!("{field:?} counts past {LONGEST_LIST}"))),
            Err(_) => {
                if here.is_null() {
                    *here = Value::Object(Map::new());
                }
                here.as_object_mut()
                    .ok_or_else(|| refused(format!("{field:?} names a part of what has no parts")))?
                    .entry(part)
                    .or_insert(Value::Null)
            }
        };
    }
    if depth == 0 {
        return Err(refused("a field is missing before the equals sign".to_owned()));
    }
    *here = value;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use ground::texture::jar::JarReading;
    use serde_json::json;

    fn set(pairs: &[&str], system: UnitSystem) -> Result<Value, Refusal> {
        let schema = schemars::schema_for!(JarReading).to_value();
        let pairs: Vec<String> = pairs.iter().map(|pair| (*pair).to_owned()).collect();
        let mut input = Value::Null;
        apply(&pairs, &schema, system, &mut input).map(|()| input)
    }

    #[test]
    fn measures_land_in_the_unit_of_the_field() {
        let input = set(
            &[
                "ruler_step_mm=1/16",
                "water_temperature_c=68",
                "marks.read_as=timed",
                "marks.marks[0].after_s=1 min",
                "dispersant=liquid soap",
            ],
            UnitSystem::UsCustomary,
        );
        assert_eq!(
            input.unwrap(),
            json!({
                "ruler_step_mm": 1.5875, "water_temperature_c": 20.0,
                "marks": { "read_as": "timed", "marks": [{ "after_s": 60.0 }] }, "dispersant": "liquid_soap"
            })
        );
        assert_eq!(set(&["ruler_step_mm=1"], UnitSystem::Metric).unwrap(), json!({ "ruler_step_mm": 1.0 }));
    }

    #[test]
    fn what_cannot_be_set_is_refused_by_name() {
        for (pair, field) in [
            ("ruler_step_mm", "set"),
            ("=3", ""),
            ("ruler_step_mm=5 lb", "ruler_step_mm"),
            ("marks[99999999]=1", "marks[99999999]"),
        ] {
            assert_eq!(set(&[pair], UnitSystem::Metric).unwrap_err().field, field, "{pair}");
        }
        assert!(set(&["a=1", "a.b=2"], UnitSystem::Metric).is_err());
    }

    proptest::proptest! {
        #[test]
        fn no_pair_makes_it_panic(pairs in proptest::collection::vec(".*", 0..4)) {
            let pairs: Vec<&str> = pairs.iter().map(String::as_str).collect();
            let _ = set(&pairs, UnitSystem::UsCustomary);
        }
    }
}
