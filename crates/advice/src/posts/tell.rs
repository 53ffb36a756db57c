//! A post in sentences, in the units of the farm, for a page, a sheet and the command line alike.

use book::model::{EndBrace, PostSet, UnitSystem};
use ground::kit::{Bounded, Spread};
use ground::posts::building_class::BuildingClass;
use ground::posts::embedment::{DEEPEST_M, Section};
use ground::posts::shrink_swell::ShrinkSwell;
use ground::posts::us::{KN_PER_LBF, KPA_M_PER_PSF_FT, M3_PER_FT3};

use super::{DepthAdvice, FootCompared, LetsGo, PostReport};
use crate::finding::Firmness;
use crate::words;

const M_S_PER_MPH: f64 = 0.447_04;

fn us(units: UnitSystem) -> bool {
    units == UnitSystem::UsCustomary
}

/// "590 lb", "2.6 kN".
#[must_use]
pub fn force(kn: f64, units: UnitSystem) -> String {
    if us(units) {
        format!("{} lb", words::short(kn / KN_PER_LBF))
    } else {
        format!("{} kN", words::short(kn))
    }
}

/// A force with its range.
#[must_use]
pub fn force_spread(kn: Spread, units: UnitSystem) -> String {
    if us(units) {
        format!("{} lb", words::range(kn, 1.0 / KN_PER_LBF))
    } else {
        format!("{} kN", words::range(kn, 1.0))
    }
}

/// "105 mph", "47 m/s".
#[must_use]
pub fn speed(m_s: f64, units: UnitSystem) -> String {
    if us(units) { format!("{:.0} mph", m_s / M_S_PER_MPH) } else { format!("{m_s:.0} m/s") }
}

/// "81 mph (90 %: 70 to 95)".
#[must_use]
pub fn speed_spread(m_s: Spread, units: UnitSystem) -> String {
    let (unit, by) = if us(units) { ("mph", 1.0 / M_S_PER_MPH) } else { ("m/s", 1.0) };
    let (low, median, high) = (m_s.low * by, m_s.median * by, m_s.high * by);
    if high - low < 1.0 {
        format!("{median:.0} {unit}")
    } else {
        format!("{median:.0} {unit} (90 %: {low:.0} to {high:.0})")
    }
}

/// A depth in metres: "30 in", "76 cm".
#[must_use]
pub fn depth(m: f64, units: UnitSystem) -> String {
    words::depth(100.0 * m, units)
}

/// A depth with its range: "38 in (90 %: 31 to 52)".
#[must_use]
pub fn depth_spread(m: Spread, units: UnitSystem) -> String {
    let (unit, by) = if us(units) { ("in", 100.0 / 2.54) } else { ("cm", 100.0) };
    let told = |value: f64| format!("{:.0}", value * by);
    if m.width() * by < 1.0 {
        format!("{} {unit}", told(m.median))
    } else {
        format!("{} {unit} (90 %: {} to {})", told(m.median), told(m.low), told(m.high))
    }
}

/// A width across: "2 3/8 in", "60 mm".
#[must_use]
pub fn width(m: f64, units: UnitSystem) -> String {
    words::small(1000.0 * m, units)
}

/// Concrete: "2.4 ft³", "0.067 m³".
#[must_use]
pub fn concrete(m3: f64, units: UnitSystem) -> String {
    if us(units) {
        format!("{} ft³", words::short(m3 / M3_PER_FT3))
    } else {
        format!("{} m³", words::short(m3))
    }
}

/// Bags of the largest size: "3 bags of 80 lb".
#[must_use]
pub fn bags(all: &[ground::posts::collar_concrete::Bags], units: UnitSystem) -> String {
    let Some(largest) = all.iter().max_by(|a, b| a.bag_lb.total_cmp(&b.bag_lb)) else { return String::new() };
    let each = if us(units) {
        format!("{} lb", largest.bag_lb)
    } else {
        format!("{:.0} kg", largest.bag_lb * 0.453_592_37)
    };
    let bags = if largest.bags == 1 { "bag" } else { "bags" };
    format!("{} {bags} of {each}", largest.bags)
}

