//! The structure of a plot in sentences, in the units of the farm, for a page and for the command line alike.

use book::model::UnitSystem;
use ground::kit::Spread;
use ground::kit::units::in_units;
use ground::structure::loosening::decide::{Loosening, Tool};
use ground::structure::loosening::method::says;
use ground::structure::probe::pan::Compaction;
use ground::structure::probe::strength::{HINDERED_MPA, MPA_PER_PSI, STOPPED_MPA};
use ground::structure::spade::score::StructureRating;
use ground::structure::spade::slake::Stability;
use ground::structure::spade::worms::WormRating;
use ground::structure::working::limits::Workable;

use super::StructureReport;
use super::dense::DensityFrom;
use super::readings::TransectRead;
use super::tell_years::organic;
use crate::again;
use crate::finding::Firmness;
use crate::words;

/// Everything in sentences.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sentences {
    /// What to do, and how surely.
    pub lead: String,
    /// "firm", "likely" or "open".
    pub firmness: &'static str,
    /// Every outcome with its odds, where there is more than one.
    pub outcomes: Vec<String>,
    /// What speaks for it.
    pub reasons_for: Vec<String>,
    /// What speaks against it, or is not known.
    pub reasons_against: Vec<String>,
    /// With what, how deep, how far apart, at what moisture.
    pub how: Vec<String>,
    /// What to do at once after, instead, and on paths.
    pub traffic: Vec<String>,
    /// What to expect by when, and what to look at next year.
    pub expect: Vec<String>,
    /// Which reading would settle or change it.
    pub settle: Vec<String>,
    /// The hard layer.
    pub pan: Vec<String>,
    /// Density, pores and air.
    pub density: Vec<String>,
    /// Spade, crumbs and worms.
    pub spade: Vec<String>,
    /// When it may be worked.
    pub working: Vec<String>,
    /// How it washes.
    pub erodes: Vec<String>,
    /// Organic matter over the years.
    pub organic: Vec<String>,
    /// Readings over the years.
    pub trends: Vec<String>,
}

/// A tool in words.
#[must_use]
pub fn tool(tool: Tool) -> &'static str {
    match tool {
        Tool::Broadfork => "a broadfork",
        Tool::Subsoiler => "shanks behind a tractor",
    }
}

/// What to do, in a few words.
#[must_use]
pub fn short(what: Loosening) -> &'static str {
    match what {
        Loosening::MeasureFirst => "measure first",
        Loosening::Leave => "leave it as it is",
        Loosening::CoversInstead => "covers and paths, no iron",
        Loosening::DrainFirst => "drain first",
        Loosening::LookWithSpade => "look with the spade first",
        Loosening::FindBottom => "find the bottom of the layer first",
        Loosening::WaitUntilDrier => "loosen, but wait until it is drier",
        Loosening::WaitUntilMoister => "loosen, but wait until it is moister",
        Loosening::Loosen => "loosen",
    }
}

fn pressure(mpa: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::UsCustomary => format!("{:.0} psi", mpa / MPA_PER_PSI),
        UnitSystem::Metric => format!("{mpa:.1} MPa"),
    }
}

/// Densities differ in their second decimal.
fn dense(spread: Spread) -> String {
    format!("{:.2} (90 %: {:.2} to {:.2})", spread.median, spread.low, spread.high)
}

fn depths(spread: Spread, units: UnitSystem) -> String {
    let told = words::depth(spread.median, units);
    let (low, high) = (words::depth(spread.low, units), words::depth(spread.high, units));
    if low == high { told } else { format!("{told} ({low} to {high})") }
}

