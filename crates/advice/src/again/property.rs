//! What is followed from year to year.

use book::model::UnitSystem;
use serde::Serialize;

use crate::words;

/// A reading that is followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Property {
    /// pH in water.
    PhWater,
    /// pH in salt.
    PhSalt,
    /// Organic matter, percent.
    OrganicMatter,
    /// Phosphorus, ppm.
    Phosphorus,
    /// Potassium, ppm.
    Potassium,
    /// Magnesium, ppm.
    Magnesium,
    /// Nitrate nitrogen, ppm; each quarter of the year by itself.
    Nitrate,
    /// Electrical conductivity in its own extract, dS/m.
    Salts,
    /// Sand, percent.
    Sand,
    /// Clay, percent.
    Clay,
    /// Density of cores, g/cm³.
    Density,
    /// How fast wet ground takes water, mm/h.
    Infiltration,
    /// Depth at which the hard layer begins, cm.
    PanTop,
    /// Pushes that were stopped, percent.
    Stopped,
    /// Score of the spade block.
    Score,
    /// Mean class of the slake test.
    Slake,
    /// Earthworms in a cubic foot.
    Worms,
    /// What a crop yielded, kg/m².
    Yield,
}

/// The walk on which a property is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Walk {
    /// A bag to the laboratory.
    SoilTest,
    /// The probe.
    Probe,
    /// Cores for density.
    Cores,
    /// The spade block.
    Spade,
    /// Crumbs in water.
    Slake,
    /// Rings of water.
    Rings,
}

impl Walk {
    /// What to do, in a line.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::SoilTest => "Have the soil tested",
            Self::Probe => "Push the probe again in the same places",
            Self::Cores => "Take density cores again from the same layer",
            Self::Spade => "Dig a spade block again",
            Self::Slake => "Put crumbs to the slake test again",
            Self::Rings => "Time water in rings again at the same places",
        }
    }

    /// What to record, as in the address of its form.
    #[must_use]
    pub fn form(self) -> &'static str {
        match self {
            Self::SoilTest => "lab-report",
            Self::Probe => "probe",
            Self::Cores => "cores",
            Self::Spade => "spade",
            Self::Slake => "slake",
            Self::Rings => "ring-infiltration",
        }
    }
}

impl Property {
    /// Every one.
    pub const ALL: [Self; 18] = [
        Self::PhWater,
        Self::PhSalt,
        Self::OrganicMatter,
        Self::Phosphorus,
        Self::Potassium,
        Self::Magnesium,
        Self::Nitrate,
        Self::Salts,
        Self::Sand,
        Self::Clay,
        Self::Density,
        Self::Infiltration,
        Self::PanTop,
        Self::Stopped,
        Self::Score,
        Self::Slake,
        Self::Worms,
        Self::Yield,
    ];

