//! A CSV table of the plan with its outlines as WKT (OGC 06-103r4), for spreadsheets and map programs.

use ground::kit::Refusal;
use ground::spatial::frame::LocalFrame;
use ground::spatial::typed::place_of;

use super::{Names, ReadPlan, about, key, kind_of};
use crate::csv_in::Table;
use crate::model::{Form, Frame, Outline, Point};
use crate::snapshot::Snapshot;

/// The plan as a table: one row a part, its outline as WKT in the last column.
#[must_use]
pub fn plan_csv(snapshot: &Snapshot, origin: Option<Point>) -> String {
    let local = origin.map(|[longitude, latitude]| LocalFrame::at(latitude, longitude));
    let mut out = ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(Vec::new());
    // Writing into memory cannot fail.
    let _ = out.write_record(about::NAMES.iter().chain(&["frame", "wkt"]));
    for held in &snapshot.plan_parts {
        let part = &held.body;
        let (mut form, mut frame) = (part.outline.form.clone(), part.outline.frame);
        if let (Frame::Metres, Some(local)) = (frame, local) {
            super::place::each(&mut form, |at| *at = local.to_degrees(*at));
            frame = Frame::Wgs84;
        }
        let said = about::written(part, &Names::of(snapshot, part));
        let cells = about::NAMES.iter().map(|name| plain(&about::text(said.get(*name))));
        let _ = out.write_record(cells.chain([key(frame), wkt(&form)]));
    }
    String::from_utf8(out.into_inner().unwrap_or_default()).unwrap_or_default()
}

/// A text that a spreadsheet would take for a formula gets an apostrophe in front, which is taken off again.
fn plain(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\'']) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

fn bare(text: &str) -> String {
    text.strip_prefix('\'').unwrap_or(text).to_owned()
}

pub(crate) fn wkt(form: &Form) -> String {
    let place = |at: &Point| format!("{} {}", at[0], at[1]);
    let ring = |ring: &[Point]| {
        let closed: Vec<String> = ring.iter().chain(ring.first()).map(place).collect();
        format!("({})", closed.join(", "))
    };
    match form {
        Form::Point { at } => format!("POINT ({})", place(at)),
        Form::Line { through } => {
            format!("LINESTRING ({})", through.iter().map(place).collect::<Vec<_>>().join(", "))
        }
        Form::Area { outer, holes } => {
            let rings: Vec<String> =
                std::iter::once(ring(outer)).chain(holes.iter().map(|hole| ring(hole))).collect();
            format!("POLYGON ({})", rings.join(", "))
        }
    }
}

pub(super) fn read(text: &str) -> Result<ReadPlan, Refusal> {
    let refused = |why: String| {
        Refusal::new("file", why)
            .given(text.chars().take(60).collect::<String>())
            .accepted(
                "a table with a column wkt, or with the columns longitude and latitude; or GeoJSON, or GPX",
            )
            .example("kind,name,wkt")
    };
    let table = Table::read(text, None).map_err(|rows| match rows.into_iter().next() {
        Some(row) => refused(format!("line {}: {}", row.line, row.refusal.message)),
        None => refused("this is no table".to_owned()),
    })?;
    // A line that could not be read would be lost in silence.
    if let Some(row) = table.trouble.first() {
        return Err(refused(format!("line {}: {}", row.line, row.refusal.message)));
    }
    let headings: Vec<String> = table.headings.iter().map(|heading| heading.trim().to_lowercase()).collect();
    let column = |names: &[&str]| headings.iter().position(|heading| names.contains(&heading.as_str()));
    let outline = column(&["wkt", "geometry", "geom"]);
    let place = column(&["longitude", "lon", "lng", "x"]).zip(column(&["latitude", "lat", "y"]));
    if outline.is_none() && place.is_none() {
        return Err(refused("this is neither GeoJSON nor GPX, and no table with a column wkt".to_owned()));
    }
    let mut plan = ReadPlan::default();
    for line in &table.lines {
        let at_line = |why: String| refused(format!("line {}: {why}", line.number));
        let cell = |name: &str| -> String {
            let at = headings.iter().position(|heading| heading == name);
            at.and_then(|at| line.cells.get(at)).map(bare).unwrap_or_default()
        };
        let form = match (outline.and_then(|at| line.cells.get(at)), place) {
            (Some(text), _) if !text.is_empty() => from_wkt(text).map_err(|why| {
                at_line(why)
                    .given(text.chars().take(60).collect::<String>())
                    .accepted(
                        "WKT in which each place is two numbers with decimal points and a blank between them, with commas between the places alone",
                    )
                    .example("POLYGON ((8.51 47.1, 8.52 47.1, 8.52 47.11, 8.51 47.1))")
            })?,
            (_, Some((x, y))) => {
                let text = |at: usize| line.cells.get(at).unwrap_or_default();
                Form::Point { at: typed_point(text(x), text(y)).map_err(at_line)? }
            }
            _ => return Err(at_line("there is no place in this row".to_owned())),
        };
        let kind = match cell("kind") {
            given if given.is_empty() => None,
            given => Some(
                kind_of(&given).ok_or_else(|| at_line(format!("{given:?} is no kind of thing on a plan")))?,
            ),
        };
        let frame = if cell("frame") == "metres" { Frame::Metres } else { Frame::Wgs84 };
        plan.parts.push(about::read(cell, kind, Outline { frame, form }));
    }
    Ok(plan)
}

