//! The acidity of a plot: is it right for what grows, and what to spread.

use std::sync::Arc;

use advice::feeding::acidity::tell::{self, Sentences};
use advice::feeding::acidity::{AcidityOptions, AcidityReport, USUAL_DEPTH_CM, acidity};
use askama::Template;
use book::model::EntryId;
use figures::Figure;
use figures::acidity::{CropBand, LimeNeeds, MethodNeed, PhScale, lime_needs, ph_scale};
use ground::fertility::acidity::quantity::MixedDepth;
use ground::kit::Spread;
use ground::kit::units::{Dimension, UnitSystem, in_units, typed};
use serde::{Serialize, Serializer};

use crate::ask::Ask;
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
    /// Depth as it was typed.
    #[serde(skip)]
    depth: String,
    #[serde(skip)]
    scab: bool,
    /// What is wrong with the depth that was asked for.
    #[serde(skip)]
    refused: Option<String>,
}

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
    let asked = ask.query.text("depth").map(str::trim).filter(|text| !text.is_empty());
    let depth = asked.map(|text| typed::<MixedDepth>("depth", text, Dimension::Depth.unit(units)));
    let (depth_cm, refused) = match &depth {
        None => (USUAL_DEPTH_CM, None),
        Some(Ok(depth)) => (ground::kit::Bounded::get(*depth), None),
        Some(Err(refusal)) => (USUAL_DEPTH_CM, Some(refusal.message.clone())),
    };
    let scab = ask.query.text("scab") == Some("yes");
    let options = AcidityOptions { depth_cm, scab };
    let key = format!("acidity of {} on {today}, {depth_cm} {scab}", plot.id);
    let report = desk
        .derived(&snapshot, &key, |snapshot| acidity(snapshot, &told.report, options, today).map(Arc::new));
    let report = (*report)
        .clone()
        .ok_or_else(|| Problem::not_found("The acidity of this plot could not be worked out."))?;
    Shown::page(AcidityPage {
        shell: ask.shell(Section::Farm, format!("Acidity, {}", plot.body.name)),
        id: plot.id,
        said: tell::sentences(&report, units),
        scale: scale(&report),
        needs: needs(&report, units),
        beds: beds(&report, units),
        cautions: report.cautions.iter().map(|caution| in_units(caution, units)).collect(),
        depth: asked.map_or_else(|| advice::words::depth(USUAL_DEPTH_CM, units), str::to_owned),
        scab,
        refused,
        report,
    })
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
