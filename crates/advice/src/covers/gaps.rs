//! What stands in each bed over the coming year, and the gaps between.

use book::model::{CoverCrop, EntryId};
use book::{Held, Snapshot};
use ground::covers::catalogue::find;
use ground::covers::kinds::GrowsIn;
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use super::rotation::{Neighbour, grown};
use crate::work::{Season, season};

/// Fewer days than this are no gap for a cover.
pub const LEAST_GAP_D: i64 = 21;
/// Gaps are looked for so far ahead.
const AHEAD_D: i64 = 365;
/// A gap after which nothing is planned is taken to last until the first last frost of spring so much later.
const OPEN_GAP_LEAST_D: i64 = 60;
/// A cover that was left lies as mulch for so long at most (our judgement).
const MULCH_D: i64 = 120;

/// What stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Stands {
    /// A crop.
    Crop,
    /// A cover that grows.
    Cover,
    /// A cover that was ended and left.
    Mulch,
}

/// Something that stands in a bed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Span {
    /// What it is called.
    pub name: String,
    /// Crop, cover or mulch.
    pub stands: Stands,
    /// First day.
    #[serde(serialize_with = "super::as_text")]
    pub from: Date,
    /// Day after the last.
    #[serde(serialize_with = "super::as_text")]
    pub to: Date,
    /// Its record.
    pub record: EntryId,
    /// Was its end worked out and not written down?
    pub assumed: bool,
}

/// A gap.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BedGap {
    /// Its number in the bed, from 1.
    pub number: usize,
    /// First day on which the bed is free.
    #[serde(serialize_with = "super::as_text")]
    pub from: Date,
    /// Day on which it is wanted.
    #[serde(serialize_with = "super::as_text")]
    pub to: Date,
    /// Days of it.
    pub days: i64,
    /// Day since which the bed is bare, where that is earlier.
    #[serde(serialize_with = "super::as_maybe_text")]
    pub bare_since: Option<Date>,
    /// What stands before it.
    pub before: Option<Neighbour>,
    /// What follows it.
    pub after: Option<Neighbour>,
}

/// A bed's year.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BedYear {
    /// The bed, or the equal beds of one record.
    pub bed: EntryId,
    /// Its name.
    pub name: String,
    /// Its plot.
    pub plot: EntryId,
    /// The plot's name.
    pub plot_name: String,
    /// Area of all of them, m².
    pub area_m2: f64,
    /// How many of them.
    pub beds: u16,
    /// Does it lie under cover?
    pub under_cover: bool,
    /// What stands when, earliest first.
    pub spans: Vec<Span>,
    /// The gaps.
    pub gaps: Vec<BedGap>,
}

/// Every bed of the farm.
#[must_use]
pub fn farm_beds(snapshot: &Snapshot, today: Date) -> Vec<BedYear> {
    snapshot
        .plots
        .iter()
        .flat_map(|plot| snapshot.beds_of(plot.id))
        .filter_map(|bed| bed_year(snapshot, bed.id, today))
        .collect()
}