/// Everything in sentences.
#[must_use]
pub fn sentences(report: &StructureReport, units: UnitSystem) -> Sentences {
    let decision = &report.decision;
    let mut said = Sentences {
        lead: lead(report),
        firmness: decision.firmness.words(),
        expect: vec![report.expect.to_owned()],
        ..Sentences::default()
    };
    if decision.outcomes.len() > 1 {
        said.outcomes = decision
            .outcomes
            .iter()
            .filter(|one| one.odds >= 0.005)
            .map(|one| format!("{}: {}", words::capital(short(one.what)), words::odds(one.odds)))
            .collect();
    }
    reasons(report, units, &mut said);
    said.how = how(report, units);
    said.traffic = vec![
        report.after.to_owned(),
        "The first pass of a wheel does most of the harm: keep wheels and feet on permanent paths, and load as little as the job allows.".to_owned(),
    ];
    if let Some(next) = &report.next_look {
        said.expect.push(format!("Look again from {} on.", words::day(next.on)));
    }
    said.settle = settle(report);
    if let Some(transect) = &report.transect {
        said.pan = pan(report, transect, units);
    }
    if let Some(tracks) = &report.tracks {
        said.pan.push(format!(
            "In the wheel tracks {} of {} pushes were stopped on {}: what traffic does here.",
            tracks.stopped,
            tracks.pushes,
            words::day(tracks.on)
        ));
    }
    said.density = density(report, units);
    said.spade = spade(report, units);
    said.working = working(report, units);
    said.erodes = erodes(report);
    said.organic = organic(report, units);
    said.trends = report.trends.iter().map(|one| again::tell::years(one, units)).collect();
    said
}

fn lead(report: &StructureReport) -> String {
    let decision = &report.decision;
    let too_dry = report.transect.as_ref().filter(|one| !one.comparable);
    if let (Loosening::MeasureFirst, Some(transect)) = (decision.what, too_dry) {
        return format!(
            "Push the probe again a day or two after a soaking: on {} the ground was {}, and the limits of roots hold near field capacity alone.",
            words::day(transect.on),
            transect.moisture.words()
        );
    }
    match decision.firmness {
        Firmness::Open => {
            let second = decision.outcomes.get(1).map_or_else(String::new, |second| {
                format!(" or {} ({})", short(second.what), words::odds(second.odds))
            });
            format!(
                "Not settled: {} ({}){second}. If the first: {}",
                short(decision.what),
                words::odds(decision.odds),
                says(decision.what)
            )
        }
        _ => says(decision.what).to_owned(),
    }
}

fn compaction(found: Compaction) -> &'static str {
    match found {
        Compaction::Little => "little compacted",
        Compaction::Slight => "slightly compacted",
        Compaction::Moderate => "moderately compacted",
        Compaction::Severe => "severely compacted",
    }
}

