//! How many cores and bags.

use book::Snapshot;
use book::model::EntryId;
use ground::kit::Provenance;
use ground::spatial::sampling::core_count::{Sides, cores, error_of};
use ground::spatial::sampling::protocol::Protocol;
use ground::spatial::sampling::variation::Property;
use serde::Serialize;

use super::SamplingAsk;
use super::own_spread::own_spread;

/// Most cores that are proposed for a plot, whatever the error asks.
const MOST: u32 = 60;
/// Most places of a plan: more than anyone walks.
pub(super) const MOST_PLACES: u16 = 500;
/// Most cores that one bag is proposed to take: a bucket is full.
const BAG: u32 = 30;
/// Points of a map where nothing is said: more than a bag, and few enough to pay for.
const APART: u16 = 12;
/// Cores taken within a few steps of a point that gets a bag of its own (8 to 10 about a grid point, as published).
const AROUND: u16 = 8;

/// Where the spread is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(tag = "from", rename_all = "snake_case")]
pub enum SpreadFrom {
    /// The farm's own results of the plot.
    Own {
        /// How many.
        results: usize,
        /// Of which year.
        year: i16,
    },
    /// A published range.
    Table {
        /// How it reached this project.
        provenance: Provenance,
    },
}

/// How much single cores differ.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SpreadUsed {
    /// The property.
    pub property: Property,
    /// Where it is from.
    pub from: SpreadFrom,
    /// Lower end, share of the mean.
    pub low_percent: f64,
    /// What is taken.
    pub taken_percent: f64,
    /// Upper end of what is supposed.
    pub high_percent: f64,
    /// Upper end of what was published; nothing where the farm's own results tell.
    pub published_high_percent: Option<f64>,
    /// A few high values pull the mean up.
    pub skewed: bool,
}

/// How many.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Numbers {
    /// Cores that the error asks at the lower end of the spread; nothing where no number would do.
    pub asked_low: Option<u32>,
    /// At the spread that is taken.
    pub asked: Option<u32>,
    /// At its upper end.
    pub asked_high: Option<u32>,
    /// At the upper end of what was published; nothing where no number would do, or nothing published is taken.
    pub asked_published: Option<u32>,
    /// Least cores that published advice puts into a bag.
    pub advice_low: u16,
    /// Cores beyond which, by that advice, a bag gains little.
    pub advice_high: u16,
    /// Cores to pull in all.
    pub cores: u16,
    /// Cores that go into one bag.
    pub cores_per_bag: u16,
    /// Bags.
    pub bags: u16,
    /// Places to go to.
    pub places: u16,
    /// Error that so many cores leave at the lower end of the spread.
    pub error_low_percent: f64,
    /// At its upper end.
    pub error_high_percent: f64,
    /// Were fewer taken than the error asks?
    pub falls_short: bool,
}

/// The spread between cores: the farm's own where there are results enough, else the published range.
pub(super) fn spread(snapshot: &Snapshot, plot: EntryId, property: Property) -> SpreadUsed {
    let table = property.variation();
    match own_spread(snapshot, plot, property) {
        Some(own) => SpreadUsed {
            property,
            from: SpreadFrom::Own { results: own.results, year: own.year },
            low_percent: own.low_percent,
            taken_percent: own.cv_percent,
            high_percent: own.high_percent,
            published_high_percent: None,
            skewed: table.skewed,
        },
        None => SpreadUsed {
            property,
            from: SpreadFrom::Table { provenance: table.provenance },
            low_percent: table.low_percent,
            // A vegetable plot is small and worked as one: the lower half, which is this project's judgement.
            taken_percent: (table.low_percent * table.middle_percent()).sqrt(),
            high_percent: table.middle_percent().max(table.low_percent),
            published_high_percent: Some(table.high_percent),
            skewed: table.skewed,
        },
    }
}

/// The numbers, before places are sought.
pub(super) fn numbers(
    spread: &SpreadUsed,
    advice: Option<&Protocol>,
    ask: &SamplingAsk,
    area_m2: f64,
) -> Numbers {
    let confidence = ask.confidence_percent / 100.0;
    let asked = |cv: f64| cores(cv, ask.error_percent, confidence, Sides::TwoSided);
    let (advice_low, advice_high) = advice.map_or((12, 20), |row| (row.cores_low, row.cores_high));
    let wanted = asked(spread.taken_percent);
    // Beds of a few steps hold no dozen places that differ.
    let least = if area_m2 < 20.0 { 5 } else { u32::from(advice_low) };
    let bags_wanted = ask.bags.map(u32::from);
    let (total, bags) = if ask.apart {
        let points = u32::from(ask.cores.unwrap_or(APART).max(1));
        (points, points)
    } else {
        let total = ask.cores.map_or_else(|| wanted.unwrap_or(MOST).clamp(least, MOST), u32::from).max(1);
        let bags = bags_wanted.unwrap_or_else(|| total.div_ceil(BAG)).clamp(1, total);
        (total, bags)
    };
    // The same number in every bag, and never more in all than a plan may have.
    let most = u32::from(MOST_PLACES) / bags;
    let per_bag = if ask.apart { u32::from(AROUND) } else { total.div_ceil(bags).min(most).max(1) };
    let places = if ask.apart { total } else { per_bag * bags };
    let mut numbers = Numbers {
        asked_low: asked(spread.low_percent),
        asked: wanted,
        asked_high: asked(spread.high_percent),
        asked_published: spread.published_high_percent.and_then(asked),
        advice_low,
        advice_high,
        cores: 0,
        cores_per_bag: small(per_bag),
        bags: small(bags),
        places: small(places),
        error_low_percent: 0.0,
        error_high_percent: 0.0,
        falls_short: false,
    };
    numbers.finish(ask, spread);
    numbers
}

impl Numbers {
    /// The same for so many places as were found.
    pub(super) fn with_points(mut self, places: usize, ask: &SamplingAsk, spread: &SpreadUsed) -> Self {
        self.places = u16::try_from(places).unwrap_or(u16::MAX);
        if ask.apart {
            self.bags = self.places;
        } else {
            self.bags = self.bags.clamp(1, self.places.max(1));
            self.cores_per_bag = self.places.div_ceil(self.bags);
        }
        self.finish(ask, spread);
        self
    }

    fn finish(&mut self, ask: &SamplingAsk, spread: &SpreadUsed) {
        self.cores = if ask.apart { self.places.saturating_mul(self.cores_per_bag) } else { self.places };
        let confidence = ask.confidence_percent / 100.0;
        let places = u32::from(self.places.max(2));
        self.error_low_percent = error_of(spread.low_percent, places, confidence, Sides::TwoSided);
        self.error_high_percent = error_of(spread.high_percent, places, confidence, Sides::TwoSided);
        self.falls_short = self.asked.is_none_or(|asked| asked > u32::from(self.places));
    }
}

fn small(count: u32) -> u16 {
    u16::try_from(count.min(u32::from(MOST_PLACES))).unwrap_or(MOST_PLACES)
}
