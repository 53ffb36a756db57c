//! Every way of writing a measure that is promised, and every one that is refused.

use proptest::prelude::*;

use super::*;
use crate::kit::Bounded;
use crate::texture::jar::reading::{JarHeight, JarTemperature};

fn mm(text: &str) -> f64 {
    parse(text, Dimension::SmallLength, Unit::Inch).unwrap_or_else(|error| panic!("{text}: {error}"))
}

/// The inch is 25.4 mm (NIST SP 811); the rest is arithmetic.
#[test]
fn lengths_as_people_write_them() {
    for (text, expected) in [
        ("2 3/16 in", 55.5625),
        ("2 3/16\"", 55.5625),
        ("2-3/16 in", 55.5625),
        ("2 3/16", 55.5625),
        ("7/16", 11.1125),
        ("7 / 16 in.", 11.1125),
        (" 2\u{2009}3/16\u{a0}in ", 55.5625),
        ("2 3\u{2044}16 inches", 55.5625),
        ("2½ in", 63.5),
        ("2 ½\u{2033}", 63.5),
        ("⅛\"", 3.175),
        ("1 ft 2 in", 355.6),
        ("1ft2in", 355.6),
        ("1' 2\"", 355.6),
        ("1\u{2032} 2\u{2033}", 355.6),
        ("1' 2", 355.6),
        ("1 ft, 2 1/2 in", 368.3),
        ("1 ft and 2 in", 355.6),
        ("55 mm", 55.0),
        ("55mm", 55.0),
        ("5.5cm", 55.0),
        ("5,5 cm", 55.0),
        ("0,125 m", 125.0),
        (".5 in", 12.7),
        ("1,5 cm", 15.0),
        ("1,234.5 mm", 1234.5),
        ("1 yd", 914.4),
        ("50 µm", 0.05),
        ("50 \u{3bc}m", 0.05),
        ("0.5 M", 500.0),
        ("2 IN", 50.8),
        ("0", 0.0),
        ("5.5e1 mm", 55.0),
    ] {
        assert!((mm(text) - expected).abs() < 1e-9, "{text} gave {}", mm(text));
    }
}