/// Longitude and latitude of two cells: plain numbers, with a decimal comma or point, or degrees and minutes with their
/// letters.
fn typed_point(longitude: &str, latitude: &str) -> Result<Point, String> {
    let number = |text: &str| text.replace(',', ".").parse::<f64>().ok().filter(|value| value.is_finite());
    if let (Some(x), Some(y)) = (number(longitude), number(latitude)) {
        return Ok([x, y]);
    }
    place_of("file", &format!("{latitude}, {longitude}"), None).map(|place| place.at).map_err(|refusal| {
        format!("longitude {longitude:?} and latitude {latitude:?} are no place: {}", refusal.message)
    })
}

/// Points, lines and polygons of two coordinates; a third is left out.
pub(crate) fn from_wkt(text: &str) -> Result<Form, String> {
    let text = text.trim();
    let open = text.find('(').ok_or_else(|| "this is no WKT: there is no bracket in it".to_owned())?;
    let head = text[..open].trim().to_uppercase();
    let head = head.split_whitespace().next().unwrap_or_default();
    let body = text[open..]
        .trim()
        .strip_prefix('(')
        .and_then(|rest| rest.strip_suffix(')'))
        .ok_or_else(|| "the brackets of the WKT do not match".to_owned())?;
    let places = |text: &str| -> Result<Vec<Point>, String> {
        text.split(',')
            .map(|place| {
                // A number that cannot be read is never left out: what stands behind it would take its place.
                let numbers: Option<Vec<f64>> =
                    place.split_whitespace().map(|part| part.parse().ok()).collect();
                match numbers.as_deref() {
                    Some([x, y, ..]) if x.is_finite() && y.is_finite() => Ok([*x, *y]),
                    _ => Err(format!(
                        "{:?} is no place: two numbers with decimal points and a blank between them are wanted, and a comma \
                         stands only between places",
                        place.trim().chars().take(40).collect::<String>()
                    )),
                }
            })
            .collect()
    };
    match head {
        "POINT" => match places(body)?.as_slice() {
            [at] => Ok(Form::Point { at: *at }),
            _ => Err("a POINT has one place".to_owned()),
        },
        "LINESTRING" => Ok(Form::Line { through: places(body)? }),
        "POLYGON" => {
            let mut rings = Vec::new();
            for part in body.split(')') {
                let part = part.trim().trim_start_matches(',').trim();
                if part.is_empty() {
                    continue;
                }
                let inner = part.strip_prefix('(').ok_or_else(|| "a ring has no bracket".to_owned())?;
                let mut ring = places(inner)?;
                if ring.len() > 1 && ring.first() == ring.last() {
                    ring.pop();
                }
                rings.push(ring);
            }
            if rings.is_empty() {
                return Err("a POLYGON without a ring".to_owned());
            }
            let outer = rings.remove(0);
            Ok(Form::Area { outer, holes: rings })
        }
        other => Err(format!("{other:?} is not read; POINT, LINESTRING and POLYGON are")),
    }
}
