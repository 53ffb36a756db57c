//! The farm from above: plots, beds and what else stands there, numbered points, a scale bar and a
//! north arrow. Kinds are told apart by hatch, line and sign, and named in the key.

pub(crate) mod draw;
pub(crate) mod frame;
mod key;
pub(crate) mod labels;
mod marks;

use ground::kit::units::{Dimension, UnitSystem, show};
use ground::spatial::plane;

use crate::canvas::{Canvas, LETTER, ON_PAPER, SMALL, Side, WIDE, WIDTH};
use crate::figure::{Figure, Table};
use crate::measures::Shown;
use crate::words::list;
use frame::Frame;

/// A place in local metres: east, north.
pub type Place = [f64; 2];

/// What stands on a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PlanKind {
    /// Edge of the farm.
    FarmEdge,
    /// A plot.
    Plot,
    /// A part of a plot: a zone or a stratum.
    Zone,
    /// A bed.
    Bed,
    /// A tunnel or greenhouse.
    Tunnel,
    /// A building.
    Building,
    /// A track or path.
    Track,
    /// Where water stands.
    StandingWater,
    /// A strip where no sample is taken.
    KeepOut,
    /// A drain or ditch.
    Drain,
    /// A post.
    Post,
    /// A tree.
    Tree,
    /// A tap, well or pump.
    WaterPoint,
    /// Something else.
    Other,
}

impl PlanKind {
    /// Every kind, from the ground up: what is drawn first lies lowest.
    pub const ALL: [Self; 14] = [
        Self::FarmEdge,
        Self::Plot,
        Self::Zone,
        Self::Track,
        Self::Tunnel,
        Self::Bed,
        Self::StandingWater,
        Self::KeepOut,
        Self::Building,
        Self::Other,
        Self::Drain,
        Self::Post,
        Self::Tree,
        Self::WaterPoint,
    ];

    /// In words, for the key.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::FarmEdge => "edge of the farm",
            Self::Plot => "plot",
            Self::Zone => "zone",
            Self::Bed => "bed",
            Self::Tunnel => "tunnel",
            Self::Building => "building",
            Self::Track => "track",
            Self::StandingWater => "standing water",
            Self::KeepOut => "keep out",
            Self::Drain => "drain",
            Self::Post => "post",
            Self::Tree => "tree",
            Self::WaterPoint => "water point",
            Self::Other => "other",
        }
    }
}

/// The form of a shape, in local metres.
#[derive(Debug, Clone, PartialEq)]
pub enum PlanForm {
    /// One place.
    Point(Place),
    /// A line through places.
    Line(Vec<Place>),
    /// An outline, not closed, with its holes.
    Area {
        /// Outer ring.
        outer: Vec<Place>,
        /// Holes.
        holes: Vec<Vec<Place>>,
    },
}

impl PlanForm {
    /// Every place of it.
    pub(crate) fn places(&self) -> impl Iterator<Item = Place> {
        let (first, holes): (&[Place], &[Vec<Place>]) = match self {
            Self::Point(at) => (std::slice::from_ref(at), &[]),
            Self::Line(through) => (through, &[]),
            Self::Area { outer, holes } => (outer, holes),
        };
        first.iter().chain(holes.iter().flatten()).copied()
    }

    pub(crate) fn is_sound(&self) -> bool {
        let enough = match self {
            Self::Point(_) => true,
            Self::Line(through) => through.len() > 1,
            Self::Area { outer, .. } => outer.len() > 2,
        };
        enough && self.places().all(frame::is_place)
    }
}

/// One thing on the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanShape {
    /// What it is.
    pub kind: PlanKind,
    /// Its name; may be empty.
    pub name: String,
    /// Where it is.
    pub form: PlanForm,
}

/// A numbered point: a core to pull, a value at a place.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanPoint {
    /// What stands in or beside it: "7", "2.1 %".
    pub label: String,
    /// Where it is.
    pub at: Place,
    /// A line for the table: "core, stratum 2". May be empty.
    pub note: String,
}

