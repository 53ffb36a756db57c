//! Looking again: series cut where they no longer compare, steps and trends told from scatter, what came by itself,
//! and when to look next.

use advice::again::effects::Work;
use advice::again::{PlotAgain, Property, Walk, farm_again, plot_again, tell, visits};
use advice::demo;
use advice::work::proposals;
use book::model::{
    Application, Observation, Placed, Sample, SampleDepth, Seen, SpreadMass, SpreadMaterial, UnitSystem,
};
use ground::fertility::analysis::report::{Amount, Analyte, LabFigure, LabReport, Procedure, ReportUnit};
use ground::kit::Bounded;
use ground::trend::breaks::Changed;
use ground::trend::yearly::Direction;
use jiff::civil::{Date, date};

use crate::yard::{Yard, stamp};

/// What these tests do with the demonstration.
pub(crate) trait Tested {
    fn told(&self, name: &str) -> PlotAgain;
    /// A soil test of a bag of sixteen cores.
    fn test(
        &mut self,
        name: &str,
        on: Date,
        laboratory: &str,
        figures: &[(Analyte, Procedure, ReportUnit, f64)],
    );
    fn ph(&mut self, name: &str, on: Date, laboratory: &str, value: f64);
    fn organic(&mut self, name: &str, on: Date, value: f64);
    fn lime(&mut self, name: &str, on: Date);
}

impl Tested for Yard {
    fn told(&self, name: &str) -> PlotAgain {
        plot_again(&self.snapshot(), self.plot(name), demo::DAY).expect("the plot is there")
    }

    fn test(
        &mut self,
        name: &str,
        on: Date,
        laboratory: &str,
        figures: &[(Analyte, Procedure, ReportUnit, f64)],
    ) {
        let plot = self.plot(name);
        let sample = Sample {
            plot,
            taken_on: on,
            from_cm: SampleDepth::literal(0.0),
            to_cm: SampleDepth::literal(15.0),
            cores: Some(16),
            taken_by: String::new(),
            bag_label: String::new(),
            import: None,
            spot: None,
            note: String::new(),
        };
        let sample = self.book.record(sample, &stamp()).expect("it is recorded").id;
        let figures = figures
            .iter()
            .map(|(analyte, procedure, unit, value)| LabFigure {
                analyte: *analyte,
                procedure: *procedure,
                unit: *unit,
                amount: Amount::Exactly(*value),
            })
            .collect();
        let seen = Seen::LabReport(LabReport { figures, ..LabReport::new(laboratory) });
        let body = Observation {
            plot,
            sample: Some(sample),
            seen_on: on,
            seen_by: String::new(),
            note: String::new(),
            import: None,
            spot: None,
            seen,
        };
        self.book.record(body, &stamp()).expect("it is recorded");
    }

    fn ph(&mut self, name: &str, on: Date, laboratory: &str, value: f64) {
        self.test(name, on, laboratory, &[(Analyte::PhWater, Procedure::NotStated, ReportUnit::None, value)]);
    }

    fn organic(&mut self, name: &str, on: Date, value: f64) {
        let figure = (Analyte::OrganicMatter, Procedure::LossOnIgnition, ReportUnit::Percent, value);
        self.test(name, on, "A", &[figure]);
    }

    fn lime(&mut self, name: &str, on: Date) {
        let body = Application {
            plot: self.plot(name),
            bed: None,
            spread: SpreadMaterial::Catalogue("calcitic-lime".to_owned()),
            on,
            kg: SpreadMass::literal(50.0),
            placed: Placed::Incorporated,
            job: None,
            note: String::new(),
        };
        self.book.record(body, &stamp()).expect("it is recorded");
    }
}

#[test]
fn the_demonstration_is_cut_where_the_laboratory_changed_and_rises_after_it() {
    let farm = Yard::demo();
    let told = farm.told("Creek field");
    let ph = told.series.iter().find(|one| one.property == Property::PhWater).expect("tests");
    assert_eq!(ph.readings.len(), 6);
    assert_eq!(ph.stretches, [[0, 1], [1, 6]]);
    assert!(
        matches!(&ph.changed[1][0], Changed::Laboratory { from, .. } if from == "Weir House soil laboratory")
    );
    assert!(ph.changed[2].iter().any(|changed| matches!(changed, Changed::Cores { from: 18, to: 6 })));
    // Five years, every step one way: the exact two-sided chance is 2 / 5! (Kendall).
    assert_eq!(ph.direction, Some(Direction::Rises));
    assert!((ph.trend.as_ref().expect("five years").ranks.p_two_sided - 2.0 / 120.0).abs() < 1e-12);
    let said = tell::series(ph, UnitSystem::UsCustomary);
    assert!(said.contains("5.7 → 6.2") && said.contains("rises by 0.1"), "{said}");
    let changes = tell::changes(ph, UnitSystem::UsCustomary);
    assert!(changes[0].contains("Weir House") && changes[0].contains("cut"), "{changes:?}");
    assert!(
        changes.iter().any(|line| line.contains("6 cores") && line.contains("does not cut")),
        "{changes:?}"
    );
}

