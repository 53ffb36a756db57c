//! Forms of the things a farm has: one file a kind, all drawn, read and corrected the same way.

pub(crate) mod application;
mod bed;
pub(crate) mod cover;
mod crop;
mod harvest;
mod material;
mod normals;
mod note;
pub(crate) mod photo;
mod planting;
mod plot;
mod sample;
mod stock;
mod structure;
mod water_supply;
pub(crate) mod watering;
mod watering_system;
mod weather_days;

pub(crate) use weather_days::fits_the_form;

use askama::Template;
use book::model::{
    Application, Bed, Body, CoverCrop, EntryId, FarmCrop, Harvest, Kind, Material, Note, Planting, Plot,
    Record, Sample, Stock, Structure, WaterSupply, WateringDone, WateringSystem, WeatherNormals,
    WeatherTable,
};
use book::{BookError, Held, Snapshot};
use ground::kit::Refusal;
use ground::kit::units::UnitSystem;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Field, Form, Group, GroupView, Reader, in_its_row};
use crate::problem::{Problem, capital};
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::words::{self, Change};

/// Addresses of the forms for new things. Corrections are at `/records/{id}/correct`.
pub const ROUTES: &[Route] = &[
    Route::page("/plots/new", "The form of a new plot", blank::<Plot>),
    Route::save("/plots/new", "Adds a plot", plot::FIELDS, add::<Plot>),
    Route::page("/beds/new", "The form of new beds", blank::<Bed>),
    Route::save("/beds/new", "Adds beds to a plot", bed::FIELDS, add::<Bed>),
    Route::page("/structures/new", "The form of a new building or fence", blank::<Structure>),
    Route::save("/structures/new", "Adds a building or fence", structure::FIELDS, add::<Structure>),
    Route::page("/samples/new", "The form of a new sample", blank::<Sample>),
    Route::save("/samples/new", "Adds a sample", sample::FIELDS, add::<Sample>),
    Route::page("/notes/new", "The form of a new note", blank::<Note>),
    Route::save("/notes/new", "Adds a note", note::FIELDS, add::<Note>),
    Route::page("/plantings/new", "The form of a new planting", blank::<Planting>),
    Route::save("/plantings/new", "Writes down what grows in a bed", planting::FIELDS, add::<Planting>),
    Route::page("/cover-crops/new", "The form of a cover crop", blank::<CoverCrop>),
    Route::save("/cover-crops/new", "Writes down a cover crop", cover::FIELDS, add::<CoverCrop>),
    Route::page("/materials/new", "The form of a material for the shelf", blank::<Material>),
    Route::save("/materials/new", "Puts a material on the shelf", material::FIELDS, add::<Material>),
    Route::page("/stocks/new", "The form of what is in hand of a material", blank::<Stock>),
    Route::save("/stocks/new", "Writes down what was counted, bought or lost", stock::FIELDS, add::<Stock>),
    Route::page("/crops/new", "The form of a crop of the farm's own", blank::<FarmCrop>),
    Route::save("/crops/new", "Adds a crop of the farm's own", crop::FIELDS, add::<FarmCrop>),
    Route::page("/water-supplies/new", "The form of a new water supply", blank::<WaterSupply>),
    Route::save("/water-supplies/new", "Adds a water supply", water_supply::FIELDS, add::<WaterSupply>),
    Route::page("/watering-systems/new", "The form of how a bed is watered", blank::<WateringSystem>),
    Route::save(
        "/watering-systems/new",
        "Writes down how a bed is watered",
        watering_system::FIELDS,
        add::<WateringSystem>,
    ),
    Route::page("/waterings/new", "The form of a watering that was given", blank::<WateringDone>),
    Route::save(
        "/waterings/new",
        "Writes down a watering that was given",
        watering::FIELDS,
        add::<WateringDone>,
    ),
    Route::page("/applications/new", "The form of a material that was spread", blank::<Application>),
    Route::save("/applications/new", "Writes down what was spread", application::FIELDS, add::<Application>),
    Route::page("/harvests/new", "The form of a harvest", blank::<Harvest>),
    Route::save("/harvests/new", "Writes down a harvest", harvest::FIELDS, add::<Harvest>),
    Route::page(
        "/weather/normals/new",
        "The form of the usual weather of each month",
        blank::<WeatherNormals>,
    ),
    Route::save("/weather/normals/new", "Keeps the usual weather", normals::FIELDS, add::<WeatherNormals>),
    Route::page(
        "/weather/days/new",
        "The form of a few days of weather, seen or forecast",
        blank::<WeatherTable>,
    ),
    Route::save(
        "/weather/days/new",
        "Keeps a few days of weather",
        weather_days::FIELDS,
        add::<WeatherTable>,
    ),
];

