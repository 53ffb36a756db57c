//! The plan of the farm: what is drawn, measured and told; drawn by hand, by typing or from a file.

mod beds;
mod files;
mod form;
mod mend;
mod origin;
mod parts;
pub(crate) mod picture;
mod picture_size;
mod underlays;

use advice::plan::{FarmPlan, Origin, PartTold, told};
use askama::Template;
use book::model::{EntryId, Import, KeepOutWhy, PartKind, Point};
use book::{Held, LARGEST_ATTACHMENT_BYTES, Snapshot};
use ground::kit::units::UnitSystem;
use serde::Serialize;

use crate::ask::Ask;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};

/// Addresses of the plan.
pub const ROUTES: &[Route] = &[
    Route::page("/plan", "The plan of the farm: what is drawn, with areas, ways round and remarks", show),
    Route::page("/plan/parts/new", "The form of something new on the plan", parts::blank),
    Route::save(
        "/plan/parts",
        "Puts something on the plan, by form or by points in metres",
        form::FIELDS,
        parts::add,
    ),
    Route::page("/plan/parts/{id}", "The form of something on the plan", parts::one),
    Route::save("/plan/parts/{id}", "Corrects something on the plan", form::FIELDS, parts::correct),
    Route::save("/plan/parts/{id}/remove", "Takes something off the plan", parts::REVISION, parts::remove),
    Route::save(
        "/plan/parts/{id}/back",
        "Brings back what was taken off the plan",
        parts::REVISION,
        parts::back,
    ),
    Route::save(
        "/plan/parts/{id}/area",
        "Takes the drawn area of a plot in place of the typed one",
        parts::REVISION,
        parts::take_area,
    ),
    Route::page("/plan/files", "The form for a GeoJSON, GPX or CSV file of the plan", files::show),
    Route::save("/plan/files", "Takes a file into the plan, whole or not at all", files::FIELDS, files::save)
        .up_to(book::LARGEST_PLAN_BYTES),
    Route::page("/plan/beds", "Beds that would fit into a plot", beds::show),
    Route::save("/plan/beds", "Keeps the beds that fit into a plot", beds::FIELDS, beds::save),
    Route::page("/plan/place", "The form of the place that the plan counts from", origin::show),
    Route::save("/plan/place", "Fixes the plan to a place of the Earth", origin::FIELDS, origin::save),
    Route::page("/plan/underlays/new", "The form of a picture under the plan", underlays::show),
    Route::save(
        "/plan/underlays",
        "Puts a picture under the plan (multipart/form-data)",
        underlays::FIELDS,
        underlays::add,
    )
    .up_to(LARGEST_ATTACHMENT_BYTES),
    Route::save(
        "/plan/underlays/{id}",
        "Fixes a picture by two or three known points",
        underlays::FIXED,
        underlays::fix,
    ),
    Route::save(
        "/plan/underlays/{id}/remove",
        "Takes a picture from under the plan",
        parts::REVISION,
        underlays::remove,
    ),
    Route::file("/plan/underlays/{id}/picture", "A picture under the plan", underlays::picture),
    Route::page("/plan/mend", "Outlines that are not sound, with ways to mend them", mend::show),
    Route::save("/plan/mend/{id}", "Mends an outline", mend::FIELDS, mend::save),
    Route::save("/plan/mend/{id}/undo", "Takes the last mending of an outline back", &[], mend::undo),
    Route::file("/plan.geojson", "The plan as GeoJSON", files::geojson),
    Route::file("/plan.gpx", "The plan as GPX, for a phone", files::gpx),
    Route::file("/plan.csv", "The plan as a table with WKT", files::csv),
    Route::file("/plan.svg", "The plan as a picture", files::svg),
];