/// u from the project's own figures: 0.3 for loss on ignition, and a quarter of the value over the root of 16 cores.
#[test]
fn organic_matter_from_2_1_to_2_6_percent_is_not_more_than_scatter() {
    let mut farm = Yard::demo();
    farm.organic("New ground", date(2023, 4, 2), 2.1);
    farm.organic("New ground", date(2026, 4, 6), 2.6);
    let told = farm.told("New ground");
    let organic = told.series.iter().find(|one| one.property == Property::OrganicMatter).expect("tests");
    let step = organic.step.expect("two tests");
    let u = |value: f64| (0.3_f64.powi(2) + (0.25 * value / 4.0).powi(2)).sqrt();
    let least = 1.96 * (u(2.1).powi(2) + u(2.6).powi(2)).sqrt();
    assert!((step.difference.least_credible_change - least).abs() < 1e-9 && !step.difference.credible);
    let said = tell::series(organic, UnitSystem::Metric);
    assert!(
        said.starts_with("Organic matter 2.1 → 2.6 %: not yet more than the laboratory's own scatter"),
        "{said}"
    );
    // Two of the n! orders are steady: 2/4! is 0.083, and 2/5! below the usual 0.05 (Kendall).
    assert_eq!(organic.years_missing, 3);
}

#[test]
fn two_laboratories_do_not_compare() {
    let mut farm = Yard::demo();
    farm.ph("New ground", date(2024, 4, 2), "A", 5.4);
    farm.ph("New ground", date(2026, 4, 6), "B", 6.4);
    let told = farm.told("New ground");
    let ph = told.series.iter().find(|one| one.property == Property::PhWater).expect("tests");
    assert!(ph.step.is_none() && ph.trend.is_none());
    let said = tell::series(ph, UnitSystem::Metric);
    assert!(said.contains("do not compare, since the laboratory changed from A to B"), "{said}");
}

#[test]
fn what_lime_did_is_freed_of_what_came_by_itself_and_held_against_plots_left_alone() {
    let mut farm = Yard::demo();
    for (name, before, after) in [
        ("New ground", 5.2, 6.3),
        ("Hill field", 6.0, 6.0),
        ("Lower clay", 6.3, 6.4),
        ("Young orchard", 6.2, 6.1),
    ] {
        farm.ph(name, date(2024, 9, 10), "A", before);
        farm.ph(name, date(2025, 9, 12), "A", after);
    }
    farm.lime("New ground", date(2024, 10, 1));
    let told = farm.told("New ground");
    let effect = told.effects.iter().find(|one| one.property == Property::PhWater).expect("lime acts on pH");
    assert_eq!(effect.done[0].work, Work::Lime);
    assert!(effect.step.expect("one laboratory").difference.credible && !effect.too_soon);
    let by_itself = effect.by_itself.expect("the sourest of the plots");
    assert!(
        by_itself.plots >= 4 && by_itself.expected_step > 0.0 && by_itself.expected_step < 0.5,
        "{by_itself:?}"
    );
    let alone = effect.left_alone.as_ref().expect("three plots without lime");
    assert_eq!(alone.plots.len(), 3);
    assert!(alone.mean_step.abs() < 0.1 && (alone.beyond.change - 1.1).abs() < 0.05 && alone.beyond.credible);
    let said = tell::effect(effect, UnitSystem::Metric).join(" ");
    assert!(said.contains("regression to the mean") && said.contains("Left alone"), "{said}");
}

#[test]
fn a_test_soon_after_lime_says_so_and_the_next_look_waits_for_the_lime() {
    let mut farm = Yard::demo();
    farm.ph("New ground", date(2026, 2, 10), "A", 5.2);
    farm.lime("New ground", date(2026, 3, 1));
    farm.ph("New ground", date(2026, 5, 1), "A", 5.4);
    let told = farm.told("New ground");
    assert!(told.effects[0].too_soon);
    // Retest 6 to 12 months after liming, not before: Cornell and Missouri extension.
    let soil = told.visits.iter().find(|visit| visit.walk == Walk::SoilTest).expect("a test");
    assert_eq!((soil.from, soil.to), (date(2026, 9, 1), date(2027, 3, 1)));
}

#[test]
fn tunnels_are_tested_yearly_and_fields_every_three_years_in_the_same_season() {
    let mut farm = Yard::demo();
    // Never tested: at once, and autumn on the work plan.
    let untested = farm.snapshot();
    let never = visits(&untested, farm.plot("New ground"), demo::DAY);
    let never = never.into_iter().find(|visit| visit.walk == Walk::SoilTest).expect("a test");
    assert!(never.last.is_none() && never.from == demo::DAY);
    farm.ph("New ground", date(2026, 4, 6), "A", 6.0);
    let snapshot = farm.snapshot();
    let soil = |name: &str| {
        let visits = visits(&snapshot, farm.plot(name), demo::DAY);
        visits.into_iter().find(|visit| visit.walk == Walk::SoilTest).expect("a test")
    };
    let field = soil("New ground");
    assert_eq!(field.looks[0].due, date(2029, 4, 6));
    let tunnel = soil("East tunnel");
    let last = tunnel.looks.iter().filter_map(|look| look.last).max().expect("tested");
    assert_eq!(tunnel.looks.iter().map(|look| look.due.year()).min(), Some(2027.min(last.year() + 1)));
}

