//! When to look next: an interval by purpose from the last look, in the same season, sooner after lime, yearly in
//! tunnels, and not sooner than a change could show.

use std::sync::LazyLock;

use book::Snapshot;
use book::model::{EntryId, Place, Plot};
use ground::kit::Provenance;
use ground::trend::yearly::Direction;
use jiff::ToSpan;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::effects::last_lime;
use super::property::{Property, Walk};
use super::series::{Series, named};
use crate::words;

/// Lime has mostly reacted after so many months; before, a test tells little. Most limes begin to move pH
/// within 3 to 6 months and take many more to react fully.
pub const LIME_MONTHS: [i32; 2] = [6, 12];
/// Days about the due day within which a look still falls in the same season.
const SEASON_DAYS: i64 = 21;
/// A change that takes longer than this to show is not waited for.
const LONGEST_YEARS: f64 = 8.0;
/// What lime did can still be seen some months late, and is looked at within so many.
const NOW_MONTHS: i32 = 3;
/// A look that falls due within so many months is taken along on a walk.
const ALONG_MONTHS: i32 = 12;

/// What a look is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Purpose {
    /// What to give hangs on it.
    Decide,
    /// A slow change is followed.
    Follow,
}

/// A line of the table.
#[derive(Debug, Clone, Deserialize)]
struct Interval {
    property: String,
    place: String,
    months: i32,
    purpose: Purpose,
    source: String,
    provenance: Provenance,
    why: String,
}

static INTERVALS: LazyLock<Vec<Interval>> = LazyLock::new(|| {
    let text = include_str!("intervals.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The table is compiled in, and a test reads it.
        Err(error) => unreachable!("again/intervals.csv: {error}"),
    }
});

fn interval(property: Property, place: Place) -> Option<&'static Interval> {
    INTERVALS.iter().find(|row| row.property == property.key() && (row.place == "any" || place.under_cover()))
}

/// Months after which a property of a place is looked at again, where there is a rule for it.
#[must_use]
pub fn months(property: Property, place: Place) -> Option<i32> {
    interval(property, place).map(|row| row.months)
}

/// When to look at one property.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Look {
    /// What.
    pub property: Property,
    /// In words.
    pub name: String,
    /// The last look; none where it was never looked at.
    #[serde(serialize_with = "maybe")]
    pub last: Option<Date>,
    /// From this day on.
    #[serde(serialize_with = "day")]
    pub due: Date,
    /// What it is for.
    pub purpose: Purpose,
    /// Why then.
    pub why: String,
    /// Key of the source.
    pub source: String,
    /// How the interval is known, in words.
    pub provenance_words: &'static str,
    /// Years until a change at the known rate would show, where a rate is known.
    pub shows_after_years: Option<f64>,
}

/// Looks that are made on one walk.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Visit {
    /// The plot.
    pub plot: EntryId,
    /// Its name.
    pub plot_name: String,
    /// The walk.
    pub walk: Walk,
    /// What to do, in a line.
    pub what: String,
    /// First day that suits.
    #[serde(serialize_with = "day")]
    pub from: Date,
    /// Last day that suits.
    #[serde(serialize_with = "day")]
    pub to: Date,
    /// First and last day of the time that went by without it, where it moved on from there.
    #[serde(serialize_with = "both")]
    pub missed: Option<[Date; 2]>,
    /// The last time it was made.
    #[serde(serialize_with = "maybe")]
    pub last: Option<Date>,
    /// The day of liming, where lime is why.
    #[serde(serialize_with = "maybe")]
    pub after_lime: Option<Date>,
    /// What is due, first the one that calls for it, and what is taken along.
    pub looks: Vec<Look>,
    /// Why then, in sentences.
    pub why: Vec<String>,
}

fn day<S: serde::Serializer>(date: &Date, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(date)
}

fn maybe<S: serde::Serializer>(date: &Option<Date>, to: S) -> Result<S::Ok, S::Error> {
    match date {
        Some(date) => to.collect_str(date),
        None => to.serialize_none(),
    }
}

fn both<S: serde::Serializer>(dates: &Option<[Date; 2]>, to: S) -> Result<S::Ok, S::Error> {
    dates.as_ref().map(|days| days.map(|day| day.to_string())).serialize(to)
}

impl Visit {
    /// Did its time go by without it?
    #[must_use]
    pub fn is_late(&self) -> bool {
        self.missed.is_some()
    }

