//! Every unit a person may write, with its names and its size.

use uom::Conversion;
use uom::si::f64::ThermodynamicTemperature;
use uom::si::thermodynamic_temperature::{degree_celsius, degree_fahrenheit};
use uom::si::{area, length, mass, pressure, time, volume};

/// What kind of thing a unit measures. Units convert within one kind only.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Length, from grains to beds.
    Length,
    /// Area.
    Area,
    /// Mass.
    Mass,
    /// Volume.
    Volume,
    /// Temperature on a scale with its own zero.
    Temperature,
    /// Time passed.
    Time,
    /// A share of a hundred.
    Percent,
    /// Depth of water over time.
    Rate,
    /// Mass in a volume.
    Density,
    /// Electrical conductivity.
    Conductivity,
    /// Pressure, and the tension of soil water.
    Pressure,
    /// Volume over time, of a tap or an emitter.
    Flow,
    /// Volume over time for each length, of drip tape.
    FlowPerLength,
    /// Speed, of the wind.
    Speed,
    /// Force, of wind and wires.
    Force,
    /// Sunlight on an area.
    Irradiation,
    /// A number without unit.
    Number,
}

fn si<U: Conversion<f64, T = f64>>() -> f64 {
    U::coefficient()
}

/// The avoirdupois pound in kilograms, exact by definition; the library rounds it to seven digits.
const POUND_KG: f64 = 0.453_592_37;

/// Standard acceleration of free fall in m/s², exact by definition: pound-force from pound.
const STANDARD_GRAVITY: f64 = 9.806_65;

/// A cubic inch in cubic metres, from the library's exact inch.
fn cubic_inch() -> f64 {
    si::<length::inch>() * si::<length::inch>() * si::<length::inch>()
}

/// The US gallon is 231 cubic inches by definition; the library rounds it to seven digits.
fn gallon() -> f64 {
    231.0 * cubic_inch()
}

macro_rules! units {
    ($($(#[$meta:meta])* $unit:ident: $kind:ident, $size:expr, [$symbol:literal $(, $name:literal)*];)+) => {
        /// A unit of measure.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Unit { $($(#[$meta])* $unit,)+ }

        impl Unit {
            /// Every unit.
            pub const ALL: &[Self] = &[$(Self::$unit,)+];

            /// What it measures.
            #[must_use]
            pub fn kind(self) -> Kind {
                match self { $(Self::$unit => Kind::$kind,)+ }
            }

            /// As it is written after a number.
            #[must_use]
            pub fn symbol(self) -> &'static str {
                match self { $(Self::$unit => $symbol,)+ }
            }

            /// Every spelling that is read, in lower case, the symbol's own among them.
            #[must_use]
            pub fn names(self) -> &'static [&'static str] {
                match self { $(Self::$unit => &[$symbol $(, $name)*],)+ }
            }

            /// Size in the coherent SI unit of its kind (temperature apart).
            fn size(self) -> f64 {
                match self { $(Self::$unit => $size,)+ }
            }
        }
    };
}

