//! GPX 1.1: waypoints are points, routes and tracks lines or walks round an area.

use gpx::{Gpx, GpxVersion, Route, Waypoint};
use ground::kit::Refusal;
use ground::spatial::frame::LocalFrame;

use super::{ReadPart, ReadPlan, key, kind_of};
use crate::model::{Form, Frame, Outline, Point};
use crate::snapshot::Snapshot;

/// The plan as GPX, for a phone: points as waypoints, lines and outlines as routes; holes are left out. None where the
/// plan is not fixed to the Earth and holds nothing in degrees.
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
        let plot = part.plot.and_then(|plot| snapshot.plot(plot)).map(|plot| plot.body.name.clone());
        let name = if part.name.is_empty() { plot.unwrap_or_default() } else { part.name.clone() };
        let point = |at: &Point| Waypoint::new(place(*at));
        match &form {
            Form::Point { at } => {
                let mut one = point(at);
                one.name = Some(name);
                one.type_ = Some(key(part.kind));
                one.description = (!part.note.is_empty()).then(|| part.note.clone());
                out.waypoints.push(one);
            }
            Form::Line { through: places } | Form::Area { outer: places, .. } => {
                let ring = matches!(form, Form::Area { .. });
                let mut route = Route::new();
                route.name = Some(name);
                route.type_ = Some(key(part.kind));
                route.description = (!part.note.is_empty()).then(|| part.note.clone());
                route.points = places.iter().map(point).collect();
                if let (true, Some(first)) = (ring, places.first()) {
                    route.points.push(point(first));
                }
                out.routes.push(route);
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

fn place([longitude, latitude]: Point) -> geo::Point<f64> {
    geo::Point::new(longitude, latitude)
}

pub(super) fn read(text: &str) -> Result<ReadPlan, Refusal> {
    let file: Gpx = gpx::read(text.as_bytes()).map_err(|error| {
        Refusal::new("file", format!("this is not GPX that can be read: {error}"))
            .given(text.chars().take(60).collect::<String>())
            .accepted("a GPX 1.0 or 1.1 file, as phones and hand-held receivers write it")
            .example("walk.gpx")
    })?;
    let mut plan = ReadPlan::default();
    for waypoint in &file.waypoints {
        plan.parts.push(part(
            waypoint.name.as_deref(),
            waypoint.type_.as_deref(),
            waypoint.description.as_deref().or(waypoint.comment.as_deref()),
            Form::Point { at: at(waypoint) },
        ));
    }
    for route in &file.routes {
        let through: Vec<Point> = route.points.iter().map(at).collect();
        plan.lines(route.name.as_deref(), route.type_.as_deref(), route.description.as_deref(), through);
    }
    for track in &file.tracks {
        for segment in &track.segments {
            let through: Vec<Point> = segment.points.iter().map(at).collect();
            plan.lines(track.name.as_deref(), track.type_.as_deref(), track.description.as_deref(), through);
        }
    }
    Ok(plan)
}

impl ReadPlan {
    fn lines(
        &mut self,
        name: Option<&str>,
        type_: Option<&str>,
        note: Option<&str>,
        mut through: Vec<Point>,
    ) {
        through.dedup();
        if through.len() < 2 {
            self.remarks.push(format!("{} has a single place and was left out.", name.unwrap_or("A walk")));
            return;
        }
        let mut read = part(name, type_, note, Form::Line { through: through.clone() });
        // An outline of ours comes back as what it was: a ring, closed to its first place.
        if through.len() > 3 && through.first() == through.last() && read.kind.is_some() {
            through.pop();
            read.outline.form = Form::Area { outer: through, holes: Vec::new() };
        } else {
            read.walked = true;
        }
        self.parts.push(read);
    }
}

fn at(waypoint: &Waypoint) -> Point {
    let point = waypoint.point();
    [point.x(), point.y()]
}

fn part(name: Option<&str>, type_: Option<&str>, note: Option<&str>, form: Form) -> ReadPart {
    let short = |text: Option<&str>, most: usize| {
        text.unwrap_or_default().trim().chars().filter(|c| *c != '\0').take(most).collect::<String>()
    };
    ReadPart {
        kind: type_.and_then(kind_of),
        name: short(name, crate::model::text::NAME_CHARACTERS),
        plot_name: String::new(),
        plot: None,
        bed: None,
        structure: None,
        number: None,
        why: None,
        outline: Outline { frame: Frame::Wgs84, form },
        walked: false,
        note: short(note, crate::model::text::NOTE_CHARACTERS),
    }
}