#[derive(Template, Serialize)]
#[template(path = "plan/plan.html")]
struct PlanPage {
    #[serde(skip)]
    shell: Shell,
    origin: Option<Origin>,
    units: &'static str,
    parts: Vec<PartTold>,
    /// The parts as they are listed: beds of one record in one row.
    #[serde(skip)]
    rows: Vec<Row>,
    underlays: Vec<UnderlayTold>,
    kinds: Vec<KindTold>,
    /// Why nothing is sampled somewhere.
    whys: Vec<WhyTold>,
    plots: Vec<PlotName>,
    #[serde(skip)]
    svg: String,
    #[serde(skip)]
    removed: Vec<Removed>,
    #[serde(skip)]
    faulty: usize,
    #[serde(skip)]
    said: Vec<String>,
    /// What was done just before and can be taken back: the address for that, and its name.
    #[serde(skip)]
    undo: Option<(String, String)>,
}

/// A row of the list: one part, or the drawn beds of one record.
struct Row {
    part: PartTold,
    name: String,
    /// Numbers of several beds with the pages that change them.
    each: Vec<(String, EntryId)>,
    remarks: Vec<String>,
}

/// So many drawn beds of one record are one row.
const FEW: usize = 4;

fn rows(parts: &[PartTold]) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for part in parts {
        let same: Vec<&PartTold> = match part.bed {
            Some(bed) => parts.iter().filter(|other| other.bed == Some(bed)).collect(),
            None => Vec::new(),
        };
        if same.len() < FEW {
            rows.push(Row {
                part: part.clone(),
                name: part.name.clone(),
                each: Vec::new(),
                remarks: part.remarks.clone(),
            });
        } else if same[0].id == part.id {
            let number =
                |part: &PartTold| part.number.map_or_else(|| "one".to_owned(), |number| number.to_string());
            let alike = same.iter().all(|other| other.area_words == part.area_words);
            let mut row = part.clone();
            if alike {
                row.area_words = format!("{} each", part.area_words);
            } else {
                row.area_words = String::new();
                row.perimeter_words = String::new();
            }
            rows.push(Row {
                name: part.name.rsplit_once(", ").map_or(part.name.as_str(), |(name, _)| name).to_owned(),
                each: same.iter().map(|part| (number(part), part.id)).collect(),
                remarks: same
                    .iter()
                    .flat_map(|part| part.remarks.iter().map(|remark| format!("{}: {remark}", number(part))))
                    .collect(),
                part: row,
            });
        }
    }
    // Plots first, then what lies about them.
    rows.sort_by_key(|row| row.part.kind);
    rows
}

#[derive(Serialize)]
struct WhyTold {
    key: KeepOutWhy,
    words: &'static str,
}

#[derive(Serialize)]
pub(super) struct PlotName {
    id: EntryId,
    name: String,
}

/// A kind of thing, with the forms it is drawn in.
#[derive(Serialize)]
struct KindTold {
    key: PartKind,
    words: &'static str,
    forms: &'static [&'static str],
}

/// A picture under the plan.
#[derive(Serialize)]
struct UnderlayTold {
    id: EntryId,
    revision: u32,
    name: String,
    url: String,
    width_px: u32,
    height_px: u32,
    corners: Option<[Point; 4]>,
    opacity_percent: f64,
    fixed: Vec<FixedTold>,
    /// The same as they are typed.
    #[serde(skip)]
    spots: String,
    /// How well the points agree, in words.
    told: String,
}

#[derive(Serialize)]
struct FixedTold {
    x_px: f64,
    y_px: f64,
    at: Point,
}

/// Something that was taken off the plan.
struct Removed {
    id: EntryId,
    number: u32,
    words: String,
}

/// The forms a kind is drawn in, the usual one first.
pub(super) fn forms(kind: PartKind) -> &'static [&'static str] {
    match kind {
        PartKind::Plot | PartKind::Bed => &["area"],
        PartKind::Tunnel | PartKind::Building => &["area", "point"],
        PartKind::FarmEdge => &["area", "line"],
        PartKind::Drain | PartKind::Track => &["line", "area"],
        PartKind::Post | PartKind::Tree | PartKind::WaterPoint => &["point", "line"],
        PartKind::StandingWater => &["area", "point"],
        PartKind::KeepOut => &["area", "line", "point"],
        PartKind::Other => &["area", "line", "point"],
    }
}

fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let system = ask.units();
    let plan = FarmPlan::of(&snapshot);
    let told = told(&snapshot, &plan, system);
    let came_in = came_in(ask, &snapshot);
    let mended = mend::mended(ask, &snapshot);
    let mut shapes = picture::shapes(&plan);
    let beds_many = shapes.iter().filter(|shape| shape.kind == figures::plan::PlanKind::Bed).count() > 12;
    if beds_many {
        for shape in shapes.iter_mut().filter(|shape| shape.kind == figures::plan::PlanKind::Bed) {
            shape.name.clear();
        }
    }
    Shown::page(PlanPage {
        shell: ask.shell(Section::Farm, "The plan"),
        origin: told.origin,
        units: if system == UnitSystem::UsCustomary { "us" } else { "metric" },
        faulty: told.parts.iter().filter(|part| !part.remarks.is_empty()).count(),
        rows: rows(&told.parts),
        parts: told.parts,
        underlays: snapshot.underlays.iter().map(|held| underlays::told(held, &plan, system)).collect(),
        kinds: PartKind::ALL
            .iter()
            .map(|kind| KindTold { key: *kind, words: kind.words(), forms: forms(*kind) })
            .collect(),
        whys: KeepOutWhy::ALL.iter().map(|why| WhyTold { key: *why, words: why.words() }).collect(),
        plots: plot_names(&snapshot),
        svg: picture::both(&plan, &shapes, system),
        removed: removed(&snapshot),
        said: said(ask, came_in, mended.is_some()),
        undo: came_in
            .map(|import| (format!("/imports/{}/undo", import.id), import.body.file_name.clone()))
            .or_else(|| {
                mended.map(|part| (format!("/plan/mend/{}/undo", part.id), "the mending".to_owned()))
            }),
    })
}

pub(super) fn plot_names(snapshot: &Snapshot) -> Vec<PlotName> {
    snapshot.plots.iter().map(|plot| PlotName { id: plot.id, name: plot.body.name.clone() }).collect()
}

/// The name of a plot, of one that was withdrawn too.
fn plot_name(snapshot: &Snapshot, plot: EntryId) -> Option<&str> {
    let withdrawn = || {
        snapshot.withdrawn.iter().find_map(|gone| match &gone.record.body {
            book::Body::Plot(body) if gone.record.id == plot => Some(body.name.as_str()),
            _ => None,
        })
    };
    snapshot.plot(plot).map(|plot| plot.body.name.as_str()).or_else(withdrawn)
}

/// What was taken off lately, the last first.
fn removed(snapshot: &Snapshot) -> Vec<Removed> {
    snapshot
        .withdrawn
        .iter()
        .filter(|gone| !advice::maps::is_of_parting(&gone.reason))
        .filter_map(|gone| match &gone.record.body {
            book::Body::PlanPart(part) => {
                let of_plot = part.plot.filter(|_| part.kind == PartKind::Plot);
                let name = of_plot.and_then(|plot| plot_name(snapshot, plot)).unwrap_or(&part.name);
                Some(Removed {
                    id: gone.record.id,
                    number: gone.record.number,
                    words: if name.is_empty() {
                        part.kind.words().to_owned()
                    } else {
                        format!("{name} ({})", part.kind.words())
                    },
                })
            }
            _ => None,
        })
        .rev()
        .take(8)
        .collect()
}

/// The file that came in just before, by the import named in the address.
fn came_in<'a>(ask: &Ask, snapshot: &'a Snapshot) -> Option<&'a Held<Import>> {
    let id = ask.query.text("import")?.parse::<EntryId>().ok()?;
    snapshot.imports.iter().find(|import| import.id == id)
}

/// What there is to say of what was kept just before.
fn said(ask: &Ask, came_in: Option<&Held<Import>>, mended: bool) -> Vec<String> {
    let mut said = Vec::new();
    if mended {
        said.push("The outline was mended.".to_owned());
    }
    if let Some(import) = came_in {
        said.push(match import.body.rows {
            1 => format!("One thing came in from {}.", import.body.file_name),
            rows => format!("{rows} things came in from {}.", import.body.file_name),
        });
        said.extend(import.body.remarks.iter().cloned());
    }
    if let (Some(number), Ok(desk)) = (ask.query.text("said"), ask.desk()) {
        said.extend(desk.said(number));
    }
    said
}
