//! Putting things on the plan: one way for the page, its script and the command line.

use book::model::plan::enclosed_m2;
use book::model::{
    Bed, BedLength, BedWidth, EntryId, Form, Frame, KeepOutWhy, Outline, PartKind, Place, PlanPart, Plot,
    PlotArea, PlotSide, Point, Shape,
};
use book::{BookError, Snapshot, Stamp, Writing};
use ground::kit::refusal::bounded;
use ground::kit::{Bounded, Refusal};
use ground::spatial::beds::{BedLayout, ShortestBed};
use ground::spatial::outline::{Area, overlap_m2};
use ground::spatial::plane;

use super::FarmPlan;
use super::told::{TOUCH_M2, area_of};

/// Something to be drawn, in metres of the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// What it is.
    pub kind: PartKind,
    /// What it is called.
    pub name: String,
    /// The plot it shows or lies in; a plot without one is made.
    pub plot: Option<EntryId>,
    /// Why nothing is sampled there.
    pub why: Option<KeepOutWhy>,
    /// Its form in metres.
    pub form: Form,
    /// Short and long side, where it was typed as a rectangle.
    pub sides_m: Option<[f64; 2]>,
    /// Anything else.
    pub note: String,
}

/// The frame that new things are kept in: degrees where the plan is fixed to the Earth.
#[must_use]
pub fn frame_for(plan: &FarmPlan) -> Frame {
    if plan.origin.is_some() { Frame::Wgs84 } else { Frame::Metres }
}

/// A form in metres as it is kept.
#[must_use]
pub fn as_kept(plan: &FarmPlan, form: Form) -> Outline {
    let Some(local) = plan.frame() else { return Outline { frame: Frame::Metres, form } };
    // Nine decimals of a degree are a tenth of a millimetre.
    let round = |value: f64| (value * 1e9).round() / 1e9;
    let place = |at: Point| local.to_degrees(at).map(round);
    let ring = |points: Vec<Point>| points.into_iter().map(place).collect::<Vec<_>>();
    let form = match form {
        Form::Point { at } => Form::Point { at: place(at) },
        Form::Line { through } => Form::Line { through: ring(through) },
        Form::Area { outer, holes } => {
            Form::Area { outer: ring(outer), holes: holes.into_iter().map(ring).collect() }
        }
    };
    Outline { frame: Frame::Wgs84, form }
}

impl Drawing {
    /// Puts it on the plan, together with the plot or bed it shows where there is none yet.
    ///
    /// # Errors
    /// A field that is refused, or a book that cannot be written.
    pub fn add(
        self,
        writing: &mut Writing<'_>,
        plan: &FarmPlan,
        stamp: &Stamp,
    ) -> Result<EntryId, BookError> {
        let mut plot = self.plot;
        let mut bed = None;
        match self.kind {
            PartKind::Plot if plot.is_none() => {
                plot = Some(writing.record(self.new_plot()?, stamp)?.id);
            }
            PartKind::Bed => bed = Some(writing.record(self.new_bed()?, stamp)?.id),
            _ => {}
        }
        let outline = as_kept(plan, self.form);
        let name = if self.kind == PartKind::Plot || bed.is_some() { String::new() } else { self.name };
        let part = PlanPart {
            name,
            plot,
            bed,
            why: self.why,
            note: self.note,
            ..PlanPart::drawn(self.kind, outline)
        };
        Ok(writing.record(part, stamp)?.id)
    }

