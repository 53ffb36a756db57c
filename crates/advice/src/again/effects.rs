//! Before and after a job: what stood in the tests before, what stands after, and what would have come by itself.

use book::Snapshot;
use book::model::{Application, EntryId};
use ground::fertility::blend::catalogue::MaterialKind;
use ground::trend::breaks::changes;
use ground::trend::credible::{Difference, difference};
use ground::trend::regression::{expected_rise_of, reliability};
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use super::gather::{Reading, Shelf};
use super::next::LIME_MONTHS;
use super::property::Property;
use super::series::{Series, Step, scaled, step};
use crate::feeding::contents::{contents, known_kind, neutralizing_percent};

/// What neutralizes at least so much of what pure calcium carbonate does counts as lime. Our judgement.
const LIMES_FROM_PERCENT: f64 = 30.0;
/// Readings of other plots count for a comparison within so many days of the plot's own.
const ABOUT_DAYS: i32 = 400;
/// With fewer plots than this the spread between plots is not known.
const ENOUGH_PLOTS: usize = 4;
/// How far on the wrong side of the plots' mean, in standard deviations, a first reading counts as picked.
const PICKED_FROM: f64 = 0.5;

/// What was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Work {
    /// Lime was spread.
    Lime,
    /// Compost, manure or mulch was spread.
    Organic,
    /// Fertilizer was spread.
    Fertilizer,
    /// The hard layer was loosened.
    Loosened,
    /// A cover was grown and left.
    Cover,
    /// Water was given a way out.
    Drained,
}

impl Work {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Lime => "lime",
            Self::Organic => "compost or manure",
            Self::Fertilizer => "fertilizer",
            Self::Loosened => "loosening",
            Self::Cover => "covers",
            Self::Drained => "drainage",
        }
    }

    /// Does it act on that property?
    fn acts_on(self, property: Property) -> bool {
        use Property as P;
        match self {
            Self::Lime => matches!(property, P::PhWater | P::PhSalt),
            Self::Organic => matches!(
                property,
                P::OrganicMatter
                    | P::Phosphorus
                    | P::Potassium
                    | P::Density
                    | P::Infiltration
                    | P::Slake
                    | P::Worms
                    | P::Score
            ),
            Self::Fertilizer => matches!(property, P::Phosphorus | P::Potassium | P::Magnesium),
            Self::Loosened => {
                matches!(property, P::PanTop | P::Stopped | P::Density | P::Infiltration | P::Score)
            }
            Self::Cover => {
                matches!(
                    property,
                    P::OrganicMatter | P::Infiltration | P::Slake | P::Worms | P::Score | P::Stopped
                )
            }
            Self::Drained => matches!(property, P::Infiltration | P::Score | P::Worms),
        }
    }

    /// A reading sooner after it than this tells little, months.
    fn works_after_months(self) -> i32 {
        if self == Self::Lime { LIME_MONTHS[0] } else { 0 }
    }
}

/// Something that was done on a plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Done {
    /// The day.
    #[serde(serialize_with = "text")]
    pub on: Date,
    /// Of which kind.
    pub work: Work,
    /// What, in words: the material, the cover, the job.
    pub what: String,
}

fn text<S: serde::Serializer>(date: &Date, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(date)
}

/// Does it neutralize acid?
fn is_lime(snapshot: &Snapshot, application: &Application) -> bool {
    if application.job.as_deref().is_some_and(|key| key.starts_with("acidity.") || key.starts_with("lime.")) {
        return true;
    }
    neutralizing_percent(snapshot, &application.spread).is_some_and(|percent| percent >= LIMES_FROM_PERCENT)
}

/// The day a plot was last limed.
#[must_use]
pub fn last_lime(snapshot: &Snapshot, plot: EntryId) -> Option<Date> {
    snapshot
        .applications_on(plot)
        .into_iter()
        .rfind(|held| is_lime(snapshot, &held.body))
        .map(|held| held.body.on)
}

