//! Sentences put together from words.

/// Words with a capital, as a sentence begins. "pH" is a sign and stays as it is.
#[must_use]
pub fn capital(text: &str) -> String {
    if text.starts_with("pH") {
        return text.to_owned();
    }
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::capital;

    #[test]
    fn a_sentence_begins_with_a_capital_and_signs_stay() {
        for (words, told) in [
            ("no lime", "No lime"),
            ("pH in water", "pH in water"),
            ("\u{e9}t\u{e9}", "\u{c9}t\u{e9}"),
            ("", ""),
        ] {
            assert_eq!(capital(words), told);
        }
    }
}