/// One bed; `None` where it or its plot does not count.
#[must_use]
pub fn bed_year(snapshot: &Snapshot, bed: EntryId, today: Date) -> Option<BedYear> {
    let held = snapshot.bed(bed)?;
    let plot = snapshot.plot(held.body.plot)?;
    let season = season(snapshot, today);
    let horizon = today.saturating_add((2 * AHEAD_D).days());
    let plantings = snapshot.plantings_of(bed);
    let crops: Vec<_> = plantings.iter().map(|planting| (planting.id, grown(snapshot, planting))).collect();
    let mut spans: Vec<Span> = crops
        .iter()
        .enumerate()
        .map(|(at, (record, crop))| {
            let from = crop.neighbour.planted_on;
            let until = crop.until.unwrap_or(horizon);
            // A crop whose end nobody wrote down has made room for the next.
            let next =
                crops.get(at + 1).map(|(_, next)| next.neighbour.planted_on).filter(|next| *next > from);
            let to = if crop.assumed { next.map_or(until, |next| until.min(next)) } else { until };
            Span {
                name: crop.neighbour.name.clone(),
                stands: Stands::Crop,
                from,
                to: to.max(from),
                record: *record,
                assumed: crop.assumed,
            }
        })
        .collect();
    for cover in snapshot.covers_of(bed) {
        let next = crops
            .iter()
            .map(|(_, crop)| crop.neighbour.planted_on)
            .find(|planted| *planted > cover.body.sown_on)
            .unwrap_or_else(|| open_end(&season, cover.body.sown_on));
        spans.extend(cover_spans(cover, next, &season));
    }
    spans.sort_by_key(|span| span.from);
    let neighbour = |span: &Span| {
        crops.iter().find(|(record, _)| *record == span.record).map(|(_, crop)| crop.neighbour.clone())
    };
    let gaps = gaps(&spans, &season, today, neighbour);
    Some(BedYear {
        bed,
        name: held.body.name.clone(),
        plot: plot.id,
        plot_name: plot.body.name.clone(),
        area_m2: held.body.area_m2(),
        beds: held.body.count,
        under_cover: plot.body.place.under_cover(),
        spans,
        gaps,
    })
}

/// A cover while it grows, and while it lies as mulch.
fn cover_spans(held: &Held<CoverCrop>, next: Date, season: &Season) -> Vec<Span> {
    let cover = &held.body;
    let name = super::seeds_words(&cover.seeds);
    let frost = season.first_frost_after(cover.sown_on);
    let tender = cover
        .seeds
        .iter()
        .all(|seed| find("cover", &seed.cover).is_ok_and(|species| species.grows_in == GrowsIn::Warm));
    let planned = cover.end_by.unwrap_or(next).min(next);
    let (end, assumed, left) = match cover.ended {
        Some(end) => (end.on, false, super::nitrogen::is_left(end.how)),
        // Frost ends a tender cover, and it lies there.
        None if tender && frost < planned => (frost, true, true),
        None => (planned, true, false),
    };
    let grows = Span {
        name: name.clone(),
        stands: Stands::Cover,
        from: cover.sown_on,
        to: end.max(cover.sown_on),
        record: held.id,
        assumed,
    };
    let gone = end.saturating_add(MULCH_D.days()).min(next);
    let lies = (left && gone > end).then(|| Span {
        name: format!("{name}, dead"),
        stands: Stands::Mulch,
        from: end,
        to: gone,
        record: held.id,
        assumed,
    });
    std::iter::once(grows).chain(lies).collect()
}

/// The gaps among spans from today on.
fn gaps(
    spans: &[Span],
    season: &Season,
    today: Date,
    neighbour: impl Fn(&Span) -> Option<Neighbour>,
) -> Vec<BedGap> {
    let last = today.saturating_add(AHEAD_D.days());
    let standing = || spans.iter().filter(|span| span.stands != Stands::Mulch);
    let mut found = Vec::new();
    let mut free = today;
    loop {
        // Whatever stands on the first free day moves it on.
        while let Some(span) = standing().find(|span| span.from <= free && span.to > free) {
            free = span.to;
        }
        if free >= last {
            return found;
        }
        let next = standing().find(|span| span.from > free);
        let to = next.map_or_else(|| open_end(season, free), |span| span.from);
        let days = i64::from((to - free).get_days());
        if days >= LEAST_GAP_D {
            let before = standing().filter(|span| span.to <= free).max_by_key(|span| span.to);
            found.push(BedGap {
                number: found.len() + 1,
                from: free,
                to,
                days,
                bare_since: before.map(|span| span.to).filter(|since| *since < free),
                before: spans
                    .iter()
                    .filter(|span| span.stands == Stands::Crop && span.to <= free)
                    .max_by_key(|span| span.to)
                    .and_then(&neighbour),
                after: next.filter(|span| span.stands == Stands::Crop).and_then(&neighbour),
            });
        }
        if next.is_none() {
            return found;
        }
        free = to;
    }
}

/// Where a gap ends after which nothing is planned.
fn open_end(season: &Season, from: Date) -> Date {
    season.last_frost_after(from.saturating_add(OPEN_GAP_LEAST_D.days()))
}
