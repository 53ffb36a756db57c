//! A laboratory's printout: a row a figure, with its unit and method, and the laboratory's own recommendation.

use std::collections::BTreeSet;

use book::Snapshot;
use book::model::{EntryId, Seen};
use ground::fertility::analysis::report::{
    Amount, Analyte, BasisDepth, FreeLime, LabFigure, LabRecommended, LabReport, Procedure, RateUnit,
    RecommendedWhat, ReportDensity, ReportUnit,
};
use ground::kit::Refusal;
use ground::kit::quantity::number;
use ground::kit::units::{Dimension, UnitSystem};
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::about::ABOUT;
use super::flow::{Flow, Group, Had, chosen, word};
use super::kinds::{self, Kind};
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, Row, Table, Width, join};
use crate::problem::capital;

/// A laboratory's printout.
pub(super) struct Printout;

/// Rows of figures and of recommendations.
const FIGURES: usize = 26;
const LINES: usize = 6;

/// Names of the fields of a row.
struct Names {
    label: &'static str,
    what: &'static str,
    value: &'static str,
    unit: &'static str,
    method: &'static str,
}

macro_rules! rows {
    ($($n:literal),*; $($m:literal),*) => {
        const FIGURE_FIELDS: [[Field; 4]; FIGURES] = [$([
            Field::pick(concat!("what_", $n), concat!("Figure ", $n, ", what was measured"), "", &[]).optional(),
            Field::text(concat!("value_", $n), concat!("Figure ", $n, ", the number"), "").width(Width::Short).optional(),
            Field::pick(concat!("unit_", $n), concat!("Figure ", $n, ", its unit"), "", &[]).optional(),
            Field::pick(concat!("method_", $n), concat!("Figure ", $n, ", the method"), "", &[]).optional(),
        ]),*];
        const ROWS: [Names; FIGURES] = [$(Names {
            label: concat!("Figure ", $n),
            what: concat!("what_", $n), value: concat!("value_", $n), unit: concat!("unit_", $n), method: concat!("method_", $n),
        }),*];
        const TABLE: Table = Table {
            caption: "The figures of the report",
            corner: "Figure",
            columns: &["What", "Number", "Unit", "Method"],
            rows: &[$(Row {
                label: $n,
                fields: &[concat!("what_", $n), concat!("value_", $n), concat!("unit_", $n), concat!("method_", $n)],
            }),*],
        };
        const LINE_FIELDS: [[Field; 4]; LINES] = [$([
            Field::pick(concat!("rec_what_", $m), concat!("Line ", $m, ", what is recommended"), "", &[]).optional(),
            Field::text(concat!("rec_rate_", $m), concat!("Line ", $m, ", how much"), "").width(Width::Short).optional(),
            Field::pick(concat!("rec_unit_", $m), concat!("Line ", $m, ", in what"), "", &[]).optional(),
            Field::text(concat!("rec_crop_", $m), concat!("Line ", $m, ", for which crop"), "").width(Width::Middle).optional(),
        ]),*];
        const LINE_ROWS: [Names; LINES] = [$(Names {
            label: concat!("Line ", $m),
            what: concat!("rec_what_", $m), value: concat!("rec_rate_", $m), unit: concat!("rec_unit_", $m), method: concat!("rec_crop_", $m),
        }),*];
        const LINE_TABLE: Table = Table {
            caption: "What the laboratory itself recommends",
            corner: "Line",
            columns: &["Of what", "How much", "In what", "For which crop"],
            rows: &[$(Row {
                label: $m,
                fields: &[concat!("rec_what_", $m), concat!("rec_rate_", $m), concat!("rec_unit_", $m), concat!("rec_crop_", $m)],
            }),*],
        };
    };
}

rows!(
    "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12", "13", "14", "15", "16", "17", "18", "19", "20", "21",
    "22", "23", "24", "25", "26"; "1", "2", "3", "4", "5", "6"
);

