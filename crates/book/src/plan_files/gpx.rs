//! GPX 1.1: waypoints are points, routes and tracks lines or walks round an area.
//!
//! What GPX has no place for stands as one JSON object in the comment, so that a plan comes back as it went out; a piece
//! cut out of an area is a route of its own behind it.

use gpx::{Gpx, GpxVersion, Route, Waypoint};
use ground::kit::Refusal;
use ground::spatial::frame::LocalFrame;
use serde_json::{Map, Value, json};

use super::{Names, ReadPart, ReadPlan, about, key, kind_of};
use crate::model::plan::numbered;
use crate::model::{Form, Frame, Outline, PartKind, PlanPart, Point};
use crate::snapshot::Snapshot;

/// Type of a route that is cut out of the area before it.
const CUT_OUT: &str = "cut_out";

/// The plan as GPX, for a phone: points as waypoints, lines and outlines as routes. None where the plan is not fixed to
/// the Earth and holds nothing in degrees.
#[must_use]
pub fn plan_gpx(snapshot: &Snapshot, origin: Option<Point>) -> Option<String> {
    let local = origin.map(|[longitude, latitude]| LocalFrame::at(latitude, longitude));
    let mut out = Gpx { version: GpxVersion::Gpx11, creator: Some("Spadework".to_owned()), ..Gpx::default() };
    let mut any = false;
    for held in &snapshot.plan_parts {
        let part = &held.body;
        let mut form = part.outline.form.clone();
        if part.outline.frame == Frame::Metres {
            let Some(local) = local else { continue };
            super::place::each(&mut form, |at| *at = local.to_degrees(*at));
        }
        any = true;
        let names = Names::of(snapshot, part);
        let name = shown_name(part, &names);
        let note = (!part.note.is_empty()).then(|| part.note.clone());
        let route = |places: &[Point], type_: String| {
            let mut route = Route::new();
            route.name = Some(name.clone());
            route.type_ = Some(type_);
            route.points = places.iter().map(point).collect();
            route
        };
        let comment = comment(part, &names, &form);
        match &form {
            Form::Point { at } => {
                let mut one = point(at);
                one.name = Some(name);
                one.type_ = Some(key(part.kind));
                one.description = note;
                one.comment = comment;
                out.waypoints.push(one);
            }
            Form::Line { through } => {
                let mut route = route(through, key(part.kind));
                route.description = note;
                route.comment = comment;
                out.routes.push(route);
            }
            Form::Area { outer, holes } => {
                let closed = |ring: &[Point]| ring.iter().chain(ring.first()).copied().collect::<Vec<_>>();
                let mut one = route(&closed(outer), key(part.kind));
                one.description = note;
                one.comment = comment;
                out.routes.push(one);
                out.routes.extend(holes.iter().map(|hole| route(&closed(hole), CUT_OUT.to_owned())));
            }
        }
    }
    if !any {
        return None;
    }
    let mut bytes = Vec::new();
    gpx::write(&out, &mut bytes).ok()?;
    String::from_utf8(bytes).ok()
}

/// What a phone shows: its own name, else that of what it shows.
fn shown_name(part: &PlanPart, names: &Names) -> String {
    let own = match part.kind {
        PartKind::Plot => &names.plot,
        PartKind::Bed => &names.bed,
        _ => &part.name,
    };
    let shown = if own.is_empty() { &names.structure } else { own };
    numbered(shown, part.number)
}

/// What GPX has no field for.
fn comment(part: &PlanPart, names: &Names, form: &Form) -> Option<String> {
    let mut about = about::written(part, names);
    about.retain(|name, _| !["kind", "note"].contains(&name.as_str()));
    // A line that ends where it began is no area.
    if let Form::Line { through } = form
        && through.len() > 3
        && through.first() == through.last()
    {
        about.insert("form".to_owned(), json!("line"));
    }
    (!about.is_empty()).then(|| Value::Object(about).to_string())
}

fn point(at: &Point) -> Waypoint {
    Waypoint::new(geo::Point::new(at[0], at[1]))
}

pub(super) fn read(text: &str) -> Result<ReadPlan, Refusal> {
    let file: Gpx = gpx::read(text.as_bytes()).map_err(|error| {
        if let Some((name, given, line)) = no_number(text) {
            return super::place::not_one_number(format!("{name}={given:?} in line {line}"), given);
        }
        Refusal::new("file", format!("this is not GPX that can be read: {error}"))
            .given(text.chars().take(60).collect::<String>())
            .accepted("a GPX 1.0 or 1.1 file, as phones and hand-held receivers write it")
            .example("walk.gpx")
    })?;
    let mut plan = ReadPlan::default();
    for waypoint in &file.waypoints {
        let told = Told {
            name: waypoint.name.as_deref(),
            type_: waypoint.type_.as_deref(),
            comment: waypoint.comment.as_deref(),
            note: waypoint.description.as_deref(),
        };
        plan.parts.push(told.part(Form::Point { at: at(waypoint) }));
    }
    for route in &file.routes {
        let through: Vec<Point> = route.points.iter().map(at).collect();
        let told = Told {
            name: route.name.as_deref(),
            type_: route.type_.as_deref(),
            comment: route.comment.as_deref(),
            note: route.description.as_deref(),
        };
        plan.lines(&told, through, None);
    }
    for (number, track) in file.tracks.iter().enumerate() {
        for segment in &track.segments {
            let through: Vec<Point> = segment.points.iter().map(at).collect();
            let told = Told {
                name: track.name.as_deref(),
                type_: track.type_.as_deref(),
                comment: track.comment.as_deref(),
                note: track.description.as_deref(),
            };
            plan.lines(&told, through, Some(number));
        }
    }
    Ok(plan)
}

