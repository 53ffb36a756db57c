//! The sheets for the field, each with what it asks for.

use askama::Template;
use book::Snapshot;
use book::model::{EntryId, SamplingPurpose};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};
use ground::texture::jar::{JarHeight, JarTemperature};
use jiff::civil::Date;
use report::field::{
    BagLabel, JarStripAsk, LabelAsk, LabelStock, ProbeFormAsk, feel_card_pdf, jar_strip, jar_strip_pdf,
    labels_pdf, plan_labels, plan_sheet_pdf, probe_form_pdf, sample_labels, samples_to_label,
};
use report::{Paper, SheetError};
use serde::Serialize;

use super::plan_of;
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, Width};
use crate::pages::sheets::sheet;
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::typed::Typed;

/// What a jar strip asks for.
const JAR: &[Field] = &[
    Field::measure(
        "jar_height",
        "Height of the jar's straight wall",
        "From the inner floor to where the shoulder begins",
        Dimension::SmallLength,
    ),
    Field::measure("water_height", "Height of the water", "Over the inner floor", Dimension::SmallLength),
    Field::measure(
        "soil_height",
        "Height of the loose dry soil",
        "A quarter of the water's height or less; left open, the times are those of little soil",
        Dimension::SmallLength,
    )
    .optional(),
    Field::measure("water_temperature", "Temperature of the water", "", Dimension::Temperature),
];

/// What labels ask for.
const LABELS: &[Field] = &[
    Field::pick("of", "Which bags", "Those of a sampling plan, or those in the book", &[]).width(Width::Full),
    Field::pick(
        "stock",
        "Sheet of labels",
        "",
        &[
            Choice::new("letter-3x10", "Letter, 3 × 10 labels of 2 5/8 × 1 in"),
            Choice::new("letter-2x5", "Letter, 2 × 5 labels of 4 × 2 in"),
            Choice::new("a4-3x7", "A4, 3 × 7 labels of 63.5 × 38.1 mm"),
            Choice::new("a4-3x8", "A4, 3 × 8 labels of 70 × 37 mm"),
        ],
    )
    .width(Width::Full),
    Field::text("start", "First label still on the sheet", "Counted along the rows; 1 on a full sheet")
        .width(Width::Short),
    Field::day(
        "day",
        "Day they are taken",
        "Left open, a plan's labels have a line to write it on; of bags in the book those of the last day are printed",
    )
    .optional(),
    Field::tick("edges", "Draw the edges", "For plain paper that is cut up, or to try the measures"),
];

#[derive(Template, Serialize)]
#[template(path = "field/sheets.html")]
struct SheetsPage {
    #[serde(skip)]
    shell: Shell,
    /// Sampling plans: name, plot and where its sheet is.
    plans: Vec<PlanLine>,
    /// Plots, for what needs no plan.
    plots: Vec<PlotLine>,
    #[serde(skip)]
    jar: Form,
    #[serde(skip)]
    labels: Form,
    /// Is there a bag to label?
    #[serde(skip)]
    has_bags: bool,
}

#[derive(Serialize)]
struct PlanLine {
    id: String,
    name: String,
    plot: String,
    plot_id: EntryId,
    sheet: String,
    /// Labels of its bags; nothing where it fills none.
    labels: Option<String>,
    enter: String,
}

#[derive(Serialize)]
struct PlotLine {
    id: String,
    name: String,
    /// Bags that are in the book.
    bags: usize,
}

