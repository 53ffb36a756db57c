//! Whether beds must be raised over wet ground, or drains come before planting.

use ground::irrigation::balance::soils::curve_through;
use ground::kit::{Cite, Provenance, Working};
use ground::water::drainage::raised_bed::{EmptyingCurve, bed_height_cm};
use ground::water::drainage::water_table::{Likelihood, judge as weigh};

use crate::facts::{Draw, Ground};
use crate::finding::{Finding, Kind};
use crate::rule::Rule;
use crate::water::{AIRED_ROOTS_CM, HIGHEST_BED_CM, signs_of};
use crate::words;

/// Beds no higher than this are what most growers shape anyway: 4 in (judgement).
const USUAL_BED_CM: f64 = 10.0;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "raised-beds",
    title: "Beds over wet ground",
    question: "How high must beds be here, or must the ground be drained before planting?",
    kind: Kind::Do,
    sources: &[Cite::new("BrooksCorey1964", "bubbling pressure")],
    provenance: Provenance::Judgement,
    stake: 1.0,
    look: "Find out how high water stands in the wet season: a hole covered overnight, a few days after a soaking rain.",
    cautions: &[
        "Before digging or trenching: have buried services located, and never enter an unsupported trench. Drains and their outlets may need a permit, and wetlands are protected: ask first.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("as-usual", "beds as they are usually shaped will do"),
    ("raise", "beds must be raised"),
    ("drain", "beds alone will not keep roots in air: drain first"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let judged = weigh(&signs_of(&ground.signs, None), ground.site.root_depth_cm);
    // Without wetness near the roots the question does not arise.
    let wet_from_cm = judged.wet_from_cm?;
    if !matches!(judged.likelihood, Likelihood::Seen | Likelihood::Likely) {
        return None;
    }
    let roots = ground.site.root_depth_cm.min(AIRED_ROOTS_CM);
    let heights = ground.each(|draw| height(draw, wet_from_cm, roots));
    let spread = ground.spread_each(&heights)?;
    let units = ground.units;
    let finding = rule.weighed_each(
        ground,
        ANSWERS,
        heights.iter().map(|height| match *height {
            h if h <= USUAL_BED_CM => 0,
            h if h <= HIGHEST_BED_CM => 1,
            _ => 2,
        }),
        |at| match at {
            0 => "Beds as they are usually shaped keep a foot of roots above the wet ground. Keep the paths open, so that water can leave.".to_owned(),
            1 => format!(
                "Raise the beds: about {} high keeps {} of roots above the wet ground, and new beds settle, so build them a quarter higher.",
                words::depth(spread.median, units),
                words::depth(roots, units)
            ),
            _ => format!(
                "A bed would have to be about {} high. Lead the water away first, or grow here what stands in summer only.",
                words::depth(spread.median, units)
            ),
        },
    );
    let cm = |value: f64| words::depth(value, units);
    let working = Working::new()
        .step(
            "least height of a bed",
            "roots to keep in air + the fringe where every pore stays full − depth of the wetness",
            format!(
                "{} + fringe − {} over {} possible make-ups",
                cm(roots),
                cm(wet_from_cm),
                ground.draws.len()
            ),
            format!("{} (90 %: {} to {})", cm(spread.median), cm(spread.low), cm(spread.high)),
        )
        .cite(rule.sources[0]);
    Some(
        finding
            .because(format!("The ground shows wetness from {} down.", cm(wet_from_cm)))
            .because("Still water and ground in balance with it; wet days ask for more, cracks and crumbs of well-built ground for less.".to_owned())
            .worked(working),
    )
}

fn height(draw: &Draw, wet_from_cm: f64, roots_cm: f64) -> f64 {
    let curve = curve_through(draw.field_capacity, draw.wilting_point, Some(draw.saturation), None);
    EmptyingCurve::of_soil(&curve)
        .map_or(f64::NAN, |curve| bed_height_cm(wet_from_cm, roots_cm, curve.bubbling_cm))
}
