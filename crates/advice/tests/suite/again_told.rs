//! What looking again says and must not say: losses that are no gains, rises that chance makes, harvests that go on.

use advice::again::effects::ByItself;
use advice::again::{Property, Walk, tell, visits};
use advice::demo;
use book::model::seen::{ElectricalConductivity, Salinity, SalinityExtract, SpadeBlock};
use book::model::{Harvest, HarvestMass, PlantedCrop, PlantedHow, Planting, Seen, UnitSystem};
use ground::kit::Bounded;
use ground::structure::spade::worms::{BlockSide, WormCount, WormInput};
use ground::trend::yearly::Direction;
use jiff::ToSpan;
use jiff::civil::date;

use crate::again::Tested;
use crate::yard::{Yard, stamp};

const PLOT: &str = "New ground";

/// A block of one cubic foot, so that worms found are worms in a cubic foot.
fn worms(farm: &mut Yard, year: i16, count: f64) {
    let side = BlockSide::literal(30.48);
    let worms =
        WormInput { worms: WormCount::literal(count), length_cm: side, width_cm: side, depth_cm: side };
    let block = SpadeBlock { layers: Vec::new(), signs: Vec::new(), worms: Some(worms) };
    farm.see(farm.plot(PLOT), date(year, 4, 6), Seen::Spade(block));
}

#[test]
fn a_loss_beyond_the_plots_left_alone_is_no_gain() {
    let mut farm = Yard::demo();
    for (name, before, after) in [(PLOT, 6.6, 5.6), ("Hill field", 6.0, 6.0), ("Lower clay", 6.3, 6.4)] {
        farm.ph(name, date(2024, 9, 10), "A", before);
        farm.ph(name, date(2025, 9, 12), "A", after);
    }
    farm.lime(PLOT, date(2024, 10, 1));
    let told = farm.told(PLOT);
    let effect = told.effects.iter().find(|one| one.property == Property::PhWater).expect("lime");
    let beyond = effect.left_alone.as_ref().expect("two plots").beyond;
    assert!(beyond.credible && beyond.change < 0.0, "{beyond:?}");
    let said = tell::effect(effect, UnitSystem::Metric).join(" ");
    assert!(
        !said.contains("gained") && said.contains("the other way from what the work is done for"),
        "{said}"
    );
}

#[test]
fn what_comes_by_itself_is_a_rise_and_no_share_of_a_share() {
    let mut farm = Yard::demo();
    farm.ph(PLOT, date(2024, 9, 10), "A", 5.2);
    farm.ph(PLOT, date(2025, 9, 12), "A", 6.3);
    farm.lime(PLOT, date(2024, 10, 1));
    let mut effect = farm.told(PLOT).effects[0].clone();
    let by_itself =
        |expected_step: f64| Some(ByItself { plots: 5, mean: 40.0, reliability: 0.8, expected_step });
    // Steps of phosphorus are told as ratios: ln 1.05 is a rise of 5 %, ln 0.9 a fall of 10 % (arithmetic).
    effect.property = Property::Phosphorus;
    effect.by_itself = by_itself(1.05_f64.ln());
    let said = tell::effect(&effect, UnitSystem::Metric).join(" ");
    assert!(said.contains("a rise of 5 % would be expected with nothing done"), "{said}");
    effect.by_itself = by_itself(0.9_f64.ln());
    let said = tell::effect(&effect, UnitSystem::Metric).join(" ");
    assert!(said.contains("a fall of 10 % would be expected"), "{said}");
}

#[test]
fn work_on_the_day_of_the_later_test_is_not_in_it() {
    let mut farm = Yard::demo();
    farm.ph(PLOT, date(2024, 9, 10), "A", 5.2);
    farm.ph(PLOT, date(2025, 9, 12), "A", 5.3);
    farm.lime(PLOT, date(2025, 9, 12));
    assert!(farm.told(PLOT).effects.is_empty());
    // On the day of the earlier test it came after the bag was filled.
    farm.lime(PLOT, date(2024, 9, 10));
    assert_eq!(farm.told(PLOT).effects.len(), 1);
}

#[test]
fn a_test_too_soon_is_told_in_a_whole_sentence() {
    let mut farm = Yard::demo();
    farm.ph(PLOT, date(2026, 2, 10), "A", 5.2);
    farm.lime(PLOT, date(2026, 3, 1));
    farm.ph(PLOT, date(2026, 5, 1), "A", 5.4);
    let said = tell::effect(&farm.told(PLOT).effects[0], UnitSystem::Metric).join(" ");
    assert!(said.contains("a test 6 to 12 months after liming tells it."), "{said}");
}

