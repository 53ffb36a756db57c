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

impl Property {
    /// Every property, the ones asked for most first.
    pub fn all() -> impl Iterator<Item = Self> {
        let told = |analyte: &Analyte| {
            !matches!(
                analyte,
                Analyte::PhWater | Analyte::OrganicMatter | Analyte::OrganicCarbon | Analyte::Ec
            )
        };
        OWN.into_iter().chain([Self::Silt]).chain(Analyte::ALL.iter().copied().filter(told).map(Self::Lab))
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