    /// Its key, as in the JSON and in the table of intervals.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::PhWater => "ph_water",
            Self::PhSalt => "ph_salt",
            Self::OrganicMatter => "organic_matter",
            Self::Phosphorus => "phosphorus",
            Self::Potassium => "potassium",
            Self::Magnesium => "magnesium",
            Self::Nitrate => "nitrate",
            Self::Salts => "salts",
            Self::Sand => "sand",
            Self::Clay => "clay",
            Self::Density => "density",
            Self::Infiltration => "infiltration",
            Self::PanTop => "pan_top",
            Self::Stopped => "stopped",
            Self::Score => "score",
            Self::Slake => "slake",
            Self::Worms => "worms",
            Self::Yield => "yield",
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::PhWater => "pH in water",
            Self::PhSalt => "pH in salt",
            Self::OrganicMatter => "organic matter",
            Self::Phosphorus => "phosphorus",
            Self::Potassium => "potassium",
            Self::Magnesium => "magnesium",
            Self::Nitrate => "nitrate nitrogen",
            Self::Salts => "salts (EC in the same extract)",
            Self::Sand => "sand",
            Self::Clay => "clay",
            Self::Density => "density of the cores",
            Self::Infiltration => "water the wet ground takes",
            Self::PanTop => "depth at which the hard layer begins",
            Self::Stopped => "share of pushes that are stopped",
            Self::Score => "structure score (1 is best)",
            Self::Slake => "stability of crumbs in water",
            Self::Worms => "earthworms",
            Self::Yield => "yield",
        }
    }

    /// Is a rise to the good, to the bad, or neither?
    #[must_use]
    pub fn rise_is_good(self) -> Option<bool> {
        match self {
            Self::OrganicMatter
            | Self::Infiltration
            | Self::PanTop
            | Self::Slake
            | Self::Worms
            | Self::Yield => Some(true),
            Self::Density | Self::Stopped | Self::Score | Self::Salts => Some(false),
            _ => None,
        }
    }

    /// Least and most that a reading can be, in its own unit.
    #[must_use]
    pub fn bounds(self) -> [f64; 2] {
        match self {
            Self::PhWater | Self::PhSalt => [0.0, 14.0],
            Self::OrganicMatter | Self::Sand | Self::Clay | Self::Stopped => [0.0, 100.0],
            Self::Score => [1.0, 5.0],
            Self::Slake => [0.0, 6.0],
            _ => [0.0, f64::INFINITY],
        }
    }

    /// Does its error grow with its value, so that steps are told apart as ratios?
    #[must_use]
    pub fn by_ratio(self) -> bool {
        matches!(
            self,
            Self::Phosphorus
                | Self::Potassium
                | Self::Magnesium
                | Self::Nitrate
                | Self::Salts
                | Self::Infiltration
                | Self::Yield
        )
    }

    /// The walk on which it is looked at; make-up does not change, harvests are weighed anyway, and nitrate is read when a
    /// crop asks for it.
    #[must_use]
    pub fn walk(self) -> Option<Walk> {
        match self {
            Self::PhWater
            | Self::PhSalt
            | Self::OrganicMatter
            | Self::Phosphorus
            | Self::Potassium
            | Self::Magnesium
            | Self::Salts => Some(Walk::SoilTest),
            Self::PanTop | Self::Stopped => Some(Walk::Probe),
            Self::Density => Some(Walk::Cores),
            Self::Score | Self::Worms => Some(Walk::Spade),
            Self::Slake => Some(Walk::Slake),
            Self::Infiltration => Some(Walk::Rings),
            Self::Nitrate | Self::Sand | Self::Clay | Self::Yield => None,
        }
    }

    /// Does it tell of structure?
    #[must_use]
    pub fn of_structure(self) -> bool {
        matches!(
            self,
            Self::PanTop
                | Self::Stopped
                | Self::Density
                | Self::Score
                | Self::Slake
                | Self::Worms
                | Self::OrganicMatter
        )
    }

    /// The unit that a reader sees, and what a value is multiplied by to come to it.
    #[must_use]
    pub fn unit(self, units: UnitSystem) -> (&'static str, f64) {
        let us = units == UnitSystem::UsCustomary;
        match self {
            Self::PhWater | Self::PhSalt | Self::Score | Self::Slake => ("", 1.0),
            Self::OrganicMatter | Self::Sand | Self::Clay | Self::Stopped => ("%", 1.0),
            Self::Phosphorus | Self::Potassium | Self::Magnesium | Self::Nitrate => ("ppm", 1.0),
            Self::Salts => ("dS/m", 1.0),
            Self::Density => ("g/cm³", 1.0),
            Self::Infiltration if us => ("in/h", 1.0 / 25.4),
            Self::Infiltration => ("mm/h", 1.0),
            Self::PanTop if us => ("in", 1.0 / 2.54),
            Self::PanTop => ("cm", 1.0),
            Self::Worms if us => ("in a cubic foot", 1.0),
            Self::Worms => ("in ten litres of ground", 10.0 / crate::structure::LITRES_PER_FT3),
            // 1 kg/m² is 20.48 lb on 100 ft².
            Self::Yield if us => ("lb/100 ft²", 9.290_304 / 0.453_592_37),
            Self::Yield => ("kg/m²", 1.0),
        }
    }

    /// A value without its unit.
    #[must_use]
    pub fn number(self, value: f64, units: UnitSystem) -> String {
        let value = value * self.unit(units).1;
        match self {
            Self::PhWater | Self::PhSalt | Self::OrganicMatter => format!("{value:.1}"),
            Self::Density => format!("{value:.2}"),
            Self::Sand | Self::Clay | Self::Stopped | Self::PanTop | Self::Worms => format!("{value:.0}"),
            _ => words::short(value),
        }
    }

    /// A value with its unit.
    #[must_use]
    pub fn value(self, value: f64, units: UnitSystem) -> String {
        let (unit, _) = self.unit(units);
        let number = self.number(value, units);
        if unit.is_empty() { number } else { format!("{number} {unit}") }
    }
}
