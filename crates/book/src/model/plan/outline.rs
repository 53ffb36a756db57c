//! Where something lies: a point, a line or an area, in degrees or in metres.

use ground::kit::Refusal;
use ground::spatial::outline::{Area, crossings, split_at_crossings};
use ground::spatial::plane;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A place: longitude and latitude, or metres east and north, as the frame beside it says.
pub type Point = [f64; 2];

/// Most points of one outline; a longer walk is simplified before it is kept.
pub const MOST_POINTS: usize = 5_000;

/// What the numbers of a place mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Frame {
    /// Longitude and latitude in degrees, WGS 84.
    Wgs84,
    /// Metres east and metres north of the origin of the plan.
    Metres,
    /// Metres along the longer side and across it, from a corner of a plot that is not drawn: places of its own
    /// sampling plan, which lie nowhere on the plan of the farm.
    PlotCorner,
}

impl Frame {
    /// Refuses a place that cannot be one.
    ///
    /// # Errors
    /// A number that is none, or lies beyond the Earth or 100 km from the origin.
    pub fn check(self, [x, y]: Point) -> Result<(), Refusal> {
        let (most_x, most_y, accepted, example) = match self {
            Self::Wgs84 => (180.0, 90.0, "longitude -180 to 180°, then latitude -90 to 90°", "[-93.5, 42.5]"),
            Self::Metres => (1e5, 1e5, "metres east, then metres north, at most 100 km off", "[12.5, 40]"),
            Self::PlotCorner => (1e5, 1e5, "metres along the plot, then metres across it", "[12.5, 4]"),
        };
        if x.abs() <= most_x && y.abs() <= most_y {
            return Ok(());
        }
        Err(Refusal::new("at", "this is no place that can be on the plan")
            .given(format!("[{x}, {y}]"))
            .accepted(accepted)
            .example(example))
    }

    /// Refuses what lies nowhere on the plan of the farm.
    pub(crate) fn on_the_plan(self) -> Result<(), Refusal> {
        if self != Self::PlotCorner {
            return Ok(());
        }
        Err(Refusal::new("frame", "metres from a corner of a plot lie nowhere on the plan of the farm")
            .given("plot_corner")
            .accepted("wgs84 or metres; plot_corner is for the points of a sampling plan")
            .example("metres"))
    }
}

/// A point, a line or an area.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "form", rename_all = "snake_case", deny_unknown_fields)]
pub enum Form {
    /// One place.
    Point {
        /// The place.
        at: Point,
    },
    /// A line through places.
    Line {
        /// The places, in order.
        through: Vec<Point>,
    },
    /// A piece of ground.
    Area {
        /// Its corners in order; the last is joined to the first.
        outer: Vec<Point>,
        /// What is cut out of it.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        holes: Vec<Vec<Point>>,
    },
}

impl Form {
    /// Every place of it, holes too.
    pub fn points(&self) -> impl Iterator<Item = Point> + '_ {
        let (first, rest): (&[Point], &[Vec<Point>]) = match self {
            Self::Point { at } => (std::slice::from_ref(at), &[]),
            Self::Line { through } => (through, &[]),
            Self::Area { outer, holes } => (outer, holes),
        };
        first.iter().chain(rest.iter().flatten()).copied()
    }
}

/// Ground that an outline in metres encloses, less its holes. One that crosses itself encloses all of its pieces,
/// whichever way round they run.
#[must_use]
pub fn enclosed_m2(outer: &[Point], holes: &[Vec<Point>]) -> f64 {
    if crossings(outer).is_empty() {
        return plane::area_m2(outer, holes);
    }
    let area = Area { outer: outer.to_vec(), holes: holes.to_vec() };
    split_at_crossings(&area).iter().map(Area::area_m2).sum()
}

/// Where something lies.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Outline {
    /// What its numbers mean.
    pub frame: Frame,
    /// Its form.
    pub form: Form,
}

impl Outline {
    /// A place alone.
    #[must_use]
    pub fn point(frame: Frame, at: Point) -> Self {
        Self { frame, form: Form::Point { at } }
    }

    /// An area without holes.
    #[must_use]
    pub fn area(frame: Frame, outer: Vec<Point>) -> Self {
        Self { frame, form: Form::Area { outer, holes: Vec::new() } }
    }

    /// Every place of it, holes too.
    pub fn points(&self) -> impl Iterator<Item = Point> + '_ {
        self.form.points()
    }

    /// Refuses what cannot be drawn. An area that crosses itself can be: the plan tells of it.
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        let enough = |points: &[Point], least: usize, what: &str| {
            if points.len() >= least {
                return Ok(());
            }
            Err(Refusal::new("form", format!("{what} needs at least {least} places"))
                .given(points.len())
                .accepted(format!("{least} places or more"))
                .example("[[0, 0], [30, 0], [30, 10], [0, 10]]"))
        };
        match &self.form {
            Form::Point { .. } => {}
            Form::Line { through } => enough(through, 2, "a line")?,
            Form::Area { outer, holes } => {
                enough(outer, 3, "an area")?;
                for hole in holes {
                    enough(hole, 3, "a hole in an area")?;
                }
            }
        }
        let count = self.points().count();
        if count > MOST_POINTS {
            return Err(Refusal::new("form", format!("{count} places are more than one outline may have"))
                .given(count)
                .accepted(format!("at most {MOST_POINTS} places"))
                .example("leave out places that lie on a straight line between others"));
        }
        self.frame.on_the_plan()?;
        self.points().try_for_each(|point| self.frame.check(point)).map_err(|refusal| refusal.inside("form"))
    }
}
