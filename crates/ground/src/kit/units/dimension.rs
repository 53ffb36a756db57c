//! The measures that forms, commands and tables ask for, each with its units.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::unit::{Kind, Unit};

/// The units a farm likes to read and write. Both systems are read everywhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum UnitSystem {
    /// Inches, feet, pounds, °F.
    UsCustomary,
    /// Millimetres, metres, grams, °C.
    Metric,
}

impl UnitSystem {
    /// In words for a person.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::UsCustomary => "US customary (in, ft, lb, °F)",
            Self::Metric => "metric (mm, m, kg, °C)",
        }
    }
}

/// A measure that is asked for, with the unit it is kept in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Dimension {
    /// Layers in a jar, a ribbon; kept in mm.
    SmallLength,
    /// Rain and irrigation, told in decimals of an inch; kept in mm.
    WaterDepth,
    /// Beds and plots; kept in m.
    Length,
    /// Depth in the ground; kept in cm.
    Depth,
    /// Size of a grain; kept in µm.
    GrainSize,
    /// Area; kept in m².
    Area,
    /// What a kitchen scale weighs; kept in g.
    Mass,
    /// What a person carries; kept in kg.
    Load,
    /// What fills a jar; kept in mL.
    Volume,
    /// What fills a tank; kept in L.
    BulkVolume,
    /// Temperature; kept in °C.
    Temperature,
    /// Time passed; kept in s.
    Duration,
    /// Percent.
    Percent,
    /// Rain, irrigation and intake; kept in mm/h.
    Rate,
    /// Bulk density; kept in g/cm³.
    Density,
    /// Hydrometer scale; kept in g/L.
    Concentration,
    /// Electrical conductivity; kept in dS/m.
    Salinity,
    /// Soil water tension and pressure; kept in kPa.
    Pressure,
    /// Flow of a tap or a pump; kept in L/min.
    Flow,
    /// Flow of an emitter; kept in L/h.
    EmitterFlow,
    /// Flow of drip tape; kept in L/h for each metre.
    TapeFlow,
    /// What is dissolved in water; kept in mg/L.
    Dissolved,
    /// Speed of the wind; kept in m/s.
    Speed,
    /// Push of the wind, pull of a wire; kept in kN.
    Force,
    /// Sunlight of a day; kept in MJ/m².
    Irradiation,
    /// A number without unit.
    Number,
}

impl Dimension {
    /// Every dimension.
    pub const ALL: [Self; 26] = [
        Self::SmallLength,
        Self::WaterDepth,
        Self::Length,
        Self::Depth,
        Self::GrainSize,
        Self::Area,
        Self::Mass,
        Self::Load,
        Self::Volume,
        Self::BulkVolume,
        Self::Temperature,
        Self::Duration,
        Self::Percent,
        Self::Rate,
        Self::Density,
        Self::Concentration,
        Self::Salinity,
        Self::Pressure,
        Self::Flow,
        Self::EmitterFlow,
        Self::TapeFlow,
        Self::Dissolved,
        Self::Speed,
        Self::Force,
        Self::Irradiation,
        Self::Number,
    ];

