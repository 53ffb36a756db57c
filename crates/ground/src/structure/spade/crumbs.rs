//! The crumbs of a slake test as a person writes them: "20 s, 60 %, 80 %, weak".

use super::slake::{Crumb, HalfGoneAfter, KeptPercent};
use crate::kit::units::{Unit, typed};
use crate::kit::{Bounded, Refusal};

/// Said of a crumb too weak to pick up.
const WEAK: &str = "weak";

/// Reads crumbs parted by commas, semicolons or line ends: the time after which half had fallen apart ("20 s"), what
/// stayed on the mesh after dipping ("60 %"), or "weak". "3 x 60 %" stands for three alike.
///
/// # Errors
/// A crumb that cannot be read, or none at all.
pub fn read_crumbs(field: &str, text: &str) -> Result<Vec<Crumb>, Refusal> {
    let told = |given: &str, message: String| {
        Refusal::new(field, message)
            .given(given)
            .accepted("for each crumb the time until half of it fell apart, the percent kept after dipping, or weak")
            .example("20 s, 60 %, 2 x 80 %, weak")
    };
    let mut crumbs = Vec::new();
    for item in text.split([',', ';', '\n']).map(str::trim).filter(|item| !item.is_empty()) {
        let (times, said) = match item.split_once(['x', '×']) {
            Some((times, said)) => match times.trim().parse::<u8>() {
                Ok(times) if times >= 1 => (times, said.trim()),
                _ => return Err(told(item, format!("{item:?} does not say how many crumbs are alike"))),
            },
            None => (1, item),
        };
        let crumb = if said.eq_ignore_ascii_case(WEAK) {
            Crumb::TooWeak
        } else if said.ends_with('%') {
            Crumb::Dipped { kept_percent: typed::<KeptPercent>(field, said, Unit::Percent)? }
        } else if said.ends_with(|last: char| last.is_alphabetic())
            && said.starts_with(|first: char| first.is_ascii_digit())
        {
            Crumb::FellApart { half_gone_s: typed::<HalfGoneAfter>(field, said, Unit::Second)? }
        } else {
            return Err(told(said, format!("{said:?} is not understood: write 20 s, 60 % or weak")));
        };
        crumbs.extend(std::iter::repeat_n(crumb, usize::from(times)));
    }
    if crumbs.is_empty() {
        return Err(told("nothing", "no crumb was given".to_owned()));
    }
    Ok(crumbs)
}

/// Writes crumbs as [`read_crumbs`] reads them, equal neighbours together.
#[must_use]
pub fn write_crumbs(crumbs: &[Crumb]) -> String {
    let said = |crumb: &Crumb| match crumb {
        Crumb::TooWeak => WEAK.to_owned(),
        Crumb::FellApart { half_gone_s } => format!("{} s", half_gone_s.get()),
        Crumb::Dipped { kept_percent } => format!("{} %", kept_percent.get()),
    };
    crumbs
        .chunk_by(|one, next| one == next)
        .map(|alike| match alike {
            [one] => said(one),
            _ => format!("{} x {}", alike.len(), said(&alike[0])),
        })
        .collect::<Vec<_>>()
        .join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crumbs_are_read_and_written_back() {
        let text = "20 s, 60 %, 2 x 80 %, weak";
        let crumbs = read_crumbs("crumbs", text).unwrap();
        assert_eq!(crumbs.len(), 5);
        assert_eq!(crumbs[4], Crumb::TooWeak);
        assert_eq!(write_crumbs(&crumbs), text);
        assert_eq!(read_crumbs("crumbs", "1 min\n60 %").unwrap().len(), 2);
    }

    #[test]
    fn what_cannot_be_read_is_told() {
        for text in ["", "good", "60", "0 x 60 %", "120 %", "9999 s"] {
            let told = read_crumbs("crumbs", text).unwrap_err();
            assert_eq!(told.field, "crumbs", "{text}");
            assert!(!told.accepted.is_empty(), "{text}");
        }
    }
}
