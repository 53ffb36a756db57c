//! Zones become plots, in one write, and back again in another.

use std::collections::BTreeMap;

use book::model::plan::{PartKind, PlanPart, Point};
use book::model::{Bed, Body, EntryId, Form, Observation, Plot, PlotArea, Record, Shape};
use book::{Book, BookError, Held, Result, Snapshot, Stamp, Writing};
use ground::kit::{Bounded, Refusal};
use ground::spatial::plane;

use super::parts::{ZoneTold, ZonesTold};
use crate::plan::{Drawn, FarmPlan, as_kept};

/// Why the outline of the whole plot is taken off the plan while its zones stand there.
const PARTED: &str = "parted into zones";
/// Why zones and their outlines no longer count.
const JOINED: &str = "zones joined back to one plot";

/// Was an outline taken off the plan by parting its plot or joining its zones? Joining and parting bring it back, and
/// nothing else should.
#[must_use]
pub fn is_of_parting(reason: &str) -> bool {
    [PARTED, JOINED].contains(&reason)
}

/// Makes a plot of each zone, drawn on the plan, and moves there what lies in it: beds with all that hangs on them,
/// samples, observations, structures and what else is drawn. The plot they were of stays in the book with what has no
/// place on it, but is no longer worked: its outline goes off the plan, and what was found of it as a whole counts in its
/// zones until they have findings of their own. All in one write; [`back_to_one`] undoes it.
///
/// # Errors
/// The plot has zones already, a bed of it is not drawn, or the book cannot be written.
pub fn accept(
    book: &mut Book,
    snapshot: &Snapshot,
    zones: &ZonesTold,
    stamp: &Stamp,
) -> Result<Vec<EntryId>> {
    let whole = snapshot.plot(zones.plot).ok_or_else(|| gone("the plot"))?;
    not_parted(snapshot, zones.plot)?;
    let parting = Parting { snapshot, plan: FarmPlan::of(snapshot), zones };
    let beds = parting.beds()?;
    let reason = format!("moved to its zone by {}", zones.property.words());
    book.write(|writing| {
        let mut plots = Vec::new();
        for zone in &zones.zones {
            let made = writing.record(plot_of(whole, zone, zones, snapshot), stamp)?;
            writing.record(part_of(&parting.plan, zone, made.id), stamp)?;
            plots.push(made.id);
        }
        for beds in &beds {
            beds.make(writing, &plots, &reason, stamp)?;
        }
        for (id, number, zone) in parting.others() {
            writing.give_to_plot(&[(id, number)], plots[zone], &reason, stamp)?;
        }
        for part in parting.outlines() {
            writing.set_withdrawn(part.id, part.number, true, PARTED, stamp)?;
        }
        Ok(plots)
    })
}

/// Has a plot no zones yet?
///
/// # Errors
/// It was parted already.
pub fn not_parted(snapshot: &Snapshot, plot: EntryId) -> std::result::Result<(), Refusal> {
    let Some(whole) = snapshot.parted.iter().find(|whole| whole.id == plot) else { return Ok(()) };
    Err(Refusal::new("zones", format!("{} has zones already", whole.body.name))
        .given(&whole.body.name)
        .accepted("one set of zones at a time: join those back first")
        .example("join the zones back to one plot"))
}

/// A plot that is to be parted.
struct Parting<'a> {
    snapshot: &'a Snapshot,
    plan: FarmPlan,
    zones: &'a ZonesTold,
}