/// The sentences of each part.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sentences {
    /// The one that answers the page's question.
    pub lead: String,
    /// What post it is.
    pub post: String,
    /// Its ground.
    pub ground: Vec<String>,
    /// How deep.
    pub depth: Vec<String>,
    /// The wind at which it lets go.
    pub wind: Vec<String>,
    /// Concrete.
    pub concrete: Vec<String>,
    /// The ends of a line.
    pub ends: Vec<String>,
    /// Frost, swelling, driving, rust.
    pub years: Vec<String>,
    /// What to look at next.
    pub looks: Vec<String>,
}

/// Puts a report into sentences.
#[must_use]
pub fn sentences(report: &PostReport, units: UnitSystem) -> Sentences {
    Sentences {
        lead: lead(report, units),
        post: post(report, units),
        ground: ground(report, units),
        depth: report
            .depths
            .iter()
            .map(|one| how_deep(report, one, units))
            .chain(practice(report, units))
            .collect(),
        wind: wind(report, units),
        concrete: poured(report, units),
        ends: ends(report, units),
        years: years(report, units),
        looks: looks(report),
    }
}

fn lead(report: &PostReport, units: UnitSystem) -> String {
    if !report.out_of_scope.is_empty() {
        return format!("No number is given for this post: {}.", report.out_of_scope.join("; "));
    }
    let depth_words = depth(report.depth_m, units);
    match (report.worst(), report.weakest()) {
        (Some(worst), weakest) => {
            let verdict = match (worst.enough, worst.firmness) {
                (true, Firmness::Firm) => {
                    format!("{depth_words} suffices sideways (firm, odds {})", words::odds(worst.suffices))
                }
                (true, Firmness::Likely) => {
                    format!("{depth_words} likely suffices sideways (odds {})", words::odds(worst.suffices))
                }
                (false, Firmness::Firm | Firmness::Likely) => {
                    format!(
                        "{depth_words} is not enough sideways (odds that it suffices: {})",
                        words::odds(worst.suffices)
                    )
                }
                (_, Firmness::Open) => format!(
                    "Open whether {depth_words} suffices sideways (odds {})",
                    words::odds(worst.suffices)
                ),
            };
            let lets_go = weakest
                .map(|one| {
                    format!("; it lets go in a gust of {}, {}", speed_spread(one.speed_m_s, units), one.words)
                })
                .unwrap_or_default();
            let code = weakest.and_then(|one| one.keeps_margins).map(|keeps| {
                format!(
                    "; odds that it keeps the usual margins in the gust of your code: {}",
                    words::odds(keeps)
                )
            });
            format!("{verdict}{lets_go}{}.", code.unwrap_or_default())
        }
        (None, Some(weakest)) => format!(
            "At {depth_words} it lets go in a gust of {}, {}.",
            speed_spread(weakest.speed_m_s, units),
            weakest.words
        ),
        (None, None) => {
            "What loads this post is not known yet; here is its ground, and what holds it.".to_owned()
        }
    }
}

fn post(report: &PostReport, units: UnitSystem) -> String {
    let post = &report.post;
    let shape = match post.section {
        Section::Round => "Round",
        Section::Square => "Square",
    };
    let mut said = format!("{shape}, {}, {}", width(post.width_mm.get() / 1000.0, units), post.set.words());
    if let Some(collar) = report.collar_m {
        said.push_str(&format!(" {} across", width(collar, units)));
    }
    if let Some(bell) = report.bell_m {
        said.push_str(&format!(", the bell {}", width(bell, units)));
    }
    said.push_str(&format!(", {} deep", depth(report.depth_m, units)));
    if !report.depth_given {
        said.push_str(" (taken; none was given)");
    }
    if let Some(count) = report.posts {
        said.push_str(&format!("; {count} posts in all"));
    }
    format!("{said}.")
}

