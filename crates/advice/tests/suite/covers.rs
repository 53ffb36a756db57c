//! Covers of the demonstration farm, and of a small farm made here.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use advice::covers::{
    CoverAnswer, CoverQuestion, Stands, bed_year, choose, cover_nitrogen, farm_beds, seed_list,
};
use advice::feeding::needs::farm_needs;
use advice::structure::decision::Tools;
use advice::structure::structure;
use advice::work::work_plan;
use advice::{Options, PlotReport, demo, plot_report, plot_reports};
use book::model::*;
use ground::covers::choice::WinterWish;
use ground::covers::kinds::{Animal, Ending, Purpose};
use ground::covers::mix::Sowing;
use ground::covers::nitrogen::{NitrogenInput, NitrogenKind, Placed as Lies, Stage, StandDryMatter};
use ground::fertility::schemes::Nutrient;
use ground::kit::{Bounded, Method};
use jiff::ToSpan;
use jiff::civil::{Date, date};

use crate::yard::Yard;

/// What these tests do with the demonstration.
trait Covered {
    fn few_draws(&self, bed: EntryId) -> PlotReport;
    fn ask(&self, bed: &str, question: &CoverQuestion) -> CoverAnswer;
    fn farm(&mut self, change: impl FnOnce(&mut book::model::Farm));
}

impl Covered for Yard {
    fn few_draws(&self, bed: EntryId) -> PlotReport {
        let snapshot = self.snapshot();
        let options = Options { draws: 400, weigh_measurements: false };
        plot_report(&snapshot, snapshot.plot_of_bed(bed).unwrap(), &options).unwrap()
    }

    fn ask(&self, bed: &str, question: &CoverQuestion) -> CoverAnswer {
        let bed = self.bed(bed);
        choose(&self.snapshot(), &self.few_draws(bed), bed, question, demo::DAY).unwrap().unwrap()
    }

    fn farm(&mut self, change: impl FnOnce(&mut book::model::Farm)) {
        let held = self.snapshot().farm;
        let mut body = held.body.clone();
        change(&mut body);
        self.book.revise(held.id, held.number, body, "", &demo::beginning()).unwrap();
    }
}

fn line<'a>(answer: &'a CoverAnswer, key: &str) -> &'a advice::covers::CoverLine {
    answer.covers.iter().find(|line| line.key == key).unwrap()
}

#[test]
fn a_bed_has_the_gaps_that_its_plantings_leave() {
    let farm = Yard::demo();
    let snapshot = farm.snapshot();
    let trial = bed_year(&snapshot, farm.bed("Trial bed"), demo::DAY).unwrap();
    let names: Vec<&str> = trial.spans.iter().map(|span| span.name.as_str()).collect();
    assert_eq!(names, ["radish", "lettuce", "spinach"]);
    let day = |days: i64| demo::DAY + days.days();
    // Lettuce until day 71, so that the bed is free on day 72; spinach on day 118.
    let august = &trial.gaps[0];
    assert_eq!((august.from, august.to, august.days), (day(72), day(118), 46));
    assert_eq!(august.before.as_ref().unwrap().name, "lettuce");
    assert_eq!(august.after.as_ref().unwrap().name, "spinach");
    // Nothing is planned after the spinach: the gap is taken to end with the last frost of the next spring.
    assert_eq!(trial.gaps[1].to, date(2027, 5, 12));
    let creek = bed_year(&snapshot, farm.bed("Beds 1 to 12"), demo::DAY).unwrap();
    let stands: Vec<Stands> = creek.spans.iter().map(|span| span.stands).collect();
    assert_eq!(stands, [Stands::Cover, Stands::Crop]);
    // A planned cover fills its gap.
    let carrots = bed_year(&snapshot, farm.bed("Carrot beds"), demo::DAY).unwrap();
    assert!(carrots.spans.iter().any(|span| span.name == "spring oats and spring field pea"));
    assert!(carrots.gaps.iter().all(|gap| gap.from > day(58) || gap.to <= day(58)), "{:?}", carrots.gaps);
    assert!(farm_beds(&snapshot, demo::DAY).len() >= 6);
}