const HEAD: [Field; 5] = [
    Field::text("laboratory", "Laboratory", "Its name; what its columns mean is remembered by it")
        .width(Width::Middle)
        .optional(),
    Field::text("number", "Number on the report", "").width(Width::Middle).optional(),
    Field::measure(
        "basis_depth",
        "Depth that its amounts per area speak of",
        "Needed where figures are in lb/acre or kg/ha; 6 2/3 in or 17 cm is what most laboratories mean",
        Dimension::Depth,
    )
    .optional(),
    Field::measure(
        "density",
        "Density of the sample",
        "Where the report gives it, for example 1.15 g/cm\u{b3}",
        Dimension::Density,
    )
    .optional(),
    Field::pick(
        "free_lime",
        "Fizz with acid",
        "Free or excess lime, where the report tells it",
        &[Choice::new("none", "None"), Choice::new("slight", "Slight"), Choice::new("strong", "Strong")],
    )
    .optional(),
];

const OWN_COUNT: usize = HEAD.len() + 4 * FIGURES + 4 * LINES;
const OWN: [Field; OWN_COUNT] = own();

const fn own() -> [Field; OWN_COUNT] {
    let mut fields = [Field::hidden(""); OWN_COUNT];
    let mut at = 0;
    while at < HEAD.len() {
        fields[at] = HEAD[at];
        at += 1;
    }
    let mut row = 0;
    while row < FIGURES + LINES {
        let mut column = 0;
        while column < 4 {
            fields[at] =
                if row < FIGURES { FIGURE_FIELDS[row][column] } else { LINE_FIELDS[row - FIGURES][column] };
            at += 1;
            column += 1;
        }
        row += 1;
    }
    fields
}

const FIELDS: &[Field] = &join::<{ OWN_COUNT + ABOUT.len() }>(&OWN, ABOUT);

/// What most reports print, offered in rows that are still free.
const USUAL: [Analyte; 20] = [
    Analyte::PhWater,
    Analyte::BufferPh,
    Analyte::OrganicMatter,
    Analyte::Phosphorus,
    Analyte::Potassium,
    Analyte::Calcium,
    Analyte::Magnesium,
    Analyte::Sodium,
    Analyte::Sulfur,
    Analyte::Boron,
    Analyte::Zinc,
    Analyte::Manganese,
    Analyte::Copper,
    Analyte::Iron,
    Analyte::Cec,
    Analyte::ExchangeableAcidity,
    Analyte::BaseSaturation,
    Analyte::Ec,
    Analyte::NitrateN,
    Analyte::Lead,
];

