//! One plot: what its ground is and how surely, what that means, what to do, and what it rests on.

mod beds;
pub(crate) mod belongings;
mod evidence;
mod finding;
pub(crate) mod findings;
mod make_up;
mod settle;
mod water;

use askama::Template;
use book::model::EntryId;
use ground::kit::units::in_units;
use serde::Serialize;

use crate::ask::Ask;
use crate::pages::record::{Changed, changed};
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::{when, words};
use belongings::Belongings;
use evidence::EvidenceLine;
use findings::Group;
use make_up::MakeUp;
use settle::MeasureLine;
use water::Water;

/// Addresses of a plot.
pub const ROUTES: &[Route] = &[
    Route::page("/plots/{plot}", "One plot: its ground, what that means, and what to do", show),
    Route::page(
        "/plots/{plot}/findings/{finding}",
        "One finding on a plot, with its working and what was decided",
        finding::show,
    ),
    Route::save(
        "/plots/{plot}/findings/{finding}",
        "Accepts, puts off or refuses what a finding asks for",
        finding::FIELDS,
        finding::decide,
    ),
];

/// One plot.
#[derive(Template, Serialize)]
#[template(path = "plot.html")]
struct PlotPage {
    #[serde(skip)]
    shell: Shell,
    id: EntryId,
    name: String,
    /// "open field, 200 ft by 60 ft, slope 1 %, watered by drip".
    described: String,
    use_note: String,
    /// The zones it was parted into.
    zones: Vec<Named>,
    /// The parted plot that it is a zone of.
    zone_of: Option<Named>,
    /// Its outline on the plan of the farm.
    on_plan: Option<OnPlan>,
    headline: String,
    /// What a record just kept has changed.
    changed: Option<Changed>,
    make_up: MakeUp,
    disagreements: Vec<DisagreementLine>,
    groups: Vec<Group>,
    #[serde(skip)]
    tally: [usize; 3],
    measures: Vec<MeasureLine>,
    water: Option<Water>,
    supposed: Vec<String>,
    notes: Vec<String>,
    evidence: Vec<EvidenceLine>,
    belongings: Belongings,
}

/// Another plot.
#[derive(Serialize)]
struct Named {
    id: EntryId,
    name: String,
}

impl Named {
    fn of(plot: &book::Held<book::model::Plot>) -> Self {
        Self { id: plot.id, name: plot.body.name.clone() }
    }
}

/// The outline of a plot on the plan of the farm.
#[derive(Serialize)]
struct OnPlan {
    part: EntryId,
    area_m2: Option<f64>,
    area: String,
    /// What is wrong with it, or differs from what was typed.
    remarks: Vec<String>,
}

impl OnPlan {
    fn of(snapshot: &book::Snapshot, plot: EntryId, units: ground::kit::units::UnitSystem) -> Option<Self> {
        let plan = advice::plan::FarmPlan::of(snapshot);
        let told = advice::plan::told_of_plot(snapshot, &plan, plot, units)?;
        Some(Self { part: told.id, area_m2: told.area_m2, area: told.area_words, remarks: told.remarks })
    }
}

/// Evidence that the rest does not bear out.
#[derive(Serialize)]
struct DisagreementLine {
    sentence: String,
    /// Whether chance alone cannot explain it.
    contradicts: bool,
    record: String,
}

fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let told = desk
        .told(&snapshot, plot.id)
        .ok_or_else(|| Problem::not_found("The report on this plot could not be made."))?;
    let (report, units) = (&told.report, ask.units());
    let groups = findings::groups(&snapshot, report);
    let count = |word: crate::parts::Firmness| {
        groups.iter().flat_map(|group| &group.cards).filter(|card| card.firmness == word).count()
    };
    let tally = crate::parts::Firmness::ALL.map(count);
    Shown::page(PlotPage {
        shell: ask.shell(Section::Farm, &plot.body.name),
        id: plot.id,
        name: plot.body.name.clone(),
        described: described(&plot.body, units),
        use_note: plot.body.use_note.clone(),
        zones: snapshot.zones_of(plot.id).map(Named::of).collect(),
        zone_of: plot.body.zone_of.and_then(|whole| snapshot.plot(whole)).map(Named::of),
        on_plan: OnPlan::of(&snapshot, plot.id, units),
        headline: report.headline.clone(),
        changed: ask
            .query
            .text("saw")
            .and_then(|id| id.parse().ok())
            .and_then(|id| changed(&desk, &snapshot, plot.id, id, units)),
        make_up: MakeUp::of(&told),
        disagreements: report
            .disagreements
            .iter()
            .map(|one| DisagreementLine {
                sentence: one.sentence.clone(),
                contradicts: one.level == ground::belief::Level::Contradicts,
                record: one.id.clone(),
            })
            .collect(),
        tally,
        groups,
        // What is not known of a parted plot is found out in its zones.
        measures: if snapshot.is_parted(plot.id) { Vec::new() } else { settle::lines(&snapshot, report) },
        water: Water::of(report, units),
        supposed: report.supposed.iter().map(water::supposed).collect(),
        notes: report.notes.iter().map(|note| in_units(&note.text, units)).collect(),
        evidence: evidence::lines(&snapshot, report, units),
        belongings: Belongings::of(&snapshot, plot.id, when::day_of(ask.stamp().at), units),
    })
}

fn described(plot: &book::model::Plot, units: ground::kit::units::UnitSystem) -> String {
    let mut parts = vec![plot.place.words().to_owned(), words::size(plot.shape, units)];
    if plot.place == book::model::Place::Other {
        parts.remove(0);
    }
    parts.extend(plot.slope_percent.map(|slope| format!("slope {}", crate::form::shown(slope, units))));
    parts.extend(plot.watering.map(|way| format!("watered: {}", way.words())));
    crate::problem::capital(&parts.join(", "))
}
