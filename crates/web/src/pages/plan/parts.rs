//! Adding, correcting, taking off and bringing back, by form or by JSON.

use advice::plan::{Drawing, FarmPlan, keep_origin, new_remarks};
use askama::Template;
use book::model::{EntryId, Form as Shape, KeepOutWhy, PlanPart, Plot, Point, Shape as PlotShape};
use book::{Body, Held, Snapshot};
use ground::kit::Refusal;
use serde::Serialize;
use serde_json::{Value, json};

use super::form::{self, FIELDS, drawing, filled, with_plots};
use crate::ask::Ask;
use crate::form::{Field, Form};
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

pub(super) const REVISION: &[Field] = &[Field::hidden("revision").optional()];

#[derive(Template, Serialize)]
#[template(path = "plan/part.html")]
struct PartPage {
    #[serde(skip)]
    shell: Shell,
    title: String,
    form: Form,
    #[serde(skip)]
    to: String,
    #[serde(skip)]
    id: Option<EntryId>,
    #[serde(skip)]
    revision: u32,
}

fn page(ask: &Ask, snapshot: &Snapshot, form: Form, of: Option<(&Held<PlanPart>, &str, &Shape)>) -> PartPage {
    let title = match of {
        Some((_, name, _)) => format!("{name} on the plan"),
        None => "Add to the plan".to_owned(),
    };
    let shell = ask.shell(Section::Farm, title.clone());
    PartPage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        title,
        form: with_plots(form, snapshot),
        to: of.map_or_else(|| "/plan/parts".to_owned(), |(held, ..)| format!("/plan/parts/{}", held.id)),
        id: of.map(|(held, ..)| held.id),
        revision: of.map_or(0, |(held, ..)| held.number),
    }
}

pub(super) fn blank(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    Shown::page(page(ask, &snapshot, ask.form_from_query(FIELDS), None))
}

/// The part of the address, with what is drawn of it.
fn part<'a>(
    ask: &Ask,
    snapshot: &'a Snapshot,
    plan: &FarmPlan,
) -> Result<(&'a Held<PlanPart>, String, Shape), Problem> {
    let id = ask.entry("id")?;
    let held = snapshot.plan_parts.iter().find(|part| part.id == id);
    let drawn = plan.parts.iter().find(|part| part.id == id);
    held.zip(drawn).map(|(held, drawn)| (held, drawn.name.clone(), drawn.form.clone())).ok_or_else(|| {
        Problem::not_found("Nothing of that identity stands on the plan. It may have been taken off.")
    })
}

pub(super) fn one(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    let (held, name, shape) = part(ask, &snapshot, &plan)?;
    let own = if held.body.number.is_some() { held.body.name.clone() } else { name.clone() };
    let form = filled(ask, &held.body, &shape, &own, held.number);
    Shown::page(page(ask, &snapshot, form, Some((held, &name, &shape))))
}

pub(super) fn add(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    if let Some(json) = ask.json.as_ref().filter(|json| json.get("points").is_some()) {
        let drawing = from_json(json)?;
        let id = ask.write(|book, stamp| book.write(|writing| drawing.add(writing, &plan, stamp)))??;
        return Shown::kept("/plan?done=kept", json!({ "id": id }));
    }
    let mut read = ask.reader(FIELDS);
    let plan = plan.fixed_by(&snapshot, &places(ask));
    let (drawing, mut remarks) = drawing(&mut read, &snapshot, &plan, None, ask.units());
    let Some(drawing) = drawing.filter(|_| !read.is_refused()) else {
        return Err(read.refused(|form| page(ask, &snapshot, form, None)));
    };
    let kept = ask.write(|book, stamp| {
        book.write(|writing| {
            let fixed = keep_origin(writing, &snapshot, &plan, stamp)?;
            Ok((drawing.add(writing, &plan, stamp)?, fixed))
        })
    })?;
    let (id, fixed) = read.kept(kept, |form| page(ask, &snapshot, form, None))?;
    remarks.extend(fixed);
    let after = ask.snapshot()?;
    remarks.extend(new_remarks(&snapshot, &after, ask.units()));
    let said = ask.desk()?.say(remarks.clone());
    Shown::kept(format!("/plan?done=kept{said}#part-{id}"), json!({ "id": id, "remarks": remarks }))
}

