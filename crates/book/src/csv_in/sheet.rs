//! From the bytes of a file to the text of a table; a file of another kind is told by name.

use ground::kit::Refusal;

/// Kinds of file that are sent where a table is wanted, by how they begin.
const OTHERS: &[(&[u8], &str, &str)] = &[
    (
        b"%PDF",
        "a PDF",
        "ask the laboratory for the results as CSV, or type the figures into the form of a laboratory report",
    ),
    (b"PK\x03\x04", "a workbook or a zip archive", "open it in a spreadsheet and save the table as CSV"),
    (b"\xD0\xCF\x11\xE0", "an old workbook", "open it in a spreadsheet and save the table as CSV"),
    (b"\x89PNG", "a picture", "type the figures into the form of a laboratory report"),
    (b"\xFF\xD8\xFF", "a picture", "type the figures into the form of a laboratory report"),
    (b"\x1F\x8B", "a compressed file", "unpack it first"),
    (b"{\\rtf", "a word processor's document", "save the table as CSV"),
];

const WEB_PAGE: &str = "a web page";

/// The text of a table that came as a file: UTF-8, UTF-16 with its mark, or the older Latin alphabet.
///
/// # Errors
/// The file is a PDF, a workbook, a picture or something else that is no text; it is named.
pub fn table_text(bytes: &[u8]) -> Result<String, Refusal> {
    text_of(bytes).map_err(|what| {
        let refusal = |message: String| Refusal::new("file", message).given(what).example("results.csv");
        match OTHERS.iter().find(|(_, name, _)| *name == what) {
            Some((.., instead)) => refusal(format!(
                "this file is {what}, and a table in CSV is wanted: {instead}"
            ))
            .accepted("a text file with cells parted by comma, semicolon or tab, as a spreadsheet saves CSV"),
            None if what == WEB_PAGE => refusal(format!("this file is {what}, and a table in CSV is wanted"))
                .accepted("the table itself: copy its cells, or save it as CSV"),
            None => refusal(format!("this file is {what}"))
                .accepted("a text file with cells parted by comma, semicolon or tab"),
        }
    })
}

/// The text of a file, or what the file is instead: "a picture".
pub(crate) fn text_of(bytes: &[u8]) -> Result<String, &'static str> {
    if let Some((_, what, _)) = OTHERS.iter().find(|(begins, ..)| bytes.starts_with(begins)) {
        return Err(what);
    }
    let text = match bytes {
        [0xFF, 0xFE, rest @ ..] => utf16(rest, u16::from_le_bytes),
        [0xFE, 0xFF, rest @ ..] => utf16(rest, u16::from_be_bytes),
        _ => match std::str::from_utf8(bytes) {
            Ok(text) => text.to_owned(),
            // Older spreadsheets write one byte a letter; figures and names come through.
            Err(_) => bytes.iter().map(|byte| char::from(*byte)).collect(),
        },
    };
    if text.contains('\0') {
        return Err("no text");
    }
    let begins = text.trim_start_matches('\u{feff}').trim_start().to_lowercase();
    if begins.starts_with("<!doctype") || begins.starts_with("<html") { Err(WEB_PAGE) } else { Ok(text) }
}

fn utf16(bytes: &[u8], word: impl Fn([u8; 2]) -> u16) -> String {
    let words = bytes.chunks_exact(2).map(|two| word([two[0], two[1]]));
    char::decode_utf16(words).map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_of_another_kind_are_named() {
        for (bytes, word) in [
            (&b"%PDF-1.7 ..."[..], "PDF"),
            (b"PK\x03\x04....", "workbook"),
            (b"\xD0\xCF\x11\xE0\xA1\xB1", "old workbook"),
            (b"\x89PNG\r\n", "picture"),
            (b"<!DOCTYPE html><html>", "web page"),
            (b"pH,P\n\x00\x01", "no text"),
        ] {
            let refusal = table_text(bytes).unwrap_err();
            assert_eq!(refusal.field, "file");
            assert!(refusal.message.contains(word), "{}", refusal.message);
        }
    }

    #[test]
    fn texts_of_several_encodings_are_read() {
        assert_eq!(table_text("pH µS".as_bytes()).unwrap(), "pH µS");
        assert_eq!(table_text(b"\xFF\xFEp\x00H\x00").unwrap(), "pH");
        assert_eq!(table_text(b"\xFE\xFF\x00p\x00H").unwrap(), "pH");
        assert_eq!(table_text(b"Caf\xE9").unwrap(), "Café");
    }
}
