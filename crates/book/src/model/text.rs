//! Checks on what was typed as text.

use ground::kit::Refusal;

/// Longest name, label or person, in characters.
pub(crate) const NAME_CHARACTERS: usize = 120;
/// Longest note, in characters.
pub(crate) const NOTE_CHARACTERS: usize = 20_000;

/// A name must be there and be short enough for a label.
pub(crate) fn name(field: &str, text: &str, example: &str) -> Result<(), Refusal> {
    if text.trim().is_empty() {
        return Err(Refusal::new(field, format!("{} is empty", plain_words(field)))
            .given("nothing")
            .accepted(format!("1 to {NAME_CHARACTERS} characters"))
            .example(example));
    }
    no_longer(field, text, NAME_CHARACTERS, example)
}

/// A label or a person's name may be left empty.
pub(crate) fn label(field: &str, text: &str, example: &str) -> Result<(), Refusal> {
    no_longer(field, text, NAME_CHARACTERS, example)
}

/// A note may be left empty and may be long.
pub(crate) fn note(field: &str, text: &str) -> Result<(), Refusal> {
    no_longer(field, text, NOTE_CHARACTERS, "Stood under water after the storm")
}

/// A count of things must be in `least..=most`.
pub(crate) fn count(field: &str, given: u16, least: u16, most: u16, example: u16) -> Result<(), Refusal> {
    if (least..=most).contains(&given) {
        return Ok(());
    }
    Err(Refusal::new(
        field,
        format!("{} must be {least} to {most}, but {given} was given", plain_words(field)),
    )
    .given(given)
    .accepted(format!("{least} to {most}"))
    .example(example))
}

/// A list of choices holds each of them once; so it cannot be longer than there are choices.
pub(crate) fn each_once<T: PartialEq + Copy>(
    field: &str,
    list: &[T],
    words: fn(T) -> &'static str,
) -> Result<(), Refusal> {
    match list.iter().enumerate().find(|(at, one)| list[..*at].contains(one)) {
        Some((at, twice)) => Err(Refusal::new(
            format!("{field}[{at}]"),
            format!("{:?} stands in the list twice", words(*twice)),
        )
        .given(words(*twice))
        .accepted("each once")
        .example(words(list[0]))),
        None => Ok(()),
    }
}

/// Longest key of a job, in characters.
const KEY_CHARACTERS: usize = 200;

/// A key: letters, digits and the signs that an address takes as they are.
pub(crate) fn key(field: &str, text: &str, example: &str) -> Result<(), Refusal> {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.');
    if !text.is_empty() && text.len() <= KEY_CHARACTERS && text.bytes().all(plain) {
        return Ok(());
    }
    Err(Refusal::new(field, format!("{} is not a key", plain_words(field)))
        .given(text.chars().take(40).filter(|c| *c != '\0').collect::<String>())
        .accepted(format!("1 to {KEY_CHARACTERS} letters, digits, hyphens, underscores and points"))
        .example(example))
}

/// The name of an attached file: its SHA-256.
pub(crate) fn sha256(field: &str, text: &str) -> Result<(), Refusal> {
    if text.len() == 64 && text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f')) {
        return Ok(());
    }
    Err(Refusal::new(field, "this is not the SHA-256 of an attached file")
        .given(text.chars().take(80).collect::<String>())
        .accepted("64 lower-case hexadecimal digits")
        .example("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"))
}

fn no_longer(field: &str, text: &str, most: usize, example: &str) -> Result<(), Refusal> {
    let characters = text.chars().count();
    // A NUL would cut the text short for some readers of the file.
    if characters <= most && !text.contains('\0') {
        return Ok(());
    }
    let message = if text.contains('\0') {
        format!("{} holds a character that cannot be kept", plain_words(field))
    } else {
        format!("{} is too long: {characters} characters", plain_words(field))
    };
    Err(Refusal::new(field, message)
        .given(text.chars().take(40).filter(|c| *c != '\0').collect::<String>())
        .accepted(format!("at most {most} characters"))
        .example(example))
}

fn plain_words(field: &str) -> String {
    field.replace('_', " ")
}
