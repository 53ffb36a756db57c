//! The plan in and out of files: GeoJSON (RFC 7946), GPX 1.1 and a CSV table with a WKT column.
//!
//! What comes in is read whole before anything is written, and is written as one import that can be undone.

mod about;
mod csv;
mod geojson;
mod gpx;
mod place;
mod take;
mod walks;

use ground::kit::Refusal;
use ground::spatial::frame::LocalFrame;
use ground::spatial::outline::simplified;

use crate::model::plan::MOST_POINTS;
use crate::model::{EntryId, Form, Frame, KeepOutWhy, Outline, PartKind, PlanPart, Point};
use crate::snapshot::Snapshot;

pub use csv::plan_csv;
pub use geojson::plan_geojson;
pub use gpx::plan_gpx;
use place::FileForm;
pub use take::{PlanImport, PlanImported};
pub use walks::WalkIs;
use walks::{few_enough, formed, joined};

/// Largest file of a plan, in bytes.
pub const LARGEST_PLAN_BYTES: usize = 16 << 20;
/// Most things read from one file.
const MOST_THINGS: usize = 5_000;
/// A walk with more places than this is thinned.
const LONG_WALK: usize = 400;
/// Places of a walk that lie nearer to the line than this say nothing.
const WALK_WITHIN_M: f64 = 0.5;

/// Something read from a file.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadPart {
    /// What it is; none where the file does not say.
    pub kind: Option<PartKind>,
    /// Its name.
    pub name: String,
    /// Name of the plot it shows or lies in.
    pub plot_name: String,
    /// Its links as they were written, for a file of this very book.
    pub plot: Option<EntryId>,
    /// The bed it shows.
    pub bed: Option<EntryId>,
    /// The bed by its name, for a book that does not know its identity.
    pub bed_name: String,
    /// The structure it shows.
    pub structure: Option<EntryId>,
    /// The structure by its name.
    pub structure_name: String,
    /// Which of several equal ones.
    pub number: Option<u16>,
    /// Why nothing is sampled there.
    pub why: Option<KeepOutWhy>,
    /// Where it lies.
    pub outline: Outline,
    /// Was it walked: a track whose form nobody said?
    pub walked: bool,
    /// Which track of the file it is a piece of.
    pub track: Option<usize>,
    /// Anything else.
    pub note: String,
}

/// What a file holds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ReadPlan {
    /// In the order of the file.
    pub parts: Vec<ReadPart>,
    /// What was noticed on the way in.
    pub remarks: Vec<String>,
    /// Was a walk thinned, so that the file is worth keeping as it was?
    pub thinned: bool,
}

/// Reads a file by its content, whatever its name says, with its walks as what they are. `farm` ([longitude, latitude])
/// lets swapped numbers and another continent be seen.
///
/// # Errors
/// What cannot be read, in words.
pub fn read_plan(bytes: &[u8], farm: Option<Point>, walk_is: WalkIs) -> Result<ReadPlan, Refusal> {
    let mut read = read_file(bytes, farm)?;
    match walk_is {
        WalkIs::Area => joined(&mut read),
        WalkIs::Line => {}
        WalkIs::Points => few_enough(&read)?,
    }
    // A spot of a walk from spot to spot is no bend of a line.
    thin(&mut read, walk_is != WalkIs::Points);
    read.parts = read.parts.into_iter().flat_map(|part| formed(part, walk_is)).collect();
    Ok(read)
}

fn read_file(bytes: &[u8], farm: Option<Point>) -> Result<ReadPlan, Refusal> {
    if bytes.len() > LARGEST_PLAN_BYTES {
        return Err(Refusal::new(
            "file",
            format!("this file has {} MB, more than the 16 MB that fit", bytes.len().div_ceil(1 << 20)),
        )
        .given(format!("{} MB", bytes.len().div_ceil(1 << 20)))
        .accepted("a GeoJSON, GPX or CSV file of up to 16 MB")
        .example("the walk of one day"));
    }
    let text = crate::csv_in::text_of(bytes).map_err(|what| {
        Refusal::new("file", format!("this file is {what}, and places are wanted as GeoJSON, GPX or CSV"))
            .given(what)
            .accepted(if what == "a picture" {
                "a GeoJSON, GPX or CSV file; a picture goes under the plan by itself"
            } else {
                "a GeoJSON, GPX or CSV file, as phones, receivers and mapping programs write them"
            })
            .example("walk.gpx")
    })?;
    let text = text.trim_start_matches('\u{feff}').trim();
    let (mut read, form) = match text.chars().next() {
        None => {
            return Err(Refusal::new("file", "the file is empty")
                .given("nothing")
                .accepted("a GeoJSON, GPX or CSV file")
                .example("plan.geojson"));
        }
        Some('{' | '[') => (geojson::read(text)?, FileForm::GeoJson),
        Some('<') => (gpx::read(text)?, FileForm::Gpx),
        Some(_) => (csv::read(text)?, FileForm::Table),
    };
    if read.parts.is_empty() {
        return Err(Refusal::new("file", "nothing that can be drawn stands in this file")
            .given("no point, line or area")
            .accepted("points, lines and areas, or a walk")
            .example("a walk along the edge of a field"));
    }
    if read.parts.len() > MOST_THINGS {
        return Err(Refusal::new("file", format!("{} things stand in this file", read.parts.len()))
            .given(read.parts.len())
            .accepted(format!("at most {MOST_THINGS}"))
            .example("the parts of one farm"));
    }
    place::check(&mut read, farm, form)?;
    Ok(read)
}

