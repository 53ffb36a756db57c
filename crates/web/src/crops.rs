//! Crops as they are typed and told.

use ground::climate::crops::{catalogue, find};
use ground::kit::Refusal;

/// The key of a crop of the catalogue as a person names it: "Sweet corn" is `sweet-corn`. Text left as
/// `before` was shown keeps that key.
///
/// # Errors
/// A name that the catalogue does not have, with the nearest that it has.
pub fn key(field: &str, text: &str, before: Option<&str>) -> Result<String, Refusal> {
    if let Some(before) = before.filter(|before| words(before) == text) {
        return Ok(before.to_owned());
    }
    let plain = text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    if let Some(crop) = catalogue().iter().find(|crop| crop.name.to_lowercase() == plain) {
        return Ok(crop.key.clone());
    }
    match find(&plain) {
        Ok(crop) => Ok(crop.key.clone()),
        Err(refusal) => Err(Refusal {
            field: field.to_owned(),
            message: format!("Crop: {}", refusal.message),
            given: text.to_owned(),
            ..refusal
        }),
    }
}

/// A key as a person reads it: `sweet-corn` is "sweet corn".
#[must_use]
pub fn words(key: &str) -> String {
    key.replace(['-', '_'], " ")
}

/// Every crop of the catalogue, to be offered while one is typed: its name, and in full.
#[must_use]
pub fn offered() -> Vec<(String, String)> {
    catalogue().iter().map(|crop| (words(&crop.key), crop.name.clone())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crops_are_named_as_people_write_them() {
        for text in ["Tomato", " tomato ", "TOMATO"] {
            assert_eq!(key("crop", text, None).as_deref(), Ok("tomato"), "{text}");
        }
        // Whatever is offered is understood, by the short name and by the full one.
        for (short, full) in offered() {
            let known = key("crop", &short, None);
            assert!(known.is_ok(), "{short}");
            assert_eq!(key("crop", &full, None), known, "{full}");
        }
        for text in ["", "  ", "12", "?", "\u{0}", "tomatoe"] {
            let refusal = key("crop", text, None).unwrap_err();
            assert_eq!(refusal.field, "crop", "{text}");
        }
        assert!(key("crop", "tomatoe", None).unwrap_err().message.contains("tomato"));
        assert_eq!(key("crop", "old thing", Some("old_thing")).as_deref(), Ok("old_thing"));
    }
}
