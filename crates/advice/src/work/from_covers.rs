//! Covers: sow one in a gap that comes soon, sow what is planned, end what stands before the next crop.

use book::Snapshot;
use book::model::{CoverCrop, UnitSystem};
use ground::covers::catalogue::find;
use ground::covers::gap::{Gap, fit};
use ground::covers::species::Species;
use ground::kit::Working;
use jiff::ToSpan;
use jiff::civil::Date;

use super::job::{Job, Source, Topic, Window};
use super::season::Season;
use crate::PlotReport;
use crate::covers::choose::CAUTIONS;
use crate::covers::winter::{cold_odds, weeks_before_next};
use crate::covers::year::{day_of_year, farm_year};
use crate::covers::{BedYear, CoverAnswer, CoverQuestion, Span, Stands, bed_year, choose, seeds_words};
use crate::feeding::mass;
use crate::words;

/// Gaps that begin later are not spoken of yet, days.
const SOON_D: i64 = 90;
/// A planned sowing may slip by so much, days.
const SLIP_D: i64 = 10;

pub(super) fn jobs(snapshot: &Snapshot, report: &PlotReport, season: &Season) -> Vec<Job> {
    let mut jobs = Vec::new();
    for bed in snapshot.beds_of(report.id) {
        let Some(year) = bed_year(snapshot, bed.id, season.today) else { continue };
        jobs.extend(sow(snapshot, report, &year, season));
        for held in snapshot.covers_of(bed.id) {
            if held.body.ended.is_some() {
                continue;
            }
            let job = if held.body.sown_on > season.today {
                Some(planned(snapshot, &year, &held.body, held.id))
            } else {
                end(snapshot, &year, &held.body, held.id, season)
            };
            jobs.extend(job);
        }
    }
    jobs
}

fn placed(job: Job, year: &BedYear) -> Job {
    job.on_plot(year.plot, &year.plot_name).on_bed(year.bed, &year.name)
}

/// The first gap of a bed, where it begins soon and a cover surely or likely serves.
fn sow(snapshot: &Snapshot, report: &PlotReport, year: &BedYear, season: &Season) -> Option<Job> {
    let gap = year.gaps.first().filter(|gap| gap.from <= season.today.saturating_add(SOON_D.days()))?;
    let question = CoverQuestion { gap: Some(gap.number), ..CoverQuestion::default() };
    let answer = choose(snapshot, report, year.bed, &question, season.today).ok()??;
    let best = answer.covers.iter().find(|line| answer.best.contains(&line.key))?;
    let to = best.sow_by_sure.or(best.sow_by_even)?;
    let from = best.sow_from.unwrap_or(gap.from).min(to);
    let purposes: Vec<&str> = answer.purposes.iter().map(|one| one.words).collect();
    let mut job = placed(
        Job::new(
            format!("cover-sow.{}.{}", year.bed, gap.to),
            Topic::Ground,
            format!("Sow a cover: {} to {}", best.name, purposes.join(" and ")),
            Source::Covers,
        ),
        year,
    )
    .within(Window::between(from, to, format!("{}.{}", words::capital(&best.window), season.remark())))
    .because(format!("The bed lies empty: {}.", answer.gap_line))
    .because(format!("{}: {}.", words::capital(&best.name), best.firmness_words))
    .because(format!("Seed: {} ({}), {} deep.", best.seed.carried, best.seed.rate, best.seed.depth));
    for why in answer.purposes.iter().filter(|one| !one.why.is_empty()) {
        job = job.because(format!("To {}: {}", why.words, why.why));
    }
    if !best.winter.is_empty() {
        job = job.because(best.winter.clone());
    }
    if let Some(others) = others(&answer, &best.key) {
        job = job.because(others);
    }
    Some(cautioned(job).worked(Working::new().step(
        "the order of covers",
        ground::covers::choice_method::ORDER,
        purposes.join(", "),
        answer.lead.clone(),
    )))
}

fn others(answer: &CoverAnswer, first: &str) -> Option<String> {
    let names: Vec<&str> = answer
        .covers
        .iter()
        .filter(|line| answer.best.contains(&line.key) && line.key != first)
        .map(|line| line.name.as_str())
        .collect();
    (!names.is_empty()).then(|| format!("Next best: {}.", names.join(", ")))
}

/// A cover that is written down to be sown.
fn planned(snapshot: &Snapshot, year: &BedYear, cover: &CoverCrop, id: book::EntryId) -> Job {
    let name = seeds_words(&cover.seeds);
    let job = placed(
        Job::new(format!("cover-planned.{id}"), Topic::Ground, format!("Sow {name}"), Source::Covers),
        year,
    )
    .within(Window::between(
        cover.sown_on,
        cover.sown_on.saturating_add(SLIP_D.days()),
        "The day that is written down for it; correct the record when it was sown on another.",
    ));
    let job = match seed_words(cover, year.area_m2, snapshot.farm.body.units) {
        Some(seed) => job.because(format!("Seed: {seed}.")),
        None => job,
    };
    cautioned(job)
}

