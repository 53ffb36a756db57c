//! Where water stands in the ground, how fast it leaves, and what leads it away.

use book::model::UnitSystem;
use book::model::seen::Sign as Seen;
use ground::kit::units::in_units;
use ground::kit::{Bounded, Method, Spread};
use ground::water::drainage::equivalent_depth::DepthEquation;
use ground::water::drainage::hooghoudt_method::HooghoudtSpacing;
use ground::water::drainage::raised_bed::{EmptyingCurve, USUAL_AIR, bed_height_cm};
use ground::water::drainage::signs::{Sign, SignKind};
use ground::water::drainage::spacing_guide::{DrainageAim, GuideSubsoil, guide_row, guide_spacing_m};
use ground::water::drainage::water_table::{HowSure, Likelihood, WaterKind, WaterTableOutput, judge};
use ground::water::drainage::{DrainingLayer, Drains, NaturalDrainage};
use serde::Serialize;

use super::soils::Soils;
use crate::facts::SeenSign;
use crate::words;

/// Roots kept in air by a bed: a foot, which most vegetables ask for at least (judgement).
pub const AIRED_ROOTS_CM: f64 = 30.0;
/// Beds higher than this are more work than they are worth: a foot and a half (judgement).
pub const HIGHEST_BED_CM: f64 = 45.0;
/// Drainage that counts as over, mm a day.
const SLOW_MM_D: f64 = 1.0;
/// Pipes as they are laid by small machines, m (judgement).
const DRAIN_DEPTH_M: f64 = 1.0;
/// Depth at which water may stand midway between drains, m (judgement).
const TABLE_AT_M: f64 = 0.5;
/// Where nothing is known of it, the layer that hardly passes water is taken to lie here, m (judgement).
const FLOOR_M: f64 = 2.0;
/// Radius of common drain pipe with its gravel, m (judgement).
const PIPE_RADIUS_M: f64 = 0.05;

/// A reason for or against water within the roots.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Reason {
    /// In words, in the units of the farm.
    pub text: String,
    /// "strong", "fair" or "weak".
    pub weight: &'static str,
}

/// How high a bed must be.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BedHeight {
    /// Depth of the wetness it is reckoned from, cm.
    pub wet_from_cm: f64,
    /// Roots kept in air, cm.
    pub roots_cm: f64,
    /// Least height: roots end above the fringe where every pore is full, cm.
    pub least_cm: Spread,
    /// Height that gives all those roots a tenth of air, cm; nothing where the pores cannot give it.
    pub aired_cm: Option<Spread>,
    /// Odds that a bed of a foot and a half is enough.
    pub odds_bed_is_enough: f64,
}

/// Drains by Hooghoudt, with the guide beside them.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrainAdvice {
    /// Depth of the pipes, m.
    pub depth_m: f64,
    /// Depth at which water may stand midway, m.
    pub table_at_m: f64,
    /// Water led away, mm a day.
    pub drainage_mm_d: f64,
    /// Depth of the floor it is reckoned with, m.
    pub floor_m: f64,
    /// Was that floor seen?
    pub floor_seen: bool,
    /// Spacing, m; nothing where no draw conducts enough.
    pub spacing_m: Option<Spread>,
    /// Share of what the ground may be that no pipes could drain so.
    pub odds_no_spacing: f64,
    /// The subsoil by which the guide is read, where it has it.
    pub guide_subsoil: Option<GuideSubsoil>,
    /// Spacing of the guide, m.
    pub guide_spacing_m: Option<f64>,
    /// Depths of the guide, m.
    pub guide_depth_m: Option<[f64; 2]>,
    /// What had to be assumed, in sentences.
    pub assumed: Vec<String>,
}

/// Where water stands and how it leaves.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Drainage {
    /// Water within the roots at some time of the year.
    pub likelihood: Likelihood,
    /// How well the signs agree.
    pub how_sure: HowSure,
    /// Perched or from below.
    pub kind: WaterKind,
    /// In a sentence.
    pub sentence: String,
    /// Reasons for it.
    pub reasons_for: Vec<Reason>,
    /// Reasons against it.
    pub reasons_against: Vec<Reason>,
    /// Shallowest depth that shows wetness, cm.
    pub wet_from_cm: Option<f64>,
    /// Depth at which water itself was seen, cm.
    pub water_at_cm: Option<f64>,
    /// Natural drainage class, a hint.
    pub drainage_class: Option<NaturalDrainage>,
    /// Days after a soaking until a tenth of the top is air.
    pub days_to_air: Option<Spread>,
    /// Days until drainage has become slow.
    pub days_until_slow: Option<Spread>,
    /// Raised beds, where the ground shows wetness near the roots.
    pub beds: Option<BedHeight>,
    /// Drains, where they are called for.
    pub drains: Option<DrainAdvice>,
    /// What could hurt someone, and who decides.
    pub cautions: Vec<&'static str>,
    /// What would settle it.
    pub look: &'static str,
}

