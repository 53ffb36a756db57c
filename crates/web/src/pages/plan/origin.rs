//! The place on the Earth that the plan counts from.

use advice::plan::{FarmPlan, Origin, place_of_farm};
use askama::Template;
use book::model::{Farm, Latitude, Longitude, PlanOrigin};
use ground::kit::quantity::number;
use ground::kit::refusal::bounded;
use ground::spatial::typed::place_of;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Field, Form};
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

pub(super) const FIELDS: &[Field] = &[
    Field::text(
        "place",
        "Latitude and longitude of the origin",
        "For example 42.5012, -93.4987 or 42 30.07 N, 93 29.92 W; a map in a phone tells it. A corner of the farm that stays is best",
    ),
    Field::hidden("from_number").optional(),
];

#[derive(Template, Serialize)]
#[template(path = "plan/place.html")]
struct PlacePage {
    #[serde(skip)]
    shell: Shell,
    origin: Option<Origin>,
    form: Form,
}

fn page(ask: &Ask, origin: Option<Origin>, form: Form) -> PlacePage {
    let shell = ask.shell(Section::Farm, "The place of the plan");
    PlacePage { shell: if form.is_refused() { shell.refused() } else { shell }, origin, form }
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let origin = FarmPlan::of(&snapshot).origin;
    let mut form = ask.form(FIELDS).set("from_number", snapshot.farm.number.to_string());
    if let Some(origin) = origin {
        form = form.set(
            "place",
            format!("{}, {}", number(origin.latitude_degrees), number(origin.longitude_degrees)),
        );
    }
    Shown::page(page(ask, origin, form))
}

pub(super) fn save(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    let mut read = ask.reader(FIELDS);
    // A farm known by its rough place alone is a check on what is typed; a plan's own origin may be what is wrong.
    let near = if plan.origin.is_some() { None } else { place_of_farm(&snapshot, &plan) };
    let text = read.text("place");
    let typed = text.and_then(|text| read.take(place_of("place", text, near)));
    let again = |form: Form| page(ask, plan.origin, form);
    let Some(typed) = typed.filter(|_| !read.is_refused()) else { return Err(read.refused(again)) };
    let [longitude, latitude] = typed.at;
    let origin = bounded::<Latitude>("place", latitude).and_then(|latitude_degrees| {
        Ok(PlanOrigin { latitude_degrees, longitude_degrees: bounded::<Longitude>("place", longitude)? })
    });
    let Some(origin) = read.take(origin) else { return Err(read.refused(again)) };
    let from = read.count("from_number").map_or(snapshot.farm.number, u32::from);
    let farm = Farm { plan_origin: Some(origin), ..snapshot.farm.body.clone() };
    let kept =
        ask.write(|book, stamp| book.revise(snapshot.farm.id, from, farm, "the place of the plan", stamp))?;
    read.kept(kept, again)?;
    let said = ask.desk()?.say(typed.remarks.clone());
    Shown::kept(
        format!("/plan?done=kept{said}"),
        serde_json::json!({ "latitude_degrees": latitude, "longitude_degrees": longitude, "remarks": typed.remarks }),
    )
}
