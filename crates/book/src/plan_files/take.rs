//! Taking a file into the plan: everything or nothing, as one import that can be undone.

use ground::kit::refusal::bounded;
use ground::kit::{Bounded, Refusal};
use ground::spatial::frame::LocalFrame;
use ground::spatial::plane;
use serde::Serialize;

use super::walks::{WalkIs, no_areas};
use super::{ReadPart, ReadPlan, read_plan};
use crate::error::Result;
use crate::held::Stamp;
use crate::model::plan::{enclosed_m2, numbered};
use crate::model::{
    EntryId, Farm, Form, Frame, Import, Latitude, Longitude, Outline, PartKind, Place, PlanOrigin, PlanPart,
    Plot, PlotArea, Point, Shape,
};
use crate::snapshot::Snapshot;
use crate::store::Book;

/// Places nearer than this are one.
const SAME_M: f64 = 0.01;

/// How a file is taken in.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanImport {
    /// Name of the file.
    pub file_name: String,
    /// What things are whose kind the file does not say.
    pub kind: PartKind,
    /// What walks are.
    pub walk_is: WalkIs,
}

/// What came of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlanImported {
    /// The import, to be undone by.
    pub import: EntryId,
    /// Parts that were drawn.
    pub parts: usize,
    /// Plots that were made.
    pub plots: usize,
    /// Things that stood on the plan already, left as they are.
    pub known_already: usize,
    /// What was noticed.
    pub remarks: Vec<String>,
}

impl Book {
    /// Takes a GeoJSON, GPX or CSV file into the plan.
    ///
    /// # Errors
    /// The file cannot be read, or lies half a world away, or something in it is refused; then nothing is stored.
    pub fn import_plan(&mut self, bytes: &[u8], how: &PlanImport, stamp: &Stamp) -> Result<PlanImported> {
        let snapshot = self.snapshot()?;
        let farm = place_of_farm(&snapshot);
        let ReadPlan { mut parts, mut remarks, thinned } = read_plan(bytes, farm, how.walk_is)?;
        remarks.extend(no_areas(&mut parts, how.kind));
        let local = plan_origin(&snapshot).map(|at| LocalFrame::at(at[1], at[0]));
        let known = |part: &ReadPart| {
            snapshot.plan_parts.iter().any(|held| {
                held.body.kind == part.kind.unwrap_or(how.kind)
                    && same_place(&held.body.outline, &part.outline, local.as_ref())
            })
        };
        let before = parts.len();
        parts.retain(|part| !known(part));
        let known_already = before - parts.len();
        if parts.is_empty() {
            return Err(Refusal::new("file", "all of this stands on the plan already")
                .given(format!("{before} things"))
                .accepted("something that is not drawn yet")
                .example("another walk")
                .into());
        }
        if known_already > 0 {
            remarks.push(format!(
                "{known_already} of its things stood on the plan already and were left as they are."
            ));
        }
        remarks.extend(unknown_beds(&snapshot, &parts, how.kind));
        let first = parts
            .iter()
            .find(|part| part.outline.frame == Frame::Wgs84)
            .and_then(|part| part.outline.points().next());
        let fixed = snapshot.farm.body.plan_origin.is_some();
        let drawn_in_degrees = snapshot.plan_parts.iter().any(|held| held.body.outline.frame == Frame::Wgs84);
        self.write(|writing| {
            if thinned {
                let media_type = match bytes.iter().find(|byte| !byte.is_ascii_whitespace()) {
                    Some(b'<') => "application/gpx+xml",
                    Some(b'{' | b'[') => "application/geo+json",
                    _ => "text/csv",
                };
                writing.attach(bytes, media_type)?;
            }
            if let (Some([longitude, latitude]), false, false) = (first, fixed, drawn_in_degrees) {
                let origin = PlanOrigin {
                    latitude_degrees: bounded::<Latitude>("file", latitude)?,
                    longitude_degrees: bounded::<Longitude>("file", longitude)?,
                };
                let farm = Farm { plan_origin: Some(origin), ..snapshot.farm.body.clone() };
                writing.revise(snapshot.farm.id, snapshot.farm.number, farm, "the plan was fixed by a file", stamp)?;
                if !snapshot.plan_parts.is_empty() {
                    remarks.push(
                        "What was drawn before in plain distances now counts from the first place of this file; move \
                         the origin if that is wrong."
                            .to_owned(),
                    );
                }
            }
            let name = if how.file_name.trim().is_empty() { "pasted" } else { how.file_name.trim() };
            let import = writing
                .record(
                    Import {
                        file_name: name.chars().take(crate::model::text::NAME_CHARACTERS).collect(),
                        laboratory: None,
                        file_sha256: crate::store::hash(bytes),
                        rows: u32::try_from(parts.len()).unwrap_or(u32::MAX),
                        columns: Vec::new(),
                        remarks: remarks.clone(),
                        note: "The plan".to_owned(),
                    },
                    stamp,
                )?
                .id;
            let mut plots = 0;
            let mut made: Vec<(String, EntryId)> = Vec::new();
            let count = parts.len();
            let areas = named_areas(&parts, how.kind);
            for part in parts {
                let kind = part.kind.unwrap_or(how.kind);
                let mut body = PlanPart {
                    name: part.name.clone(),
                    number: part.number,
                    why: part.why,
                    note: part.note.clone(),
                    import: Some(import),
                    plot: linked(part.plot, |id| snapshot.plot(id).is_some())
                        .or_else(|| plot_named(&snapshot, &made, &part.plot_name)),
                    bed: linked(part.bed, |id| snapshot.bed(id).is_some()),
                    structure: linked(part.structure, |id| snapshot.structure(id).is_some())
                        .or_else(|| structure_named(&snapshot, &part.structure_name)),
                    ..PlanPart::drawn(kind, part.outline.clone())
                };
                if body.bed.is_none() && kind == PartKind::Bed {
                    body.bed = bed_named(&snapshot, body.plot, &part.bed_name);
                }
                // Whose record is not in this book keeps at least its name.
                if body.name.is_empty() && body.structure.is_none() {
                    body.name.clone_from(&part.structure_name);
                }
                match kind {
                    PartKind::Plot => {
                        if body.plot.is_none() {
                            body.plot = plot_named(&snapshot, &made, &part.name);
                        }
                        if body.plot.is_none() {
                            let plot = new_plot(&part, area_in_file(&areas, &part), plots + 1, &snapshot, &made)?;
                            let name = plot.name.clone();
                            let id = writing.record(plot, stamp)?.id;
                            made.push((name, id));
                            body.plot = Some(id);
                            plots += 1;
                        }
                        body.name = String::new();
                    }
                    PartKind::Bed if body.bed.is_none() => {
                        if body.name.is_empty() {
                            body.name = numbered(&part.bed_name, part.number);
                        }
                        body.kind = PartKind::Other;
                    }
                    PartKind::Bed => body.name = String::new(),
                    _ => {}
                }
                writing.record(body, stamp)?;
            }
            Ok(PlanImported { import, parts: count, plots, known_already, remarks })
        })
    }
}