units! {
    /// Micrometre.
    Micrometre: Length, si::<length::micrometer>(), ["µm", "um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"];
    /// Millimetre.
    Millimetre: Length, si::<length::millimeter>(), ["mm", "millimetre", "millimetres", "millimeter", "millimeters"];
    /// Centimetre.
    Centimetre: Length, si::<length::centimeter>(), ["cm", "centimetre", "centimetres", "centimeter", "centimeters"];
    /// Metre.
    Metre: Length, si::<length::meter>(), ["m", "metre", "metres", "meter", "meters"];
    /// Inch.
    Inch: Length, si::<length::inch>(), ["in", "inch", "inches", "ins", "\"", "''"];
    /// Foot.
    Foot: Length, si::<length::foot>(), ["ft", "foot", "feet", "'"];
    /// Yard.
    Yard: Length, si::<length::yard>(), ["yd", "yard", "yards", "yds"];
    /// Square centimetre.
    SquareCentimetre: Area, si::<area::square_centimeter>(), ["cm²", "cm2", "sq cm", "sqcm"];
    /// Square metre.
    SquareMetre: Area, si::<area::square_meter>(), ["m²", "m2", "sq m", "sqm", "square metre", "square metres", "square meter", "square meters"];
    /// Hectare.
    Hectare: Area, si::<area::hectare>(), ["ha", "hectare", "hectares"];
    /// Square foot.
    SquareFoot: Area, si::<area::square_foot>(), ["sq ft", "ft²", "ft2", "sqft", "sq. ft", "square foot", "square feet"];
    /// Square yard.
    SquareYard: Area, si::<area::square_yard>(), ["sq yd", "yd²", "yd2", "sqyd", "sq. yd", "square yard", "square yards"];
    /// Acre: 43 560 square feet. The library's is that of the survey foot.
    Acre: Area, 43_560.0 * si::<area::square_foot>(), ["ac", "acre", "acres"];
    /// Milligram.
    Milligram: Mass, si::<mass::milligram>(), ["mg", "milligram", "milligrams"];
    /// Gram.
    Gram: Mass, si::<mass::gram>(), ["g", "gram", "grams", "gm", "gms"];
    /// Kilogram.
    Kilogram: Mass, si::<mass::kilogram>(), ["kg", "kilo", "kilos", "kilogram", "kilograms"];
    /// Tonne.
    Tonne: Mass, si::<mass::ton>(), ["t", "tonne", "tonnes"];
    /// Ounce.
    Ounce: Mass, POUND_KG / 16.0, ["oz", "ounce", "ounces"];
    /// Pound.
    Pound: Mass, POUND_KG, ["lb", "lbs", "pound", "pounds", "#"];
    /// Short ton.
    ShortTon: Mass, 2000.0 * POUND_KG, ["short ton", "short tons", "us ton", "us tons"];
    /// Millilitre.
    Millilitre: Volume, si::<volume::milliliter>(), ["mL", "ml", "cc", "cm³", "cm3", "millilitre", "millilitres", "milliliter", "milliliters"];
    /// Litre.
    Litre: Volume, si::<volume::liter>(), ["L", "l", "litre", "litres", "liter", "liters"];
    /// Cubic metre.
    CubicMetre: Volume, si::<volume::cubic_meter>(), ["m³", "m3", "cubic metre", "cubic metres", "cubic meter", "cubic meters"];
    /// US fluid ounce.
    FluidOunce: Volume, gallon() / 128.0, ["fl oz", "fl. oz", "floz", "fluid ounce", "fluid ounces"];
    /// US cup.
    Cup: Volume, gallon() / 16.0, ["cup", "cups"];
    /// US liquid pint.
    Pint: Volume, gallon() / 8.0, ["pt", "pint", "pints"];
    /// US liquid quart.
    Quart: Volume, gallon() / 4.0, ["qt", "quart", "quarts", "qts"];
    /// US gallon.
    Gallon: Volume, gallon(), ["gal", "gallon", "gallons", "gals"];
    /// Cubic foot.
    CubicFoot: Volume, 1728.0 * cubic_inch(), ["cu ft", "ft³", "ft3", "cuft", "cu. ft", "cubic foot", "cubic feet"];
    /// Cubic yard.
    CubicYard: Volume, 46_656.0 * cubic_inch(), ["cu yd", "yd³", "yd3", "cuyd", "cu. yd", "cubic yard", "cubic yards"];
    /// Degree Celsius.
    Celsius: Temperature, 1.0, ["°C", "°c", "c", "deg c", "degrees c", "celsius", "degrees celsius"];
    /// Degree Fahrenheit.
    Fahrenheit: Temperature, 1.0, ["°F", "°f", "f", "deg f", "degrees f", "fahrenheit", "degrees fahrenheit"];
    /// Second.
    Second: Time, si::<time::second>(), ["s", "sec", "secs", "second", "seconds"];
    /// Minute.
    Minute: Time, si::<time::minute>(), ["min", "mins", "minute", "minutes"];
    /// Hour.
    Hour: Time, si::<time::hour>(), ["h", "hr", "hrs", "hour", "hours"];
    /// Day.
    Day: Time, si::<time::day>(), ["d", "day", "days"];
    /// Week.
    Week: Time, 7.0 * si::<time::day>(), ["week", "weeks", "wk", "wks"];
    /// Percent.
    Percent: Percent, 1.0, ["%", "percent", "per cent", "pct"];
    /// Millimetre an hour.
    MillimetrePerHour: Rate, si::<length::millimeter>() / si::<time::hour>(), ["mm/h", "mm/hr", "mm/hour", "mm per hour", "mm an hour"];
    /// Centimetre an hour.
    CentimetrePerHour: Rate, si::<length::centimeter>() / si::<time::hour>(), ["cm/h", "cm/hr", "cm/hour", "cm per hour"];
    /// Millimetre a day.
    MillimetrePerDay: Rate, si::<length::millimeter>() / si::<time::day>(), ["mm/d", "mm/day", "mm per day", "mm a day"];
    /// Inch an hour.
    InchPerHour: Rate, si::<length::inch>() / si::<time::hour>(), ["in/h", "in/hr", "in/hour", "iph", "in per hour", "inch per hour", "inches per hour", "inches an hour"];
    /// Inch a day.
    InchPerDay: Rate, si::<length::inch>() / si::<time::day>(), ["in/d", "in/day", "in per day", "inches per day", "inches a day"];
    /// Gram a litre.
    GramPerLitre: Density, 1.0, ["g/L", "g/l", "gram per litre", "grams per litre", "grams per liter"];
    /// Kilogram a cubic metre.
    KilogramPerCubicMetre: Density, 1.0, ["kg/m³", "kg/m3"];
    /// Gram a cubic centimetre.
    GramPerCubicCentimetre: Density, si::<mass::gram>() / si::<volume::milliliter>(), ["g/cm³", "g/cm3", "g/cc", "g/ml", "mg/m3", "mg/m³"];
    /// Pound a cubic foot.
    PoundPerCubicFoot: Density, POUND_KG / (1728.0 * cubic_inch()), ["lb/ft³", "lb/ft3", "pcf", "lb/cu ft"];
    /// Decisiemens a metre, the millimho a centimetre of older reports.
    DecisiemensPerMetre: Conductivity, 0.1, ["dS/m", "ds/m", "ms/cm", "mmho/cm", "mmhos/cm"];
    /// Microsiemens a centimetre.
    MicrosiemensPerCentimetre: Conductivity, 1e-4, ["µS/cm", "µs/cm", "us/cm"];
    /// Milligram a litre, the part per million of a water report.
    MilligramPerLitre: Density, 1e-3, ["mg/L", "mg/l", "ppm"];
    /// Litre a minute.
    LitrePerMinute: Flow, si::<volume::liter>() / si::<time::minute>(), ["L/min", "l/min", "lpm", "litres a minute", "liters a minute"];
    /// Litre an hour.
    LitrePerHour: Flow, si::<volume::liter>() / si::<time::hour>(), ["L/h", "l/h", "l/hr", "lph", "litres an hour", "liters an hour"];
    /// Cubic metre an hour.
    CubicMetrePerHour: Flow, si::<volume::cubic_meter>() / si::<time::hour>(), ["m³/h", "m3/h", "m3/hr"];
    /// US gallon a minute.
    GallonPerMinute: Flow, gallon() / si::<time::minute>(), ["gal/min", "gpm", "gallons a minute"];
    /// US gallon an hour.
    GallonPerHour: Flow, gallon() / si::<time::hour>(), ["gal/h", "gal/hr", "gph", "gallons an hour"];
    /// Litre an hour for each metre.
    LitrePerHourMetre: FlowPerLength, si::<volume::liter>() / si::<time::hour>(), ["L/h/m", "l/h/m", "l/hr/m", "lph/m", "l/h per m", "l/h per metre", "l/h per meter"];
    /// US gallon a minute for each hundred feet, the unit of drip tape.
    GallonPerMinuteHundredFeet: FlowPerLength, gallon() / si::<time::minute>() / (100.0 * si::<length::foot>()), ["gpm/100 ft", "gpm/100ft", "gpm per 100 ft", "gpm per 100ft", "gal/min/100 ft", "gal/min/100ft", "gal/min per 100 ft"];
    /// US gallon an hour for each hundred feet.
    GallonPerHourHundredFeet: FlowPerLength, gallon() / si::<time::hour>() / (100.0 * si::<length::foot>()), ["gph/100 ft", "gph/100ft", "gph per 100 ft", "gph per 100ft", "gal/h/100 ft", "gal/hr/100 ft"];
    /// Litre an hour for each hundred metres.
    LitrePerHourHundredMetres: FlowPerLength, si::<volume::liter>() / si::<time::hour>() / 100.0, ["L/h/100 m", "l/h/100 m", "l/h/100m", "l/h per 100 m", "lph/100 m", "lph/100m"];
    /// Litre a minute for each hundred metres.
    LitrePerMinuteHundredMetres: FlowPerLength, si::<volume::liter>() / si::<time::minute>() / 100.0, ["L/min/100 m", "l/min/100 m", "l/min/100m", "l/min per 100 m", "lpm/100 m"];
    /// US gallon an hour for each foot.
    GallonPerHourFoot: FlowPerLength, gallon() / si::<time::hour>() / si::<length::foot>(), ["gph/ft", "gal/h/ft", "gal/hr/ft"];
    /// Metre a second.
    MetrePerSecond: Speed, 1.0, ["m/s", "mps", "m s-1"];
    /// Kilometre an hour.
    KilometrePerHour: Speed, si::<length::kilometer>() / si::<time::hour>(), ["km/h", "km/hr", "kmh", "kph"];
    /// Mile an hour, of 5280 feet.
    MilePerHour: Speed, 5280.0 * si::<length::foot>() / si::<time::hour>(), ["mph", "mi/h", "mi/hr", "miles an hour"];
    /// Knot: 1852 metres an hour by definition.
    Knot: Speed, 1852.0 / si::<time::hour>(), ["kn", "kt", "kts", "knot", "knots"];
    /// Kilonewton.
    Kilonewton: Force, 1000.0, ["kN", "kn", "kilonewton", "kilonewtons"];
    /// Newton.
    Newton: Force, 1.0, ["N", "n", "newton", "newtons"];
    /// Pound-force, by the pound and standard gravity.
    PoundForce: Force, POUND_KG * STANDARD_GRAVITY, ["lbf", "lb", "lbs", "pound", "pounds", "#"];
    /// Kilogram-force.
    KilogramForce: Force, STANDARD_GRAVITY, ["kgf", "kg", "kilogram", "kilograms"];
    /// Megajoule on a square metre in a day.
    MegajoulePerSquareMetreDay: Irradiation, 1e6 / si::<time::day>(), ["MJ/m²/d", "mj/m²/d", "mj/m2/d", "mj/m²/day", "mj/m2/day", "mj/m²", "mj/m2", "mj m-2", "mj"];
    /// Watt on a square metre, the mean of a whole day.
    WattPerSquareMetre: Irradiation, 1.0, ["W/m²", "w/m²", "w/m2", "w m-2", "watts"];
    /// Kilowatt-hour on a square metre in a day.
    KilowattHourPerSquareMetreDay: Irradiation, 3.6e6 / si::<time::day>(), ["kWh/m²/d", "kwh/m²/d", "kwh/m2/d", "kwh/m²", "kwh/m2", "kwh"];
    /// Langley in a day: a thermochemical calorie, 4.184 J, on a square centimetre.
    LangleyPerDay: Irradiation, 4.184e4 / si::<time::day>(), ["Ly/d", "ly/d", "ly/day", "ly", "langley", "langleys", "cal/cm²", "cal/cm2"];
    /// Kilopascal.
    Kilopascal: Pressure, si::<pressure::kilopascal>(), ["kPa", "kpa"];
    /// Bar.
    Bar: Pressure, si::<pressure::bar>(), ["bar", "bars"];
    /// Centibar, the scale of many tensiometers.
    Centibar: Pressure, si::<pressure::bar>() / 100.0, ["cbar", "centibar", "centibars", "cb"];
    /// Megapascal, the scale of penetrometers.
    Megapascal: Pressure, 1000.0 * si::<pressure::kilopascal>(), ["MPa", "mpa"];
    /// Pound-force on a square inch.
    Psi: Pressure, POUND_KG * STANDARD_GRAVITY / (si::<length::inch>() * si::<length::inch>()), ["psi", "lb/in2", "lb/in²"];
    /// A number by itself.
    One: Number, 1.0, [""];
}

