//! The structure of a plot: where a pan lies, how dense the ground is for its roots, when it may be worked, how it
//! washes, where its organic matter goes, and whether to loosen it.
//!
//! [`structure`] gives everything that a page or the command line shows; the decision is the rule of
//! `loosening-decision` put to every state that the plot's evidence leaves open, and so is what the finding on
//! packed ground says ([`decision::decided`]). Nothing here reads a clock.

pub mod decision;
pub mod dense;
pub mod organic;
pub mod readings;
pub mod tell;
mod tell_years;
pub mod working;

pub(crate) use tell_years::LITRES_PER_FT3;
pub use tell_years::worms;

use book::Snapshot;
use book::model::{EntryId, Place, Seen};
use ground::kit::{Bounded, Method, Provenance, Spread};
use ground::structure::erodibility::K_METRIC;
use ground::structure::loosening::decide::Loosening;
use ground::structure::loosening::method::LooseningDecision;
use ground::structure::slope_steepness::slope_steepness;
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use crate::again::{self, Property, Series};
use crate::plot_report::{PlotReport, signs_of_plot};
use crate::rules;
use decision::{Decided, Known, Possible, Tools, WouldSettle};
use dense::DensityTold;
use organic::OrganicTold;
use readings::{BlockRead, CoresRead, Readings, SlakeRead, TransectRead};
use working::WorkingTold;

/// What the page rests on.
const RESTS_ON: &[&str] = &[
    "Limits of roots under the probe, 200 and 300 psi, and the spade before iron: extension publications that were read.",
    "The shares of pushes that part slight, moderate and severe: recalled from an extension publication.",
    "The share of the plot that is hard, from pushes: Jeffreys' posterior of a proportion; points are taken as spread over the plot.",
    "Densities that hinder and restrict roots: the table of the US soil conservation service, over everything the ground may be; other authors differ by up to 0.15 g/cm³.",
    "Days after rain, the soaking rain of half an inch and the broadfork's usual reach: common practice, no source.",
    "Loss of organic matter: the equation of Hénin and Dupuis, give or take a quarter (judgement); shares that become humus are recalled.",
];

/// How easily bare ground washes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Erodes {
    /// K in US customary units.
    pub k_us: Spread,
    /// K in t·ha·h/(ha·MJ·mm).
    pub k_metric: Spread,
    /// Slope that it is told for.
    pub slope_percent: f64,
    /// Was it given?
    pub slope_given: bool,
    /// K times the steepness factor, median.
    pub k_times_s: f64,
}

/// What to look at next, and when.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NextLook {
    /// From this day on.
    pub on: Date,
    /// What to look at.
    pub what: String,
}

/// Everything there is to say about the structure of one plot.
#[derive(Debug, Clone, Serialize)]
pub struct StructureReport {
    /// The plot.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// What it lies under.
    pub place: Place,
    /// The day it was told for.
    pub today: Date,
    /// Does any evidence speak of its make-up?
    pub make_up_known: bool,
    /// What is known for the decision.
    pub known: Known,
    /// Loosen or not.
    pub decision: Decided,
    /// What to do at once after.
    pub after: &'static str,
    /// What to expect by when, and what to look at.
    pub expect: &'static str,
    /// Readings that would change the decision.
    pub would_settle: Vec<WouldSettle>,
    /// The latest transect where crops grow.
    pub transect: Option<TransectRead>,
    /// Thickness of the hard layer, where both ends were found.
    pub pan_thickness_cm: Option<Spread>,
    /// The latest transect in wheel tracks.
    pub tracks: Option<TransectRead>,
    /// The latest cores.
    pub cores: Option<CoresRead>,
    /// Density and air, where anything tells of the make-up.
    pub density: Option<DensityTold>,
    /// The latest spade block.
    pub block: Option<BlockRead>,
    /// The latest slake test.
    pub slake: Option<SlakeRead>,
    /// When it may be worked.
    pub working: WorkingTold,
    /// How it washes; under cover nothing does.
    pub erodes: Option<Erodes>,
    /// Organic matter over the years.
    pub organic: Option<OrganicTold>,
    /// Readings over the years.
    pub trends: Vec<Series>,
    /// What to look at next.
    pub next_look: Option<NextLook>,
    /// What could hurt someone or do damage.
    pub cautions: Vec<&'static str>,
    /// How the weakest part of it is known.
    pub provenance: Provenance,
    /// The same in words.
    pub provenance_words: &'static str,
    /// What it rests on.
    pub rests_on: &'static [&'static str],
}

