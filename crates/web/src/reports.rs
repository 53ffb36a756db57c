//! Reports on plots, kept for as long as nothing that they rest on changes.
//!
//! A report takes tens of milliseconds and a farm has many plots, so a change of one plot's
//! evidence must not cost the reports of all the others.

use std::collections::HashMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

use advice::farm_jars::FarmJars;
use advice::{Options, PlotReport, plot_report_with};
use book::model::{EntryId, HourWorth, Plot, UnitSystem};
use book::{Held, Snapshot};
use figures::Figure;
use figures::triangle::{Cloud, Size, Triangle, texture_triangle};

/// Everything there is to say about a plot, with the small picture of it.
#[derive(Debug)]
pub struct Told {
    /// The report.
    pub report: PlotReport,
    /// A small triangle for lists.
    pub thumb: Figure,
    /// The large triangle, drawn when the plot is first looked at.
    triangle: OnceLock<Figure>,
}

impl Told {
    /// The large triangle, drawn once.
    pub fn triangle(&self, draw: impl FnOnce(&Self) -> Figure) -> &Figure {
        self.triangle.get_or_init(|| draw(self))
    }
}

/// The reports made so far.
#[derive(Debug, Default)]
pub(crate) struct Reports {
    kept: Mutex<HashMap<EntryId, Kept>>,
}

/// Made by whoever asks first; whoever asks meanwhile waits for that one report and no other.
type Place = Arc<OnceLock<Arc<Told>>>;

#[derive(Debug)]
struct Kept {
    behind: Behind,
    place: Place,
}

/// What a report rests on.
#[derive(Debug, PartialEq)]
struct Behind {
    /// All that a report takes from the farm's own record.
    units: UnitSystem,
    hour_worth: Option<HourWorth>,
    records: Records,
}

/// Records with their revisions: a record never changes under one number.
type Records = Vec<(EntryId, u32)>;

impl Reports {
    /// The report on one plot; `None` when the book has no such plot.
    pub(crate) fn of(&self, snapshot: &Snapshot, plot: EntryId) -> Option<Arc<Told>> {
        snapshot.plot(plot)?;
        self.many(snapshot, &[plot]).pop()
    }

    /// The reports on every plot, in the order of the book.
    pub(crate) fn all(&self, snapshot: &Snapshot) -> Vec<Arc<Told>> {
        let plots: Vec<EntryId> = snapshot.plots.iter().map(|plot| plot.id).collect();
        self.many(snapshot, &plots)
    }

    fn many(&self, snapshot: &Snapshot, plots: &[EntryId]) -> Vec<Arc<Told>> {
        let pairs = pairs(snapshot);
        let places: Vec<Place> = {
            let mut kept = self.kept();
            plots.iter().map(|plot| place_for(&mut kept, *plot, behind(snapshot, *plot, &pairs))).collect()
        };
        // Not under the lock: this may take a while.
        make(snapshot, plots, &places);
        places.iter().filter_map(|place| place.get().cloned()).collect()
    }

