//! Taking a file into the plan: everything or nothing, as one import that can be undone.

use ground::kit::refusal::bounded;
use ground::kit::{Bounded, Refusal};
use ground::spatial::frame::LocalFrame;
use ground::spatial::plane;
use serde::Serialize;

use super::{ReadPart, read_plan};
use crate::error::Result;
use crate::held::Stamp;
use crate::model::{
    EntryId, Farm, Form, Frame, Import, Latitude, Longitude, PartKind, Place, PlanOrigin, PlanPart, Plot,
    PlotArea, Point, Shape,
};
use crate::snapshot::Snapshot;
use crate::store::Book;

/// What a walk is, where the file does not say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WalkIs {
    /// Round a piece of ground.
    Area,
    /// Along something.
    Line,
    /// From one spot to the next.
    Points,
}

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
        let read = read_plan(bytes, farm)?;
        let mut remarks = read.remarks;
        let mut parts: Vec<ReadPart> = Vec::new();
        for part in read.parts {
            parts.extend(formed(part, how.walk_is));
        }
        let known = |part: &ReadPart| {
            snapshot.plan_parts.iter().any(|held| {
                held.body.outline == part.outline && held.body.kind == part.kind.unwrap_or(how.kind)
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
        let first = parts
            .iter()
            .find(|part| part.outline.frame == Frame::Wgs84)
            .and_then(|part| part.outline.points().next());
        let fixed = snapshot.farm.body.plan_origin.is_some();
        let drawn_in_degrees = snapshot.plan_parts.iter().any(|held| held.body.outline.frame == Frame::Wgs84);
        self.write(|writing| {
            if read.thinned {
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
                    structure: linked(part.structure, |id| snapshot.structure(id).is_some()),
                    ..PlanPart::drawn(kind, part.outline.clone())
                };
                match kind {
                    PartKind::Plot => {
                        if body.plot.is_none() {
                            body.plot = plot_named(&snapshot, &made, &part.name);
                        }
                        if body.plot.is_none() {
                            let plot = new_plot(&part, plots + 1, &snapshot, &made)?;
                            let name = plot.name.clone();
                            let id = writing.record(plot, stamp)?.id;
                            made.push((name, id));
                            body.plot = Some(id);
                            plots += 1;
                        }
                        body.name = String::new();
                    }
                    PartKind::Bed if body.bed.is_none() => {
                        remarks.push(format!(
                            "{} is a bed of no record in this book, and was drawn as something else.",
                            if part.name.is_empty() { "One thing" } else { &part.name }
                        ));
                        body.kind = PartKind::Other;
                    }
                    _ => {}
                }
                writing.record(body, stamp)?;
            }
            Ok(PlanImported { import, parts: count, plots, known_already, remarks })
        })
    }
}

/// [longitude, latitude] of the farm, as far as it is known.
pub(crate) fn place_of_farm(snapshot: &Snapshot) -> Option<Point> {
    let farm = &snapshot.farm.body;
    if let Some(origin) = farm.plan_origin {
        return Some([origin.longitude_degrees.get(), origin.latitude_degrees.get()]);
    }
    let drawn = snapshot.plan_parts.iter().find(|held| held.body.outline.frame == Frame::Wgs84);
    if let Some(at) = drawn.and_then(|held| held.body.outline.points().next()) {
        return Some(at);
    }
    farm.longitude_degrees
        .zip(farm.latitude_degrees)
        .map(|(longitude, latitude)| [longitude.get(), latitude.get()])
}

fn linked(id: Option<EntryId>, known: impl Fn(EntryId) -> bool) -> Option<EntryId> {
    id.filter(|id| known(*id))
}

fn plot_named(snapshot: &Snapshot, made: &[(String, EntryId)], name: &str) -> Option<EntryId> {
    let name = name.trim().to_lowercase();
    if name.is_empty() {
        return None;
    }
    let same = |other: &str| other.trim().to_lowercase() == name;
    let known = snapshot.plots.iter().find(|plot| same(&plot.body.name)).map(|plot| plot.id);
    known.or_else(|| made.iter().find(|(other, _)| same(other)).map(|(_, id)| *id))
}

fn new_plot(part: &ReadPart, count: usize, snapshot: &Snapshot, made: &[(String, EntryId)]) -> Result<Plot> {
    let Form::Area { outer, holes } = &part.outline.form else {
        return Err(Refusal::new("file", format!("{:?} is a plot but no area", part.name))
            .given("a point or a line")
            .accepted("an area, or another kind")
            .example("the kind track for a line")
            .into());
    };
    let local = outer.first().map(|at| LocalFrame::at(at[1], at[0]));
    let metres = |ring: &[Point]| -> Vec<Point> {
        match (part.outline.frame, local) {
            (Frame::Wgs84, Some(local)) => ring.iter().map(|at| local.to_metres(*at)).collect(),
            _ => ring.to_vec(),
        }
    };
    let holes: Vec<Vec<Point>> = holes.iter().map(|hole| metres(hole)).collect();
    let area_m2 = plane::area_m2(&metres(outer), &holes).max(PlotArea::MIN);
    let mut name = part.name.trim().to_owned();
    let mut number = count;
    while name.is_empty() || (part.name.trim().is_empty() && plot_named(snapshot, made, &name).is_some()) {
        name = format!("Plot {number}");
        number += 1;
    }
    Ok(Plot {
        name,
        place: Place::OpenField,
        shape: Shape::Area { area_m2: bounded::<PlotArea>("file", area_m2)? },
        slope_percent: None,
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
        cover: None,
        organic: None,
    })
}

/// A walk as what it is.
fn formed(part: ReadPart, walk_is: WalkIs) -> Vec<ReadPart> {
    let Form::Line { through } = &part.outline.form else { return vec![part] };
    if !part.walked {
        return vec![part];
    }
    match walk_is {
        WalkIs::Line => vec![part],
        WalkIs::Area if through.len() > 2 => {
            let mut outer = through.clone();
            if outer.len() > 3 && closes(&outer) {
                outer.pop();
            }
            let mut part = part;
            part.outline.form = Form::Area { outer, holes: Vec::new() };
            vec![part]
        }
        WalkIs::Area => vec![part],
        WalkIs::Points => through
            .iter()
            .enumerate()
            .map(|(place, at)| {
                let mut one = part.clone();
                one.outline.form = Form::Point { at: *at };
                one.number = u16::try_from(place + 1).ok();
                one
            })
            .collect(),
    }
}

/// A walk that ends within 2 m of where it began has come round.
fn closes(through: &[Point]) -> bool {
    let (Some(first), Some(last)) = (through.first(), through.last()) else { return false };
    let at = LocalFrame::at(first[1], first[0]).to_metres(*last);
    at[0].hypot(at[1]) < 2.0
}
