//! Sand, silt and clay under another size limit, by straight lines on the log of the grain size.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::composition::{ClayPercent, SandPercent, SiltPercent};
use super::measured::{PercentError, StandardError};
use super::{Class, Composition, silt_regression};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// The size that parts silt from sand.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum SiltLimit {
    /// 50 µm: USDA.
    #[default]
    #[serde(rename = "50 um")]
    Usda50,
    /// 63 µm: ISO 14688-1 and WRB.
    #[serde(rename = "63 um")]
    Iso63,
    /// 20 µm: international (ISSS).
    #[serde(rename = "20 um")]
    International20,
    /// 75 µm: the No. 200 sieve of engineers.
    #[serde(rename = "75 um")]
    Engineering75,
}

impl SiltLimit {
    /// Every limit, finest first.
    pub const ALL: [Self; 4] = [Self::International20, Self::Usda50, Self::Iso63, Self::Engineering75];

    /// The limit in µm.
    #[must_use]
    pub fn um(self) -> f64 {
        match self {
            Self::Usda50 => 50.0,
            Self::Iso63 => 63.0,
            Self::International20 => 20.0,
            Self::Engineering75 => 75.0,
        }
    }

    /// The limit and who uses it, for a form: "63 µm (ISO, WRB)".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Usda50 => "50 µm (USDA)",
            Self::Iso63 => "63 µm (ISO, WRB)",
            Self::International20 => "20 µm (international)",
            Self::Engineering75 => "75 µm (engineers, No. 200 sieve)",
        }
    }
}

/// Upper end of sand, in µm.
const SAND_TOP_UM: f64 = 2000.0;
/// Upper end of clay, in µm, the same in every soil system.
const CLAY_TOP_UM: f64 = 2.0;

/// Percent finer than `at_um`, on the straight line in ln(size) between two known points of the
/// cumulative curve [Nemes1999, log-linear procedure]. Sizes are in µm and differ.
#[must_use]
pub fn percent_finer(at_um: f64, (a_um, finer_a): (f64, f64), (b_um, finer_b): (f64, f64)) -> f64 {
    finer_a + (finer_b - finer_a) * libm::log(at_um / a_um) / libm::log(b_um / a_um)
}

/// `soil` with silt parted from sand at `to_um` instead of `from_um`; clay stays as it is.
#[must_use]
pub fn converted(soil: Composition, from_um: f64, to_um: f64) -> Composition {
    if from_um == to_um {
        return soil;
    }
    let known = (from_um, soil.clay + soil.silt);
    let finer = if to_um < from_um {
        percent_finer(to_um, (CLAY_TOP_UM, soil.clay), known)
    } else {
        percent_finer(to_um, known, (SAND_TOP_UM, 100.0))
    };
    Composition { sand: (100.0 - finer).max(0.0), silt: (finer - soil.clay).max(0.0), clay: soil.clay }
}

/// Standard error, in points, that a conversion adds between sand and silt.
///
/// Our judgement: the published comparison ranks this procedure least accurate of four without a
/// figure that could be read [Nemes1999, abstract]. Half of the mass moved, at least one point; from
/// or to 20 µm at least five points, because the two published ways differ by up to ten there.
#[must_use]
pub fn added_error_points(from: SiltLimit, to: SiltLimit, moved: f64) -> f64 {
    if from == to {
        return 0.0;
    }
    let least =
        if from == SiltLimit::International20 || to == SiltLimit::International20 { 5.0 } else { 1.0 };
    (0.5 * moved.abs()).max(least)
}

/// A composition brought to the USDA limit with the error that adds, the one way every reading of a
/// laboratory goes.
#[must_use]
pub fn to_usda(soil: Composition, from: SiltLimit) -> (Composition, PercentError) {
    let at_50 = converted(soil, from.um(), 50.0);
    let points = added_error_points(from, SiltLimit::Usda50, at_50.silt - soil.silt);
    (at_50, PercentError::none().and_sand_for_silt(points))
}

/// Input of `silt-limit-conversion`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ConversionInput {
    /// Sand by the limit `from`.
    pub sand_percent: SandPercent,
    /// Silt by the limit `from`.
    pub silt_percent: SiltPercent,
    /// Clay, finer than 2 µm.
    pub clay_percent: ClayPercent,
    /// Limit between silt and sand that the figures were measured by.
    pub from: SiltLimit,
    /// Limit wanted.
    pub to: SiltLimit,
}