    fn kept(&self) -> MutexGuard<'_, HashMap<EntryId, Kept>> {
        // The map only ever holds whole entries.
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The place of a plot's report: the one kept, or an empty one when something behind it changed.
fn place_for(kept: &mut HashMap<EntryId, Kept>, plot: EntryId, behind: Behind) -> Place {
    if let Some(kept) = kept.get(&plot)
        && kept.behind == behind
    {
        return Arc::clone(&kept.place);
    }
    let place = Place::default();
    kept.insert(plot, Kept { behind, place: Arc::clone(&place) });
    place
}

/// Jar and laboratory of one sample teach the jars of every plot.
fn pairs(snapshot: &Snapshot) -> Records {
    let pairs = snapshot.jar_lab_pairs();
    pairs.iter().flat_map(|pair| [(pair.jar.id, pair.jar.number), (pair.lab.id, pair.lab.number)]).collect()
}

fn behind(snapshot: &Snapshot, plot: EntryId, pairs: &Records) -> Behind {
    let mut records: Records = snapshot.plot(plot).map(|plot| (plot.id, plot.number)).into_iter().collect();
    records.extend(snapshot.evidence(plot).map(|held| (held.id, held.number)));
    records.extend(snapshot.samples_of(plot).map(|held| (held.id, held.number)));
    // Those of a whole plot that lends its findings to this zone.
    let of_evidence = snapshot.evidence(plot).filter_map(|held| snapshot.sample(held.body.sample?));
    records.extend(of_evidence.filter(|held| held.body.plot != plot).map(|held| (held.id, held.number)));
    records.extend(pairs);
    // Sprinklers and the salts of the water.
    for bed in snapshot.beds.iter().filter(|bed| bed.body.plot == plot) {
        records.push((bed.id, bed.number));
        records.extend(snapshot.system_of(bed.id).map(|held| (held.id, held.number)));
    }
    records.extend(snapshot.water_supplies.iter().map(|held| (held.id, held.number)));
    let farm = &snapshot.farm.body;
    Behind { units: farm.units, hour_worth: farm.hour_worth, records }
}

/// Fills the places that are empty, on every core there is.
fn make(snapshot: &Snapshot, plots: &[EntryId], places: &[Place]) {
    let empty: Vec<usize> = (0..plots.len()).filter(|at| places[*at].get().is_none()).collect();
    if empty.is_empty() {
        return;
    }
    let jars = FarmJars::of(snapshot);
    let next = AtomicUsize::new(0);
    let work = || {
        while let Some(at) = empty.get(next.fetch_add(1, Ordering::Relaxed)) {
            let Some(plot) = snapshot.plot(plots[*at]) else { continue };
            places[*at].get_or_init(|| Arc::new(tell(snapshot, plot, &jars)));
        }
    };
    let hands = std::thread::available_parallelism().map_or(1, usize::from).min(empty.len());
    if hands < 2 {
        return work();
    }
    std::thread::scope(|scope| {
        let hands: Vec<_> = (0..hands).map(|_| scope.spawn(work)).collect();
        for hand in hands {
            // A report that failed is missing from its page and is tried again by the next one.
            let _failed = hand.join();
        }
    });
}

fn tell(snapshot: &Snapshot, plot: &Held<Plot>, jars: &FarmJars) -> Told {
    let report = plot_report_with(snapshot, plot, jars, &Options::default());
    let make_up = &report.make_up;
    let cloud = report.make_up_known.then(|| Cloud {
        draws: &report.belief.draws,
        weights: &report.belief.weights,
        spreads: Some([make_up.sand_percent, make_up.silt_percent, make_up.clay_percent]),
    });
    let id = format!("small-{}", plot.id);
    let thumb = texture_triangle(&Triangle { id: &id, cloud, evidence: &[], size: Size::Small });
    Told { report, thumb, triangle: OnceLock::new() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use advice::demo;
    use book::Stamp;
    use book::model::Note;

    #[test]
    fn a_report_is_made_anew_only_when_something_behind_it_changed() {
        let folder = tempfile::tempdir().unwrap();
        let mut book = demo::create(folder.path().join("demo.farmbook")).unwrap();
        let reports = Reports::default();
        let old = book.snapshot().unwrap();
        let first = reports.all(&old);
        assert_eq!(first.len(), old.plots.len());

        // A note is no evidence.
        let stamp = Stamp::new(jiff::Timestamp::UNIX_EPOCH, "a test");
        let plot = old.plots[0].id;
        book.record(Note { plot: Some(plot), text: "hoed".to_owned() }, &stamp).unwrap();
        let noted = book.snapshot().unwrap();
        assert!(first.iter().zip(reports.all(&noted)).all(|(one, two)| Arc::ptr_eq(one, &two)));

        // Another name concerns its own plot and no other.
        let mut body = old.plots[0].body.clone();
        body.name = "Another name".to_owned();
        book.revise(plot, old.plots[0].number, body, "renamed", &stamp).unwrap();
        let new = book.snapshot().unwrap();
        let second = reports.all(&new);
        let same: Vec<bool> = first.iter().zip(&second).map(|(one, two)| Arc::ptr_eq(one, two)).collect();
        assert!(!same[0] && same[1..].iter().all(|same| *same), "{same:?}");
        assert_eq!(second[0].report.name, "Another name");
        // The evidence did not change, so neither did the belief.
        assert_eq!(first[0].report.belief.draws, second[0].report.belief.draws);
    }

    #[test]
    fn pages_that_ask_at_once_share_one_report() {
        let folder = tempfile::tempdir().unwrap();
        let book = demo::create(folder.path().join("demo.farmbook")).unwrap();
        let snapshot = book.snapshot().unwrap();
        let plot = snapshot.plot_named("Creek field").unwrap().id;
        let reports = Reports::default();
        let told: Vec<Arc<Told>> = std::thread::scope(|scope| {
            let asks: Vec<_> = (0..4).map(|_| scope.spawn(|| reports.of(&snapshot, plot).unwrap())).collect();
            asks.into_iter().map(|ask| ask.join().unwrap()).collect()
        });
        assert!(told.iter().all(|one| Arc::ptr_eq(one, &told[0])));
        assert!(Arc::ptr_eq(&told[0], &reports.of(&snapshot, plot).unwrap()));
    }
}
