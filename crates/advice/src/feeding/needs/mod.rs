//! What each bed needs: nitrogen, phosphate, potash, magnesia and boron for what grows in it, under the farm's
//! scheme, less what is credited, with its odds and limits.
//!
//! Where the scheme has no rate for a crop the farm's own rates count; without them what the hoped-for harvest
//! carries away is shown, and said to be no more than that. No other scheme fills the gap.

mod credits;
pub mod crop_names;
mod drawn;
mod limits;
mod potato;
mod rate_of;
pub mod soil_test;
mod supply;
mod tell;

use book::model::{Bed, EntryId, PlantedCrop, Planting, Plot};
use book::{Held, Snapshot};
use ground::fertility::analysis::report::Analyte;
use ground::fertility::organic::interval::{EdiblePart, ManureTreatment, interval_days};
use ground::fertility::schemes::{Nutrient, Scheme};
use ground::kit::{Provenance, Step};
use jiff::civil::Date;
use serde::Serialize;

pub use credits::CreditLine;
pub use limits::{Limit, LimitOf};
pub(crate) use soil_test::composite_cv;
pub use soil_test::{NEED_DRAWS, SoilTest, soil_test};

use crate::plot_report::PlotReport;
use crop_names::CropNames;

/// What a need rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum NeedBasis {
    /// The farm's scheme.
    Scheme,
    /// Rates of the farm's own crop.
    Own,
    /// What the hoped-for harvest carries away.
    Replacement,
}

/// One nutrient that a bed needs, after credits.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Need {
    /// Of what.
    pub nutrient: Nutrient,
    /// What it rests on.
    pub basis: NeedBasis,
    /// Before credits: low, middle, high.
    pub gross_g_m2: [f64; 3],
    /// What is credited.
    pub credited_g_m2: f64,
    /// Low end after credits.
    pub low_g_m2: f64,
    /// What to plan for after credits.
    pub target_g_m2: f64,
    /// High end after credits.
    pub high_g_m2: f64,
    /// Median of the draws.
    pub median_g_m2: f64,
    /// Enough with odds of 80 %.
    pub p80_g_m2: f64,
    /// Share of the draws in which anything is needed.
    pub odds_needed: f64,
    /// Class or index it was looked up with.
    pub class: String,
    /// Where the rate is from: title and table.
    pub from: String,
    /// How it reached this project.
    pub provenance: Provenance,
    /// Each draw, g/m².
    #[serde(skip)]
    pub draws: Vec<f64>,
}

/// What a bed needs for one planting.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BedNeed {
    /// The bed, or the equal beds of one record; nothing where the plot has none and is limed as a whole.
    pub bed: Option<EntryId>,
    /// Its name.
    pub bed_name: String,
    /// Its plot.
    pub plot: EntryId,
    /// The plot's name.
    pub plot_name: String,
    /// Area of all of them.
    pub area_m2: f64,
    /// How many beds the record holds.
    pub beds: u16,
    /// Under cover?
    pub under_cover: bool,
    /// The planting; nothing where the bed only waits for lime.
    pub planting: Option<EntryId>,
    /// The day it began, or is to begin.
    pub planted_on: Option<Date>,
    /// Key in the catalogue, where it has one.
    pub crop_key: Option<String>,
    /// What grows.
    pub crop: String,
    /// The farm's scheme.
    pub scheme: Option<Scheme>,
    /// Yield hoped for.
    pub yield_goal_kg: Option<f64>,
    /// The needs that are known.
    pub needs: Vec<Need>,
    /// What is credited, line by line.
    pub credits: Vec<CreditLine>,
    /// What the bed may have at most.
    pub limits: Vec<Limit>,
    /// When and how the scheme says to give it.
    pub timing: String,
    /// What could not be told, and what would mend it.
    pub wanted: Vec<String>,
    /// Where the part that is eaten grows, for the interval after raw manure: days.
    pub raw_manure_interval_d: u32,
    /// In sentences, in the farm's units.
    pub lines: Vec<String>,
    /// The working.
    pub working: Vec<Step>,
}

/// What stands for the bed where a plot has none.
const WHOLE_PLOT: &str = "whole plot";

impl BedNeed {
    /// A bed that nothing is planned for, and that waits for lime; without a bed, the whole plot.
    #[must_use]
    pub fn bare(plot: &Held<Plot>, bed: Option<&Held<Bed>>) -> Self {
        Self {
            bed: bed.map(|bed| bed.id),
            bed_name: bed.map_or_else(|| WHOLE_PLOT.to_owned(), |bed| bed.body.name.clone()),
            plot: plot.id,
            plot_name: plot.body.name.clone(),
            area_m2: bed.map_or_else(|| plot.body.shape.area_m2(), |bed| bed.body.area_m2()),
            beds: bed.map_or(1, |bed| bed.body.count),
            under_cover: plot.body.place.under_cover(),
            planting: None,
            planted_on: None,
            crop_key: None,
            crop: String::new(),
            scheme: None,
            yield_goal_kg: None,
            needs: Vec::new(),
            credits: Vec::new(),
            limits: Vec::new(),
            timing: String::new(),
            wanted: Vec::new(),
            // What will grow is not known: the longer interval.
            raw_manure_interval_d: interval_days(ManureTreatment::Raw, EdiblePart::TouchesSoil),
            lines: Vec::new(),
            working: Vec::new(),
        }
    }