    /// Base unit, the unit of a US farm, the unit of a metric farm.
    fn units(self) -> (Unit, Unit, Unit) {
        match self {
            Self::SmallLength | Self::WaterDepth => (Unit::Millimetre, Unit::Inch, Unit::Millimetre),
            Self::Length => (Unit::Metre, Unit::Foot, Unit::Metre),
            Self::Depth => (Unit::Centimetre, Unit::Inch, Unit::Centimetre),
            Self::GrainSize => (Unit::Micrometre, Unit::Micrometre, Unit::Micrometre),
            Self::Area => (Unit::SquareMetre, Unit::SquareFoot, Unit::SquareMetre),
            Self::Mass => (Unit::Gram, Unit::Ounce, Unit::Gram),
            Self::Load => (Unit::Kilogram, Unit::Pound, Unit::Kilogram),
            Self::Volume => (Unit::Millilitre, Unit::FluidOunce, Unit::Millilitre),
            Self::BulkVolume => (Unit::Litre, Unit::Gallon, Unit::Litre),
            Self::Temperature => (Unit::Celsius, Unit::Fahrenheit, Unit::Celsius),
            Self::Duration => (Unit::Second, Unit::Minute, Unit::Minute),
            Self::Percent => (Unit::Percent, Unit::Percent, Unit::Percent),
            Self::Rate => (Unit::MillimetrePerHour, Unit::InchPerHour, Unit::MillimetrePerHour),
            Self::Density => {
                (Unit::GramPerCubicCentimetre, Unit::GramPerCubicCentimetre, Unit::GramPerCubicCentimetre)
            }
            Self::Concentration => (Unit::GramPerLitre, Unit::GramPerLitre, Unit::GramPerLitre),
            Self::Salinity => {
                (Unit::DecisiemensPerMetre, Unit::DecisiemensPerMetre, Unit::DecisiemensPerMetre)
            }
            Self::Pressure => (Unit::Kilopascal, Unit::Kilopascal, Unit::Kilopascal),
            Self::Flow => (Unit::LitrePerMinute, Unit::GallonPerMinute, Unit::LitrePerMinute),
            Self::EmitterFlow => (Unit::LitrePerHour, Unit::GallonPerHour, Unit::LitrePerHour),
            Self::TapeFlow => {
                (Unit::LitrePerHourMetre, Unit::GallonPerMinuteHundredFeet, Unit::LitrePerHourMetre)
            }
            Self::Dissolved => (Unit::MilligramPerLitre, Unit::MilligramPerLitre, Unit::MilligramPerLitre),
            Self::Speed => (Unit::MetrePerSecond, Unit::MilePerHour, Unit::MetrePerSecond),
            Self::Force => (Unit::Kilonewton, Unit::PoundForce, Unit::Kilonewton),
            Self::Irradiation => (
                Unit::MegajoulePerSquareMetreDay,
                Unit::MegajoulePerSquareMetreDay,
                Unit::MegajoulePerSquareMetreDay,
            ),
            Self::Number => (Unit::One, Unit::One, Unit::One),
        }
    }

    /// The unit its values are kept in.
    #[must_use]
    pub fn base(self) -> Unit {
        self.units().0
    }

    /// The unit a number without unit is in, on a farm of that system, and the unit shown at the field.
    #[must_use]
    pub fn unit(self, system: UnitSystem) -> Unit {
        match system {
            UnitSystem::UsCustomary => self.units().1,
            UnitSystem::Metric => self.units().2,
        }
    }

    /// What its units measure.
    #[must_use]
    pub fn kind(self) -> Kind {
        self.base().kind()
    }

    /// The dimension a unit most likely belongs to.
    #[must_use]
    pub fn of_unit(unit: Unit) -> Self {
        match unit {
            Unit::Micrometre => Self::GrainSize,
            Unit::Millimetre | Unit::Inch => Self::SmallLength,
            Unit::Centimetre => Self::Depth,
            Unit::Milligram | Unit::Gram | Unit::Ounce => Self::Mass,
            Unit::Millilitre | Unit::FluidOunce | Unit::Cup => Self::Volume,
            Unit::GramPerLitre => Self::Concentration,
            Unit::MilligramPerLitre => Self::Dissolved,
            Unit::LitrePerHour | Unit::GallonPerHour => Self::EmitterFlow,
            _ => match unit.kind() {
                Kind::Length => Self::Length,
                Kind::Area => Self::Area,
                Kind::Mass => Self::Load,
                Kind::Volume => Self::BulkVolume,
                Kind::Temperature => Self::Temperature,
                Kind::Time => Self::Duration,
                Kind::Percent => Self::Percent,
                Kind::Rate => Self::Rate,
                Kind::Density => Self::Density,
                Kind::Conductivity => Self::Salinity,
                Kind::Pressure => Self::Pressure,
                Kind::Flow => Self::Flow,
                Kind::FlowPerLength => Self::TapeFlow,
                Kind::Speed => Self::Speed,
                Kind::Force => Self::Force,
                Kind::Irradiation => Self::Irradiation,
                Kind::Number => Self::Number,
            },
        }
    }

    /// May a value lie below zero? The hydrometer's scale and the thermometer's do.
    pub(super) fn may_be_negative(self) -> bool {
        matches!(self, Self::Temperature | Self::Number | Self::Concentration)
    }

