//! What was spread and carried off, by plot, bed and year.

use ground::fertility::analysis::report::LabReport;
use jiff::civil::Date;
use serde::Serialize;

use super::Snapshot;
use crate::held::Held;
use crate::model::{Application, Bed, EntryId, Harvest, Observation, Planting, Seen, SpreadMaterial};

/// What reached a bed or a plot of one application.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Spread {
    /// The application.
    pub application: EntryId,
    /// The day.
    pub on: Date,
    /// What was spread.
    pub material: SpreadMaterial,
    /// How much of it reached here, kilograms.
    pub kg: f64,
    /// Over this area, square metres.
    pub area_m2: f64,
}

impl Spread {
    /// Kilograms on a square metre.
    #[must_use]
    pub fn kg_m2(&self) -> f64 {
        if self.area_m2 > 0.0 { self.kg / self.area_m2 } else { 0.0 }
    }
}

impl Snapshot {
    /// Applications on a plot, on its beds too, earliest first; on a zone also those on the whole plot, of which
    /// [`Snapshot::kg_on`] tells the zone's share.
    #[must_use]
    pub fn applications_on(&self, plot: EntryId) -> Vec<&Held<Application>> {
        let wholes = self.with_its_wholes(plot);
        let reached = |on: &Application| on.plot == plot || (on.bed.is_none() && wholes.contains(&on.plot));
        let mut found: Vec<_> = self.applications.iter().filter(|held| reached(&held.body)).collect();
        found.sort_by_key(|held| held.body.on);
        found
    }

    /// Applications that answer a job.
    pub fn applications_of_job<'a>(&'a self, key: &'a str) -> impl Iterator<Item = &'a Held<Application>> {
        self.applications.iter().filter(move |held| held.body.job.as_deref() == Some(key))
    }

    /// What reached a plot in one year, each application whole.
    #[must_use]
    pub fn spread_on_plot(&self, plot: EntryId, year: i16) -> Vec<Spread> {
        let Some(area_m2) = self.plot(plot).map(|plot| plot.body.shape.area_m2()) else { return Vec::new() };
        self.applications_on(plot)
            .into_iter()
            .filter(|held| held.body.on.year() == year)
            .map(|held| Spread {
                application: held.id,
                on: held.body.on,
                material: held.body.spread.clone(),
                kg: self.kg_on(plot, &held.body),
                area_m2,
            })
            .collect()
    }

    /// What reached a bed in one year: its own applications, and its share by area of those on the whole
    /// plot.
    #[must_use]
    pub fn spread_on_bed(&self, bed: EntryId, year: i16) -> Vec<Spread> {
        let Some(bed) = self.bed(bed) else { return Vec::new() };
        let area_m2 = bed.body.area_m2();
        let plot_m2 = self.plot(bed.body.plot).map_or(0.0, |plot| plot.body.shape.area_m2());
        self.applications_on(bed.body.plot)
            .into_iter()
            .filter(|held| held.body.on.year() == year)
            .filter_map(|held| {
                let kg = self.kg_on(bed.body.plot, &held.body);
                let here = match held.body.bed {
                    Some(of) if of == bed.id => kg,
                    Some(_) => return None,
                    // Beds measured generously may add up to more than their plot.
                    None if plot_m2 > 0.0 => kg * (area_m2 / plot_m2).min(1.0),
                    None => return None,
                };
                Some(Spread {
                    application: held.id,
                    on: held.body.on,
                    material: held.body.spread.clone(),
                    kg: here,
                    area_m2,
                })
            })
            .collect()
    }

    /// The planting of that identity.
    #[must_use]
    pub fn planting(&self, id: EntryId) -> Option<&Held<Planting>> {
        self.plantings.iter().find(|planting| planting.id == id)
    }

    /// Harvests of a planting, earliest first.
    #[must_use]
    pub fn harvests_of(&self, planting: EntryId) -> Vec<&Held<Harvest>> {
        let mut found: Vec<_> =
            self.harvests.iter().filter(|harvest| harvest.body.planting == planting).collect();
        found.sort_by_key(|harvest| harvest.body.on);
        found
    }

    /// Harvests from a plot in one year, each with its planting and bed, earliest first.
    #[must_use]
    pub fn harvests_on(
        &self,
        plot: EntryId,
        year: i16,
    ) -> Vec<(&Held<Harvest>, &Held<Planting>, &Held<Bed>)> {
        let mut found: Vec<_> = self
            .harvests
            .iter()
            .filter(|harvest| harvest.body.on.year() == year)
            .filter_map(|harvest| {
                let planting = self.planting(harvest.body.planting)?;
                let bed = self.bed(planting.body.bed)?;
                (bed.body.plot == plot).then_some((harvest, planting, bed))
            })
            .collect();
        found.sort_by_key(|(harvest, ..)| harvest.body.on);
        found
    }

    /// Laboratory reports on a plot, earliest first.
    pub fn lab_reports_on(&self, plot: EntryId) -> impl Iterator<Item = (&Held<Observation>, &LabReport)> {
        self.evidence(plot).filter_map(|held| match &held.body.seen {
            Seen::LabReport(report) => Some((held, report)),
            _ => None,
        })
    }

    /// The latest laboratory report on a plot.
    #[must_use]
    pub fn lab_report_of(&self, plot: EntryId) -> Option<(&Held<Observation>, &LabReport)> {
        self.lab_reports_on(plot).last()
    }
}