/// Output of `silt-limit-conversion`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ConversionOutput {
    /// Sand, silt and clay by the wanted limit, in percent.
    pub mass_percent: Composition,
    /// One standard deviation of the error that the conversion adds, in points.
    pub added_error_points: StandardError,
    /// Texture class, when the wanted limit is 50 µm: the classes are defined by no other.
    pub class: Option<Class>,
    /// The class one would read by overlooking the difference of limits.
    pub class_unconverted: Option<Class>,
    /// The class by the other published way, when converting from 20 to 50 µm.
    pub class_by_regression: Option<Class>,
}

/// Conversion between limits of silt and sand.
pub struct SiltLimitConversion;

impl Method for SiltLimitConversion {
    type Input = ConversionInput;
    type Output = ConversionOutput;

    const CARD: Card = Card {
        name: "silt-limit-conversion",
        title: "Silt limits, log-linear",
        topic: Topic::Texture,
        computes: "Turns sand, silt and clay measured with the silt limit of one country (20, 50, 63 or 75 µm) \
                   into those of another, by a straight line on the log of the grain size. It says how much \
                   error that adds, and names the class before and after.",
        validity: &[
            "Sand ends at 2 mm and clay at 2 µm in both systems.",
            "Good to a point or two between 50, 63 and 75 µm; poor from 20 µm, where five points or more are added as error.",
        ],
        sources: &[
            Cite::new("Nemes1999", "log-linear procedure"),
            Cite::new("SoilSurveyManual2017", "ch. 3"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        ConversionInput {
            sand_percent: SandPercent::literal(40.0),
            silt_percent: SiltPercent::literal(40.0),
            clay_percent: ClayPercent::literal(20.0),
            from: SiltLimit::Iso63,
            to: SiltLimit::Usda50,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (soil, closed) =
            Composition::from_percent(input.sand_percent, input.silt_percent, input.clay_percent)?;
        let mass_percent = converted(soil, input.from.um(), input.to.um());
        let points = added_error_points(input.from, input.to, mass_percent.silt - soil.silt);
        let to_usda = input.to == SiltLimit::Usda50;
        let class = to_usda.then(|| Class::of(mass_percent));
        let class_unconverted = to_usda.then(|| Class::of(soil));
        let class_by_regression = (to_usda && input.from == SiltLimit::International20)
            .then(|| Class::of(silt_regression::silt_20_to_50(soil).soil));
        let mut notes: Vec<Note> = closed.into_iter().collect();
        if let (Some(class), Some(other)) = (class, class_by_regression)
            && class != other
        {
            notes.push(Note::new(
                NoteKind::Method,
                format!(
                    "This way gives {}, the regression gives {}: from 20 µm neither can be relied on alone.",
                    class.name(),
                    other.name()
                ),
            ));
        }
        if let (Some(class), Some(other)) = (class, class_unconverted)
            && class != other
        {
            notes.push(Note::new(
                NoteKind::Adjusted,
                format!(
                    "Read as if its silt ended at 50 µm this soil would be called {}; it is {}.",
                    other.name(),
                    class.name()
                ),
            ));
        }
        if input.from != input.to {
            notes.push(Note::new(
                NoteKind::Provenance,
                format!("A straight line on the log of the size is the least exact of the published ways. We add an error of {points:.1} points between sand and silt, which is our judgement."),
            ));
        }
        let value = ConversionOutput {
            mass_percent,
            added_error_points: PercentError::none().and_sand_for_silt(points).standard(),
            class,
            class_unconverted,
            class_by_regression,
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok((soil, _)) =
            Composition::from_percent(input.sand_percent, input.silt_percent, input.clay_percent)
        else {
            return Working::new();
        };
        let (from, to) = (input.from.um(), input.to.um());
        let out = &answer.value.mass_percent;
        let (numbers, rule) = if to <= from {
            (
                format!("silt = {:.2} × ln({to} / 2) / ln({from} / 2)", soil.silt),
                "silt below the new limit = silt × ln(to / 2) / ln(from / 2)",
            )
        } else {
            (
                format!("silt = {:.2} + {:.2} × ln({to} / {from}) / ln(2000 / {from})", soil.silt, soil.sand),
                "silt below the new limit = silt + sand × ln(to / from) / ln(2000 / from)",
            )
        };
        Working::new()
            .step("silt by the wanted limit", rule, numbers, format!("{:.2} %", out.silt))
            .cite(Self::CARD.sources[0])
            .step(
                "sand by the wanted limit",
                "sand = 100 - silt - clay",
                format!("100 - {:.2} - {:.2}", out.silt, out.clay),
                format!("{:.2} %", out.sand),
            )
    }
}
