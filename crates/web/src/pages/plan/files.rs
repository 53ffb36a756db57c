//! Files of the plan, in and out.

use advice::plan::{FarmPlan, new_remarks};
use askama::Template;
use book::model::Point;
use book::{PlanImport, WalkIs, plan_csv, plan_geojson, plan_gpx};
use figures::plan::PlanSize;
use ground::kit::Refusal;
use serde::Serialize;

use super::form;
use super::picture;
use crate::ask::Ask;
use crate::form::{Choice, Field, Form};
use crate::problem::{Problem, capital};
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

pub(super) const FIELDS: &[Field] = &[
    Field::file(
        "file",
        "A file",
        "GeoJSON, GPX (a walk saved by a phone) or a CSV table with WKT, up to 16 MB",
    )
    .optional(),
    Field::lines("text", "Or its text", "Paste GeoJSON, GPX or the table here").optional(),
    Field::pick(
        "kind",
        "What it shows",
        "Where the file itself does not say",
        &[
            Choice::new("plot", "Plots"),
            Choice::new("tunnel", "Tunnels"),
            Choice::new("building", "Buildings"),
            Choice::new("drain", "Drains or ditches"),
            Choice::new("post", "Posts"),
            Choice::new("tree", "Trees"),
            Choice::new("standing_water", "Standing water"),
            Choice::new("keep_out", "Strips without sampling"),
            Choice::new("track", "Tracks"),
            Choice::new("water_point", "Water points"),
            Choice::new("farm_edge", "Edge of the farm"),
            Choice::new("other", "Something else"),
        ],
    ),
    Field::pick(
        "walk_is",
        "A walk in it went",
        "",
        &[
            Choice::new("area", "Round a piece of ground"),
            Choice::new("line", "Along something"),
            Choice::new("points", "From one spot to the next"),
        ],
    )
    .optional(),
    Field::hidden("file_name").optional(),
];

#[derive(Template, Serialize)]
#[template(path = "plan/files.html")]
struct FilesPage {
    #[serde(skip)]
    shell: Shell,
    form: Form,
}

fn page(ask: &Ask, form: Form) -> FilesPage {
    let shell = ask.shell(Section::Farm, "Files of the plan");
    FilesPage { shell: if form.is_refused() { shell.refused() } else { shell }, form }
}

pub(super) fn show(ask: &Ask) -> Outcome {
    ask.desk()?;
    Shown::page(page(ask, ask.form(FIELDS).with("kind", "plot").with("walk_is", "area")))
}

pub(super) fn save(ask: &Ask) -> Outcome {
    let mut read = ask.reader(FIELDS);
    let file = ask.files.iter().find(|file| file.field == "file" && !file.bytes.is_empty());
    let pasted = read.lines("text");
    let bytes = file.map_or_else(|| pasted.as_bytes().to_vec(), |file| file.bytes.clone());
    let kind = read.choice("kind").and_then(form::kind_of);
    let walk_is = match read.choice("walk_is") {
        Some("line") => WalkIs::Line,
        Some("points") => WalkIs::Points,
        _ => WalkIs::Area,
    };
    if bytes.is_empty() {
        read.refuse(
            Refusal::new("file", "There is nothing to take in: choose a file or paste its text")
                .given("nothing")
                .accepted("a GeoJSON, GPX or CSV file")
                .example("walk.gpx"),
        );
    }
    let file_name = file
        .map(|file| file.file_name.clone())
        .or_else(|| ask.body.text("file_name").map(str::to_owned))
        .unwrap_or_default();
    // A file cannot be put back into its field; what is short enough stands in the other one to be mended there.
    let text = String::from_utf8(bytes.clone()).ok().filter(|text| text.len() <= 200_000).unwrap_or_default();
    let again = |form: Form| page(ask, form.set("text", &text).set("file_name", &file_name));
    let Some(kind) = kind.filter(|_| !read.is_refused()) else { return Err(read.refused(again)) };
    let how = PlanImport { file_name: file_name.clone(), kind, walk_is };
    let before = ask.snapshot()?;
    let kept = ask.write(|book, stamp| book.import_plan(&bytes, &how, stamp))?;
    let kept = kept.map_err(|error| match error {
        book::BookError::Refused(refusal) => {
            book::BookError::Refused(Refusal { message: capital(&refusal.message), ..refusal })
        }
        other => other,
    });
    let mut kept = read.kept(kept, again)?;
    // What the file itself gave cause for stands with its import; what its outlines do among the others, beside it.
    let after = ask.snapshot()?;
    let remarks = new_remarks(&before, &after, ask.units());
    let said = ask.desk()?.say(remarks.clone());
    kept.remarks.extend(remarks);
    Shown::kept(format!("/plan?import={}{said}", kept.import), kept)
}

fn origin(plan: &FarmPlan) -> Option<Point> {
    plan.origin.map(|origin| [origin.longitude_degrees, origin.latitude_degrees])
}

fn file(media_type: &str, name: &str, text: String) -> Outcome {
    Ok(Shown::File {
        media_type: media_type.to_owned(),
        name: Some(name.to_owned()),
        bytes: text.into_bytes(),
    })
}

pub(super) fn geojson(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    file("application/geo+json", "plan.geojson", plan_geojson(&snapshot, origin(&FarmPlan::of(&snapshot))))
}

pub(super) fn gpx(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let text = plan_gpx(&snapshot, origin(&FarmPlan::of(&snapshot))).ok_or_else(|| {
        Problem::not_found(
            "GPX is in degrees: fix the plan to its place on the Earth first, or draw something on it.",
        )
    })?;
    file("application/gpx+xml", "plan.gpx", text)
}

pub(super) fn csv(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    file("text/csv; charset=utf-8", "plan.csv", plan_csv(&snapshot, origin(&FarmPlan::of(&snapshot))))
}

pub(super) fn svg(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    let shapes = picture::shapes(&plan);
    let figure = picture::drawn("plan", "The farm from above", &plan, &shapes, PlanSize::Wide, ask.units());
    let text = figure.svg.replacen("currentColor", "#000", 1);
    let text = if text.contains("xmlns=") {
        text
    } else {
        text.replacen("<svg ", "<svg xmlns=\"http://www.w3.org/2000/svg\" ", 1)
    };
    file("image/svg+xml", "plan.svg", text)
}
