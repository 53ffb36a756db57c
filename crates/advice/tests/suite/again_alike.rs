//! What looking again puts together: readings made alike, whatever was read in between, and none that a season does not part.

use advice::again::{Property, tell};
use advice::demo;
use book::model::{Seen, UnitSystem};
use ground::kit::Bounded;
use ground::texture::lab::{LabProcedure, LabTexture, SiltLimit};
use ground::trend::yearly::Direction;
use jiff::civil::date;

use crate::again::Tested;
use crate::yard::Yard;

const PLOT: &str = "New ground";

fn texture(farm: &mut Yard, on: jiff::civil::Date, [sand, silt, clay]: [f64; 3]) {
    let seen = Seen::LabTexture(LabTexture {
        sand_percent: Bounded::literal(sand),
        silt_percent: Bounded::literal(silt),
        clay_percent: Bounded::literal(clay),
        silt_limit: SiltLimit::default(),
        procedure: LabProcedure::default(),
    });
    farm.see(farm.plot(PLOT), on, seen);
}

/// Seven steady years: the exact two-sided chance is 2 / 7! = 0.0004 (Kendall).
#[test]
fn a_reading_at_another_laboratory_does_not_wipe_out_the_trend() {
    let mut farm = Yard::demo();
    for (year, value) in (2019..).zip([5.6, 5.7, 5.8, 5.9, 6.0, 6.1, 6.2]) {
        farm.ph(PLOT, date(year, 4, 6), "A", value);
    }
    farm.ph(PLOT, date(2018, 4, 6), "B", 6.0);
    farm.ph(PLOT, date(2026, 4, 6), "B", 6.05);
    let told = farm.told(PLOT);
    let ph = told.series.iter().find(|one| one.property == Property::PhWater).expect("tests");
    assert_eq!((ph.readings.len(), ph.strands.len()), (9, 2));
    assert_eq!((ph.direction, ph.years.len(), ph.strands[ph.told].places[0]), (Some(Direction::Rises), 7, 1));
    let said = tell::series(ph, UnitSystem::Metric);
    for part in [
        "pH in water 5.6 → 6.2: more than",
        "In 7 yearly readings, 2019 to 2025, it rises by 0.1",
        "p below 0.01",
        "read alike (A, 0–15 cm; 2019 to 2025)",
        "Read otherwise (B, 0–15 cm; 2018 to 2026): 6.0 →",
    ] {
        assert!(said.to_lowercase().contains(&part.to_lowercase()), "no {part}: {said}");
    }
    assert!(!said.contains("p 0.00") && !said.contains("Over 7 years"), "{said}");
    let lead = tell::lead(&told, demo::DAY);
    assert!(lead.starts_with("More than scatter: pH in water rises."), "{lead}");
}

#[test]
fn a_last_reading_that_compares_with_none_is_told_apart() {
    let mut farm = Yard::demo();
    farm.ph(PLOT, date(2022, 4, 6), "A", 5.6);
    farm.ph(PLOT, date(2024, 4, 6), "A", 5.7);
    farm.ph(PLOT, date(2026, 4, 6), "B", 6.4);
    let told = farm.told(PLOT);
    let ph = told.series.iter().find(|one| one.property == Property::PhWater).expect("tests");
    let said = tell::series(ph, UnitSystem::Metric);
    assert!(
        said.contains("5.6 → 5.7") && said.contains("compares with none of them, since the laboratory"),
        "{said}"
    );
    // Two that do not compare at all are no change that scatter hides.
    let mut farm = Yard::demo();
    farm.ph(PLOT, date(2024, 4, 6), "A", 5.6);
    farm.ph(PLOT, date(2026, 4, 6), "B", 6.4);
    let told = farm.told(PLOT);
    let lead = tell::lead(&told, demo::DAY);
    assert!(!lead.contains("not more than scatter") && lead.contains("same way"), "{lead}");
}

/// 60 days are our judgement of a season.
#[test]
fn readings_days_apart_are_no_change_over_time() {
    let mut farm = Yard::demo();
    texture(&mut farm, date(2026, 5, 2), [64.0, 26.0, 10.0]);
    texture(&mut farm, date(2026, 5, 4), [4.0, 22.0, 74.0]);
    let told = farm.told(PLOT);
    let sand = told.series.iter().find(|one| one.property == Property::Sand).expect("two tests");
    assert!(sand.step.is_none() && !sand.compares());
    let said = tell::series(sand, UnitSystem::Metric);
    assert!(said.contains("side by side") && !said.contains('→'), "{said}");
    assert!(said.contains("the places or the tests differ"), "{said}");
    assert!(!tell::lead(&told, demo::DAY).contains("sand"), "{}", tell::lead(&told, demo::DAY));
    texture(&mut farm, date(2026, 1, 4), [64.0, 26.0, 10.0]);
    let told = farm.told(PLOT);
    let sand = told.series.iter().find(|one| one.property == Property::Sand).expect("three tests");
    assert!(sand.step.is_some_and(|step| step.from == date(2026, 1, 4)));
}

/// A share of the whole lies between 0 and 100 (arithmetic).
#[test]
fn no_range_and_no_limit_lies_beyond_what_can_be() {
    let mut farm = Yard::demo();
    texture(&mut farm, date(2024, 5, 2), [4.0, 6.0, 90.0]);
    texture(&mut farm, date(2026, 5, 4), [4.0, 7.0, 89.0]);
    let told = farm.told(PLOT);
    let mut shares = 0;
    for series in &told.series {
        let [least, most] = series.property.bounds();
        for reading in &series.readings {
            let [low, high] = reading.range(series.property);
            assert!(least <= low && low <= high && high <= most, "{:?} {low} {high}", series.property);
        }
        if matches!(series.property, Property::Clay | Property::Sand) {
            let step = series.step.expect("two years apart");
            assert!(step.shows_above > most || step.shows_below < least, "{step:?}");
            let said = tell::series(series, UnitSystem::Metric);
            assert_eq!(said.contains("above "), step.shows_above < most, "{said}");
            assert_eq!(said.contains("below "), step.shows_below > least, "{said}");
            shares += 1;
        }
    }
    assert_eq!(shares, 2);
}
