//! Correcting evidence in the form it was recorded with.

use book::model::{Observation, Plot, Seen};
use book::{BookError, Held, Snapshot};
use ground::kit::Refusal;
use ground::texture::jar::Marks;

use super::about::{self, About};
use super::flow::{Flow, FormPage, Had, judged, placed};
use super::{
    building_ground, cores, feel, gravel, hydrometer, jar, kitchen_scale, lab_report, laboratory, layers,
    moisture, organic_matter, packing, percolation, probe, rings, salinity, signs, slake, spade, working,
};
use crate::ask::Ask;
use crate::form::Form;
use crate::pages::things::{CORRECTION, Clash, clash_of, clash_refusal, gone};
use crate::route::{Outcome, Shown};
use crate::words;

/// The form, filled with what the book holds.
pub(crate) fn show(ask: &Ask, held: &Held<Observation>) -> Outcome {
    by_kind(ask, held, Act::Show)
}

/// Keeps the correction.
pub(crate) fn save(ask: &Ask, held: &Held<Observation>) -> Outcome {
    by_kind(ask, held, Act::Save)
}

#[derive(Clone, Copy)]
enum Act {
    Show,
    Save,
}

fn by_kind(ask: &Ask, held: &Held<Observation>, act: Act) -> Outcome {
    match &held.body.seen {
        Seen::Jar(jar) if matches!(jar.reading.marks, Marks::Timed { .. }) => {
            run::<jar::KeptMarks>(ask, held, act)
        }
        Seen::Jar(_) => run::<jar::Settled>(ask, held, act),
        Seen::KitchenScale(_) => run::<kitchen_scale::KitchenScale>(ask, held, act),
        Seen::Feel(_) => run::<feel::Feel>(ask, held, act),
        Seen::Hydrometer(_) => run::<hydrometer::Hydrometer>(ask, held, act),
        Seen::LabTexture(_) => run::<laboratory::Laboratory>(ask, held, act),
        Seen::OrganicMatter(_) => run::<organic_matter::Organic>(ask, held, act),
        Seen::Gravel(_) => run::<gravel::Stones>(ask, held, act),
        Seen::Packing(_) => run::<packing::Packed>(ask, held, act),
        Seen::Salinity(_) => run::<salinity::Salts>(ask, held, act),
        Seen::Signs(_) => run::<signs::Found>(ask, held, act),
        Seen::Moisture(_) => run::<moisture::Moist>(ask, held, act),
        Seen::RingInfiltration(_) => run::<rings::Rings>(ask, held, act),
        Seen::Percolation(_) => run::<percolation::TestHole>(ask, held, act),
        Seen::Layers(_) => run::<layers::Profile>(ask, held, act),
        Seen::Probe(_) => run::<probe::Transect>(ask, held, act),
        Seen::Cores(_) => run::<cores::Rings>(ask, held, act),
        Seen::Spade(_) => run::<spade::Block>(ask, held, act),
        Seen::Slake(_) => run::<slake::Crumbs>(ask, held, act),
        Seen::Working(_) => run::<working::Handful>(ask, held, act),
        Seen::LabReport(_) => run::<lab_report::Printout>(ask, held, act),
        Seen::BuildingGround(_) => run::<building_ground::ToBuildOn>(ask, held, act),
    }
}

fn run<F: Flow>(ask: &Ask, held: &Held<Observation>, act: Act) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = snapshot.plot(held.body.plot).ok_or_else(|| gone("the plot of this record"))?;
    match act {
        Act::Show => {
            let form = F::fill(&held.body.seen, ask.form(F::FIELDS), ask.units());
            let form = about::fill(&held.body, form)
                .and(ask.form(CORRECTION))
                .set("from_number", held.number.to_string());
            Shown::page(page::<F>(ask, &snapshot, plot, held, form, None))
        }
        Act::Save => keep::<F>(ask, &snapshot, plot, held),
    }
}

fn keep<F: Flow>(ask: &Ask, snapshot: &Snapshot, plot: &Held<Plot>, held: &Held<Observation>) -> Outcome {
    let again = |form: Form, clash: Option<Clash>| page::<F>(ask, snapshot, plot, held, form, clash);
    let mut read = ask.reader(F::FIELDS).also(CORRECTION);
    let had = Had { before: Some(&held.body.seen), now: ask.stamp().at };
    let seen = F::read(&mut read, &had);
    let about = About::read(&mut read);
    let remark = F::remark(&mut read);
    let reason = read.text("reason").unwrap_or_default().to_owned();
    // Programs may leave the number out and correct whatever stands.
    let from = read.count("from_number").map_or(held.number, u32::from);
    if let Some(seen) = &seen {
        // A jar that still settles may have no mark at all.
        let _ = judged::<F>(&mut read, snapshot, plot.id, seen, ask.units());
    }
    let (Some(seen), Some(mut about), false) = (seen, about, read.is_refused()) else {
        return Err(read.refused(|form| again(form, None)));
    };
    about.remark(&remark);
    about.of(&held.body);
    if from == held.number && about.as_it_stands(plot.id, &seen).as_ref() == Some(&held.body) {
        read.refuse(
            Refusal::new("", "Nothing differs from what the book holds, so there is nothing to correct")
                .accepted("a change in at least one field"),
        );
        return Err(read.refused(|form| again(form, None)));
    }
    let written = ask.write(|book, stamp| {
        book.write(|writing| about.revise(writing, (held.id, from), plot.id, seen, &reason, stamp))
    })?;
    match written {
        Err(BookError::Clash { now, yours, .. }) => {
            let clash = clash_of(ask, snapshot, &now, yours.as_deref());
            read.refuse(clash_refusal(&clash));
            let number = now.number.to_string();
            Err(read.clashed(|form| again(form.set("from_number", number), Some(clash))))
        }
        other => {
            let other = other.map_err(|error| placed::<F>(error, &mut read));
            let kept = read.kept(other, |form| again(form, None))?;
            Shown::kept(onward(&kept), kept)
        }
    }
}

/// A jar that still settles goes back to its marks, everything else to its plot.
fn onward(kept: &Held<Observation>) -> String {
    match &kept.body.seen {
        Seen::Jar(jar) if !jar.finished => format!("/records/{}/jar?done=corrected", kept.id),
        _ => format!("/plots/{}?done=corrected&saw={}", kept.body.plot, kept.id),
    }
}

fn page<F: Flow>(
    ask: &Ask,
    snapshot: &Snapshot,
    plot: &Held<Plot>,
    held: &Held<Observation>,
    form: Form,
    clash: Option<Clash>,
) -> FormPage {
    let mut page = FormPage::new::<F>(ask, snapshot, plot, form);
    page.heading = format!("Correct the {}", words::titled(&held.body.clone().into()));
    page.shell.title.clone_from(&page.heading);
    page.correcting = true;
    page.clash = clash;
    page
}
