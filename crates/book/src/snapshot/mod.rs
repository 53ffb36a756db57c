//! The whole current state of a book, typed, with the questions that advice and pages ask of it.

mod covers;
mod gather;
mod shelf;
mod spread;
mod water;
mod weather;
mod zones;

use std::collections::BTreeMap;

use ground::texture::jar::JarReading;
use ground::texture::lab::LabTexture;
use jiff::Timestamp;
use serde::Serialize;

use crate::held::{ChangeMark, Held};
use crate::model::{
    Application, Bed, Body, CoverCrop, Decision, EntryId, Farm, FarmCrop, Harvest, Import, JobWord, Kind,
    Laboratory, Material, Note, Observation, Photo, PlanPart, Planting, Plot, Sample, SamplingPlan, Seen,
    Stock, Structure, Underlay, WaterSupply, WateringDone, WateringSystem, WeatherNormals, WeatherTable,
};
use crate::store::fold;

pub use shelf::{Counted, InHand};
pub use spread::Spread;
pub use weather::WeatherOn;

/// The current state. Each list is in the order in which the records were first written; withdrawn
/// records stand apart.
#[derive(Debug, Clone, Serialize)]
pub struct Snapshot {
    /// The state of the book this was taken from.
    pub mark: ChangeMark,
    /// The farm.
    pub farm: Held<Farm>,
    /// Plots that are worked as one.
    pub plots: Vec<Held<Plot>>,
    /// Plots that were parted into zones: the zones are worked in their stead.
    pub parted: Vec<Held<Plot>>,
    /// Beds.
    pub beds: Vec<Held<Bed>>,
    /// Structures.
    pub structures: Vec<Held<Structure>>,
    /// Samples.
    pub samples: Vec<Held<Sample>>,
    /// Observations of every kind.
    pub observations: Vec<Held<Observation>>,
    /// Decisions.
    pub decisions: Vec<Held<Decision>>,
    /// Notes.
    pub notes: Vec<Held<Note>>,
    /// Photos.
    pub photos: Vec<Held<Photo>>,
    /// Usual weather; [`Snapshot::normals`] is the one that counts.
    pub weather_normals: Vec<Held<WeatherNormals>>,
    /// Tables of daily weather; [`Snapshot::weather_days`] puts them together.
    pub weather_tables: Vec<Held<WeatherTable>>,
    /// Crops of the farm's own.
    pub crops: Vec<Held<FarmCrop>>,
    /// Plantings.
    pub plantings: Vec<Held<Planting>>,
    /// Water supplies.
    pub water_supplies: Vec<Held<WaterSupply>>,
    /// Watering systems; [`Snapshot::system_of`] is the one of a bed that counts.
    pub watering_systems: Vec<Held<WateringSystem>>,
    /// Waterings.
    pub waterings: Vec<Held<WateringDone>>,
    /// Laboratories and what their columns mean.
    pub laboratories: Vec<Held<Laboratory>>,
    /// Tables that were taken in.
    pub imports: Vec<Held<Import>>,
    /// The shelf.
    pub materials: Vec<Held<Material>>,
    /// Counts, purchases and losses of it; [`Snapshot::in_hand`] puts them together.
    pub stocks: Vec<Held<Stock>>,
    /// What was spread.
    pub applications: Vec<Held<Application>>,
    /// What was carried off.
    pub harvests: Vec<Held<Harvest>>,
    /// What was said of jobs.
    pub jobs: Vec<Held<JobWord>>,
    /// Cover crops.
    pub covers: Vec<Held<CoverCrop>>,
    /// What is drawn on the plan.
    pub plan_parts: Vec<Held<PlanPart>>,
    /// Pictures under the plan.
    pub underlays: Vec<Held<Underlay>>,
    /// Sampling plans.
    pub sampling_plans: Vec<Held<SamplingPlan>>,
    /// Records that no longer count; each can be restored.
    pub withdrawn: Vec<Withdrawn>,
    /// Place of each record in its list.
    #[serde(skip)]
    places: BTreeMap<EntryId, usize>,
    /// Places of the observations of a plot, in the order of the day they were made.
    #[serde(skip)]
    by_plot: BTreeMap<EntryId, Vec<usize>>,
}

