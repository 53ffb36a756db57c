//! `/plots/{plot}/sampling`: what is wanted, how many cores that takes, and where to pull them.

use advice::plan::FarmPlan;
use advice::sampling_plan::tell::{self, Sentences};
use advice::sampling_plan::{
    CAUTIONS, OutlineFrom, SamplingAsk, SamplingReport, kept_already, sampling_report, usual_property,
};
use askama::Template;
use book::model::{EntryId, Plot, SamplingPurpose};
use book::{Held, Snapshot};
use figures::plan::PlanSize;
use ground::kit::units::Dimension;
use ground::kit::{Bounded, Refusal};
use ground::spatial::sampling::core_count::ErrorPercent;
use ground::spatial::sampling::ground_to_sample::{KeepOffM, MarginM};
use report::field::{PointsPicture, sides_m};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::Drawn;

use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, Width};
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::when;

pub(super) const FIELDS: &[Field] = &[
    Field::pick(
        "purpose",
        "What the soil is wanted for",
        "",
        &[
            Choice::new("fertility", "Acidity and nutrients"),
            Choice::new("nitrate", "Nitrate"),
            Choice::new("organic_matter", "Organic matter"),
            Choice::new("texture", "Sand, silt and clay"),
            Choice::new("salts", "Salts"),
            Choice::new("structure", "Packing and roots"),
        ],
    )
    .optional(),
    Field::pick(
        "property",
        "Figure that decides how many",
        "The one that varies most of those you want, where nothing is said",
        &[
            Choice::new("ph", "pH"),
            Choice::new("phosphorus", "Phosphorus"),
            Choice::new("potassium", "Potassium"),
            Choice::new("organic_matter", "Organic matter"),
            Choice::new("nitrate", "Nitrate"),
            Choice::new("salts", "Salts"),
            Choice::new("sand", "Sand"),
            Choice::new("clay", "Clay"),
            Choice::new("bulk_density", "Bulk density"),
            Choice::new("water_at_field_capacity", "Water at field capacity"),
            Choice::new("infiltration", "How fast water goes in"),
        ],
    )
    .optional(),
    Field::measure(
        "error",
        "Error you can bear",
        "Share of the mean to either side, for example 20 %",
        Dimension::Percent,
    )
    .optional(),
    Field::pick(
        "confidence",
        "How sure to be",
        "",
        &[Choice::new("80", "80 %"), Choice::new("90", "90 %"), Choice::new("95", "95 %")],
    )
    .optional(),
    Field::pick(
        "design",
        "How to choose the places",
        "",
        &[
            Choice::new("stratified_random", "By chance in equal parts: an honest mean"),
            Choice::new("zigzag", "Zigzag walk: quickest"),
            Choice::new("spatial_coverage", "Spread evenly: for a map"),
            Choice::new("repeat", "The points of the last plan again: for a change"),
        ],
    )
    .width(Width::Full)
    .optional(),
    Field::tick("apart", "A bag for every place", "To map what varies: each place is analysed by itself"),
    Field::tick(
        "in_beds",
        "In the beds only",
        "Where beds are drawn on the plan: no place falls on a path between them",
    ),
    Field::text("cores", "Places", "As many as the error asks where nothing is said; 1 to 500").optional(),
    Field::text("bags", "Bags", "Two or three show how sure the mean is").optional(),
    Field::measure(
        "margin",
        "Stay this far from the edges",
        "By itself some 7 ft (2 m), less on a narrow plot",
        Dimension::Length,
    )
    .optional(),
    Field::measure(
        "keep_off",
        "Stay this far from what is marked as no sampling",
        "Old fences, manure piles, burn spots drawn on the plan; by itself 10 ft",
        Dimension::Length,
    )
    .optional(),
    Field::pick(
        "layer",
        "Layer",
        "Where two are taken, keep a plan for each",
        &[Choice::new("1", "The upper"), Choice::new("2", "The lower")],
    )
    .optional(),
    Field::text(
        "name",
        "Name of the plan, to keep it",
        "Made of plot, purpose and month where nothing is said",
    )
    .optional(),
    Field::hidden("seed").optional(),
    Field::hidden("repeats").optional(),
];

