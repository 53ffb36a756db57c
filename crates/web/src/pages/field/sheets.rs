//! The sheets for the field, each with what it asks for.

use askama::Template;
use ground::kit::units::{Dimension, UnitSystem};
use ground::texture::jar::{JarHeight, JarTemperature};
use report::field::{
    JarStripAsk, LabelAsk, LabelStock, ProbeFormAsk, feel_card_pdf, jar_strip, jar_strip_pdf, labels_pdf,
    plan_labels, plan_sheet_pdf, probe_form_pdf,
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
    .optional(),
    Field::text("start", "First label still on the sheet", "Counted along the rows; 1 on a full sheet")
        .optional()
        .width(Width::Short),
    Field::day("day", "Day it is taken", "Left open, there is a line to write it on").optional(),
    Field::tick("edges", "Draw the edges", "For plain paper that is cut up, or to try the measures"),
];

#[derive(Template, Serialize)]
#[template(path = "field/sheets.html")]
struct SheetsPage {
    #[serde(skip)]
    shell: Shell,
    /// Sampling plans: name, plot and where its sheet is.
    plans: Vec<PlanLine>,
    #[serde(skip)]
    jar: Form,
    #[serde(skip)]
    labels: Form,
    /// The plan whose labels were asked for and refused.
    #[serde(skip)]
    labels_of: Option<String>,
}

#[derive(Serialize)]
struct PlanLine {
    id: String,
    name: String,
    plot: String,
    sheet: String,
    labels: String,
    enter: String,
    /// Does the form of the labels speak of it?
    #[serde(skip)]
    labels_shown: bool,
}

fn page(ask: &Ask, jar: Form, labels: Form, labels_of: Option<String>) -> Result<SheetsPage, Problem> {
    let snapshot = ask.snapshot()?;
    let asked = labels_of.as_deref().or_else(|| ask.query.text("plan")).and_then(|id| id.parse().ok());
    let shown = asked.or_else(|| snapshot.sampling_plans.last().map(|plan| plan.id));
    let plans = snapshot
        .sampling_plans
        .iter()
        .rev()
        .map(|plan| PlanLine {
            id: plan.id.to_string(),
            name: plan.body.name.clone(),
            plot: snapshot.plot(plan.body.plot).map(|plot| plot.body.name.clone()).unwrap_or_default(),
            sheet: format!("/sampling/{}/sheet.pdf", plan.id),
            labels: format!("/sampling/{}/labels.pdf", plan.id),
            enter: format!("/sampling/{}/enter", plan.id),
            labels_shown: shown == Some(plan.id),
        })
        .collect();
    let shell = ask.shell(Section::Record, "Sheets for the field");
    let refused = jar.is_refused() || labels.is_refused();
    let usual = LabelStock::usual(Paper::of(ask.units())).key;
    Ok(SheetsPage {
        shell: if refused { shell.refused() } else { shell },
        plans,
        jar: usual_jar(jar, ask.units()),
        labels: labels.with("stock", usual).with("start", "1"),
        labels_of,
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
    Shown::page(page(ask, ask.form(JAR), ask.form(LABELS), None)?)
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
    match page(ask, Form::default(), ask.form(LABELS), None) {
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
    let plot = plan.map(|plan| plan.body.plot).or_else(|| id("plot"));
    let wanted = ProbeFormAsk {
        plot: plot.and_then(|id| snapshot.plot(id)).map(|plot| plot.body.name.clone()).unwrap_or_default(),
        points: plan
            .map(|plan| plan.body.points.iter().map(|point| point.number).collect())
            .unwrap_or_default(),
    };
    sheet(ask, "probe-form", |options| probe_form_pdf(&wanted, units, options))
}

pub(super) fn field(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = plan_of(ask, &snapshot)?;
    let units = ask.units();
    sheet(ask, "field-sheet", |options| plan_sheet_pdf(&snapshot, plan, units, options))
}

pub(super) fn labels(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = plan_of(ask, &snapshot)?;
    let units = ask.units();
    let mut read = Reader::new(LABELS, units, &ask.query);
    let usual = LabelStock::usual(Paper::of(units));
    let stock = read.choice("stock").and_then(LabelStock::of_key).unwrap_or(usual);
    let start = read.count("start");
    let day = read.day("day");
    let edges = read.tick("edges");
    if !read.is_refused() {
        let labels = plan_labels(&snapshot, plan, units, day);
        let wanted = LabelAsk { stock, start: start.unwrap_or(1), edges };
        let mut refused = None;
        let made = sheet(ask, "labels", |options| {
            let made = labels_pdf(&labels, &wanted, options);
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
    let again = page(ask, ask.form(JAR), Form::default(), Some(plan.id.to_string()))?;
    Err(read.refused(|form| SheetsPage { shell: again.shell.refused(), labels: form, ..again }))
}
