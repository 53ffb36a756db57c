//! Measures put back into a form without loss, and told in both systems of units.

use ground::kit::Bounded;
use ground::kit::units::{self, Dimension, Reading, Unit, UnitSystem};

use super::field::{Field, Kind};
use super::reader::shown;
use super::view::Form;

/// How near a value written in sixteenths must come to count as exact, as a share of the value.
const EXACT: f64 = 1e-9;

impl Form {
    /// Puts a quantity in its field as a person would write it on this farm; where that rounds, in
    /// the quantity's own unit with every digit, so that saving again changes nothing.
    #[must_use]
    pub fn measure<Q: Bounded + PartialEq>(self, name: &str, value: Option<Q>, system: UnitSystem) -> Self {
        let Some(value) = value else { return self };
        let text = lossless(value, system);
        self.bare(name, text)
    }

    /// Puts a depth of water in its field: inches in decimals, as rain gauges have them.
    #[must_use]
    pub fn water<Q: Bounded + PartialEq>(self, name: &str, value: Option<Q>, system: UnitSystem) -> Self {
        let Some(value) = value else { return self };
        let text = exactly(value, shown_depth(value, system));
        self.bare(name, text)
    }

    fn bare(self, name: &str, text: String) -> Self {
        // The unit stands behind the field already.
        let behind = self.fields().iter().find(|field| field.name == name).map(|field| field.unit.clone());
        let bare = behind.and_then(|unit| text.strip_suffix(&format!(" {unit}")).map(str::to_owned));
        self.set(name, bare.unwrap_or(text))
    }
}

/// A quantity as text that reads back to exactly this value.
#[must_use]
pub fn lossless<Q: Bounded + PartialEq>(value: Q, system: UnitSystem) -> String {
    exactly(value, shown(value, system))
}

/// A depth of water as a page shows it: inches in decimals.
#[must_use]
pub fn shown_depth<Q: Bounded>(value: Q, system: UnitSystem) -> String {
    let own = Unit::of_symbol(Q::UNIT).unwrap_or(Unit::Millimetre);
    units::show(own.convert(value.get(), Dimension::WaterDepth.base()), Dimension::WaterDepth, system)
}

/// `text` where it reads back to exactly this value, else every digit in the quantity's own unit.
fn exactly<Q: Bounded + PartialEq>(value: Q, text: String) -> String {
    let own = Unit::of_symbol(Q::UNIT).unwrap_or(Unit::One);
    if units::typed::<Q>("", &text, own) == Ok(value) {
        return text;
    }
    // Every digit, unlike a number in a sentence.
    format!("{} {}", value.get(), Q::UNIT).trim_end().to_owned()
}

/// How a text was understood, in the units of both systems: "2 3/16 in = 55.6 mm". Empty where there
/// is nothing to tell: no measure, not readable, or the same in both.
#[must_use]
pub fn echo(field: &Field, text: &str, system: UnitSystem) -> String {
    let (Kind::Measure(dimension) | Kind::Reading(dimension)) = field.kind else { return String::new() };
    let Some(unit) = field.unit(system) else { return String::new() };
    let read = match field.kind {
        Kind::Reading(_) => units::parse_reading(text, dimension, unit).ok(),
        _ => units::parse(text, dimension, unit).ok().map(Reading::At),
    };
    match read {
        Some(Reading::At(value)) => told(text, value, dimension),
        Some(Reading::Between(low, high)) => {
            let range = |system| {
                format!("{} to {}", units::show(low, dimension, system), units::show(high, dimension, system))
            };
            format!("{} = {}", range(UnitSystem::UsCustomary), range(UnitSystem::Metric))
        }
        Some(Reading::NotSeen) => "Could not be seen".to_owned(),
        None => String::new(),
    }
}

fn told(text: &str, value: f64, dimension: Dimension) -> String {
    let us = units::show(value, dimension, UnitSystem::UsCustomary);
    let metric = units::show(value, dimension, UnitSystem::Metric);
    if us == metric {
        let plain = |text: &str| text.trim().to_lowercase();
        let bare = metric.split(' ').next().unwrap_or_default();
        return if [plain(&metric), plain(bare)].contains(&plain(text)) {
            String::new()
        } else {
            format!("= {metric}")
        };
    }
    let exact = |text: &str| {
        units::parse(text, dimension, dimension.base())
            .is_ok_and(|back| (back - value).abs() <= EXACT * value.abs().max(1.0))
    };
    if exact(&us) { format!("{us} = {metric}") } else { format!("{metric}, about {us}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ground::texture::hydrometer::DryMass;
    use ground::texture::jar::reading::{JarHeight, JarTemperature};
    use proptest::prelude::*;

    const HEIGHT: Field = Field::reading("sand", "Sand", "", Dimension::SmallLength);

    #[test]
    fn what_was_typed_is_told_in_both_systems() {
        let told = |text: &str| echo(&HEIGHT, text, UnitSystem::UsCustomary);
        assert_eq!(told("2 3/16"), "2 3/16 in = 55.6 mm");
        assert_eq!(told("55 mm"), "55 mm, about 2 3/16 in");
        assert_eq!(told("1 1/8 to 1 1/4 in"), "1 1/8 in to 1 1/4 in = 28.6 mm to 31.8 mm");
        assert_eq!(told("could not see it"), "Could not be seen");
        assert_eq!(told("two"), "");
        let warm = Field::measure("t", "", "", Dimension::Temperature);
        assert_eq!(echo(&warm, "20 C", UnitSystem::UsCustomary), "68 °F = 20 °C");
        let share = Field::measure("p", "", "", Dimension::Percent);
        assert_eq!(echo(&share, "40", UnitSystem::Metric), "");
        let time = Field::measure("after", "", "", Dimension::Duration);
        assert_eq!(echo(&time, "90", UnitSystem::Metric), "= 1 h 30 min");
    }

    #[test]
    fn a_unit_that_stands_behind_the_field_is_not_written_twice() {
        let us = UnitSystem::UsCustomary;
        let form = Form::blank(&[HEIGHT], us).measure("sand", Some(JarHeight::literal(55.562_5)), us);
        assert_eq!(form.draw("sand").text, "2 3/16");
        let grams = Field::measure("mass", "", "", Dimension::Mass).in_unit(Unit::Gram);
        let form = Form::blank(&[grams], us).measure("mass", Some(DryMass::literal(50.0)), us);
        assert_eq!(form.draw("mass").text, "50");
    }

    proptest! {
        #[test]
        fn what_is_put_in_a_form_reads_back_the_same(mm in 0.0..1000.0_f64, c in 1.0..40.0_f64, us in any::<bool>()) {
            let system = if us { UnitSystem::UsCustomary } else { UnitSystem::Metric };
            let height = JarHeight::new(mm).unwrap();
            prop_assert_eq!(units::typed::<JarHeight>("", &lossless(height, system), Unit::Millimetre), Ok(height));
            let warm = JarTemperature::new(c).unwrap();
            prop_assert_eq!(units::typed::<JarTemperature>("", &lossless(warm, system), Unit::Celsius), Ok(warm));
        }
    }
}