/// Everything that was done on a plot and acts on what is followed, earliest first.
#[must_use]
pub fn done_on(snapshot: &Snapshot, plot: EntryId) -> Vec<Done> {
    let mut all = Vec::new();
    for held in snapshot.applications_on(plot) {
        let body = &held.body;
        let name = contents(snapshot, &body.spread).map(|of| of.name);
        let work = if is_lime(snapshot, body) {
            Work::Lime
        } else if is_organic(snapshot, body) {
            Work::Organic
        } else {
            Work::Fertilizer
        };
        all.push(Done { on: body.on, work, what: name.unwrap_or_else(|| work.words().to_owned()) });
    }
    for held in snapshot.jobs.iter().filter(|held| held.body.plot == Some(plot)) {
        let Some(done) = &held.body.done else { continue };
        let work = match held.body.key.as_str() {
            key if key.starts_with("ground.loosen.") => Work::Loosened,
            key if key.starts_with("drainage.") => Work::Drained,
            _ => continue,
        };
        all.push(Done { on: done.on, work, what: held.body.as_planned.what.clone() });
    }
    for held in &snapshot.covers {
        let Some(end) = held.body.ended else { continue };
        if snapshot.bed(held.body.bed).is_some_and(|bed| bed.body.plot == plot) {
            let names: Vec<&str> = held.body.seeds.iter().map(|seed| seed.cover.as_str()).collect();
            all.push(Done { on: end.on, work: Work::Cover, what: names.join(" and ").replace('-', " ") });
        }
    }
    all.sort_by_key(|done| done.on);
    all
}

fn is_organic(snapshot: &Snapshot, application: &Application) -> bool {
    if let Some(kind) = known_kind(snapshot, &application.spread) {
        return matches!(kind, MaterialKind::Compost | MaterialKind::Manure | MaterialKind::Organic);
    }
    application
        .spread
        .shelf()
        .and_then(|id| snapshot.material(id))
        .is_some_and(|held| held.body.carbon_nitrogen.is_some())
}

/// What would have come with nothing done, since the plot was picked for a poor first reading.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ByItself {
    /// Plots that the farm's mean and spread are from; with fewer than four nothing is reckoned.
    pub plots: usize,
    /// The mean of the plots' first readings.
    pub mean: f64,
    /// Share of the differences between the readings that is really between the plots.
    pub reliability: f64,
    /// The step to expect with nothing done, on the scale of the difference.
    pub expected_step: f64,
}

/// Plots of the farm where nothing of the kind was done, over about the same time.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeftAlone {
    /// Their names.
    pub plots: Vec<String>,
    /// Their mean step, on the scale of the difference.
    pub mean_step: f64,
    /// The plot's step beyond theirs, told from scatter.
    pub beyond: Difference,
}

/// Readings before and after what was done.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Effect {
    /// What was read.
    pub property: Property,
    /// In words.
    pub name: String,
    /// What was done between the two readings.
    pub done: Vec<Done>,
    /// The step; none where the two readings do not compare.
    pub step: Option<Step>,
    /// The reading before.
    pub before: Reading,
    /// The reading after.
    pub after: Reading,
    /// Was the later reading made before the work could show?
    pub too_soon: bool,
    /// What would have come by itself; none where the plot was not picked for a poor reading.
    pub by_itself: Option<ByItself>,
    /// Plots left alone; none where there are none to compare with.
    pub left_alone: Option<LeftAlone>,
}

/// Another plot of the farm, as the comparison needs it.
pub(super) struct Neighbour {
    pub(super) name: String,
    pub(super) shelf: Shelf,
    pub(super) done: Vec<Done>,
}

/// What was done and read before and after, the latest first.
pub(super) fn effects(series: &[Series], done: &[Done], others: &[Neighbour]) -> Vec<Effect> {
    let mut all = Vec::new();
    for one in series {
        let mut told: Vec<Done> = Vec::new();
        for (before, after, comparable) in pairs(one) {
            let between: Vec<Done> = done
                .iter()
                // What was done on the day of the later reading was not in the ground yet.
                .filter(|done| done.work.acts_on(one.property) && before.on <= done.on && done.on < after.on)
                // What readings that compare tell of needs no word of those that do not.
                .filter(|done| comparable || !told.contains(done))
                .cloned()
                .collect();
            let Some(last) = between.last() else { continue };
            let too_soon = after.on < last.on.saturating_add(last.work.works_after_months().months());
            let step = if comparable { step(one.property, before, after) } else { None };
            if comparable {
                told.extend(between.iter().cloned());
            }
            all.push(Effect {
                property: one.property,
                name: one.name(),
                by_itself: step.and_then(|_| by_itself(one, before, others)),
                left_alone: step
                    .and_then(|step| left_alone(one, before, after, step.difference, &between, others)),
                done: between,
                step,
                before: before.clone(),
                after: after.clone(),
                too_soon,
            });
        }
    }
    all.sort_by(|one, other| other.after.on.cmp(&one.after.on).then(one.property.cmp(&other.property)));
    all
}

