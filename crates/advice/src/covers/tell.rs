//! Covers in a grower's words and measures.

use book::model::UnitSystem;
use ground::covers::species::{KG_HA_PER_LB_AC, Range};
use ground::kit::units::in_units;
use jiff::civil::Date;

use super::choose::{CoverAnswer, CoverLine};
use super::gaps::{BedGap, BedYear};
use super::mixes::MixLine;
use crate::words::{self, day};

/// A mass on an area in round figures: "3,400 lb/acre", "3800 kg/ha".
#[must_use]
pub fn per_area(kg_ha: f64, units: UnitSystem) -> String {
    let (value, unit) = match units {
        UnitSystem::UsCustomary => (kg_ha / KG_HA_PER_LB_AC, "lb/acre"),
        UnitSystem::Metric => (kg_ha, "kg/ha"),
    };
    format!("{} {unit}", rounded(value))
}

/// The same of a range: "1800 to 4500 lb/acre".
#[must_use]
pub fn range_per_area(range: Range, units: UnitSystem) -> String {
    let (by, unit) = match units {
        UnitSystem::UsCustomary => (1.0 / KG_HA_PER_LB_AC, "lb/acre"),
        UnitSystem::Metric => (1.0, "kg/ha"),
    };
    let (low, high) = (rounded(by * range.low), rounded(by * range.high));
    if low == high { format!("{high} {unit}") } else { format!("{low} to {high} {unit}") }
}

/// Nitrogen on an area: "55 lb/acre".
#[must_use]
pub fn nitrogen_rate(kg_ha: f64, units: UnitSystem) -> String {
    let (value, unit) = match units {
        UnitSystem::UsCustomary => (kg_ha / KG_HA_PER_LB_AC, "lb/acre"),
        UnitSystem::Metric => (kg_ha, "kg/ha"),
    };
    format!("{value:.0} {unit}")
}

/// To two figures.
fn rounded(value: f64) -> String {
    if value < 10.0 {
        return format!("{value:.0}");
    }
    let mut step = 1.0;
    while value / step >= 100.0 {
        step *= 10.0;
    }
    format!("{:.0}", (value / step).round() * step)
}

/// A gap in a line: "12 August to 12 May, 273 days, between cabbage and tomato".
#[must_use]
pub fn gap_line(gap: &BedGap) -> String {
    let mut line = format!("{} to {}, {} days", day(gap.from), day(gap.to), gap.days);
    match (&gap.before, &gap.after) {
        (Some(before), Some(after)) => {
            line.push_str(&format!(", between {} and {}", before.name, after.name))
        }
        (Some(before), None) => {
            line.push_str(&format!(", after {}; nothing is planned after it", before.name))
        }
        (None, Some(after)) => line.push_str(&format!(", before {}", after.name)),
        (None, None) => line.push_str("; nothing is planned in this bed"),
    }
    line
}

/// The farm's gaps in a sentence.
#[must_use]
pub fn headline(beds: &[BedYear]) -> String {
    let with: Vec<&BedYear> = beds.iter().filter(|bed| !bed.gaps.is_empty()).collect();
    match (beds.len(), with.len()) {
        (0, _) => "No bed is written down yet.".to_owned(),
        (_, 0) => "No bed lies bare for three weeks or more in the coming year, as far as is written down."
            .to_owned(),
        (_, beds) => {
            let gaps: usize = with.iter().map(|bed| bed.gaps.len()).sum();
            format!(
                "{gaps} gap{} of three weeks or more in {beds} bed{} over the coming year.",
                if gaps == 1 { "" } else { "s" },
                if beds == 1 { "" } else { "s" }
            )
        }
    }
}

/// What is best, in a sentence or two.
#[must_use]
pub fn lead(answer: &CoverAnswer) -> String {
    if answer.covers.is_empty() {
        return "Nothing can be ranked yet.".to_owned();
    }
    let best: Vec<&CoverLine> = answer.covers.iter().filter(|line| answer.best.contains(&line.key)).collect();
    match best.split_first() {
        None => {
            "No cover of the table serves all of this in this gap: ask for less, or sow a mix.".to_owned()
        }
        Some((first, rest)) => {
            let mut text = format!("{}: {}.", words::capital(&first.name), first.firmness_words);
            if !rest.is_empty() {
                let names: Vec<&str> = rest.iter().map(|line| line.name.as_str()).collect();
                text.push_str(&format!(" Then {}.", names.join(", ")));
            }
            text
        }
    }
}

