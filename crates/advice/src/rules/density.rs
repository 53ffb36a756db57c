//! Whether the ground is packed so tightly that roots turn.

use book::model::seen::Sign;
use ground::kit::{Bounded, Cite, Provenance, Working};
use ground::structure::loosening::decide::Loosening;
use ground::structure::loosening::method::says as loosening_says;
use ground::structure::root_limits::{RootLimits, RootRating};

use crate::facts::{Draw, Ground};
use crate::finding::{Basis, Finding, Firmness, Kind};
use crate::rule::Rule;
use crate::structure::decision::{Known, Possible, Tools, decided};
use crate::structure::readings::Readings;
use crate::structure::tell;
use crate::words;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "density",
    title: "Packed ground",
    question: "Is it packed so tightly that roots turn?",
    kind: Kind::Behaviour,
    sources: &[
        Cite::new("NrcsBulkDensity2008", "general relationship of soil bulk density to root growth"),
        Cite::new("SpoorGodwin1978", "critical depth"),
    ],
    provenance: Provenance::Read,
    stake: 1.0,
    look: "Push a probe or a thin rod in when the ground is moist all through, in ten places, and record the transect; dig a block where it stops.",
    cautions: &[
        "Before any deep loosening or digging: have buried services located, and know your own water and power lines.",
        "Keep bystanders away from tillers and ripping tines.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("good", "roots go where they like"),
    ("watch", "roots manage, with little to spare"),
    ("hinders", "roots are held back"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let seen = &ground.structure;
    let pan = ground.latest(|sign| match sign {
        Sign::PanFelt { at_cm } => Some(at_cm.get()),
        _ => None,
    });
    let turn = ground.latest(|sign| match sign {
        Sign::RootsTurn { at_cm } => Some(at_cm.get()),
        _ => None,
    });
    let known = seen.known.or_else(|| {
        let told = pan.is_some() || turn.is_some();
        told.then(|| {
            Known::of(&Readings::default(), &ground.signs, ground.measured.packing, Tools::default(), None)
        })
    });
    if !ground.measured.packing && known.is_none() {
        return None;
    }
    let density = ground.spread(|draw| draw.bulk_density_g_cm3)?;
    let finding = match known {
        Some(known) => of_readings(rule, ground, &known),
        None => rule.weighed(ground, ANSWERS, answer, |at| says(at).to_owned()),
    };
    let limits = ground.spread(|draw| RootLimits::of(draw.soil, draw.class).hinders_at_g_cm3)?;
    let working = Working::new()
        .step(
            "bulk density, median",
            "as measured here, or the density usual for the texture times the packing found",
            format!("over {} possible make-ups", ground.draws.len()),
            format!("{} g/cm³", words::range(density, 1.0)),
        )
        .step(
            "density at which roots of this texture begin to be hindered",
            "the row of the table for each make-up",
            format!("over {} possible make-ups", ground.draws.len()),
            format!("{} g/cm³", words::range(limits, 1.0)),
        )
        .cite(rule.sources[0]);
    Some(
        finding
            .because(probe_said(ground))
            .because(pan.map(|(on, at)| {
                format!("A hard layer was felt at {} on {}.", words::depth(at, ground.units), words::day(on))
            }))
            .because(turn.map(|(on, at)| {
                format!("Roots turned sideways at {} on {}.", words::depth(at, ground.units), words::day(on))
            }))
            .because(seen.cores.map(|(on, mean)| {
                format!("The cores of {} had {mean:.2} g/cm³ between the stones.", words::day(on))
            }))
            .because(ground.measured.packing.then(|| {
                format!(
                    "Bulk density {} g/cm³; roots of this texture begin to be hindered at {}. Other published limits differ by up to 0.15.",
                    words::range(density, 1.0),
                    words::short(limits.median)
                )
            }))
            .because((!ground.measured.packing && seen.cores.is_none()).then(|| "Bulk density was not measured here.".to_owned()))
            .worked(working),
    )
}

/// What probe, cores, spade and signs lead to: the same decision as on the page of the plot's structure.
fn of_readings(rule: &Rule, ground: &Ground, known: &Known) -> Finding {
    let possible: Vec<Possible> = ground
        .draws
        .iter()
        .map(|draw| Possible { soil: draw.soil, class: draw.class, density_g_cm3: draw.bulk_density_g_cm3 })
        .collect();
    let decided = decided(&possible, &ground.weights, known);
    let verdict = match decided.what {
        Loosening::Loosen | Loosening::WaitUntilDrier | Loosening::WaitUntilMoister => "loosen",
        Loosening::LookWithSpade | Loosening::FindBottom | Loosening::MeasureFirst => "look-first",
        Loosening::DrainFirst => "drain-first",
        Loosening::CoversInstead => "covers-instead",
        Loosening::Leave => "leave",
    };
    let how = decided.tool.zip(decided.depth_cm).map_or_else(String::new, |(tool, depth)| {
        format!(" With {}, {} deep.", tell::tool(tool), words::depth(depth, ground.units))
    });
    let unsure = if decided.firmness == Firmness::Open { "Not settled, but most likely: " } else { "" };
    let mut finding =
        rule.finding(Basis::Seen, verdict, format!("{unsure}{}{how}", loosening_says(decided.what)));
    finding.odds = Some(decided.odds);
    finding.firmness = decided.firmness;
    finding.look = match decided.firmness {
        Firmness::Firm => "",
        _ => rule.look,
    };
    finding.because((decided.outcomes.len() > 1).then(|| {
        let told: Vec<String> = decided
            .outcomes
            .iter()
            .map(|one| format!("{} {}", tell::short(one.what), words::odds(one.odds)))
            .collect();
        format!("Weighed over everything the ground may be: {}.", told.join(", "))
    }))
}

fn probe_said(ground: &Ground) -> Option<String> {
    let probe = ground.structure.probe?;
    let depth = |cm: f64| words::depth(cm, ground.units);
    let layer = match (probe.top_cm, probe.bottom_cm) {
        (Some(top), Some(bottom)) => format!(", by a hard layer from {} to {}", depth(top), depth(bottom)),
        (Some(top), None) => format!(", by a hard layer from {} down", depth(top)),
        _ => String::new(),
    };
    let dry = if probe.comparable { "" } else { "; the ground was too dry to judge how bad it is" };
    Some(format!(
        "The probe of {} was stopped in {} of {} pushes{layer}{dry}.",
        words::day(probe.on),
        probe.stopped,
        probe.pushes
    ))
}

fn answer(draw: &Draw) -> usize {
    match RootLimits::of(draw.soil, draw.class).rating(draw.bulk_density_g_cm3) {
        RootRating::Good => 0,
        RootRating::Watch => 1,
        RootRating::Hinders | RootRating::Restricts => 2,
    }
}

fn says(answer: usize) -> &'static str {
    match answer {
        0 => "It is loose enough for roots. Keep wheels and feet on the paths and it stays so.",
        1 => {
            "Roots manage, with little to spare. Keep all traffic on the paths and let cover roots work; loosening is not needed."
        }
        _ => {
            "It is packed too tightly for roots. Push a probe in ten places and dig a block before anything is loosened; keep traffic off, and let a dense-rooted cover work meanwhile."
        }
    }
}
