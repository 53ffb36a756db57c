//! What the columns of a weather table hold and in which units, as they were read on import.

use ground::kit::Bounded;
use ground::kit::quantity::number;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{
    AirTemperature, DayRain, DewPoint, RelativeHumidity, SolarRadiation, StationEt0, SunshineHours, WindSpeed,
};

/// A column as it was read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ColumnRead {
    /// Its heading in the table.
    pub heading: String,
    /// What it holds; absent where it was passed over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub column: Option<WeatherColumn>,
    /// The unit of its cells.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<WeatherUnit>,
}

/// The order of day, month and year in a date.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum DateOrder {
    /// 2026-06-14.
    #[default]
    YearMonthDay,
    /// 14/06/2026.
    DayMonthYear,
    /// 06/14/2026.
    MonthDayYear,
}

impl DateOrder {
    /// Every order.
    pub const ALL: [Self; 3] = [Self::YearMonthDay, Self::DayMonthYear, Self::MonthDayYear];

    /// In words, with an example.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::YearMonthDay => "year, month, day (2026-06-14)",
            Self::DayMonthYear => "day, month, year (14/06/2026)",
            Self::MonthDayYear => "month, day, year (06/14/2026)",
        }
    }
}

macro_rules! columns {
    ($($(#[$meta:meta])* $column:ident, $name:literal, $words:literal, $quantity:ty, [$($unit:ident),*];)+) => {
        /// What a column of a weather table can hold.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
        pub enum WeatherColumn {
            /// The day.
            #[serde(rename = "date")]
            Date,
            $($(#[$meta])* #[serde(rename = $name)] $column,)+
        }

        impl WeatherColumn {
            /// Every column, the date first.
            pub const ALL: &'static [Self] = &[Self::Date, $(Self::$column),+];

            /// Its name: the heading in a table of the plain format.
            #[must_use]
            pub fn name(self) -> &'static str {
                match self { Self::Date => "date", $(Self::$column => $name,)+ }
            }

            /// What it holds, in words.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self { Self::Date => "the day", $(Self::$column => $words,)+ }
            }

            /// The units its cells may be in; the book's own first, none for the date.
            #[must_use]
            pub fn units(self) -> &'static [WeatherUnit] {
                match self { Self::Date => &[], $(Self::$column => &[$(WeatherUnit::$unit),*],)+ }
            }

            /// Least and greatest value, and an example, in the book's own unit.
            #[must_use]
            pub fn range(self) -> Option<(f64, f64, f64)> {
                match self {
                    Self::Date => None,
                    $(Self::$column => Some((<$quantity>::MIN, <$quantity>::MAX, <$quantity>::EXAMPLE)),)+
                }
            }
        }
    };
}

columns! {
    /// Highest temperature.
    TMax, "tmax_c", "highest temperature", AirTemperature, [Celsius, Fahrenheit];
    /// Lowest temperature.
    TMin, "tmin_c", "lowest temperature", AirTemperature, [Celsius, Fahrenheit];
    /// Rain.
    Rain, "rain_mm", "rain", DayRain, [Millimetre, Centimetre, Inch];
    /// Highest relative humidity.
    RhMax, "rh_max_percent", "highest relative humidity", RelativeHumidity, [Percent, Share];
    /// Lowest relative humidity.
    RhMin, "rh_min_percent", "lowest relative humidity", RelativeHumidity, [Percent, Share];
    /// Mean relative humidity.
    RhMean, "rh_mean_percent", "mean relative humidity", RelativeHumidity, [Percent, Share];
    /// Dew point.
    DewPoint, "dew_point_c", "dew point", DewPoint, [Celsius, Fahrenheit];
    /// Wind.
    Wind, "wind_m_s", "mean wind speed", WindSpeed, [MetresPerSecond, KilometresPerHour, MilesPerHour, Knots];
    /// Solar radiation.
    Radiation, "radiation_mj_m2_d", "solar radiation", SolarRadiation,
        [MegajoulesPerDay, Watts, Langleys, KilowattHours];
    /// Sunshine.
    Sunshine, "sunshine_h", "hours of sunshine", SunshineHours, [Hours, Minutes];
    /// Reference evapotranspiration.
    Et0, "et0_mm", "reference evapotranspiration", StationEt0, [Millimetre, Centimetre, Inch];
}

impl WeatherColumn {
    /// The column of that name.
    #[must_use]
    pub fn of_name(name: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|column| column.name().eq_ignore_ascii_case(name.trim()))
    }

    /// What a cell accepts, in a given unit: "-76 to 140 °F".
    #[must_use]
    pub fn accepted(self, unit: Option<WeatherUnit>) -> String {
        match (self.range(), unit.or_else(|| self.units().first().copied())) {
            (Some((least, most, _)), Some(unit)) => {
                let shown = |value: f64| number((unit.given(value) * 100.0).round() / 100.0);
                format!("{} to {} {}", shown(least), shown(most), unit.symbol())
            }
            _ => "a day".to_owned(),
        }
    }
}