impl Flow for Printout {
    const KIND: &'static Kind = &kinds::LAB_REPORT;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of("The report", "", &["laboratory", "number"]),
        Group::of(
            "The figures",
            "One row a figure, as printed; \u{201c}< 2\u{201d} is kept as it is. Rows without a number are passed over. The method \
             matters: figures of two extractants, or of two buffers, cannot stand for each other.",
            &[],
        )
        .table(&TABLE),
        Group::of("What the figures hang on", "", &["basis_depth", "density", "free_lime"]),
        Group::of(
            "The laboratory's own recommendation",
            "Kept beside what is worked out here.",
            &[],
        )
        .table(&LINE_TABLE)
        .folded(),
    ];
    const ALIASES: &'static [(&'static str, &'static str)] =
        &[("basis_depth_cm", "basis_depth"), ("density_g_cm3", "density"), ("figures", "value_1")];

    fn prepare(form: Form, _ask: &Ask, snapshot: &Snapshot, _plot: EntryId) -> Form {
        let form = form.suggest(
            "laboratory",
            snapshot
                .laboratories
                .iter()
                .map(|held| (held.body.name.clone(), held.body.name.clone()))
                .collect(),
        );
        let form = offered(form, latest(snapshot));
        let form = ROWS.iter().fold(form, |form, row| {
            form.choices(row.what, Analyte::ALL.iter().map(|one| (one.key(), capital(one.words()))))
                .choices(row.unit, ReportUnit::ALL.iter().map(|one| (one.key(), one.words().to_owned())))
                .choices(row.method, Procedure::ALL.iter().map(|one| (one.key(), capital(one.words()))))
        });
        LINE_ROWS.iter().fold(form, |form, row| {
            form.choices(row.what, RecommendedWhat::ALL.iter().map(|one| (word(one), capital(one.words()))))
                .choices(row.unit, RateUnit::ALL.iter().map(|one| (word(one), one.symbol().to_owned())))
        })
    }

    fn looks() -> bool {
        false
    }

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let mut report = LabReport::new(read.text("laboratory").unwrap_or_default().trim());
        read.text("number").unwrap_or_default().trim().clone_into(&mut report.number);
        report.basis_depth_cm = read.measure::<BasisDepth>("basis_depth");
        report.density_g_cm3 = read.measure::<ReportDensity>("density");
        report.free_lime = chosen::<FreeLime>(read, "free_lime");
        let before = read.refusals().len();
        let mut places: Vec<&Names> = Vec::new();
        for row in &ROWS {
            if let Some(figure) = figure(read, row, &report.figures) {
                report.figures.push(figure);
                places.push(row);
            }
        }
        for row in &LINE_ROWS {
            report.recommended.extend(line(read, row));
        }
        if read.refusals().len() > before {
            return None;
        }
        if report.figures.is_empty() {
            read.refuse(
                Refusal::new(ROWS[0].value, "No row holds a number")
                    .given("nothing")
                    .accepted("at least one figure of the report")
                    .example("6.4"),
            );
            return None;
        }
        if let Err(refusal) = report.check() {
            let field = if refusal.field == "basis_depth_cm" {
                "basis_depth".to_owned()
            } else {
                refusal.field.clone()
            };
            read.refuse(Refusal { field, message: capital(&refusal.message), ..refusal });
            return None;
        }
        Some(Seen::LabReport(report))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::LabReport(report) = seen else { return form };
        let form = form
            .set("laboratory", &report.laboratory)
            .set("number", &report.number)
            .measure("basis_depth", report.basis_depth_cm, units)
            .measure("density", report.density_g_cm3, units)
            .set("free_lime", report.free_lime.map(word).unwrap_or_default());
        let form = ROWS.iter().zip(&report.figures).fold(form, |form, (row, figure)| {
            form.set(row.what, figure.analyte.key())
                .set(row.value, figure.amount.words())
                .set(row.unit, figure.unit.key())
                .set(row.method, figure.procedure.key())
        });
        LINE_ROWS.iter().zip(&report.recommended).fold(form, |form, (row, line)| {
            form.set(row.what, word(line.what))
                .set(row.value, number(line.rate))
                .set(row.unit, word(line.unit))
                .set(row.method, &line.for_crop)
        })
    }

    fn onward(held: &book::Held<book::model::Observation>) -> String {
        format!("/plots/{}/lab?done=kept", held.body.plot)
    }
}

/// The last printout that came in, for its units and methods.
fn latest(snapshot: &Snapshot) -> Option<&LabReport> {
    snapshot
        .observations
        .iter()
        .filter_map(|held| match &held.body.seen {
            Seen::LabReport(report) => Some((held.recorded_at, report)),
            _ => None,
        })
        .max_by_key(|(at, _)| *at)
        .map(|(_, report)| report)
}

/// Puts what reports usually print into rows that are free, in the unit and by the method of the last report.
fn offered(mut form: Form, last: Option<&LabReport>) -> Form {
    let text = |form: &Form, name: &str| {
        form.fields()
            .iter()
            .find(|field| field.name == name)
            .map(|field| field.text.clone())
            .unwrap_or_default()
    };
    let taken: BTreeSet<String> =
        ROWS.iter().map(|row| text(&form, row.what)).filter(|key| !key.is_empty()).collect();
    let mut usual = USUAL.iter().filter(|analyte| !taken.contains(&analyte.key()));
    for row in &ROWS {
        if !(text(&form, row.what).is_empty() && text(&form, row.value).is_empty()) {
            continue;
        }
        let Some(analyte) = usual.next() else { break };
        let before = last.and_then(|report| report.first(*analyte));
        let unit = before.map_or(analyte.units()[0], |figure| figure.unit);
        let procedure = before.map_or(Procedure::NotStated, |figure| figure.procedure);
        form = form.set(row.what, analyte.key()).set(row.unit, unit.key()).set(row.method, procedure.key());
    }
    form
}

