//! Hours of daylight, by geometry and as an almanac counts them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::climate::quantities::{DayOfYear, Latitude};
use crate::climate::sun::SunDay;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Day length at which growth is said to all but stop, h (common practice).
pub const STILL_DAY_H: f64 = 10.0;

/// Input of `day-length`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DayLengthInput {
    /// Latitude, north positive.
    pub latitude_degrees: Latitude,
    /// Day of the year, 1 January is 1.
    pub day_of_year: DayOfYear,
}

/// Output of `day-length`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct DayLengthOutput {
    /// By geometry: the sun's centre, no bending of light. FAO-56 uses this one.
    pub geometric_h: f64,
    /// Between the sunrise and sunset of an almanac.
    pub almanac_h: f64,
    /// First day of the year's stretch under ten hours, geometric; none where there is no such stretch.
    pub under_ten_from_day: Option<u16>,
    /// Last day of that stretch.
    pub under_ten_to_day: Option<u16>,
    /// First day under ten hours by almanac.
    pub almanac_under_ten_from_day: Option<u16>,
    /// Last day under ten hours by almanac.
    pub almanac_under_ten_to_day: Option<u16>,
}

/// First and last day of the year (1 to 365) of the stretch in which `hours` stays below ten; the stretch may
/// run over the end of the year. `None` when no day or every day is so.
#[must_use]
pub fn under_ten(latitude_rad: f64, hours: impl Fn(&SunDay) -> f64) -> Option<(u16, u16)> {
    let short: Vec<bool> =
        (1..=365_u16).map(|day| hours(&SunDay::new(latitude_rad, f64::from(day))) < STILL_DAY_H).collect();
    let from = (0..365_u16).find(|day| short[usize::from(*day)] && !short[usize::from((day + 364) % 365)])?;
    let to = (0..365_u16).find(|day| short[usize::from(*day)] && !short[usize::from((day + 1) % 365)])?;
    Some((from + 1, to + 1))
}

/// Day length.
pub struct DayLength;

impl Method for DayLength {
    type Input = DayLengthInput;
    type Output = DayLengthOutput;

    const CARD: Card = Card {
        name: "day-length",
        title: "Day length",
        topic: Topic::Climate,
        computes: "Hours of daylight at a latitude on a day of the year, and the stretch of the year with less than ten, \
                   in which crops under cover all but stand still. Two ways of counting differ by a quarter of an hour, \
                   and the stretch by one to two weeks: both are given.",
        validity: &[
            "Level horizon; hills shorten the day.",
            "That growth all but stops under ten hours is common practice without a source.",
        ],
        sources: &[
            Cite::new("Fao56", "eq. 24, 25, 34"),
            Cite::new("Meeus1998", "chapter 15, rising and setting: 0.833° below the horizon"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        DayLengthInput { latitude_degrees: Latitude::literal(45.0), day_of_year: DayOfYear::literal(310.0) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let latitude = input.latitude_degrees.get().to_radians();
        let sun = SunDay::new(latitude, input.day_of_year.get());
        let geometric = under_ten(latitude, SunDay::geometric_hours);
        let almanac = under_ten(latitude, SunDay::almanac_hours);
        Ok(Answer::with_notes(
            DayLengthOutput {
                geometric_h: sun.geometric_hours(),
                almanac_h: sun.almanac_hours(),
                under_ten_from_day: geometric.map(|stretch| stretch.0),
                under_ten_to_day: geometric.map(|stretch| stretch.1),
                almanac_under_ten_from_day: almanac.map(|stretch| stretch.0),
                almanac_under_ten_to_day: almanac.map(|stretch| stretch.1),
            },
            vec![Note::new(
                NoteKind::Provenance,
                "The ten-hour rule of growing under cover is common practice without a source; the angle of sunrise \
                 (0.833°) is recalled.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let at = format!("φ {}°, J {}", input.latitude_degrees.get(), input.day_of_year.get());
        Working::new()
            .step(
                "geometric day length",
                "N = 24/π arccos(−tan φ tan δ)",
                at.clone(),
                format!("{:.2} h", answer.value.geometric_h),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "day length of an almanac",
                "cos ω = (sin(−0.833°) − sin φ sin δ) / (cos φ cos δ)",
                at,
                format!("{:.2} h", answer.value.almanac_h),
            )
            .cite(Self::CARD.sources[1])
    }
}
