//! Putting things on the plan: one way for the page, its script and the command line.

use book::model::plan::enclosed_m2;
use book::model::{
    Bed, BedLength, BedWidth, EntryId, Form, Frame, KeepOutWhy, Outline, PartKind, Place, PlanPart, Plot,
    PlotArea, PlotSide, Point, Shape,
};
use book::{BookError, Snapshot, Stamp, Writing};
use ground::kit::Refusal;
use ground::kit::refusal::bounded;
use ground::spatial::beds::BedLayout;
use ground::spatial::plane;

use super::FarmPlan;

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

    /// Corrects a part that is on the plan; a plot's or bed's own name is changed with it.
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
                if let Some(held) = part.plot.and_then(|plot| snapshot.plot(plot)) {
                    let name = self.name.trim();
                    if !name.is_empty() && name != held.body.name {
                        let body = Plot { name: name.to_owned(), ..held.body.clone() };
                        writing.revise(held.id, held.number, body, "renamed on the plan", stamp)?;
                    }
                }
                part.name = String::new();
            }
            PartKind::Bed => {
                if part.bed.is_none() {
                    part.bed = Some(writing.record(self.new_bed()?, stamp)?.id);
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
    let name = name.trim().to_lowercase();
    snapshot.plots.iter().find(|plot| plot.body.name.trim().to_lowercase() == name).map(|plot| plot.id)
}
