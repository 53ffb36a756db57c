//! The acidity of a plot: how sour it is, what its crops ask for, how much lime by the farm's method and by every
//! other that the report permits, what of which product, sulfur, and sodium.
//!
//! [`acidity`] gives everything that a page or the command line shows. No lime method is followed until the farm
//! has chosen one.

mod crops;
mod lime;
mod lower;
mod product;
mod reading;
mod season;
mod sodium;
pub mod tell;

use book::Snapshot;
use book::model::EntryId;
use ground::fertility::acidity::LimeMethod;
use ground::fertility::acidity::basis::{LIME_CAUTIONS, inches};
use jiff::civil::Date;
use serde::Serialize;

use crate::plot_report::PlotReport;

pub use crops::{CropRange, TargetTold};
pub use lime::{Chosen, LimeSpread, MethodLine};
pub use lower::Lower;
pub use product::{BedLime, ProductLine};
pub use reading::AcidTest;
pub use season::LimeSeason;
pub use sodium::{SodiumTold, exchangeable_sodium};

/// Depth that lime is mixed into where nothing else is asked, cm: six inches, as beds are worked.
pub const USUAL_DEPTH_CM: f64 = inches(6.0);
/// How far below the pH to reach liming begins.
const LIME_FROM_BELOW: f64 = 0.2;

/// What is asked of the page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AcidityOptions {
    /// Depth that lime or sulfur is mixed into, cm.
    pub depth_cm: f64,
    /// Is potato scab a risk here?
    pub scab: bool,
}

impl Default for AcidityOptions {
    fn default() -> Self {
        Self { depth_cm: USUAL_DEPTH_CM, scab: false }
    }
}

/// Where a plot stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// No pH was measured.
    NotTested,
    /// Only a pH in salt was measured, which no method here reads.
    SaltOnly,
    /// Below what its crops ask for.
    TooAcid,
    /// As its crops ask for.
    Fits,
    /// Above what its most acid-loving crop bears.
    TooSweet,
    /// It holds free lime.
    FreeLime,
}

/// The acidity of a plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AcidityReport {
    /// The plot.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// Where it stands.
    pub standing: Standing,
    /// The soil test that was read.
    pub test: Option<AcidTest>,
    /// The pH to reach and what asks for it.
    pub target: TargetTold,
    /// Depth that lime is mixed into, cm.
    pub depth_cm: f64,
    /// Every lime method, with its need or why it gives none.
    pub methods: Vec<MethodLine>,
    /// The farm's method.
    pub chosen: Chosen,
    /// The need by the farm's method, before lime that was spread since is taken off.
    pub need: Option<LimeSpread>,
    /// Which limestone, by magnesium.
    pub kind: Option<&'static str>,
    /// What of each liming material, per square metre.
    pub products: Vec<ProductLine>,
    /// What each bed needs, lime spread since taken off.
    pub beds: Vec<BedLime>,
    /// When to spread, and when to test again.
    pub season: Option<LimeSeason>,
    /// Sulfur, where the ground is too sweet.
    pub lower: Option<Lower>,
    /// Sodium and gypsum, where a figure speaks of them.
    pub sodium: Option<SodiumTold>,
    /// What may mislead.
    pub notes: Vec<String>,
    /// What may hurt someone.
    pub cautions: Vec<&'static str>,
    /// What it rests on.
    pub rests_on: &'static [&'static str],
}

const RESTS_ON: &[&str] = &[
    "The pH to reach: published ranges of each crop (vegetables' tolerance groups recalled); where in its range a crop's own aim lies is our judgement.",
    "Each lime method by its own name, buffer, depth and lime; none is mixed with another. The mark beside it says how its numbers reached this project.",
    "The spread: the method's own error over every make-up the ground may have; the errors are the accuracy that comparisons of buffers with incubation report, rounded (judgement).",
    "Lime spread since the test counts in full; before it, what North Carolina's monthly shares leave unused.",
];