/// A record that is written through a form.
pub(crate) trait Formed: Record + Send + 'static {
    /// Its fields, named as in the record.
    const FIELDS: &'static [Field];
    /// Heading of the form for a new one.
    const NEW: &'static str;
    /// What it is for, in a sentence or two.
    const LEAD: &'static str;
    /// The fields in groups; none where the form is short.
    const GROUPS: &'static [Group] = &[];

    /// Reads the form. `before` is what the book holds when it is corrected.
    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self>;

    /// Fills the form with a record.
    fn fill(&self, form: Form, units: UnitSystem) -> Form;

    /// Gives the form what it needs from the book: answers to choose from, usual values.
    fn prepare(form: Form, _snapshot: &Snapshot, _ask: &Ask) -> Form {
        form
    }

    /// The page on which to see it.
    fn home(&self, snapshot: &Snapshot) -> String {
        let body: Body = self.clone().into();
        snapshot.plot_of(&body).map_or_else(|| "/".to_owned(), |plot| format!("/plots/{plot}"))
    }

    /// The list of the record that stands row by row in the form, and the row of each of its items: rows left blank
    /// between are not in the list.
    fn rows(_read: &mut Reader<'_>) -> Option<(&'static str, Vec<usize>)> {
        None
    }

    /// Gives a refusal of the book the name that its field has in the form, and the words.
    fn placed(&self, refusal: Refusal) -> Refusal {
        refusal
    }
}

/// Fields below the form of a correction.
pub(crate) const CORRECTION: &[Field] = &[
    Field::text(
        "reason",
        "Why it is changed",
        "A few words, for whoever reads the history: \u{201c}typing slip\u{201d} will do",
    ),
    Field::hidden("from_number").optional(),
];

/// A form with a heading and a button.
#[derive(Template, Serialize)]
#[template(path = "thing.html")]
pub(crate) struct ThingPage {
    #[serde(skip)]
    pub(crate) shell: Shell,
    pub(crate) title: String,
    pub(crate) lead: String,
    pub(crate) form: Form,
    /// The fields in groups, where it has some.
    #[serde(skip)]
    pub(crate) groups: Vec<GroupView>,
    #[serde(skip)]
    pub(crate) button: &'static str,
    /// Whether a file is sent with it.
    #[serde(skip)]
    pub(crate) with_file: bool,
    #[serde(skip)]
    pub(crate) back: String,
    /// The record was changed since the form was opened: how the book now differs from what was typed.
    pub(crate) clash: Option<Clash>,
}

/// What stands in the book against what was typed.
#[derive(Debug, Clone, Serialize)]
pub(crate) struct Clash {
    /// Who wrote the present version, and when.
    pub(crate) who: String,
    /// Lines that differ: `before` is in the book now, `after` was typed.
    pub(crate) lines: Vec<Change>,
}

fn blank<T: Formed>(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let form = prepared::<T>(ask.form_from_query(T::FIELDS), &snapshot, ask);
    Shown::page(page_of_new::<T>(ask, form, false))
}