/// Six weeks of August and September: buckwheat is what is sown then all over the temperate zone (common practice, no
/// source), and what needs longer is ruled out.
#[test]
fn an_august_gap_is_filled_with_what_is_quick() {
    let farm = Yard::demo();
    let answer = farm.ask("Trial bed", &CoverQuestion::default());
    assert_eq!(answer.covers.len(), ground::covers::catalogue::catalogue().len());
    let purposes: Vec<Purpose> = answer.purposes.iter().map(|one| one.purpose).collect();
    assert!(purposes.contains(&Purpose::CoverQuickly), "{purposes:?}");
    assert!(answer.purposes.iter().all(|one| !one.why.is_empty()));
    let quick =
        CoverQuestion { purposes: vec![Purpose::CoverQuickly, Purpose::Smother], ..CoverQuestion::default() };
    let answer = farm.ask("Trial bed", &quick);
    assert!(answer.best.contains(&"buckwheat".to_owned()), "{:?}", answer.best);
    let buckwheat = line(&answer, "buckwheat");
    assert!(!buckwheat.ruled_out && buckwheat.in_time_percent > 60.0, "{buckwheat:?}");
    let vetch = line(&answer, "vetch-hairy");
    assert!(vetch.ruled_out && vetch.speaks_against.iter().any(|why| why.contains("too little time")));
    // No later than it may be sown with even odds is it sure.
    for one in &answer.covers {
        if let (Some(sure), Some(even)) = (one.sow_by_sure, one.sow_by_even) {
            assert!(answer.gap.from <= sure && sure <= even && even < answer.gap.to, "{one:?}");
        }
        assert!(one.dry_matter_kg_ha.low <= one.dry_matter_kg_ha.high, "{one:?}");
    }
    // Ruled out last, as the order says.
    let first_out = answer.covers.iter().position(|one| one.ruled_out).unwrap();
    assert!(answer.covers[first_out..].iter().all(|one| one.ruled_out));
    // 18.288 m by 0.762 m of buckwheat: rate by area, one bed.
    let seed = &buckwheat.seed;
    assert!((seed.all_kg - seed.rate_kg_ha * 18.288 * 0.762 / 10_000.0).abs() < 1e-9);
    assert_eq!(seed.each_kg, seed.all_kg);
}

#[test]
fn what_is_at_hand_what_grazes_and_the_winter_decide() {
    let mut farm = Yard::demo();
    let winter = CoverQuestion {
        from: Some(date(2026, 8, 25)),
        to: Some(date(2027, 5, 12)),
        purposes: vec![Purpose::HoldNitrogen],
        winter: Some(WinterWish::Killed),
        ..CoverQuestion::default()
    };
    let killed = farm.ask("Trial bed", &winter);
    assert!(killed.over_winter);
    // Lettuce was planted last before 25 August, spinach comes after.
    let names = [&killed.gap.before, &killed.gap.after].map(|one| one.as_ref().unwrap().name.clone());
    assert_eq!(names, ["lettuce", "spinach"]);
    // Oats die at about 6 °F, cereal rye lives to -30 °F and below (the table's figures, recalled).
    assert!(!line(&killed, "oats").ruled_out, "{:?}", line(&killed, "oats").speaks_against);
    assert!(line(&killed, "rye-cereal").ruled_out);
    let lives = farm.ask("Trial bed", &CoverQuestion { winter: Some(WinterWish::Lives), ..winter.clone() });
    assert!(line(&lives, "oats").ruled_out && !line(&lives, "rye-cereal").ruled_out);
    let rye = line(&lives, "rye-cereal");
    assert_eq!(rye.end_by, Some(date(2027, 4, 21)));
    // The winter's low is guessed until the farm gives it.
    assert!(killed.settle.iter().any(|say| say.contains("lowest temperature")), "{:?}", killed.settle);
    farm.farm(|farm| {
        farm.winter_low_c = Some(WinterLow::literal(-23.0));
        farm.cover_endings = vec![Ending::Mow];
        farm.grazing = vec![Animal::Horses];
    });
    let said = farm.ask("Trial bed", &CoverQuestion { winter: None, ..winter });
    assert!(said.settle.iter().all(|say| !say.contains("lowest temperature")));
    // Sorghum-sudangrass is "not for horses at any stage" (read in its sources), and mowing does not end ryegrass.
    assert!(line(&said, "sorghum-sudan").ruled_out);
    assert!(line(&said, "ryegrass-annual").speaks_against.iter().any(|why| why.contains("nothing at hand")));
    assert!(said.taken.iter().any(|line| line.contains("horses")));
}

