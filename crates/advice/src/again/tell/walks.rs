//! Walks to look again: when they suit, what is looked at, and why then.

use book::model::month_name;
use jiff::civil::Date;

use super::super::next::{Look, Purpose, Visit};
use crate::words;

/// The heading a walk stands under in a list by time.
#[must_use]
pub fn group(visit: &Visit, today: Date) -> String {
    if visit.is_late() {
        "Late".to_owned()
    } else if visit.from <= today {
        "Now".to_owned()
    } else {
        format!("{} {}", month_name(visit.from.month()), visit.from.year())
    }
}

/// When a walk suits: "from 22 March to 3 May 2027", "was due by 3 May 2026".
#[must_use]
pub fn when(visit: &Visit, today: Date) -> String {
    if let Some([_, to]) = visit.missed {
        let next = if visit.from <= today {
            format!("it can be made now, until {}", words::day(visit.to))
        } else {
            format!("the same season comes again from {} to {}", words::day(visit.from), words::day(visit.to))
        };
        return format!("was due by {}; {next}", words::day(to));
    }
    if visit.from <= today {
        return format!("now, until {}", words::day(visit.to));
    }
    format!("from {} to {}", words::day(visit.from), words::day(visit.to))
}

/// What is looked at on a walk, in a line: "pH in water, phosphorus (Mehlich-1)".
#[must_use]
pub fn looks(visit: &Visit) -> String {
    if visit.looks.is_empty() || visit.last.is_none() {
        return "pH, phosphorus, potassium, magnesium, organic matter".to_owned();
    }
    visit.looks.iter().map(|look| look.name.as_str()).collect::<Vec<_>>().join(", ")
}

/// Why a walk then, and when each was last looked at.
#[must_use]
pub fn reasons(visit: &Visit) -> Vec<String> {
    let mut lines = visit.why.clone();
    if let (Some([_, to]), None) = (visit.missed, visit.after_lime) {
        lines.push(format!(
            "Its season went by on {} without it. {}",
            words::day(to),
            if visit.looks.iter().any(|look| look.purpose == Purpose::Decide) {
                "In the same season of a later year it compares best; where you spread before that, test before you spread, and read the step with more doubt."
            } else {
                "In the same season of a later year it compares best."
            }
        ));
    }
    if let Some(last) = visit.last {
        lines.push(format!(
            "The last time was {}; the same month, depth, places and laboratory make the two compare.",
            words::day(last)
        ));
    }
    lines
}

/// One look, in a line: "pH in water: last on 16 March 2026, again from 16 March 2029".
#[must_use]
pub fn look(look: &Look) -> String {
    let last = look
        .last
        .map_or_else(|| "never looked at".to_owned(), |last| format!("last on {}", words::day(last)));
    format!(
        "{}: {last}, again from {}. {}. {}.",
        words::capital(&look.name),
        words::day(look.due),
        words::capital(&look.why),
        words::capital(look.provenance_words)
    )
}