fn reasons(report: &StructureReport, units: UnitSystem, said: &mut Sentences) {
    let known = &report.known;
    let hard = matches!(
        report.decision.what,
        Loosening::Loosen
            | Loosening::WaitUntilDrier
            | Loosening::WaitUntilMoister
            | Loosening::LookWithSpade
            | Loosening::FindBottom
            | Loosening::DrainFirst
    );
    let mut put = |speaks_for_iron: bool, text: String| {
        if speaks_for_iron == hard { said.reasons_for.push(text) } else { said.reasons_against.push(text) }
    };
    if let (Some(transect), Some((stopped, pushes))) = (&report.transect, known.stopped_of) {
        let rated = transect.found.compaction.map_or("", compaction);
        let pays = transect.found.loosening_may_pay == Some(true);
        put(
            pays,
            format!(
                "{stopped} of {pushes} pushes were stopped above {} on {}: {rated}.",
                words::depth(38.1, units),
                words::day(transect.on)
            ),
        );
    }
    if let Some(told) = report.density.as_ref().filter(|told| told.from != DensityFrom::Supposed) {
        let odds = told.rating.restricts + told.rating.hinders;
        put(
            odds >= 0.5,
            format!(
                "Density {} g/cm³; roots of this texture begin to be hindered at {} and are restricted above {}: odds that they are hindered or worse {}.",
                dense(told.density_g_cm3),
                format_args!("{:.2}", told.hinders_at_g_cm3.median),
                format_args!("{:.2}", told.restricts_above_g_cm3.median),
                words::odds(odds)
            ),
        );
    }
    match known.spade_confirms {
        Some(true) => put(true, "The spade, or roots that turn aside, confirm a hard layer.".to_owned()),
        Some(false) => put(false, "Roots or worms have ways through: iron would break them.".to_owned()),
        None => said.reasons_against.push("Nobody has looked with the spade yet.".to_owned()),
    }
    match known.water_stands {
        Some(true) => {
            said.reasons_against.push("Water stands here for more than a day: that comes first.".to_owned())
        }
        Some(false) => {}
        None => said
            .reasons_against
            .push("Whether water stands for more than a day after rain is not written down.".to_owned()),
    }
    if let Some(transect) = report.transect.as_ref().filter(|one| !one.comparable) {
        said.reasons_against.push(format!(
            "The probe of {} was pushed in {} ground: it shows where a layer lies, not how bad it is.",
            words::day(transect.on),
            transect.moisture.words()
        ));
    }
    let reach = [known.tools.broadfork_cm, known.tools.subsoiler_cm].into_iter().flatten().reduce(f64::max);
    if let (Some(bottom), Some(reach)) = (known.pan_bottom_cm, reach)
        && bottom + 2.54 > reach
    {
        said.reasons_against.push(format!(
            "The layer ends at {}; the tools at hand reach {}.",
            words::depth(bottom, units),
            words::depth(reach, units)
        ));
    }
    if !report.make_up_known {
        said.reasons_against.push(
            "Nothing is known of the make-up of this ground: a feel test takes twenty minutes.".to_owned(),
        );
    }
}

fn how(report: &StructureReport, units: UnitSystem) -> Vec<String> {
    let decision = &report.decision;
    let (Some(with), Some(depth)) = (decision.tool, decision.depth_cm) else { return Vec::new() };
    let mut lines = vec![format!(
        "With {}, {} deep: just below the hard layer and no deeper.",
        tool(with),
        words::depth(depth, units)
    )];
    if let Some((low, high)) = decision.spacing_cm {
        let what = match with {
            Tool::Broadfork => "Lift every",
            Tool::Subsoiler => "Run shanks",
        };
        let apart = if with == Tool::Subsoiler { " apart" } else { "" };
        lines.push(format!("{what} {} to {}{apart}.", words::depth(low, units), words::depth(high, units)));
    }
    lines.push("When a handful from the hard layer crumbles: it must shatter, and neither smear nor come up as a slab. Most years that is at the end of a dry spell, late summer to early autumn.".to_owned());
    if let Some(workable) =
        report.known.handful.and(report.working.latest.as_ref()).map(|latest| latest.workable)
    {
        lines.push(match workable {
            Workable::Ready => "The last handful says that it is fit now.".to_owned(),
            Workable::Dry => "The last handful was dry.".to_owned(),
            Workable::Doubtful => "The last handful was doubtful: wait a day.".to_owned(),
            Workable::TooWet => "The last handful was too wet: wait.".to_owned(),
        });
    }
    lines
}

fn settle(report: &StructureReport) -> Vec<String> {
    report
        .would_settle
        .iter()
        .map(|one| {
            let then: Vec<String> =
                one.then.iter().map(|then| format!("{}: {}", then.answer, short(then.what))).collect();
            format!("{} ({} minutes). If {}.", words::capital(one.words), one.minutes, then.join("; if "))
        })
        .collect()
}