/// When it may be sown, with its odds.
#[must_use]
pub fn window(sure: Option<Date>, even: Option<Date>, from: Date) -> String {
    match (sure, even) {
        (Some(sure), Some(even)) if even > sure => format!(
            "sow from {} to {} to be nine times of ten in time; to {} it is even odds",
            day(from),
            day(sure),
            day(even)
        ),
        (Some(sure), _) => format!("sow from {} to {} to be nine times of ten in time", day(from), day(sure)),
        (None, Some(even)) => {
            format!(
                "sow from {} to {} for even odds; nine times of ten are not to be had",
                day(from),
                day(even)
            )
        }
        (None, None) => "no day of the gap gives it even odds".to_owned(),
    }
}

/// How well a cover serves each purpose: "smother weeds: very good; feed nitrogen: poor".
#[must_use]
pub fn ratings(line: &CoverLine) -> String {
    const WORDS: [&str; 5] = ["poor", "fair", "good", "very good", "excellent"];
    let each: Vec<String> = line
        .ratings
        .iter()
        .map(|one| format!("{}: {}", one.purpose, WORDS[usize::from(one.rating.min(4))]))
        .collect();
    each.join("; ")
}

/// When it is sown and what growth to expect, what the winter does, how it ends, and its seed.
#[must_use]
pub fn course(line: &CoverLine) -> Vec<String> {
    let mut lines =
        vec![format!("When: {}. Growth to expect: {} of dry matter.", line.window, line.dry_matter)];
    lines.extend((!line.winter.is_empty()).then(|| line.winter.clone()));
    lines.push(line.end.clone());
    let seed = &line.seed;
    let recalled = if seed.recalled { ", recalled" } else { "" };
    let inoculant = if seed.inoculant.is_empty() {
        String::new()
    } else {
        format!(", with the inoculant for {}", seed.inoculant)
    };
    lines.push(format!(
        "Seed: {} ({} of live seed{recalled}), {} deep{inoculant}.",
        seed.carried, seed.rate, seed.depth
    ));
    lines
}

/// Which of its figures are recalled.
#[must_use]
pub fn recalled(line: &CoverLine) -> Option<String> {
    (!line.recalled.is_empty()).then(|| format!("Recalled and not read again: {}.", line.recalled))
}

/// A mix: what it is for, its seed, its depth and its inoculants.
#[must_use]
pub fn mix(mix: &MixLine) -> Vec<String> {
    let note = if mix.note.is_empty() { String::new() } else { format!(" {}", mix.note) };
    let mut lines = vec![format!("For {}.{note}", mix.purpose)];
    lines.extend(mix.seeds.iter().map(|seed| format!("{}: {} ({})", seed.name, seed.carried, seed.rate)));
    let inoculants = if mix.inoculants.is_empty() {
        String::new()
    } else {
        format!(" Inoculants: {}.", mix.inoculants.join(", "))
    };
    lines.push(format!("Depth: {}.{inoculants} Mixes and their shares are common practice.", mix.depth));
    lines
}

/// Sentences in the farm's measures.
pub(super) fn in_measures(lines: &mut [String], units: UnitSystem) {
    for line in lines {
        *line = in_units(line, units);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 lb/acre is 1.120851 kg/ha (pound and acre exact).
    #[test]
    fn masses_on_an_area_are_told_in_round_figures() {
        assert_eq!(per_area(3363.0, UnitSystem::UsCustomary), "3000 lb/acre");
        assert_eq!(per_area(3363.0, UnitSystem::Metric), "3400 kg/ha");
        assert_eq!(nitrogen_rate(56.0, UnitSystem::UsCustomary), "50 lb/acre");
        assert_eq!(range_per_area(Range { low: 0.0, high: 987.0 }, UnitSystem::Metric), "0 to 990 kg/ha");
    }
}
