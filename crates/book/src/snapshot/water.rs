//! What grows in a bed and how it is watered; what was seen of its water.

use jiff::civil::Date;

use super::Snapshot;
use crate::held::Held;
use crate::model::seen::{Layers, Moisture, Percolation, RingInfiltration};
use crate::model::{
    Bed, Body, EntryId, FarmCrop, Observation, PlantedCrop, Planting, Seen, WaterSupply, WateringDone,
    WateringSystem,
};

impl Snapshot {
    /// The bed of that identity.
    #[must_use]
    pub fn bed(&self, id: EntryId) -> Option<&Held<Bed>> {
        self.beds.iter().find(|bed| bed.id == id)
    }

    /// The plot that a bed lies in, whether or not the bed counts.
    #[must_use]
    pub fn plot_of_bed(&self, bed: EntryId) -> Option<EntryId> {
        let withdrawn = || self.withdrawn.iter().find(|one| one.record.id == bed);
        match self.bed(bed) {
            Some(bed) => Some(bed.body.plot),
            None => withdrawn()?.record.body.links().plot,
        }
    }

    /// The bed of a planting, whether or not the planting counts.
    fn bed_of_planting(&self, planting: EntryId) -> Option<EntryId> {
        let withdrawn = || self.withdrawn.iter().find(|one| one.record.id == planting);
        match self.planting(planting) {
            Some(planting) => Some(planting.body.bed),
            None => withdrawn()?.record.body.links().bed,
        }
    }

    /// The plot a record belongs to, directly or through its bed.
    #[must_use]
    pub fn plot_of(&self, body: &Body) -> Option<EntryId> {
        let links = body.links();
        let bed = || links.bed.or_else(|| self.bed_of_planting(links.planting?));
        links.plot.or_else(|| self.plot_of_bed(bed()?))
    }

    /// The farm's own crop of that identity.
    #[must_use]
    pub fn crop(&self, id: EntryId) -> Option<&Held<FarmCrop>> {
        self.crops.iter().find(|crop| crop.id == id)
    }

    /// The farm's own crop that a planting names; `None` for a crop of the catalogue, or one withdrawn.
    #[must_use]
    pub fn crop_of(&self, planting: &Planting) -> Option<&Held<FarmCrop>> {
        match planting.crop {
            PlantedCrop::FarmCrop(id) => self.crop(id),
            PlantedCrop::Catalogue(_) => None,
        }
    }

    /// The water supply of that identity.
    #[must_use]
    pub fn supply(&self, id: EntryId) -> Option<&Held<WaterSupply>> {
        self.water_supplies.iter().find(|supply| supply.id == id)
    }

    /// Plantings of a bed, earliest first.
    #[must_use]
    pub fn plantings_of(&self, bed: EntryId) -> Vec<&Held<Planting>> {
        let mut plantings: Vec<_> =
            self.plantings.iter().filter(|planting| planting.body.bed == bed).collect();
        plantings.sort_by_key(|planting| planting.body.planted_on);
        plantings
    }

    /// What stood in a bed on a day: of several the one planted last.
    #[must_use]
    pub fn planting_on(&self, bed: EntryId, date: Date) -> Option<&Held<Planting>> {
        self.plantings
            .iter()
            .filter(|planting| planting.body.bed == bed && planting.body.stood_on(date))
            .max_by_key(|planting| planting.body.planted_on)
    }

    /// How a bed is watered: of several records the one recorded last.
    #[must_use]
    pub fn system_of(&self, bed: EntryId) -> Option<&Held<WateringSystem>> {
        self.watering_systems
            .iter()
            .filter(|system| system.body.bed == bed)
            .max_by_key(|system| system.recorded_at)
    }

    /// Waterings of a bed, earliest first.
    #[must_use]
    pub fn waterings_of(&self, bed: EntryId) -> Vec<&Held<WateringDone>> {
        let mut waterings: Vec<_> =
            self.waterings.iter().filter(|watering| watering.body.bed == bed).collect();
        waterings.sort_by_key(|watering| watering.body.on);
        waterings
    }

    /// Moisture readings made in a bed, earliest first.
    #[must_use]
    pub fn moisture_of(&self, bed: EntryId) -> Vec<(&Held<Observation>, &Moisture)> {
        let Some(plot) = self.bed(bed).map(|bed| bed.body.plot) else { return Vec::new() };
        self.moisture_on(plot).filter(|(_, moisture)| moisture.bed == Some(bed)).collect()
    }

    /// Moisture readings made on a plot, in its beds or beside them, earliest first.
    pub fn moisture_on(&self, plot: EntryId) -> impl Iterator<Item = (&Held<Observation>, &Moisture)> {
        self.evidence(plot).filter_map(|held| match &held.body.seen {
            Seen::Moisture(moisture) => Some((held, moisture)),
            _ => None,
        })
    }

    /// Ring infiltration on a plot, earliest first.
    pub fn rings_of(&self, plot: EntryId) -> impl Iterator<Item = (&Held<Observation>, &RingInfiltration)> {
        self.evidence(plot).filter_map(|held| match &held.body.seen {
            Seen::RingInfiltration(rings) => Some((held, rings)),
            _ => None,
        })
    }

    /// Percolation tests on a plot, earliest first.
    pub fn percolations_of(&self, plot: EntryId) -> impl Iterator<Item = (&Held<Observation>, &Percolation)> {
        self.evidence(plot).filter_map(|held| match &held.body.seen {
            Seen::Percolation(percolation) => Some((held, percolation)),
            _ => None,
        })
    }

    /// The layers of a plot's ground as they were looked at last.
    #[must_use]
    pub fn layers_of(&self, plot: EntryId) -> Option<(&Held<Observation>, &Layers)> {
        self.evidence(plot)
            .filter_map(|held| match &held.body.seen {
                Seen::Layers(layers) => Some((held, layers)),
                _ => None,
            })
            .last()
    }
}