    /// The year that it was first due in, which stays when it moves on.
    #[must_use]
    pub fn first_year(&self) -> i16 {
        self.missed.map_or(self.from, |missed| missed[0]).year()
    }

    /// Moves on where its time went by: to the same season of the first year that still has it, or to now where lime has
    /// done its work.
    fn move_on(&mut self, today: Date) {
        if self.to >= today {
            return;
        }
        self.missed = Some([self.from, self.to]);
        if self.after_lime.is_some() {
            (self.from, self.to) = (today, today.saturating_add(NOW_MONTHS.months()));
            return;
        }
        let [from, to] = [self.from, self.to];
        let mut years = i32::from(today.year() - to.year()).max(1);
        while to.saturating_add(years.years()) < today {
            years += 1;
        }
        (self.from, self.to) = (from.saturating_add(years.years()), to.saturating_add(years.years()));
    }
}

/// When to look at the property of a series again.
fn look(series: &Series, place: Place) -> Option<Look> {
    let row = interval(series.property, place)?;
    let last = series.readings.last()?;
    let mut due = last.on.saturating_add(row.months.months());
    let mut why = format!("{}: {}", interval_words(row.months), row.why);
    // Of what is followed only organic matter creeps: structure can turn in a year, and is looked at each year.
    let waits = row.purpose == Purpose::Decide || series.property == Property::OrganicMatter;
    let shows = shows_after_years(series).filter(|_| waits);
    if let Some(years) = shows {
        let wanted = years.min(LONGEST_YEARS).ceil();
        #[expect(clippy::cast_possible_truncation, reason = "a few years")]
        let waited = last.on.saturating_add((wanted as i32).years());
        if row.purpose == Purpose::Follow && waited > due {
            due = waited;
            why = format!(
                "not sooner: at the rate of the last years a change shows after {} or so ({why})",
                years_words(years)
            );
        } else if row.purpose == Purpose::Decide && waited > due {
            why = format!(
                "{why}. What to give hangs on it; a change at the rate of the last years shows only after {}",
                years_words(years)
            );
        }
    }
    Some(Look {
        property: series.property,
        name: named(series.property, &series.of),
        last: Some(last.on),
        due,
        purpose: row.purpose,
        why,
        source: row.source.clone(),
        provenance_words: row.provenance.words(),
        shows_after_years: shows,
    })
}

/// Years until a change at the slope of the last years is more than the scatter of two readings; none where chance
/// would make that slope.
fn shows_after_years(series: &Series) -> Option<f64> {
    series.direction.filter(|direction| *direction != Direction::NotShown)?;
    let slope = series.trend?.slope.slope_per_year.median;
    let last = series.readings_of(series.told_first()?).pop()?;
    let error = if series.property.by_ratio() { last.error * last.value } else { last.error };
    let least = ground::trend::credible::Z_95 * error * std::f64::consts::SQRT_2;
    (slope.abs() > 1e-9).then(|| least / slope.abs())
}

fn years_words(years: f64) -> String {
    if years > LONGEST_YEARS {
        format!("more than {LONGEST_YEARS:.0} years")
    } else {
        years_text(years.ceil())
    }
}

fn years_text(years: f64) -> String {
    if years <= 1.0 { "a year".to_owned() } else { format!("{years:.0} years") }
}

fn interval_words(months: i32) -> String {
    match (months % 12, months / 12) {
        (0, 1) => "a year after the last".to_owned(),
        (0, years) => format!("{years} years after the last"),
        _ => format!("{months} months after the last"),
    }
}

/// The walks that are due on a plot, each with what is looked at; the soonest first.
pub(super) fn visits(
    snapshot: &Snapshot,
    id: EntryId,
    plot: &Plot,
    series: &[Series],
    today: Date,
) -> Vec<Visit> {
    // Its zones are looked at in its stead.
    if snapshot.is_parted(id) {
        return Vec::new();
    }
    let mut walks: Vec<(Walk, Vec<Look>)> = Vec::new();
    for one in series.iter().filter(|one| is_latest(one, series)) {
        let (Some(walk), Some(look)) = (one.property.walk(), look(one, plot.place)) else { continue };
        match walks.iter_mut().find(|(other, _)| *other == walk) {
            Some((_, looks)) => looks.push(look),
            None => walks.push((walk, vec![look])),
        }
    }
    let mut visits: Vec<Visit> =
        walks.into_iter().filter_map(|(walk, looks)| visit(id, plot, walk, looks)).collect();
    // Organic matter or salts alone say nothing of what to give.
    let soil = visits.iter().position(|visit| visit.walk == Walk::SoilTest);
    if soil.is_none_or(|soil| !visits[soil].looks.iter().any(calls)) {
        let along = soil.map_or_else(Vec::new, |soil| visits.remove(soil).looks);
        visits.push(Visit { looks: along, ..never_tested(id, plot, today) });
    }
    if let Some(soil) = visits.iter_mut().find(|visit| visit.walk == Walk::SoilTest)
        && let Some(lime) = last_lime(snapshot, id)
    {
        after_lime(soil, lime);
    }
    for visit in &mut visits {
        visit.move_on(today);
    }
    visits.sort_by_key(|visit| (visit.from, visit.walk));
    visits
}