#[derive(Template, Serialize)]
#[template(path = "sampling/asked.html")]
struct AskedPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(skip)]
    id: EntryId,
    name: String,
    /// Nothing where it could not be worked out.
    report: Option<SamplingReport>,
    said: Option<Sentences>,
    cautions: &'static [&'static str],
    kept: Vec<KeptLine>,
    #[serde(skip)]
    figure: Option<Drawn>,
    #[serde(skip)]
    form: Form,
    #[serde(skip)]
    again: String,
    #[serde(skip)]
    refused: Option<String>,
    /// The plan that is kept already, where the same was to be kept again.
    #[serde(skip)]
    same: Option<(EntryId, String)>,
}

#[derive(Serialize)]
struct KeptLine {
    id: EntryId,
    name: String,
    made_on: String,
    points: usize,
    /// Does it fill bags?
    bags: bool,
}

/// The answer behind a key, as the book and the science spell it.
fn named<T: DeserializeOwned>(key: Option<&'static str>) -> Option<T> {
    serde_json::from_value(Value::String(key?.to_owned())).ok()
}

fn question(read: &mut Reader<'_>) -> SamplingAsk {
    let purpose: SamplingPurpose = named(read.choice("purpose")).unwrap_or(SamplingPurpose::Fertility);
    let usual = SamplingAsk::usual(purpose);
    let counted = |read: &mut Reader<'_>, name: &'static str| {
        read.count(name).and_then(|count| {
            if (1..=500).contains(&count) {
                return Some(count);
            }
            read.refuse(
                Refusal::new(name, format!("{count} is too few or more than anyone walks"))
                    .given(count)
                    .accepted("1 to 500")
                    .example("15"),
            );
            None
        })
    };
    SamplingAsk {
        property: named(read.choice("property")).unwrap_or_else(|| usual_property(purpose)),
        error_percent: read.measure::<ErrorPercent>("error").map_or(usual.error_percent, Bounded::get),
        confidence_percent: read
            .choice("confidence")
            .and_then(|text| text.parse().ok())
            .unwrap_or(usual.confidence_percent),
        design: named(read.choice("design")).unwrap_or(usual.design),
        repeats: read.entry("repeats"),
        margin_m: read.measure::<MarginM>("margin").map(Bounded::get),
        keep_off_m: read.measure::<KeepOffM>("keep_off").map_or(usual.keep_off_m, Bounded::get),
        seed: read.text("seed").and_then(|text| text.parse::<u32>().ok()).map_or(usual.seed, u64::from),
        cores: counted(read, "cores"),
        bags: counted(read, "bags"),
        apart: read.tick("apart"),
        in_beds: read.tick("in_beds"),
        ..usual
    }
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let mut read = Reader::new(FIELDS, ask.units(), &ask.query);
    let question = question(&mut read);
    let mut form = ask.form_from_query(FIELDS);
    for refusal in read.refusals() {
        form.refuse(refusal.clone());
    }
    Shown::page(page(ask, &snapshot, plot, &question, form))
}

fn page(ask: &Ask, snapshot: &Snapshot, plot: &Held<Plot>, question: &SamplingAsk, form: Form) -> AskedPage {
    let today = when::day_of(ask.stamp().at);
    let units = ask.units();
    let found = sampling_report(snapshot, plot, question, today);
    let mut form = filled(form, question);
    let (report, refused) = match found {
        Ok(report) => (Some(report), None),
        Err(refusal) => {
            let refusal = at_field(refusal.in_units(units));
            let mut said = refusal.message.clone();
            if let Some(first) = said.get(..1).map(str::to_uppercase) {
                said.replace_range(..1, &first);
            }
            let said = format!("{said}. Accepted: {}.", refusal.accepted);
            form.refuse(refusal);
            (None, Some(said))
        }
    };
    let figure = report.as_ref().filter(|report| !report.points.is_empty()).map(|report| {
        let points: Vec<_> = report.points.iter().map(|point| (point.number, point.at, point.bag)).collect();
        Drawn::of(PointsPicture {
            title: &format!("Where to pull cores, {}", plot.body.name),
            farm: &FarmPlan::of(snapshot),
            plot: plot.id,
            plot_name: &plot.body.name,
            sides_m: (report.outline == OutlineFrom::Sides).then(|| sides_m(&plot.body)).flatten(),
            points: &points,
            corner: report.corner,
            date: &advice::words::day(today),
            units,
            size: PlanSize::Wide,
        })
    });
    let shell = ask.shell(Section::Farm, format!("Pull cores, {}", plot.body.name));
    AskedPage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        id: plot.id,
        name: plot.body.name.clone(),
        said: report.as_ref().map(|report| tell::sentences(report, units)),
        report,
        cautions: CAUTIONS,
        kept: snapshot
            .sampling_plans
            .iter()
            .filter(|plan| plan.body.plot == plot.id)
            .map(|plan| KeptLine {
                id: plan.id,
                name: plan.body.name.clone(),
                made_on: advice::words::day(plan.body.made_on),
                points: plan.body.points.len(),
                bags: plan.body.purpose != SamplingPurpose::Structure,
            })
            .collect(),
        figure,
        again: other_seed(ask, question.seed),
        form,
        refused,
        same: None,
    }
}

