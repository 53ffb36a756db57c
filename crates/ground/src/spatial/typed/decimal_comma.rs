//! Decimal commas in a latitude and longitude: "43,07; -89,4" is 43.07° and -89.4°, not 43° 07\u{2032} and -89° 04\u{2032}.

use std::ops::Range;

/// Turns decimal commas into points, and leaves commas that part numbers. Where a point stands the commas part degrees
/// from minutes, as in "43,4.2N"; two commas in one half part degrees, minutes and seconds.
///
/// # Errors
/// Commas that could be either.
pub(super) fn decimal_commas(text: &str) -> Result<String, String> {
    let text = text.trim().trim_end_matches([',', ';', '/']);
    if text.contains('.') || !text.contains(',') {
        return Ok(text.to_owned());
    }
    if text.contains(['N', 'S', 'E', 'W']) {
        return Ok(lone_commas(text));
    }
    let commas: Vec<usize> = text.match_indices(',').map(|(at, _)| at).collect();
    let gaps: Vec<usize> = text.match_indices([';', '/']).map(|(at, _)| at).collect();
    let words: Vec<&str> = text.split_whitespace().collect();
    let (one, gap, other) = match (gaps.as_slice(), commas.len(), words.as_slice()) {
        ([at], ..) => (&text[..*at], &text[*at..=*at], &text[at + 1..]),
        // One comma parts the two numbers, five part two times three.
        ([], 1 | 5, _) => return Ok(text.to_owned()),
        ([], 3, _) => (&text[..commas[1]], ",", &text[commas[1] + 1..]),
        ([], 2, [one, other]) if one.matches(',').count() == 1 => (*one, ";", *other),
        _ => return Err(either()),
    };
    let halves = [half(one), half(other)];
    match halves {
        [Some(one), Some(other)] => Ok(format!("{one}{gap}{other}")),
        _ => Err(either()),
    }
}

fn either() -> String {
    "the commas could be decimal commas or stand between degrees and minutes; with decimal commas put a semicolon \
     between the two numbers (43,07; -89,4), or write points"
        .to_owned()
}

/// A half with its decimal comma as a point; none where its comma could be something else.
fn half(text: &str) -> Option<String> {
    match text.matches(',').count() {
        0 | 2 => Some(text.to_owned()),
        1 => text.find(',').filter(|at| is_tight(text, *at)).map(|_| text.replace(',', ".")),
        _ => None,
    }
}

/// Does the comma stand between two digits?
fn is_tight(text: &str, at: usize) -> bool {
    text[..at].ends_with(|c: char| c.is_ascii_digit())
        && text[at + 1..].starts_with(|c: char| c.is_ascii_digit())
}

/// "43,07 N": between letters a comma that is alone in its run of digits is a decimal comma.
fn lone_commas(text: &str) -> String {
    let is_run = |c: char| c.is_ascii_digit() || c == ',';
    let mut out = String::with_capacity(text.len());
    let mut run: Range<usize> = 0..0;
    let put = |run: Range<usize>, out: &mut String| {
        let digits = &text[run];
        let alone =
            digits.matches(',').count() == 1 && digits.find(',').is_some_and(|at| is_tight(digits, at));
        out.push_str(&if alone { digits.replace(',', ".") } else { digits.to_owned() });
    };
    for (at, c) in text.char_indices() {
        if is_run(c) {
            run.end = at + 1;
        } else {
            put(run, &mut out);
            out.push(c);
            run = at + c.len_utf8()..at + c.len_utf8();
        }
    }
    put(run, &mut out);
    out
}