#[test]
fn what_is_asked_in_vain_is_refused_in_words() {
    let farm = Yard::demo();
    let bed = farm.bed("Trial bed");
    let (snapshot, report) = (farm.snapshot(), farm.few_draws(bed));
    let ask = |question: &CoverQuestion| choose(&snapshot, &report, bed, question, demo::DAY);
    let refusal = ask(&CoverQuestion { gap: Some(9), ..CoverQuestion::default() }).unwrap_err();
    assert_eq!((refusal.field.as_str(), refusal.given.as_str()), ("gap", "9"));
    let backwards = CoverQuestion {
        from: Some(date(2026, 9, 1)),
        to: Some(date(2026, 8, 1)),
        ..CoverQuestion::default()
    };
    assert_eq!(ask(&backwards).unwrap_err().field, "to");
    assert_eq!(
        ask(&CoverQuestion { to: Some(Date::MAX), ..CoverQuestion::default() }).unwrap_err().field,
        "to"
    );
}

#[test]
fn without_a_climate_the_gaps_are_told_and_what_is_wanted() {
    let mut farm = Yard::demo();
    farm.farm(|farm| farm.latitude_degrees = None);
    let answer = farm.ask("Trial bed", &CoverQuestion::default());
    assert!(answer.covers.is_empty() && answer.best.is_empty());
    assert!(answer.wanted.iter().any(|line| line.contains("latitude")), "{:?}", answer.wanted);
    assert_eq!(answer.gap.days, 46);
}

/// The published method on the same dry matter: halves turned in, a third carefully [SantaCruzUnit].
#[test]
fn the_nitrogen_of_a_cover_is_credited_to_the_next_crop() {
    let farm = Yard::demo();
    let snapshot = farm.snapshot();
    let held = snapshot.covers.iter().find(|held| held.body.ended.is_some()).unwrap();
    let found = cover_nitrogen(&snapshot, held).unwrap();
    // 1.55 kg fresh from 0.929 m²: 1668 g/m², a fifth of it dry is 3337 kg/ha.
    assert!((found.dry_matter_kg_ha[1] - 10.0 * 0.2 * 1550.0 / 0.929).abs() < 1e-6, "{found:?}");
    assert!(found.measured && !found.ties_up);
    // Rye and vetch in equal shares hold between what either would.
    let of = |kind| {
        let input = NitrogenInput {
            dry_matter_kg_ha: StandDryMatter::literal(found.dry_matter_kg_ha[1]),
            nitrogen_percent: None,
            kind,
            stage: Stage::BeforeBloom,
            placed: Lies::TurnedIn,
        };
        ground::covers::nitrogen::CoverNitrogen::compute(&input).unwrap().value
    };
    let (grass, legume) = (of(NitrogenKind::GrassOrBrassica), of(NitrogenKind::AnnualLegume));
    assert!(
        found.total_kg_ha[1] > grass.total_kg_ha.middle()
            && found.total_kg_ha[1] < legume.total_kg_ha.middle()
    );
    assert!(
        found.released_kg_ha[0] < found.released_kg_ha[1]
            && found.released_kg_ha[1] < found.released_kg_ha[2]
    );
    // The cabbage that followed is credited with it, line by line.
    let options = Options { draws: 400, weigh_measurements: false };
    let needs = farm_needs(&snapshot, &plot_reports(&snapshot, &options), demo::DAY);
    let cabbage = needs.iter().find(|need| need.bed_name == "Beds 1 to 12").unwrap();
    let credit =
        cabbage.credits.iter().find(|line| line.from.contains("cereal rye and hairy vetch")).unwrap();
    assert_eq!(credit.nutrient, Nutrient::N);
    assert!((credit.g_m2 - 0.1 * found.released_kg_ha[1]).abs() < 1e-9);
    // And no other bed is.
    let with = needs.iter().filter(|need| need.credits.iter().any(|line| line.from.contains("rye"))).count();
    assert_eq!(with, 1);
}

