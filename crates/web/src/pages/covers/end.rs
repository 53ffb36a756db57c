//! `/covers/{cover}/end`: how a cover ended and what stood, from the bed's edge.

use book::model::CoverCrop;
use book::{BookError, Held};
use ground::kit::Refusal;

use crate::ask::Ask;
use crate::form::{Field, Form, Group, GroupView, join};
use crate::pages::things::cover::{END, ended, fill_end, stand};
use crate::pages::things::{Clash, ThingPage, clash_of, clash_refusal, placed};
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::Section;
use crate::{when, words};

/// The number of the version that the person saw.
const SEEN: &[Field] = &[Field::hidden("from_number").optional()];

pub(super) const FIELDS: &[Field] = &join::<{ END.len() + SEEN.len() }>(END, SEEN);

const GROUPS: &[Group] = &[
    Group::of("", "", &["ended_on", "ended_how", "stage"]),
    Group::of(
        "What stood",
        "Cut a few frames at the ground and weigh them together: a guess by height may be off by a third, and the nitrogen \
         that is credited to the next crop hangs on it.",
        &["cut_kg", "cut_area_m2", "cut_dried", "height_cm", "cover_percent", "nitrogen_percent"],
    ),
    Group::of("", "", &["from_number"]),
];

fn held(ask: &Ask) -> Result<Held<CoverCrop>, Problem> {
    let id = ask.entry("cover")?;
    ask.snapshot()?.cover(id).cloned().ok_or_else(|| {
        Problem::not_found(
            "This book has no such cover. It may have been withdrawn, or belong to another book.",
        )
    })
}

fn page(ask: &Ask, held: &Held<CoverCrop>, form: Form) -> Result<ThingPage, Problem> {
    let snapshot = ask.snapshot()?;
    let bed = snapshot.bed(held.body.bed).map_or("", |bed| bed.body.name.as_str());
    let title = format!("How the cover of {} ended", words::seeds_words(&held.body.seeds));
    let shell = ask.shell(Section::Farm, title.as_str());
    Ok(ThingPage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        lead: format!("In {bed}, sown {}.", advice::words::day(held.body.sown_on)),
        title,
        groups: GROUPS.iter().map(|group| GroupView::of(group, &form)).collect(),
        form,
        button: "Save",
        with_file: false,
        back: "/covers".to_owned(),
        clash: None,
    })
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let held = held(ask)?;
    let form = fill_end(&held.body, ask.form(FIELDS), ask.units())
        .with("ended_on", when::day_of(ask.stamp().at).to_string())
        .set("from_number", held.number.to_string());
    Shown::page(page(ask, &held, form)?)
}

pub(super) fn save(ask: &Ask) -> Outcome {
    let held = held(ask)?;
    let blank = page(ask, &held, Form::default())?;
    let again = |form: Form, clash: Option<Clash>| ThingPage {
        shell: blank.shell.refused(),
        groups: GROUPS.iter().map(|group| GroupView::of(group, &form)).collect(),
        form,
        clash,
        ..blank
    };
    let mut read = ask.reader(FIELDS);
    let end = ended(&mut read);
    let stand = stand(&mut read, held.body.stand.as_ref());
    // Programs may leave the number out and end whatever stands.
    let from = read.count("from_number").map_or(held.number, u32::from);
    if end.is_none() && !read.is_refused() {
        read.refuse(
            Refusal::new("ended_on", "Say on which day it was ended, and how")
                .given("nothing")
                .accepted("a day and a way")
                .example("2026-04-20"),
        );
    }
    if read.is_refused() {
        return Err(read.refused(|form| again(form, None)));
    }
    // What the form shows empty of the stand was taken out; a program that says nothing of it leaves it as it is.
    const STAND: &[&str] = GROUPS[1].fields;
    let spoken = STAND.iter().chain(&["stage"]).any(|name| ask.body.get(name).is_some());
    let stand = if spoken { stand } else { held.body.stand.clone() };
    let body = CoverCrop { ended: end, stand, ..held.body.clone() };
    match ask.write(|book, stamp| book.revise(held.id, from, body.clone(), "ended", stamp))? {
        Err(BookError::Clash { now, yours, .. }) => {
            let clash = clash_of(ask, &*ask.snapshot()?, &now, yours.as_deref());
            read.refuse(clash_refusal(&clash));
            let number = now.number.to_string();
            Err(read.clashed(|form| again(form.set("from_number", number), Some(clash))))
        }
        other => {
            let other = other.map_err(|error| placed(&body, error, &mut read));
            let kept = read.kept(other, |form| again(form, None))?;
            Shown::kept("/covers?done=kept#ended", kept)
        }
    }
}