/// Readings one after the other: first those made alike, then those that do not compare.
fn pairs(series: &Series) -> Vec<(&Reading, &Reading, bool)> {
    let strand_of = |place: usize| series.strands.iter().position(|strand| strand.places.contains(&place));
    let alike = series.strands.iter().flat_map(|strand| {
        strand.places.windows(2).map(|pair| (&series.readings[pair[0]], &series.readings[pair[1]], true))
    });
    let unlike = (1..series.readings.len())
        .filter(|place| strand_of(place - 1) != strand_of(*place))
        .map(|place| (&series.readings[place - 1], &series.readings[place], false));
    alike.chain(unlike).collect()
}

/// Do two readings compare as if they stood in one series?
fn alike(one: &Reading, other: &Reading) -> bool {
    let hows = [one.how.clone(), other.how.clone()];
    changes(&hows).iter().flatten().all(|changed| !changed.cuts())
}

fn near(one: Date, other: Date) -> bool {
    one.since(other).is_ok_and(|span| span.get_days().abs() <= ABOUT_DAYS)
}

#[expect(clippy::cast_precision_loss, reason = "plots by the dozen")]
fn by_itself(series: &Series, before: &Reading, others: &[Neighbour]) -> Option<ByItself> {
    let key = (series.property, series.of.clone());
    let own = scaled(series.property, before)?;
    let mut firsts = vec![own];
    for other in others {
        let readings = other.shelf.get(&key).map_or(&[][..], Vec::as_slice);
        let nearest = readings
            .iter()
            .filter(|reading| near(reading.on, before.on) && alike(before, reading))
            .min_by_key(|reading| reading.on.since(before.on).map_or(i32::MAX, |span| span.get_days().abs()));
        firsts.extend(nearest.and_then(|reading| scaled(series.property, reading)));
    }
    let n = firsts.len() as f64;
    let mean = firsts.iter().map(|first| first.0).sum::<f64>() / n;
    let back = |value: f64| super::series::unscaled(series.property, value);
    if firsts.len() < ENOUGH_PLOTS {
        return Some(ByItself {
            plots: firsts.len(),
            mean: back(mean),
            reliability: 1.0,
            expected_step: 0.0,
        });
    }
    let all: f64 = firsts.iter().map(|first| (first.0 - mean) * (first.0 - mean)).sum::<f64>() / (n - 1.0);
    let within = firsts.iter().map(|first| first.1 * first.1).sum::<f64>() / n;
    let between = (all - within).max(0.0);
    // Where a rise is to the bad a high reading is the poor one; pH and nutrients are treated for low ones.
    let wrong_side = if series.property.rise_is_good() == Some(false) { own.0 - mean } else { mean - own.0 };
    (wrong_side > PICKED_FROM * all.sqrt()).then(|| ByItself {
        plots: firsts.len(),
        mean: back(mean),
        reliability: reliability(between.sqrt(), within.sqrt()),
        expected_step: expected_rise_of(mean, between.sqrt(), within.sqrt(), own.0),
    })
}

#[expect(clippy::cast_precision_loss, reason = "plots by the dozen")]
fn left_alone(
    series: &Series,
    before: &Reading,
    after: &Reading,
    own: Difference,
    done: &[Done],
    others: &[Neighbour],
) -> Option<LeftAlone> {
    let key = (series.property, series.of.clone());
    let (mut plots, mut steps, mut squares) = (Vec::new(), Vec::new(), 0.0);
    for other in others {
        let readings = other.shelf.get(&key).map_or(&[][..], Vec::as_slice);
        let Some(first) =
            readings.iter().find(|reading| near(reading.on, before.on) && alike(before, reading))
        else {
            continue;
        };
        let Some(last) = readings.iter().rfind(|reading| {
            reading.on > first.on
                && near(reading.on, after.on)
                && alike(after, reading)
                && alike(first, reading)
        }) else {
            continue;
        };
        let treated = other
            .done
            .iter()
            .any(|one| first.on <= one.on && one.on < last.on && done.iter().any(|own| own.work == one.work));
        if treated {
            continue;
        }
        if let (Some(from), Some(to)) = (scaled(series.property, first), scaled(series.property, last)) {
            plots.push(other.name.clone());
            steps.push(to.0 - from.0);
            squares += from.1 * from.1 + to.1 * to.1;
        }
    }
    if steps.is_empty() {
        return None;
    }
    let n = steps.len() as f64;
    let mean_step = steps.iter().sum::<f64>() / n;
    let own_error = own.least_credible_change / ground::trend::credible::Z_95;
    let beyond = difference((mean_step, squares.sqrt() / n), (own.change, own_error));
    Some(LeftAlone { plots, mean_step, beyond })
}
