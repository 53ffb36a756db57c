//! The needs and the balance of the demonstration farm, and of small farms made here.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::yard::Yard;
use advice::demo;
use advice::feeding::balance::balance;
use advice::feeding::needs::{BedNeed, LimitOf, NeedBasis, farm_needs};
use advice::{Options, plot_reports};
use book::Snapshot;
use book::model::{FarmCrop, PlantedCrop, Planting, YieldGoal};
use ground::fertility::schemes::{Nutrient, Scheme};
use ground::kit::Bounded;
use jiff::ToSpan;
use jiff::civil::date;

fn needs(snapshot: &Snapshot) -> Vec<BedNeed> {
    let options = Options { draws: 400, weigh_measurements: false };
    farm_needs(snapshot, &plot_reports(snapshot, &options), demo::DAY)
}

fn of<'a>(needs: &'a [BedNeed], bed: &str) -> &'a BedNeed {
    needs.iter().find(|need| need.bed_name == bed).unwrap()
}

/// Florida Mehlich 1 rates (recalled): cabbage 175 lb N; P 24 ppm is medium, 100 lb P2O5; K 96 lb/acre is 48 ppm,
/// medium, 100 lb K2O. 1 lb/acre is 0.112085 g/m².
#[test]
fn a_bed_is_rated_by_the_farms_scheme_less_what_is_credited() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let needs = needs(&snapshot);
    let cabbage = of(&needs, "Beds 1 to 12");
    assert_eq!(cabbage.scheme, Some(Scheme::UfifasM1));
    for (nutrient, lb_acre) in [(Nutrient::N, 175.0), (Nutrient::P2o5, 100.0), (Nutrient::K2o, 100.0)] {
        let need = cabbage.need(nutrient).unwrap();
        assert_eq!(need.basis, NeedBasis::Scheme);
        assert!((need.gross_g_m2[1] - lb_acre * 0.112_085).abs() < 0.01, "{nutrient:?} {need:?}");
        assert!(need.target_g_m2 <= need.gross_g_m2[1]);
        assert!(need.low_g_m2 <= need.target_g_m2 && need.target_g_m2 <= need.high_g_m2);
        assert!(need.p80_g_m2 >= need.median_g_m2);
    }
    // Nitrate and organic matter above 2 % are taken off.
    assert!(cabbage.need(Nutrient::N).unwrap().credited_g_m2 > 1.0);
    assert!(cabbage.lines.iter().any(|line| line.contains("unverified copy")), "{:?}", cabbage.lines);
}

#[test]
fn ground_rich_in_phosphorus_is_limited_to_none_of_it() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let needs = needs(&snapshot);
    let tomato = of(&needs, "Beds A to E");
    let limit = tomato.limits.iter().find(|limit| limit.of == LimitOf::P2o5).unwrap();
    assert_eq!(limit.most_g_m2, 0.0);
    assert!(limit.why.contains("far above the optimum"), "{}", limit.why);
    assert_eq!(tomato.need(Nutrient::P2o5).unwrap().p80_g_m2, 0.0);
    assert!(tomato.limits.iter().any(|limit| limit.of == LimitOf::Chloride));
}

/// 7 CFR 205.203(c): tomatoes on the ground 120 days; from 1 March that is 29 June, and 90 days 30 May.
#[test]
fn raw_manure_keeps_its_days() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let needs = needs(&snapshot);
    let spread = date(2025, 3, 1);
    let tomato = of(&needs, "Beds A to E");
    assert_eq!(spread + i64::from(tomato.raw_manure_interval_d).days(), date(2025, 6, 29));
    let pepper = of(&needs, "Beds F to K");
    assert_eq!(spread + i64::from(pepper.raw_manure_interval_d).days(), date(2025, 5, 30));
}

#[test]
fn what_no_scheme_rates_is_said_and_not_filled_in() {
    let mut yard = Yard::demo();
    let snapshot = yard.snapshot();
    let farm = snapshot.farm.clone();
    let mut body = farm.body.clone();
    body.nutrient_scheme = Some("midatlantic".to_owned());
    yard.book.revise(farm.id, farm.number, body, "", &demo::beginning()).unwrap();
    let snapshot = yard.snapshot();
    let all = needs(&snapshot);
    let tomato = of(&all, "Beds A to E");
    assert!(tomato.wanted.iter().any(|line| line.contains("no other scheme fills the gap")));
    let need = tomato.need(Nutrient::P2o5).unwrap();
    assert_eq!(need.basis, NeedBasis::Replacement);
    // 700 kg of fruit with 0.55 g P2O5 a kg (1.1 lb a short ton).
    assert!((need.gross_g_m2[1] * tomato.area_m2 / 1000.0 - 0.385).abs() < 0.001);

    // Rates of the farm's own win.
    let bed = tomato.bed;
    let crop = FarmCrop {
        key: Some("tomato".to_owned()),
        name: "Tunnel tomato".to_owned(),
        kc_initial: None,
        kc_mid: None,
        kc_end: None,
        initial_days: None,
        development_days: None,
        mid_days: None,
        late_days: None,
        root_depth_m: None,
        depletion_fraction: None,
        height_m: None,
        n_kg_ha: Some(book::model::CropRate::literal(150.0)),
        p2o5_kg_ha: None,
        k2o_kg_ha: None,
        note: String::new(),
    };
    let crop = yard.book.record(crop, &demo::beginning()).unwrap().id;
    let held = yard.snapshot().planting_on(bed.unwrap(), demo::DAY).unwrap().clone();
    let planting = Planting {
        crop: PlantedCrop::FarmCrop(crop),
        yield_goal_kg: Some(YieldGoal::literal(700.0)),
        ..held.body.clone()
    };
    yard.book.revise(held.id, held.number, planting, "", &demo::beginning()).unwrap();
    let snapshot = yard.snapshot();
    let all = needs(&snapshot);
    let tomato = of(&all, "Beds A to E");
    let n = tomato.need(Nutrient::N).unwrap();
    assert_eq!((n.basis, n.gross_g_m2[1]), (NeedBasis::Own, 15.0));
    assert_eq!(tomato.need(Nutrient::P2o5).unwrap().basis, NeedBasis::Replacement);
}