/// Thins long lines, and long walks where they are lines; what is left lies within half a metre, or more where even
/// that leaves too many places.
fn thin(read: &mut ReadPlan, walks_too: bool) {
    let mut remarks = Vec::new();
    for part in &mut read.parts {
        let Some(first) = part.outline.points().next() else { continue };
        let frame = match part.outline.frame {
            Frame::Wgs84 => Some(LocalFrame::at(first[1], first[0])),
            Frame::Metres | Frame::PlotCorner => None,
        };
        let count = part.outline.points().count();
        let most = if part.walked { LONG_WALK } else { MOST_POINTS };
        if count <= most || (part.walked && !walks_too) {
            continue;
        }
        let mut within_m: f64 = 0.0;
        let mut short = |line: &mut Vec<Point>, ring: bool| {
            let metres: Vec<Point> = match frame {
                Some(frame) => line.iter().map(|at| frame.to_metres(*at)).collect(),
                None => line.clone(),
            };
            let closed: Vec<Point> =
                if ring { metres.iter().chain(metres.first()).copied().collect() } else { metres };
            let mut few = simplified(&closed, most.min(LONG_WALK), WALK_WITHIN_M);
            if ring {
                few.line.pop();
            }
            within_m = within_m.max(few.within_m);
            *line = match frame {
                Some(frame) => few.line.iter().map(|at| frame.to_degrees(*at)).collect(),
                None => few.line,
            };
        };
        match &mut part.outline.form {
            Form::Point { .. } => {}
            Form::Line { through } => short(through, false),
            Form::Area { outer, holes } => {
                short(outer, true);
                holes.iter_mut().for_each(|hole| short(hole, true));
            }
        }
        let name = if part.name.is_empty() { "a line without a name".to_owned() } else { part.name.clone() };
        remarks.push(format!(
            "{name} had {count} places; {} of them tell the same within {} m. The file itself is kept in the book as it was.",
            part.outline.points().count(),
            ground::kit::quantity::number((within_m * 10.0).round() / 10.0)
        ));
        read.thinned = true;
    }
    read.remarks.extend(remarks);
}

/// Names that an outline does not carry itself: of its plot, bed and structure.
struct Names {
    plot: String,
    bed: String,
    structure: String,
}

impl Names {
    fn of(snapshot: &Snapshot, part: &PlanPart) -> Self {
        let plot = part.plot.and_then(|id| snapshot.plot(id)).map(|held| held.body.name.clone());
        let bed = part.bed.and_then(|id| snapshot.bed(id)).map(|held| held.body.name.clone());
        let structure =
            part.structure.and_then(|id| snapshot.structure(id)).map(|held| held.body.name.clone());
        Self {
            plot: plot.unwrap_or_default(),
            bed: bed.unwrap_or_default(),
            structure: structure.unwrap_or_default(),
        }
    }
}

/// The key of a kind, as it stands in files.
pub(crate) fn key<T: serde::Serialize>(value: T) -> String {
    serde_json::to_value(value).ok().and_then(|value| value.as_str().map(str::to_owned)).unwrap_or_default()
}

/// The kind of that key or those words.
pub(crate) fn kind_of(text: &str) -> Option<PartKind> {
    let text = text.trim().to_lowercase();
    PartKind::ALL.iter().copied().find(|kind| key(*kind) == text || kind.words() == text)
}

/// The reason of that key.
pub(crate) fn why_of(text: &str) -> Option<KeepOutWhy> {
    let text = text.trim().to_lowercase();
    KeepOutWhy::ALL.iter().copied().find(|why| key(*why) == text || why.words() == text)
}