/// The acidity of a plot; `None` where the book has no such plot.
#[must_use]
pub fn acidity(
    snapshot: &Snapshot,
    report: &PlotReport,
    options: AcidityOptions,
    today: Date,
) -> Option<AcidityReport> {
    let plot = snapshot.plot(report.id)?;
    let test = reading::latest(snapshot, report.id);
    let organic_soil = lime::organic_soil(report);
    let target = crops::target_of(snapshot, report.id, organic_soil, options.scab, today);
    let ph = test.as_ref().and_then(|test| test.ph_water);
    let free_lime = test.as_ref().is_some_and(|test| test.free_lime);
    let standing = match (&test, ph) {
        (None, _) => Standing::NotTested,
        (Some(test), None) if test.ph_salt.is_some() => Standing::SaltOnly,
        (Some(_), None) => Standing::NotTested,
        (Some(_), Some(ph)) if ph > target.at_most_ph + 0.2 => {
            if free_lime {
                Standing::FreeLime
            } else {
                Standing::TooSweet
            }
        }
        (Some(_), Some(ph)) if ph <= target.target_ph - LIME_FROM_BELOW + 1e-9 => Standing::TooAcid,
        _ => Standing::Fits,
    };
    let acid = standing == Standing::TooAcid;
    let chosen = Chosen::of(snapshot);
    let mut notes = Vec::new();
    let methods = match (&test, acid) {
        (Some(test), true) => {
            lime::methods(report, &test.figures, target.target_ph, options.depth_cm, &chosen, organic_soil)
        }
        _ => Vec::new(),
    };
    let need = methods.iter().find(|line| line.chosen).and_then(|line| line.need);
    let beds = need.map_or_else(Vec::new, |need| product::beds(snapshot, plot, test.as_ref(), need));
    let system = match &chosen {
        Chosen::Method(method) => Some(method.basis().system),
        _ => None,
    };
    let kind = acid.then(|| test.as_ref().map(reading::kind)).flatten();
    let products = match (need, system) {
        (Some(need), Some(system)) => {
            product::lines(snapshot, snapshot.under_organic_rules(&plot.body), need, system, &beds)
        }
        _ => Vec::new(),
    };
    if let (Some(test), true) = (&test, acid) {
        notes.extend(lime::notes(snapshot, report, test, &methods, options.depth_cm, organic_soil));
    }
    notes.extend(test.as_ref().map(|test| test.remarks.clone()).unwrap_or_default());
    let lower = match (&test, standing) {
        (Some(test), Standing::TooSweet | Standing::FreeLime) => {
            lower::lower(report, test, &target, options.depth_cm)
        }
        _ => None,
    };
    let sodium = test.as_ref().and_then(sodium::told);
    let mut cautions = if acid { LIME_CAUTIONS.to_vec() } else { Vec::new() };
    if lower.as_ref().is_some_and(|lower| lower.sulfur.is_some()) {
        cautions.extend(ground::fertility::acidity::sulfur::SULFUR_CAUTIONS);
    }
    Some(AcidityReport {
        id: report.id,
        name: report.name.clone(),
        standing,
        target,
        depth_cm: options.depth_cm,
        need,
        kind,
        products,
        beds,
        season: acid.then(|| season::season(snapshot, report.id, today)),
        lower,
        sodium,
        notes,
        cautions,
        rests_on: RESTS_ON,
        methods,
        chosen,
        test,
    })
}

/// The soil test that acidity is read from.
pub(crate) fn acid_test(snapshot: &Snapshot, plot: EntryId) -> Option<AcidTest> {
    reading::latest(snapshot, plot)
}

/// Lime by the farm's method to reach a pH at the usual depth, with that method.
pub(crate) fn lime_to(
    snapshot: &Snapshot,
    report: &PlotReport,
    test: &AcidTest,
    target_ph: f64,
) -> Option<(LimeMethod, LimeSpread)> {
    lime::need_by_choice(snapshot, report, &test.figures, target_ph, USUAL_DEPTH_CM)
}