#[test]
fn a_grain_that_headed_is_counted_on_for_nothing() {
    let mut farm = Yard::demo();
    let bed = farm.bed("Trial bed");
    let cover = CoverCrop {
        bed,
        seeds: vec![CoverSeed { cover: "rye-cereal".into(), rate_kg_ha: None }],
        sown_on: date(2025, 9, 15),
        sown: Sowing::Drilled,
        end_by: None,
        ended: Some(CoverEnd { on: date(2026, 5, 1), how: CoverEnding::TurnedIn }),
        stand: Some(CoverStand { stage: Stage::InBloom, biomass: None, nitrogen_percent: None }),
        note: String::new(),
    };
    let id = farm.book.record(cover.clone(), &demo::beginning()).unwrap().id;
    let snapshot = farm.snapshot();
    let found = cover_nitrogen(&snapshot, snapshot.cover(id).unwrap()).unwrap();
    assert!(found.ties_up && !found.measured);
    assert_eq!((found.released_kg_ha[0], found.released_kg_ha[1]), (0.0, 0.0));
    // Its tops are a gift to the organic matter of the plot: nine tenths of their dry matter over all of it.
    let told = structure(&snapshot, &farm.few_draws(bed), Tools::default(), demo::DAY).unwrap();
    let organic = told.organic.unwrap();
    let gift = organic.gifts.iter().find(|gift| gift.name == found.name).unwrap();
    let held = snapshot.bed(bed).unwrap();
    let share = held.body.area_m2() / snapshot.plot(held.body.plot).unwrap().body.shape.area_m2();
    let over_years = f64::from(organic.over_years);
    let wanted = 0.9 * found.dry_matter_kg_ha[1] / 1000.0 * share / over_years;
    assert!((gift.organic_t_ha - wanted).abs() < 1e-9, "{gift:?} {wanted}");
    assert!(found.lines.iter().any(|line| line.contains("Count on none of it")));
    // Carried off, it leaves nothing to credit.
    let off =
        CoverCrop { ended: Some(CoverEnd { on: date(2026, 5, 1), how: CoverEnding::CarriedOff }), ..cover };
    farm.book.revise(id, 1, off, "", &demo::beginning()).unwrap();
    let snapshot = farm.snapshot();
    assert_eq!(cover_nitrogen(&snapshot, snapshot.cover(id).unwrap()), None);
}

/// 10 mg/L of nitrate nitrogen in 100 mm of water are 10 kg/ha (1 mg/L in 1 mm is 10 g/ha, by arithmetic).
#[test]
fn nitrate_in_the_water_is_credited() {
    let mut farm = Yard::demo();
    let well = farm.snapshot().water_supplies.iter().find(|held| held.body.name == "Well").unwrap().clone();
    let body = WaterSupply { nitrate_n_mg_l: Some(Bounded::literal(10.0)), ..well.body.clone() };
    farm.book.revise(well.id, well.number, body, "", &demo::beginning()).unwrap();
    let snapshot = farm.snapshot();
    let options = Options { draws: 400, weigh_measurements: false };
    let needs = farm_needs(&snapshot, &plot_reports(&snapshot, &options), demo::DAY);
    let tomato = needs.iter().find(|need| need.bed_name == "Beds A to E").unwrap();
    let credit = tomato.credits.iter().find(|line| line.from.contains("water of Well")).unwrap();
    let held = snapshot.planting(tomato.planting.unwrap()).unwrap();
    let mm = advice::watering::season_irrigation_mm(&snapshot, held).unwrap();
    // A tomato under cover drinks some 300 to 700 mm in a season.
    assert!((200.0..800.0).contains(&mm), "{mm}");
    assert!((credit.g_m2 - 0.1 * 10.0 * mm / 100.0).abs() < 1e-9);
    assert!(credit.low_g_m2 < credit.g_m2 && credit.g_m2 < credit.high_g_m2);
}

