//! The structure of a plot: the pan, the decision with its odds, and what follows from them in findings and jobs.

use advice::finding::Firmness;
use advice::structure::decision::Tools;
use advice::structure::dense::DensityFrom;
use advice::structure::{StructureReport, structure, tell};
use advice::work::{Source, proposals};
use advice::{Options, PlotReport, plot_report};
use book::model::seen::{
    DaysOfWater, DensityCores, MoistureFeel, OrganicMatter, OrganicMatterPercent, ProbePoint, ProbeSeen,
    Sign, SignDepth, Signs, SpadeBlock, WhenWorked, WorkingTest,
};
use book::model::{Seen, UnitSystem};
use ground::kit::Bounded;
use ground::structure::density::core::CoreInput;
use ground::structure::loosening::decide::{Loosening, Tool};
use ground::structure::probe::line::read_push;
use ground::structure::spade::look::SpadeSign;
use ground::structure::working::ball::Handful;
use ground::trend::yearly::Direction;
use jiff::civil::{Date, date};

use crate::yard::Yard;

const TODAY: Date = date(2026, 5, 21);

/// What these tests do with the demonstration.
trait Dug {
    fn saw(&mut self, name: &str, seen: Seen);
    fn whole(&self, name: &str) -> PlotReport;
    fn told(&self, name: &str) -> StructureReport {
        self.told_with(name, Tools::default())
    }
    fn told_with(&self, name: &str, tools: Tools) -> StructureReport;
}

impl Dug for Yard {
    fn saw(&mut self, name: &str, seen: Seen) {
        self.see(self.plot(name), TODAY, seen);
    }

    /// With what was measured weighed in.
    fn whole(&self, name: &str) -> PlotReport {
        plot_report(&self.snapshot(), self.plot(name), &Options::default()).expect("the plot is there")
    }

    fn told_with(&self, name: &str, tools: Tools) -> StructureReport {
        structure(&self.snapshot(), &self.whole(name), tools, TODAY).expect("its structure is told")
    }
}

fn probe(moisture: MoistureFeel, lines: &[&str]) -> Seen {
    let points = lines
        .iter()
        .map(|line| {
            let push = read_push("point", line, 7.62, UnitSystem::UsCustomary).expect("readings");
            ProbePoint { place: String::new(), readings: push.readings, stuck_at_cm: push.stuck_at_cm }
        })
        .collect();
    Seen::Probe(ProbeSeen { moisture, tracks: false, points })
}

fn block(signs: &[SpadeSign]) -> Seen {
    Seen::Spade(SpadeBlock { layers: Vec::new(), signs: signs.to_vec(), worms: None })
}

fn handful(handful: Handful, worked: Option<WhenWorked>) -> Seen {
    Seen::Working(WorkingTest {
        depth_cm: SignDepth::literal(25.0),
        handful,
        days_since_rain: Some(DaysOfWater::literal(3.0)),
        worked,
        limits: None,
    })
}

fn cores(dry_g: f64) -> Seen {
    let core = CoreInput {
        volume_ml: Bounded::literal(100.0),
        dry_mass_g: Bounded::literal(dry_g),
        moist_mass_g: None,
        rock_mass_g: None,
        rock_density_g_cm3: None,
        grain_density_g_cm3: None,
    };
    Seen::Cores(DensityCores {
        from_cm: SignDepth::literal(5.0),
        to_cm: SignDepth::literal(15.0),
        cores: vec![core.clone(), core.clone(), core],
    })
}

