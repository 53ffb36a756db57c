//! Text made fit for paper: no control signs, no word too long for a column, no letter missing in silence.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::fonts::FONTS;

/// A longer run of letters gets places to break at, or it would run over the next column.
const LONGEST_RUN: usize = 16;

/// Where a word may be broken without a hyphen.
const BREAK: char = '\u{200b}';

/// Makes every text of a sheet fit for paper and gathers the letters no font has.
pub(crate) fn make_plain(value: &mut Value, unprintable: &mut BTreeSet<char>) {
    match value {
        Value::String(text) => *text = plain(text, unprintable),
        Value::Array(items) => items.iter_mut().for_each(|item| make_plain(item, unprintable)),
        Value::Object(fields) => fields.values_mut().for_each(|field| make_plain(field, unprintable)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

fn plain(text: &str, unprintable: &mut BTreeSet<char>) -> String {
    let mut said = String::with_capacity(text.len());
    let mut run = 0;
    for letter in text.chars() {
        let letter = if letter.is_control() { ' ' } else { letter };
        if !FONTS.can_print(letter) {
            unprintable.insert(letter);
        }
        run = if letter.is_whitespace() || letter == BREAK { 0 } else { run + 1 };
        if run > LONGEST_RUN {
            said.push(BREAK);
            run = 1;
        }
        said.push(letter);
    }
    said
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use serde_json::json;

    fn told(text: &str) -> (String, String) {
        let mut unprintable = BTreeSet::new();
        let said = plain(text, &mut unprintable);
        (said, unprintable.into_iter().collect())
    }

    #[test]
    fn control_signs_become_spaces() {
        assert_eq!(told("Bed\t3\r\nNorth\u{0}").0, "Bed 3  North ");
    }

    #[test]
    fn long_words_may_be_broken() {
        assert_eq!(told("Northwesternmost").0, "Northwesternmost");
        assert_eq!(told("Northwesternmosts").0, "Northwesternmost\u{200b}s");
    }

    #[test]
    fn letters_without_a_sign_are_gathered() {
        assert_eq!(told("温室 2").1, "室温");
        assert_eq!(told("Łąka 2").1, "");
    }

    #[test]
    fn every_text_is_reached() {
        let mut value = json!({ "a": ["x\ny", { "b": "🥕" }], "c": 3, "d": null });
        let mut unprintable = BTreeSet::new();
        make_plain(&mut value, &mut unprintable);
        assert_eq!(value, json!({ "a": ["x y", { "b": "🥕" }], "c": 3, "d": null }));
        assert_eq!(unprintable.len(), 1);
    }

    proptest! {
        #[test]
        fn nothing_but_breaks_is_added(text in "\\PC*") {
            prop_assume!(!text.contains(BREAK));
            let (said, _) = told(&text);
            prop_assert_eq!(said.replace(BREAK, ""), text);
            for word in said.split(|c: char| c.is_whitespace() || c == BREAK) {
                prop_assert!(word.chars().count() <= LONGEST_RUN);
            }
        }
    }
}