    /// The record of its ground: the bed, or the plot where it has none.
    #[must_use]
    pub fn ground(&self) -> EntryId {
        self.bed.unwrap_or(self.plot)
    }

    /// The need of a nutrient.
    #[must_use]
    pub fn need(&self, nutrient: Nutrient) -> Option<&Need> {
        self.needs.iter().find(|need| need.nutrient == nutrient)
    }
}

/// The farm's scheme; an unknown key counts as none.
#[must_use]
pub fn scheme_of(snapshot: &Snapshot) -> Option<Scheme> {
    Scheme::of_key(snapshot.farm.body.nutrient_scheme.as_deref()?)
}

/// What every bed of the farm needs for what grows in it now or is written down to come. `reports` are those of
/// its plots, as far as they were made.
#[must_use]
pub fn farm_needs(snapshot: &Snapshot, reports: &[PlotReport], today: Date) -> Vec<BedNeed> {
    snapshot.plots.iter().flat_map(|plot| plot_needs(snapshot, plot.id, reports, today)).collect()
}

/// What the beds of one plot need.
#[must_use]
pub fn plot_needs(snapshot: &Snapshot, plot: EntryId, reports: &[PlotReport], today: Date) -> Vec<BedNeed> {
    let report = reports.iter().find(|report| report.id == plot);
    let mut found = Vec::new();
    for bed in snapshot.beds_of(plot) {
        for planting in snapshot.plantings_of(bed.id) {
            let gone = planting.body.ended_on.is_some_and(|day| day < today)
                || planting.body.harvest_on.is_some_and(|day| day < today);
            if !gone {
                found.extend(bed_need(snapshot, bed.id, planting, report));
            }
        }
    }
    found
}

/// The crop's key in the catalogue, and its name.
pub(crate) fn crop_of(snapshot: &Snapshot, planting: &Planting) -> (Option<String>, String) {
    match &planting.crop {
        PlantedCrop::Catalogue(key) => {
            let name =
                ground::climate::crops::find(key).map_or_else(|_| key.clone(), |crop| crop.name.clone());
            (Some(key.clone()), name)
        }
        PlantedCrop::FarmCrop(id) => snapshot.crop(*id).map_or_else(
            || (None, "a crop that was withdrawn".to_owned()),
            |crop| (crop.body.key.clone(), crop.body.name.clone()),
        ),
    }
}

/// What one planting needs. `None`: its bed or plot does not count.
#[must_use]
pub fn bed_need(
    snapshot: &Snapshot,
    bed: EntryId,
    planting: &Held<Planting>,
    report: Option<&PlotReport>,
) -> Option<BedNeed> {
    use ground::kit::Bounded;
    let held = snapshot.bed(bed)?;
    let plot = snapshot.plot(held.body.plot)?;
    let scheme = scheme_of(snapshot);
    let (crop_key, crop) = crop_of(snapshot, &planting.body);
    let names = crop_key.as_deref().and_then(CropNames::of);
    let test = |analyte| scheme.and_then(|scheme| soil_test(snapshot, plot.id, scheme, analyte));
    let tests = [test(Analyte::Phosphorus), test(Analyte::Potassium), test(Analyte::Magnesium)];
    let credits = credits::credits(snapshot, plot.id, planting, scheme);
    let mut need = BedNeed {
        bed: Some(bed),
        bed_name: held.body.name.clone(),
        plot: plot.id,
        plot_name: plot.body.name.clone(),
        area_m2: held.body.area_m2(),
        beds: held.body.count,
        under_cover: plot.body.place.under_cover(),
        planting: Some(planting.id),
        planted_on: Some(planting.body.planted_on),
        crop_key,
        crop,
        scheme,
        yield_goal_kg: planting.body.yield_goal_kg.map(Bounded::get),
        needs: Vec::new(),
        credits,
        limits: Vec::new(),
        timing: String::new(),
        wanted: Vec::new(),
        raw_manure_interval_d: interval_days(
            ManureTreatment::Raw,
            names.map_or(EdiblePart::TouchesSoil, CropNames::part),
        ),
        lines: Vec::new(),
        working: Vec::new(),
    };
    rate_of::fill(snapshot, &mut need, planting, names, &tests, report);
    let removal = rate_of::removal_g_m2(&need, names).map(|content| content[1]);
    need.limits = limits::limits(
        tests[0].as_ref(),
        need.need(Nutrient::P2o5),
        removal,
        need.crop_key.as_deref(),
        need.under_cover,
    );
    tell::tell(&mut need, &tests, snapshot.farm.body.units);
    Some(need)
}
