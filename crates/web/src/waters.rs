//! The water of beds, kept for as long as nothing that it rests on changes.
//!
//! A bed is run through its season some hundred times; a watering written down for one bed must not cost the
//! runs of all the others.

use std::collections::HashMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

use advice::watering::{BedWater, FarmWeather, bed_water, farm_weather, first_day};
use book::Snapshot;
use book::model::EntryId;
use jiff::civil::Date;

use crate::reports::Told;

/// Beds and weather worked out so far.
#[derive(Debug, Default)]
pub(crate) struct Waters {
    weather: Mutex<Option<(Sky, Arc<FarmWeather>)>>,
    beds: Mutex<HashMap<EntryId, (Behind, Place)>>,
}

/// Made by whoever asks first; whoever asks meanwhile waits for that one bed and no other.
type Place = Arc<OnceLock<Arc<BedWater>>>;

/// Records with their revisions.
type Records = Vec<(EntryId, u32)>;

/// What the weather rests on.
#[derive(Debug, Clone, PartialEq)]
struct Sky {
    today: Date,
    first: Date,
    records: Records,
}

/// What a bed's water rests on.
#[derive(Debug)]
struct Behind {
    weather: Arc<FarmWeather>,
    told: Arc<Told>,
    records: Records,
}

impl PartialEq for Behind {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.weather, &other.weather)
            && Arc::ptr_eq(&self.told, &other.told)
            && self.records == other.records
    }
}

impl Waters {
    /// The weather of the farm on a day.
    pub(crate) fn weather(&self, snapshot: &Snapshot, today: Date) -> Arc<FarmWeather> {
        let mut records: Records = vec![(snapshot.farm.id, snapshot.farm.number)];
        records.extend(snapshot.weather_normals.iter().map(|held| (held.id, held.number)));
        records.extend(snapshot.weather_tables.iter().map(|held| (held.id, held.number)));
        let sky = Sky { today, first: first_day(snapshot, today), records };
        // Held while it is made: every bed needs it, and nobody can go on without.
        let mut kept = locked(&self.weather);
        if let Some((known, weather)) = kept.as_ref()
            && *known == sky
        {
            return Arc::clone(weather);
        }
        let weather = Arc::new(farm_weather(snapshot, today));
        *kept = Some((sky, Arc::clone(&weather)));
        weather
    }

    /// The water of some beds, given the reports on their plots. A bed without a report is left out.
    pub(crate) fn of(
        &self,
        snapshot: &Snapshot,
        beds: &[(EntryId, Arc<Told>)],
        today: Date,
    ) -> Vec<Arc<BedWater>> {
        let weather = self.weather(snapshot, today);
        let places: Vec<Place> = {
            let mut kept = locked(&self.beds);
            beds.iter()
                .map(|(bed, told)| {
                    let behind = Behind {
                        weather: Arc::clone(&weather),
                        told: Arc::clone(told),
                        records: records(snapshot, *bed),
                    };
                    place_for(&mut kept, *bed, behind)
                })
                .collect()
        };
        // Not under the lock: this may take a while.
        make(snapshot, beds, &places, &weather, today);
        places.iter().filter_map(|place| place.get().cloned()).collect()
    }
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    // Only whole entries are ever put in.
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

fn place_for(kept: &mut HashMap<EntryId, (Behind, Place)>, bed: EntryId, behind: Behind) -> Place {
    if let Some((known, place)) = kept.get(&bed)
        && *known == behind
    {
        return Arc::clone(place);
    }
    let place = Place::default();
    kept.insert(bed, (behind, Arc::clone(&place)));
    place
}

fn records(snapshot: &Snapshot, bed: EntryId) -> Records {
    let mut records: Records = vec![(snapshot.farm.id, snapshot.farm.number)];
    records.extend(snapshot.bed(bed).map(|held| (held.id, held.number)));
    let plot = snapshot.plot_of_bed(bed);
    // A second bed on the plot decides whether readings beside the beds count.
    records
        .extend(plot.into_iter().flat_map(|plot| snapshot.beds_of(plot)).map(|held| (held.id, held.number)));
    records.extend(snapshot.plantings_of(bed).iter().map(|held| (held.id, held.number)));
    records.extend(snapshot.crops.iter().map(|held| (held.id, held.number)));
    records.extend(snapshot.water_supplies.iter().map(|held| (held.id, held.number)));
    records.extend(snapshot.system_of(bed).map(|held| (held.id, held.number)));
    records.extend(snapshot.waterings_of(bed).iter().map(|held| (held.id, held.number)));
    records
}

/// Fills the places that are empty, on every core there is.
fn make(
    snapshot: &Snapshot,
    beds: &[(EntryId, Arc<Told>)],
    places: &[Place],
    weather: &FarmWeather,
    today: Date,
) {
    let empty: Vec<usize> = (0..beds.len()).filter(|at| places[*at].get().is_none()).collect();
    let next = AtomicUsize::new(0);
    let work = || {
        while let Some(at) = empty.get(next.fetch_add(1, Ordering::Relaxed)) {
            let (bed, told) = &beds[*at];
            let make = || bed_water(snapshot, *bed, &told.report, weather, today).map(Arc::new);
            if places[*at].get().is_none()
                && let Some(water) = make()
            {
                // Two at once make the same.
                let _first = places[*at].set(water);
            }
        }
    };
    let hands = std::thread::available_parallelism().map_or(1, usize::from).min(empty.len());
    if hands < 2 {
        return work();
    }
    std::thread::scope(|scope| {
        let hands: Vec<_> = (0..hands).map(|_| scope.spawn(work)).collect();
        for hand in hands {
            // A bed that failed is missing from its page and is tried again by the next one.
            let _failed = hand.join();
        }
    });
}
