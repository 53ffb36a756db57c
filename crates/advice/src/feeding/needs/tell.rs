//! A bed's needs in a grower's words.

use book::model::UnitSystem;
use ground::kit::{Provenance, Step};

use super::soil_test::SoilTest;
use super::{BedNeed, Need, NeedBasis};
use crate::feeding::{mass, rate};
use crate::words;

/// Puts everything into words.
pub(super) fn tell(need: &mut BedNeed, tests: &[Option<SoilTest>; 3], units: UnitSystem) {
    let mut lines: Vec<String> = need.needs.iter().map(|one| sentence(one, need, units)).collect();
    for test in tests.iter().flatten() {
        if test.odds.len() > 1 {
            let odds: Vec<String> = test
                .odds
                .iter()
                .take(3)
                .map(|(class, odds)| format!("{class} {}", words::odds(*odds)))
                .collect();
            lines.push(format!(
                "{} of {}: {}. A figure near the edge of a class may belong to the next.",
                words::capital(test.analyte.words()),
                test.on,
                odds.join(", ")
            ));
        }
    }
    need.lines = lines;
    let mut working = tests.iter().flatten().map(test_step).collect::<Vec<_>>();
    working.append(&mut need.working);
    working.extend(need.needs.iter().map(|one| need_step(one, units)));
    need.working = working;
}

fn sentence(one: &Need, need: &BedNeed, units: UnitSystem) -> String {
    let what = words::capital(one.nutrient.words());
    let symbol = one.nutrient.symbol();
    let kg = one.target_g_m2 * need.area_m2 / 1000.0;
    let mut text = if one.gross_g_m2[1] <= 0.0 {
        format!("{what} ({symbol}): none is needed")
    } else if one.target_g_m2 <= 0.0 {
        format!("{what} ({symbol}): none more; what is credited covers it")
    } else {
        format!(
            "{what} ({symbol}): {}, which is {} for {}",
            rate(one.target_g_m2, units),
            mass(kg, units),
            if need.beds > 1 { "all of these beds" } else { "this bed" }
        )
    };
    if one.p80_g_m2 > 1.02 * one.target_g_m2 {
        text.push_str(&format!("; {} to be enough in four years of five", rate(one.p80_g_m2, units)));
    }
    text.push('.');
    match one.basis {
        NeedBasis::Scheme => {}
        NeedBasis::Own => text.push_str(" By the farm's own rate."),
        NeedBasis::Replacement => text.push_str(
            " That is only what the hoped-for harvest carries away: where the ground is short it needs more.",
        ),
    }
    if one.provenance == Provenance::Recalled && one.basis == NeedBasis::Scheme {
        text.push_str(" The rate is an unverified copy, recalled and not read again.");
    }
    text
}

fn test_step(test: &SoilTest) -> Step {
    Step {
        finds: format!("class of {}", test.analyte.words()),
        rule: "the scheme's limits".to_owned(),
        with_numbers: format!("{} on {}", test.printed, test.on),
        result: match test.reading.class() {
            Some(found) => format!("{}: {}", found.class, found.standing.words()),
            None => "no class".to_owned(),
        },
        source: None,
    }
}

fn need_step(one: &Need, units: UnitSystem) -> Step {
    Step {
        finds: format!("{} to give", one.nutrient.words()),
        rule: format!("rate less credits; {}", one.from),
        with_numbers: format!(
            "{}{} − {}",
            rate(one.gross_g_m2[1], units),
            if one.class.is_empty() { String::new() } else { format!(" (class {})", one.class) },
            rate(one.credited_g_m2, units)
        ),
        result: rate(one.target_g_m2, units),
        source: None,
    }
}