#[test]
fn the_plough_pan_of_the_demonstration_is_found_and_decided_on() {
    let farm = Yard::demo();
    let told = farm.told("Creek field");
    let transect = told.transect.as_ref().expect("a transect");
    assert_eq!((transect.stopped, transect.pushes, transect.not_through), (10, 12, 1));
    let top = transect.found.pan_top_cm.expect("a pan").median;
    assert!((top - 22.86).abs() < 0.01, "the third reading, 9 in down: {top}");
    assert!((told.pan_thickness_cm.expect("both ends").median - 7.62).abs() < 0.01);
    assert_eq!((told.decision.what, told.decision.tool), (Loosening::Loosen, Some(Tool::Broadfork)));
    // The deepest bottom, 12 in, and an inch more.
    assert!((told.decision.depth_cm.expect("a depth") - 33.02).abs() < 0.01);
    assert!(told.decision.firmness <= Firmness::Likely && told.decision.hard_odds.expect("known") > 0.9);
    let density = told.density.as_ref().expect("cores");
    assert_eq!(density.from, DensityFrom::Cores);
    // 571, 585 and 563 g in 347 mL.
    assert!((density.density_g_cm3.median - 573.0 / 347.0).abs() < 0.02);
    let said = tell::sentences(&told, UnitSystem::UsCustomary);
    for part in ["13 in deep", "Lift every 6 in to 8 in", "crumbles"] {
        assert!(said.how.iter().any(|line| line.contains(part)), "no {part}: {:?}", said.how);
    }
    assert!(said.reasons_for[0].contains("10 of 12 pushes"), "{:?}", said.reasons_for);
    assert!(
        said.organic.iter().all(|line| !line.contains("NaN")) && said.organic.len() > 1,
        "{:?}",
        said.organic
    );
    assert_eq!(told.next_look.expect("a year later").on, date(2027, 4, 22));
}

#[test]
fn the_finding_and_the_job_say_what_the_page_says() {
    let farm = Yard::demo();
    let report = farm.whole("Creek field");
    let finding = report.findings.iter().find(|one| one.id == "density").expect("readings tell of it");
    assert_eq!(finding.verdict, "loosen");
    assert!(finding.statement.contains("broadfork, 13 in deep"), "{}", finding.statement);
    assert!(finding.reasons.iter().any(|why| why.contains("10 of 12 pushes")), "{:?}", finding.reasons);
    let snapshot = farm.snapshot();
    let jobs: Vec<_> = proposals(&snapshot, [&report], TODAY)
        .into_iter()
        .filter(|job| job.source == Source::Structure)
        .collect();
    let loosen = jobs.iter().find(|job| job.key.starts_with("ground.loosen.")).expect("a job");
    assert!(loosen.what.contains("a broadfork, 13 in deep"), "{}", loosen.what);
    assert!(loosen.waits_for[0].contains("crumbles") && loosen.window.from.is_some());
    assert!(loosen.cautions.iter().any(|caution| caution.contains("811")), "{:?}", loosen.cautions);
    assert!(jobs.iter().any(|job| job.key.starts_with("test.probe-again.")), "and a look next year");
    // One job for one layer: the finding's own stays away.
    let all = proposals(&snapshot, [&report], TODAY);
    assert!(!all.iter().any(|job| job.key.starts_with("test.density.")));
}

#[test]
fn each_reading_moves_the_decision_as_the_rule_says() {
    let mut farm = Yard::demo();
    let plot = "West tunnel";
    let what = |farm: &Yard| farm.told(plot).decision.what;
    let hard = "120, 180, 340, 350, 220";
    farm.saw(plot, probe(MoistureFeel::Dry, &[hard; 12]));
    assert!(farm.told(plot).known.stopped_of.is_none(), "dry ground is hard whatever its density");
    farm.saw(plot, probe(MoistureFeel::FieldCapacity, &[hard; 12]));
    assert_eq!(what(&farm), Loosening::LookWithSpade);
    let settle = farm.told(plot).would_settle;
    let spade = settle.iter().find(|one| one.reading == "spade").expect("the spade would settle it");
    assert_eq!(spade.then[1].what, Loosening::Leave);
    farm.saw(plot, block(&[SpadeSign::RootsGoThrough]));
    assert_eq!(what(&farm), Loosening::Leave);
    farm.saw(plot, block(&[SpadeSign::Plates, SpadeSign::RootsTurnAside]));
    // It ends at 15 in; the shank runs at 16 in, where the usual broadfork does not reach.
    assert_eq!(what(&farm), Loosening::CoversInstead);
    let shanks = Tools { broadfork_cm: None, subsoiler_cm: Some(50.0) };
    let told = farm.told_with(plot, shanks);
    assert_eq!((told.decision.what, told.decision.tool), (Loosening::Loosen, Some(Tool::Subsoiler)));
    farm.saw(plot, handful(Handful::Ribbons, None));
    assert_eq!(farm.told_with(plot, shanks).decision.what, Loosening::WaitUntilDrier);
    farm.saw(
        plot,
        Seen::Signs(Signs { signs: vec![Sign::StandingWater { days: DaysOfWater::literal(3.0) }] }),
    );
    assert_eq!(farm.told_with(plot, shanks).decision.what, Loosening::DrainFirst);
}