impl Unit {
    /// Converts a value in this unit to another unit of the same kind, to twelve significant digits
    /// (so that 1 in is 25.4 mm and not a hair more).
    #[must_use]
    pub fn convert(self, value: f64, to: Self) -> f64 {
        debug_assert_eq!(self.kind(), to.kind());
        if self == to {
            return value;
        }
        if self.kind() == Kind::Temperature {
            return twelve_digits(match self {
                Self::Fahrenheit => {
                    ThermodynamicTemperature::new::<degree_fahrenheit>(value).get::<degree_celsius>()
                }
                _ => ThermodynamicTemperature::new::<degree_celsius>(value).get::<degree_fahrenheit>(),
            });
        }
        twelve_digits(value * (self.size() / to.size()))
    }

    /// The unit a number without unit is in when it follows this one: 5 ft 6 is 5 ft 6 in.
    pub(super) fn next_smaller(self) -> Option<Self> {
        match self {
            Self::Foot => Some(Self::Inch),
            Self::Pound => Some(Self::Ounce),
            Self::Hour => Some(Self::Minute),
            Self::Minute => Some(Self::Second),
            _ => None,
        }
    }

    /// Is this unit a smaller one of the same kind?
    pub(super) fn is_smaller_than(self, other: Self) -> bool {
        self.size() < other.size()
    }

