//! `/sampling/{id}`: a kept sampling plan, to walk by.

use advice::plan::FarmPlan;
use advice::sampling_plan::{CAUTIONS, ToldPlan, place_words, tell, told};
use askama::Template;
use book::model::SamplingPurpose;
use book::{WalkPoint, points_geojson, points_gpx};
use figures::plan::PlanSize;
use report::field::{PointsPicture, sides_m};
use serde::Serialize;

use super::Drawn;

use crate::ask::Ask;
use crate::pages::export::dated;
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

#[derive(Template, Serialize)]
#[template(path = "sampling/kept.html")]
struct KeptPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(flatten)]
    told: ToldPlan,
    lead: String,
    steps: Vec<String>,
    bring: Vec<String>,
    /// Its purpose as the question names it.
    #[serde(skip)]
    purpose: &'static str,
    /// How its points are found.
    way: Option<String>,
    cautions: &'static [&'static str],
    /// Why a phone cannot be led to the points, where it cannot.
    no_gpx: Option<String>,
    #[serde(skip)]
    rows: Vec<Row>,
    /// Columns of the points that tell one from another.
    #[serde(skip)]
    columns: Columns,
    #[serde(skip)]
    figure: Option<Drawn>,
    /// Address, words, and is it printed?
    #[serde(skip)]
    sheets: [(String, &'static str, bool); 3],
}

#[derive(Clone, Copy)]
struct Columns {
    place: bool,
    bag: bool,
    samples: bool,
}

impl Columns {
    fn of(rows: &[Row]) -> Self {
        Self {
            place: rows.iter().any(|row| !row.place.is_empty()),
            bag: rows.iter().any(|row| !row.bag.is_empty() && row.bag != row.number.to_string()),
            samples: rows.iter().any(|row| row.samples > 0),
        }
    }
}

struct Row {
    number: u16,
    bag: String,
    way: String,
    place: String,
    samples: usize,
}

fn plan(ask: &Ask) -> Result<ToldPlan, Problem> {
    let snapshot = ask.snapshot()?;
    told(&snapshot, ask.entry("id")?, ask.units()).ok_or_else(|| {
        Problem::not_found(
            "This book has no such sampling plan. It may have been withdrawn, or belong to another book.",
        )
    })
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let told = plan(ask)?;
    let units = ask.units();
    let body = &told.plan;
    let plot = snapshot.plot(body.plot);
    let farm = FarmPlan::about(&snapshot, body);
    let rows: Vec<Row> = told
        .points
        .iter()
        .map(|point| Row {
            number: point.number,
            bag: point.bag.map_or_else(String::new, |bag| bag.to_string()),
            way: match (point.along_across_m, point.step_m) {
                (Some(place), _) => place_words(place, units),
                (None, Some(step)) => format!("{} from the last", tell::far(step, units)),
                (None, None) => "start".to_owned(),
            },
            place: point
                .degrees
                .map_or_else(String::new, |[longitude, latitude]| format!("{latitude:.6}, {longitude:.6}")),
            samples: point.samples,
        })
        .collect();
    let points: Vec<_> =
        told.points.iter().filter_map(|point| Some((point.number, point.metres?, point.bag))).collect();
    let figure = (!points.is_empty()).then(|| {
        Drawn::of(PointsPicture {
            title: &body.name,
            farm: &farm,
            plot: body.plot,
            plot_name: &told.plot_name,
            sides_m: plot.and_then(|plot| sides_m(&plot.body)),
            points: &points,
            corner: told.corner,
            date: &advice::words::day(body.made_on),
            units,
            size: PlanSize::Wide,
        })
    });
    let lead = tell::kept(&told, units);
    let id = told.id;
    // A probe fills no bags; its points may be staked.
    let labels = match body.purpose {
        SamplingPurpose::Structure => "Point labels",
        _ => "Bag labels",
    };
    let sheets = [
        ("/sampling/{id}/sheet.pdf", "Field sheet", true),
        ("/sampling/{id}/labels.pdf", labels, true),
        ("/sampling/{id}/enter", "Type the results in", false),
    ]
    .map(|(path, words, printed)| (path.replace("{id}", &id.to_string()), words, printed));
    Shown::page(KeptPage {
        shell: ask.shell(Section::Farm, body.name.clone()),
        steps: tell::steps(&tell::Walk::of(body), units),
        purpose: super::key_of(body.purpose),
        way: told.corner.map(|corner| corner.words(units)),
        bring: tell::bring(body.purpose, told.apart),
        cautions: CAUTIONS,
        no_gpx: told.in_degrees().err().map(|refusal| refusal.message),
        lead,
        columns: Columns::of(&rows),
        rows,
        figure,
        sheets,
        told,
    })
}

fn walk(ask: &Ask) -> Result<(String, Vec<WalkPoint>), Problem> {
    let told = plan(ask)?;
    let points =
        told.in_degrees()?.into_iter().map(|(number, at, note)| WalkPoint { number, at, note }).collect();
    Ok((told.plan.name, points))
}

pub(super) fn gpx(ask: &Ask) -> Outcome {
    let (name, points) = walk(ask)?;
    file(ask, "gpx", "application/gpx+xml", points_gpx(&name, &points))
}

pub(super) fn geojson(ask: &Ask) -> Outcome {
    let (name, points) = walk(ask)?;
    file(ask, "geojson", "application/geo+json", points_geojson(&name, &points))
}

fn file(ask: &Ask, ending: &str, media_type: &str, text: String) -> Outcome {
    let name = dated(ask, ending)?.replacen(&format!(".{ending}"), &format!("-points.{ending}"), 1);
    Ok(Shown::File { media_type: media_type.to_owned(), name: Some(name), bytes: text.into_bytes() })
}
