//! The lime need by every method, over what the ground may be.

use book::Snapshot;
use ground::fertility::acidity::lime_method::ORGANIC_SOIL_FROM;
use ground::fertility::acidity::texture_table;
use ground::fertility::acidity::tri_state::organic_soil_need_kg_m2;
use ground::fertility::acidity::{LimeFigures, LimeGround, LimeMethod};
use ground::kit::Spread;
use ground::water::equations::gravel_volume;
use ground::water::salts::TextureGroup;
use serde::Serialize;

use super::reading::AcidTest;
use crate::plot_report::PlotReport;
use crate::ranks::rank;
use crate::words;

/// The farm's choice of a lime method.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "state", content = "method", rename_all = "snake_case")]
pub enum Chosen {
    /// None yet.
    None,
    /// This one.
    Method(LimeMethod),
    /// A key that no method here has.
    Unknown(String),
}

impl Chosen {
    pub(super) fn of(snapshot: &Snapshot) -> Self {
        match snapshot.farm.body.lime_method.as_deref() {
            None => Self::None,
            Some(key) => LimeMethod::of_key(key).map_or_else(|| Self::Unknown(key.to_owned()), Self::Method),
        }
    }
}

/// A lime need with how surely it is known, pure calcium carbonate, kg/m².
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LimeSpread {
    /// Median and 90 % range.
    pub carbonate_kg_m2: Spread,
    /// What suffices in four cases of five.
    pub p80_kg_m2: f64,
}

/// One method on this plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MethodLine {
    /// The method.
    pub method: LimeMethod,
    /// Its name in the handbook.
    pub method_name: String,
    /// Its region and what it reads.
    pub words: &'static str,
    /// Is it the farm's method?
    pub chosen: bool,
    /// Does it go by texture?
    pub by_texture: bool,
    /// The pH it reaches.
    pub target_ph: Option<f64>,
    /// Its need.
    pub need: Option<LimeSpread>,
    /// Why it gives none.
    pub why_not: Option<String>,
    /// How its numbers reached this project, in words.
    pub provenance_words: &'static str,
}

/// Is most of what is believed of the ground muck or peat?
pub(super) fn organic_soil(report: &PlotReport) -> bool {
    report
        .ensemble
        .spread(|draw| draw.organic_matter_percent)
        .is_some_and(|spread| spread.median >= ORGANIC_SOIL_FROM)
}

/// Bulk density of the top, where packing was measured.
fn density(report: &PlotReport) -> Option<f64> {
    if report.supposed.iter().any(|one| one.what == "packing") {
        return None;
    }
    Spread::of(&report.water_draws.matric_density_g_cm3, &report.ensemble.weights).map(|spread| spread.median)
}

pub(super) fn methods(
    report: &PlotReport,
    figures: &LimeFigures,
    target_ph: f64,
    depth_cm: f64,
    chosen: &Chosen,
    organic_soil: bool,
) -> Vec<MethodLine> {
    let density = density(report);
    LimeMethod::ALL
        .into_iter()
        .map(|method| {
            let line = if organic_soil && method != LimeMethod::PhAndTexture {
                Err("made for mineral soil; this is muck or peat".to_owned())
            } else if method.by_texture() && !report.make_up_known {
                Err("nothing that was recorded here tells the texture of the ground".to_owned())
            } else {
                need(method, report, figures, target_ph, depth_cm, density)
            };
            MethodLine {
                method,
                method_name: method.method_name(),
                words: method.words(),
                chosen: *chosen == Chosen::Method(method),
                by_texture: method.by_texture(),
                target_ph: line.as_ref().ok().map(|found| found.0),
                need: line.as_ref().ok().map(|found| found.1),
                why_not: line.err(),
                provenance_words: method.provenance().words(),
            }
        })
        .collect()
}

/// The need by the farm's own method alone; `None` where it has none, or that gives none here.
pub(super) fn need_by_choice(
    snapshot: &Snapshot,
    report: &PlotReport,
    figures: &LimeFigures,
    target_ph: f64,
    depth_cm: f64,
) -> Option<(LimeMethod, LimeSpread)> {
    let Chosen::Method(method) = Chosen::of(snapshot) else { return None };
    let fits = !(method.by_texture() && !report.make_up_known
        || organic_soil(report) && method != LimeMethod::PhAndTexture);
    if !fits {
        return None;
    }
    let found = need(method, report, figures, target_ph, depth_cm, density(report)).ok()?;
    Some((method, found.1))
}

