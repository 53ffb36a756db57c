//! A number as a source prints it, and the tolerance its digits imply.

/// A printed number: its value, and half a unit of its last digit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Printed {
    /// The value.
    pub value: f64,
    /// Half a unit of the last printed digit.
    pub half_unit: f64,
}

impl Printed {
    /// Reads a printed number: "0.28", "108.1", "-1.628174", "2.5e-3", "15". `None` when the text
    /// is not a number.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let text = text.trim();
        let value: f64 = text.parse().ok().filter(|value: &f64| value.is_finite())?;
        let (mantissa, exponent) = match text.split_once(['e', 'E']) {
            Some((mantissa, exponent)) => (mantissa, exponent.parse::<i32>().ok()?),
            None => (text, 0),
        };
        if !mantissa.ends_with(|c: char| c.is_ascii_digit()) {
            return None;
        }
        let decimals = mantissa.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        let last_digit = exponent - i32::try_from(decimals).ok()?;
        Some(Self { value, half_unit: 0.5 * 10f64.powi(last_digit) })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_digit_sets_the_tolerance() {
        for (text, value, half_unit) in [
            ("0.28", 0.28, 0.005),
            ("108.1", 108.1, 0.05),
            ("27", 27.0, 0.5),
            ("-1.50", -1.5, 0.005),
            ("2.5e-3", 0.0025, 0.00005),
        ] {
            let printed = Printed::read(text).unwrap();
            assert_eq!(printed.value, value);
            assert!((printed.half_unit - half_unit).abs() < 1e-15, "{text}: {printed:?}");
        }
        for text in ["", "loam", "1.", "inf", "NaN", "1e"] {
            assert_eq!(Printed::read(text), None, "{text}");
        }
    }
}