#[test]
fn other_measures_as_people_write_them() {
    use Dimension as D;
    for (text, dimension, default, expected) in [
        ("68 F", D::Temperature, Unit::Celsius, 20.0),
        ("68 °F", D::Temperature, Unit::Celsius, 20.0),
        ("68 deg F", D::Temperature, Unit::Celsius, 20.0),
        ("20 °C", D::Temperature, Unit::Fahrenheit, 20.0),
        ("20C", D::Temperature, Unit::Fahrenheit, 20.0),
        ("\u{2212}5 °C", D::Temperature, Unit::Fahrenheit, -5.0),
        ("68", D::Temperature, Unit::Fahrenheit, 20.0),
        ("2 lb 4 oz", D::Mass, Unit::Gram, 36.0 * 28.349_523_125),
        ("2 lb 4", D::Mass, Unit::Gram, 36.0 * 28.349_523_125),
        ("2 lb 4 oz", D::Load, Unit::Kilogram, 36.0 * 0.028_349_523_125),
        ("1.5 kg", D::Mass, Unit::Ounce, 1500.0),
        ("45 s", D::Duration, Unit::Minute, 45.0),
        ("2 h", D::Duration, Unit::Minute, 7200.0),
        ("1 d 2 h", D::Duration, Unit::Minute, 93_600.0),
        ("1h30", D::Duration, Unit::Minute, 5400.0),
        ("90 min", D::Duration, Unit::Minute, 5400.0),
        ("90", D::Duration, Unit::Minute, 5400.0),
        ("1 day", D::Duration, Unit::Minute, 86_400.0),
        ("8 sq. ft.", D::Area, Unit::SquareMetre, 8.0 * 0.092_903_04),
        ("8 ft2", D::Area, Unit::SquareMetre, 8.0 * 0.092_903_04),
        ("1/4 acre", D::Area, Unit::SquareFoot, 10_890.0 * 0.092_903_04),
        ("100 m²", D::Area, Unit::SquareFoot, 100.0),
        ("12,345,678 sq m", D::Area, Unit::SquareFoot, 12_345_678.0),
        ("8 fl oz", D::Volume, Unit::Millilitre, 236.588_236_5),
        ("1 gal 2 qt", D::BulkVolume, Unit::Litre, 1.5 * 3.785_411_784),
        ("12.5 %", D::Percent, Unit::Percent, 12.5),
        ("12.5", D::Percent, Unit::Percent, 12.5),
        ("0.5 in/h", D::Rate, Unit::MillimetrePerHour, 12.7),
        ("1 in per day", D::Rate, Unit::MillimetrePerHour, 25.4 / 24.0),
        ("1350 kg/m³", D::Density, Unit::GramPerCubicCentimetre, 1.35),
        ("800 µS/cm", D::Salinity, Unit::DecisiemensPerMetre, 0.8),
        ("33 cb", D::Pressure, Unit::Kilopascal, 33.0),
        ("0.45 gpm/100 ft", D::TapeFlow, Unit::LitrePerHourMetre, 0.45 * 227.124_707_04 / 30.48),
        ("27 GPH per 100 ft", D::TapeFlow, Unit::LitrePerHourMetre, 0.45 * 227.124_707_04 / 30.48),
        ("0.45", D::TapeFlow, Unit::GallonPerMinuteHundredFeet, 0.45 * 227.124_707_04 / 30.48),
        ("1/2 gph", D::EmitterFlow, Unit::LitrePerHour, 1.892_705_892),
        ("2 L/h", D::EmitterFlow, Unit::GallonPerHour, 2.0),
        ("6 gpm", D::Flow, Unit::LitrePerMinute, 22.712_470_704),
        ("1.2 m3/h", D::Flow, Unit::GallonPerMinute, 20.0),
        ("10 mph", D::Speed, Unit::MetrePerSecond, 4.4704),
        ("500 Ly/d", D::Irradiation, Unit::MegajoulePerSquareMetreDay, 20.92),
        ("40 ppm", D::Dissolved, Unit::MilligramPerLitre, 40.0),
        ("0.25", D::WaterDepth, Unit::Inch, 6.35),
        ("-2", D::Concentration, Unit::GramPerLitre, -2.0),
        ("7", D::Number, Unit::One, 7.0),
    ] {
        let got = parse(text, dimension, default).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert!((got - expected).abs() < 1e-8 * expected.abs().max(1.0), "{text} gave {got}, not {expected}");
    }
}