/// What would settle where water stands.
pub const LOOK: &str = "In the wet season, a few days after a soaking rain, auger a hole as deep as the roots, cover it overnight, and record where water stands in it, or that it stayed dry.";

/// Signs of a plot as the judge of water tables takes them. A smell is left out: it was recorded without a
/// depth.
#[must_use]
pub fn signs_of(seen: &[SeenSign], tighter_from_cm: Option<f64>) -> Vec<Sign> {
    let sign = |kind, depth: Option<f64>, on: Option<String>| Sign {
        kind,
        depth_cm: depth.and_then(|cm| Bounded::new(cm.clamp(0.0, 300.0)).ok()),
        days_d: None,
        on,
        when: None,
    };
    let mut signs: Vec<Sign> = seen
        .iter()
        .filter_map(|one| {
            let on = Some(one.on.to_string());
            Some(match one.sign {
                Seen::Mottles { from_cm } => sign(SignKind::Mottles, Some(from_cm.get()), on),
                Seen::GreyLayer { from_cm } => sign(SignKind::GreyLayer, Some(from_cm.get()), on),
                Seen::WaterTable { at_cm } => sign(SignKind::WaterInHole, Some(at_cm.get()), on),
                Seen::PanFelt { at_cm } | Seen::Rock { at_cm } => {
                    sign(SignKind::TightLayer, Some(at_cm.get()), on)
                }
                Seen::StandingWater { days } => {
                    Sign { days_d: Bounded::new(days.get()).ok(), ..sign(SignKind::StandingWater, None, on) }
                }
                _ => return None,
            })
        })
        .collect();
    signs.extend(tighter_from_cm.map(|cm| sign(SignKind::TightLayer, Some(cm), None)));
    signs
}

/// The judgement of the signs in a sentence.
#[must_use]
pub fn sentence(judged: &WaterTableOutput) -> String {
    let what = match judged.kind {
        WaterKind::Perched => "water perched on a tighter layer",
        WaterKind::Groundwater => "groundwater",
        WaterKind::NotTold => "water",
    };
    match judged.likelihood {
        Likelihood::Seen => {
            format!("Water stands within the roots at times: it was seen. It looks like {what}.")
        }
        Likelihood::Likely => {
            format!("It is likely that {what} stands within the roots for part of the year.")
        }
        Likelihood::Possible => {
            format!("It may be that {what} stands within the roots at times: one sign hints at it.")
        }
        Likelihood::Unlikely => {
            "Water hardly ever stands within the roots here, by what was seen.".to_owned()
        }
        Likelihood::Unknown => "Nobody has looked yet whether water stands in this ground.".to_owned(),
    }
}

fn days(soils: &Soils, depth_cm: f64, to: impl Fn(&DrainingLayer) -> Option<f64>) -> Option<Spread> {
    let thickness_mm = 10.0 * depth_cm;
    soils.spread(|draw| {
        // What the tightest layer below lets through holds the water above it.
        let below = soils
            .layers
            .iter()
            .skip(1)
            .filter(|layer| layer.from_cm < 100.0)
            .filter_map(|layer| layer.water[draw].saturated_conductivity)
            .fold(f64::INFINITY, f64::min);
        let layer = DrainingLayer::of_soil(&soils.top().water[draw], thickness_mm, below)?;
        Some(layer.days_from_full(to(&layer)?))
    })
}

fn beds(soils: &Soils, wet_from_cm: f64, root_depth_cm: f64) -> Option<BedHeight> {
    let roots = root_depth_cm.min(AIRED_ROOTS_CM);
    let curve = |draw: usize| EmptyingCurve::of_soil(&soils.at(wet_from_cm / 2.0).water[draw]);
    let least = |draw: usize| Some(bed_height_cm(wet_from_cm, roots, curve(draw)?.bubbling_cm));
    let aired =
        |draw: usize| Some(bed_height_cm(wet_from_cm, roots, curve(draw)?.aired_above_cm(USUAL_AIR)?));
    Some(BedHeight {
        wet_from_cm,
        roots_cm: roots,
        least_cm: soils.spread(least)?,
        aired_cm: soils.spread(aired),
        odds_bed_is_enough: soils.odds(|draw| least(draw).is_some_and(|height| height <= HIGHEST_BED_CM)),
    })
}