    /// Corrects a part that is on the plan. Where a plot is given another name here it is renamed; a single bed takes its
    /// name and its sides with it.
    ///
    /// # Errors
    /// A clash with a later revision, a field that is refused, or a book that cannot be written.
    pub fn correct(
        self,
        writing: &mut Writing<'_>,
        snapshot: &Snapshot,
        plan: &FarmPlan,
        id: EntryId,
        revision: u32,
        stamp: &Stamp,
    ) -> Result<(), BookError> {
        let before = snapshot
            .plan_parts
            .iter()
            .find(|part| part.id == id)
            .ok_or(BookError::NotFound { what: "plan_part", id })?;
        let mut part = before.body.clone();
        // A name as it is shown, with its number, is no new name.
        let shown = plan.parts.iter().find(|one| one.id == id).map_or("", |one| one.name.as_str()).to_owned();
        let name = self.name.trim().to_owned();
        let renamed = !name.is_empty() && name != shown.trim();
        part.outline = as_kept(plan, self.form.clone());
        part.why = self.why.filter(|_| self.kind == PartKind::KeepOut);
        part.note = self.note.clone();
        match self.kind {
            PartKind::Plot => {
                part.plot = match self.plot.or(part.plot) {
                    Some(plot) => Some(plot),
                    None => Some(writing.record(self.new_plot()?, stamp)?.id),
                };
                part.bed = None;
                // Given to another plot, the outline does not bring the name of the first along.
                let same = part.plot == before.body.plot;
                let held = part.plot.and_then(|plot| snapshot.plot(plot));
                if let Some(held) = held.filter(|held| same && renamed && name != held.body.name) {
                    let body = Plot { name, ..held.body.clone() };
                    writing.revise(held.id, held.number, body, "renamed on the plan", stamp)?;
                }
                part.name = String::new();
            }
            PartKind::Bed => {
                match part.bed.and_then(|bed| snapshot.bed(bed)) {
                    None => part.bed = Some(writing.record(self.new_bed()?, stamp)?.id),
                    // Of several equal beds one outline cannot tell the sides, nor the name, of all.
                    Some(held) if held.body.count == 1 => {
                        let as_drawn = Drawing { plot: Some(held.body.plot), ..self.clone() }.new_bed()?;
                        let mut body = held.body.clone();
                        if renamed {
                            body.name = name;
                        }
                        if before.body.outline != part.outline {
                            (body.length_m, body.width_m) = (as_drawn.length_m, as_drawn.width_m);
                        }
                        if body != held.body {
                            writing.revise(held.id, held.number, body, "changed on the plan", stamp)?;
                        }
                    }
                    Some(held) if renamed && name != held.body.name => {
                        return Err(Refusal::new(
                            "name",
                            "this outline is one of several equal beds of one record",
                        )
                        .given(name)
                        .accepted("their name, changed with the record of the beds")
                        .example(held.body.name.clone())
                        .into());
                    }
                    Some(_) => {}
                }
                part.plot = self.plot.or(part.plot);
                part.name = String::new();
            }
            _ => {
                part.plot = self.plot;
                part.bed = None;
                part.name = self.name;
            }
        }
        part.kind = self.kind;
        writing.revise(id, revision, part, "", stamp)?;
        Ok(())
    }

    fn new_plot(&self) -> Result<Plot, Refusal> {
        if self.name.trim().is_empty() {
            return Err(Refusal::new("name", "a new plot needs a name")
                .given("nothing")
                .accepted("a name that no other plot has, or a plot of the list")
                .example("Lower field"));
        }
        let shape = match self.sides_m {
            Some([short, long]) => Shape::Rectangle {
                length_m: bounded::<PlotSide>("sides", long)?,
                width_m: bounded::<PlotSide>("sides", short)?,
            },
            None => {
                let Form::Area { outer, holes } = &self.form else {
                    return Err(Refusal::new("form", "a plot is drawn as an area")
                        .given("a point or a line")
                        .accepted("three corners or more")
                        .example("an area"));
                };
                Shape::Area { area_m2: bounded::<PlotArea>("points", enclosed_m2(outer, holes))? }
            }
        };
        Ok(Plot {
            name: self.name.trim().to_owned(),
            place: Place::OpenField,
            shape,
            slope_percent: None,
            root_depth_cm: None,
            use_note: String::new(),
            watering: None,
            cover: None,
            organic: None,
            zone_of: None,
        })
    }

    fn new_bed(&self) -> Result<Bed, Refusal> {
        let plot = self.plot.ok_or_else(|| {
            Refusal::new("plot", "a bed lies in a plot: choose which")
                .given("nothing")
                .accepted("a plot of this farm")
                .example("the one chosen from the list")
        })?;
        let Form::Area { outer, .. } = &self.form else {
            return Err(Refusal::new("form", "a bed is drawn as an area")
                .given("a point or a line")
                .accepted("three corners or more")
                .example("an area"));
        };
        let longest = plane::corners(outer).map(|(a, b)| plane::distance_m(*a, *b)).fold(0.0, f64::max);
        let width = if longest > 0.0 { plane::ring_area_m2(outer) / longest } else { 0.0 };
        let name = if self.name.trim().is_empty() { "Bed".to_owned() } else { self.name.trim().to_owned() };
        Ok(Bed {
            plot,
            name,
            length_m: bounded::<BedLength>("points", longest)?,
            width_m: bounded::<BedWidth>("points", width)?,
            count: 1,
        })
    }
}