fn ground(report: &PostReport, units: UnitSystem) -> Vec<String> {
    let told = &report.ground;
    let mut lines = Vec::new();
    if !told.known {
        lines.push(
            "Nothing was measured of this ground: everything below rests on what ground may be anywhere."
                .to_owned(),
        );
    }
    lines.push(format!(
        "A third of the way down and at the foot it counts as {} ({}, odds {}).",
        told.likely.words(),
        told.firmness.words(),
        words::odds(told.sand.max(told.silt_and_clay))
    ));
    let bearing = if us(units) {
        format!("{:.0} lb/ft² for each foot of depth", told.lateral_kpa_m / KPA_M_PER_PSF_FT)
    } else {
        format!("{} kPa for each metre of depth", words::short(told.lateral_kpa_m))
    };
    if report.out_of_scope.is_empty() {
        lines.push(if told.conservative == told.likely {
            format!("Build on that class: {bearing} sideways.")
        } else {
            format!(
                "Build on the softer class all the same, {}: its odds reach one in ten. It bears {bearing} sideways.",
                told.conservative.words()
            )
        });
    }
    if let Some(top) = told.top_m {
        let how = if told.top_given { "" } else { ", taken as nobody wrote it down" };
        lines.push(format!(
            "Not counted at the top, as it is tilled, filled, organic or cracks: {}{how}.",
            depth_spread(top, units)
        ));
    }
    lines.push(format!(
        "Odds that the foot stands in water at times: {} ({}). Ground below water holds about half.",
        words::odds(told.below_water),
        told.water_words
    ));
    if told.bears < 0.99 {
        lines.push(format!(
            "Odds that the foot stands in ground that bears at all: {}. Fill, tilled and organic layers bear nothing that may be counted: go below them.",
            words::odds(told.bears)
        ));
    }
    if let Some((index, read)) = told.plasticity {
        let from =
            if read { "from the laboratory" } else { "from the thread between the fingers (judgement)" };
        lines.push(format!("Plasticity index {index:.0} %, {from}."));
    }
    if let Some(group) = told.unified {
        lines.push(format!("Unified group {}.", group.symbol()));
    }
    lines
}

fn how_deep(report: &PostReport, one: &DepthAdvice, units: UnitSystem) -> String {
    let mut said = format!(
        "{}: pushed by {} at {} above the ground.",
        words::capital(one.push.words),
        force(one.push.kn, units),
        depth(one.push.height_m, units)
    );
    said.push_str(&match one.needed_m {
        Some(needed) => format!(" The code's equation asks for {}.", depth_spread(needed, units)),
        None => " No depth in this ground holds it.".to_owned(),
    });
    let verdict = match (one.enough, one.firmness) {
        (_, Firmness::Open) => "open",
        (true, Firmness::Likely) => "likely enough",
        (true, Firmness::Firm) => "firmly enough",
        (false, Firmness::Likely) => "likely not enough",
        (false, Firmness::Firm) => "firmly not enough",
    };
    said.push_str(&format!(
        " {} suffices with odds of {}: {verdict}.",
        depth(report.depth_m, units),
        words::odds(one.suffices)
    ));
    let for_odds: Vec<String> = [("80 %", one.for_80_m), ("90 %", one.for_90_m), ("95 %", one.for_95_m)]
        .into_iter()
        .map(|(odds, deep)| match deep {
            Some(deep) => format!("{odds}: {}", depth(deep, units)),
            None => format!(
                "{odds}: deeper than {}, use a wider collar, a brace, or an engineer",
                depth(DEEPEST_M, units)
            ),
        })
        .collect();
    said.push_str(&format!(" Depth for odds of {}.", for_odds.join("; ")));
    if let Some(up) = one.push.up_kn {
        said.push_str(&format!(" The same wind pulls it up by {}.", force(up, units)));
    }
    said
}

fn practice(report: &PostReport, units: UnitSystem) -> Option<String> {
    let usual = report.practice.as_ref()?;
    let below = usual
        .below_frost_m
        .map(|deep| format!("; a foot below frost, {}", depth(deep, units)))
        .unwrap_or_default();
    Some(format!(
        "Rules of thumb beside it (common practice): {} to {} for such posts; a third of the whole post, {}; a third of its height, {}{below}.",
        depth(usual.usual_from_m, units),
        depth(usual.usual_to_m, units),
        depth(usual.third_of_the_whole_m, units),
        depth(usual.third_of_the_height_m, units)
    ))
}

/// One line on the wind at which a post lets go.
#[must_use]
pub fn lets_go_line(one: &LetsGo, units: UnitSystem) -> String {
    let how = if one.comes_up >= 0.5 { "comes up" } else { "turns over" };
    let mut said = format!(
        "{}: it {how} in a gust of {}; the usual margins last up to {}.",
        words::capital(one.words),
        speed_spread(one.speed_m_s, units),
        speed_spread(one.margins_until_m_s, units)
    );
    if let (Some(keeps), Some(firmness)) = (one.keeps_margins, one.firmness) {
        said.push_str(&format!(
            " Odds that they last in the gust of your code: {}, {}.",
            words::odds(keeps),
            match (keeps >= 0.5, firmness) {
                (_, Firmness::Open) => "open",
                (true, Firmness::Likely) => "likely",
                (true, Firmness::Firm) => "firm",
                (false, Firmness::Likely) => "likely not",
                (false, Firmness::Firm) => "firmly not",
            }
        ));
    }
    said
}

