//! Sorting current revisions into the lists of a snapshot.

use std::collections::{BTreeMap, BTreeSet};

use jiff::Timestamp;

use super::{Snapshot, Withdrawn};
use crate::held::{ChangeMark, Held, Revision};
use crate::model::{Body, EntryId, Kind, Links};

impl Snapshot {
    /// Sorts current revisions into their lists; `None` when the farm is missing.
    pub(crate) fn of(mark: ChangeMark, latest: Vec<Revision>) -> Option<Self> {
        let counting = Counting::of(&latest);
        let (farms, latest): (Vec<Revision>, Vec<Revision>) =
            latest.into_iter().partition(|revision| revision.kind == Kind::Farm);
        let mut snapshot = farms.into_iter().find_map(|revision| Self::empty(mark, revision))?;
        for revision in latest {
            if revision.withdrawn || counting.keeps(&revision.body.links()) {
                snapshot.put(revision);
            }
        }
        snapshot.set_parted_apart();
        snapshot.index();
        Some(snapshot)
    }

    /// A state with nothing but its farm.
    fn empty(mark: ChangeMark, farm: Revision) -> Option<Self> {
        let Revision { id, number, recorded_at, recorded_by, body, .. } = farm;
        let Body::Farm(body) = body else { return None };
        Some(Self {
            mark,
            farm: Held { id, number, recorded_at, recorded_by, body },
            plots: Vec::new(),
            parted: Vec::new(),
            beds: Vec::new(),
            structures: Vec::new(),
            samples: Vec::new(),
            observations: Vec::new(),
            decisions: Vec::new(),
            notes: Vec::new(),
            photos: Vec::new(),
            weather_normals: Vec::new(),
            weather_tables: Vec::new(),
            crops: Vec::new(),
            plantings: Vec::new(),
            water_supplies: Vec::new(),
            watering_systems: Vec::new(),
            waterings: Vec::new(),
            laboratories: Vec::new(),
            imports: Vec::new(),
            materials: Vec::new(),
            stocks: Vec::new(),
            applications: Vec::new(),
            harvests: Vec::new(),
            jobs: Vec::new(),
            covers: Vec::new(),
            plan_parts: Vec::new(),
            underlays: Vec::new(),
            sampling_plans: Vec::new(),
            withdrawn: Vec::new(),
            places: BTreeMap::new(),
            by_plot: BTreeMap::new(),
        })
    }

    /// Puts a record on its list.
    fn put(&mut self, revision: Revision) {
        let Revision { id, kind, number, recorded_at, recorded_by, body, withdrawn, reason } = revision;
        if withdrawn {
            let record = Held { id, number, recorded_at, recorded_by, body };
            self.withdrawn.push(Withdrawn { kind, record, reason });
            return;
        }
        let held = Head { id, number, recorded_at, recorded_by };
        match body {
            Body::Farm(body) => self.farm = held.with(body),
            Body::Plot(body) => self.plots.push(held.with(body)),
            Body::Bed(body) => self.beds.push(held.with(body)),
            Body::Structure(body) => self.structures.push(held.with(body)),
            Body::Sample(body) => self.samples.push(held.with(body)),
            Body::Observation(body) => self.observations.push(held.with(body)),
            Body::Decision(body) => self.decisions.push(held.with(body)),
            Body::Note(body) => self.notes.push(held.with(body)),
            Body::Photo(body) => self.photos.push(held.with(body)),
            Body::WeatherNormals(body) => self.weather_normals.push(held.with(body)),
            Body::WeatherTable(body) => self.weather_tables.push(held.with(body)),
            Body::Crop(body) => self.crops.push(held.with(body)),
            Body::Planting(body) => self.plantings.push(held.with(body)),
            Body::WaterSupply(body) => self.water_supplies.push(held.with(body)),
            Body::WateringSystem(body) => self.watering_systems.push(held.with(body)),
            Body::Watering(body) => self.waterings.push(held.with(body)),
            Body::Laboratory(body) => self.laboratories.push(held.with(body)),
            Body::Import(body) => self.imports.push(held.with(body)),
            Body::Material(body) => self.materials.push(held.with(body)),
            Body::Stock(body) => self.stocks.push(held.with(body)),
            Body::Application(body) => self.applications.push(held.with(body)),
            Body::Harvest(body) => self.harvests.push(held.with(body)),
            Body::Job(body) => self.jobs.push(held.with(body)),
            Body::Cover(body) => self.covers.push(held.with(body)),
            Body::PlanPart(body) => self.plan_parts.push(held.with(body)),
            Body::Underlay(body) => self.underlays.push(held.with(body)),
            Body::SamplingPlan(body) => self.sampling_plans.push(held.with(body)),
        }
    }
}

/// Records that others hang on: without them, those others do not count either.
struct Counting {
    plots: BTreeSet<EntryId>,
    beds: BTreeSet<EntryId>,
    plantings: BTreeSet<EntryId>,
}

impl Counting {
    fn of(latest: &[Revision]) -> Self {
        let counting =
            |kind: Kind| latest.iter().filter(move |revision| revision.kind == kind && !revision.withdrawn);
        let on =
            |link: Option<EntryId>, among: &BTreeSet<EntryId>| link.is_some_and(|id| among.contains(&id));
        let plots: BTreeSet<EntryId> = counting(Kind::Plot).map(|plot| plot.id).collect();
        let beds: BTreeSet<EntryId> =
            counting(Kind::Bed).filter(|bed| on(bed.body.links().plot, &plots)).map(|bed| bed.id).collect();
        let plantings = counting(Kind::Planting)
            .filter(|planting| on(planting.body.links().bed, &beds))
            .map(|planting| planting.id)
            .collect();
        Self { plots, beds, plantings }
    }

    fn keeps(&self, links: &Links) -> bool {
        links.plot.is_none_or(|plot| self.plots.contains(&plot))
            && links.bed.is_none_or(|bed| self.beds.contains(&bed))
            && links.planting.is_none_or(|planting| self.plantings.contains(&planting))
    }
}

/// A record without its body.
struct Head {
    id: EntryId,
    number: u32,
    recorded_at: Timestamp,
    recorded_by: String,
}

impl Head {
    fn with<T>(self, body: T) -> Held<T> {
        Held {
            id: self.id,
            number: self.number,
            recorded_at: self.recorded_at,
            recorded_by: self.recorded_by,
            body,
        }
    }
}
