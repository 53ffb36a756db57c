//! Plots that were parted into zones, and what they lend to them.

use std::collections::{BTreeMap, BTreeSet};
use std::mem::{Discriminant, discriminant};

use ground::kit::Bounded;

use super::Snapshot;
use crate::held::Held;
use crate::model::{Application, EntryId, Observation, Plot, Sample, Seen};

impl Snapshot {
    /// Every plot, those that were parted too.
    pub fn plots_and_parted(&self) -> impl Iterator<Item = &Held<Plot>> {
        self.plots.iter().chain(&self.parted)
    }

    /// The zones that a plot was parted into; none of a plot that is worked as one.
    pub fn zones_of(&self, plot: EntryId) -> impl Iterator<Item = &Held<Plot>> {
        self.plots_and_parted().filter(move |zone| zone.body.zone_of == Some(plot))
    }

    /// Was this plot parted into zones?
    #[must_use]
    pub fn is_parted(&self, plot: EntryId) -> bool {
        self.parted.iter().any(|parted| parted.id == plot)
    }

    /// The sample whose bag carries a code, in whatever plot it lies by now.
    #[must_use]
    pub fn sample_coded(&self, code: &str) -> Option<&Held<Sample>> {
        self.samples.iter().find(|sample| sample.body.bag_label.eq_ignore_ascii_case(code))
    }

    /// Kilograms of an application that reached a plot: of one on the whole plot, a zone has its share by area.
    #[must_use]
    pub fn kg_on(&self, plot: EntryId, application: &Application) -> f64 {
        let kg = application.kg.get();
        if application.plot == plot {
            return kg;
        }
        let area_m2 = |plot| self.plot(plot).map_or(0.0, |plot| plot.body.shape.area_m2());
        let whole_m2 = area_m2(application.plot);
        if whole_m2 > 0.0 { kg * (area_m2(plot) / whole_m2).min(1.0) } else { 0.0 }
    }

    /// A plot, and the plots it is a zone of, the nearest first.
    pub(super) fn with_its_wholes(&self, plot: EntryId) -> Vec<EntryId> {
        let mut found = vec![plot];
        let mut at = plot;
        while let Some(whole) = self.plot(at).and_then(|plot| plot.body.zone_of) {
            // The rules of writing forbid a circle; a book made elsewhere may have one all the same.
            if found.contains(&whole) {
                break;
            }
            found.push(whole);
            at = whole;
        }
        found
    }

    /// Takes plots that have zones out of the list of those that are worked.
    pub(super) fn set_parted_apart(&mut self) {
        let wholes: BTreeSet<EntryId> = self.plots.iter().filter_map(|plot| plot.body.zone_of).collect();
        let (parted, plots) =
            std::mem::take(&mut self.plots).into_iter().partition(|plot| wholes.contains(&plot.id));
        (self.parted, self.plots) = (parted, plots);
    }

    /// Puts what was found of a whole plot beside what was found in its zones, where they have nothing of its kind.
    pub(super) fn lend_to_zones(&self, by_plot: &mut BTreeMap<EntryId, Vec<usize>>) {
        let mut lent: Vec<(EntryId, Vec<usize>)> = Vec::new();
        for zone in self.plots_and_parted().filter(|plot| plot.body.zone_of.is_some()) {
            let mut kinds = self.kinds_found(by_plot.get(&zone.id));
            let mut all = Vec::new();
            for whole in self.with_its_wholes(zone.id).into_iter().skip(1) {
                let shelf = by_plot.get(&whole);
                let places = shelf.into_iter().flatten().copied().filter(|place| {
                    let found = &self.observations[*place].body;
                    !kinds.contains(&discriminant(&found.seen)) && self.is_of_the_whole(found)
                });
                all.extend(places.collect::<Vec<_>>());
                kinds.extend(self.kinds_found(shelf));
            }
            lent.push((zone.id, all));
        }
        for (zone, places) in lent {
            by_plot.entry(zone).or_default().extend(places);
        }
    }

    fn kinds_found(&self, shelf: Option<&Vec<usize>>) -> Vec<Discriminant<Seen>> {
        shelf.into_iter().flatten().map(|place| discriminant(&self.observations[*place].body.seen)).collect()
    }

    /// Was it found of the plot as a whole, and not at one place of it?
    fn is_of_the_whole(&self, found: &Observation) -> bool {
        let of_sample = || self.at(&self.samples, found.sample?)?.body.spot.as_ref();
        found.spot.as_ref().or_else(of_sample).is_none()
    }
}