/// A record that was withdrawn.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Withdrawn {
    /// Its kind.
    pub kind: Kind,
    /// The record as it stood.
    pub record: Held<Body>,
    /// Why it was withdrawn.
    pub reason: String,
}

/// A finished jar and a laboratory texture of one sample, from which the farm's own jar packing is learnt.
#[derive(Debug, Clone, Copy)]
pub struct JarLabPair<'a> {
    /// The sample both were made on.
    pub sample: EntryId,
    /// The jar's record.
    pub jar: &'a Held<Observation>,
    /// The jar's reading.
    pub reading: &'a JarReading,
    /// The laboratory's record.
    pub lab: &'a Held<Observation>,
    /// The laboratory's figures.
    pub texture: &'a LabTexture,
}

impl Snapshot {
    /// Notes where everything stands.
    fn index(&mut self) {
        fn place<T>(places: &mut BTreeMap<EntryId, usize>, list: &[Held<T>]) {
            places.extend(list.iter().enumerate().map(|(place, held)| (held.id, place)));
        }
        let mut places = BTreeMap::new();
        place(&mut places, &self.plots);
        place(&mut places, &self.samples);
        place(&mut places, &self.observations);
        self.places = places;
        let mut by_plot: BTreeMap<EntryId, Vec<usize>> = BTreeMap::new();
        for (place, observation) in self.observations.iter().enumerate() {
            by_plot.entry(observation.body.plot).or_default().push(place);
        }
        self.lend_to_zones(&mut by_plot);
        for shelf in by_plot.values_mut() {
            // Stable, so that two of one day stay in the order of writing.
            shelf.sort_by_key(|place| self.observations[*place].body.seen_on);
        }
        self.by_plot = by_plot;
    }

    /// The same state had one observation said something else or, with `None`, not been made; for
    /// telling what a record changes.
    #[must_use]
    pub fn supposing(&self, id: EntryId, said: Option<Observation>) -> Self {
        let mut other = self.clone();
        match said {
            Some(said) => {
                for held in other.observations.iter_mut().filter(|held| held.id == id) {
                    held.body = said.clone();
                }
            }
            None => other.observations.retain(|held| held.id != id),
        }
        other.index();
        other
    }

    /// The plot of that identity, one that was parted too.
    #[must_use]
    pub fn plot(&self, id: EntryId) -> Option<&Held<Plot>> {
        self.at(&self.plots, id).or_else(|| self.parted.iter().find(|plot| plot.id == id))
    }

    /// The plot of that name, whatever its case, one that was parted too.
    #[must_use]
    pub fn plot_named(&self, name: &str) -> Option<&Held<Plot>> {
        let wanted = fold(name);
        self.plots_and_parted().find(|plot| fold(&plot.body.name) == wanted)
    }

    /// The sample of that identity.
    #[must_use]
    pub fn sample(&self, id: EntryId) -> Option<&Held<Sample>> {
        self.at(&self.samples, id)
    }

    /// The observation of that identity.
    #[must_use]
    pub fn observation(&self, id: EntryId) -> Option<&Held<Observation>> {
        self.at(&self.observations, id)
    }

    /// The sampling plan of that identity.
    #[must_use]
    pub fn sampling_plan(&self, id: EntryId) -> Option<&Held<SamplingPlan>> {
        self.sampling_plans.iter().find(|plan| plan.id == id)
    }

    /// The structure of that identity.
    #[must_use]
    pub fn structure(&self, id: EntryId) -> Option<&Held<Structure>> {
        self.structures.iter().find(|structure| structure.id == id)
    }

