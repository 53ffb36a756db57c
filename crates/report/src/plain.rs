//! Text made fit for paper: no control signs, no word too long for a column, no letter missing in silence.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::fonts::FONTS;

/// A longer word gets places to break at, or it would run over the next column: the narrowest one takes so many letters.
const LONGEST_WORD: usize = 14;

/// A word that is too long may be broken after so many letters.
const PIECE: usize = 4;

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
    let text: String = text.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect();
    unprintable.extend(text.chars().filter(|letter| !FONTS.can_print(*letter)));
    let mut said = String::with_capacity(text.len());
    for word in text.split_inclusive(char::is_whitespace) {
        let breaks = word.chars().filter(|letter| !letter.is_whitespace()).count() > LONGEST_WORD;
        for (at, letter) in word.chars().enumerate() {
            if breaks && at > 0 && at % PIECE == 0 && !letter.is_whitespace() {
                said.push(BREAK);
            }
            said.push(letter);
        }
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
        assert_eq!(told("Southeasterner north").0, "Southeasterner north");
        assert_eq!(told("the Southeasterners").0, "the Sout\u{200b}heas\u{200b}tern\u{200b}ers");
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
                prop_assert!(word.chars().count() <= LONGEST_WORD);
            }
        }
    }
}