    /// What is accepted, in words.
    #[must_use]
    pub fn accepted(self) -> &'static str {
        match self {
            Self::WaterDepth => "a depth of water in inches, mm or cm",
            Self::SmallLength | Self::Depth => "a length in inches, feet, mm, cm or m (fractions are read)",
            Self::Length => "a length in feet, inches, yards, m or cm",
            Self::GrainSize => "a grain size in µm, mm or in",
            Self::Area => "an area in sq ft, sq yd, acres, m² or ha",
            Self::Mass | Self::Load => "a weight in lb, oz, g, kg or t",
            Self::Volume | Self::BulkVolume => {
                "a volume in fl oz, cups, pt, qt, gal, cu ft, cu yd, mL, L or m³"
            }
            Self::Temperature => "a temperature in °F or °C",
            Self::Duration => "a time in s, min, h, d or weeks",
            Self::Percent => "a number of percent",
            Self::Rate => "a rate in in/h, in/d, mm/h, cm/h or mm/d",
            Self::Density => "a density in g/cm³, kg/m³ or lb/ft³",
            Self::Concentration => "a reading in g/L",
            Self::Salinity => "a conductivity in dS/m, mS/cm or µS/cm",
            Self::Pressure => "a pressure in kPa, MPa, cbar, bar or psi",
            Self::Flow | Self::EmitterFlow => "a flow in gal/min, gal/h, L/min, L/h or m³/h",
            Self::TapeFlow => "a flow in gpm/100 ft, gph/100 ft, gph/ft or L/h/m",
            Self::Dissolved => "a content in mg/L or ppm",
            Self::Speed => "a speed in mph, km/h, m/s or kn",
            Self::Force => "a force in lb, kN, N or kg",
            Self::Irradiation => "sunlight in MJ/m²/d, kWh/m²/d, W/m² or Ly/d",
            Self::Number => "a number without unit",
        }
    }

    /// Something a person might write, in the system they use.
    #[must_use]
    pub fn example(self, system: UnitSystem) -> &'static str {
        let us = system == UnitSystem::UsCustomary;
        match self {
            Self::SmallLength => {
                if us {
                    "2 3/16 in"
                } else {
                    "55 mm"
                }
            }
            Self::WaterDepth => {
                if us {
                    "0.75 in"
                } else {
                    "18 mm"
                }
            }
            Self::Length => {
                if us {
                    "4 ft 6 in"
                } else {
                    "1.4 m"
                }
            }
            Self::Depth => {
                if us {
                    "8 in"
                } else {
                    "20 cm"
                }
            }
            Self::GrainSize => "50 µm",
            Self::Area => {
                if us {
                    "1200 sq ft"
                } else {
                    "110 m²"
                }
            }
            Self::Mass => {
                if us {
                    "4 1/2 oz"
                } else {
                    "130 g"
                }
            }
            Self::Load => {
                if us {
                    "2 lb 4 oz"
                } else {
                    "1.5 kg"
                }
            }
            Self::Volume => {
                if us {
                    "8 fl oz"
                } else {
                    "250 mL"
                }
            }
            Self::BulkVolume => {
                if us {
                    "5 gal"
                } else {
                    "20 L"
                }
            }
            Self::Temperature => {
                if us {
                    "68 °F"
                } else {
                    "20 °C"
                }
            }
            Self::Duration => "2 h",
            Self::Percent => "12.5 %",
            Self::Rate => {
                if us {
                    "0.5 in/h"
                } else {
                    "12 mm/h"
                }
            }
            Self::Density => "1.35 g/cm³",
            Self::Concentration => "25 g/L",
            Self::Salinity => "1.2 dS/m",
            Self::Pressure => "33 kPa",
            Self::Flow => {
                if us {
                    "5 gal/min"
                } else {
                    "20 L/min"
                }
            }
            Self::EmitterFlow => {
                if us {
                    "0.5 gal/h"
                } else {
                    "2 L/h"
                }
            }
            Self::TapeFlow => {
                if us {
                    "0.5 gpm/100 ft"
                } else {
                    "5 L/h/m"
                }
            }
            Self::Dissolved => "40 mg/L",
            Self::Speed => {
                if us {
                    "5 mph"
                } else {
                    "2 m/s"
                }
            }
            Self::Force => {
                if us {
                    "200 lb"
                } else {
                    "0.9 kN"
                }
            }
            Self::Irradiation => "20 MJ/m²/d",
            Self::Number => "2.5",
        }
    }
}
