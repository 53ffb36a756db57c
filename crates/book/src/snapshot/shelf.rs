//! What is in hand of each material, and what laboratories and imports are known.

use ground::kit::Bounded;
use jiff::civil::Date;
use serde::Serialize;

use super::Snapshot;
use crate::held::Held;
use crate::model::{
    EntryId, Import, JobWord, Laboratory, Material, Observation, Plot, Sample, SpreadMaterial, Stock,
    StockChange,
};
use crate::store::fold;

/// What is in hand of a material, and where that comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct InHand {
    /// In hand, kilograms; below nothing when more was spread than was written down as bought.
    pub kg: f64,
    /// The last count.
    pub counted: Option<Counted>,
    /// Bought since, kilograms.
    pub bought_kg: f64,
    /// Lost since, kilograms.
    pub lost_kg: f64,
    /// Spread since, kilograms.
    pub spread_kg: f64,
}

/// A count of a material.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Counted {
    /// The day.
    pub on: Date,
    /// What was found, kilograms.
    pub kg: f64,
}

impl Snapshot {
    /// Whether a plot is worked under organic rules: by its own word, else by the farm's.
    #[must_use]
    pub fn under_organic_rules(&self, plot: &Plot) -> bool {
        plot.organic.or(self.farm.body.organic).unwrap_or(false)
    }

    /// The material of that identity.
    #[must_use]
    pub fn material(&self, id: EntryId) -> Option<&Held<Material>> {
        self.materials.iter().find(|material| material.id == id)
    }

    /// The material of that name, whatever its case.
    #[must_use]
    pub fn material_named(&self, name: &str) -> Option<&Held<Material>> {
        let wanted = fold(name);
        self.materials.iter().find(|material| fold(&material.body.name) == wanted)
    }

    /// Counts, purchases and losses of a material, earliest first.
    #[must_use]
    pub fn stocks_of(&self, material: EntryId) -> Vec<&Held<Stock>> {
        let mut stocks: Vec<_> = self.stocks.iter().filter(|stock| stock.body.material == material).collect();
        stocks.sort_by_key(|stock| stock.body.on);
        stocks
    }

    /// What is in hand of a material: the last count, what was bought since, less what was lost and spread
    /// since. A count is of the end of its day, and takes in all that happened on that day.
    #[must_use]
    pub fn in_hand(&self, material: EntryId) -> InHand {
        let counted = self
            .stocks_of(material)
            .into_iter()
            .filter(|stock| stock.body.what == StockChange::Counted)
            // Of two counts of one day, the one written down last.
            .max_by_key(|stock| (stock.body.on, stock.recorded_at))
            .map(|stock| Counted { on: stock.body.on, kg: stock.body.kg.get() });
        let since = |on: Date| counted.is_none_or(|count| on > count.on);
        let changed = |what: StockChange| -> f64 {
            self.stocks
                .iter()
                .filter(|stock| stock.body.material == material && stock.body.what == what)
                .filter(|stock| since(stock.body.on))
                .map(|stock| stock.body.kg.get())
                .sum()
        };
        let spread_kg = self
            .applications
            .iter()
            .filter(|spread| spread.body.spread == SpreadMaterial::Shelf(material) && since(spread.body.on))
            .map(|spread| spread.body.kg.get())
            .sum();
        let (bought_kg, lost_kg) = (changed(StockChange::Bought), changed(StockChange::Lost));
        let start = counted.map_or(0.0, |count| count.kg);
        InHand { kg: start + bought_kg - lost_kg - spread_kg, counted, bought_kg, lost_kg, spread_kg }
    }

    /// The laboratory of that identity.
    #[must_use]
    pub fn laboratory(&self, id: EntryId) -> Option<&Held<Laboratory>> {
        self.laboratories.iter().find(|laboratory| laboratory.id == id)
    }

    /// The laboratory of that name, whatever its case.
    #[must_use]
    pub fn laboratory_named(&self, name: &str) -> Option<&Held<Laboratory>> {
        let wanted = fold(name);
        self.laboratories.iter().find(|laboratory| fold(&laboratory.body.name) == wanted)
    }

    /// The import of that identity.
    #[must_use]
    pub fn import(&self, id: EntryId) -> Option<&Held<Import>> {
        self.imports.iter().find(|import| import.id == id)
    }

    /// The import of a file, known by its SHA-256, that still counts.
    #[must_use]
    pub fn import_of_file(&self, sha256: &str) -> Option<&Held<Import>> {
        self.imports.iter().find(|import| import.body.file_sha256 == sha256)
    }

    /// Observations that came in with an import.
    pub fn observations_of_import(&self, import: EntryId) -> impl Iterator<Item = &Held<Observation>> {
        self.observations.iter().filter(move |seen| seen.body.import == Some(import))
    }

    /// Samples that came in with an import.
    pub fn samples_of_import(&self, import: EntryId) -> impl Iterator<Item = &Held<Sample>> {
        self.samples.iter().filter(move |sample| sample.body.import == Some(import))
    }

    /// What was said of a job.
    #[must_use]
    pub fn job(&self, key: &str) -> Option<&Held<JobWord>> {
        self.jobs.iter().find(|job| job.body.key == key)
    }
}