/// How large a plan is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlanSize {
    /// 340 wide, for a phone.
    Phone,
    /// 480 wide, for paper: fewer units on the same width are larger numbers.
    Paper,
    /// 720 wide, for a wide page.
    Wide,
}

impl PlanSize {
    /// Its width, and the height that the ground may take.
    pub(crate) fn units(self) -> (f64, f64) {
        match self {
            Self::Phone => (WIDTH, 380.0),
            Self::Paper => (ON_PAPER, 420.0),
            Self::Wide => (WIDE, 620.0),
        }
    }
}

/// A plan.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanPicture<'a> {
    /// Id of the picture on its page.
    pub id: &'a str,
    /// Caption.
    pub title: &'a str,
    /// What stands there.
    pub shapes: &'a [PlanShape],
    /// Numbered points, in the order they are told.
    pub points: &'a [PlanPoint],
    /// What the points are, in the plural, for the key: "cores". Empty where there are none.
    pub points_are: &'a str,
    /// Corners that places are counted from, each with its letter.
    pub corners: &'a [(&'a str, Place)],
    /// The way from point to point, drawn as a thin line with an arrow; empty for none.
    pub walk: &'a [Place],
    /// Day of the plan as it is to be read; empty for none.
    pub date: &'a str,
    /// Is north up? Without it no arrow is drawn and the plan says so.
    pub north_up: bool,
    /// How large.
    pub size: PlanSize,
    /// Units of the scale bar and the table.
    pub system: UnitSystem,
}

/// Draws a plan. What cannot be drawn (numbers that are none, outlines of two corners) is left out and told.
#[must_use]
pub fn plan(picture: &PlanPicture<'_>) -> Figure {
    let mut shapes: Vec<&PlanShape> = picture.shapes.iter().filter(|shape| shape.form.is_sound()).collect();
    let points: Vec<&PlanPoint> = picture.points.iter().filter(|point| frame::is_place(point.at)).collect();
    let left_out = picture.shapes.len() - shapes.len() + picture.points.len() - points.len();
    shapes.sort_by_key(|shape| PlanKind::ALL.iter().position(|kind| *kind == shape.kind));
    let table = table(&shapes, &points, picture.system);
    let wide = picture.size == PlanSize::Wide;
    let (width, tallest) = picture.size.units();
    let places =
        shapes.iter().flat_map(|shape| shape.form.places()).chain(points.iter().map(|point| point.at));
    let Some(frame) = Frame::around(places, width, tallest) else {
        return empty(picture, width, table, left_out);
    };
    let mut canvas = Canvas::new(picture.id, "plan", width, frame.bottom() + 60.0);
    if wide {
        canvas.class("figure-wide");
    }
    draw::shapes(&mut canvas, &frame, &shapes);
    draw::walk(&mut canvas, &frame, picture.walk);
    let mut labels = labels::Labels::new(width, frame.bottom());
    draw::corners(&mut canvas, &frame, picture.corners, &mut labels);
    draw::points(&mut canvas, &frame, &points, &mut labels);
    labels::name_shapes(&mut canvas, &frame, &shapes, &mut labels);
    let bar = frame.scale_bar(&mut canvas, picture.system);
    if picture.north_up {
        frame.north_arrow(&mut canvas);
    }
    let mut y = frame.bottom() + 34.0;
    if !picture.date.is_empty() {
        canvas.text((width - 8.0, frame.bottom() + 24.0), Side::End, SMALL, picture.date);
    }
    y = key::draw(&mut canvas, &shapes, &points, picture, y);
    if !picture.north_up {
        canvas.text(
            (8.0, y + 9.0),
            Side::Start,
            SMALL,
            "Directions are those of the drawing, not of the compass.",
        );
        y += 16.0;
    }
    canvas.tall(y + 6.0);
    let said = description(&shapes, &points, picture, &bar, left_out);
    canvas.finish(picture.title.to_owned(), said, table)
}

