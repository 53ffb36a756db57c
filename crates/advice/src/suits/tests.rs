//! The demonstration farm against the crops, and the odds against the science underneath.

use book::Snapshot;
use book::model::UnitSystem;
use ground::siting::{FrostYear, Limit, Spot, Verdict, WaterWay, needs_of};

use super::*;
use crate::demo;
use crate::{Firmness, Options, plot_report};

fn farm() -> Snapshot {
    let folder = tempfile::tempdir().expect("a folder");
    let book = demo::create(folder.path().join("demo.farmbook")).expect("the demo");
    book.snapshot().expect("read")
}

fn reports(snapshot: &Snapshot) -> Vec<PlotReport> {
    let options = Options { weigh_measurements: false, ..Options::default() };
    snapshot.plots.iter().filter_map(|plot| plot_report(snapshot, plot.id, &options)).collect()
}

#[test]
fn every_crop_stands_somewhere_and_its_odds_add_up() {
    let snapshot = farm();
    let reports = reports(&snapshot);
    let places = places(&snapshot, &reports);
    assert_eq!(places.len(), snapshot.plots.len());
    let table = table(&snapshot, &places);
    assert!(table.rows.len() > 60);
    for row in &table.rows {
        assert_eq!(row.cells.len(), table.plots.len(), "{}", row.crop.key);
        for cell in &row.cells {
            let sum: f64 = cell.odds_each.iter().sum();
            assert!((sum - 1.0).abs() < 1e-9, "{} on {}", row.crop.key, cell.plot_name);
            assert!((cell.odds - cell.odds_each[cell.verdict as usize]).abs() < 1e-12);
        }
    }
    // What grows here comes first.
    let last_grown = table.rows.iter().rposition(|row| row.crop.grown).unwrap();
    assert!(table.rows[..=last_grown].iter().all(|row| row.crop.grown));
    // The same book gives the same table.
    assert_eq!(table, super::table(&snapshot, &super::places(&snapshot, &reports)));
}

#[test]
fn carrots_go_to_the_sand_and_not_to_the_clay() {
    let snapshot = farm();
    let reports = reports(&snapshot);
    let places = places(&snapshot, &reports);
    let best = best_place(
        &snapshot,
        needs_of("carrot").unwrap(),
        places.iter().zip(&reports),
        UnitSystem::UsCustomary,
    );
    let rank = |name: &str| best.places.iter().position(|one| one.cell.plot_name == name).unwrap();
    assert!(
        rank("Sand knoll") < rank("Lower clay"),
        "{:?}",
        best.places.iter().map(|p| &p.cell.plot_name).collect::<Vec<_>>()
    );
    let clay = &best.places[rank("Lower clay")];
    assert_ne!(clay.cell.verdict, Verdict::Suits);
    assert!(clay.speaks_against.iter().any(|one| one.limit == Limit::Texture), "{clay:?}");
    let mends = clay.measures.iter().find(|measure| measure.limit == Limit::Texture).expect("it costs work");
    assert!(mends.text.starts_with("Texture cannot be changed") && mends.address.ends_with("#decisions"));
}

#[test]
fn a_plot_nobody_looked_at_is_open_and_says_what_would_tell() {
    let snapshot = farm();
    let reports = reports(&snapshot);
    let places = places(&snapshot, &reports);
    let at = places
        .iter()
        .position(|place| place.unknown.contains(&Unknown::Texture))
        .expect("a plot nobody looked at");
    let on = on_plot(&snapshot, &places[at], &reports[at], UnitSystem::Metric);
    for one in &on.crops {
        assert_ne!(one.cell.firmness, Firmness::Firm, "{}", one.crop);
        assert!(one.settles.iter().any(|settle| settle.unknown == Unknown::Texture));
    }
    // In each verdict the crops that the farm grows come first.
    let verdicts: Vec<Verdict> = on.crops.iter().map(|one| one.cell.verdict).collect();
    assert!(verdicts.is_sorted());
}

#[test]
fn odds_over_few_draws_are_those_counted_by_hand() {
    let snapshot = farm();
    let reports = reports(&snapshot);
    let places = places(&snapshot, &reports);
    let needs = needs_of("beet").unwrap();
    for place in &places {
        let given = ground::siting::days_given(needs, &place.year);
        let suits = place
            .spots
            .iter()
            .zip(&place.year_z)
            .filter(|(spot, z)| {
                let days = given.map_or(f64::NAN, |given| given.mean_d + **z * given.spread_d);
                ground::siting::judge(needs, spot, days)
                    .iter()
                    .all(|grade| *grade <= ground::siting::Grade::Drawback)
            })
            .count();
        let cell = cell::cell(needs, place).unwrap();
        #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
        let share = suits as f64 / place.spots.len() as f64;
        assert!((cell.odds_each[0] - share).abs() < 1e-12, "{}", place.name);
    }
}

/// A place made by hand, alike in every draw: good ground, and a year that the test gives.
fn made_by_hand(like: &PlotPlace, spot: Spot, mean_c: Vec<f64>) -> PlotPlace {
    let year = FrostYear { mean_c, last_frost: None, first_frost: None, covered: false };
    PlotPlace {
        spots: vec![spot; like.spots.len()],
        year,
        unknown: Vec::new(),
        doubtful: false,
        pan_cm: spot.pan_cm.is_finite().then_some(spot.pan_cm),
        wet_from_cm: None,
        rock_cm: None,
        ..like.clone()
    }
}

