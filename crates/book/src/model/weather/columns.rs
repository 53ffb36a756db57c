//! What the columns of a weather table hold and in which units, as they were read on import.

use ground::kit::quantity::number;
use ground::kit::units::{Dimension, Unit, parse, typed};
use ground::kit::{Bounded, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{
    AirTemperature, DayRain, DewPoint, RelativeHumidity, SolarRadiation, StationEt0, SunshineHours,
    WeatherDay, WindSpeed,
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
    ($($(#[$meta:meta])* $column:ident, $field:ident, $name:literal, $words:literal, $quantity:ty, [$($unit:ident),*];)+) => {
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

            /// Reads a cell of this column, headed `heading`, into the day.
            ///
            /// # Errors
            /// The cell is no number of that unit, or lies outside the range.
            pub fn read(
                self,
                heading: &str,
                text: &str,
                unit: WeatherUnit,
                day: &mut WeatherDay,
            ) -> Result<(), Refusal> {
                match self {
                    Self::Date => {}
                    $(Self::$column => day.$field = Some(unit.read::<$quantity>(heading, text)?),)+
                }
                Ok(())
            }

            /// Its value on a day, in the book's own unit.
            #[must_use]
            pub fn of(self, day: &WeatherDay) -> Option<f64> {
                match self { Self::Date => None, $(Self::$column => day.$field.map(Bounded::get),)+ }
            }
        }
    };
}

columns! {
    /// Highest temperature.
    TMax, tmax_c, "tmax_c", "highest temperature", AirTemperature, [Celsius, Fahrenheit];
    /// Lowest temperature.
    TMin, tmin_c, "tmin_c", "lowest temperature", AirTemperature, [Celsius, Fahrenheit];
    /// Rain.
    Rain, rain_mm, "rain_mm", "rain", DayRain, [Millimetre, Centimetre, Inch];
    /// Highest relative humidity.
    RhMax, rh_max_percent, "rh_max_percent", "highest relative humidity", RelativeHumidity, [Percent, Share];
    /// Lowest relative humidity.
    RhMin, rh_min_percent, "rh_min_percent", "lowest relative humidity", RelativeHumidity, [Percent, Share];
    /// Mean relative humidity.
    RhMean, rh_mean_percent, "rh_mean_percent", "mean relative humidity", RelativeHumidity, [Percent, Share];
    /// Dew point.
    DewPoint, dew_point_c, "dew_point_c", "dew point", DewPoint, [Celsius, Fahrenheit];
    /// Wind.
    Wind, wind_m_s, "wind_m_s", "mean wind speed", WindSpeed,
        [MetresPerSecond, KilometresPerHour, MilesPerHour, Knots];
    /// Solar radiation.
    Radiation, radiation_mj_m2_d, "radiation_mj_m2_d", "solar radiation", SolarRadiation,
        [MegajoulesPerDay, Watts, Langleys, KilowattHours];
    /// Sunshine.
    Sunshine, sunshine_h, "sunshine_h", "hours of sunshine", SunshineHours, [Hours, Minutes];
    /// Reference evapotranspiration.
    Et0, et0_mm, "et0_mm", "reference evapotranspiration", StationEt0, [Millimetre, Centimetre, Inch];
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
    ($($(#[$meta:meta])* $unit:ident, $symbol:literal, $own:ident to $base:ident, [$($name:literal),*];)+) => {
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

            /// The unit of measure, and the one the book keeps.
            fn units(self) -> (Unit, Unit) {
                match self {$(Self::$unit => (Unit::$own, Unit::$base),)+}
            }

            /// Spellings of headings beside those that are read everywhere.
            fn headings(self) -> &'static [&'static str] {
                match self {$(Self::$unit => &[$($name),*],)+}
            }
        }
    };
}

cell_units! {
    /// Degree Celsius.
    Celsius, "°C", Celsius to Celsius, ["degc"];
    /// Degree Fahrenheit.
    Fahrenheit, "°F", Fahrenheit to Celsius, ["degf"];
    /// Millimetre.
    Millimetre, "mm", Millimetre to Millimetre, ["l/m2", "l/m²"];
    /// Centimetre.
    Centimetre, "cm", Centimetre to Millimetre, [];
    /// Inch.
    Inch, "in", Inch to Millimetre, [];
    /// Percent.
    Percent, "%", Percent to Percent, [];
    /// A share of one.
    Share, "0 to 1", One to One, ["0 to 1", "0-1", "share", "fraction"];
    /// Metre a second.
    MetresPerSecond, "m/s", MetrePerSecond to MetrePerSecond, ["m/sec"];
    /// Kilometre an hour.
    KilometresPerHour, "km/h", KilometrePerHour to MetrePerSecond, [];
    /// Mile an hour.
    MilesPerHour, "mph", MilePerHour to MetrePerSecond, ["miles/h", "miles/hr"];
    /// Knot.
    Knots, "kn", Knot to MetrePerSecond, [];
    /// Megajoule on a square metre in a day.
    MegajoulesPerDay, "MJ/m²/d", MegajoulePerSquareMetreDay to MegajoulePerSquareMetreDay, [];
    /// Watt on a square metre, the mean of the whole day.
    Watts, "W/m²", WattPerSquareMetre to MegajoulePerSquareMetreDay, ["w"];
    /// Langley in a day.
    Langleys, "Ly/d", LangleyPerDay to MegajoulePerSquareMetreDay, [];
    /// Kilowatt-hour on a square metre in a day.
    KilowattHours, "kWh/m²/d", KilowattHourPerSquareMetreDay to MegajoulePerSquareMetreDay, [];
    /// Hour.
    Hours, "h", Hour to Hour, [];
    /// Minute.
    Minutes, "min", Minute to Hour, [];
}

/// A share of one in percent.
const PERCENT: f64 = 100.0;

impl WeatherUnit {
    /// The unit of that name, whatever its case.
    #[must_use]
    pub fn of_name(name: &str) -> Option<Self> {
        let name = name.trim().to_lowercase();
        let known = |unit: &Self| {
            unit.headings().contains(&name.as_str()) || unit.units().0.names().contains(&name.as_str())
        };
        Self::ALL.iter().copied().find(|unit| !name.is_empty() && known(unit))
    }

    /// A value in this unit, in the book's own unit.
    #[must_use]
    pub fn kept(self, value: f64) -> f64 {
        let (own, base) = self.units();
        if self == Self::Share { value * PERCENT } else { own.convert(value, base) }
    }

    /// A value in the book's own unit, in this unit.
    #[must_use]
    pub fn given(self, value: f64) -> f64 {
        let (own, base) = self.units();
        if self == Self::Share { value / PERCENT } else { base.convert(value, own) }
    }

    /// Reads a number of this unit, or one that names its own.
    ///
    /// # Errors
    /// It is no number, or outside the range of the quantity.
    pub fn read<Q: Bounded>(self, field: &str, text: &str) -> Result<Q, Refusal> {
        if self != Self::Share {
            return typed::<Q>(field, text, self.units().0);
        }
        let share = parse(text, Dimension::Number, Unit::One).map_err(|error| error.at(field))?;
        if !(0.0..=1.0).contains(&share) {
            return Err(Refusal::new(field, format!("{} must be 0 to 1, but {text} was given", Q::NAME))
                .given(text)
                .accepted("0 to 1")
                .example("0.65"));
        }
        Q::new(share * PERCENT).map_err(|error| Refusal::out_of_range(field, &error).given(text))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST Special Publication 811 (2008), Appendix B.8 (recalled): mile per hour 4.4704 E-01 m/s, knot
    /// 5.144 444 E-01 m/s, inch 2.54 E-02 m, calorie (thermochemical) per square centimetre
    /// 4.184 E+04 J/m², °F = 1.8 °C + 32. FAO Irrigation and Drainage Paper 56, table 3 (recalled): 1 W/m²
    /// is 0.0864 MJ/m²/d.
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
            for name in unit.headings().iter().chain(unit.units().0.names()).filter(|name| !name.is_empty()) {
                let name = &name.to_lowercase();
                assert_eq!(WeatherUnit::of_name(name), Some(*unit), "{name}");
            }
        }
    }
}
