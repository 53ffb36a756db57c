//! Questions to a method's JSON schema: what stands at a path, in which unit, what it accepts.

use serde_json::Value;

/// The schema of the field at `path` (`marks.sand.mm`, `marks[1].height_mm`), with references
/// followed and every variant of a tagged type looked through.
#[must_use]
pub fn at<'a>(root: &'a Value, path: &str) -> Option<&'a Value> {
    parts(path).try_fold(root, |here, part| step(root, here, part)).map(|place| resolved(root, place))
}

/// Unit of the number at a place, as its quantity declares it.
#[must_use]
pub fn unit(place: &Value) -> Option<&str> {
    place.get("x-unit").and_then(Value::as_str)
}

/// The words a place accepts, where it is a choice.
#[must_use]
pub fn choices(place: &Value) -> Vec<&str> {
    let listed = place.get("enum").and_then(Value::as_array).into_iter().flatten();
    let described = place.get("oneOf").and_then(Value::as_array).into_iter().flatten().flat_map(|option| {
        let single = option.get("const").into_iter();
        single.chain(option.get("enum").and_then(Value::as_array).into_iter().flatten())
    });
    listed.chain(described).filter_map(Value::as_str).collect()
}

/// What a place accepts, in words; empty where the schema does not say.
#[must_use]
pub fn accepted(place: &Value) -> String {
    let limit = |name: &str| place.get(name).and_then(Value::as_f64);
    match (limit("minimum"), limit("maximum")) {
        (Some(min), Some(max)) => super::quantity::range_words(min, max, unit(place).unwrap_or_default()),
        _ => choices(place).join(", "),
    }
}

/// A value that a place accepts; empty where the schema does not say.
#[must_use]
pub fn example(place: &Value) -> String {
    match place.get("examples").and_then(|examples| examples.get(0)) {
        Some(Value::String(text)) => text.clone(),
        Some(Value::Number(number)) => number.as_f64().map_or_else(|| number.to_string(), |n| n.to_string()),
        Some(example) => example.to_string(),
        None => choices(place).first().map(|choice| (*choice).to_owned()).unwrap_or_default(),
    }
}

/// Splits `marks[1].height_mm` into `marks`, `1`, `height_mm`.
pub fn parts(path: &str) -> impl Iterator<Item = &str> {
    path.split(['.', '[', ']']).filter(|part| !part.is_empty())
}

fn step<'a>(root: &'a Value, here: &'a Value, part: &str) -> Option<&'a Value> {
    let here = resolved(root, here);
    let direct = if part.parse::<usize>().is_ok() {
        here.get("items")
    } else {
        here.get("properties").and_then(|properties| properties.get(part))
    };
    direct.or_else(|| {
        ["oneOf", "anyOf", "allOf"]
            .iter()
            .filter_map(|several| here.get(several).and_then(Value::as_array))
            .flatten()
            .find_map(|option| step(root, option, part))
    })
}

/// Follows `$ref`, and looks through the `anyOf` that an optional field wears.
fn resolved<'a>(root: &'a Value, here: &'a Value) -> &'a Value {
    if let Some(name) = here.get("$ref").and_then(Value::as_str)
        && let Some(target) = root.pointer(name.trim_start_matches('#'))
    {
        return resolved(root, target);
    }
    let Some(options) = here.get("anyOf").and_then(Value::as_array) else { return here };
    let mut real = options.iter().filter(|option| option.get("type") != Some(&Value::from("null")));
    match (real.next(), real.next()) {
        (Some(only), None) => resolved(root, only),
        _ => here,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::texture::feel::FeelReading;
    use crate::texture::jar::JarReading;

    #[test]
    fn fields_are_found_through_references_options_and_variants() {
        let jar = schemars::schema_for!(JarReading).to_value();
        for path in ["marks.sand.mm", "marks.marks[1].top.low_mm", "ruler_step_mm", "shape.at[0].diameter_mm"]
        {
            let place = at(&jar, path).unwrap_or_else(|| panic!("{path}"));
            assert_eq!(unit(place), Some("mm"), "{path}");
            assert!(accepted(place).ends_with(" mm"), "{path}");
        }
        assert_eq!(unit(at(&jar, "water_temperature_c").unwrap()), Some("°C"));
        assert!(choices(at(&jar, "dispersant").unwrap()).contains(&"liquid_soap"));
        assert!(at(&jar, "marks.no_such").is_none());
        let feel = schemars::schema_for!(FeelReading).to_value();
        assert_eq!(accepted(at(&feel, "rub").unwrap()), "gritty, smooth, neither");
        assert_eq!(example(at(&feel, "ribbon_mm").unwrap()), "35");
    }
}