pub(super) fn correct(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    let (held, name, shape) = part(ask, &snapshot, &plan)?;
    let id = held.id;
    if let Some(json) = ask.json.as_ref().filter(|json| json.get("points").is_some()) {
        let mut drawing = from_json(json)?;
        if json.get("note").is_none() {
            drawing.note.clone_from(&held.body.note);
        }
        if json.get("why").is_none() {
            drawing.why = held.body.why;
        }
        let revision = revision(ask, held.number)?;
        ask.write(|book, stamp| {
            book.write(|writing| drawing.correct(writing, &snapshot, &plan, id, revision, stamp))
        })??;
        return Shown::kept("/plan?done=kept", json!({ "id": id, "revision": revision + 1 }));
    }
    let mut read = ask.reader(FIELDS);
    let plan = plan.fixed_by(&snapshot, &places(ask));
    let (drawing, mut remarks) =
        drawing(&mut read, &snapshot, &plan, Some((&held.body, &shape)), ask.units());
    let again = |form: Form| page(ask, &snapshot, form, Some((held, &name, &shape)));
    let Some(drawing) = drawing.filter(|_| !read.is_refused()) else { return Err(read.refused(again)) };
    let revision = revision(ask, held.number)?;
    let kept = ask.write(|book, stamp| {
        book.write(|writing| {
            let fixed = keep_origin(writing, &snapshot, &plan, stamp)?;
            drawing.correct(writing, &snapshot, &plan, id, revision, stamp)?;
            Ok(fixed)
        })
    })?;
    remarks.extend(read.kept(kept, again)?);
    let said = ask.desk()?.say(remarks.clone());
    Shown::kept(format!("/plan?done=kept{said}#part-{id}"), json!({ "id": id, "remarks": remarks }))
}

/// The texts of the form that may be degrees.
fn places(ask: &Ask) -> Vec<&str> {
    ["first", "corners", "holes"].iter().filter_map(|name| ask.body.text(name)).collect()
}

/// The revision that is replaced: as given, else the present one.
pub(super) fn revision(ask: &Ask, present: u32) -> Result<u32, Problem> {
    match ask.body.text("revision") {
        None => Ok(present),
        Some(text) => text.parse().map_err(|_| {
            Refusal::new("revision", format!("{text:?} is not the number of a revision"))
                .given(text)
                .accepted("the revision that /api/plan told")
                .example("1")
                .into()
        }),
    }
}

pub(super) fn remove(ask: &Ask) -> Outcome {
    let id = ask.entry("id")?;
    let snapshot = ask.snapshot()?;
    let held = snapshot
        .plan_parts
        .iter()
        .find(|part| part.id == id)
        .ok_or_else(|| Problem::not_found("Nothing of that identity stands on the plan."))?;
    let number = revision(ask, held.number)?;
    let kept = ask.write(|book, stamp| book.write(|writing| writing.take_off_plan(id, number, stamp)))??;
    Shown::kept("/plan?done=withdrawn", json!({ "id": id, "revision": kept.number }))
}

pub(super) fn back(ask: &Ask) -> Outcome {
    let id = ask.entry("id")?;
    let snapshot = ask.snapshot()?;
    let gone = snapshot
        .withdrawn
        .iter()
        .find(|gone| gone.record.id == id && matches!(gone.record.body, Body::PlanPart(_)))
        .ok_or_else(|| Problem::not_found("Nothing of that identity was taken off the plan."))?;
    let number = revision(ask, gone.record.number)?;
    let kept =
        ask.write(|book, stamp| book.write(|writing| writing.bring_back_to_plan(id, number, stamp)))??;
    Shown::kept("/plan?done=restored", json!({ "id": id, "revision": kept.number }))
}