fn add<T: Formed>(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let mut read = ask.reader(T::FIELDS);
    let body = T::read(&mut read, None);
    let again = |form: Form| page_of_new::<T>(ask, prepared::<T>(form, &snapshot, ask), true);
    let Some(body) = body.filter(|_| !read.is_refused()) else {
        return Err(read.refused(again));
    };
    let home = body.home(&snapshot);
    let written = ask.write(|book, stamp| book.record(body.clone(), stamp))?;
    let written = written.map_err(|error| placed(&body, error, &mut read));
    let kept = read.kept(written, again)?;
    // A new plot has a page of its own to go on from.
    let to = if T::KIND == Kind::Plot { format!("/plots/{}", kept.id) } else { home };
    Shown::kept(format!("{to}?done=kept"), kept)
}

fn prepared<T: Formed>(form: Form, snapshot: &Snapshot, ask: &Ask) -> Form {
    T::prepare(form, snapshot, ask)
}

/// A refusal of the book, at the field of the form.
pub(crate) fn placed<T: Formed>(body: &T, error: BookError, read: &mut Reader<'_>) -> BookError {
    match error {
        BookError::Refused(mut refusal) => {
            if let Some((list, rows)) = T::rows(read) {
                refusal.field = in_its_row(&refusal.field, list, &rows);
            }
            BookError::Refused(body.placed(refusal))
        }
        other => other,
    }
}

fn groups_of<T: Formed>(form: &Form) -> Vec<GroupView> {
    T::GROUPS.iter().map(|group| GroupView::of(group, form)).collect()
}

fn page_of_new<T: Formed>(ask: &Ask, form: Form, refused: bool) -> ThingPage {
    let shell = ask.shell(Section::Farm, T::NEW);
    ThingPage {
        shell: if refused { shell.refused() } else { shell },
        title: T::NEW.to_owned(),
        lead: T::LEAD.to_owned(),
        groups: groups_of::<T>(&form),
        form,
        button: "Save",
        with_file: false,
        back: came_from::<T>(ask),
        clash: None,
    }
}

/// The page one came from, as far as the form tells: the plot it speaks of, or that of its bed.
fn came_from<T: Formed>(ask: &Ask) -> String {
    let named = |name: &str| {
        let text = ask.body.text(name).or_else(|| ask.query.text(name))?;
        text.parse::<EntryId>().ok()
    };
    let of_bed = || ask.snapshot().ok()?.plot_of_bed(named("bed")?);
    match named("plot").or_else(of_bed) {
        Some(plot) => format!("/plots/{plot}"),
        None if matches!(T::KIND, Kind::Material | Kind::Stock) => "/shelf".to_owned(),
        None if matches!(T::KIND, Kind::WeatherNormals | Kind::WeatherTable) => "/weather".to_owned(),
        None => "/".to_owned(),
    }
}

/// The form of a correction, filled with what the book holds.
pub(crate) fn correct<T: Formed>(ask: &Ask, held: &Held<T>) -> Outcome {
    let snapshot = ask.snapshot()?;
    let form = held.body.fill(ask.form(T::FIELDS), ask.units());
    let form = prepared::<T>(form, &snapshot, ask)
        .and(ask.form(CORRECTION))
        .set("from_number", held.number.to_string());
    Shown::page(page_of_correction(ask, &snapshot, held, form, None))
}

/// Writes a correction. When somebody else was quicker, both versions are shown.
pub(crate) fn save_correction<T: Formed>(ask: &Ask, held: &Held<T>) -> Outcome {
    let snapshot = ask.snapshot()?;
    let mut read = ask.reader(T::FIELDS).also(CORRECTION);
    let body = T::read(&mut read, Some(&held.body));
    let reason = read.text("reason").unwrap_or_default().to_owned();
    // Programs may leave the number out and correct whatever stands.
    let from = read.count("from_number").map_or(held.number, u32::from);
    let again = |form: Form, clash: Option<Clash>| {
        let form = prepared::<T>(form, &snapshot, ask);
        page_of_correction(ask, &snapshot, held, form, clash)
    };
    let Some(body) = body.filter(|_| !read.is_refused()) else {
        return Err(read.refused(|form| refused(again(form, None))));
    };
    let home = body.home(&snapshot);
    match ask.write(|book, stamp| book.revise(held.id, from, body.clone(), &reason, stamp))? {
        Err(BookError::Clash { now, yours, .. }) => {
            let clash = clash_of(ask, &snapshot, &now, yours.as_deref());
            read.refuse(clash_refusal(&clash));
            let number = now.number.to_string();
            Err(read.clashed(|form| refused(again(form.set("from_number", number), Some(clash)))))
        }
        other => {
            let other = other.map_err(|error| placed(&body, error, &mut read));
            let kept = read.kept(other, |form| refused(again(form, None)))?;
            Shown::kept(format!("{home}?done=corrected"), kept)
        }
    }
}

