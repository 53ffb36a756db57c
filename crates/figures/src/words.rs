//! Numbers as they stand in a picture.

use crate::canvas::text_width;
pub(crate) use ground::kit::sentence::capital as sentence;

/// A share of 1 in whole percent, never rounded to a certainty it is not.
pub(crate) fn percent(share: f64) -> String {
    let share = share.clamp(0.0, 1.0);
    if share > 0.0 && share < 0.01 {
        "under 1 %".to_owned()
    } else if share < 1.0 - 1e-9 && share > 0.99 {
        "over 99 %".to_owned()
    } else {
        format!("{:.0} %", share * 100.0)
    }
}

/// The same, short enough to stand over a bar.
pub(crate) fn short_percent(share: f64) -> String {
    percent(share).replace("under ", "<").replace("over ", ">")
}

/// About three significant digits, without a trailing fraction of noughts.
pub(crate) fn number(value: f64) -> String {
    if !value.is_finite() {
        return "not known".to_owned();
    }
    let size = value.abs();
    let places = if size >= 100.0 || size == 0.0 {
        0
    } else if size >= 10.0 {
        1
    } else {
        2
    };
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A number and its unit.
pub(crate) fn measure(value: f64, unit: &str) -> String {
    if unit.is_empty() || !value.is_finite() { number(value) } else { format!("{} {unit}", number(value)) }
}

/// Breaks words into lines no wider than `width` at `size`, at most `lines` of them; what is left
/// over, and a word wider than a line, ends in an ellipsis.
pub(crate) fn wrapped(words: &str, width: f64, size: f64, lines: usize) -> Vec<String> {
    let fits = |line: &str| text_width(line, size) <= width;
    let mut made: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        let last = made.len() == lines;
        match made.last_mut().filter(|line| last || fits(&format!("{line} {word}"))) {
            Some(line) => {
                line.push(' ');
                line.push_str(word);
            }
            None => made.push(word.to_owned()),
        }
    }
    for line in &mut made {
        if !fits(line) {
            while !line.is_empty() && !fits(&format!("{line}\u{2026}")) {
                line.pop();
            }
            *line = format!("{}\u{2026}", line.trim_end());
        }
    }
    made
}

/// "a", "a and b", "a, b and c".
pub(crate) fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// Round numbers from 0 to at least `top`, about `wanted` of them.
pub(crate) fn round_steps(top: f64, wanted: f64) -> (f64, usize) {
    // No quantity here is measured as finely as 1e-9; below that, steps would run out of digits.
    let top = if top.is_finite() && top > 1e-9 { top } else { 1.0 };
    let rough = top / wanted.max(1.0);
    let ten = 10_f64.powi(rough.log10().floor() as i32);
    let step = [1.0, 2.0, 5.0, 10.0].map(|by| by * ten).into_iter().find(|step| *step >= rough * 0.999);
    let step = step.unwrap_or(ten * 10.0);
    (step, (top / step - 1e-9).ceil().max(1.0) as usize)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn percent_keeps_certainty_honest() {
        assert_eq!(percent(0.0), "0 %");
        assert_eq!(percent(0.004), "under 1 %");
        assert_eq!(percent(0.344), "34 %");
        assert_eq!(percent(0.997), "over 99 %");
        assert_eq!(percent(1.0), "100 %");
    }

    #[test]
    fn long_names_break_and_end_in_an_ellipsis() {
        assert_eq!(wrapped("silt loam", 200.0, 12.0, 2), ["silt loam"]);
        assert_eq!(wrapped("gravelly sandy clay loam", 100.0, 12.0, 2), ["gravelly sandy", "clay loam"]);
        for lines in wrapped("a name that goes on and on, far beyond its place", 80.0, 12.0, 2) {
            assert!(text_width(&lines, 12.0) <= 80.0, "{lines}");
        }
        assert!(wrapped("  ", 80.0, 12.0, 2).is_empty());
    }

    #[test]
    fn numbers_keep_about_three_digits() {
        assert_eq!(number(0.284), "0.28");
        assert_eq!(number(12.34), "12.3");
        assert_eq!(number(134.2), "134");
        assert_eq!(number(2.0), "2");
        assert_eq!(number(2.4), "2.4");
        assert_eq!(number(100.0), "100");
        assert_eq!(number(f64::NAN), "not known");
    }

    #[test]
    fn steps_are_round_and_reach_the_top() {
        for top in [0.3, 1.0, 2.4, 37.0, 100.0, 2375.0] {
            let (step, count) = round_steps(top, 5.0);
            assert!(step * count as f64 >= top - 1e-6, "{top}: {step} x {count}");
            assert!((3..=10).contains(&count), "{top}: {step} x {count}");
        }
        assert_eq!(round_steps(f64::NAN, 5.0), (0.2, 5));
        assert_eq!(round_steps(5e-324, 5.0), (0.2, 5));
    }

    #[test]
    fn lists_read_as_sentences() {
        assert_eq!(list(&["a".into(), "b".into(), "c".into()]), "a, b and c");
    }
}