fn pan(report: &StructureReport, transect: &TransectRead, units: UnitSystem) -> Vec<String> {
    let found = &transect.found;
    let mut lines = Vec::new();
    match found.pan_top_cm {
        Some(top) => {
            let ends = match found.pan_bottom_cm {
                Some(bottom) => format!(" and ends at {}", depths(bottom, units)),
                None => "; no push came out below it".to_owned(),
            };
            lines.push(format!("A hard layer begins at {}{ends}.", depths(top, units)));
        }
        None => lines.push(format!("No hard layer was found in {} pushes.", transect.pushes)),
    }
    if let Some(thick) = report.pan_thickness_cm {
        lines.push(format!("Where the probe came through, it is {} thick.", depths(thick, units)));
    }
    lines.push(format!(
        "{} of {} pushes were stopped above {}: {:.0} % of the plot, 90 % range {:.0} to {:.0} %.",
        transect.stopped,
        transect.pushes,
        words::depth(38.1, units),
        found.stopped_percent,
        found.stopped_low_percent,
        found.stopped_high_percent
    ));
    if transect.not_through > 0 && found.pan_bottom_cm.is_some() {
        let pushes = if transect.not_through == 1 {
            "One push was".to_owned()
        } else {
            format!("{} pushes were", transect.not_through)
        };
        lines.push(format!("{pushes} not driven through: there it lies deeper than that."));
    }
    lines.push(format!(
        "Roots are hindered from {} and stopped from {}, in ground near field capacity.",
        pressure(HINDERED_MPA, units),
        pressure(STOPPED_MPA, units)
    ));
    lines
}

fn density(report: &StructureReport, units: UnitSystem) -> Vec<String> {
    let Some(told) = &report.density else { return Vec::new() };
    let from = match (&report.cores, told.from) {
        (Some(cores), DensityFrom::Cores) => format!(
            "{} cores from {} to {} on {}",
            cores.each_g_cm3.len(),
            words::depth(cores.from_cm, units),
            words::depth(cores.to_cm, units),
            words::day(cores.on)
        ),
        _ => "the packing that was told".to_owned(),
    };
    let mut lines = vec![
        format!("Density {} g/cm³, from {from}.", dense(told.density_g_cm3)),
        format!(
            "Roots of this texture do well below, are hindered from {} and restricted above {} g/cm³. Odds: well {}, little to spare {}, hindered {}, restricted {}. Other authors see trouble from {} to {}.",
            dense(told.hinders_at_g_cm3),
            dense(told.restricts_above_g_cm3),
            words::odds(told.rating.good),
            words::odds(told.rating.watch),
            words::odds(told.rating.hinders),
            words::odds(told.rating.restricts),
            format_args!("{:.2}", told.others_g_cm3.0),
            format_args!("{:.2}", told.others_g_cm3.1)
        ),
        format!(
            "Pores {} % of the volume; at field capacity {} % of it is air (under 10 % most roots run short: odds {}).",
            words::range(told.porosity_percent, 1.0),
            words::range(told.air_percent, 1.0),
            words::odds(told.air.short)
        ),
    ];
    if let Some(air) = report.cores.as_ref().and_then(|cores| cores.air_percent) {
        lines.push(format!("The cores held {air:.0} % air on the day."));
    }
    lines
}

fn spade(report: &StructureReport, units: UnitSystem) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(block) = &report.block {
        let on = words::day(block.on);
        if let Some(says) = &block.says {
            lines.push(format!("The block of {on}: {says}"));
        }
        if let Some(score) = &block.score {
            let asks = match score.rating {
                StructureRating::Good => "good, keep on",
                StructureRating::Moderate => "moderate, it asks for care over years",
                StructureRating::Poor => "poor, it asks for something to be done",
            };
            lines.push(format!(
                "Structure score {:.1} of 5 on {on} (1 is best): {asks}. The worst layer, {}, begins at {}{}.",
                score.score,
                words::short(score.worst_score),
                words::depth(score.worst_from_cm, units),
                if score.worst_restricts_roots { " and holds roots up" } else { "" }
            ));
        }
        if let Some(worms) = &block.worms {
            let rated = match worms.rating {
                WormRating::Few => "few",
                WormRating::Fair => "fair",
                WormRating::Healthy => "healthy",
            };
            lines.push(format!("Earthworms: {}, {rated}.", super::tell_years::worms(worms.per_ft3, units)));
        }
        if block.short_of_air {
            lines.push("Mottles or smell say that air runs short there.".to_owned());
        }
    }
    if let Some(slake) = &report.slake {
        let rated = match slake.found.stability {
            Stability::Poor => {
                "poor: the surface seals in the first hard rain; roots, covers and compost are what holds crumbs"
            }
            Stability::Moderate => "moderate",
            Stability::Good => "good",
        };
        lines.push(format!(
            "Crumbs in water on {}: mean class {:.1} of 6 from {}, {rated}.",
            words::day(slake.on),
            slake.found.mean_class,
            slake.found.classes.len()
        ));
    }
    lines
}

