//! From a thinner extract to the saturation extract: plain functions.
//!
//! # Method
//! Published straight lines by ratio and texture. They disagree by a factor of about two, so the answer
//! is the range over all lines that fit the soil, and its middle is their median.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::Provenance;
use crate::kit::table;
use crate::texture::Class;

/// Soil to water by mass in the extract that was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
pub enum ExtractRatio {
    /// Saturated paste: nothing to convert.
    #[serde(rename = "saturated paste")]
    SaturatedPaste,
    /// One part soil to one part water.
    #[serde(rename = "1:1")]
    OneToOne,
    /// One to two.
    #[serde(rename = "1:2")]
    OneToTwo,
    /// One to five.
    #[serde(rename = "1:5")]
    OneToFive,
}

/// Texture as the published lines group it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TextureGroup {
    /// Sands and sandy loam.
    Coarse,
    /// Loams and silts.
    Medium,
    /// Clay loams and clays.
    Fine,
}

impl TextureGroup {
    /// Group of a class; the sources name none, so where the groups part is our judgement.
    #[must_use]
    pub fn of(class: Class) -> Self {
        match class {
            Class::Sand | Class::LoamySand | Class::SandyLoam => Self::Coarse,
            Class::Loam | Class::SiltLoam | Class::Silt | Class::SandyClayLoam => Self::Medium,
            _ => Self::Fine,
        }
    }
}

/// Greatest number of lines one question can meet.
const MOST_LINES: usize = 32;

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
enum LineGroup {
    Any,
    Coarse,
    Medium,
    Fine,
}

#[derive(Clone, Copy, Deserialize)]
struct Line {
    ratio: ExtractRatio,
    group: LineGroup,
    slope: f64,
    intercept_ds_m: f64,
    provenance: Provenance,
}

static LINES: LazyLock<Vec<Line>> = LazyLock::new(|| {
    table::rows("ec_to_saturation_extract.csv", include_str!("data/ec_to_saturation_extract.csv"))
});

impl Line {
    fn fits(&self, ratio: ExtractRatio, group: Option<TextureGroup>) -> bool {
        let for_group = match (self.group, group) {
            (LineGroup::Any, _) | (_, None) => true,
            (LineGroup::Coarse, Some(group)) => group == TextureGroup::Coarse,
            (LineGroup::Medium, Some(group)) => group == TextureGroup::Medium,
            (LineGroup::Fine, Some(group)) => group == TextureGroup::Fine,
        };
        self.ratio == ratio && for_group
    }
}

/// Range over the published lines, dS/m.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ExtractRange {
    /// Lowest line.
    pub low_ds_m: f64,
    /// Median of the lines.
    pub middle_ds_m: f64,
    /// Highest line.
    pub high_ds_m: f64,
    /// How many lines there are.
    pub lines: u32,
    /// How many of them were recalled and not read.
    pub recalled: u32,
    /// Whether a line fell below 0 and was taken as 0: the reading is below what it was fitted to.
    pub below_fit: bool,
}

/// EC of the saturation extract, dS/m at 25 °C, from that of another extract. Without a group, all lines
/// of the ratio count.
#[must_use]
pub fn saturation_extract_ds_m(
    ratio: ExtractRatio,
    group: Option<TextureGroup>,
    ec_ds_m: f64,
) -> ExtractRange {
    if ratio == ExtractRatio::SaturatedPaste {
        return ExtractRange {
            low_ds_m: ec_ds_m,
            middle_ds_m: ec_ds_m,
            high_ds_m: ec_ds_m,
            lines: 0,
            recalled: 0,
            below_fit: false,
        };
    }
    let mut values = [0.0; MOST_LINES];
    let (mut count, mut recalled, mut below_fit) = (0, 0, false);
    for line in LINES.iter().filter(|line| line.fits(ratio, group)).take(MOST_LINES) {
        let value = line.slope * ec_ds_m + line.intercept_ds_m;
        below_fit |= value < 0.0;
        recalled += u32::from(line.provenance != Provenance::Read);
        values[count] = value.max(0.0);
        count += 1;
    }
    let values = &mut values[..count];
    values.sort_unstable_by(f64::total_cmp);
    #[expect(clippy::cast_possible_truncation, reason = "at most MOST_LINES")]
    let lines = count as u32;
    ExtractRange {
        low_ds_m: values[0],
        middle_ds_m: 0.5 * (values[(count - 1) / 2] + values[count / 2]),
        high_ds_m: values[count - 1],
        lines,
        recalled,
        below_fit,
    }
}

/// EC at 25 °C of a reading taken at another temperature: 2 % a degree [Handbook60].
#[must_use]
pub fn at_25_degrees(ec_ds_m: f64, temperature_c: f64) -> f64 {
    ec_ds_m / (1.0 + 0.02 * (temperature_c - 25.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_question_meets_a_line() {
        assert!(LINES.len() <= MOST_LINES);
        for ratio in [ExtractRatio::OneToOne, ExtractRatio::OneToTwo, ExtractRatio::OneToFive] {
            let all = saturation_extract_ds_m(ratio, None, 0.9);
            for class in Class::ALL {
                let range = saturation_extract_ds_m(ratio, Some(TextureGroup::of(class)), 0.9);
                assert!(range.lines > 0 && range.low_ds_m <= range.middle_ds_m);
                assert!(all.low_ds_m <= range.low_ds_m && range.high_ds_m <= all.high_ds_m, "{ratio:?}");
                let saltier = saturation_extract_ds_m(ratio, Some(TextureGroup::of(class)), 1.2);
                assert!(saltier.low_ds_m >= range.low_ds_m && saltier.high_ds_m > range.high_ds_m);
            }
        }
        assert!(saturation_extract_ds_m(ExtractRatio::OneToOne, None, 0.05).below_fit);
    }
}
