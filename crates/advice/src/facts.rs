//! What a rule may look at: the possible make-ups of a plot with their water, and what was seen.

use book::model::UnitSystem;
use book::model::seen::Sign;
use book::model::{Place, Watering};
use ground::kit::Spread;
use ground::structure::working::ball::Handful;
use ground::texture::{Class, Composition};
use jiff::civil::Date;

use crate::rings::Rings;
use crate::structure::decision::Known;

/// One possible state of the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draw {
    /// Sand, silt and clay.
    pub soil: Composition,
    /// Its class.
    pub class: Class,
    /// Organic matter, percent by mass.
    pub organic_matter_percent: f64,
    /// Gravel and stones, percent by mass.
    pub gravel_mass_percent: f64,
    /// Gravel and stones, percent by volume.
    pub gravel_volume_percent: f64,
    /// Dry bulk density of the fine earth.
    pub bulk_density_g_cm3: f64,
    /// Water held at 1500 kPa. Not a number where the equations give none; so below.
    pub wilting_point: f64,
    /// Water held at 33 kPa, m³/m³.
    pub field_capacity: f64,
    /// Water when every pore is full, m³/m³.
    pub saturation: f64,
    /// Water a crop can use in the ground as it lies, stones counted, m³/m³.
    pub available_water: f64,
    /// Saturated conductivity, mm/h.
    pub conductivity_mm_h: f64,
}

/// What is known of the place apart from the ground.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Under the sky or under cover.
    pub place: Place,
    /// Slope, where it is known.
    pub slope_percent: Option<f64>,
    /// Depth to which the crop draws water.
    pub root_depth_cm: f64,
    /// Was that depth given, or is it the usual one?
    pub root_depth_given: bool,
    /// How it is watered.
    pub watering: Option<Watering>,
}

/// A sign with the day it was seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeenSign {
    /// Day.
    pub on: Date,
    /// Sign.
    pub sign: Sign,
}

/// Which properties were measured on this plot; the others have wide stand-ins.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Measured {
    /// Organic matter.
    pub organic_matter: bool,
    /// Gravel.
    pub gravel: bool,
    /// Packing.
    pub packing: bool,
    /// Salts.
    pub salinity: bool,
}

/// What was measured of the water of a plot beside its make-up.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct WaterSeen {
    /// Ring infiltration.
    pub rings: Option<Rings>,
    /// Rates of its sprinklers, mm/h.
    pub sprinklers_mm_h: Vec<f64>,
    /// Saturation extract of each draw, dS/m, where salts were measured.
    pub salts_ds_m: Option<Vec<f64>>,
    /// The saltiest water it is given, dS/m.
    pub supply_ds_m: Option<f64>,
    /// Exchangeable sodium of the latest soil test that tells it, percent.
    pub sodium_percent: Option<f64>,
}

/// What was read of the structure of a plot.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct StructureSeen {
    /// The latest transect of a probe: its day, pushes that were stopped, pushes, and where the hard layer begins
    /// and ends, cm.
    pub probe: Option<ProbeSaid>,
    /// Day of the latest cores of a layer and their mean density, g/cm³.
    pub cores: Option<(Date, f64)>,
    /// The latest handful: its day, days since a soaking rain, and what it did.
    pub handful: Option<(Date, Option<f64>, Handful)>,
    /// What is known for the decision on loosening, where a reading tells of hardness.
    pub known: Option<Known>,
}

/// What a transect found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ProbeSaid {
    /// The day.
    pub on: Date,
    /// Pushes that were stopped.
    pub stopped: usize,
    /// Pushes.
    pub pushes: usize,
    /// Was the ground moist enough to judge?
    pub comparable: bool,
    /// Where the hard layer begins, cm.
    pub top_cm: Option<f64>,
    /// Where it ends, cm.
    pub bottom_cm: Option<f64>,
}

/// Everything a rule may look at.
#[derive(Debug, Clone, PartialEq)]
pub struct Ground {
    /// Possible states of the ground.
    pub draws: Vec<Draw>,
    /// Their weights; they add to one.
    pub weights: Vec<f64>,
    /// The place.
    pub site: Site,
    /// Signs, latest first.
    pub signs: Vec<SeenSign>,
    /// What was measured of its water.
    pub water: WaterSeen,
    /// What was read of its structure.
    pub structure: StructureSeen,
    /// What was measured.
    pub measured: Measured,
    /// Does any evidence speak of sand, silt and clay?
    pub make_up_known: bool,
    /// Units of the farm.
    pub units: UnitSystem,
}

impl Ground {
    /// Odds that a statement holds.
    #[must_use]
    pub fn odds(&self, holds: impl Fn(&Draw) -> bool) -> f64 {
        self.draws
            .iter()
            .zip(&self.weights)
            .filter(|(draw, _)| holds(draw))
            .fold(0.0, |sum, (_, weight)| sum + weight)
            .clamp(0.0, 1.0)
    }

    /// Median and 90 % range of a property; `None` where no draw has a value.
    #[must_use]
    pub fn spread(&self, of: impl Fn(&Draw) -> f64) -> Option<Spread> {
        self.spread_each(&self.each(of))
    }

    /// The same of a property worked out before.
    #[must_use]
    pub fn spread_each(&self, values: &[f64]) -> Option<Spread> {
        Spread::of(values, &self.weights)
    }

    /// A property of each draw, worked out once where both its spread and an answer rest on it.
    #[must_use]
    pub fn each(&self, of: impl Fn(&Draw) -> f64) -> Vec<f64> {
        self.draws.iter().map(of).collect()
    }

    /// The latest sign that `pick` takes something from, with its day.
    pub fn latest<T>(&self, pick: impl Fn(Sign) -> Option<T>) -> Option<(Date, T)> {
        self.signs.iter().find_map(|seen| pick(seen.sign).map(|found| (seen.on, found)))
    }
}
