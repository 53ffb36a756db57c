//! A jar still settling: when each mark is due, and every mark kept as it is made.

use askama::Template;
use book::model::seen::JarSeen;
use book::model::{EntryId, Observation, Seen};
use book::{BookError, Held, Snapshot};
use figures::Figure;
use ground::kit::units::{Dimension, UnitSystem, show as show_measure};
use ground::kit::{Bounded, Refusal};
use ground::texture::jar::reading::SettledFor;
use ground::texture::jar::{Boundary, Marks, TimedMark};
use jiff::{SignedDuration, Timestamp};
use serde::Serialize;

use super::{boundary, water};
use crate::ask::Ask;
use crate::form::{Field, FieldView, Form, Reader, shown};
use crate::jars::{self, MarkDue};
use crate::problem::{Problem, Trouble};
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::when;

/// Marks that can wait for their heights.
const ROWS: [&str; 8] =
    ["height_1", "height_2", "height_3", "height_4", "height_5", "height_6", "height_7", "height_8"];

const HINT: &str =
    "For example 2 3/16 in or 55 mm; a range such as 1 1/8 to 1 1/4 in; or \u{201c}not seen\u{201d}";

/// Fields of a mark.
pub(crate) const MARK: &[Field] = &[
    Field::reading(
        "top",
        "Height of the mark above the jar floor",
        "Measure it now or later: the pen stays on the glass. A range such as 1 1/8 to 1 1/4 in is welcome",
        Dimension::SmallLength,
    )
    .optional(),
    Field::tick("not_seen", "I could not see where the settled soil ends", ""),
    Field::measure("ago", "How long ago it was drawn", "Leave empty if just now", Dimension::Duration)
        .optional(),
    Field::hidden("from_number").optional(),
    // When the button was first pressed: a height that has to be typed again costs no time.
    Field::hidden("drawn_at").optional(),
];

const fn height(name: &'static str) -> Field {
    Field::reading(name, "Height of this mark", HINT, Dimension::SmallLength).optional()
}

/// Fields of the heights that were left open.
pub(crate) const HEIGHTS: &[Field] = &[
    height("height_1"),
    height("height_2"),
    height("height_3"),
    height("height_4"),
    height("height_5"),
    height("height_6"),
    height("height_7"),
    height("height_8"),
];

/// Fields of the end.
pub(crate) const FINISH: &[Field] = &[water::CLARITY, water::FLOATING];

/// A mark made within this time of one just like it is the same press of the button.
const SAME_PRESS_S: f64 = 20.0;
/// How often a mark is tried again when another program writes at the same moment.
const TRIES: u32 = 3;

/// A jar still settling.
#[derive(Template, Serialize)]
#[template(path = "record/jar.html")]
struct JarPage {
    #[serde(skip)]
    shell: Shell,
    id: EntryId,
    number: u32,
    plot: EntryId,
    plot_name: String,
    started_at: Timestamp,
    #[serde(skip)]
    started: String,
    finished: bool,
    due: Vec<DueLine>,
    next: Option<MarkDue>,
    #[serde(skip)]
    next_due: String,
    made: Vec<MadeLine>,
    figure: Option<Figure>,
    /// What was supposed, because it was not said.
    supposed: Option<&'static str>,
    #[serde(skip)]
    form: Form,
    #[serde(skip)]
    open_heights: bool,
}

/// A mark that is due.
#[derive(Serialize)]
struct DueLine {
    #[serde(flatten)]
    due: MarkDue,
    /// "14 April 2025, 18:05:20".
    when: String,
    after: String,
    /// "made", "next", "missed" or "to come".
    state: &'static str,
}

/// A mark that was made.
#[derive(Serialize)]
struct MadeLine {
    after: String,
    when: String,
    /// Its height; empty where it was not measured yet.
    height: String,
    /// Field for a height that is still open.
    #[serde(skip)]
    field: Option<FieldView>,
}

/// The page of a jar.
pub(crate) fn show(ask: &Ask) -> Outcome {
    let (snapshot, held) = found(ask)?;
    Shown::page(jar_page(ask, &snapshot, &held, blank(ask)))
}