fn workable(said: Workable) -> &'static str {
    match said {
        Workable::Dry => "dry",
        Workable::Ready => "fit to work",
        Workable::Doubtful => "doubtful",
        Workable::TooWet => "too wet to work",
    }
}

fn working(report: &StructureReport, units: UnitSystem) -> Vec<String> {
    let told = &report.working;
    let mut lines = Vec::new();
    if told.under_cover {
        lines.push("Under cover the days since rain mean nothing: go by the hand.".to_owned());
    } else if report.make_up_known {
        let slow = if told.slow_to_dry { ", doubled since water lies near" } else { "" };
        lines.push(format!(
            "By custom {} to {} after a soaking rain{slow}; cold and shade take longer.",
            words::short(told.custom_days.0),
            words::days(told.custom_days.1)
        ));
        if let Some(soaked) = &told.soaked {
            lines.push(format!(
                "It rained {} on {}: by that it may be ready from {} and should be by {}, without more rain.",
                words::water(soaked.rain_mm, units),
                words::day(soaked.on),
                words::day(soaked.ready_from),
                words::day(soaked.ready_by)
            ));
        }
    }
    if let Some(below) = told.work_below_percent {
        lines.push(format!("By its plastic limit, work it below {} % water by mass.", words::short(below)));
    }
    if let Some(days) = told.days_by_drying {
        lines.push(format!(
            "Draining, then drying to that takes {} days in weather like last week's.",
            words::range(days, 1.0)
        ));
    }
    for said in told.learnt.iter().rev().take(3) {
        if let Some(days) = said.read.days_since_rain {
            lines.push(format!(
                "On {}, {} after a soaking, a handful from {} was {}{}.",
                words::day(said.read.on),
                words::days(days),
                words::depth(said.read.depth_cm, units),
                workable(said.workable),
                said.read.worked.map_or_else(String::new, |worked| format!("; worked, {}", worked.words()))
            ));
        }
    }
    if let Some(latest) = told.latest.as_ref().filter(|latest| latest.read.days_since_rain.is_none()) {
        lines.push(format!(
            "The handful of {} from {} was {}.",
            words::day(latest.read.on),
            words::depth(latest.read.depth_cm, units),
            workable(latest.workable)
        ));
    }
    lines.push("Squeeze a handful from working depth: work it only if the ball shatters. That overrules every number of days.".to_owned());
    lines
}

fn erodes(report: &StructureReport) -> Vec<String> {
    let Some(told) = &report.erodes else { return Vec::new() };
    let slope = if told.slope_given {
        format!("On its slope of {} %", words::short(told.slope_percent))
    } else {
        format!(
            "On a slope of {} %, which stands in for one that was not given,",
            words::short(told.slope_percent)
        )
    };
    vec![format!(
        "Erodibility K {} in US units, {} in metric (t·ha·h/(ha·MJ·mm)). {slope} it comes to {} with the steepness (under 0.1 little, 0.25 and more much). Use it to rank plots.",
        words::range(told.k_us, 1.0),
        words::range(told.k_metric, 1.0),
        words::short(told.k_times_s)
    )]
}

/// Cautions in the units of the farm.
#[must_use]
pub fn cautions(report: &StructureReport, units: UnitSystem) -> Vec<String> {
    report.cautions.iter().map(|caution| in_units(caution, units)).collect()
}