/// The same refusal at the field of the form that it is about.
fn at_field(refusal: Refusal) -> Refusal {
    let field = match refusal.field.as_str() {
        "margin_m" => "margin",
        "design" => "design",
        "in_beds" => "in_beds",
        _ => "cores",
    };
    Refusal { field: field.to_owned(), ..refusal }
}

/// The form with what was taken where nothing was said.
fn filled(form: Form, question: &SamplingAsk) -> Form {
    let key = |value: Value| value.as_str().unwrap_or_default().to_owned();
    let word = |value: &dyn erased::Key| key(value.key());
    form.with("purpose", word(&question.purpose))
        .with("error", format!("{} %", question.error_percent))
        .with("confidence", format!("{:.0}", question.confidence_percent))
        .with("design", word(&question.design))
        .with("layer", "1")
        .asked(&["purpose", "design", "error", "confidence", "layer"])
        .set("seed", question.seed.to_string())
}

/// Enumerations as their keys.
mod erased {
    use serde::Serialize;
    use serde_json::Value;

    pub(super) trait Key {
        fn key(&self) -> Value;
    }

    impl<T: Serialize> Key for T {
        fn key(&self) -> Value {
            serde_json::to_value(self).unwrap_or_default()
        }
    }
}

/// The same question with the next seed.
fn other_seed(ask: &Ask, seed: u64) -> String {
    let mut query = form_urlencoded::Serializer::new(String::new());
    for field in FIELDS.iter().filter(|field| field.name != "seed") {
        if let Some(text) = ask.query.text(field.name) {
            query.append_pair(field.name, text);
        }
    }
    query.append_pair("seed", &(seed % 1_000_000 + 1).to_string());
    format!("/plots/{}/sampling?{}#where", ask.param("plot"), query.finish())
}

pub(super) fn keep(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let today = when::day_of(ask.stamp().at);
    let mut read = ask.reader(FIELDS);
    let question = question(&mut read);
    let name = read.text("name").map(str::trim).filter(|name| !name.is_empty()).map(str::to_owned);
    let layer = usize::from(read.choice("layer") == Some("2"));
    let again = |form: Form| page(ask, &snapshot, plot, &question, form);
    let made = sampling_report(&snapshot, plot, &question, today)
        .and_then(|report| report.plan(&snapshot, name, layer, today));
    let plan = match made {
        Ok(plan) if !read.is_refused() => plan,
        Ok(_) => return Err(read.refused(again)),
        Err(refusal) => {
            read.refuse(at_field(refusal.in_units(ask.units())));
            return Err(read.refused(again));
        }
    };
    if let Some(same) = kept_already(&snapshot, &plan) {
        let said = format!(
            "This plan is kept already, as \u{201c}{}\u{201d}, and no soil was taken for it yet",
            same.body.name
        );
        let refusal = Refusal::new("name", said)
            .given(&plan.name)
            .accepted("the plan that is kept, or other places")
            .example("Draw other places");
        read.refuse(refusal);
        let same = Some((same.id, same.body.name.clone()));
        return Err(read.refused(|form| AskedPage { same, ..again(form) }));
    }
    let result = ask.write(|book, stamp| book.record(plan, stamp))?;
    let kept = read.kept(result, again)?;
    Shown::kept(format!("/sampling/{}?done=kept", kept.id), kept)
}