#[test]
fn the_plan_says_what_to_sow_and_when_to_end_it() {
    let mut farm = Yard::demo();
    let bed = farm.bed("Trial bed");
    let snapshot = farm.snapshot();
    let reports = plot_reports(&snapshot, &Options { draws: 400, weigh_measurements: false });
    let plan = work_plan(&snapshot, &reports, None, demo::DAY);
    let sow = plan.jobs.iter().find(|job| job.key.starts_with(&format!("cover-sow.{bed}."))).unwrap();
    assert!(sow.window.from.unwrap() >= demo::DAY + 72.days() && sow.window.to.is_some());
    assert!(!sow.cautions.is_empty() && sow.reasons.iter().any(|line| line.starts_with("Seed:")));
    let planned = plan.jobs.iter().find(|job| job.key.starts_with("cover-planned.")).unwrap();
    assert_eq!(planned.cautions, sow.cautions, "seed is as dangerous when its day is written down");
    assert!(planned.what.contains("spring oats and spring field pea"));
    // One that stands is to be ended three weeks before the lettuce, since it is a grass.
    let cover = CoverCrop {
        bed,
        seeds: vec![CoverSeed { cover: "barley".into(), rate_kg_ha: None }],
        sown_on: date(2026, 4, 1),
        sown: Sowing::Broadcast,
        end_by: None,
        ended: None,
        stand: None,
        note: String::new(),
    };
    farm.book.record(cover, &demo::beginning()).unwrap();
    let snapshot = farm.snapshot();
    let plan = work_plan(&snapshot, &reports, None, demo::DAY);
    let end = plan.jobs.iter().find(|job| job.key.starts_with("cover-end.")).unwrap();
    assert_eq!(end.window.to, Some(demo::DAY + (25 - 21).days()));
}

#[test]
fn the_seed_to_have_is_what_the_records_say() {
    let farm = Yard::demo();
    let snapshot = farm.snapshot();
    let list = seed_list(&snapshot, demo::DAY);
    let oats = list.iter().find(|one| one.name == "spring oats").unwrap();
    let area = snapshot.bed(farm.bed("Carrot beds")).unwrap().body.area_m2();
    assert!((oats.kg - 75.0 * area / 10_000.0).abs() < 1e-9);
    assert!(!oats.at_usual_rate && oats.lines.len() == 1);
    assert_eq!(list.len(), 2);
    // What is sown on the day itself is sown, as the work plan has it.
    let sown_on = snapshot.covers.iter().map(|held| held.body.sown_on).max().unwrap();
    assert!(seed_list(&snapshot, sown_on).is_empty());
}

/// Oats die at about 6 °F, cereal rye lives through -30 °F (the table's figures, recalled): in a winter of -10 °F there is
/// nothing left of the oats to end, and the rye is to be ended as ever.
#[test]
fn a_cover_that_the_cold_ends_is_looked_at_and_not_ended() {
    let mut farm = Yard::demo();
    let bed = farm.bed("Trial bed");
    farm.farm(|farm| farm.winter_low_c = Some(WinterLow::literal(-23.3)));
    let reports = plot_reports(&farm.snapshot(), &Options { draws: 400, weigh_measurements: false });
    let mut told = |cover: &str| {
        let cover = CoverCrop {
            bed,
            seeds: vec![CoverSeed { cover: cover.into(), rate_kg_ha: None }],
            sown_on: date(2025, 9, 1),
            sown: Sowing::Broadcast,
            end_by: Some(demo::DAY + 10.days()),
            ended: None,
            stand: None,
            note: String::new(),
        };
        let id = farm.book.record(cover, &demo::beginning()).unwrap().id;
        let plan = work_plan(&farm.snapshot(), &reports, None, demo::DAY);
        plan.jobs.iter().find(|job| job.key == format!("cover-end.{id}")).unwrap().what.clone()
    };
    assert!(told("oats").starts_with("Look whether the winter killed the cover of spring oats"));
    assert!(told("rye-cereal").starts_with("End the cover of"));
}

/// A year under cover is told with differences, in the farm's units: the spread of 3 °C is 5 °F.
#[test]
fn what_the_year_rests_on_is_told_in_the_farm_s_units() {
    let mut farm = Yard::demo();
    farm.farm(|farm| farm.winter_low_c = Some(WinterLow::literal(-23.3)));
    let answer = farm.ask("Trial bed", &CoverQuestion::default());
    let told = answer.rests_on.join(" ");
    assert!(told.contains("winter's low of -10 °F, give or take 5 °F"), "{told}");
    assert!(!told.contains("37 °F") && !told.contains("°C"), "{told}");
}
