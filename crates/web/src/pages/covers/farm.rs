//! `/covers`: crops and covers of every bed over the coming year, the gaps, seed to have, and what ended covers left.

use std::sync::Arc;

use advice::covers::{BedYear, CoverNitrogen, SeedToHave, cover_nitrogen, farm_beds, seed_list, tell};
use advice::work::season;
use askama::Template;
use book::model::EntryId;
use figures::Figure;
use serde::{Serialize, Serializer};

use super::pictures::calendars;
use crate::ask::Ask;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::when;
use crate::words;

#[derive(Template, Serialize)]
#[template(path = "covers/farm.html")]
struct CoversPage {
    #[serde(skip)]
    shell: Shell,
    headline: String,
    #[serde(serialize_with = "inside")]
    beds: Arc<Vec<BedYear>>,
    #[serde(skip)]
    plots: Vec<PlotCalendar>,
    #[serde(skip)]
    gaps: Vec<GapLine>,
    standing: Vec<StandingLine>,
    seed: Vec<SeedToHave>,
    ended: Vec<CoverNitrogen>,
}

struct PlotCalendar {
    id: EntryId,
    name: String,
    figures: Vec<Figure>,
}

struct GapLine {
    bed: EntryId,
    place: String,
    number: usize,
    words: String,
}

/// A cover that is planned or stands.
#[derive(Serialize)]
struct StandingLine {
    cover: EntryId,
    place: String,
    words: String,
    /// Is it sown?
    stands: bool,
}

fn inside<S: Serializer>(kept: &Arc<Vec<BedYear>>, serializer: S) -> Result<S::Ok, S::Error> {
    kept.as_ref().serialize(serializer)
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let today = when::day_of(ask.stamp().at);
    let beds = desk.derived(&snapshot, &format!("covers on {today}"), |snapshot| farm_beds(snapshot, today));
    let season = season(&snapshot, today);
    let plots = snapshot
        .plots
        .iter()
        .filter_map(|plot| {
            let of: Vec<&BedYear> = beds.iter().filter(|bed| bed.plot == plot.id).collect();
            let id = format!("calendar-{}", plot.id);
            (!of.is_empty()).then(|| PlotCalendar {
                id: plot.id,
                name: plot.body.name.clone(),
                figures: calendars(&id, &of, &season, today),
            })
        })
        .collect();
    let gaps = beds
        .iter()
        .flat_map(|bed| {
            bed.gaps.iter().map(|gap| GapLine {
                bed: bed.bed,
                place: format!("{}, {}", bed.name, bed.plot_name),
                number: gap.number,
                words: tell::gap_line(gap),
            })
        })
        .collect();
    let standing = snapshot
        .covers
        .iter()
        .filter(|held| held.body.ended.is_none())
        .map(|held| {
            let day = advice::words::day(held.body.sown_on);
            let stands = held.body.sown_on <= today;
            let bed = snapshot.bed(held.body.bed);
            StandingLine {
                cover: held.id,
                place: bed.map_or_else(String::new, |bed| {
                    format!("{}, {}", bed.body.name, words::name_of(&snapshot, bed.body.plot))
                }),
                words: format!(
                    "{}, {} {day}",
                    words::seeds_words(&held.body.seeds),
                    if stands { "sown" } else { "to be sown" }
                ),
                stands,
            }
        })
        .collect();
    let lately = today.saturating_sub(jiff::Span::new().days(365));
    let ended = snapshot
        .covers
        .iter()
        .filter(|held| held.body.ended.is_some_and(|end| end.on >= lately))
        .filter_map(|held| cover_nitrogen(&snapshot, held))
        .collect();
    Shown::page(CoversPage {
        shell: ask.shell(Section::Farm, "Covers between crops"),
        headline: tell::headline(&beds),
        plots,
        gaps,
        standing,
        seed: seed_list(&snapshot, today),
        ended,
        beds,
    })
}
