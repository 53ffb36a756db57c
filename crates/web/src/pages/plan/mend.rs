//! Outlines that are not sound, and ways to mend them.

use advice::plan::{FarmPlan, PartTold, as_kept, told};
use askama::Template;
use book::model::{EntryId, Form as Shape, Outline, PartKind, PlanPart};
use book::{Body, Held, Snapshot};
use ground::kit::Refusal;
use ground::spatial::outline::{
    Area, cut_away, overlap_m2, snapped, split_at_crossings, united, without_repeats,
};
use ground::spatial::plane;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Choice, Field};
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

pub(super) const FIELDS: &[Field] = &[
    Field::pick(
        "way",
        "How",
        "",
        &[
            Choice::new(
                "split",
                "Part it where it crosses itself: the largest part stays, the others are drawn beside it",
            ),
            Choice::new("repeats", "Leave out corners that stand twice"),
            Choice::new("fill", "Leave out what is cut away outside it"),
            Choice::new("cut", "Take the shared ground off this one"),
            Choice::new("unite", "Draw this one round both; the other is taken off the plan"),
            Choice::new("snap", "Pull its corners onto the other where they lie within 3 ft (1 m)"),
        ],
    ),
    Field::hidden("revision").optional(),
];

#[derive(Template, Serialize)]
#[template(path = "plan/mend.html")]
struct MendPage {
    #[serde(skip)]
    shell: Shell,
    faulty: Vec<Faulty>,
}

#[derive(Serialize)]
struct Faulty {
    part: PartTold,
    ways: Vec<Way>,
}

#[derive(Serialize)]
struct Way {
    key: &'static str,
    words: &'static str,
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    let told = told(&snapshot, &plan, ask.units());
    let faulty = told.parts.into_iter().filter(|part| !part.remarks.is_empty()).map(|part| Faulty {
        ways: FIELDS[0]
            .choices()
            .iter()
            .filter(|choice| fits(choice.value, &part))
            .map(|choice| Way { key: choice.value, words: choice.label })
            .collect(),
        part,
    });
    Shown::page(MendPage { shell: ask.shell(Section::Farm, "Mend the plan"), faulty: faulty.collect() })
}

fn fits(way: &str, part: &PartTold) -> bool {
    let said = |words: &str| part.remarks.iter().any(|remark| remark.contains(words));
    match way {
        "split" => said("crosses itself"),
        "repeats" => said("twice in a row"),
        "fill" => said("cut out of it does not lie inside"),
        "cut" | "unite" | "snap" => said("It lies over"),
        _ => false,
    }
}

fn area_of(form: &Shape) -> Option<Area> {
    match form {
        Shape::Area { outer, holes } => Some(Area { outer: outer.clone(), holes: holes.clone() }),
        _ => None,
    }
}