/// 900, 950 and 1000 kg of compost with 0.6 % P2O5; tomatoes with 0.55 g P2O5 a kg.
#[test]
fn the_balance_adds_up_and_shows_phosphorus_coming() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let plot = snapshot.plot_named("East tunnel").unwrap().id;
    let balance = balance(&snapshot, plot).unwrap();
    let given: f64 = balance.years.iter().map(|year| year.given.p2o5_kg).sum();
    let taken: f64 = balance.years.iter().map(|year| year.taken.p2o5_kg).sum();
    assert!((given - 0.006 * 2850.0).abs() < 1e-9, "{given}");
    assert!((taken - 0.00055 * 1955.0).abs() < 1e-9, "{taken}");
    assert!((balance.total.p2o5_kg - (given - taken)).abs() < 1e-9);
    let tests: Vec<f64> = balance.tests.iter().filter_map(|test| test.ppm).collect();
    assert_eq!(tests, [205.0, 255.0, 310.0]);
    let ahead = balance.ahead.unwrap();
    assert!(ahead.gain_kg_ha > 0.0 && ahead.years_to_draw_down.is_none());
    assert!(balance.headline.contains("still rises"), "{}", balance.headline);
}

#[test]
fn the_same_book_gives_the_same_needs() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    assert_eq!(needs(&snapshot), needs(&snapshot));
}

/// RB209 section 5, table 5.10: a season of 90 to 120 days takes 80 to 270 kg N/ha at index 0 and 1, 40 to 220 at index 2
/// to 4, over the four variety groups.
#[test]
fn potatoes_are_given_nitrogen_by_their_season_and_every_variety_group() {
    let mut yard = Yard::demo();
    let snapshot = yard.snapshot();
    let farm = snapshot.farm.clone();
    let body = book::model::Farm { nutrient_scheme: Some("rb209".to_owned()), ..farm.body.clone() };
    yard.book.revise(farm.id, farm.number, body, "", &demo::beginning()).unwrap();
    let bed = of(&needs(&snapshot), "Beds 1 to 12").bed;
    let held = snapshot.planting_on(bed.unwrap(), demo::DAY).unwrap().clone();
    let planting = Planting {
        crop: PlantedCrop::Catalogue("potato".to_owned()),
        harvest_on: Some(held.body.planted_on + 142.days()),
        ..held.body.clone()
    };
    yard.book.revise(held.id, held.number, planting, "", &demo::beginning()).unwrap();
    let all = needs(&yard.snapshot());
    let potato = of(&all, "Beds 1 to 12");
    let nitrogen = potato.need(Nutrient::N).unwrap_or_else(|| panic!("{:?}", potato.wanted));
    assert_eq!(nitrogen.basis, NeedBasis::Scheme);
    let [low, target, high] = nitrogen.gross_g_m2;
    assert!(
        (4.0..=8.0).contains(&low) && (22.0..=27.0).contains(&high) && low < target && target < high,
        "{nitrogen:?}"
    );
    assert!(nitrogen.from.contains("T5.10"), "{}", nitrogen.from);
    assert!(
        potato.working.iter().any(|step| step.result.contains("100 days; groups 1, 2, 3, 4")),
        "{:?}",
        potato.working
    );
    // The draws reach from the frugal groups to the hungry ones.
    let spread = nitrogen.draws.iter().copied().fold(f64::NEG_INFINITY, f64::max)
        - nitrogen.draws.iter().copied().fold(f64::INFINITY, f64::min);
    assert!(spread > 10.0, "{spread}");
}

/// 2.5 US gallons are 9.4635 L; of a solution of 1.28 kg/L (10.67 lb a gallon, recalled) 12.11 kg.
#[test]
fn a_liquid_is_sold_and_measured_out_by_volume() {
    use advice::feeding::shelf::{measured, shelf};
    let mut yard = Yard::demo();
    let jug = book::model::Material {
        key: Some("uan-28".to_owned()),
        sold: Some(book::model::Pack::JugL(book::model::JugVolume::literal(9.463_529_46))),
        ..book::model::Material::named("Nitrogen solution")
    };
    yard.book.record(jug, &demo::beginning()).unwrap();
    let lines = shelf(&yard.snapshot());
    let line = lines.iter().find(|line| line.name == "Nitrogen solution").unwrap();
    assert!(line.liquid && (line.pack_kg.unwrap() - 12.113).abs() < 0.001, "{line:?}");
    assert_eq!(line.pack_words, "jug of 2.5 gal");
    let units = book::model::UnitSystem::UsCustomary;
    assert!(
        measured(12.113_317, line, units).starts_with("2.5 gal ("),
        "{}",
        measured(12.113_317, line, units)
    );
    assert!(
        measured(0.242_266, line, units).starts_with("6.4 fl oz ("),
        "{}",
        measured(0.242_266, line, units)
    );
    let dry = lines.iter().find(|line| !line.liquid).unwrap();
    assert!(!measured(1.0, dry, units).contains("gal"));
}