fn empty(picture: &PlanPicture<'_>, width: f64, table: Table, left_out: usize) -> Figure {
    let mut canvas = Canvas::new(picture.id, "plan", width, 60.0);
    canvas.text((width / 2.0, 34.0), Side::Middle, LETTER, "Nothing is drawn yet.");
    canvas.finish(picture.title.to_owned(), format!("Nothing is drawn yet.{}", told_out(left_out)), table)
}

fn told_out(left_out: usize) -> String {
    match left_out {
        0 => String::new(),
        1 => " One thing could not be drawn: its corners are no places.".to_owned(),
        more => format!(" {more} things could not be drawn: their corners are no places."),
    }
}

fn description(
    shapes: &[&PlanShape],
    points: &[&PlanPoint],
    picture: &PlanPicture<'_>,
    bar: &str,
    left_out: usize,
) -> String {
    let counts: Vec<String> = PlanKind::ALL
        .iter()
        .filter_map(|kind| {
            let of_kind: Vec<&&PlanShape> = shapes.iter().filter(|shape| shape.kind == *kind).collect();
            let names: Vec<String> =
                of_kind.iter().map(|shape| shape.name.clone()).filter(|name| !name.is_empty()).collect();
            match of_kind.len() {
                0 => None,
                count if *kind == PlanKind::Plot && names.len() == count && count <= 12 => {
                    Some(format!("{} ({})", counted(*kind, count), list(&names)))
                }
                count => Some(counted(*kind, count)),
            }
        })
        .collect();
    let mut said = if counts.is_empty() {
        "The plan shows no outlines.".to_owned()
    } else {
        format!("The plan shows {}.", list(&counts))
    };
    if !points.is_empty() {
        let what = if picture.points_are.is_empty() { "points" } else { picture.points_are };
        said.push_str(&format!(" Numbered points on it: {} ({what}).", points.len()));
    }
    if !picture.corners.is_empty() {
        let letters: Vec<String> = picture.corners.iter().map(|corner| corner.0.to_owned()).collect();
        said.push_str(&format!(" Corners marked on it: {}.", list(&letters)));
    }
    said.push_str(if picture.north_up { " North is up." } else { " Where north lies is not known." });
    said.push_str(&format!(" The scale bar stands for {bar}."));
    said + &told_out(left_out)
}

fn counted(kind: PlanKind, count: usize) -> String {
    let words = match (kind, count) {
        (_, 1) => kind.words().to_owned(),
        (PlanKind::FarmEdge, _) => "edges of the farm".to_owned(),
        (PlanKind::StandingWater, _) => "spots of standing water".to_owned(),
        (PlanKind::KeepOut, _) => "keep-out strips".to_owned(),
        (PlanKind::Other, _) => "other things".to_owned(),
        _ => format!("{}s", kind.words()),
    };
    let words = match (kind, count) {
        (PlanKind::KeepOut, 1) => "keep-out strip".to_owned(),
        (PlanKind::Other, 1) => "other thing".to_owned(),
        (PlanKind::StandingWater, 1) => "spot of standing water".to_owned(),
        _ => words,
    };
    format!("{count} {words}")
}

fn table(shapes: &[&PlanShape], points: &[&PlanPoint], system: UnitSystem) -> Table {
    let mut table = Table::new(["What", "Kind", "Size"]);
    let far = Shown::distance(system);
    for shape in shapes {
        let size = match &shape.form {
            PlanForm::Point(_) => String::new(),
            PlanForm::Line(through) => format!("{} long", far.say(plane::length_m(through))),
            PlanForm::Area { outer, holes } => format!(
                "{}, {} round",
                show(plane::area_m2(outer, holes), Dimension::Area, system),
                far.say(plane::perimeter_m(outer))
            ),
        };
        let name = if shape.name.is_empty() { "without a name".to_owned() } else { shape.name.clone() };
        table.row([name, shape.kind.words().to_owned(), size]);
    }
    for point in points {
        table.row([point.label.clone(), "point".to_owned(), point.note.clone()]);
    }
    table
}
