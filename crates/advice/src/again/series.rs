//! One property over the years: where it was cut, what is told from scatter, and what is not.

use ground::trend::breaks::{Changed, changes, stretches};
use ground::trend::credible::{Difference, difference};
use ground::trend::yearly::{Direction, Trend, YEARS_TO_SHOW, trend};
use jiff::civil::Date;
use serde::Serialize;

use super::gather::{Followed, Reading};
use super::property::Property;

/// A property over the years.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Series {
    /// What is followed.
    pub property: Property,
    /// Of which crop, or by which extractant; may be empty.
    pub of: String,
    /// The readings, earliest first.
    pub readings: Vec<Reading>,
    /// What was otherwise at each reading than before it.
    pub changed: Vec<Vec<Changed>>,
    /// Places of the readings that compare within themselves: the first, and the one behind the last.
    pub stretches: Vec<[usize; 2]>,
    /// The mean of each year of the latest stretch.
    pub years: Vec<(i16, f64)>,
    /// The trend over them; none for fewer than four years.
    pub trend: Option<Trend>,
    /// Which way it goes.
    pub direction: Option<Direction>,
    /// Years still missing before a trend can be told.
    pub years_missing: usize,
    /// From the first to the last reading of the latest stretch.
    pub step: Option<Step>,
}

/// A step between two readings.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Step {
    /// The day of the earlier.
    #[serde(serialize_with = "text")]
    pub from: Date,
    /// Its value.
    pub before: f64,
    /// The day of the later.
    #[serde(serialize_with = "text")]
    pub to: Date,
    /// Its value.
    pub after: f64,
    /// Told from scatter, in the property's unit, or in its natural logarithm where errors grow with the value.
    pub difference: Difference,
    /// Below this the later would be told from the earlier.
    pub shows_below: f64,
    /// Above this the later would be told from the earlier.
    pub shows_above: f64,
}

fn text<S: serde::Serializer>(date: &Date, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(date)
}

/// The value and error of a reading on the scale that its errors are alike on.
pub(super) fn scaled(property: Property, reading: &Reading) -> Option<(f64, f64)> {
    if property.by_ratio() {
        (reading.value > 0.0).then(|| (libm::log(reading.value), reading.error))
    } else {
        Some((reading.value, reading.error))
    }
}

/// Back from that scale.
pub(super) fn unscaled(property: Property, value: f64) -> f64 {
    if property.by_ratio() { libm::exp(value) } else { value }
}

/// The step between two readings; none where either is nothing and ratios are asked for.
pub(super) fn step(property: Property, earlier: &Reading, later: &Reading) -> Option<Step> {
    let (before, after) = (scaled(property, earlier)?, scaled(property, later)?);
    let difference = difference(before, after);
    let reach = difference.least_credible_change;
    Some(Step {
        from: earlier.on,
        before: earlier.value,
        to: later.on,
        after: later.value,
        difference,
        shows_below: unscaled(property, before.0 - reach),
        shows_above: unscaled(property, before.0 + reach),
    })
}

impl Series {
    /// Puts readings together; `None` without any.
    #[must_use]
    pub fn of((property, of): Followed, readings: Vec<Reading>) -> Option<Self> {
        let hows: Vec<_> = readings.iter().map(|reading| reading.how.clone()).collect();
        let changed = changes(&hows);
        let stretches: Vec<[usize; 2]> =
            stretches(&changed).into_iter().map(|stretch| [stretch.start, stretch.end]).collect();
        let [first, behind] = *stretches.last()?;
        let latest = &readings[first..behind];
        let years = years(latest);
        let points: Vec<(f64, f64)> = years.iter().map(|(year, value)| (f64::from(*year), *value)).collect();
        let trend = trend(&points);
        let step = match latest {
            [earlier, .., later] => step(property, earlier, later),
            _ => None,
        };
        Some(Self {
            property,
            of,
            changed,
            stretches,
            direction: trend.map(|trend| trend.direction()),
            trend,
            years_missing: YEARS_TO_SHOW.saturating_sub(years.len()),
            years,
            step,
            readings,
        })
    }

    /// The readings that compare with the last one.
    #[must_use]
    pub fn latest(&self) -> &[Reading] {
        self.stretches.last().map_or(&[], |[first, behind]| &self.readings[*first..*behind])
    }

    /// The stretch that a reading lies in.
    #[must_use]
    pub fn stretch_of(&self, place: usize) -> Option<usize> {
        self.stretches.iter().position(|[first, behind]| (*first..*behind).contains(&place))
    }

    /// "organic matter", "phosphorus (Mehlich-1)".
    #[must_use]
    pub fn name(&self) -> String {
        named(self.property, &self.of)
    }

    /// Letters and hyphens for an address or a picture.
    #[must_use]
    pub fn key(&self) -> String {
        let of: String =
            self.of.to_lowercase().chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
        let property = self.property.key().replace('_', "-");
        if of.is_empty() { property } else { format!("{property}-{of}") }
    }
}

/// "organic matter", "phosphorus (Mehlich-1)", "yield of Tomato".
#[must_use]
pub fn named(property: Property, of: &str) -> String {
    match (property, of) {
        (_, "") => property.words().to_owned(),
        (Property::Yield, crop) => format!("yield of {}", crop.to_lowercase()),
        (_, of) => format!("{} ({of})", property.words()),
    }
}

/// The mean of each year.
#[expect(clippy::cast_precision_loss, reason = "a few readings")]
fn years(readings: &[Reading]) -> Vec<(i16, f64)> {
    readings
        .chunk_by(|one, next| one.on.year() == next.on.year())
        .map(|year| {
            let mean = year.iter().map(|reading| reading.value).sum::<f64>() / year.len() as f64;
            (year[0].on.year(), mean)
        })
        .collect()
}