fn page(ask: &Ask, jar: Form, labels: Form) -> Result<SheetsPage, Problem> {
    let snapshot = ask.snapshot()?;
    let plans: Vec<PlanLine> = snapshot
        .sampling_plans
        .iter()
        .rev()
        .map(|plan| PlanLine {
            id: plan.id.to_string(),
            name: plan.body.name.clone(),
            plot: snapshot.plot(plan.body.plot).map(|plot| plot.body.name.clone()).unwrap_or_default(),
            plot_id: plan.body.plot,
            sheet: format!("/sampling/{}/sheet.pdf", plan.id),
            labels: (plan.body.purpose != SamplingPurpose::Structure)
                .then(|| format!("/sampling/{}/labels.pdf", plan.id)),
            enter: format!("/sampling/{}/enter", plan.id),
        })
        .collect();
    let plots: Vec<PlotLine> = snapshot
        .plots
        .iter()
        .map(|plot| PlotLine {
            id: plot.id.to_string(),
            name: plot.body.name.clone(),
            bags: snapshot.samples_of(plot.id).count(),
        })
        .collect();
    let with_bags = plots.iter().filter(|plot| plot.bags > 0);
    let of: Vec<(String, String)> = plans
        .iter()
        .map(|plan| (plan.id.clone(), format!("Plan: {}", plan.name)))
        .chain(with_bags.map(|plot| (plot.id.clone(), format!("Bags in the book: {}", plot.name))))
        .collect();
    let shell = ask.shell(Section::Record, "Sheets for the field");
    let refused = jar.is_refused() || labels.is_refused();
    let usual = LabelStock::usual(Paper::of(ask.units())).key;
    let first = of.first().map(|(id, _)| id.clone()).unwrap_or_default();
    Ok(SheetsPage {
        shell: if refused { shell.refused() } else { shell },
        plans,
        plots,
        jar: usual_jar(jar, ask.units()),
        has_bags: !of.is_empty(),
        labels: labels.with("of", first).choices("of", of).with("stock", usual).with("start", "1"),
    })
}

/// A quart jar, three quarters full, in a room.
fn usual_jar(form: Form, units: UnitSystem) -> Form {
    let [jar, water, soil, warmth] = match units {
        UnitSystem::UsCustomary => ["6 1/2", "6", "1 1/2", "68"],
        UnitSystem::Metric => ["165", "150", "38", "20"],
    };
    form.with("jar_height", jar)
        .with("water_height", water)
        .with("soil_height", soil)
        .with("water_temperature", warmth)
}

pub(super) fn show(ask: &Ask) -> Outcome {
    Shown::page(page(ask, ask.form(JAR), ask.form(LABELS))?)
}

/// The strip of the jar in the address; without one that of the usual jar.
pub(super) fn jar(ask: &Ask) -> Outcome {
    let units = ask.units();
    let mut query = ask.query.clone();
    if !JAR.iter().any(|field| query.get(field.name).is_some()) {
        let usual = usual_jar(ask.form(JAR), units);
        for field in usual.fields() {
            query.add(field.name.clone(), field.text.clone());
        }
    }
    let mut read = Reader::new(JAR, units, &query);
    let jar_height: Option<JarHeight> = read.measure("jar_height");
    let water_height: Option<JarHeight> = read.measure("water_height");
    let soil_height_mm: Option<JarHeight> = read.measure("soil_height");
    let warmth: Option<JarTemperature> = read.measure("water_temperature");
    let wanted = match (jar_height, water_height, warmth, read.is_refused()) {
        (Some(jar_height_mm), Some(water_height_mm), Some(water_temperature_c), false) => {
            JarStripAsk { jar_height_mm, water_height_mm, soil_height_mm, water_temperature_c }
        }
        _ => return Err(jar_again(ask, read)),
    };
    if let Err(mut refusal) = jar_strip(&wanted, units) {
        refusal = refusal.in_units(units);
        for (of_method, of_form) in [
            ("jar_height_mm", "jar_height"),
            ("water_height_mm", "water_height"),
            ("soil_height_mm", "soil_height"),
            ("water_temperature_c", "water_temperature"),
        ] {
            if refusal.field == of_method {
                refusal.field = of_form.to_owned();
            }
        }
        read.refuse(refusal);
        return Err(jar_again(ask, read));
    }
    sheet(ask, "jar-strip", |options| jar_strip_pdf(&wanted, units, options))
}

fn jar_again(ask: &Ask, read: Reader<'_>) -> Problem {
    match page(ask, Form::default(), ask.form(LABELS)) {
        Ok(again) => read.refused(|form| SheetsPage { shell: again.shell.refused(), jar: form, ..again }),
        Err(problem) => problem,
    }
}

pub(super) fn feel(ask: &Ask) -> Outcome {
    let units = ask.units();
    sheet(ask, "feel-card", |options| feel_card_pdf(units, options))
}

