//! The plan of the farm in metres: what is drawn, and where things were found on it.

mod draw;
mod near;
mod told;
mod typed;

use book::Snapshot;
use book::model::plan::numbered;
use book::model::{
    EntryId, Form, Frame, KeepOutWhy, Located, Observation, PartKind, PlanPart, Point, Sample, SamplingPlan,
    Spot,
};
use ground::kit::Bounded;
use ground::spatial::frame::LocalFrame;
use ground::spatial::plane;
use serde::Serialize;

pub use draw::{Drawing, along_longest, as_kept, beds_kept, frame_for, named_in, shortest_bed};
pub use told::{PartTold, PlanTold, area_words, new_remarks, told, told_of_plot};
pub use typed::{keep_origin, typed_corners, typed_holes, typed_place};

/// The place that metres of the plan are counted from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Origin {
    /// Its latitude.
    pub latitude_degrees: f64,
    /// Its longitude.
    pub longitude_degrees: f64,
    /// Was it given by the grower, and not taken from the first place drawn?
    pub given: bool,
}

/// Something drawn, in metres east and north of the origin.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Drawn {
    /// Its record.
    pub id: EntryId,
    /// The revision of the record.
    pub revision: u32,
    /// What it is.
    pub kind: PartKind,
    /// What it is called.
    pub name: String,
    /// The plot it shows or lies in.
    pub plot: Option<EntryId>,
    /// Of a plot that is a zone: the plot that was parted.
    pub zone_of: Option<EntryId>,
    /// The bed it shows.
    pub bed: Option<EntryId>,
    /// The structure it shows.
    pub structure: Option<EntryId>,
    /// Which of several equal ones.
    pub number: Option<u16>,
    /// Why nothing is sampled there.
    pub why: Option<KeepOutWhy>,
    /// Its form.
    pub form: Form,
}

/// The plan of the farm.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FarmPlan {
    /// Its origin; without one, metres float free of the Earth.
    pub origin: Option<Origin>,
    /// What is drawn, in the order of drawing.
    pub parts: Vec<Drawn>,
}

impl FarmPlan {
    /// The plan that a book holds.
    #[must_use]
    pub fn of(snapshot: &Snapshot) -> Self {
        let origin = origin(snapshot);
        let frame = origin.map(|origin| LocalFrame::at(origin.latitude_degrees, origin.longitude_degrees));
        let parts = snapshot
            .plan_parts
            .iter()
            .filter_map(|held| {
                let part = &held.body;
                Some(Drawn {
                    id: held.id,
                    revision: held.number,
                    kind: part.kind,
                    name: name(snapshot, part),
                    plot: part.plot,
                    zone_of: part
                        .plot
                        .filter(|_| part.kind == PartKind::Plot)
                        .and_then(|plot| snapshot.plot(plot)?.body.zone_of),
                    bed: part.bed,
                    structure: part.structure,
                    number: part.number,
                    why: part.why,
                    form: metres(&part.outline.form, part.outline.frame, frame.as_ref())?,
                })
            })
            .collect();
        Self { origin, parts }
    }

    /// Local metres about the origin, where there is one.
    #[must_use]
    pub fn frame(&self) -> Option<LocalFrame> {
        self.origin.map(|origin| LocalFrame::at(origin.latitude_degrees, origin.longitude_degrees))
    }

    /// The pieces a plot is drawn in, in the order of drawing.
    pub fn pieces_of(&self, plot: EntryId) -> impl Iterator<Item = &Drawn> {
        self.parts.iter().filter(move |part| {
            part.kind == PartKind::Plot && part.plot == Some(plot) && rings(&part.form).is_some()
        })
    }

    /// The piece a plot goes by: the largest, of pieces of one size the one last drawn.
    #[must_use]
    pub fn drawn_of(&self, plot: EntryId) -> Option<&Drawn> {
        self.pieces_of(plot)
            .filter_map(|part| Some((part, rings(&part.form)?)))
            .max_by(|(_, one), (_, other)| {
                plane::area_m2(one.0, one.1).total_cmp(&plane::area_m2(other.0, other.1))
            })
            .map(|(part, _)| part)
    }

    /// The outline of a plot: the outer ring and the holes of the piece it goes by.
    #[must_use]
    pub fn area_of(&self, plot: EntryId) -> Option<(&[Point], &[Vec<Point>])> {
        rings(&self.drawn_of(plot)?.form)
    }

    /// The plot that a place of a plot belongs to: of one that was parted, the zone it lies in.
    #[must_use]
    pub fn zone_at(&self, snapshot: &Snapshot, plot: EntryId, at: Point) -> EntryId {
        let holds = |zone: &EntryId| {
            self.area_of(*zone).is_some_and(|(outer, holes)| plane::encloses(outer, holes, at))
        };
        let zone = snapshot.zones_of(plot).map(|zone| zone.id).find(holds);
        zone.map_or(plot, |zone| self.zone_at(snapshot, zone, at))
    }