#[test]
fn a_slow_change_is_not_looked_for_before_it_can_show() {
    let mut farm = Yard::demo();
    for (year, value) in [(2021, 2.00), (2022, 2.02), (2023, 2.04), (2024, 2.06), (2025, 2.08), (2026, 2.10)]
    {
        farm.organic("New ground", date(year, 4, 6), value);
    }
    let told = farm.told("New ground");
    let soil = told.visits.iter().find(|visit| visit.walk == Walk::SoilTest).expect("a test");
    let organic = soil.looks.iter().find(|look| look.property == Property::OrganicMatter).expect("tests");
    // 0.02 % a year against a least step of about 0.9 %: far beyond the eight years that are waited at most.
    assert_eq!(organic.due, date(2034, 4, 6));
    assert!(organic.why.contains("not sooner"), "{}", organic.why);
}

#[test]
fn the_plan_has_the_looks_with_keys_that_stay() {
    let farm = Yard::demo();
    let snapshot = farm.snapshot();
    let keys = |today: Date| -> Vec<String> {
        let reports: Vec<advice::PlotReport> = Vec::new();
        proposals(&snapshot, &reports, today)
            .into_iter()
            .filter(|job| job.key.starts_with("look.") || job.key.starts_with("test.probe-again"))
            .map(|job| job.key)
            .collect()
    };
    let (one, later) = (keys(demo::DAY), keys(date(2026, 8, 1)));
    assert!(one.iter().any(|key| key.starts_with("look.spade.")), "{one:?}");
    assert!(one.iter().any(|key| key.starts_with("look.slake.")), "{one:?}");
    assert!(one.iter().all(|key| later.contains(key)), "{one:?} {later:?}");
    let told = farm_again(&snapshot, demo::DAY);
    assert!(told.visits.windows(2).all(|pair| pair[0].from <= pair[1].from));
    assert!(tell::farm_lead(&told).contains("look"));
}

#[test]
fn a_look_that_was_missed_moves_to_the_same_season_and_keeps_its_job() {
    let mut farm = Yard::demo();
    farm.ph("New ground", date(2021, 4, 6), "A", 6.0);
    let snapshot = farm.snapshot();
    let soil = |today: Date| {
        let visits = visits(&snapshot, farm.plot("New ground"), today);
        visits.into_iter().find(|visit| visit.walk == Walk::SoilTest).expect("a test")
    };
    // Due three years after, three weeks either way: 16 March to 27 April 2024.
    let due = soil(date(2024, 4, 20));
    assert_eq!((due.from, due.to, due.missed), (date(2024, 3, 16), date(2024, 4, 27), None));
    let late = soil(date(2026, 5, 21));
    assert_eq!((late.from, late.to), (date(2027, 3, 16), date(2027, 4, 27)));
    assert_eq!(late.missed, Some([date(2024, 3, 16), date(2024, 4, 27)]));
    let when = tell::when(&late, date(2026, 5, 21));
    assert_eq!(
        when,
        "was due by 27 April 2024; the same season comes again from 16 March 2027 to 27 April 2027"
    );
    assert!(tell::reasons(&late).iter().any(|line| line.contains("test before you spread")));
    assert_eq!(tell::group(&late, date(2026, 5, 21)), "Late");
    // On a day of its season it can be made at once.
    assert!(tell::when(&soil(date(2026, 4, 1)), date(2026, 4, 1)).contains("can be made now"));
    let key = |today: Date| {
        let reports: Vec<advice::PlotReport> = Vec::new();
        let job = proposals(&snapshot, &reports, today)
            .into_iter()
            .find(|job| job.key.starts_with(&format!("test.soil.{}", farm.plot("New ground"))));
        job.expect("the plan has it").key
    };
    assert_eq!(key(date(2024, 4, 20)), key(date(2026, 5, 21)));
}

#[test]
fn nitrate_is_followed_by_the_quarter_of_the_year() {
    let mut farm = Yard::demo();
    for (on, value) in [
        (date(2024, 6, 10), 12.0),
        (date(2024, 10, 2), 31.0),
        (date(2025, 6, 12), 14.0),
        (date(2026, 6, 11), 40.0),
    ] {
        let figure = (Analyte::NitrateN, Procedure::NotStated, ReportUnit::Ppm, value);
        farm.test("New ground", on, "A", &[figure]);
    }
    let told = farm.told("New ground");
    let series: Vec<_> = told.series.iter().filter(|one| one.property == Property::Nitrate).collect();
    assert_eq!(series.len(), 2, "{series:?}");
    let summer = series.iter().find(|one| one.of == "June to August").expect("three of summer");
    assert_eq!(summer.readings.len(), 3);
    let said = tell::series(summer, UnitSystem::Metric);
    assert!(said.starts_with("Nitrate nitrogen (June to August) 12 → 40 ppm"), "{said}");
    assert!(
        told.visits.iter().all(|visit| visit.looks.iter().all(|look| look.property != Property::Nitrate))
    );
}
