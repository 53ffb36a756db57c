//! GeoJSON (RFC 7946): properties keep what the outline does not, so that a round trip loses nothing.

use geojson::{Feature, FeatureCollection, GeoJson, Geometry, GeometryValue, Position};
use ground::kit::Refusal;
use ground::spatial::frame::LocalFrame;
use serde_json::{Map, Value, json};

use super::place::turned;
use super::{Names, ReadPart, ReadPlan, about, key, kind_of};
use crate::model::{Form, Frame, Outline, Point};
use crate::snapshot::Snapshot;

/// The plan as a GeoJSON text. Parts kept in metres are written in degrees where the plan has an origin; without one
/// their numbers are metres, and a member of each feature says so.
#[must_use]
pub fn plan_geojson(snapshot: &Snapshot, origin: Option<Point>) -> String {
    let local = origin.map(|[longitude, latitude]| LocalFrame::at(latitude, longitude));
    let features = snapshot.plan_parts.iter().map(|held| {
        let part = &held.body;
        let (form, metres) = match (part.outline.frame, local) {
            (Frame::Metres, Some(local)) => {
                let mut form = part.outline.form.clone();
                super::place::each(&mut form, |at| *at = local.to_degrees(*at));
                (form, false)
            }
            (Frame::Metres, None) => (part.outline.form.clone(), true),
            (Frame::Wgs84 | Frame::PlotCorner, _) => (part.outline.form.clone(), false),
        };
        let mut properties = about::written(part, &Names::of(snapshot, part));
        if metres {
            properties.insert("frame".to_owned(), json!("metres"));
        }
        Feature {
            bbox: None,
            geometry: Some(Geometry::new(value(&form))),
            id: Some(geojson::feature::Id::String(held.id.to_string())),
            properties: Some(properties),
            foreign_members: None,
        }
    });
    let collection = FeatureCollection::new(features.collect::<Vec<_>>());
    serde_json::to_string_pretty(&GeoJson::from(collection)).unwrap_or_default()
}

/// Rings are closed, the outer one against the clock and holes with it (section 3.1.6).
fn value(form: &Form) -> GeometryValue {
    match form {
        Form::Point { at } => GeometryValue::new_point(*at),
        Form::Line { through } => GeometryValue::new_line_string(through.iter().copied()),
        Form::Area { outer, holes } => GeometryValue::new_polygon(
            std::iter::once(closed(&turned(outer, true)))
                .chain(holes.iter().map(|hole| closed(&turned(hole, false)))),
        ),
    }
}

fn closed(ring: &[Point]) -> Vec<Point> {
    ring.iter().chain(ring.first()).copied().collect()
}