pub(super) fn save(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    let id = ask.entry("id")?;
    let held = snapshot.plan_parts.iter().find(|part| part.id == id);
    let area = plan.parts.iter().find(|part| part.id == id).and_then(|part| area_of(&part.form));
    let (Some(held), Some(area)) = (held, area) else {
        return Err(Problem::not_found("No area of that identity stands on the plan."));
    };
    let mut read = ask.reader(FIELDS);
    let way = read.choice("way");
    if let Some(refusal) = read.refusals().first() {
        return Err(refusal.clone().into());
    }
    let other = plan
        .parts
        .iter()
        .filter(|part| part.id != id && part.kind == PartKind::Plot)
        .filter_map(|part| Some((part.id, area_of(&part.form)?)))
        .map(|(other, with)| (overlap_m2(&area, &with), other, with))
        .filter(|(shared, ..)| *shared > 0.0)
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let needs_other = || {
        other.as_ref().ok_or_else(|| {
            Problem::from(
                Refusal::new("way", "it lies over no other plot")
                    .given(way.unwrap_or_default())
                    .accepted("a way that fits what is wrong with it"),
            )
        })
    };
    let mut gone = None;
    let areas = match way.unwrap_or_default() {
        "split" => split_at_crossings(&area),
        "repeats" => vec![without_repeats(&area)],
        "fill" => {
            let mut filled = area.clone();
            filled.holes.retain(|hole| hole.iter().all(|at| plane::inside(&area.outer, *at)));
            vec![filled]
        }
        "cut" => cut_away(&area, &needs_other()?.2),
        "snap" => vec![snapped(&area, &needs_other()?.2, 1.0)],
        _ => {
            let (_, other, with) = needs_other()?;
            gone = Some(*other);
            united(&area, with)
        }
    };
    let mut areas = areas.into_iter().filter(|area| area.outer.len() > 2);
    let Some(first) = areas.next() else {
        return Err(Refusal::new("way", "nothing of it would be left")
            .given(way.unwrap_or_default())
            .accepted("another way, or take it off the plan")
            .into());
    };
    let kept =
        |area: Area| -> Outline { as_kept(&plan, Shape::Area { outer: area.outer, holes: area.holes }) };
    let number = super::parts::revision(ask, held.number)?;
    let rest: Vec<Area> = areas.collect();
    ask.write(|book, stamp| {
        book.write(|writing| {
            let body = PlanPart { outline: kept(first), ..held.body.clone() };
            writing.revise(id, number, body, MENDED, stamp)?;
            for area in rest {
                // A further part of a plot is no plot of its own until its grower says so.
                let kind = if held.body.kind == PartKind::Plot { PartKind::Other } else { held.body.kind };
                let name =
                    format!("part of {}", plan.parts.iter().find(|p| p.id == id).map_or("it", |p| &p.name));
                let name = name.chars().take(120).collect();
                writing.record(PlanPart { kind, name, outline: kept(area), ..held.body.clone() }, stamp)?;
            }
            if let Some(other) = gone.and_then(|id| snapshot.plan_parts.iter().find(|part| part.id == id)) {
                writing.set_withdrawn(other.id, other.number, true, UNITED, stamp)?;
            }
            Ok(())
        })
    })??;
    Shown::kept(format!("/plan?done=kept&mended={id}"), serde_json::json!({ "id": id }))
}

/// What is written in the history of an outline that went into another.
const UNITED: &str = "united with another on the plan";

/// What is written in the history of an outline that was mended.
const MENDED: &str = "mended";

/// The part that was mended just before, by the address, as long as nothing was done to it since.
pub(super) fn mended<'a>(ask: &Ask, snapshot: &'a Snapshot) -> Option<&'a Held<PlanPart>> {
    let id = ask.query.text("mended")?.parse::<EntryId>().ok()?;
    snapshot.plan_parts.iter().find(|part| part.id == id && part.number > 1)
}

/// Takes a mending back: the outline as it was, the pieces that were made off the plan, what was united back on it.
pub(super) fn undo(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let id = ask.entry("id")?;
    let nothing = || Problem::not_found("Nothing was mended there, or it was changed since.");
    let held = snapshot.plan_parts.iter().find(|part| part.id == id).ok_or_else(nothing)?;
    let history = ask.desk()?.book().history(id)?;
    let [.., before, last] = history.as_slice() else { return Err(nothing()) };
    let Body::PlanPart(body) = &before.body else { return Err(nothing()) };
    if last.reason != MENDED || last.number != held.number {
        return Err(nothing());
    }
    let (at, body) = (last.recorded_at, body.clone());
    let why = "the mending was taken back";
    let made = snapshot.plan_parts.iter().filter(|part| {
        part.id != id && part.number == 1 && part.recorded_at == at && part.body.import.is_none()
    });
    let gone = snapshot.withdrawn.iter().filter(|gone| {
        gone.record.recorded_at == at
            && matches!(gone.record.body, Body::PlanPart(_))
            && gone.reason == UNITED
    });
    ask.write(|book, stamp| {
        book.write(|writing| {
            writing.revise(id, held.number, body, why, stamp)?;
            for part in made {
                writing.set_withdrawn(part.id, part.number, true, why, stamp)?;
            }
            for other in gone {
                writing.set_withdrawn(other.record.id, other.record.number, false, why, stamp)?;
            }
            Ok(())
        })
    })??;
    Shown::kept("/plan?done=kept", serde_json::json!({ "id": id }))
}