#[test]
fn cores_of_the_worked_ground_stand_in_for_its_packing() {
    let mut farm = Yard::demo();
    let before = farm.whole("East tunnel");
    farm.saw("East tunnel", cores(152.0));
    let after = farm.whole("East tunnel");
    let middle = |report: &PlotReport| {
        ground::kit::Spread::of(&report.water_draws.matric_density_g_cm3, &report.ensemble.weights)
            .expect("draws")
            .median
    };
    assert!(
        (middle(&after) - 1.52).abs() < 0.03 && middle(&before) < 1.45,
        "{} {}",
        middle(&before),
        middle(&after)
    );
    let told = farm.told("East tunnel").density.expect("cores");
    assert_eq!(told.from, DensityFrom::Cores);
    let sum = told.rating.good + told.rating.watch + told.rating.hinders + told.rating.restricts;
    assert!((sum - 1.0).abs() < 1e-9, "{:?}", told.rating);
    let air = told.air.short + told.air.marginal + told.air.ample;
    assert!(air > 0.95 && air <= 1.0 + 1e-9, "{:?}", told.air);
}

#[test]
fn ground_that_smeared_when_it_was_worked_counts_as_a_sign() {
    let mut farm = Yard::demo();
    farm.saw("Hill field", handful(Handful::Ribbons, Some(WhenWorked::Smeared)));
    let report = farm.whole("Hill field");
    let finding = report.findings.iter().find(|one| one.id == "working-wet").expect("the rule speaks");
    assert!(finding.statement.contains("smeared faces") && finding.statement.contains("21 May 2026"));
    let days = report.findings.iter().find(|one| one.id == "workable-after-rain").expect("the rule speaks");
    assert!(days.reasons.iter().any(|why| why.contains("3 days after a soaking")), "{:?}", days.reasons);
    let said = tell::sentences(&farm.told("Hill field"), UnitSystem::Metric);
    assert!(said.working.iter().any(|line| line.contains("too wet to work")), "{:?}", said.working);
}

#[test]
fn a_steady_rise_over_the_years_is_told_from_chance() {
    let mut farm = Yard::demo();
    let plot = "Hill field";
    for (year, percent) in [(2019, 1.9), (2020, 2.0), (2021, 2.2), (2022, 2.3), (2023, 2.6)] {
        let found = OrganicMatter { percent: OrganicMatterPercent::literal(percent), method: None };
        farm.see(farm.plot(plot), date(year, 4, 1), Seen::OrganicMatter(found));
    }
    let told = farm.told(plot);
    let organic = told.trends.iter().find(|one| one.name() == "organic matter").expect("years");
    assert_eq!(organic.direction, Some(Direction::Rises), "{organic:?}");
    let said = tell::sentences(&told, UnitSystem::Metric);
    assert!(
        said.trends.iter().any(|line| line.contains("rises") && line.contains("to the good")),
        "{:?}",
        said.trends
    );
    // Two transects are no trend yet.
    let creek = tell::sentences(&farm.told("Creek field"), UnitSystem::UsCustomary);
    assert!(creek.trends.iter().any(|line| line.contains("3 more years are needed")), "{:?}", creek.trends);
}

#[test]
fn the_same_book_is_told_alike_and_nothing_known_is_said_so() {
    let farm = Yard::demo();
    let twice = [farm.told("Creek field"), farm.told("Creek field")]
        .map(|told| serde_json::to_string(&told).unwrap_or_default());
    assert_eq!(twice[0], twice[1]);
    let names = farm.snapshot().plots.iter().map(|plot| plot.body.name.clone()).collect::<Vec<_>>();
    for name in names {
        let said = tell::sentences(&farm.told(&name), UnitSystem::Metric);
        assert!(!said.lead.is_empty() && !said.expect.is_empty(), "{name}");
        let all = format!("{said:?}");
        assert!(!all.contains("NaN") && !all.contains("inf "), "{name}: {all}");
    }
}
