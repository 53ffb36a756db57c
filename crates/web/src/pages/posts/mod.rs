//! Posts: how deep, what pulls them out, and the wind at which they let go, for a structure or for a post that is
//! of none yet; and moving earth on a plot.

mod earth;
pub(crate) mod fields;
mod picture;

use advice::posts::tell::{self, Sentences};
use advice::posts::{PostAsk, PostReport, posts, usual_post};
use askama::Template;
use book::Snapshot;
use book::model::EntryId;
use figures::Figure;
use ground::kit::units::{Dimension, UnitSystem, in_units};
use ground::kit::{Bounded, Refusal};
use ground::posts::frost_foot::FrostDepth;
use ground::posts::wind_pressure::{Exposure, GustSpeed};
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Group, GroupView, Kind, Reader, join};
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::typed::Typed;

/// Addresses of posts and earthworks.
pub const ROUTES: &[Route] = &[
    Route::page(
        "/structures/{id}/posts",
        "The posts of a structure: depth, pull, wind, concrete; the fields of a post as a query change it",
        of_structure,
    ),
    Route::page(
        "/plots/{plot}/posts",
        "A post on a plot that is of no structure: the fields of a post, ?wind_m_s=, ?exposure= and ?frost_m= as a query",
        of_plot,
    ),
    Route::page(
        "/plots/{plot}/earthworks",
        "Moving earth on a plot: gravel on a track, a trench, a pond; their sizes as a query",
        earth::show,
    ),
];

/// What may be asked otherwise: the post, and the wind and frost that it stands in.
const PLACE: &[Field] = &[
    Field::measure(
        "wind_m_s",
        "Gust speed of your local code",
        "From its map for buildings of this kind: 105 mph or 47 m/s",
        Dimension::Speed,
    )
    .optional(),
    Field::pick("exposure", "What stands upwind", "", &EXPOSURES).optional(),
    Field::measure(
        "frost_m",
        "Frost depth of your local code",
        "For example 36 in or 90 cm",
        Dimension::Length,
    )
    .optional(),
];
const FIELDS: &[Field] = &join::<{ fields::POST.len() + PLACE.len() }>(fields::POST, PLACE);
const PLACE_GROUP: Group = Group::of("The wind and the frost", "", &["wind_m_s", "exposure", "frost_m"]);

/// What may stand upwind, as answers.
pub(crate) const EXPOSURES: [Choice; 3] = [
    Choice::new("b", "Woods or buildings close together (B)"),
    Choice::new("c", "Open fields with scattered obstacles (C)"),
    Choice::new("d", "Flat open ground or water (D)"),
];

/// The exposure of a key.
pub(crate) fn exposure_of(key: &str) -> Exposure {
    match key {
        "b" => Exposure::B,
        "d" => Exposure::D,
        _ => Exposure::C,
    }
}

/// The key of an exposure.
pub(crate) fn exposure_key(exposure: Exposure) -> &'static str {
    match exposure {
        Exposure::B => "b",
        Exposure::C => "c",
        Exposure::D => "d",
    }
}

/// One way to set the post, in words.
struct FootRow {
    chosen: bool,
    way: String,
    size: String,
    comes_up: String,
    counted: String,
    lets_go: String,
    concrete: String,
}

#[derive(Template, Serialize)]
#[template(path = "posts/posts.html")]
struct PostsPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(flatten)]
    report: PostReport,
    #[serde(skip)]
    said: Sentences,
    #[serde(skip)]
    figure: Figure,
    #[serde(skip)]
    feet: Vec<FootRow>,
    #[serde(skip)]
    windy: bool,
    #[serde(skip)]
    cautions: Vec<String>,
    #[serde(skip)]
    notes: Vec<String>,
    #[serde(skip)]
    needs: Vec<String>,
    #[serde(skip)]
    rests_on: Vec<String>,
    #[serde(skip)]
    form: Form,
    #[serde(skip)]
    groups: Vec<GroupView>,
    #[serde(skip)]
    here: String,
}

fn of_structure(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let asked = structure_ask(ask, &snapshot)?;
    let here = format!("/structures/{}/posts", ask.param("id"));
    page(ask, &snapshot, asked, here)
}

/// The posts of the structure that the address names.
pub(crate) fn structure_ask(ask: &Ask, snapshot: &Snapshot) -> Result<PostAsk, Problem> {
    let id = ask.entry("id")?;
    let held = snapshot.structure(id).ok_or_else(|| {
        Problem::not_found(
            "This book has no such structure. It may have been withdrawn, or belong to another book.",
        )
    })?;
    PostAsk::of_structure(snapshot, held).ok_or_else(|| {
        Problem::from(
            Refusal::new(
                "plot",
                format!("{} stands on no plot of this book, so that its ground is not known: choose its plot first", held.body.name),
            )
            .given("no plot")
            .accepted("a structure that stands on a plot"),
        )
    })
}

fn of_plot(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = ask.plot(&snapshot)?.id;
    let asked = PostAsk { post_given: false, ..PostAsk::of_plot(&snapshot, plot, usual_post(None)) };
    page(ask, &snapshot, asked, format!("/plots/{plot}/posts"))
}

