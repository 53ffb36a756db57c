//! Whether water stands in a hard shower.

use ground::irrigation::balance::soils::curve_through;
use ground::kit::{Cite, Provenance, Working};
use ground::water::infiltration::green_ampt::GreenAmpt;

use crate::facts::{Draw, Ground};
use crate::finding::{Finding, Kind};
use crate::rule::Rule;
use crate::words;

/// The shower that is judged, mm in an hour: an inch, hard rain in most temperate places (judgement).
const SHOWER_MM: f64 = 25.4;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "ponding",
    title: "A hard shower",
    question: "Does an inch of rain in an hour go in, or does it stand and run off?",
    kind: Kind::Behaviour,
    sources: &[
        Cite::new("GreenAmpt1911", "wetting front"),
        Cite::new("MeinLarson1973", "ponding under steady rain"),
        Cite::new("SaxtonRawls2006", "eq. 16"),
    ],
    provenance: Provenance::Recalled,
    stake: 1.0,
    look: "Time an inch of water in a ring pressed into the ground, three times in places that look alike; or watch the next hard shower.",
    cautions: &[],
    judge,
};

const ANSWERS: [(&str, &str); 2] =
    [("goes-in", "a hard shower goes in"), ("stands", "a hard shower stands or runs off")];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    // Under a cover no rain falls.
    if ground.site.place.under_cover() {
        return None;
    }
    let rings = ground.water.rings.as_ref();
    let measured = rings.map(|rings| rings.mean_mm_h.median);
    let slope = ground.site.slope_percent.unwrap_or(0.0);
    let fronts: Vec<Option<GreenAmpt>> = ground.draws.iter().map(|draw| front(draw, measured)).collect();
    let until = ground.spread_each(
        &fronts
            .iter()
            .map(|front| match front {
                Some(front) => front.ponding_time_h(SHOWER_MM).map_or(f64::NAN, |hours| 60.0 * hours),
                None => 0.0,
            })
            .collect::<Vec<_>>(),
    );
    let finding = rule.weighed_each(
        ground,
        ANSWERS,
        // A draw without a conductivity has no pores left to drain through.
        fronts.iter().map(|front| usize::from(front.is_none_or(|front| front.ponds_within(SHOWER_MM, 1.0)))),
        |at| says(at, slope).to_owned(),
    );
    let units = ground.units;
    let shower = words::water(SHOWER_MM, units);
    let working = Working::new()
        .step(
            "time until water stands",
            "K ψΔθ / (i (i − K)), K half the saturated conductivity, ground drained to field capacity",
            format!("i = {} over {} possible make-ups", words::rate(SHOWER_MM, units), ground.draws.len()),
            until.map_or_else(
                || "never within the hour".to_owned(),
                |minutes| format!("{} minutes, where it stands at all", words::range(minutes, 1.0)),
            ),
        )
        .cite(rule.sources[1]);
    Some(
        finding
            .because(format!(
                "Reckoned for {shower} in an hour on even ground that has drained to field capacity; a crust makes it stand sooner, cracks and worm holes later."
            ))
            .because(rings.map(|rings| {
                format!("{} measured how fast the ground takes water, and that goes before its make-up.", words::capital(&rings.words()))
            }))
            .worked(working),
    )
}

fn front(draw: &Draw, measured_mm_h: Option<f64>) -> Option<GreenAmpt> {
    if !(draw.field_capacity > draw.wilting_point && draw.conductivity_mm_h.is_finite()) {
        return None;
    }
    let mut curve = curve_through(draw.field_capacity, draw.wilting_point, Some(draw.saturation), None);
    curve.saturated_conductivity = Some(draw.conductivity_mm_h);
    let mut front = GreenAmpt::of_soil(&curve, draw.field_capacity)?;
    if let Some(measured) = measured_mm_h {
        front.conductivity_mm_h = measured;
    }
    Some(front)
}

fn says(answer: usize, slope: f64) -> &'static str {
    match answer {
        0 => {
            "An inch in an hour goes in on ground that has drained. Keep it so: no bare seedbeds in the season of storms."
        }
        _ if slope >= 2.0 => {
            "An inch in an hour is more than it takes: the rest runs downhill and takes soil along. Cover it, run beds across the slope, and lead the water away on grass."
        }
        _ => {
            "An inch in an hour is more than it takes: the rest stands. Cover it, shape the beds, and give the paths a way out."
        }
    }
}