fn refused(mut page: ThingPage) -> ThingPage {
    page.shell = page.shell.refused();
    page
}

/// What stands in the book now against what was to be stored.
pub(crate) fn clash_of(ask: &Ask, snapshot: &Snapshot, now: &Held<Body>, yours: Option<&Body>) -> Clash {
    let by = if now.recorded_by.is_empty() { "someone" } else { &now.recorded_by };
    Clash {
        who: format!("{by}, {}", crate::when::moment(now.recorded_at)),
        lines: yours.map(|yours| words::changes(&now.body, yours, snapshot, ask.units())).unwrap_or_default(),
    }
}

/// The sentence on top of a form that came too late.
pub(crate) fn clash_refusal(clash: &Clash) -> Refusal {
    Refusal::new(
        "",
        format!(
            "This record was changed since you opened it ({}). Compare the two below, then save again to put yours in its place",
            clash.who
        ),
    )
}

fn page_of_correction<T: Formed>(
    ask: &Ask,
    snapshot: &Snapshot,
    held: &Held<T>,
    form: Form,
    clash: Option<Clash>,
) -> ThingPage {
    let mut groups = groups_of::<T>(&form);
    if !groups.is_empty() {
        groups.push(GroupView::of(&Group::of("The change", "", &["reason", "from_number"]), &form));
    }
    let what = words::titled(&held.body.clone().into());
    ThingPage {
        shell: ask.shell(Section::Farm, format!("Change {what}")),
        title: format!("Change the {what}"),
        lead: "The version that stands now stays in the history.".to_owned(),
        groups,
        form,
        button: "Save the change",
        with_file: false,
        back: held.body.home(snapshot),
        clash,
    }
}

/// The plots of the book as answers.
pub(crate) fn plots(form: Form, snapshot: &Snapshot) -> Form {
    form.choices("plot", snapshot.plots.iter().map(|plot| (plot.id.to_string(), plot.body.name.clone())))
}

/// The beds of the book as answers, those of the plot that was asked for first.
pub(crate) fn beds(form: Form, snapshot: &Snapshot, ask: &Ask) -> Form {
    let plot = ask.query.text("plot").and_then(|plot| plot.parse::<EntryId>().ok());
    let mut beds: Vec<&Held<Bed>> = snapshot.beds.iter().collect();
    beds.sort_by_key(|bed| plot != Some(bed.body.plot));
    let here: Vec<String> =
        beds.iter().filter(|bed| plot == Some(bed.body.plot)).map(|bed| bed.id.to_string()).collect();
    let form = match here.as_slice() {
        [only] if ask.body.is_empty() => form.with("bed", only),
        _ => form,
    };
    let form = match beds.is_empty() {
        true => form.hint("bed", "No bed is written down yet; add beds on the page of their plot first"),
        false => form,
    };
    let named = |bed: &Held<Bed>| {
        (bed.id.to_string(), format!("{}, {}", bed.body.name, words::name_of(snapshot, bed.body.plot)))
    };
    form.choices("bed", beds.into_iter().map(named))
}

/// Reports a record that the page was made for and that is gone.
pub(crate) fn gone(what: &str) -> Problem {
    Problem::not_found(capital(&format!("{what} is not in this book, or was withdrawn.")))
}