/// Makes a mark: the time counts from the press of the button, the height may follow.
pub(crate) fn mark(ask: &Ask) -> Outcome {
    let (snapshot, held) = found(ask)?;
    let mut read = ask.reader(MARK);
    let top = boundary(&mut read, "top");
    let not_seen = read.tick("not_seen");
    let ago = read.measure::<SettledFor>("ago");
    let from = read.count("from_number").map(u32::from);
    let now = ask.stamp().at;
    let drawn_at = drawn_at(&mut read, now, ago);
    if not_seen && matches!(top, Some(Boundary::At { .. } | Boundary::Between { .. })) {
        read.refuse(
            Refusal::new("not_seen", "A height was typed, and it is said that it could not be seen")
                .accepted("one of the two"),
        );
    }
    let top = if not_seen { Some(Boundary::No) } else { top };
    let again = |form: Form| {
        let form = match drawn_at {
            Some(at) if ago.is_none() => form.set("drawn_at", at.to_string()),
            _ => form,
        };
        page_again(ask, &snapshot, &held, form)
    };
    let (Some(at), false) = (drawn_at, read.is_refused()) else { return Err(read.refused(again)) };
    let kept = change(ask, held.id, |jar, number| {
        let Some(started_at) = jar.started_at else { return Ok(None) };
        let after_s = since(started_at, at)?;
        let mark = TimedMark { after_s, top: top.unwrap_or(Boundary::No) };
        if from.is_some_and(|from| from != number) && pressed_twice(jar, mark.clone()) {
            return Ok(None);
        }
        let marks = with_mark(jars::marks(jar), mark)?;
        let what = if top.is_some() { "marked" } else { "mark drawn, height to follow" };
        Ok(Some((Marks::Timed { marks }, format!("{what} after {}", told_s(after_s.get())))))
    })?;
    let kept = kept.map_err(|error| {
        refused_at(error, |row| match row {
            Some(_) => "top".to_owned(),
            None => String::new(),
        })
    });
    let kept = read.kept(kept, again)?;
    Shown::kept(format!("/records/{}/jar", held.id), kept)
}

/// Gives heights to marks that were drawn before.
pub(crate) fn heights(ask: &Ask) -> Outcome {
    let (snapshot, held) = found(ask)?;
    let mut read = ask.reader(HEIGHTS);
    let typed: Vec<Option<Boundary>> = ROWS.iter().map(|name| boundary(&mut read, name)).collect();
    let again = |form: Form| page_again(ask, &snapshot, &held, form);
    if !read.is_refused() && typed.iter().all(Option::is_none) {
        read.refuse(Refusal::new("", "No height was given").given("").accepted(HINT).example("2 3/16 in"));
    }
    if read.is_refused() {
        return Err(read.refused(again));
    }
    let kept = change(ask, held.id, |jar, _| {
        let mut marks = jars::marks(jar).to_vec();
        for (mark, top) in marks.iter_mut().zip(&typed) {
            if let Some(top) = top {
                mark.top = *top;
            }
        }
        Ok(Some((Marks::Timed { marks }, "heights measured".to_owned())))
    })?;
    let kept = read.kept(kept.map_err(|error| refused_at(error, row_field)), again)?;
    Shown::kept(format!("/records/{}/jar", held.id), kept)
}

/// Finishes a jar: it now speaks for its plot.
pub(crate) fn finish(ask: &Ask) -> Outcome {
    let (snapshot, held) = found(ask)?;
    let mut read = ask.reader(FINISH);
    let (clarity, floating) = water::end(&mut read);
    if let Seen::Jar(jar) = &held.body.seen
        && jars::marks(jar).iter().all(|mark| mark.top == Boundary::No)
    {
        read.refuse(
            Refusal::new("", "No mark of this jar has a height yet, so it would say nothing of the soil")
                .given("")
                .accepted("the height of at least one mark"),
        );
    }
    let again = |form: Form| page_again(ask, &snapshot, &held, form);
    let (Some(clarity), false) = (clarity, read.is_refused()) else { return Err(read.refused(again)) };
    let done = |jar: &JarSeen| {
        let mut jar = jar.clone();
        jar.finished = true;
        jar.reading.water_after_a_day = clarity;
        jar.reading.floating_organic_mm = floating;
        jar
    };
    let kept = revise(ask, held.id, |jar, _| {
        let jar = done(jar);
        Ok(Some((jar, "finished".to_owned())))
    })?;
    let kept = read.kept(kept.map_err(|error| refused_at(error, row_field)), again)?;
    Shown::kept(format!("/plots/{}?done=kept&saw={}", held.body.plot, held.id), kept)
}

/// The jar that the address names.
fn found(ask: &Ask) -> Result<(std::sync::Arc<Snapshot>, Held<Observation>), Problem> {
    let id = ask.entry("id")?;
    let snapshot = ask.snapshot()?;
    let held = snapshot.observation(id).cloned();
    match held {
        Some(held) if matches!(&held.body.seen, Seen::Jar(jar) if matches!(jar.reading.marks, Marks::Timed { .. })) => {
            Ok((snapshot, held))
        }
        Some(_) => Err(Trouble::new(
            axum::http::StatusCode::NOT_FOUND,
            "No timed jar",
            "This record is no jar with timed marks.",
        )
        .hint("It can be corrected from the page of its plot.")
        .into()),
        None => Err(crate::pages::things::gone("this jar")),
    }
}

fn blank(ask: &Ask) -> Form {
    ask.form(MARK).and(ask.form(HEIGHTS)).and(ask.form(FINISH))
}