/// The need over all draws: each draw by its own texture where the method goes by it, strayed by a rank of the
/// method's own error, evenly spread so that nine in ten lie within it.
fn need(
    method: LimeMethod,
    report: &PlotReport,
    figures: &LimeFigures,
    target_ph: f64,
    depth_cm: f64,
    density: Option<f64>,
) -> Result<(f64, LimeSpread), String> {
    let draws = &report.ensemble.draws;
    let ground = |at: usize| {
        let draw = &draws[at];
        LimeGround {
            class: draw.class,
            clay_percent: draw.soil.clay,
            organic_matter_percent: draw.organic_matter_percent,
        }
    };
    let error = method.basis().error_percent / 100.0 / 0.9;
    let mut reached = target_ph;
    let one = method.need(figures, &ground(0), target_ph, depth_cm, density).map_err(|why| why.words())?;
    let mut values = Vec::with_capacity(draws.len());
    for (at, draw) in draws.iter().enumerate() {
        let found = if method.by_texture() {
            method.need(figures, &ground(at), target_ph, depth_cm, density).map_err(|why| why.words())?
        } else {
            one
        };
        reached = found.target_ph;
        let stones = if method == LimeMethod::PhAndTexture {
            let density = report.water_draws.matric_density_g_cm3[at];
            gravel_volume(draw.gravel_mass_percent / 100.0, density).clamp(0.0, 0.95)
        } else {
            0.0
        };
        let strays = 1.0 + (2.0 * rank(at) - 1.0) * error;
        values.push(found.carbonate_kg_m2 * (1.0 - stones) * strays);
    }
    let weights = &report.ensemble.weights;
    let carbonate_kg_m2 = Spread::of(&values, weights).ok_or("no make-up of this ground gives a need")?;
    Ok((reached, LimeSpread { carbonate_kg_m2, p80_kg_m2: weighted_share(&values, weights, 0.8) }))
}

/// The value that a share of the weight lies at or below.
fn weighted_share(values: &[f64], weights: &[f64], share: f64) -> f64 {
    let mut pairs: Vec<(f64, f64)> = values.iter().copied().zip(weights.iter().copied()).collect();
    pairs.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let total: f64 = weights.iter().sum();
    let mut below = 0.0;
    for (value, weight) in &pairs {
        below += weight;
        if below >= share * total {
            return *value;
        }
    }
    pairs.last().map_or(0.0, |pair| pair.0)
}

/// A need this many times the table's for its texture is told of.
const OUT_OF_LINE: f64 = 1.5;

pub(super) fn notes(
    snapshot: &Snapshot,
    report: &PlotReport,
    test: &AcidTest,
    methods: &[MethodLine],
    depth_cm: f64,
    organic_soil: bool,
) -> Vec<String> {
    let mut notes = Vec::new();
    let units = snapshot.farm.body.units;
    if organic_soil && let Some(ph) = test.ph_water {
        notes.push(format!(
            "Muck and peat are limed to about pH 5.3 only: by the rule of Michigan, Ohio and Indiana for organic soil (recalled) {} of pure calcium carbonate.",
            super::tell::per_area(organic_soil_need_kg_m2(ph, depth_cm), units)
        ));
    }
    let sand = report.ensemble.draws.iter().zip(&report.ensemble.weights);
    let coarse: f64 = sand
        .filter(|(draw, _)| TextureGroup::of(draw.class) == TextureGroup::Coarse)
        .map(|(_, weight)| weight)
        .sum();
    if report.make_up_known && coarse >= 0.5 {
        notes.push(
            "Sandy ground is soonest over-limed: manganese, iron, zinc and boron run short above pH 7. Put on half, wait half a year, test, then the rest."
                .to_owned(),
        );
    }
    if let (Some(chosen), Some(ph), true) = (
        methods.iter().find(|line| line.chosen).and_then(|line| line.need),
        test.ph_water,
        report.make_up_known,
    ) && !organic_soil
    {
        let class = report.belief.class().0;
        let table = texture_table::BASIS.carbonate_kg_m2(
            texture_table::rate_lb_100_ft2(ph, TextureGroup::of(class)),
            depth_cm,
            None,
        );
        if chosen.carbonate_kg_m2.median > OUT_OF_LINE * table && table > 0.0 {
            notes.push(format!(
                "This need is more than one and a half times what a table for {} of that pH gives ({}). Look the report over, and put it on in parts.",
                class.name(),
                super::tell::per_area(table, units)
            ));
        }
    }
    if depth_cm > 25.0 {
        notes.push(format!(
            "Lime worked no deeper than a fork or a tiller goes sours the top: make sure that it really is mixed {} deep.",
            words::depth(depth_cm, units)
        ));
    }
    notes
}