/// The form of a plot (`?plot=`) or a plan (`?plan=`), or an empty one.
pub(super) fn probe(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let units = ask.units();
    let id = |name: &str| ask.query.text(name).and_then(|text| text.parse().ok());
    let plan = id("plan").and_then(|id| snapshot.sampling_plan(id));
    let plot = id("plot").and_then(|id| snapshot.plot(id));
    let wanted = match (plan, plot) {
        (Some(plan), _) => ProbeFormAsk::of_plan(&snapshot, plan),
        (None, Some(plot)) => ProbeFormAsk { plot: plot.body.name.clone(), ..ProbeFormAsk::default() },
        (None, None) => ProbeFormAsk::default(),
    };
    sheet(ask, "probe-form", |options| probe_form_pdf(&wanted, units, options))
}

pub(super) fn field(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = plan_of(ask, &snapshot)?;
    let units = ask.units();
    sheet(ask, "field-sheet", |options| plan_sheet_pdf(&snapshot, plan, units, options))
}

/// The labels of whatever was chosen on the page: a plan, or a plot whose bags are in the book.
pub(super) fn labels(ask: &Ask) -> Outcome {
    labels_of(ask, None)
}

pub(super) fn labels_of_plan(ask: &Ask) -> Outcome {
    labels_of(ask, Some(plan_of(ask, &*ask.snapshot()?)?.id))
}

pub(super) fn labels_of_plot(ask: &Ask) -> Outcome {
    labels_of(ask, Some(ask.plot(&*ask.snapshot()?)?.id))
}

fn labels_of(ask: &Ask, of: Option<EntryId>) -> Outcome {
    let snapshot = ask.snapshot()?;
    let units = ask.units();
    let mut query = ask.query.clone();
    if let Some(of) = of {
        query.add("of", of.to_string());
    }
    // A link alone asks for the usual sheet of labels, a full one.
    let usual = LabelStock::usual(Paper::of(units));
    for (name, text) in [("stock", usual.key), ("start", "1")] {
        if query.get(name).is_none() {
            query.add(name, text);
        }
    }
    let mut read = Reader::new(LABELS, units, &query);
    let of = read.entry("of");
    let stock = read.choice("stock").and_then(LabelStock::of_key).unwrap_or(usual);
    let start = read.count("start").unwrap_or(1);
    let day = read.day("day");
    let edges = read.tick("edges");
    let bags = of.and_then(|of| {
        let bags = bags(&snapshot, of, &query, units, day);
        read.take(bags)
    });
    if let Some(bags) = bags.filter(|_| !read.is_refused()) {
        let mut refused = None;
        let made = sheet(ask, "labels", |options| {
            let made = labels_pdf(&bags, &LabelAsk { stock, start, edges }, options);
            if let Err(SheetError::Refused(refusal)) = &made {
                refused = Some(refusal.clone());
            }
            made
        });
        match refused {
            Some(refusal) => read.refuse(refusal),
            None => return made,
        }
    }
    let again = page(ask, ask.form(JAR), Form::default())?;
    let choices = page(ask, Form::default(), ask.form(LABELS))?.labels.draw("of").answers;
    Err(read.refused(|form| {
        let form = form.choices("of", choices.into_iter().map(|one| (one.value, one.label)));
        SheetsPage { shell: again.shell.refused(), labels: form, ..again }
    }))
}

/// The labels of a plan's bags, or of a plot's: those named by `?sample=`, of a day, or of the last day.
fn bags(
    snapshot: &Snapshot,
    of: EntryId,
    query: &Typed,
    units: UnitSystem,
    day: Option<Date>,
) -> Result<Vec<BagLabel>, Refusal> {
    if let Some(plan) = snapshot.sampling_plan(of) {
        return Ok(plan_labels(snapshot, plan, units, day));
    }
    if snapshot.plot(of).is_none() {
        return Err(Refusal::new("of", "Which bags: this book has no such plan and no such plot")
            .given(of)
            .accepted("one of the list"));
    }
    let named: Vec<EntryId> = query.all("sample").filter_map(|text| text.parse().ok()).collect();
    let samples =
        samples_to_label(snapshot, of, &named, day).map_err(|refusal| match refusal.field.as_str() {
            "plot" | "sample" => Refusal { field: "of".to_owned(), ..refusal },
            _ => refusal,
        })?;
    Ok(sample_labels(snapshot, &samples, units))
}
