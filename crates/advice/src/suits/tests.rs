//! The demonstration farm against the crops, and the odds against the science underneath.

use book::Snapshot;
use book::model::UnitSystem;
use ground::siting::{Limit, Verdict, needs_of};

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
    assert!(clay.measures.iter().all(|measure| !measure.text.is_empty() && measure.address.starts_with('/')));
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
