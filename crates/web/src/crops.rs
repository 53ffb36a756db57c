//! Crops as they are typed and told.

use book::Snapshot;
use book::model::PlantedCrop;
use ground::kit::Refusal;

/// The key of a crop as a person names it: "Sweet corn" is `sweet-corn`. Text left as `before` was shown
/// keeps that key.
///
/// # Errors
/// Text that has no letter in it.
pub fn key(field: &str, text: &str, before: Option<&str>) -> Result<String, Refusal> {
    if let Some(before) = before.filter(|before| words(before) == text) {
        return Ok(before.to_owned());
    }
    let words: Vec<String> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    if words.iter().any(|word| word.contains(char::is_alphabetic)) {
        return Ok(words.join("-"));
    }
    Err(Refusal::new(field, format!("Crop: \u{201c}{text}\u{201d} is not the name of a crop"))
        .given(text)
        .accepted("the name of a crop")
        .example("tomato"))
}

/// A key as a person reads it: `sweet-corn` is "sweet corn".
#[must_use]
pub fn words(key: &str) -> String {
    key.replace(['-', '_'], " ")
}

/// Crops that this farm has named before, each once.
#[must_use]
pub fn named_before(snapshot: &Snapshot) -> Vec<String> {
    let planted = snapshot.plantings.iter().filter_map(|planting| match &planting.body.crop {
        PlantedCrop::Catalogue(key) => Some(words(key)),
        PlantedCrop::FarmCrop(_) => None,
    });
    let based_on = snapshot.crops.iter().filter_map(|crop| crop.body.key.as_deref().map(words));
    let mut names: Vec<String> = planted.chain(based_on).collect();
    names.sort();
    names.dedup();
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crops_are_named_as_people_write_them() {
        for (text, named) in [
            ("Tomato", "tomato"),
            (" Sweet  corn ", "sweet-corn"),
            ("sweet-corn", "sweet-corn"),
            ("Bean, dry", "bean-dry"),
        ] {
            assert_eq!(key("crop", text, None).as_deref(), Ok(named), "{text}");
        }
        for text in ["", "  ", "12", "?", "\u{0}"] {
            assert_eq!(key("crop", text, None).unwrap_err().field, "crop", "{text}");
        }
        assert_eq!(words("sweet-corn"), "sweet corn");
        assert_eq!(key("crop", "sweet corn", Some("sweet_corn")).as_deref(), Ok("sweet_corn"));
    }
}
