//! Zones become plots, in one write, and back again in another.

use book::model::plan::{PartKind, PlanPart, Point};
use book::model::{Body, EntryId, Form, Plot, PlotArea, Shape};
use book::{Book, BookError, Held, Result, Snapshot, Stamp};
use ground::kit::{Bounded, Refusal};
use ground::spatial::plane;

use super::parts::{ZoneTold, ZonesTold};
use crate::plan::{FarmPlan, as_kept};

/// How the part of a zone says which plot it was made from.
const MARK: &str = "Zone of plot ";
/// Why the outline of the whole plot is taken off the plan while its zones stand there.
const PARTED: &str = "parted into zones";

/// Makes a plot of each zone, drawn on the plan, and moves the samples and observations that lie in it. The plot they
/// were of stays, with what has no place on it, but its outline goes off the plan, for its zones lie there now. All in one
/// write; [`back_to_one`] undoes it.
///
/// # Errors
/// The plot has zones already, or the book cannot be written.
pub fn accept(
    book: &mut Book,
    snapshot: &Snapshot,
    zones: &ZonesTold,
    stamp: &Stamp,
) -> Result<Vec<EntryId>> {
    let plan = FarmPlan::of(snapshot);
    let whole = snapshot.plot(zones.plot).ok_or_else(|| gone("the plot"))?;
    if !zone_plots(snapshot, zones.plot).is_empty() {
        return Err(Refusal::new("zones", format!("{} has zones already", whole.body.name))
            .given(zones.zones.len())
            .accepted("one set of zones at a time: join those back first")
            .example("join the zones back to one plot")
            .into());
    }
    let reason = format!("moved to its zone by {}", zones.property.words());
    book.write(|writing| {
        let mut plots = Vec::new();
        for zone in &zones.zones {
            let made = writing.record(plot_of(&whole.body, zone, zones, snapshot), stamp)?;
            writing.record(part_of(&plan, zone, zones.plot, made.id), stamp)?;
            plots.push(made.id);
        }
        for part in snapshot
            .plan_parts
            .iter()
            .filter(|part| part.body.kind == PartKind::Plot && part.body.plot == Some(zones.plot))
        {
            writing.set_withdrawn(part.id, part.number, true, PARTED, stamp)?;
        }
        let zone_of = |at: Point| {
            zones.zones.iter().position(|zone| {
                plane::inside(&zone.outer, at) && !zone.holes.iter().any(|hole| plane::inside(hole, at))
            })
        };
        for sample in snapshot.samples.iter().filter(|sample| sample.body.plot == zones.plot) {
            if let Some(zone) = plan.spot_of_sample(snapshot, &sample.body).and_then(zone_of) {
                let mut body = sample.body.clone();
                body.plot = plots[zone];
                writing.revise(sample.id, sample.number, body, &reason, stamp)?;
            }
        }
        for seen in snapshot.evidence(zones.plot) {
            // What was seen on a sample goes where the sample goes.
            let at = match seen.body.sample.and_then(|id| snapshot.sample(id)) {
                Some(sample) => plan.spot_of_sample(snapshot, &sample.body),
                None => plan.spot_of(snapshot, &seen.body),
            };
            if let Some(zone) = at.and_then(zone_of) {
                let mut body = seen.body.clone();
                body.plot = plots[zone];
                writing.revise(seen.id, seen.number, body, &reason, stamp)?;
            }
        }
        Ok(plots)
    })
}

fn gone(what: &str) -> BookError {
    Refusal::new("plot", format!("{what} is not in the book any more")).accepted("a plot of this book").into()
}

fn plot_of(whole: &Plot, zone: &ZoneTold, zones: &ZonesTold, snapshot: &Snapshot) -> Plot {
    let wanted = format!("{}, zone {}", whole.name, zone.number);
    let taken = |name: &str| snapshot.plots.iter().any(|plot| plot.body.name == name);
    let name = if taken(&wanted) { format!("{wanted} by {}", zones.property.words()) } else { wanted };
    Plot {
        name,
        shape: PlotArea::new(zone.area_m2).map_or(whole.shape, |area_m2| Shape::Area { area_m2 }),
        use_note: format!(
            "Zone {} of {} by {}. {}",
            zone.number,
            zones.zones.len(),
            zones.property.words(),
            whole.use_note
        )
        .trim_end()
        .to_owned(),
        ..whole.clone()
    }
}

fn part_of(plan: &FarmPlan, zone: &ZoneTold, whole: EntryId, plot: EntryId) -> PlanPart {
    // In the frame of everything drawn, so that it stays on its plot when the plan's origin is moved.
    let outline = as_kept(plan, Form::Area { outer: zone.outer.clone(), holes: zone.holes.clone() });
    PlanPart { plot: Some(plot), note: format!("{MARK}{whole}."), ..PlanPart::drawn(PartKind::Plot, outline) }
}

/// The parts of the plan that are zones made from a plot.
fn zone_parts(snapshot: &Snapshot, whole: EntryId) -> impl Iterator<Item = &Held<PlanPart>> {
    let mark = format!("{MARK}{whole}.");
    snapshot.plan_parts.iter().filter(move |part| part.body.note.contains(&mark))
}

/// The plots that are zones made from a plot.
#[must_use]
pub fn zone_plots(snapshot: &Snapshot, whole: EntryId) -> Vec<EntryId> {
    zone_parts(snapshot, whole).filter_map(|part| part.body.plot).collect()
}

/// Joins the zones made from a plot back to it: what lies in them goes back, and their plots and outlines are withdrawn.
/// One write. How many records went back?
///
/// # Errors
/// There are no zones, a bed was laid out in one since, or the book cannot be written.
pub fn back_to_one(book: &mut Book, snapshot: &Snapshot, whole: EntryId, stamp: &Stamp) -> Result<usize> {
    let plots = zone_plots(snapshot, whole);
    if plots.is_empty() {
        return Err(Refusal::new("plot", "this plot has no zones to join")
            .accepted("a plot that was parted into zones")
            .into());
    }
    if let Some(bed) = snapshot.beds.iter().find(|bed| plots.contains(&bed.body.plot)) {
        return Err(Refusal::new("plot", format!("the bed {} was laid out in a zone since", bed.body.name))
            .given(&bed.body.name)
            .accepted("zones without beds: move or withdraw the bed first")
            .into());
    }
    let reason = "zones joined back to one plot";
    let drawn_anew = snapshot
        .plan_parts
        .iter()
        .any(|part| part.body.kind == PartKind::Plot && part.body.plot == Some(whole));
    book.write(|writing| {
        for part in zone_parts(snapshot, whole) {
            writing.set_withdrawn(part.id, part.number, true, reason, stamp)?;
        }
        let mut moved = 0;
        for plot in plots.iter().filter_map(|id| snapshot.plot(*id)) {
            // Whatever was written of a zone goes back with it: a withdrawn plot hides what speaks of it.
            moved += writing.move_to_plot(plot.id, whole, reason, stamp)?;
            writing.set_withdrawn(plot.id, plot.number, true, reason, stamp)?;
        }
        for gone in snapshot.withdrawn.iter().filter(|gone| gone.reason == PARTED && !drawn_anew) {
            if matches!(&gone.record.body, Body::PlanPart(part) if part.plot == Some(whole)) {
                writing.set_withdrawn(gone.record.id, gone.record.number, false, reason, stamp)?;
            }
        }
        Ok(moved)
    })
}