fn cautioned(job: Job) -> Job {
    CAUTIONS.iter().fold(job, |job, caution| job.caution(*caution))
}

/// Odds from which the cold is taken to end a cover, as where covers are chosen.
const COLD_ENDS_FROM: f64 = 0.9;

/// Does the cold end every part of it, before it would have to be ended?
fn cold_ends(snapshot: &Snapshot, year: &BedYear, species: &[&Species], sown_on: Date, by: Date) -> bool {
    let Ok(place) = farm_year(snapshot, year.under_cover) else { return false };
    let Ok(days) = u16::try_from((by - sown_on).get_days()) else { return false };
    let gap = Gap::new(&place.year, day_of_year(sown_on), days);
    !species.is_empty() && species.iter().all(|one| cold_odds(&fit(one, &gap)) >= COLD_ENDS_FROM)
}

/// "2 lb of oats, 1 lb 8 oz of spring pea", where the record gives every rate.
fn seed_words(cover: &CoverCrop, area_m2: f64, units: UnitSystem) -> Option<String> {
    use ground::kit::Bounded;
    let parts: Option<Vec<String>> = cover
        .seeds
        .iter()
        .map(|seed| {
            let kg = seed.rate_kg_ha?.get() * area_m2 / 10_000.0;
            Some(format!("{} of {}", mass(kg, units), seeds_words(std::slice::from_ref(seed))))
        })
        .collect();
    parts.map(|parts| parts.join(", "))
}

/// A cover that stands, where it is known by when it must go.
fn end(
    snapshot: &Snapshot,
    year: &BedYear,
    cover: &CoverCrop,
    id: book::EntryId,
    season: &Season,
) -> Option<Job> {
    let species: Vec<_> = cover.seeds.iter().filter_map(|seed| find("cover", &seed.cover).ok()).collect();
    let weeks = species.iter().map(|one| weeks_before_next(one)).max().unwrap_or(2);
    let next = year
        .spans
        .iter()
        .filter(|span| span.stands == Stands::Crop)
        .find(|span| span.from > season.today.max(cover.sown_on));
    let before_next = next.map(|span| span.from.saturating_sub(weeks.weeks()));
    let by: Date = match (cover.end_by, before_next) {
        (Some(by), Some(before)) => by.min(before),
        (by, before) => by.or(before)?,
    };
    let name = seeds_words(&cover.seeds);
    if cold_ends(snapshot, year, &species, cover.sown_on, by) {
        return Some(look(year, id, &name, by, next));
    }
    let why = match next {
        Some(span) => format!(
            "{weeks} weeks before {} on {} (common practice): so long what it frees and what it holds back settles.",
            span.name,
            words::day(span.from)
        ),
        None => "The day that is written down for it.".to_owned(),
    };
    let title = format!("End the cover of {name}, and weigh a frame of it first");
    let mut job = ended(year, id, title, by, why)
    .because("End it before it sets seed; a grain before it heads, or it ties up nitrogen.")
    .because(format!(
        "Cut a frame of {} at the ground, weigh it and write it down with the end: the nitrogen credited to the next crop hangs on it.",
        frame(snapshot.farm.body.units)
    ));
    for hazard in species.iter().flat_map(|one| &one.hazards) {
        use ground::covers::species::HazardKind;
        if matches!(hazard.kind, HazardKind::NextCrop | HazardKind::Weed) {
            job = job.because(ground::kit::units::in_units(&hazard.words, snapshot.farm.body.units));
        }
    }
    Some(job.caution("Mowers, flails and crimpers throw stones: keep people away and guards on."))
}

/// The job by which a cover ends, in the two weeks before `by`.
fn ended(year: &BedYear, id: book::EntryId, title: String, by: Date, why: String) -> Job {
    placed(Job::new(format!("cover-end.{id}"), Topic::Ground, title, Source::Covers), year)
        .within(Window::between(by.saturating_sub(2.weeks()), by, why))
}

/// A cover that the cold ends nine times of ten: it is to be looked at, and its end written down.
fn look(year: &BedYear, id: book::EntryId, name: &str, by: Date, next: Option<&Span>) -> Job {
    let why = match next {
        Some(span) => format!(
            "Before {} on {}: what did live is still to be ended then, and in time.",
            span.name,
            words::day(span.from)
        ),
        None => "The day that is written down for its end.".to_owned(),
    };
    let title = format!("Look whether the winter killed the cover of {name}, and write down its end");
    ended(year, id, title, by, why)
    .because("The cold ends this cover with odds of nine in ten or more; what stands is ended as any other.")
    .because("How tall it stood before the cold, or what a frame of it weighed, goes with the end: the nitrogen credited to the next crop hangs on it.")
}

fn frame(units: UnitSystem) -> &'static str {
    if units == UnitSystem::UsCustomary { "10 sq ft" } else { "1 m²" }
}