    /// What nothing is sampled on.
    pub fn keep_outs(&self) -> impl Iterator<Item = &Drawn> {
        self.parts.iter().filter(|part| part.kind == PartKind::KeepOut)
    }

    /// A place in metres of this plan; none where degrees cannot be placed for want of an origin.
    #[must_use]
    pub fn place(&self, frame: Frame, at: Point) -> Option<Point> {
        placed(frame, at, self.frame().as_ref())
    }

    /// What the points of a sampling plan lie among: the plan of the farm, or nothing where they are counted from a
    /// corner of a plot that was not drawn.
    #[must_use]
    pub fn about(snapshot: &Snapshot, sampling: &SamplingPlan) -> Self {
        match sampling.frame {
            Frame::PlotCorner => Self { origin: None, parts: Vec::new() },
            Frame::Wgs84 | Frame::Metres => Self::of(snapshot),
        }
    }

    /// A point of a sampling plan on a sheet of its own: never to be put among the places of other plots.
    #[must_use]
    pub fn on_its_sheet(&self, sampling: &SamplingPlan, at: Point) -> Option<Point> {
        if sampling.frame == Frame::PlotCorner { Some(at) } else { self.place(sampling.frame, at) }
    }

    /// Where a spot lies: by its own place first, else by its point of the sampling plan.
    #[must_use]
    pub fn spot(&self, snapshot: &Snapshot, spot: &Spot) -> Option<Point> {
        if let Some(Located { frame, at, .. }) = spot.at {
            return self.place(frame, at);
        }
        let plan = &snapshot.sampling_plan(spot.plan?)?.body;
        let point = plan.points.iter().find(|point| Some(point.number) == spot.number)?;
        self.place(plan.frame, point.at)
    }

    /// Where a sample was taken, if that was one place.
    #[must_use]
    pub fn spot_of_sample(&self, snapshot: &Snapshot, sample: &Sample) -> Option<Point> {
        self.spot(snapshot, sample.spot.as_ref()?)
    }

    /// Where an observation was made: its own spot, else that of its sample.
    #[must_use]
    pub fn spot_of(&self, snapshot: &Snapshot, observation: &Observation) -> Option<Point> {
        match &observation.spot {
            Some(spot) => self.spot(snapshot, spot),
            None => self.spot_of_sample(snapshot, &snapshot.sample(observation.sample?)?.body),
        }
    }
}

/// The outer ring and the holes of an area.
fn rings(form: &Form) -> Option<(&[Point], &[Vec<Point>])> {
    match form {
        Form::Area { outer, holes } => Some((outer, holes)),
        _ => None,
    }
}

/// The origin that was given, or else the first place in degrees, or none.
fn origin(snapshot: &Snapshot) -> Option<Origin> {
    if let Some(given) = snapshot.farm.body.plan_origin {
        return Some(Origin {
            latitude_degrees: given.latitude_degrees.get(),
            longitude_degrees: given.longitude_degrees.get(),
            given: true,
        });
    }
    let first = snapshot
        .plan_parts
        .iter()
        .filter(|part| part.body.outline.frame == Frame::Wgs84)
        .find_map(|part| part.body.outline.points().next());
    first.map(|[longitude_degrees, latitude_degrees]| Origin {
        latitude_degrees,
        longitude_degrees,
        given: false,
    })
}

fn name(snapshot: &Snapshot, part: &PlanPart) -> String {
    let shown = match part.kind {
        PartKind::Plot => part.plot.and_then(|id| snapshot.plot(id)).map(|plot| plot.body.name.clone()),
        PartKind::Bed => part.bed.and_then(|id| snapshot.bed(id)).map(|bed| bed.body.name.clone()),
        _ => {
            part.structure.and_then(|id| snapshot.structure(id)).map(|structure| structure.body.name.clone())
        }
    };
    match shown {
        Some(shown) => numbered(&shown, part.number),
        None if part.name.is_empty() => part.kind.words().to_owned(),
        None => part.name.clone(),
    }
}

fn placed(frame: Frame, at: Point, local: Option<&LocalFrame>) -> Option<Point> {
    match frame {
        Frame::Metres => Some(at),
        Frame::Wgs84 => Some(local?.to_metres(at)),
        Frame::PlotCorner => None,
    }
}

fn metres(form: &Form, frame: Frame, local: Option<&LocalFrame>) -> Option<Form> {
    let ring =
        |points: &[Point]| points.iter().map(|at| placed(frame, *at, local)).collect::<Option<Vec<_>>>();
    Some(match form {
        Form::Point { at } => Form::Point { at: placed(frame, *at, local)? },
        Form::Line { through } => Form::Line { through: ring(through)? },
        Form::Area { outer, holes } => Form::Area {
            outer: ring(outer)?,
            holes: holes.iter().map(|hole| ring(hole)).collect::<Option<_>>()?,
        },
    })
}