/// What the query says, with what it leaves out as it is written down: only a field that was sent empty is not known.
fn with_the_rest(ask: &Ask, asked: &PostAsk) -> Typed {
    let units = ask.units();
    let mut typed = ask.query.clone();
    // A browser sends every field but boxes without a tick; a program may send one.
    let is_box = |field: &Field| matches!(field.kind, Kind::Tick);
    let whole = FIELDS.iter().filter(|field| !is_box(field)).all(|field| ask.query.get(field.name).is_some());
    let known = filled(asked, Form::blank(FIELDS, units), units);
    for field in FIELDS {
        if ask.query.get(field.name).is_none() && !(whole && is_box(field)) {
            typed.add(field.name, known.draw(field.name).text);
        }
    }
    typed
}

/// A form with the question in it.
fn filled(asked: &PostAsk, form: Form, units: UnitSystem) -> Form {
    fields::fill(&asked.post, form, units)
        .measure("wind_m_s", asked.wind_m_s.and_then(|speed| GustSpeed::new(speed).ok()), units)
        .measure("frost_m", asked.frost_m.and_then(|depth| FrostDepth::new(depth).ok()), units)
        .with("exposure", if asked.exposure_given { exposure_key(asked.exposure) } else { "" })
}

/// Puts what was asked into the question.
fn changed(read: &mut Reader<'_>, mut asked: PostAsk, sized: bool) -> PostAsk {
    let usual = asked.post;
    if let Some(post) = fields::read(read, Some(&usual), Some(&usual)) {
        asked.post_given |= sized;
        asked.post = post;
    }
    let wind = asked.wind_m_s.and_then(|speed| GustSpeed::new(speed).ok());
    let frost = asked.frost_m.and_then(|depth| FrostDepth::new(depth).ok());
    asked.wind_m_s = read.measure_kept("wind_m_s", wind).map(GustSpeed::get);
    asked.frost_m = read.measure_kept("frost_m", frost).map(FrostDepth::get);
    let exposure = read.choice("exposure").map(exposure_of);
    asked.exposure_given = exposure.is_some();
    asked.exposure = exposure.unwrap_or(Exposure::C);
    asked
}

fn page(ask: &Ask, snapshot: &Snapshot, asked: PostAsk, here: String) -> Outcome {
    let units = ask.units();
    let any = FIELDS.iter().any(|field| ask.query.get(field.name).is_some());
    let typed = with_the_rest(ask, &asked);
    let mut read = Reader::new(FIELDS, units, &typed);
    // The size that is taken where none is written down is told, until one is typed.
    let sized = ["set", "width_mm"].iter().any(|name| ask.query.text(name).is_some());
    let wanted = if any { changed(&mut read, asked.clone(), sized) } else { asked.clone() };
    if read.is_refused() {
        let shown = built(ask, snapshot, &asked, here, Form::default())?;
        return Err(read.refused(|form| PostsPage {
            shell: shown.shell.refused(),
            groups: groups(&form),
            form,
            ..shown
        }));
    }
    let form = filled(&wanted, Form::filled(FIELDS, units, &typed), units);
    Shown::page(built(ask, snapshot, &wanted, here, form)?)
}

fn groups(form: &Form) -> Vec<GroupView> {
    if form.fields().is_empty() {
        return Vec::new();
    }
    [&fields::GROUP, &PLACE_GROUP].into_iter().map(|group| GroupView::of(group, form)).collect()
}

/// The report of a question; the same as on the page.
pub(crate) fn reported(ask: &Ask, snapshot: &Snapshot, asked: &PostAsk) -> Result<PostReport, Problem> {
    let told = ask
        .desk()?
        .told(snapshot, asked.plot)
        .ok_or_else(|| Problem::not_found("The report on this plot could not be made."))?;
    posts(snapshot, &told.report, asked)
        .ok_or_else(|| Problem::not_found("Nothing can be believed of the ground of this plot yet."))
}

fn built(
    ask: &Ask,
    snapshot: &Snapshot,
    asked: &PostAsk,
    here: String,
    form: Form,
) -> Result<PostsPage, Problem> {
    let units = ask.units();
    let report = reported(ask, snapshot, asked)?;
    let title = match report.structure {
        Some(_) => format!("Posts, {}", report.name),
        None => format!("A post, {}", report.plot_name),
    };
    Ok(PostsPage {
        shell: ask.shell(Section::Farm, title),
        said: tell::sentences(&report, units),
        figure: picture::of(&report, units),
        windy: report.feet.iter().any(|foot| foot.lets_go_m_s.is_some()),
        feet: report
            .feet
            .iter()
            .map(|foot| FootRow {
                chosen: foot.chosen,
                way: advice::words::capital(foot.words),
                size: tell::foot_size(foot, units),
                comes_up: tell::force_spread(foot.comes_up_kn, units),
                counted: tell::force_spread(foot.counted_kn, units),
                lets_go: foot.lets_go_m_s.map(|speed| tell::speed_spread(speed, units)).unwrap_or_default(),
                concrete: if foot.bags.is_empty() {
                    "none".to_owned()
                } else {
                    tell::bags(&foot.bags, units)
                },
            })
            .collect(),
        cautions: report.cautions.iter().map(|caution| in_units(caution, units)).collect(),
        notes: report.notes.iter().map(|note| in_units(note, units)).collect(),
        needs: report.needs.iter().map(|need| in_units(need, units)).collect(),
        rests_on: report.rests_on.iter().map(|line| in_units(line, units)).collect(),
        groups: groups(&form),
        form,
        here,
        report,
    })
}

/// Where the record of a structure is corrected, for links.
impl PostsPage {
    fn structure(&self) -> Option<EntryId> {
        self.report.structure
    }
}