/// [longitude, latitude] that the plan counts from.
fn plan_origin(snapshot: &Snapshot) -> Option<Point> {
    if let Some(origin) = snapshot.farm.body.plan_origin {
        return Some([origin.longitude_degrees.get(), origin.latitude_degrees.get()]);
    }
    let drawn = snapshot.plan_parts.iter().find(|held| held.body.outline.frame == Frame::Wgs84);
    drawn.and_then(|held| held.body.outline.points().next())
}

/// [longitude, latitude] of the farm, as far as it is known.
pub(crate) fn place_of_farm(snapshot: &Snapshot) -> Option<Point> {
    let farm = &snapshot.farm.body;
    plan_origin(snapshot).or_else(|| {
        farm.longitude_degrees
            .zip(farm.latitude_degrees)
            .map(|(longitude, latitude)| [longitude.get(), latitude.get()])
    })
}

/// Two outlines of one form whose places lie within a centimetre.
fn same_place(one: &Outline, other: &Outline, local: Option<&LocalFrame>) -> bool {
    if one == other {
        return true;
    }
    let rings = |form: &Form| match form {
        Form::Point { .. } => (0, Vec::new()),
        Form::Line { through } => (1, vec![through.len()]),
        Form::Area { outer, holes } => {
            (2, std::iter::once(outer.len()).chain(holes.iter().map(Vec::len)).collect())
        }
    };
    let metres = |outline: &Outline, at: Point| match (outline.frame, local) {
        (Frame::Wgs84, Some(local)) => Some(local.to_metres(at)),
        (Frame::Metres, _) => Some(at),
        _ => None,
    };
    // A ring says the same whichever way round it is drawn.
    let turned = |outline: &Outline| -> Vec<Point> {
        match &outline.form {
            Form::Area { outer, holes } => {
                let holes = holes.iter().flat_map(|hole| super::place::turned(hole, false));
                super::place::turned(outer, true).into_iter().chain(holes).collect()
            }
            _ => outline.points().collect(),
        }
    };
    rings(&one.form) == rings(&other.form)
        && turned(one).into_iter().zip(turned(other)).all(|(a, b)| {
            metres(one, a).zip(metres(other, b)).is_some_and(|(a, b)| plane::distance_m(a, b) < SAME_M)
        })
}

