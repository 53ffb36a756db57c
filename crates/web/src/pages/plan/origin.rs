//! The place on the Earth that the plan counts from.

use advice::plan::{FarmPlan, Origin};
use askama::Template;
use book::Snapshot;
use book::model::{Farm, Frame, Latitude, Longitude, PlanOrigin, Point};
use ground::kit::quantity::number;
use ground::kit::refusal::bounded;
use ground::kit::{Bounded, Refusal};
use ground::spatial::area::distance_m;
use ground::spatial::typed::{FAR_FROM_FARM_M, TypedPlace, place_of};
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
    Field::tick(
        "far",
        "The farm lies there all the same",
        "Where the place it had until now is the wrong one",
    ),
    Field::hidden("from_number").optional(),
];

#[derive(Template, Serialize)]
#[template(path = "plan/place.html")]
struct PlacePage {
    #[serde(skip)]
    shell: Shell,
    origin: Option<Origin>,
    /// Was a place typed that is far from the farm, and may be right all the same?
    #[serde(skip)]
    far: bool,
    form: Form,
}

fn page(ask: &Ask, origin: Option<Origin>, far: bool, form: Form) -> PlacePage {
    let shell = ask.shell(Section::Farm, "The place of the plan");
    PlacePage { shell: if form.is_refused() { shell.refused() } else { shell }, origin, far, form }
}

/// Where the farm is known to lie, [longitude, latitude].
enum Known {
    /// By what is drawn in degrees. It stays on the Earth and is counted from the origin, which must be near it.
    Drawn(Point),
    /// By its own latitude and longitude.
    Farm(Point),
    /// By the origin of a plan in plain distances alone, which may be what is wrong.
    Origin(Point),
}

impl Known {
    fn of(snapshot: &Snapshot, plan: &FarmPlan) -> Option<Self> {
        let farm = &snapshot.farm.body;
        let mut in_degrees =
            snapshot.plan_parts.iter().map(|part| &part.body.outline).filter(|one| one.frame == Frame::Wgs84);
        let own = || farm.longitude_degrees.zip(farm.latitude_degrees);
        in_degrees
            .find_map(|outline| outline.points().next())
            .map(Self::Drawn)
            .or_else(|| own().map(|(longitude, latitude)| Self::Farm([longitude.get(), latitude.get()])))
            .or_else(|| {
                plan.origin.map(|origin| Self::Origin([origin.longitude_degrees, origin.latitude_degrees]))
            })
    }

    /// The place that was typed; one far off is refused, unless it was ticked to be right and nothing is drawn elsewhere.
    fn read(&self, text: &str, all_the_same: bool) -> Result<TypedPlace, Refusal> {
        let written = place_of("place", text, None)?;
        let off = |known: Point| distance_m(known, written.at);
        let (known, what) = match *self {
            Self::Drawn(known) => match place_of("place", text, Some(known)) {
                Ok(typed) => return Ok(typed),
                Err(_) => (known, "what is drawn on the plan, which stays where it is"),
            },
            _ if all_the_same => return Ok(written),
            Self::Farm(known) => match place_of("place", text, Some(known)) {
                Ok(typed) => return Ok(typed),
                Err(_) => (known, "the farm"),
            },
            Self::Origin(known) if off(known) <= FAR_FROM_FARM_M => return Ok(written),
            Self::Origin(known) => (known, "where the plan lay until now"),
        };
        let [longitude, latitude] = known.map(|degrees| number((degrees * 1e4).round() / 1e4));
        Err(Refusal::new(
            "place",
            format!(
                "{}\u{b0}, {}\u{b0} lies {} km from {what}, {latitude}\u{b0}, {longitude}\u{b0}: latitude and longitude may be swapped, \
                 or a minus sign be lost (south and west are negative)",
                number(written.at[1]),
                number(written.at[0]),
                number((off(known) / 1000.0).round())
            ),
        )
        .given(text.trim().chars().take(80).collect::<String>())
        .accepted(match self {
            Self::Drawn(_) => "a place within 100 km of it",
            _ => "a place within 100 km of it, or any other with the box ticked",
        })
        .example(format!("{latitude}, {longitude}")))
    }
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
    Shown::page(page(ask, origin, false, form))
}

pub(super) fn save(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    let mut read = ask.reader(FIELDS);
    let known = Known::of(&snapshot, &plan);
    let all_the_same = read.tick("far");
    let text = read.text("place");
    let typed = text.and_then(|text| {
        read.take(match &known {
            Some(known) => known.read(text, all_the_same),
            None => place_of("place", text, None),
        })
    });
    // A place that is one, but was not taken, is far off.
    let far = typed.is_none()
        && text.is_some_and(|text| place_of("place", text, None).is_ok())
        && !matches!(known, Some(Known::Drawn(_)));
    let again = |form: Form| page(ask, plan.origin, far, form);
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