const GOOD: Spot = Spot {
    band: Some(ground::covers::kinds::Band::Loam),
    stones_percent: 3.0,
    wet_from_cm: f64::INFINITY,
    rock_cm: f64::INFINITY,
    pan_cm: f64::INFINITY,
    closeness: 0.8,
    ph: 6.5,
    ec_ds_m: 0.3,
    available: 0.16,
    water: Some(WaterWay::Piped),
    ..Spot::UNKNOWN
};

fn on_one(snapshot: &Snapshot, report: &PlotReport, place: &PlotPlace, crop: &str) -> Standing {
    best_place(snapshot, needs_of(crop).unwrap(), [(place, report)], UnitSystem::Metric).places.remove(0)
}

/// Grades known before: beet on pH 5.0 asks for lime (its range ends above that, handbook), and nothing else is amiss.
#[test]
fn one_place_made_by_hand_has_the_grades_it_was_made_for() {
    let snapshot = farm();
    let reports = reports(&snapshot);
    let like = places(&snapshot, &reports).remove(0);
    let report = reports.iter().find(|report| report.id == like.id).unwrap();
    let good = on_one(&snapshot, report, &made_by_hand(&like, GOOD, Vec::new()), "beet");
    assert_eq!(
        (good.cell.verdict, good.cell.odds, good.cell.firmness),
        (Verdict::Suits, 1.0, Firmness::Firm)
    );
    assert!(good.measures.is_empty() && good.speaks_against.is_empty(), "{good:?}");
    let sour = made_by_hand(&like, Spot { ph: 5.0, ..GOOD }, Vec::new());
    let sour = on_one(&snapshot, report, &sour, "beet");
    assert_eq!((sour.cell.verdict, sour.cell.odds), (Verdict::WithWork, 1.0));
    assert_eq!(sour.cell.in_the_way, [Limit::Acidity]);
}

/// Whether iron pays is the answer of the rule on loosening, and its cautions are of ripping, not of drains.
#[test]
fn a_pan_is_sent_to_the_rule_on_loosening_with_its_cautions() {
    use ground::kit::Method;
    use ground::structure::loosening::method::LooseningDecision;
    let snapshot = farm();
    let reports = reports(&snapshot);
    let like = places(&snapshot, &reports).remove(0);
    let report = reports.iter().find(|report| report.id == like.id).unwrap();
    let place = made_by_hand(&like, Spot { pan_cm: 20.0, ..GOOD }, Vec::new());
    let told = on_one(&snapshot, report, &place, "tomato");
    let [pan] = told.measures.as_slice() else { panic!("{told:?}") };
    assert_eq!((pan.limit, pan.cautions.as_slice()), (Limit::Pan, LooseningDecision::CARD.cautions));
    assert!(
        pan.text.starts_with("See whether to loosen the packed layer that begins at 20 cm"),
        "{}",
        pan.text
    );
    assert!(pan.address.ends_with("/structure"));
}

/// A month of mild days before a hot half-year: what ends lettuce is heat, and a cover would make it worse; the same days
/// before cold are lengthened by one (common practice, no source).
#[test]
fn heat_is_not_mended_by_a_cover_and_roots_are_not_raised_as_plants() {
    let snapshot = farm();
    let reports = reports(&snapshot);
    let like = places(&snapshot, &reports).remove(0);
    let report = reports.iter().find(|report| report.id == like.id).unwrap();
    let after = |then_c: f64| -> Vec<f64> {
        (0..365)
            .map(|day| {
                if (100..130).contains(&day) {
                    15.0
                } else if (130..300).contains(&day) {
                    then_c
                } else {
                    -5.0
                }
            })
            .collect()
    };
    let measure = |place: &PlotPlace, crop: &str| {
        let told = on_one(&snapshot, report, place, crop);
        told.measures.iter().find(|one| one.limit == Limit::Warmth).expect("warmth is short").text.clone()
    };
    let mut hot = made_by_hand(&like, GOOD, after(35.0));
    for crop in ["lettuce", "carrot"] {
        let text = measure(&hot, crop);
        assert!(text.contains("Heat ends its time") && text.contains("shade"), "{crop}: {text}");
        assert!(!text.contains("row cover") && !text.contains("give it a tunnel"), "{crop}: {text}");
    }
    hot.year.covered = true;
    assert!(measure(&hot, "lettuce").contains("in the open rather than under this cover"));
    let cold = made_by_hand(&like, GOOD, after(-5.0));
    assert!(measure(&cold, "lettuce").contains("Raise plants under cover"));
    let sown = measure(&cold, "carrot");
    assert!(sown.starts_with("It is sown where it grows") && !sown.contains("Raise plants"), "{sown}");
}

/// A mean of 2.75 °C warmer is 5 °F warmer (by 1.8); as a temperature it would be 37 °F.
#[test]
fn what_a_cover_adds_is_told_in_the_units_of_the_reader() {
    let told = |units| rests_on(units).join(" ");
    assert!(told(UnitSystem::UsCustomary).contains("day 5 °F warmer"));
    assert!(told(UnitSystem::Metric).contains("day 3 °C warmer"));
}