macro_rules! cell_units {
    ($($(#[$meta:meta])* $unit:ident, $symbol:literal, [$($name:literal),*], $size:expr;)+) => {
        /// The unit of the cells of a column.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
        pub enum WeatherUnit {$(
            $(#[$meta])* #[serde(rename = $symbol)] $unit,
        )+}

        impl WeatherUnit {
            /// Every unit.
            pub const ALL: &'static [Self] = &[$(Self::$unit),+];

            /// As it is written.
            #[must_use]
            pub fn symbol(self) -> &'static str {
                match self {$(Self::$unit => $symbol,)+}
            }

            /// Every spelling that is read, in lower case.
            #[must_use]
            pub fn names(self) -> &'static [&'static str] {
                match self {$(Self::$unit => &[$($name),*],)+}
            }

            fn size(self) -> f64 {
                match self {$(Self::$unit => $size,)+}
            }
        }
    };
}

cell_units! {
    /// Degree Celsius.
    Celsius, "°C", ["°c", "c", "degc", "deg c", "celsius"], 1.0;
    /// Degree Fahrenheit.
    Fahrenheit, "°F", ["°f", "f", "degf", "deg f", "fahrenheit"], 1.0;
    /// Millimetre.
    Millimetre, "mm", ["mm", "millimetres", "millimeters", "l/m2", "l/m²"], 1.0;
    /// Centimetre.
    Centimetre, "cm", ["cm"], 10.0;
    /// Inch.
    Inch, "in", ["in", "inch", "inches", "\""], 25.4;
    /// Percent.
    Percent, "%", ["%", "percent", "pct"], 1.0;
    /// A share of one.
    Share, "0 to 1", ["0 to 1", "0-1", "share", "fraction"], 100.0;
    /// Metre a second.
    MetresPerSecond, "m/s", ["m/s", "ms-1", "m s-1", "mps"], 1.0;
    /// Kilometre an hour.
    KilometresPerHour, "km/h", ["km/h", "kmh", "kph", "km/hr"], 1.0 / 3.6;
    /// Mile an hour: 1609.344 m by definition.
    MilesPerHour, "mph", ["mph", "mi/h", "mi/hr"], 1_609.344 / 3_600.0;
    /// Knot: 1852 m an hour by definition.
    Knots, "kn", ["kn", "kt", "kts", "knot", "knots"], 1_852.0 / 3_600.0;
    /// Megajoule on a square metre in a day.
    MegajoulesPerDay, "MJ/m²/d", ["mj/m²/d", "mj/m2/d", "mj/m²", "mj/m2", "mj/m2/day", "mj/m²/day", "mj m-2", "mj"], 1.0;
    /// Watt on a square metre, the mean of the whole day: 86 400 s make 0.0864 MJ.
    Watts, "W/m²", ["w/m²", "w/m2", "w m-2", "watts", "w"], 0.086_4;
    /// Langley, a thermochemical calorie on a square centimetre: 0.041 84 MJ/m² by definition.
    Langleys, "Ly/d", ["ly/d", "ly", "ly/day", "langley", "langleys", "cal/cm2", "cal/cm²"], 0.041_84;
    /// Kilowatt-hour on a square metre in a day.
    KilowattHours, "kWh/m²/d", ["kwh/m²/d", "kwh/m2/d", "kwh/m2", "kwh/m²", "kwh"], 3.6;
    /// Hour.
    Hours, "h", ["h", "hr", "hrs", "hours"], 1.0;
    /// Minute.
    Minutes, "min", ["min", "mins", "minutes"], 1.0 / 60.0;
}

impl WeatherUnit {
    /// The unit of that name, whatever its case.
    #[must_use]
    pub fn of_name(name: &str) -> Option<Self> {
        let name = name.trim().to_lowercase();
        Self::ALL.iter().copied().find(|unit| unit.names().contains(&name.as_str()))
    }

    /// A value in this unit, in the book's own unit.
    #[must_use]
    pub fn kept(self, value: f64) -> f64 {
        let value = if self == Self::Fahrenheit { (value - 32.0) / 1.8 } else { value * self.size() };
        twelve_digits(value)
    }

    /// A value in the book's own unit, in this unit.
    #[must_use]
    pub fn given(self, value: f64) -> f64 {
        let value = if self == Self::Fahrenheit { value * 1.8 + 32.0 } else { value / self.size() };
        twelve_digits(value)
    }
}

/// So that 1 in is 25.4 mm and not a hair more.
fn twelve_digits(value: f64) -> f64 {
    format!("{value:.11e}").parse().unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST Special Publication 811 (2008), Appendix B.8 (recalled): mile per hour 4.4704 E-01 m/s, knot
    /// 5.144 444 E-01 m/s, inch 2.54 E-02 m, langley 4.184 E+04 J/m², °F = 1.8 °C + 32. FAO Irrigation and
    /// Drainage Paper 56, table 3 (recalled): 1 W/m² is 0.0864 MJ/m²/d, 1 J/cm²/d is 0.01.
    #[test]
    fn units_are_the_published_size() {
        for (unit, value, kept) in [
            (WeatherUnit::MilesPerHour, 1.0, 0.447_04),
            (WeatherUnit::Knots, 1.0, 0.514_444_444_444),
            (WeatherUnit::KilometresPerHour, 36.0, 10.0),
            (WeatherUnit::Inch, 1.0, 25.4),
            (WeatherUnit::Langleys, 500.0, 20.92),
            (WeatherUnit::Watts, 1.0, 0.0864),
            (WeatherUnit::KilowattHours, 1.0, 3.6),
            (WeatherUnit::Fahrenheit, 212.0, 100.0),
            (WeatherUnit::Fahrenheit, -40.0, -40.0),
            (WeatherUnit::Share, 0.65, 65.0),
        ] {
            assert_eq!(unit.kept(value), kept, "{unit:?}");
            assert!((unit.given(kept) - value).abs() < 1e-9, "{unit:?}");
        }
    }

    #[test]
    fn no_spelling_means_two_units() {
        for unit in WeatherUnit::ALL {
            assert_eq!(WeatherUnit::of_name(unit.symbol()), Some(*unit));
            for name in unit.names() {
                assert_eq!(WeatherUnit::of_name(name), Some(*unit), "{name}");
            }
        }
    }
}
