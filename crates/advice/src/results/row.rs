//! A row against the book: which bag it is of, what of it is new, and what says otherwise than the book does.

use book::model::{EntryId, Observation, SamplingPlan, Seen, Spot};
use book::{Held, LabCell, Scanned, Snapshot};
use ground::kit::Refusal;

use super::known::{At, Other, news, others, same};
use super::{Column, ReadRow, ResultRow, Results, is_blank, of_plan};
use crate::plan::FarmPlan;

/// What is accepted where a bag has another figure of that day already.
const OR_SECOND: &str = "what the book has, nothing, or what is said to be a second reading";

/// Was this refused because the book says otherwise, so that it may be a second reading?
#[must_use]
pub fn may_be_second(refusal: &Refusal) -> bool {
    refusal.accepted == OR_SECOND
}

impl Results {
    /// Takes a row in; gives the cells that say otherwise than the book.
    pub(super) fn take(
        &mut self,
        snapshot: &Snapshot,
        farm: &FarmPlan,
        plan: Option<&SamplingPlan>,
        columns: &[Column],
        row: &ResultRow,
        seen: Vec<Seen>,
    ) -> Vec<(Option<usize>, Refusal)> {
        let about = &self.about;
        let typed = row.bag.trim();
        let number = typed.parse::<u16>().ok();
        // A bag of a plan carries the code that is printed on its label.
        let bag = match (about.plan, number) {
            (Some(plan), Some(number)) => book::Tag::Bag { plan, number }.short().to_string(),
            _ => typed.to_owned(),
        };
        let spot = about
            .plan
            .zip(number)
            .zip(plan)
            .and_then(|((id, number), plan)| Some(Spot::numbered(id, of_plan::point_of(plan, number)?)));
        let cores = plan.zip(number).and_then(|(plan, number)| of_plan::cores_of(plan, number));
        // A printed code names one bag of all; "1" is written on a bag of each round.
        let coded = about.plan.is_some() || matches!(Scanned::read(typed), Ok(Scanned::Short(_)));
        let sample = if coded {
            snapshot.sample_coded(&bag)
        } else {
            snapshot.samples_of(about.plot).find(|sample| {
                let sample = &sample.body;
                sample.bag_label.eq_ignore_ascii_case(&bag)
                    && sample.taken_on == about.on
                    && sample.from_cm == about.from_cm
                    && sample.to_cm == about.to_cm
            })
        };
        // Where the plot was parted since its plan was made, a bag went to the zone it was pulled in.
        let plot = sample.map_or_else(
            || {
                let at = spot.and_then(|spot| farm.spot(snapshot, &spot));
                at.map_or(about.plot, |at| farm.zone_at(snapshot, about.plot, at))
            },
            |sample| sample.body.plot,
        );
        let sample = sample.map(|sample| sample.id);
        let held: Vec<&Held<Observation>> = snapshot
            .evidence(plot)
            .filter(|known| {
                let of_bag = sample.is_some() && known.body.sample == sample;
                // A push of the probe belongs to its point and to no bag.
                let in_place = known.body.sample.is_none() && known.body.spot == spot;
                known.body.seen_on == about.on && if is_push(&known.body.seen) { in_place } else { of_bag }
            })
            .collect();
        let mut refused = Vec::new();
        if !about.second_reading {
            for (known, typed) in held.iter().flat_map(|known| seen.iter().map(move |typed| (known, typed))) {
                // Said already, in one of several readings.
                if held.iter().any(|known| same(&known.body.seen, typed)) {
                    continue;
                }
                for other in others(&known.body.seen, typed, about.units) {
                    let (at, refusal) = told_otherwise(columns, row, known.id, &other);
                    if !said_by_one(&held, &other.at) && refused.iter().all(|(column, _)| *column != at) {
                        refused.push((at, refusal));
                    }
                }
            }
        }
        let before = seen.len();
        let seen: Vec<Seen> = seen
            .into_iter()
            .filter_map(|typed| {
                held.iter().try_fold(typed, |typed, known| {
                    let known = &known.body.seen;
                    if about.second_reading {
                        (!same(known, &typed)).then_some(typed)
                    } else {
                        news(known, typed)
                    }
                })
            })
            .collect();
        self.known_already += before - seen.len();
        if !seen.is_empty() {
            self.rows.push(ReadRow {
                plot,
                bag,
                spot,
                cores,
                sample,
                note: row.note.trim().to_owned(),
                seen,
            });
        }
        refused
    }
}

fn is_push(seen: &Seen) -> bool {
    matches!(seen, Seen::Probe(_))
}

/// Does one of several printouts hold that figure?
fn said_by_one(held: &[&Held<Observation>], at: &At) -> bool {
    let At::Figure(figure) = at else { return false };
    held.iter()
        .any(|known| matches!(&known.body.seen, Seen::LabReport(report) if report.figures.contains(figure)))
}

/// A cell that says otherwise than the book does of the same bag and day.
fn told_otherwise(
    columns: &[Column],
    row: &ResultRow,
    record: EntryId,
    other: &Other,
) -> (Option<usize>, Refusal) {
    let typed = |at: usize| row.cells.get(at).map(|cell| cell.trim()).filter(|cell| !is_blank(cell));
    let is_of = |at: &At, column: &Column, text: &str| match (at, column) {
        (At::Columns(wanted), column) => wanted.contains(column),
        (At::Figure(figure), Column::Figure(heading)) => {
            matches!(book::read_lab_cell(heading, text), Ok(LabCell::Figure(read)) if read == *figure)
        }
        (At::Figure(_), _) => false,
    };
    let at = columns
        .iter()
        .enumerate()
        .find(|(at, column)| typed(*at).is_some_and(|text| is_of(&other.at, column, text)))
        .map(|(at, _)| at);
    let refusal = Refusal::new(
        at.and_then(|at| columns.get(at)).map_or("bag", Column::key),
        format!(
            "the book has {} of this bag and day, in record {record}: correct that record, or say that this is a second reading",
            other.known
        ),
    )
    .given(at.and_then(typed).unwrap_or_default())
    .accepted(OR_SECOND)
    .example("leave the cell open");
    (at, refusal)
}