fn drains(soils: &Soils, floor_cm: Option<f64>, units: UnitSystem) -> DrainAdvice {
    let aim = DrainageAim::Excellent;
    // Drains lie on the floor at most.
    let floor_m = floor_cm.map_or(FLOOR_M, |cm| cm / 100.0).max(0.6);
    let depth_m = DRAIN_DEPTH_M.min(floor_m);
    let m_d = |cm: f64, draw: usize| Some(soils.at(cm).water[draw].saturated_conductivity? * 24.0 / 1000.0);
    let spacing = |draw: usize| {
        let middle = 50.0 * (TABLE_AT_M + depth_m);
        Drains {
            above_m_d: m_d(middle, draw)?,
            below_m_d: m_d(100.0 * depth_m + 1.0, draw)?,
            depth_below_m: floor_m - depth_m,
            radius_m: PIPE_RADIUS_M,
            equation: DepthEquation::ClosedForm,
        }
        .spacing_m(aim.drainage_mm_d() / 1000.0, depth_m - TABLE_AT_M.min(0.5 * depth_m))
    };
    let guide_subsoil = GuideSubsoil::of(soils.at(100.0 * depth_m).class().0);
    let row = guide_subsoil.map(guide_row);
    const M_PER_FT: f64 = 0.3048;
    let mut assumed = vec![
        format!(
            "Pipes at {depth_m:.1} m, water kept {TABLE_AT_M:.1} m down midway, {:.1} mm of water led away a day (what vegetables are usually given).",
            aim.drainage_mm_d()
        ),
        "Ground that conducts alike sideways and down; the conductivity is the one of the make-up, and cracks and channels change it several-fold.".to_owned(),
    ];
    if floor_cm.is_none() {
        assumed
            .push(format!("A layer that hardly passes water at {FLOOR_M:.0} m: nobody has looked so deep."));
    }
    DrainAdvice {
        depth_m,
        table_at_m: TABLE_AT_M,
        drainage_mm_d: aim.drainage_mm_d(),
        floor_m,
        floor_seen: floor_cm.is_some(),
        spacing_m: soils.spread(spacing),
        odds_no_spacing: soils.odds(|draw| spacing(draw).is_none()),
        guide_spacing_m: guide_subsoil.map(|subsoil| guide_spacing_m(subsoil, aim)),
        guide_depth_m: row.map(|row| [row.least_depth_ft * M_PER_FT, row.greatest_depth_ft * M_PER_FT]),
        guide_subsoil,
        assumed: assumed.iter().map(|text| in_units(text, units)).collect(),
    }
}

pub(super) fn drainage(
    units: UnitSystem,
    soils: &Soils,
    seen: &[SeenSign],
    tighter_from_cm: Option<f64>,
    floor_cm: Option<f64>,
    root_depth_cm: f64,
) -> Drainage {
    let judged = judge(&signs_of(seen, tighter_from_cm), root_depth_cm);
    let told = |reasons: &[ground::water::drainage::signs::Reason]| -> Vec<Reason> {
        reasons
            .iter()
            .map(|reason| Reason { text: words::depths(&reason.text, units), weight: weight(reason) })
            .collect()
    };
    let wet = matches!(judged.likelihood, Likelihood::Seen | Likelihood::Likely);
    let stood_long =
        seen.iter().any(|one| matches!(one.sign, Seen::StandingWater { days } if days.get() >= 3.0));
    let drained_cm = root_depth_cm.min(soils.top().to_cm);
    let beds = judged
        .wet_from_cm
        .filter(|wet_from| *wet_from <= root_depth_cm + 60.0)
        .and_then(|wet_from| beds(soils, wet_from, root_depth_cm))
        .filter(|height| wet || height.least_cm.median > 0.0);
    let drains = (wet || stood_long).then(|| drains(soils, floor_cm, units));
    let cautions = if beds.is_some() || drains.is_some() {
        HooghoudtSpacing::CARD.cautions.to_vec()
    } else {
        Vec::new()
    };
    Drainage {
        likelihood: judged.likelihood,
        how_sure: judged.how_sure,
        kind: judged.kind,
        sentence: sentence(&judged),
        reasons_for: told(&judged.reasons_for),
        reasons_against: told(&judged.reasons_against),
        wet_from_cm: judged.wet_from_cm,
        water_at_cm: seen.iter().find_map(|one| match one.sign {
            Seen::WaterTable { at_cm } => Some(at_cm.get()),
            _ => None,
        }),
        drainage_class: judged.drainage_class,
        days_to_air: days(soils, drained_cm, |layer| {
            (layer.full > USUAL_AIR).then_some(layer.full - USUAL_AIR)
        }),
        days_until_slow: days(soils, drained_cm, |layer| Some(layer.content_at_rate(SLOW_MM_D / 24.0))),
        beds,
        drains,
        cautions,
        look: LOOK,
    }
}

fn weight(reason: &ground::water::drainage::signs::Reason) -> &'static str {
    use ground::water::drainage::signs::Weight;
    match reason.weight {
        Weight::Strong => "strong",
        Weight::Fair => "fair",
        Weight::Weak => "weak",
    }
}