impl Parting<'_> {
    /// The zone that a place lies in.
    fn zone_at(&self, at: Point) -> Option<usize> {
        self.zones.zones.iter().position(|zone| plane::encloses(&zone.outer, &zone.holes, at))
    }

    /// The zone that most of these lie in by their middles.
    fn zone_of<'d>(&self, drawn: impl Iterator<Item = &'d Drawn>) -> Option<usize> {
        let mut votes = vec![0_usize; self.zones.zones.len()];
        for zone in drawn.filter_map(|part| self.zone_at(middle(&part.form)?)) {
            votes[zone] += 1;
        }
        (0..votes.len()).filter(|zone| votes[*zone] > 0).max_by_key(|zone| (votes[*zone], usize::MAX - zone))
    }

    /// Where each record of beds goes. One that is not drawn, or drawn beside its plot, could lie in any zone; one that
    /// lies in several is parted, unless something was written of it.
    fn beds(&self) -> Result<Vec<BedsMove<'_>>> {
        let (mut moves, mut unplaced, mut between) = (Vec::new(), Vec::new(), Vec::new());
        for bed in self.snapshot.beds_of(self.zones.plot) {
            let mut by_zone: BTreeMap<usize, Vec<&Held<PlanPart>>> = BTreeMap::new();
            let mut drawn = 0;
            for part in self.snapshot.plan_parts.iter().filter(|part| part.body.bed == Some(bed.id)) {
                drawn += 1;
                if let Some(zone) = self.zone_of(self.plan.parts.iter().filter(|one| one.id == part.id)) {
                    by_zone.entry(zone).or_default().push(part);
                }
            }
            let placed: usize = by_zone.values().map(Vec::len).sum();
            // A block of beds drawn as one cannot be parted.
            let each_drawn = drawn == usize::from(bed.body.count) && placed == drawn;
            match by_zone.len() {
                0 => unplaced.push(bed.body.name.as_str()),
                1 => moves.push(BedsMove { bed, by_zone }),
                _ if each_drawn && !self.has_a_story(bed.id) => moves.push(BedsMove { bed, by_zone }),
                _ => between.push(bed.body.name.as_str()),
            }
        }
        let refused = |message: &str, names: Vec<&str>, accepted: &str, example: &str| {
            Err(Refusal::new("zones", message)
                .given(names.join(", "))
                .accepted(accepted)
                .example(example)
                .into())
        };
        if !unplaced.is_empty() {
            return refused(
                "Some beds are not drawn on this plot, so nobody can say in which zone they lie",
                unplaced,
                "a plot without beds, or one whose beds are drawn on the plan",
                "lay the beds out on the plan, then make the zones",
            );
        }
        if !between.is_empty() {
            return refused(
                "Some beds lie in several zones and cannot be told apart: not each is drawn, or something was written of them together",
                between,
                "beds that lie in one zone each, or beds of which nothing was written yet",
                "draw plots on the plan by hand, along the beds",
            );
        }
        Ok(moves)
    }

    /// Was anything written of a bed that could not be told apart by zone?
    fn has_a_story(&self, bed: EntryId) -> bool {
        let snapshot = self.snapshot;
        !snapshot.plantings_of(bed).is_empty()
            || !snapshot.covers_of(bed).is_empty()
            || !snapshot.waterings_of(bed).is_empty()
            || snapshot.system_of(bed).is_some()
            || !snapshot.moisture_of(bed).is_empty()
            || snapshot.applications.iter().any(|held| held.body.bed == Some(bed))
            || snapshot.jobs.iter().any(|held| held.body.bed == Some(bed))
    }

    /// What else has a place in a zone: samples first, for what was seen on them goes where they go, and photos last.
    fn others(&self) -> Vec<(EntryId, u32, usize)> {
        let (snapshot, plan, whole) = (self.snapshot, &self.plan, self.zones.plot);
        let at = |place: Option<Point>| place.and_then(|place| self.zone_at(place));
        let mut found = Vec::new();
        for sample in snapshot.samples_of(whole) {
            let zone = at(plan.spot_of_sample(snapshot, &sample.body));
            found.extend(zone.map(|zone| (sample.id, sample.number, zone)));
        }
        // What was seen in a bed has gone with it.
        let in_bed = |seen: &Observation| seen.links().bed.is_some();
        for seen in snapshot.evidence(whole).filter(|seen| seen.body.plot == whole && !in_bed(&seen.body)) {
            let place = match seen.body.sample.and_then(|id| snapshot.sample(id)) {
                Some(sample) => plan.spot_of_sample(snapshot, &sample.body),
                None => plan.spot_of(snapshot, &seen.body),
            };
            found.extend(at(place).map(|zone| (seen.id, seen.number, zone)));
        }
        for part in snapshot.plan_parts.iter().filter(|part| {
            part.body.plot == Some(whole) && part.body.kind != PartKind::Plot && part.body.bed.is_none()
        }) {
            let zone = self.zone_of(plan.parts.iter().filter(|drawn| drawn.id == part.id));
            found.extend(zone.map(|zone| (part.id, part.number, zone)));
        }
        for structure in snapshot.structures_on(whole) {
            let zone = self.zone_of(plan.parts.iter().filter(|part| part.structure == Some(structure.id)));
            found.extend(zone.map(|zone| (structure.id, structure.number, zone)));
        }
        for photo in snapshot.photos.iter().filter(|photo| photo.body.plot == Some(whole)) {
            let of = photo.body.observation;
            let zone = found.iter().find(|(id, ..)| Some(*id) == of).map(|(_, _, zone)| *zone);
            found.extend(zone.map(|zone| (photo.id, photo.number, zone)));
        }
        found
    }

    /// What is drawn of the whole plot.
    fn outlines(&self) -> impl Iterator<Item = &Held<PlanPart>> {
        self.snapshot
            .plan_parts
            .iter()
            .filter(|part| part.body.kind == PartKind::Plot && part.body.plot == Some(self.zones.plot))
    }
}

/// A record of beds and where its drawn beds lie.
struct BedsMove<'a> {
    bed: &'a Held<Bed>,
    by_zone: BTreeMap<usize, Vec<&'a Held<PlanPart>>>,
}