/// Writes the beds of a layout into the book: equal ones as one record, each drawn with its number.
///
/// # Errors
/// A name that is refused, or a book that cannot be written.
pub fn beds_kept(
    writing: &mut Writing<'_>,
    plan: &FarmPlan,
    plot: EntryId,
    name: &str,
    width_m: f64,
    layout: &BedLayout,
    stamp: &Stamp,
) -> Result<Vec<EntryId>, BookError> {
    if let Some(there) = plan.parts.iter().find(|part| {
        part.kind == PartKind::Bed
            && part.plot == Some(plot)
            && area_of(&part.form).is_some_and(|area| {
                layout.beds.iter().any(|bed| {
                    let new = Area { outer: bed.corners.to_vec(), holes: Vec::new() };
                    overlap_m2(&area, &new) > TOUCH_M2
                })
            })
    }) {
        return Err(Refusal::new("plot", format!("beds are drawn on this ground already: {}", there.name))
            .given("beds that lie over them")
            .accepted("ground without beds; withdraw the beds that are no more, then take their outlines off the plan")
            .example("another plot")
            .into());
    }
    // Beds of one length, to 10 cm, are one record.
    let mut lengths: Vec<(i64, Vec<usize>)> = Vec::new();
    for (place, bed) in layout.beds.iter().enumerate() {
        #[expect(clippy::cast_possible_truncation, reason = "decimetres of a bed")]
        let decimetres = (bed.length_m * 10.0).round() as i64;
        match lengths.iter_mut().find(|(length, _)| *length == decimetres) {
            Some((_, beds)) => beds.push(place),
            None => lengths.push((decimetres, vec![place])),
        }
    }
    let several = lengths.len() > 1;
    let mut made = Vec::new();
    for (group, (_, beds)) in lengths.iter().enumerate() {
        let mean = beds.iter().map(|place| layout.beds[*place].length_m).sum::<f64>()
            / f64::from(u32::try_from(beds.len()).unwrap_or(u32::MAX));
        let body = Bed {
            plot,
            name: if several { format!("{name} {}", group + 1) } else { name.to_owned() },
            length_m: bounded::<BedLength>("shortest", mean)?,
            width_m: bounded::<BedWidth>("bed_width", width_m)?,
            count: u16::try_from(beds.len()).unwrap_or(u16::MAX),
        };
        let bed = writing.record(body, stamp)?.id;
        made.push(bed);
        for (number, place) in beds.iter().enumerate() {
            let form = Form::Area { outer: layout.beds[*place].corners.to_vec(), holes: Vec::new() };
            let part = PlanPart {
                plot: Some(plot),
                bed: Some(bed),
                number: (beds.len() > 1).then(|| u16::try_from(number + 1).unwrap_or(u16::MAX)),
                ..PlanPart::drawn(PartKind::Bed, as_kept(plan, form))
            };
            writing.record(part, stamp)?;
        }
    }
    Ok(made)
}

/// The plot of that name.
#[must_use]
pub fn named_in(snapshot: &Snapshot, name: &str) -> Option<EntryId> {
    snapshot.plot_named(name).map(|plot| plot.id)
}

/// Beds shorter than this are left out where nothing else is said.
#[must_use]
pub fn shortest_bed() -> ShortestBed {
    ShortestBed::literal(3.0)
}

/// The way of the longest side, between north and south by east.
#[must_use]
pub fn along_longest(area: &Area) -> f64 {
    let longest = plane::corners(&area.outer)
        .max_by(|a, b| plane::distance_m(*a.0, *a.1).total_cmp(&plane::distance_m(*b.0, *b.1)));
    longest.map_or(0.0, |(a, b)| libm::atan2(b[0] - a[0], b[1] - a[1]).to_degrees().rem_euclid(180.0))
}