/// The page again after a refusal: the fields of the other forms on it stand empty.
fn page_again(ask: &Ask, snapshot: &Snapshot, held: &Held<Observation>, refused: Form) -> JarPage {
    let refused_names: Vec<String> = refused.fields().iter().map(|field| field.name.clone()).collect();
    let others: Vec<FieldView> =
        blank(ask).fields().iter().filter(|field| !refused_names.contains(&field.name)).cloned().collect();
    let mut page = jar_page(ask, snapshot, held, refused.and(Form::of(others)));
    page.shell = page.shell.refused();
    page
}

fn jar_page(ask: &Ask, snapshot: &Snapshot, held: &Held<Observation>, form: Form) -> JarPage {
    let units = ask.units();
    let now = ask.stamp().at;
    let plot_name = snapshot.plot(held.body.plot).map(|plot| plot.body.name.clone()).unwrap_or_default();
    let shell = ask.shell(Section::Record, format!("Jar of {plot_name}"));
    let Seen::Jar(jar) = &held.body.seen else {
        // Found as a jar; kept total so that no page can fail.
        return empty(shell, held, plot_name, form);
    };
    let started_at = jar.started_at.unwrap_or(held.recorded_at);
    let next = if jar.finished { None } else { jars::next(jar, started_at, now) };
    let form = form.set("from_number", held.number.to_string());
    let made: Vec<MadeLine> = jars::marks(jar)
        .iter()
        .enumerate()
        .map(|(at, mark)| MadeLine {
            after: told_s(mark.after_s.get()),
            when: after(started_at, mark.after_s.get()).map(when::to_the_second).unwrap_or_default(),
            height: match &mark.top {
                Boundary::At { mm } => shown(*mm, units),
                Boundary::Between { low_mm, high_mm } => {
                    format!("{} to {}", shown(*low_mm, units), shown(*high_mm, units))
                }
                Boundary::No => String::new(),
            },
            field: match (&mark.top, ROWS.get(at)) {
                (Boundary::No, Some(name)) if !jar.finished => Some(form.draw(name)),
                _ => None,
            },
        })
        .collect();
    let figure =
        (!made.is_empty()).then(|| figures::jar::jar("look-jar", &jar.reading, units).ok()).flatten();
    let due = jars::due(jar, started_at)
        .into_iter()
        .map(|due| DueLine {
            due,
            when: when::due(started_at, due.due_at),
            after: told_s(due.due_at.duration_since(started_at).as_secs_f64()),
            state: if next == Some(due) {
                "next"
            } else if jars::stood_for(jar, started_at, due) {
                "made"
            } else if next.is_none_or(|next| next.due_at > due.due_at) {
                "missed"
            } else {
                "to come"
            },
        })
        .collect();
    JarPage {
        shell,
        id: held.id,
        number: held.number,
        plot: held.body.plot,
        plot_name,
        started_at,
        started: when::to_the_second(started_at),
        finished: jar.finished,
        due,
        next_due: next.map(|next| when::due(started_at, next.due_at)).unwrap_or_default(),
        next,
        open_heights: made.iter().any(|line| line.field.is_some()),
        made,
        figure,
        supposed: supposed(jar),
        form,
    }
}

fn empty(shell: Shell, held: &Held<Observation>, plot_name: String, form: Form) -> JarPage {
    JarPage {
        shell,
        id: held.id,
        number: held.number,
        plot: held.body.plot,
        plot_name,
        started_at: held.recorded_at,
        started: String::new(),
        finished: true,
        due: Vec::new(),
        next: None,
        next_due: String::new(),
        made: Vec::new(),
        figure: None,
        supposed: None,
        form,
        open_heights: false,
    }
}

fn supposed(jar: &JarSeen) -> Option<&'static str> {
    match (jar.reading.water_temperature_c, jar.soil_height_mm) {
        (None, None) => {
            Some("The times suppose water at 20 °C (68 °F) and little soil, as neither was said.")
        }
        (None, Some(_)) => Some("The times suppose water at 20 °C (68 °F), as its warmth was not said."),
        (Some(_), None) => {
            Some("The times suppose little soil, as its height was not said; much soil makes them later.")
        }
        (Some(_), Some(_)) => None,
    }
}

/// Changes the marks of the jar as it stands at this moment.
fn change(
    ask: &Ask,
    id: EntryId,
    to: impl Fn(&JarSeen, u32) -> Result<Option<(Marks, String)>, Refusal>,
) -> Result<Result<Held<Observation>, BookError>, Problem> {
    revise(ask, id, |jar, number| {
        Ok(to(jar, number)?.map(|(marks, reason)| {
            let mut jar = jar.clone();
            jar.reading.marks = marks;
            (jar, reason)
        }))
    })
}