/// Beds whose record is not in this book.
fn unknown_beds(snapshot: &Snapshot, parts: &[ReadPart], kind: PartKind) -> Option<String> {
    let unknown: Vec<String> = parts
        .iter()
        .filter(|part| part.kind.unwrap_or(kind) == PartKind::Bed)
        .filter(|part| linked(part.bed, |id| snapshot.bed(id).is_some()).is_none())
        .filter(|part| {
            let plot = linked(part.plot, |id| snapshot.plot(id).is_some())
                .or_else(|| plot_named(snapshot, &[], &part.plot_name));
            bed_named(snapshot, plot, &part.bed_name).is_none()
        })
        .map(
            |part| {
                if part.name.is_empty() { numbered(&part.bed_name, part.number) } else { part.name.clone() }
            },
        )
        .collect();
    let first = unknown.first()?;
    let named = if first.is_empty() { String::new() } else { format!(", {first} the first of them") };
    Some(format!(
        "{} of its things are beds of no record in this book{named}; they were drawn as something else.",
        unknown.len()
    ))
}

fn bed_named(snapshot: &Snapshot, plot: Option<EntryId>, name: &str) -> Option<EntryId> {
    let plot = plot?;
    snapshot
        .beds
        .iter()
        .find(|bed| bed.body.plot == plot && is_called(&bed.body.name, name))
        .map(|bed| bed.id)
}

fn structure_named(snapshot: &Snapshot, name: &str) -> Option<EntryId> {
    snapshot.structures.iter().find(|one| is_called(&one.body.name, name)).map(|one| one.id)
}

fn is_called(own: &str, name: &str) -> bool {
    !name.trim().is_empty() && own.trim().to_lowercase() == name.trim().to_lowercase()
}

fn linked(id: Option<EntryId>, known: impl Fn(EntryId) -> bool) -> Option<EntryId> {
    id.filter(|id| known(*id))
}

fn plot_named(snapshot: &Snapshot, made: &[(String, EntryId)], name: &str) -> Option<EntryId> {
    let known = snapshot.plot_named(name).map(|plot| plot.id);
    known.or_else(|| made.iter().find(|(other, _)| is_called(other, name)).map(|(_, id)| *id))
}

/// Area of an outline; nothing for a point or a line.
fn area_m2(outline: &Outline) -> f64 {
    let Form::Area { outer, holes } = &outline.form else { return 0.0 };
    let local = outer.first().map(|at| LocalFrame::at(at[1], at[0]));
    let metres = |ring: &[Point]| -> Vec<Point> {
        match (outline.frame, local) {
            (Frame::Wgs84, Some(local)) => ring.iter().map(|at| local.to_metres(*at)).collect(),
            _ => ring.to_vec(),
        }
    };
    let holes: Vec<Vec<Point>> = holes.iter().map(|hole| metres(hole)).collect();
    enclosed_m2(&metres(outer), &holes)
}

/// The plots of a file by name, with the area of each piece.
fn named_areas(parts: &[ReadPart], kind: PartKind) -> Vec<(String, f64)> {
    parts
        .iter()
        .filter(|part| part.kind.unwrap_or(kind) == PartKind::Plot)
        .map(|part| (part.name.clone(), area_m2(&part.outline)))
        .collect()
}

/// Area of a plot: of all its pieces, where it lies in several.
fn area_in_file(areas: &[(String, f64)], part: &ReadPart) -> f64 {
    if part.name.trim().is_empty() {
        return area_m2(&part.outline);
    }
    areas.iter().filter(|(name, _)| is_called(name, &part.name)).map(|(_, area)| area).sum()
}

fn new_plot(
    part: &ReadPart,
    area_m2: f64,
    count: usize,
    snapshot: &Snapshot,
    made: &[(String, EntryId)],
) -> Result<Plot> {
    if !matches!(part.outline.form, Form::Area { .. }) {
        return Err(Refusal::new("file", format!("{:?} is a plot but no area", part.name))
            .given("a point or a line")
            .accepted("an area, or another kind")
            .example("the kind track for a line")
            .into());
    }
    let mut name = part.name.trim().to_owned();
    let mut number = count;
    while name.is_empty() || (part.name.trim().is_empty() && plot_named(snapshot, made, &name).is_some()) {
        name = format!("Plot {number}");
        number += 1;
    }
    Ok(Plot {
        name,
        place: Place::OpenField,
        shape: Shape::Area { area_m2: bounded::<PlotArea>("file", area_m2.max(PlotArea::MIN))? },
        slope_percent: None,
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
        cover: None,
        organic: None,
        zone_of: None,
    })
}