/// Is it not read in another way since? What was left for another extractant or for pH in salt is not due again.
fn is_latest(series: &Series, all: &[Series]) -> bool {
    let kind = |property: Property| if property == Property::PhSalt { Property::PhWater } else { property };
    let last = |series: &Series| series.readings.last().map(|reading| reading.on);
    all.iter().all(|other| kind(other.property) != kind(series.property) || last(other) <= last(series))
}

/// What a soil test is made for; the rest is renewed with it.
fn calls(look: &Look) -> bool {
    match look.property.walk() {
        Some(Walk::SoilTest) => matches!(
            look.property,
            Property::PhWater | Property::PhSalt | Property::Phosphorus | Property::Potassium
        ),
        _ => true,
    }
}

fn visit(id: EntryId, plot: &Plot, walk: Walk, mut looks: Vec<Look>) -> Option<Visit> {
    looks.sort_by_key(|look| (!calls(look), look.due));
    let first = looks.first()?;
    let due = first.due;
    let last = looks.iter().filter_map(|look| look.last).max();
    let why = vec![format!("{}: {}.", words::capital(&first.name), first.why)];
    let along = due.saturating_add(ALONG_MONTHS.months());
    looks.retain(|look| look.due <= along || walk == Walk::SoilTest);
    Some(Visit {
        plot: id,
        plot_name: plot.name.clone(),
        walk,
        what: walk.words().to_owned(),
        from: due.saturating_sub(SEASON_DAYS.days()),
        to: due.saturating_add(SEASON_DAYS.days()),
        missed: None,
        last,
        after_lime: None,
        looks,
        why,
    })
}

fn never_tested(id: EntryId, plot: &Plot, today: Date) -> Visit {
    Visit {
        plot: id,
        plot_name: plot.name.clone(),
        walk: Walk::SoilTest,
        what: Walk::SoilTest.words().to_owned(),
        from: today,
        to: today.saturating_add(1.year()),
        missed: None,
        last: None,
        after_lime: None,
        looks: Vec::new(),
        why: vec!["Nothing is known of the acidity and the nutrients of this plot.".to_owned()],
    }
}

/// After lime: not before it has reacted, and not much later.
fn after_lime(visit: &mut Visit, lime: Date) {
    let [from, to] = LIME_MONTHS.map(|months| lime.saturating_add(months.months()));
    let tells = |look: &&Look| matches!(look.property, Property::PhWater | Property::PhSalt);
    if visit.looks.iter().filter(tells).any(|look| look.last.is_some_and(|last| last >= from)) {
        return;
    }
    (visit.from, visit.to, visit.after_lime) = (from, to, Some(lime));
    visit.what = "Test the soil again, to see what the lime did".to_owned();
    visit.why = vec![format!(
        "Lime takes months to react: {} to {} months after {} its work shows, and nothing is lost by waiting for it.",
        LIME_MONTHS[0],
        LIME_MONTHS[1],
        words::day(lime)
    )];
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_property_with_a_walk_has_an_interval_and_tunnels_come_first() {
        for property in Property::ALL {
            let (open, cover) = (months(property, Place::OpenField), months(property, Place::HighTunnel));
            assert_eq!(open.is_some(), property.walk().is_some(), "{property:?}");
            assert!(cover <= open, "{property:?}");
        }
        for row in INTERVALS.iter() {
            assert!(ground::kit::sources::BIBLIOGRAPHY.contains_key(&row.source), "{}", row.source);
            assert!(Property::ALL.iter().any(|one| one.key() == row.property), "{}", row.property);
        }
    }
}