/// Does anything in the book tell of the packing of a plot beside cores and probe?
#[must_use]
pub fn packing_told(snapshot: &Snapshot, plot: EntryId) -> bool {
    snapshot.evidence(plot).any(|held| matches!(held.body.seen, Seen::Packing(_)))
}

/// The states that a report leaves open.
fn possible(report: &PlotReport) -> Vec<Possible> {
    report
        .ensemble
        .draws
        .iter()
        .zip(&report.water_draws.matric_density_g_cm3)
        .map(|(draw, density)| Possible { soil: draw.soil, class: draw.class, density_g_cm3: *density })
        .collect()
}

/// The structure of a plot on a day.
#[must_use]
pub fn structure(
    snapshot: &Snapshot,
    report: &PlotReport,
    tools: Tools,
    today: Date,
) -> Option<StructureReport> {
    let held = snapshot.plot(report.id)?;
    let readings = Readings::of(snapshot, report.id);
    let signs = signs_of_plot(snapshot, report.id);
    let packing = packing_told(snapshot, report.id);
    let known = Known::of(&readings, &signs, packing, tools, Some(today));
    let possible = possible(report);
    let weights = &report.ensemble.weights;
    let decision = decision::decided(&possible, weights, &known);
    let would_settle = decision::would_settle(&possible, weights, &known, &decision);
    let transect = readings.transect().cloned();
    let cores = readings.cores.last().cloned();
    let tells_density = report.make_up_known && (cores.is_some() || packing);
    let measured_organic = report.supposed.iter().all(|one| one.what != "organic matter");
    Some(StructureReport {
        id: report.id,
        name: report.name.clone(),
        place: report.place,
        today,
        make_up_known: report.make_up_known,
        known,
        after: ground::structure::loosening::method::after(decision.what),
        expect: ground::structure::loosening::method::expect(decision.what),
        would_settle,
        pan_thickness_cm: transect.as_ref().and_then(|one| readings::thickness_cm(&one.found)),
        tracks: readings.tracks().cloned(),
        density: tells_density.then(|| dense::density(report, cores.as_ref(), packing)).flatten(),
        cores,
        block: readings.blocks.last().cloned(),
        slake: readings.slakes.last().cloned(),
        working: working::working(snapshot, report, &readings, &signs, today),
        erodes: (report.make_up_known && !report.place.under_cover())
            .then(|| erodes(report, held.body.slope_percent.map(Bounded::get)))
            .flatten(),
        organic: report
            .make_up_known
            .then(|| organic::organic(snapshot, report, measured_organic, today))
            .flatten(),
        trends: again::structure_years(snapshot, report.id),
        next_look: next_look(&readings, transect.as_ref(), decision.what, report.place, today),
        cautions: LooseningDecision::CARD.cautions.to_vec(),
        provenance: Provenance::CommonPractice,
        provenance_words: Provenance::CommonPractice.words(),
        rests_on: RESTS_ON,
        transect,
        decision,
    })
}

fn erodes(report: &PlotReport, slope: Option<f64>) -> Option<Erodes> {
    let water = &report.water_draws;
    let each: Vec<f64> = report
        .ensemble
        .draws
        .iter()
        .zip(&water.saturated_conductivity_mm_h)
        .map(|(draw, conductivity)| rules::erosion_k(draw.soil, draw.organic_matter_percent, *conductivity))
        .collect();
    let k_us = Spread::of(&each, &report.ensemble.weights)?;
    let slope_percent = slope.unwrap_or(rules::USUAL_SLOPE_PERCENT);
    let scaled = |by: f64| Spread { low: by * k_us.low, median: by * k_us.median, high: by * k_us.high };
    Some(Erodes {
        k_metric: scaled(K_METRIC),
        k_times_s: k_us.median * slope_steepness(slope_percent),
        k_us,
        slope_percent,
        slope_given: slope.is_some(),
    })
}

/// As long after the last reading of hardness as the table of intervals says, in the same places at the same moisture.
fn next_look(
    readings: &Readings,
    transect: Option<&TransectRead>,
    what: Loosening,
    place: Place,
    today: Date,
) -> Option<NextLook> {
    let last = [
        transect.map(|one| one.on),
        readings.cores.last().map(|one| one.on),
        readings.blocks.last().map(|one| one.on),
    ]
    .into_iter()
    .flatten()
    .max()?;
    let months = again::next::months(Property::PanTop, place)?;
    let on = last.saturating_add(months.months()).max(today);
    Some(NextLook { on, what: ground::structure::loosening::method::expect(what).to_owned() })
}