/// The first latitude or longitude that is no number: its name, what stands there, and its line.
fn no_number(text: &str) -> Option<(&str, &str, usize)> {
    text.lines().enumerate().find_map(|(at, line)| {
        let words = line.match_indices(['l', 'L']).filter_map(|(from, _)| line.get(from..));
        words
            .filter_map(attribute)
            .find(|(_, given)| given.trim().parse::<f64>().is_err())
            .map(|(name, given)| (name, given, at + 1))
    })
}

/// `lat="42.5"` at the beginning of a text: its name and what stands between the quotation marks.
fn attribute(text: &str) -> Option<(&str, &str)> {
    let (name, rest) = text.split_once('=')?;
    let name = name.trim_end();
    if !["lat", "lon"].contains(&name) {
        return None;
    }
    let rest = rest.trim_start();
    let mark = rest.chars().next().filter(|mark| ['"', '\''].contains(mark))?;
    let given = rest.get(1..)?.split(mark).next()?;
    Some((name, given))
}

impl ReadPlan {
    fn lines(&mut self, told: &Told<'_>, mut through: Vec<Point>, track: Option<usize>) {
        through.dedup();
        if through.len() < 2 {
            let name = told.name.unwrap_or("A walk");
            self.remarks.push(format!("{name} has a single place and was left out."));
            return;
        }
        if told.type_ == Some(CUT_OUT) {
            self.cut_out(told, through);
            return;
        }
        let is_ring = through.len() > 3 && through.first() == through.last();
        let is_line = told.object().is_some_and(|about| about.get("form") == Some(&json!("line")));
        let mut read = told.part(Form::Line { through: through.clone() });
        // An outline of ours comes back as what it was: a ring, closed to its first place.
        if is_ring && read.kind.is_some() && !is_line {
            through.pop();
            read.outline.form = Form::Area { outer: through, holes: Vec::new() };
        } else {
            // A track was walked, whatever its receiver calls it; a route of a known kind was drawn.
            read.walked = track.is_some() || read.kind.is_none();
            read.track = track;
        }
        self.parts.push(read);
    }

    /// Takes a ring out of the area before it.
    fn cut_out(&mut self, told: &Told<'_>, mut ring: Vec<Point>) {
        if ring.first() == ring.last() {
            ring.pop();
        }
        match self.parts.last_mut().map(|part| &mut part.outline.form) {
            Some(Form::Area { holes, .. }) if ring.len() > 2 => holes.push(ring),
            _ => self.remarks.push(format!(
                "A piece to be cut out ({}) follows no area and was left out.",
                told.name.unwrap_or("without a name")
            )),
        }
    }
}

fn at(waypoint: &Waypoint) -> Point {
    let point = waypoint.point();
    [point.x(), point.y()]
}

/// What a waypoint, a route or a track says of itself.
struct Told<'a> {
    name: Option<&'a str>,
    type_: Option<&'a str>,
    comment: Option<&'a str>,
    note: Option<&'a str>,
}

impl Told<'_> {
    /// The JSON object in the comment, where this program wrote one.
    fn object(&self) -> Option<Map<String, Value>> {
        serde_json::from_str(self.comment?.trim()).ok()
    }

    fn part(&self, form: Form) -> ReadPart {
        let short = |text: &str, most: usize| {
            text.trim().chars().filter(|c| *c != '\0').take(most).collect::<String>()
        };
        let ours = self.object();
        let said = |name: &str| about::text(ours.as_ref().and_then(|about| about.get(name)));
        // The name of a phone may be that of a bed with its number; ours tells which was its own.
        let name = if ours.is_some() { said("name") } else { self.name.unwrap_or_default().to_owned() };
        let note = self.note.or(self.comment.filter(|_| ours.is_none())).unwrap_or_default();
        let kind = self.type_.and_then(kind_of);
        ReadPart {
            name: short(&name, crate::model::text::NAME_CHARACTERS),
            note: short(note, crate::model::text::NOTE_CHARACTERS),
            ..about::read(said, kind, Outline { frame: Frame::Wgs84, form })
        }
    }
}