fn wind(report: &PostReport, units: UnitSystem) -> Vec<String> {
    let mut lines: Vec<String> = report.lets_go.iter().map(|one| lets_go_line(one, units)).collect();
    if !lines.is_empty() {
        lines.push("Build to the margins, not to the speed of letting go. The frame, its joints and the cover may fail before the post does.".to_owned());
        let upwind = if report.exposure_given { "" } else { ", taken as nobody said" };
        let from = if report.code_note.is_empty() {
            String::new()
        } else {
            format!(" Wind and frost are from: {}.", report.code_note.trim().trim_end_matches('.'))
        };
        lines.push(match report.wind_m_s {
            Some(code) => format!(
                "The gust of your code is {} (3 seconds, 10 m up, open ground); exposure {}{upwind}.{from}",
                speed(code, units),
                report.exposure
            ),
            None => format!(
                "Exposure {}{upwind}. Write the wind speed of your local code down in the settings to see how the post stands against it.{from}",
                report.exposure
            ),
        });
        if report.kind.is_some_and(book::model::StructureKind::has_bows) {
            lines.push("Close the doors before the wind comes: one that stands open to it adds about half to the pull on every post.".to_owned());
        }
    }
    lines
}

/// Sizes of a way to set the post: "12 in collar".
#[must_use]
pub fn foot_size(foot: &FootCompared, units: UnitSystem) -> String {
    let wide = width(foot.wide_m, units);
    match foot.set {
        PostSet::Driven | PostSet::Tamped => format!("{wide} post"),
        PostSet::Collar => format!("{wide} collar"),
        PostSet::Belled => format!("{wide} bell"),
        PostSet::ScrewAnchor => format!("{wide} helix"),
    }
}

fn poured(report: &PostReport, units: UnitSystem) -> Vec<String> {
    let Some(all) = &report.concrete else { return Vec::new() };
    let mut lines = vec![format!(
        "Concrete for one post: {}, {} with a tenth for waste.",
        concrete(all.each_m3, units),
        bags(&all.each_bags, units)
    )];
    if all.counted {
        lines.push(format!(
            "For all {} posts: {}, {}. Dry sand caves: a hole in it takes a quarter to a half more, or a form tube.",
            all.posts,
            concrete(all.total_m3, units),
            bags(&all.total_bags, units)
        ));
    }
    lines.push("Bring concrete up smooth and straight, never wider at the top, domed so that water sheds. Key the post in it by a cross bolt near its foot.".to_owned());
    lines
}

fn ends(report: &PostReport, units: UnitSystem) -> Vec<String> {
    let Some(ends) = &report.ends else { return Vec::new() };
    let mut lines =
        vec![format!("The ends: {}; all wires pull with {}.", ends.words, force(ends.pull_kn, units))];
    if let Some(statics) = &ends.statics {
        if let Some(up) = statics.end_post_uplift_kn {
            lines.push(format!(
                "The brace lifts its end post by {} and presses its second post down by as much; {} may be counted on ({}).",
                force(up, units),
                force(ends.counted_kn, units),
                if statics.holds == Some(true) { "enough" } else { "not enough" }
            ));
            if let Some(span) = statics.least_brace_span_m.filter(|_| statics.holds == Some(false)) {
                lines.push(format!(
                    "For that hold the posts of the brace would stand {} apart.",
                    ground::kit::units::show(span, ground::kit::units::Dimension::Length, units)
                ));
            }
        }
        if let (Some(tension), Some(up)) = (statics.tieback_tension_kn, statics.anchor_uplift_kn) {
            lines.push(format!(
                "The tieback is pulled with {} and lifts its anchor by {}.",
                force(tension, units),
                force(up, units)
            ));
        }
    }
    if ends.brace == EndBrace::Alone {
        lines.push("An end post alone bends and leans long before it fails: brace it.".to_owned());
    }
    lines.extend(ends.notes.iter().cloned());
    lines.push(
        "Tight wire whips when it breaks: stand clear of its line, and wear glasses and gloves.".to_owned(),
    );
    lines
}