    fn at<'a, T>(&self, list: &'a [Held<T>], id: EntryId) -> Option<&'a Held<T>> {
        // Identities of other kinds have places too, so the identity found is compared.
        self.places.get(&id).and_then(|place| list.get(*place)).filter(|held| held.id == id)
    }

    /// Everything observed on a plot, earliest first. In a zone, what was found of the whole plot counts until something
    /// of its kind is found in the zone itself.
    pub fn evidence(&self, plot: EntryId) -> impl Iterator<Item = &Held<Observation>> {
        self.by_plot.get(&plot).into_iter().flatten().filter_map(|place| self.observations.get(*place))
    }

    /// Beds of a plot.
    pub fn beds_of(&self, plot: EntryId) -> impl Iterator<Item = &Held<Bed>> {
        self.beds.iter().filter(move |bed| bed.body.plot == plot)
    }

    /// Structures on a plot.
    pub fn structures_on(&self, plot: EntryId) -> impl Iterator<Item = &Held<Structure>> {
        self.structures.iter().filter(move |structure| structure.body.plot == Some(plot))
    }

    /// Samples from a plot.
    pub fn samples_of(&self, plot: EntryId) -> impl Iterator<Item = &Held<Sample>> {
        self.samples.iter().filter(move |sample| sample.body.plot == plot)
    }

    /// Decisions about a plot.
    pub fn decisions_on(&self, plot: EntryId) -> impl Iterator<Item = &Held<Decision>> {
        self.decisions.iter().filter(move |decision| decision.body.plot == plot)
    }

    /// The latest decision about one finding on a plot.
    #[must_use]
    pub fn decision_on(&self, plot: EntryId, finding_id: &str) -> Option<&Held<Decision>> {
        self.decisions_on(plot)
            .filter(|decision| decision.body.finding_id == finding_id)
            .max_by_key(|decision| decision.recorded_at)
    }

    /// Notes on a plot; `None` asks for the notes on the farm.
    pub fn notes_on(&self, plot: Option<EntryId>) -> impl Iterator<Item = &Held<Note>> {
        self.notes.iter().filter(move |note| note.body.plot == plot)
    }

    /// Photos of a plot, those that belong to its observations too.
    pub fn photos_of(&self, plot: EntryId) -> impl Iterator<Item = &Held<Photo>> {
        self.photos.iter().filter(move |photo| {
            photo.body.plot == Some(plot)
                || photo
                    .body
                    .observation
                    .and_then(|id| self.observation(id))
                    .is_some_and(|observation| observation.body.plot == plot)
        })
    }

    /// Jars still settling, earliest first.
    #[must_use]
    pub fn running_jars(&self) -> Vec<&Held<Observation>> {
        let mut jars: Vec<(Option<Timestamp>, &Held<Observation>)> = self
            .observations
            .iter()
            .filter_map(|held| match &held.body.seen {
                Seen::Jar(jar) if !jar.finished => Some((jar.started_at, held)),
                _ => None,
            })
            .collect();
        jars.sort_by_key(|jar| jar.0);
        jars.into_iter().map(|jar| jar.1).collect()
    }

    /// Finished jars with a laboratory texture of the same sample, each jar once: where a sample
    /// went to the laboratory twice, with the later result.
    #[must_use]
    pub fn jar_lab_pairs(&self) -> Vec<JarLabPair<'_>> {
        let mut labs: BTreeMap<EntryId, (&Held<Observation>, &LabTexture)> = BTreeMap::new();
        for held in &self.observations {
            if let (Some(sample), Seen::LabTexture(texture)) = (held.body.sample, &held.body.seen)
                && labs.get(&sample).is_none_or(|(earlier, _)| earlier.body.seen_on <= held.body.seen_on)
            {
                labs.insert(sample, (held, texture));
            }
        }
        self.observations
            .iter()
            .filter_map(|jar| match (&jar.body.seen, jar.body.sample) {
                (Seen::Jar(seen), Some(sample)) if seen.finished => {
                    let (lab, texture) = labs.get(&sample)?;
                    Some(JarLabPair { sample, jar, reading: &seen.reading, lab, texture })
                }
                _ => None,
            })
            .collect()
    }
}
