//! What can be mapped: any figure that readings at places give, measured or worked out from them.

use ground::fertility::analysis::report::Analyte;
use serde::{Serialize, Serializer};

/// A property of the ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Property {
    /// Sand.
    Sand,
    /// Silt.
    Silt,
    /// Clay.
    Clay,
    /// Texture class.
    Class,
    /// Available water, worked out from texture and organic matter.
    AvailableWater,
    /// Organic matter.
    OrganicMatter,
    /// Salts by the conductivity of an extract.
    Salts,
    /// How fast rings took water.
    Infiltration,
    /// Where the hard layer begins.
    PanTop,
    /// Bulk density of the fine earth.
    Density,
    /// A figure of a laboratory's report.
    Lab(Analyte),
    /// Water that crops can use over the depth of their roots, worked out for a plot as a whole.
    UsableWater,
    /// Saturated conductivity of the top by the equations, for a plot as a whole.
    Conductivity,
    /// Days after a soaking until the top has air again, for a plot as a whole.
    DaysToDrain,
    /// Water within the roots at some time of the year, by the signs seen on a plot.
    StandingWater,
    /// Lime that a plot asks for, as pure calcium carbonate.
    LimeNeed,
}

/// Those that are no plain figure of a report.
const OWN: [Property; 10] = [
    Property::Lab(Analyte::PhWater),
    Property::OrganicMatter,
    Property::Sand,
    Property::Clay,
    Property::Class,
    Property::AvailableWater,
    Property::Salts,
    Property::Infiltration,
    Property::PanTop,
    Property::Density,
];

/// Those that are worked out for a plot as a whole and have no reading at a place.
const OF_PLOTS: [Property; 5] = [
    Property::UsableWater,
    Property::Conductivity,
    Property::DaysToDrain,
    Property::StandingWater,
    Property::LimeNeed,
];

impl Property {
    /// Every property, the ones asked for most first.
    pub fn all() -> impl Iterator<Item = Self> {
        let told = |analyte: &Analyte| {
            !matches!(
                analyte,
                Analyte::PhWater | Analyte::OrganicMatter | Analyte::OrganicCarbon | Analyte::Ec
            )
        };
        OWN.into_iter()
            .chain([Self::Silt])
            .chain(Analyte::ALL.iter().copied().filter(told).map(Self::Lab))
            .chain(OF_PLOTS)
    }

    /// Is it told of plots as a whole alone?
    #[must_use]
    pub fn of_plots_alone(self) -> bool {
        OF_PLOTS.contains(&self)
    }

    /// Is a plot's own figure worked out from all its evidence, and not the mean of its readings?
    #[must_use]
    pub fn worked_out(self) -> bool {
        self.is_texture() || self == Self::AvailableWater || self.of_plots_alone()
    }

    /// Does it follow the normal law only as logarithms, however few readings there are?
    #[must_use]
    pub fn is_of_ratios(self) -> bool {
        self == Self::Infiltration
    }

    /// Its name in an address and on the command line.
    #[must_use]
    pub fn key(self) -> String {
        match self {
            Self::Lab(Analyte::PhWater) => "ph".to_owned(),
            Self::Lab(analyte) => analyte.words().to_lowercase().replace(' ', "-"),
            other => other.words().replace(' ', "-"),
        }
    }

    /// The property of a name.
    #[must_use]
    pub fn of_key(key: &str) -> Option<Self> {
        let key = key.trim().to_lowercase().replace([' ', '_'], "-");
        Self::all().find(|property| property.key() == key)
    }

    /// In words, in the middle of a sentence.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Sand => "sand",
            Self::Silt => "silt",
            Self::Clay => "clay",
            Self::Class => "texture class",
            Self::AvailableWater => "available water",
            Self::OrganicMatter => "organic matter",
            Self::Salts => "salts",
            Self::Infiltration => "infiltration",
            Self::PanTop => "pan depth",
            Self::Density => "bulk density",
            Self::UsableWater => "usable water over the roots",
            Self::Conductivity => "saturated conductivity",
            Self::DaysToDrain => "days to drain",
            Self::StandingWater => "standing water",
            Self::LimeNeed => "lime need",
            Self::Lab(Analyte::PhWater) => "pH",
            Self::Lab(analyte) => analyte.words(),
        }
    }

    /// As a heading.
    #[must_use]
    pub fn title(self) -> String {
        let words = self.words();
        if words.starts_with("pH") {
            return words.to_owned();
        }
        let mut letters = words.chars();
        letters
            .next()
            .map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + letters.as_str())
    }

    /// Is it one of sand, silt and clay, or their class?
    #[must_use]
    pub fn is_texture(self) -> bool {
        matches!(self, Self::Sand | Self::Silt | Self::Clay | Self::Class)
    }

    /// Least and most that it can be, in the unit it is kept in.
    #[must_use]
    pub fn limits(self) -> [f64; 2] {
        match self {
            _ if self.is_texture() => [0.0, 100.0],
            Self::OrganicMatter => [0.0, 100.0],
            Self::Lab(Analyte::PhWater | Analyte::PhSalt | Analyte::BufferPh) => [0.0, 14.0],
            _ => [0.0, f64::INFINITY],
        }
    }

    /// Can a year of growing and spreading change it?
    #[must_use]
    pub fn changes_in_a_year(self) -> bool {
        !(self.is_texture() || matches!(self, Self::AvailableWater))
    }

    /// Decimals that it is told with.
    #[must_use]
    pub fn decimals(self) -> usize {
        match self {
            Self::Density | Self::Salts => 2,
            Self::Lab(Analyte::PhWater | Analyte::PhSalt | Analyte::BufferPh) | Self::OrganicMatter => 1,
            Self::Lab(_) | Self::Infiltration => 1,
            _ => 0,
        }
    }
}

impl Serialize for Property {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.key())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_property_is_found_by_its_key() {
        for property in Property::all() {
            let key = property.key();
            assert_eq!(Property::of_key(&key), Some(property), "{key}");
            assert!(key.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{key}");
        }
        assert_eq!(Property::of_key("Organic matter"), Some(Property::OrganicMatter));
        assert_eq!(Property::of_key("gold"), None);
    }
}
