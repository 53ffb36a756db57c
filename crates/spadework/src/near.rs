//! The name somebody probably meant.

/// The candidate most like what was typed, if any is like it at all.
pub(crate) fn nearest<'a>(typed: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    /// Below this, two names have nothing to do with each other.
    const LIKE: f64 = 0.35;
    candidates
        .into_iter()
        .map(|candidate| (likeness(typed, candidate), candidate))
        .filter(|(likeness, _)| *likeness >= LIKE)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, candidate)| candidate)
}

/// Share of their pairs of neighbouring letters that two names have in common, whatever their case.
fn likeness(one: &str, other: &str) -> f64 {
    let pairs = |text: &str| {
        let letters: Vec<char> = text.to_lowercase().chars().filter(|c| !c.is_whitespace()).collect();
        letters.windows(2).map(<[char]>::to_vec).collect::<Vec<_>>()
    };
    let (one, mut left) = (pairs(one), pairs(other));
    let whole = (one.len() + left.len()).max(1) as f64;
    let mut shared = 0;
    for pair in one {
        if let Some(at) = left.iter().position(|other| *other == pair) {
            left.swap_remove(at);
            shared += 1;
        }
    }
    2.0 * f64::from(shared) / whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_finger_is_seen_through() {
        let plots = ["Creek field", "Hill field", "East tunnel", "West tunnel"];
        for (typed, meant) in [
            ("eats tunel", Some("East tunnel")),
            ("CREEKFIELD", Some("Creek field")),
            ("hil feild", Some("Hill field")),
            ("greenhouse 9", None),
            ("", None),
        ] {
            assert_eq!(nearest(typed, plots), meant, "{typed}");
        }
    }
}