/// Revises the jar as it stands at this moment. A mark never waits for a person to look at two
/// versions: it is added to whatever stands.
fn revise(
    ask: &Ask,
    id: EntryId,
    to: impl Fn(&JarSeen, u32) -> Result<Option<(JarSeen, String)>, Refusal>,
) -> Result<Result<Held<Observation>, BookError>, Problem> {
    let mut tries = 0;
    loop {
        tries += 1;
        let written = ask.write(|book, stamp| {
            let held = book.get::<Observation>(id)?;
            let Seen::Jar(jar) = &held.body.seen else {
                return Err(BookError::NotFound { what: "jar", id });
            };
            if jar.finished {
                return Err(Refusal::new("", "This jar is finished; correct it instead").into());
            }
            match to(jar, held.number)? {
                None => Ok(held),
                Some((jar, reason)) => {
                    let body = Observation { seen: Seen::Jar(jar), ..held.body.clone() };
                    book.revise(id, held.number, body, &reason, stamp)
                }
            }
        })?;
        match written {
            Err(BookError::Clash { .. }) if tries < TRIES => {}
            other => return Ok(other),
        }
    }
}

/// The moment at which the mark was drawn.
fn drawn_at(read: &mut Reader<'_>, now: Timestamp, ago: Option<SettledFor>) -> Option<Timestamp> {
    if let Some(ago) = ago {
        let ago = SignedDuration::try_from_secs_f64(ago.get()).ok()?;
        return now.checked_sub(ago).ok();
    }
    let Some(text) = read.text("drawn_at") else { return Some(now) };
    let at = text.parse::<Timestamp>().ok().filter(|at| *at <= now);
    if at.is_none() {
        read.refuse(
            Refusal::new("drawn_at", format!("\u{201c}{text}\u{201d} is no moment that has passed"))
                .given(text)
                .accepted("a date and time, or nothing for just now")
                .example("2026-04-12T08:30:45Z"),
        );
    }
    at
}

/// Time from setting the jar down to a mark; at least a second, the least that is kept.
fn since(started_at: Timestamp, at: Timestamp) -> Result<SettledFor, Refusal> {
    let seconds = at.duration_since(started_at).as_secs_f64();
    let kept = if (0.0..1.0).contains(&seconds) { 1.0 } else { seconds.round() };
    SettledFor::new(kept).map_err(|_| {
        Refusal::new(
            "ago",
            "The mark would have been made before the jar was set down, or more than a year after",
        )
        .accepted("a time after the jar was set down")
        .example("30 s")
    })
}

fn with_mark(marks: &[TimedMark], mark: TimedMark) -> Result<Vec<TimedMark>, Refusal> {
    if marks.len() >= ROWS.len() {
        return Err(Refusal::new("top", "This jar has eight marks, which is as many as are kept")
            .accepted("a correction of one of them"));
    }
    if marks.iter().any(|made| made.after_s == mark.after_s) {
        return Err(Refusal::new("ago", "A mark was made at that very time already")
            .given(told_s(mark.after_s.get()))
            .accepted("another time, or a correction of the mark that is there"));
    }
    let mut marks = marks.to_vec();
    marks.push(mark);
    marks.sort_by(|a, b| a.after_s.get().total_cmp(&b.after_s.get()));
    Ok(marks)
}

/// Whether the last mark is the same press of a wet thumb.
fn pressed_twice(jar: &JarSeen, mark: TimedMark) -> bool {
    jars::marks(jar)
        .iter()
        .any(|made| made.top == mark.top && (made.after_s.get() - mark.after_s.get()).abs() < SAME_PRESS_S)
}

/// A refusal of the book at the field of this page: `field` names the one of a mark by its place.
fn refused_at(error: BookError, field: impl Fn(Option<usize>) -> String) -> BookError {
    match error {
        BookError::Refused(mut refusal) if refusal.field.starts_with("seen.") => {
            let place = refusal
                .field
                .split_once("marks[")
                .and_then(|(_, rest)| rest.split_once(']'))
                .and_then(|(place, _)| place.parse::<usize>().ok());
            refusal.field = field(place);
            if place.is_some() {
                refusal.message.push_str(
                    ". A mark can be kept without its height; if another one is wrong, correct that first",
                );
            }
            BookError::Refused(refusal)
        }
        other => other,
    }
}

/// The field of a height by the place of its mark.
fn row_field(place: Option<usize>) -> String {
    place.and_then(|place| ROWS.get(place)).map_or_else(String::new, |name| (*name).to_owned())
}

fn after(started_at: Timestamp, seconds: f64) -> Option<Timestamp> {
    started_at.checked_add(SignedDuration::try_from_secs_f64(seconds).ok()?).ok()
}

fn told_s(seconds: f64) -> String {
    show_measure(seconds.round(), Dimension::Duration, UnitSystem::Metric)
}