impl BedsMove<'_> {
    /// Moves the record to its zone; of one in several zones, those in further ones become records of their own.
    fn make(&self, writing: &mut Writing<'_>, plots: &[EntryId], reason: &str, stamp: &Stamp) -> Result<()> {
        let mut zones = self.by_zone.iter();
        let Some((first, kept)) = zones.next() else { return Ok(()) };
        if self.by_zone.len() == 1 {
            return writing.move_bed(self.bed.id, plots[*first], reason, stamp).map(|_| ());
        }
        let of = |zone: usize, count: usize| Bed {
            plot: plots[zone],
            count: u16::try_from(count).unwrap_or(self.bed.body.count),
            ..self.bed.body.clone()
        };
        writing.revise(self.bed.id, self.bed.number, of(*first, kept.len()), reason, stamp)?;
        let mut drawn = vec![(*first, self.bed.id, kept)];
        for (zone, parts) in zones {
            drawn.push((*zone, writing.record(of(*zone, parts.len()), stamp)?.id, parts));
        }
        for (zone, bed, parts) in drawn {
            for part in parts {
                let body = PlanPart { plot: Some(plots[zone]), bed: Some(bed), ..part.body.clone() };
                writing.revise(part.id, part.number, body, reason, stamp)?;
            }
        }
        Ok(())
    }
}

/// The middle of the corners of something drawn.
fn middle(form: &Form) -> Option<Point> {
    let (count, x, y) =
        form.points().fold((0.0, 0.0, 0.0), |(count, x, y), at| (count + 1.0, x + at[0], y + at[1]));
    (count > 0.0).then(|| [x / count, y / count])
}

fn gone(what: &str) -> BookError {
    Refusal::new("plot", format!("{what} is not in the book any more")).accepted("a plot of this book").into()
}

fn plot_of(whole: &Held<Plot>, zone: &ZoneTold, zones: &ZonesTold, snapshot: &Snapshot) -> Plot {
    let of = &whole.body;
    let wanted = format!("{}, zone {}", of.name, zone.number);
    let name = match snapshot.plot_named(&wanted) {
        Some(_) => format!("{wanted} by {}", zones.property.words()),
        None => wanted,
    };
    Plot {
        name,
        shape: PlotArea::new(zone.area_m2).map_or(of.shape, |area_m2| Shape::Area { area_m2 }),
        use_note: format!(
            "Zone {} of {} by {}. {}",
            zone.number,
            zones.zones.len(),
            zones.property.words(),
            of.use_note
        )
        .trim_end()
        .to_owned(),
        zone_of: Some(whole.id),
        ..of.clone()
    }
}

fn part_of(plan: &FarmPlan, zone: &ZoneTold, plot: EntryId) -> PlanPart {
    // In the frame of everything drawn, so that it stays on its plot when the plan's origin is moved.
    let outline = as_kept(plan, Form::Area { outer: zone.outer.clone(), holes: zone.holes.clone() });
    PlanPart { plot: Some(plot), ..PlanPart::drawn(PartKind::Plot, outline) }
}

/// Joins the zones made from a plot back to it: what lies in them goes back, and their plots and outlines are withdrawn.
/// One write. How many records went back?
///
/// # Errors
/// There are no zones, one of them was parted in its turn, or the book cannot be written.
pub fn back_to_one(book: &mut Book, snapshot: &Snapshot, whole: EntryId, stamp: &Stamp) -> Result<usize> {
    if !snapshot.is_parted(whole) {
        return Err(Refusal::new("plot", "this plot has no zones to join")
            .accepted("a plot that was parted into zones")
            .into());
    }
    if let Some(zone) = snapshot.zones_of(whole).find(|zone| snapshot.is_parted(zone.id)) {
        return Err(Refusal::new("plot", format!("{} was parted into zones itself", zone.body.name))
            .given(&zone.body.name)
            .accepted("zones that are whole: join those of that zone back first")
            .into());
    }
    let reason = JOINED;
    let is_outline = |part: &PlanPart, plot: EntryId| part.kind == PartKind::Plot && part.plot == Some(plot);
    let drawn_anew = snapshot.plan_parts.iter().any(|part| is_outline(&part.body, whole));
    book.write(|writing| {
        let mut moved = 0;
        // Beds go back to a plot without zones alone.
        for zone in snapshot.zones_of(whole) {
            writing.set_withdrawn(zone.id, zone.number, true, reason, stamp)?;
        }
        for zone in snapshot.zones_of(whole) {
            for part in snapshot.plan_parts.iter().filter(|part| is_outline(&part.body, zone.id)) {
                writing.set_withdrawn(part.id, part.number, true, reason, stamp)?;
            }
            // Whatever was written of a zone goes back with it: a withdrawn plot hides what speaks of it.
            moved += writing.move_to_plot(zone.id, whole, reason, stamp)?;
        }
        for gone in snapshot.withdrawn.iter().filter(|gone| gone.reason == PARTED && !drawn_anew) {
            if matches!(&gone.record.body, Body::PlanPart(part) if part.plot == Some(whole)) {
                writing.set_withdrawn(gone.record.id, gone.record.number, false, reason, stamp)?;
            }
        }
        Ok(moved)
    })
}