fn years(report: &PostReport, units: UnitSystem) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(frost) = &report.frost {
        let group = &frost.group;
        let mut said =
            format!("Frost: {} ({}, odds {}).", group.words, group.firmness.words(), words::odds(group.odds));
        said.push_str(&match (frost.foot_m, frost.deep_enough) {
            (Some(foot), Some(true)) => format!(" The foot stands below the {} of your code.", depth(foot, units)),
            (Some(foot), _) => format!(
                " Your code's frost reaches {}: the foot is to stand below it, straight or wider at the foot, never wider at the top.",
                depth(foot, units)
            ),
            (None, _) => " Set the foot below the frost depth of your local code.".to_owned(),
        });
        lines.push(said);
    }
    if let Some(swell) = &report.shrink_swell {
        let mut said = format!(
            "Shrinking and swelling: {} ({}, odds {}).",
            swell.words,
            swell.firmness.words(),
            words::odds(swell.odds)
        );
        if swell.answer >= ShrinkSwell::High {
            said.push_str(" In drought a gap opens round the post and its upper part holds nothing; wet clay then lifts it. Set the foot below the cracks, with a bell or a plate.");
        }
        lines.push(said);
    }
    if !report.drives.is_empty() && report.post.set == PostSet::Driven {
        let told: Vec<String> = report
            .drives
            .iter()
            .map(|one| {
                format!("{} {} ({})", one.when.words(), one.drives.words, words::odds(one.drives.odds))
            })
            .collect();
        lines.push(format!("Driving it (common practice): {}.", told.join("; ")));
    }
    if let Some(stopped) = report.ground.stopped_cm.filter(|_| report.may_stop_short) {
        lines.push(format!(
            "Something stopped the spade or bar at {}: probe at three points, as one stop may be one boulder. Where a post stops short, do not cut it off before asking whether it holds.",
            words::depth(stopped, units)
        ));
    }
    lines.push(rust(report));
    lines
}

fn rust(report: &PostReport) -> String {
    let rust = &report.rust;
    let mut said = "Rust of galvanized steel:".to_owned();
    if let Some(class) = rust.corrosivity {
        said.push_str(&format!(" by its resistivity the ground is {}.", class.words()));
    }
    if let Some(ph) = rust.ph {
        said.push_str(&format!(" pH {ph:.1}."));
    }
    if rust.protect == Some(true) {
        said.push_str(" Ten points or more: protect buried steel (a full collar, a coating), and look at the ground line every year.");
    }
    if let Some(life) = &rust.life {
        let sure = match life.aggressive {
            Some(true) => ", sooner in ground as aggressive as this",
            Some(false) => "",
            None => ", in ground that is not aggressive",
        };
        said.push_str(&format!(
            " Its zinc of {:.0} µm lasts about {:.0} years{sure}.",
            life.thickness_um, life.zinc_years
        ));
    }
    if !rust.missing.is_empty() {
        said.push_str(&format!(" More could be said with {}.", rust.missing.join(", ")));
    }
    said
}

fn looks(report: &PostReport) -> Vec<String> {
    let Some(worst) = report.worst() else {
        return Vec::new();
    };
    if worst.wrong_now < 0.01 {
        return vec!["Nothing that can be looked at in the ground would change the answer.".to_owned()];
    }
    let mut lines: Vec<String> = worst
        .looks
        .iter()
        .filter(|look| look.wrong_after < worst.wrong_now - 0.005)
        .map(|look| {
            format!(
                "{}: the chance of being wrong about this depth falls from {} to {}.",
                words::capital(look.words),
                words::odds(worst.wrong_now),
                words::odds(look.wrong_after)
            )
        })
        .collect();
    if lines.is_empty() {
        lines.push(format!(
            "The chance of being wrong about this depth is {}, and no single look takes much of it away: go deeper instead.",
            words::odds(worst.wrong_now)
        ));
    }
    if report.ground.conservative == BuildingClass::SiltAndClay && report.ground.likely == BuildingClass::Sand
    {
        lines.push(
            "A feel test on ground from the foot of the hole may lift the class that is built on.".to_owned(),
        );
    }
    lines
}