/// A key of one of the lists.
fn keyed<T: DeserializeOwned>(
    read: &mut Reader<'_>,
    name: &'static str,
    label: &str,
    what: &str,
) -> Option<T> {
    let text = read.text(name)?;
    let found = serde_json::from_value(Value::String(text.to_owned())).ok();
    if found.is_none() {
        read.refuse(
            Refusal::new(name, format!("{label}: \u{201c}{text}\u{201d} is no {what} of the list"))
                .given(text)
                .accepted("one of the list"),
        );
    }
    found
}

fn figure(read: &mut Reader<'_>, row: &Names, before: &[LabFigure]) -> Option<LabFigure> {
    let value = read.text(row.value)?;
    let amount = Amount::read(row.value, value);
    let amount =
        read.take(amount.map_err(|refusal| Refusal {
            message: format!("{}: {}", row.label, refusal.message),
            ..refusal
        }));
    let known = read.refusals().len();
    let analyte: Option<Analyte> = keyed(read, row.what, row.label, "analysis");
    let Some(analyte) = analyte else {
        if read.refusals().len() == known {
            read.refuse(
                Refusal::new(row.what, format!("{}: say what was measured", row.label))
                    .given("nothing")
                    .accepted("one of the list"),
            );
        }
        return None;
    };
    let known = read.refusals().len();
    let unit = keyed::<ReportUnit>(read, row.unit, row.label, "unit").or(match analyte.units() {
        [only] => Some(*only),
        _ => None,
    });
    let procedure = keyed::<Procedure>(read, row.method, row.label, "method");
    if read.refusals().len() > known {
        return None;
    }
    let Some(unit) = unit else {
        let usual: Vec<&str> = analyte.units().iter().map(|unit| unit.words()).collect();
        read.refuse(
            Refusal::new(
                row.unit,
                format!("{}: say in which unit {} is printed", row.label, analyte.words()),
            )
            .given("nothing")
            .accepted(usual.join(", ")),
        );
        return None;
    };
    let figure =
        LabFigure { analyte, procedure: procedure.unwrap_or(Procedure::NotStated), unit, amount: amount? };
    if let Err(refusal) = figure.check() {
        let field = match refusal.field.as_str() {
            "unit" => row.unit,
            "procedure" => row.method,
            _ => row.value,
        };
        let message = format!("{}: {}", row.label, refusal.message);
        read.refuse(Refusal { field: field.to_owned(), message, ..refusal });
        return None;
    }
    if before.iter().any(|other| other.analyte == analyte && other.procedure == figure.procedure) {
        read.refuse(
            Refusal::new(
                row.what,
                format!(
                    "{}: {} by {} stands above already",
                    row.label,
                    analyte.words(),
                    figure.procedure.words()
                ),
            )
            .given(value)
            .accepted("each figure once for each method"),
        );
        return None;
    }
    Some(figure)
}

fn line(read: &mut Reader<'_>, row: &Names) -> Option<LabRecommended> {
    let text = read.text(row.value)?;
    let what = keyed::<RecommendedWhat>(read, row.what, row.label, "material");
    let unit = keyed::<RateUnit>(read, row.unit, row.label, "unit");
    for (name, there, ask) in [
        (row.what, what.is_some(), "say of what this is"),
        (row.unit, unit.is_some(), "say in which unit this is"),
    ] {
        if !there && !read.is_refused_at(name) {
            read.refuse(
                Refusal::new(name, format!("{}: {ask}", row.label))
                    .given("nothing")
                    .accepted("one of the list"),
            );
        }
    }
    let rate = Amount::read(row.value, text).and_then(|amount| {
        amount.exactly().filter(|rate| (0.0..=1e6).contains(rate)).ok_or_else(|| {
            Refusal::new(row.value, format!("{}: \u{201c}{text}\u{201d} is no rate", row.label))
                .given(text)
                .accepted("a number, 0 or more")
                .example("40")
        })
    });
    let rate = read.take(rate);
    let for_crop = read.text(row.method).unwrap_or_default().to_owned();
    Some(LabRecommended { what: what?, rate: rate?, unit: unit?, for_crop })
}