#[test]
fn what_cannot_be_a_measure_is_refused_in_words() {
    let told: Vec<String> = [
        "",
        "   ",
        "abc",
        "-5 mm",
        "1/0",
        "3 1/0 in",
        "1,500 mm",
        "5 lb",
        "5 parsec",
        "2 3 in",
        "2 in 3 ft",
        "2 in 3 mm 4",
        "1e400",
        "99999999999999999999 m",
        "NaN",
        "inf",
        "1.2.3",
        "1,2,3",
        "--5",
        "5 mm mm",
        "2 5/4 in",
        "½½",
        "1 2 3",
        "68 F",
    ]
    .iter()
    .map(|text| match parse(text, Dimension::SmallLength, Unit::Inch) {
        Ok(value) => format!("{text:?} was read as {value}"),
        Err(error) => format!("{text:?}: {}", error.message),
    })
    .collect();
    insta::assert_snapshot!(told.join("\n"), @r#"
    "": nothing was written
    "   ": nothing was written
    "abc": "abc" does not begin with a number
    "-5 mm": "-5 mm" is below zero
    "1/0": "1/0" has a fraction over zero
    "3 1/0 in": "3 1/0 in" has a fraction over zero
    "1,500 mm": the comma in "1,500 mm" may stand for thousands or for decimals; write it without
    "5 lb": "5 lb" is in lb, which is another kind of measure
    "5 parsec": "5 parsec" has "parsec" where a unit was expected
    "2 3 in": "2 3 in" has two numbers and no unit between them
    "2 in 3 ft": "2 in 3 ft" goes on after in, and a smaller unit was expected there
    "2 in 3 mm 4": "2 in 3 mm 4" goes on after mm, and a smaller unit was expected there
    "1e400": "1e400" is far too large
    "99999999999999999999 m": "99999999999999999999 m" is far too large
    "NaN": "NaN" does not begin with a number
    "inf": "inf" does not begin with a number
    "1.2.3": "1.2.3" has a number that cannot be read
    "1,2,3": "1,2,3" has a number that cannot be read
    "--5": "--5" does not begin with a number
    "5 mm mm": "5 mm mm" has "mm" where a unit was expected
    "2 5/4 in": "2 5/4 in" has a number that cannot be read
    "½½": "½½" has two numbers and no unit between them
    "1 2 3": "1 2 3" has two numbers and no unit between them
    "68 F": "68 F" is in °F, which is another kind of measure
    "#);
    let error = parse(&"9".repeat(400), Dimension::SmallLength, Unit::Inch).unwrap_err();
    assert!(error.message.ends_with("is far too large"), "{error}");
    assert!(error.message.len() < 80, "{error}");
}

#[test]
fn readings_that_are_ranges_or_nothing() {
    let eighth = 25.4 / 8.0;
    let read = |text: &str| {
        parse_reading(text, Dimension::SmallLength, Unit::Inch)
            .unwrap_or_else(|error| panic!("{text}: {error}"))
    };
    for text in [
        "1 1/8 to 1 1/4 in",
        "1 1/8 - 1 1/4 in",
        "1 1/8-1 1/4 in",
        "1-1/8-1-1/4 in",
        "1 1/8 \u{2013} 1 1/4 in",
        "1 1/8 in to 1 1/4 in",
        "1 1/8 in to 1 1/4",
        "between 1 1/8 and 1 1/4 in",
        "from 1 1/8 to 1 1/4",
        "1 1/4 to 1 1/8 in",
        "1⅛–1¼\"",
        "1 1/8 in..1 1/4 in",
        "1 3/16 ± 1/16 in",
    ] {
        let Reading::Between(low, high) = read(text) else { panic!("{text}: {:?}", read(text)) };
        assert!(
            (low - 9.0 * eighth).abs() < 1e-9 && (high - 10.0 * eighth).abs() < 1e-9,
            "{text}: {low} {high}"
        );
    }
    assert_eq!(read("28 to 31 mm"), Reading::Between(28.0, 31.0));
    assert_eq!(read("2.8-3.1 cm"), Reading::Between(28.0, 31.0));
    assert_eq!(read("30 mm to 30 mm"), Reading::At(30.0));
    assert_eq!(read("2-3/16 in"), Reading::At(55.5625));
    assert_eq!(read("3 ± 5 mm"), Reading::Between(0.0, 8.0));
    for text in ["?", "??", "not seen", "Could not see it.", "couldn\u{2019}t see it", "unseen", " unclear "]
    {
        assert_eq!(read(text), Reading::NotSeen, "{text}");
    }
    for text in ["about 2 in", "to", "1 to", "between 1 and", "1 to 2 to 3 in", "-", "1 to 5 lb", ""] {
        let error = parse_reading(text, Dimension::SmallLength, Unit::Inch).unwrap_err();
        assert_eq!(error.given, text);
        assert!(!error.message.is_empty() && !error.example.is_empty());
    }
}

#[test]
fn typed_fields_are_refused_by_name_in_the_units_of_the_field() {
    let inch = field_unit(JarHeight::UNIT, UnitSystem::UsCustomary);
    assert_eq!(inch, Unit::Inch);
    assert_eq!(field_unit(JarHeight::UNIT, UnitSystem::Metric), Unit::Millimetre);
    assert_eq!(field_unit("min", UnitSystem::UsCustomary), Unit::Minute);
    assert_eq!(field_unit("µm", UnitSystem::UsCustomary), Unit::Micrometre);
    assert_eq!(typed::<JarHeight>("sand", "7/8", inch).unwrap().get(), 22.225);
    let refused = typed::<JarHeight>("sand", "50 ft", inch).unwrap_err();
    assert_eq!((refused.field.as_str(), refused.given.as_str()), ("sand", "50 ft"));
    insta::assert_snapshot!(refused.message, @"height on the jar must be 0 in to 39 3/8 in, but 50 ft was given (for example 2 3/16 in)");
    let refused = typed::<JarTemperature>("water", "120 F", Unit::Fahrenheit).unwrap_err();
    insta::assert_snapshot!(refused.message, @"water temperature must be 33.8 °F to 104 °F, but 120 F was given (for example 68 °F)");
    let read = typed_reading::<JarHeight>("sand", "1 to 2", inch).unwrap();
    assert_eq!(read, TypedReading::Between(JarHeight::literal(25.4), JarHeight::literal(50.8)));
    assert!(typed_reading::<JarHeight>("sand", "1 to 200", inch).is_err());
}

#[test]
fn values_are_shown_as_the_trade_writes_them() {
    use Dimension as D;
    let shown: Vec<String> = [
        (D::SmallLength, 55.5625),
        (D::SmallLength, 0.0),
        (D::SmallLength, 3.175),
        (D::Length, 0.762),
        (D::Length, 1.4),
        (D::Length, 30.48),
        (D::Length, 15.3),
        (D::Depth, 20.0),
        (D::GrainSize, 50.0),
        (D::Area, 37.2),
        (D::Area, 4_046.856_422_4),
        (D::Area, 25_000.0),
        (D::Mass, 127.0),
        (D::Mass, 453.592_37),
        (D::Load, 1.0206),
        (D::Load, 22.68),
        (D::Load, 907.2),
        (D::Volume, 236.6),
        (D::BulkVolume, 18.93),
        (D::Temperature, 20.0),
        (D::Temperature, -5.0),
        (D::Duration, 8.25),
        (D::Duration, 40.0),
        (D::Duration, 125.0),
        (D::Duration, 7200.0),
        (D::Duration, 93_600.0),
        (D::Percent, 12.54),
        (D::Rate, 12.7),
        (D::WaterDepth, 6.35),
        (D::WaterDepth, 0.0),
        (D::Flow, 22.712_470_704),
        (D::EmitterFlow, 2.0),
        (D::TapeFlow, 3.353_219_592),
        (D::Speed, 2.0),
        (D::Density, 1.35),
        (D::Number, f64::NAN),
    ]
    .into_iter()
    .map(|(dimension, value)| {
        format!(
            "{dimension:?} {value}: {} | {}",
            show(value, dimension, UnitSystem::UsCustomary),
            show(value, dimension, UnitSystem::Metric)
        )
    })
    .collect();
    insta::assert_snapshot!(shown.join("\n"), @r"
    SmallLength 55.5625: 2 3/16 in | 55.6 mm
    SmallLength 0: 0 in | 0 mm
    SmallLength 3.175: 1/8 in | 3.17 mm
    Length 0.762: 30 in | 0.76 m
    Length 1.4: 4 ft 7 1/8 in | 1.4 m
    Length 30.48: 100 ft | 30.48 m
    Length 15.3: 50 ft 2 in | 15.3 m
    Depth 20: 7 7/8 in | 20 cm
    GrainSize 50: 50 µm | 50 µm
    Area 37.2: 400.4 sq ft | 37.2 m²
    Area 4046.8564224: 1 ac | 4047 m²
    Area 25000: 6.178 ac | 2.5 ha
    Mass 127: 4.48 oz | 127 g
    Mass 453.59237: 1 lb | 453.6 g
    Load 1.0206: 2 lb 4 oz | 1.021 kg
    Load 22.68: 50 lb | 22.68 kg
    Load 907.2: 2000 lb | 907.2 kg
    Volume 236.6: 8 fl oz | 236.6 mL
    BulkVolume 18.93: 5.001 gal | 18.93 L
    Temperature 20: 68 °F | 20 °C
    Temperature -5: 23 °F | -5 °C
    Duration 8.25: 8.25 s | 8.25 s
    Duration 40: 40 s | 40 s
    Duration 125: 2 min 5 s | 2 min 5 s
    Duration 7200: 2 h | 2 h
    Duration 93600: 1 d 2 h | 1 d 2 h
    Percent 12.54: 12.5 % | 12.5 %
    Rate 12.7: 0.5 in/h | 12.7 mm/h
    WaterDepth 6.35: 0.25 in | 6.35 mm
    WaterDepth 0: 0 in | 0 mm
    Flow 22.712470704: 6 gal/min | 22.71 L/min
    EmitterFlow 2: 0.5283 gal/h | 2 L/h
    TapeFlow 3.353219592: 0.45 gpm/100 ft | 3.353 L/h/m
    Speed 2: 4.474 mph | 2 m/s
    Density 1.35: 1.35 g/cm³ | 1.35 g/cm³
    Number NaN: no value | no value
    ");
}

fn any_dimension() -> impl Strategy<Value = Dimension> {
    prop::sample::select(Dimension::ALL.to_vec())
}

fn any_system() -> impl Strategy<Value = UnitSystem> {
    prop::sample::select(vec![UnitSystem::UsCustomary, UnitSystem::Metric])
}

/// Text made of the pieces that measures are made of, so that the reader's branches are reached.
fn measure_soup() -> impl Strategy<Value = String> {
    let pieces = vec![
        "1",
        "2",
        "12",
        "3/16",
        "/",
        "-",
        "\u{2013}",
        ".",
        ",",
        " ",
        "½",
        "⅛",
        "in",
        "\"",
        "'",
        "ft",
        "mm",
        "lb",
        "oz",
        "°",
        "F",
        "C",
        "between ",
        " and ",
        " to ",
        "±",
        "?",
        "e",
        "E9",
        "not seen",
        "µ",
        "²",
        "0",
        "1,000",
        "\u{a0}",
        "%",
        "h",
        "999999999999999999999",
        "from ",
        "..",
        "about",
        "+/-",
    ];
    prop::collection::vec(prop::sample::select(pieces), 0..9).prop_map(|pieces| pieces.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_text_makes_the_reader_panic(text in prop_oneof![any::<String>(), measure_soup()], dimension in any_dimension(), system in any_system()) {
        let default = dimension.unit(system);
        if let Ok(value) = parse(&text, dimension, default) {
            prop_assert!(value.is_finite());
            prop_assert!(dimension.may_be_negative() || value >= 0.0);
            prop_assert!(!show(value, dimension, system).is_empty());
        }
        match parse_reading(&text, dimension, default) {
            Ok(Reading::Between(low, high)) => prop_assert!(low < high && low.is_finite() && high.is_finite()),
            Ok(_) => {}
            Err(error) => prop_assert!(!error.message.is_empty() && error.given == text),
        }
    }

    #[test]
    fn no_value_makes_the_writer_panic(value in any::<f64>(), dimension in any_dimension(), system in any_system()) {
        prop_assert!(!show(value, dimension, system).is_empty());
    }

    /// What is shown is read back as the same value, but for the rounding of the shown form: half a
    /// sixteenth of an inch (half an inch from ten feet), a half percent elsewhere.
    #[test]
    fn shown_values_are_read_back(value in 0.0..5000.0_f64, dimension in any_dimension(), system in any_system()) {
        let shown = show(value, dimension, system);
        let back = parse(&shown, dimension, dimension.unit(system))
            .map_err(|error| TestCaseError::fail(format!("{shown}: {error}")))?;
        let inch = if dimension.kind() == Kind::Length { Unit::Inch.convert(1.0, dimension.base()) } else { 0.0 };
        let rounding = match dimension.kind() {
            Kind::Length if dimension == Dimension::Length => inch * 0.5,
            Kind::Length => inch / 32.0,
            Kind::Temperature => 0.051,
            Kind::Percent => 0.05,
            Kind::Time => value.max(60.0) * 0.021,
            _ => 0.0,
        };
        prop_assert!((back - value).abs() <= rounding + value * 0.005 + 1e-3, "{value} shown as {shown}, read as {back}");
    }

    #[test]
    fn every_spelling_of_a_unit_is_read(value in 0.01..900.0_f64, unit in prop::sample::select(Unit::ALL.to_vec())) {
        let dimension = Dimension::of_unit(unit);
        let expected = unit.convert(value, dimension.base());
        for name in unit.names() {
            for text in [format!("{value} {name}"), format!("{value}{name}"), format!("{value} {}", name.to_uppercase())] {
                let got = parse(&text, dimension, unit).map_err(|error| TestCaseError::fail(format!("{text}: {error}")))?;
                prop_assert!((got - expected).abs() <= 1e-9 * expected.abs(), "{text}: {got}, not {expected}");
            }
        }
    }

    #[test]
    fn converting_there_and_back_changes_nothing(value in -1e6..1e6_f64, one in prop::sample::select(Unit::ALL.to_vec())) {
        for other in Unit::ALL.iter().filter(|other| other.kind() == one.kind()) {
            let back = other.convert(one.convert(value, *other), one);
            prop_assert!((back - value).abs() <= 1e-9 * value.abs().max(100.0), "{value} {one:?} {other:?} {back}");
        }
    }
}