/// Takes the drawn area of a plot for the typed one.
pub(super) fn take_area(ask: &Ask) -> Outcome {
    use ground::kit::refusal::bounded;
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    let (held, name, shape) = part(ask, &snapshot, &plan)?;
    let plot = held.body.plot.and_then(|plot| snapshot.plot(plot));
    let (Some(plot), Shape::Area { outer, holes }) = (plot, &shape) else {
        return Err(Problem::not_found(format!("{name} shows no plot with an area.")));
    };
    let area_m2 = bounded("area", ground::spatial::plane::area_m2(outer, holes))?;
    let body = Plot { shape: PlotShape::Area { area_m2 }, ..plot.body.clone() };
    let kept = ask.write(|book, stamp| {
        book.revise(plot.id, plot.number, body, "the area as drawn on the plan", stamp)
    })??;
    Shown::kept("/plan?done=kept", kept)
}

fn from_json(json: &Value) -> Result<Drawing, Refusal> {
    let text = |name: &str| json.get(name).and_then(Value::as_str).unwrap_or_default();
    let kind = form::kind_of(text("kind")).ok_or_else(|| {
        Refusal::new("kind", format!("{:?} is no kind of thing on a plan", text("kind")))
            .given(text("kind"))
            .accepted("one of the kinds of /api/plan")
            .example("plot")
    })?;
    let plot = match text("plot") {
        "" => None,
        id => Some(id.parse().map_err(|_| {
            Refusal::new("plot", "this is not the identity of a plot")
                .given(id)
                .accepted("a plot of /api/plan")
                .example("0190163d-8694-739b-aea5-966c26f8ad91")
        })?),
    };
    let places = |name: &str, value: &Value| -> Result<Vec<Point>, Refusal> {
        serde_json::from_value(value.clone()).map_err(|_| {
            Refusal::new(name, "these are not places")
                .given(value.to_string().chars().take(80).collect::<String>())
                .accepted("a list of [metres east, metres north]")
                .example("[[0, 0], [30, 0], [30, 10]]")
        })
    };
    let points = places("points", &json["points"])?;
    let few = |least: usize| {
        Refusal::new("points", format!("{} places are too few for this form", points.len()))
            .given(points.len())
            .accepted(format!("{least} or more"))
            .example("[[0, 0], [30, 0], [30, 10]]")
    };
    let form = match text("form") {
        "point" => Shape::Point { at: *points.first().ok_or_else(|| few(1))? },
        "line" if points.len() < 2 => return Err(few(2)),
        "line" => Shape::Line { through: points },
        "area" if points.len() < 3 => return Err(few(3)),
        "area" => {
            let holes = match json.get("holes") {
                Some(Value::Array(holes)) => {
                    holes.iter().map(|hole| places("holes", hole)).collect::<Result<_, _>>()?
                }
                _ => Vec::new(),
            };
            Shape::Area { outer: points, holes }
        }
        other => {
            return Err(Refusal::new("form", format!("{other:?} is no form"))
                .given(other)
                .accepted("point, line or area")
                .example("area"));
        }
    };
    let why = match text("why") {
        "" => None,
        key => Some(form::why_of(key).ok_or_else(|| {
            let known: Vec<String> = KeepOutWhy::ALL.iter().map(|why| form::key_of(*why)).collect();
            Refusal::new("why", format!("{key:?} is no reason to keep out"))
                .given(key)
                .accepted(known.join(", "))
                .example("edge")
        })?),
    };
    Ok(Drawing {
        kind,
        name: text("name").trim().to_owned(),
        plot,
        why,
        form,
        sides_m: None,
        note: text("note").to_owned(),
    })
}
