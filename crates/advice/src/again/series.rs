//! One property over the years: where it was cut, what is told from scatter, and what is not.

use ground::trend::breaks::{Changed, changes, stretches};
use ground::trend::credible::{Difference, difference};
use ground::trend::strands::strands;
use ground::trend::yearly::{Direction, Trend, YEARS_TO_SHOW, trend};
use jiff::civil::Date;
use serde::Serialize;

use super::gather::{Followed, Reading};
use super::property::Property;

/// Readings nearer than this, a season, are no change over time but stand side by side (judgement).
pub const SEASON_DAYS: i32 = 60;

/// Readings of a property that were made alike, wherever they stand in its series.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Strand {
    /// Their places in the series, earliest first.
    pub places: Vec<usize>,
    /// The mean of each year.
    pub years: Vec<(i16, f64)>,
    /// The trend over them; none for fewer than four years.
    pub trend: Option<Trend>,
    /// Which way it goes.
    pub direction: Option<Direction>,
    /// Years still missing before a trend can be told.
    pub years_missing: usize,
    /// From the first to the last; none where a season does not lie between them.
    pub step: Option<Step>,
}

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
    /// Places of the readings between two cuts: the first, and the one behind the last.
    pub stretches: Vec<[usize; 2]>,
    /// The readings of each laboratory, procedure and depth, by their first.
    pub strands: Vec<Strand>,
    /// Which of them is told first: one that shows a trend, else that of most years, else the one with a step, else the latest.
    pub told: usize,
    /// The mean of each year of the strand that is told.
    pub years: Vec<(i16, f64)>,
    /// The trend over them; none for fewer than four years.
    pub trend: Option<Trend>,
    /// Which way it goes.
    pub direction: Option<Direction>,
    /// Years still missing before a trend can be told.
    pub years_missing: usize,
    /// From its first to its last reading; none where a season does not lie between them.
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
        let strands: Vec<Strand> =
            strands(&hows).into_iter().map(|places| Strand::of(property, &readings, places)).collect();
        let told = (0..strands.len()).max_by_key(|at| strands[*at].weight())?;
        let one = strands[told].clone();
        Some(Self {
            property,
            of,
            changed,
            stretches,
            strands,
            told,
            years: one.years,
            trend: one.trend,
            direction: one.direction,
            years_missing: one.years_missing,
            step: one.step,
            readings,
        })
    }

    /// The readings of a strand.
    #[must_use]
    pub fn readings_of(&self, strand: &Strand) -> Vec<&Reading> {
        strand.places.iter().filter_map(|place| self.readings.get(*place)).collect()
    }

    /// The strand that is told first.
    #[must_use]
    pub fn told_first(&self) -> Option<&Strand> {
        self.strands.get(self.told)
    }

    /// The other strands of two readings or more, the latest first.
    #[must_use]
    pub fn beside(&self) -> Vec<&Strand> {
        let mut all: Vec<&Strand> = self
            .strands
            .iter()
            .enumerate()
            .filter(|(at, strand)| *at != self.told && strand.places.len() > 1)
            .map(|(_, strand)| strand)
            .collect();
        all.sort_by_key(|strand| std::cmp::Reverse(strand.places.last().copied()));
        all
    }

    /// Was it read twice alike, a season or more apart?
    #[must_use]
    pub fn compares(&self) -> bool {
        self.strands.iter().any(|strand| strand.step.is_some())
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

impl Strand {
    fn of(property: Property, readings: &[Reading], places: Vec<usize>) -> Self {
        let own: Vec<&Reading> = places.iter().map(|place| &readings[*place]).collect();
        let years = years(&own);
        let points: Vec<(f64, f64)> = years.iter().map(|(year, value)| (f64::from(*year), *value)).collect();
        let trend = trend(&points);
        let step = match own.as_slice() {
            [earlier, .., later] if a_season_apart(earlier, later) => step(property, earlier, later),
            _ => None,
        };
        Self {
            direction: trend.map(|trend| trend.direction()),
            trend,
            years_missing: YEARS_TO_SHOW.saturating_sub(years.len()),
            years,
            step,
            places,
        }
    }

    /// Does it show a trend?
    #[must_use]
    pub fn shows_trend(&self) -> bool {
        self.direction.is_some_and(|direction| direction != Direction::NotShown)
    }

    /// What counts for telling it first, the weightiest before.
    fn weight(&self) -> (bool, usize, bool, Option<usize>) {
        (self.shows_trend(), self.years.len(), self.step.is_some(), self.places.last().copied())
    }
}

/// Does a season lie between them?
pub(super) fn a_season_apart(earlier: &Reading, later: &Reading) -> bool {
    later.on.since(earlier.on).is_ok_and(|span| span.get_days() >= SEASON_DAYS)
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
fn years(readings: &[&Reading]) -> Vec<(i16, f64)> {
    readings
        .chunk_by(|one, next| one.on.year() == next.on.year())
        .map(|year| {
            let mean = year.iter().map(|reading| reading.value).sum::<f64>() / year.len() as f64;
            (year[0].on.year(), mean)
        })
        .collect()
}