/// 2 of the 4! orders of four years are steady, a chance of 0.083 (Kendall): no trend at the usual 0.05.
#[test]
fn four_steady_years_are_no_trend() {
    let mut farm = Yard::demo();
    for (year, value) in [(2023, 2.10), (2024, 2.11), (2025, 2.12), (2026, 2.13)] {
        farm.organic(PLOT, date(year, 4, 6), value);
    }
    let told = farm.told(PLOT);
    let organic = told.series.iter().find(|one| one.property == Property::OrganicMatter).expect("tests");
    assert_eq!(organic.direction, Some(Direction::NotShown));
    assert!(!tell::lead(&told, demo::DAY).contains("organic matter rises"));
    let said = tell::series(organic, UnitSystem::Metric);
    assert!(said.contains("one more year is needed"), "{said}");
    // A slope that chance makes does not put the next look off: three years after the last.
    let soil = told.visits.iter().find(|visit| visit.walk == Walk::SoilTest).expect("a test");
    let look = soil.looks.iter().find(|look| look.property == Property::OrganicMatter).expect("it is along");
    assert_eq!(look.due, date(2029, 4, 6));
}

#[test]
fn structure_is_looked_at_each_year_whatever_its_slope() {
    for counts in [[30.0, 31.0, 30.0, 31.0, 30.0], [30.0, 31.0, 32.0, 33.0, 34.0]] {
        let mut farm = Yard::demo();
        for (year, count) in (2021..).zip(counts) {
            worms(&mut farm, year, count);
        }
        let spade = visits(&farm.snapshot(), farm.plot(PLOT), demo::DAY)
            .into_iter()
            .find(|visit| visit.walk == Walk::Spade)
            .expect("a spade block");
        let look = spade.looks.iter().find(|look| look.property == Property::Worms).expect("worms");
        assert_eq!(look.due, date(2026, 4, 6), "{counts:?}: {}", look.why);
    }
}

/// A cubic foot is 28.317 L (exact inch), so 18 worms in it are 6.4 in ten litres.
#[test]
fn earthworms_are_told_in_a_volume_of_the_reader() {
    let mut farm = Yard::demo();
    worms(&mut farm, 2025, 18.0);
    let told = farm.told(PLOT);
    let worms = told.series.iter().find(|one| one.property == Property::Worms).expect("a count");
    let us = tell::series(worms, UnitSystem::UsCustomary);
    assert!(us.starts_with("Earthworms 18 in a cubic foot on"), "{us}");
    let metric = tell::series(worms, UnitSystem::Metric);
    assert!(metric.starts_with("Earthworms 6 in ten litres of ground on"), "{metric}");
}

#[test]
fn a_step_from_nothing_says_why_it_is_not_told() {
    let mut farm = Yard::demo();
    for (year, value) in [(2024, 0.0), (2025, 0.4)] {
        let ec_ds_m = ElectricalConductivity::literal(value);
        farm.see(
            farm.plot(PLOT),
            date(year, 4, 6),
            Seen::Salinity(Salinity { ec_ds_m, extract: SalinityExtract::OneToOne }),
        );
    }
    let told = farm.told(PLOT);
    let salts = told.series.iter().find(|one| one.property == Property::Salts).expect("two readings");
    let said = tell::series(salts, UnitSystem::Metric);
    assert!(!said.contains("since .") && said.contains("one of the two is nothing"), "{said}");
}

#[test]
fn organic_matter_or_salts_alone_leave_the_soil_test_due() {
    let mut farm = Yard::demo();
    farm.organic(PLOT, date(2026, 4, 6), 2.4);
    let soil = visits(&farm.snapshot(), farm.plot(PLOT), demo::DAY)
        .into_iter()
        .find(|visit| visit.walk == Walk::SoilTest)
        .expect("a test");
    assert_eq!((soil.from, soil.last), (demo::DAY, None));
    assert!(tell::looks(&soil).contains("pH"), "{}", tell::looks(&soil));
}

#[test]
fn a_harvest_that_goes_on_is_no_yield_yet() {
    let mut farm = Yard::demo();
    let tunnel = farm.plot("East tunnel");
    let yields = |farm: &Yard| {
        let told = farm.told("East tunnel");
        let series = told.series.iter().filter(|one| one.property == Property::Yield);
        series.map(|one| one.readings.len()).sum::<usize>()
    };
    let before = yields(&farm);
    let bed = farm.snapshot().beds_of(tunnel).next().expect("it has beds").id;
    let mut planting = Planting {
        bed,
        crop: PlantedCrop::Catalogue("tomato".to_owned()),
        planted_on: demo::DAY.saturating_sub(60.days()),
        how: PlantedHow::Transplanted,
        harvest_on: Some(demo::DAY.saturating_add(30.days())),
        ended_on: None,
        mulch: None,
        yield_goal_kg: None,
        note: String::new(),
    };
    let mut pick = |planting: &Planting| {
        let planting = farm.book.record(planting.clone(), &stamp()).expect("it is planted").id;
        let on = demo::DAY.saturating_sub(3.days());
        let harvest = Harvest { planting, on, kg: HarvestMass::literal(4.0), note: String::new() };
        farm.book.record(harvest, &stamp()).expect("it is picked");
        yields(&farm)
    };
    assert_eq!(pick(&planting), before, "the first picking is not the year's yield");
    planting.harvest_on = None;
    assert_eq!(pick(&planting), before, "nobody said that it is over");
    planting.ended_on = Some(demo::DAY.saturating_sub(1.days()));
    assert_eq!(pick(&planting), before + 1);
}