pub(super) fn read(text: &str) -> Result<ReadPlan, Refusal> {
    let refused = |why: String| {
        Refusal::new("file", why)
            .given(text.chars().take(60).collect::<String>())
            .accepted("GeoJSON as RFC 7946 has it: a FeatureCollection, a Feature or a geometry")
            .example(r#"{"type":"Feature","properties":{"kind":"tree"},"geometry":{"type":"Point","coordinates":[-93.5,42.5]}}"#)
    };
    let parsed: GeoJson = text.parse().map_err(|error| {
        let given =
            serde_json::from_str::<Value>(text).ok().and_then(|value| text_in_coordinates(&value, false));
        match given {
            Some(given) => super::place::not_one_number(format!("{given:?} among the coordinates"), &given),
            None => refused(format!("this is not GeoJSON that can be read: {error}")),
        }
    })?;
    let features = match parsed {
        GeoJson::FeatureCollection(collection) => collection.features,
        GeoJson::Feature(feature) => vec![feature],
        GeoJson::Geometry(geometry) => vec![Feature::from(geometry)],
    };
    let mut plan = ReadPlan::default();
    for (place, feature) in features.into_iter().enumerate() {
        let at_feature = |why: String| refused(format!("feature {}: {why}", place + 1));
        let Some(geometry) = feature.geometry else {
            plan.remarks.push(format!("Feature {} has no place and was left out.", place + 1));
            continue;
        };
        let properties = feature.properties.unwrap_or_default();
        let mut forms = Vec::new();
        forms_of(geometry.value, &mut forms, 0).map_err(at_feature)?;
        let several = forms.len() > 1;
        for (index, form) in forms.into_iter().enumerate() {
            let mut part = described(&properties, form).map_err(at_feature)?;
            if several && part.number.is_none() {
                part.number = u16::try_from(index + 1).ok();
            }
            plan.parts.push(part);
        }
    }
    Ok(plan)
}

/// The first text that stands where a number of a place is wanted.
fn text_in_coordinates(value: &Value, inside: bool) -> Option<String> {
    match value {
        Value::String(text) if inside => Some(text.clone()),
        Value::Array(items) => items.iter().find_map(|item| text_in_coordinates(item, inside)),
        Value::Object(members) => {
            members.iter().find_map(|(name, member)| text_in_coordinates(member, name == "coordinates"))
        }
        _ => None,
    }
}

fn described(properties: &Map<String, Value>, form: Form) -> Result<ReadPart, String> {
    let text = |name: &str| about::text(properties.get(name)).trim().to_owned();
    let kind = match text("kind") {
        given if given.is_empty() => None,
        given => Some(kind_of(&given).ok_or_else(|| {
            let known: Vec<String> = crate::model::PartKind::ALL.iter().map(|kind| key(*kind)).collect();
            format!("{given:?} is no kind of thing on a plan; the kinds are {}", known.join(", "))
        })?),
    };
    let frame = if text("frame") == "metres" { Frame::Metres } else { Frame::Wgs84 };
    // A note comes back with the blanks it went out with.
    let note = properties.get("note").and_then(Value::as_str).unwrap_or_default().to_owned();
    Ok(ReadPart { note, ..about::read(text, kind, Outline { frame, form }) })
}

fn at(position: &Position) -> Result<Point, String> {
    match position.as_slice() {
        [x, y, ..] if x.is_finite() && y.is_finite() => Ok([*x, *y]),
        _ => Err("a place needs two numbers, longitude and latitude".to_owned()),
    }
}

fn line(places: &[Position]) -> Result<Vec<Point>, String> {
    places.iter().map(at).collect()
}

fn ring(places: &[Position]) -> Result<Vec<Point>, String> {
    let mut ring = line(places)?;
    if ring.len() > 1 && ring.first() == ring.last() {
        ring.pop();
    }
    Ok(ring)
}

fn forms_of(value: GeometryValue, forms: &mut Vec<Form>, deep: usize) -> Result<(), String> {
    let area = |rings: &[Vec<Position>]| -> Result<Form, String> {
        let mut rings = rings.iter().map(|places| ring(places)).collect::<Result<Vec<_>, _>>()?;
        if rings.is_empty() {
            return Err("a polygon without a ring".to_owned());
        }
        let outer = rings.remove(0);
        Ok(Form::Area { outer, holes: rings })
    };
    match value {
        GeometryValue::Point { coordinates } => forms.push(Form::Point { at: at(&coordinates)? }),
        GeometryValue::MultiPoint { coordinates } => {
            for one in &coordinates {
                forms.push(Form::Point { at: at(one)? });
            }
        }
        GeometryValue::LineString { coordinates } => forms.push(Form::Line { through: line(&coordinates)? }),
        GeometryValue::MultiLineString { coordinates } => {
            for one in &coordinates {
                forms.push(Form::Line { through: line(one)? });
            }
        }
        GeometryValue::Polygon { coordinates } => forms.push(area(&coordinates)?),
        GeometryValue::MultiPolygon { coordinates } => {
            for one in &coordinates {
                forms.push(area(one)?);
            }
        }
        GeometryValue::GeometryCollection { geometries } => {
            if deep > 4 {
                return Err("collections within collections within collections".to_owned());
            }
            for one in geometries {
                forms_of(one.value, forms, deep + 1)?;
            }
        }
    }
    Ok(())
}