    /// The unit of that symbol, as quantities declare theirs.
    #[must_use]
    pub fn of_symbol(symbol: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|unit| unit.symbol() == symbol)
    }
}

fn twelve_digits(value: f64) -> f64 {
    if !value.is_finite() {
        return value;
    }
    // 0 °C passes through 273.15 K, which leaves a dust of 1e-14.
    let value = if value.abs() < 1e-11 { 0.0 } else { value };
    format!("{value:.11e}").parse().unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST Special Publication 811 (2008), Appendix B.8, factors as printed there; the bold (exact)
    /// ones to all digits. From memory, and each follows from the definitions of the inch (25.4 mm),
    /// the pound (0.453 592 37 kg) and the gallon (231 cubic inches).
    #[test]
    fn factors_are_those_of_nist_sp_811() {
        for (unit, base, printed) in [
            (Unit::Inch, Unit::Millimetre, "25.4"),
            (Unit::Foot, Unit::Metre, "0.3048"),
            (Unit::Yard, Unit::Metre, "0.9144"),
            (Unit::SquareFoot, Unit::SquareMetre, "0.09290304"),
            (Unit::SquareYard, Unit::SquareMetre, "0.83612736"),
            (Unit::Pound, Unit::Kilogram, "0.45359237"),
            (Unit::Ounce, Unit::Gram, "28.349523125"),
            (Unit::ShortTon, Unit::Kilogram, "907.18474"),
        ] {
            assert_eq!(unit.convert(1.0, base), printed.parse::<f64>().unwrap(), "{unit:?}");
        }
        for (unit, base, printed, digits) in [
            (Unit::Gallon, Unit::Litre, 3.785_412, 5e-7),
            (Unit::Quart, Unit::Litre, 0.946_352_9, 5e-8),
            (Unit::FluidOunce, Unit::Millilitre, 29.573_53, 5e-6),
            (Unit::Cup, Unit::Millilitre, 236.588_2, 5e-5),
            (Unit::CubicFoot, Unit::CubicMetre, 0.028_316_85, 5e-9),
            (Unit::CubicYard, Unit::CubicMetre, 0.764_554_9, 5e-8),
            (Unit::PoundPerCubicFoot, Unit::KilogramPerCubicMetre, 16.018_46, 5e-6),
            (Unit::Psi, Unit::Kilopascal, 6.894_757, 5e-7),
            (Unit::MilePerHour, Unit::MetrePerSecond, 0.447_04, 5e-13),
            (Unit::PoundForce, Unit::Newton, 4.448_222, 5e-7),
            (Unit::KilogramForce, Unit::Newton, 9.806_65, 5e-9),
            (Unit::Knot, Unit::MetrePerSecond, 0.514_444_4, 5e-8),
            (Unit::GallonPerMinute, Unit::LitrePerMinute, 3.785_412, 5e-7),
            (Unit::LangleyPerDay, Unit::MegajoulePerSquareMetreDay, 0.041_84, 5e-13),
        ] {
            assert!((unit.convert(1.0, base) - printed).abs() <= digits, "{unit:?}");
        }
        // SP 811 prints the survey acre, 4 046.873 m²; the international one differs by 2 ppm a foot.
        assert!((Unit::Acre.convert(1.0, Unit::SquareMetre) - 4_046.856_422_4).abs() < 1e-7);
    }

    /// FAO Irrigation and Drainage Paper 56, table 3 (recalled): 1 W/m² is 0.0864 MJ/m²/d and 1 cal/cm²/d is
    /// 4.1868e-2 of the international calorie; the langley is of the thermochemical one. The tape: 0.5 gpm
    /// for 100 ft is 113.56 L/h over 30.48 m, by the gallon and the foot.
    #[test]
    fn factors_of_weather_and_drip() {
        let one = |unit: Unit, to: Unit| unit.convert(1.0, to);
        assert_eq!(one(Unit::WattPerSquareMetre, Unit::MegajoulePerSquareMetreDay), 0.0864);
        assert_eq!(one(Unit::KilowattHourPerSquareMetreDay, Unit::MegajoulePerSquareMetreDay), 3.6);
        assert_eq!(Unit::KilometrePerHour.convert(36.0, Unit::MetrePerSecond), 10.0);
        let tape = Unit::GallonPerMinuteHundredFeet.convert(0.5, Unit::LitrePerHourMetre);
        assert!((tape - 0.5 * 60.0 * 3.785_411_784 / 30.48).abs() < 1e-9, "{tape}");
        assert!(
            (one(Unit::GallonPerHourFoot, Unit::LitrePerHourMetre) - 3.785_411_784 / 0.3048).abs() < 1e-9
        );
    }

    /// By the hour of 60 minutes and the hundred of feet or metres.
    #[test]
    fn tape_is_printed_in_several_ways() {
        assert_eq!(Unit::GallonPerHourHundredFeet.convert(30.0, Unit::GallonPerMinuteHundredFeet), 0.5);
        assert_eq!(Unit::LitrePerHourHundredMetres.convert(500.0, Unit::LitrePerHourMetre), 5.0);
        assert_eq!(Unit::LitrePerMinuteHundredMetres.convert(5.0, Unit::LitrePerHourMetre), 3.0);
    }

    #[test]
    fn fixed_points_of_the_temperature_scales() {
        for (fahrenheit, celsius) in [(32.0, 0.0), (212.0, 100.0), (68.0, 20.0), (-40.0, -40.0)] {
            assert_eq!(Unit::Fahrenheit.convert(fahrenheit, Unit::Celsius), celsius);
            assert_eq!(Unit::Celsius.convert(celsius, Unit::Fahrenheit), fahrenheit);
        }
    }

    #[test]
    fn no_spelling_means_two_units_of_a_kind() {
        for unit in Unit::ALL {
            for name in unit.names() {
                for other in Unit::ALL {
                    assert!(
                        other == unit || other.kind() != unit.kind() || !other.names().contains(name),
                        "{name} is {unit:?} and {other:?}"
                    );
                }
            }
        }
    }
}
