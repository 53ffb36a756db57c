//! The acidity of a plot: is it right for what grows, and what to spread.

use std::sync::Arc;

use advice::feeding::acidity::tell::{self, Sentences};
use advice::feeding::acidity::{AcidityOptions, AcidityReport, USUAL_DEPTH_CM, acidity};
use askama::Template;
use book::model::EntryId;
use figures::Figure;
use figures::acidity::{CropBand, LimeNeeds, MethodNeed, PhScale, lime_needs, ph_scale};
use ground::fertility::acidity::quantity::MixedDepth;
use ground::kit::units::{Dimension, UnitSystem, in_units};
use ground::kit::{Bounded, Spread};
use serde::{Serialize, Serializer};

use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader};
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::when;

/// Addresses of a plot's acidity.
pub const ROUTES: &[Route] = &[Route::page(
    "/plots/{plot}/acidity",
    "The acidity of a plot and what to spread: ?depth= it is mixed into, ?scab=yes where potato scab is a risk",
    show,
)];

/// Kilograms a square metre as pounds for 100 square feet.
const LB_100_FT2: f64 = 9.290_304 / 0.453_592_37;

#[derive(Template, Serialize)]
#[template(path = "plot_acidity.html")]
struct AcidityPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(serialize_with = "inside", flatten)]
    report: Arc<AcidityReport>,
    #[serde(skip)]
    id: EntryId,
    #[serde(skip)]
    said: Sentences,
    #[serde(skip)]
    scale: Figure,
    #[serde(skip)]
    needs: Option<Figure>,
    #[serde(skip)]
    beds: Vec<BedTable>,
    #[serde(skip)]
    cautions: Vec<String>,
    #[serde(skip)]
    form: Form,
}

const FIELDS: &[Field] = &[
    Field::measure("depth", "Depth that it is mixed into", "For example 7 in or 18 cm", Dimension::Depth)
        .optional(),
    Field::pick(
        "scab",
        "Is potato scab a risk here",
        "",
        &[Choice::new("no", "No"), Choice::new("yes", "Yes: potatoes are held at 5.5")],
    )
    .optional(),
];

/// What of one product each bed gets.
struct BedTable {
    product: String,
    rows: Vec<[String; 2]>,
}

fn inside<S: Serializer>(kept: &Arc<AcidityReport>, serializer: S) -> Result<S::Ok, S::Error> {
    kept.serialize(serializer)
}

fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let told = desk
        .told(&snapshot, plot.id)
        .ok_or_else(|| Problem::not_found("The report on this plot could not be made."))?;
    let today = when::day_of(ask.stamp().at);
    let units = ask.units();
    let page = |options: AcidityOptions, form: Form| -> Result<AcidityPage, Problem> {
        let key = format!("acidity of {} on {today}, {} {}", plot.id, options.depth_cm, options.scab);
        let report = desk.derived(&snapshot, &key, |snapshot| {
            acidity(snapshot, &told.report, options, today).map(Arc::new)
        });
        let report = (*report)
            .clone()
            .ok_or_else(|| Problem::not_found("The acidity of this plot could not be worked out."))?;
        Ok(AcidityPage {
            shell: ask.shell(Section::Farm, format!("Acidity, {}", plot.body.name)),
            id: plot.id,
            said: tell::sentences(&report, units),
            scale: scale(&report),
            needs: needs(&report, units),
            beds: beds(&report, units),
            cautions: report.cautions.iter().map(|caution| in_units(caution, units)).collect(),
            form,
            report,
        })
    };
    let mut read = Reader::new(FIELDS, units, &ask.query);
    let depth_cm = read.measure("depth").map_or(USUAL_DEPTH_CM, MixedDepth::get);
    let scab = read.choice("scab") == Some("yes");
    if read.is_refused() {
        let shown = page(AcidityOptions { depth_cm: USUAL_DEPTH_CM, scab }, Form::default())?;
        return Err(read.refused(|form| AcidityPage { shell: shown.shell.refused(), form, ..shown }));
    }
    let form = ask
        .form_from_query(FIELDS)
        .with("depth", advice::words::depth(depth_cm, units))
        .with("scab", if scab { "yes" } else { "no" });
    Shown::page(page(AcidityOptions { depth_cm, scab }, form)?)
}

fn scale(report: &AcidityReport) -> Figure {
    let crops: Vec<CropBand<'_>> = report
        .target
        .crops
        .iter()
        .map(|crop| CropBand { name: &crop.name, low_ph: crop.low_ph, high_ph: crop.high_ph })
        .collect();
    ph_scale(&PhScale {
        id: "ph-scale",
        now_ph: report.test.as_ref().and_then(|test| test.ph_water),
        target_ph: report.target.target_ph,
        crops: &crops,
    })
}

fn needs(report: &AcidityReport, units: UnitSystem) -> Option<Figure> {
    let (unit, by) = match units {
        UnitSystem::UsCustomary => ("lb/100 ft²", LB_100_FT2),
        UnitSystem::Metric => ("g/m²", 1000.0),
    };
    let methods: Vec<MethodNeed<'_>> = report
        .methods
        .iter()
        .filter_map(|line| {
            let Spread { low, median, high } = line.need?.carbonate_kg_m2;
            let need = Spread { low: by * low, median: by * median, high: by * high };
            Some(MethodNeed { name: line.words, chosen: line.chosen, need })
        })
        .collect();
    (!methods.is_empty()).then(|| lime_needs(&LimeNeeds { id: "lime-needs", unit, methods: &methods }))
}

fn beds(report: &AcidityReport, units: UnitSystem) -> Vec<BedTable> {
    report
        .products
        .iter()
        .map(|product| BedTable {
            product: product.name.clone(),
            rows: report
                .beds
                .iter()
                .zip(&product.beds_kg)
                .map(|(bed, kg)| {
                    let name = if bed.count > 1 {
                        format!("{}, each of {}", bed.name, bed.count)
                    } else {
                        bed.name.clone()
                    };
                    let amount = if *kg > 0.0 { tell::carried(*kg, units) } else { "none".to_owned() };
                    [name, amount]
                })
                .collect(),
        })
        .collect()
}
