//! A sampling plan in sentences, for the page, the command line and the sheet alike.

use book::model::{Design, SamplingPlan, SamplingPurpose, UnitSystem};
use ground::kit::units::{Dimension, show};
use ground::kit::{Bounded, Provenance};
use serde::Serialize;

use super::{OutlineFrom, SamplingReport, SpreadFrom, ToldPlan};
use crate::words;

/// The report in sentences.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Sentences {
    /// How many, how deep, in one.
    pub lead: String,
    /// Why so many.
    pub number: Vec<String>,
    /// Layers and depth.
    pub depth: Vec<String>,
    /// When, and when again.
    pub when: Vec<String>,
    /// When to part the plot: what the book tells.
    pub split: Vec<String>,
    /// And what to look for.
    pub look: Vec<String>,
    /// Where: design, margins, remarks.
    pub place: Vec<String>,
    /// Step by step.
    pub steps: Vec<String>,
    /// What to bring.
    pub bring: Vec<String>,
}

/// The bag of a point, "bag 3", as it stands beside its number; empty where it has none.
#[must_use]
pub fn bag(bag: Option<u16>) -> String {
    bag.map_or_else(String::new, |bag| format!("bag {bag}"))
}

/// A distance on the ground.
#[must_use]
pub fn far(metres: f64, units: UnitSystem) -> String {
    let rounded = match units {
        // Nobody paces by the inch.
        UnitSystem::UsCustomary if metres > 0.9 => (metres / 0.3048).round() * 0.3048,
        UnitSystem::UsCustomary => (metres / 0.0254).round() * 0.0254,
        UnitSystem::Metric if metres > 20.0 => metres.round(),
        UnitSystem::Metric => (metres * 10.0).round() / 10.0,
    };
    show(rounded, Dimension::Length, units)
}

/// The whole report.
#[must_use]
pub fn sentences(report: &SamplingReport, units: UnitSystem) -> Sentences {
    let numbers = &report.numbers;
    let first = report.layers.first();
    let (from, to) = first.map_or((0.0, 20.0), |layer| (layer.from_cm, layer.to_cm));
    let lead = if report.ask.purpose == SamplingPurpose::Structure {
        format!("Push the probe at {}, {} deep.", points(numbers.places.into()), layer(from, to, units))
    } else if report.ask.apart {
        format!(
            "Go to {} places, pull {} cores within a few steps of each, {} deep, and give each place a bag of its own.",
            numbers.places,
            numbers.cores_per_bag,
            layer(from, to, units)
        )
    } else if numbers.bags == 1 {
        format!("Pull {} cores, {} deep, and mix them into one bag.", numbers.cores, layer(from, to, units))
    } else {
        format!(
            "Pull {} cores, {} deep, and mix them into {} bags of {}.",
            numbers.cores,
            layer(from, to, units),
            numbers.bags,
            numbers.cores_per_bag
        )
    };
    Sentences {
        lead,
        number: number(report),
        depth: depth(report, units),
        when: when(report),
        split: report.split.iter().filter(|split| split.known).map(|split| split.why.clone()).collect(),
        look: report.split.iter().filter(|split| !split.known).map(|split| split.why.clone()).collect(),
        place: place(report, units),
        steps: steps(
            &Walk {
                purpose: report.ask.purpose,
                apart: report.ask.apart,
                cores_per_bag: numbers.cores_per_bag,
                points: !report.points.is_empty(),
                from_cm: from,
                to_cm: to,
            },
            units,
        ),
        bring: bring(report.ask.purpose, report.ask.apart),
    }
}

/// "8 in", "from 6 in to 18 in".
pub(crate) fn layer(from: f64, to: f64, units: UnitSystem) -> String {
    if from > 0.0 {
        format!("from {} to {}", words::depth(from, units), words::depth(to, units))
    } else {
        words::depth(to, units)
    }
}

fn number(report: &SamplingReport) -> Vec<String> {
    let (spread, numbers, ask) = (&report.spread, &report.numbers, &report.ask);
    let what = spread.property.words();
    let mut lines = vec![match spread.from {
        SpreadFrom::Own { results, year } => format!(
            "Your own {results} results of {year} say that single cores of {what} differ by {:.0} % of their mean ({:.0} to {:.0} %: few results tell a spread roughly).",
            spread.taken_percent, spread.low_percent, spread.high_percent
        ),
        SpreadFrom::Table { provenance } => format!(
            "Single cores of {what} within one field differ by {:.0} to {:.0} % of their mean ({}). A plot worked as one is evener, so the lower half of that is supposed here, {:.0} to {:.0} %, and {:.0} % is taken: our judgement, until you have four results of one year from this plot.",
            spread.low_percent,
            spread.published_high_percent.unwrap_or(spread.high_percent),
            provenance.words(),
            spread.low_percent,
            spread.high_percent,
            spread.taken_percent
        ),
    }];
    let said = |count: Option<u32>| {
        count.map_or_else(|| "more than anyone pulls".to_owned(), |count| count.to_string())
    };
    let asked =
        numbers.asked.map_or_else(|| "more cores than anyone pulls".to_owned(), |count| cores(count.into()));
    let widest = spread.published_high_percent.map_or_else(String::new, |high| {
        format!(", and {} at the {high:.0} % of the most uneven fields", said(numbers.asked_published))
    });
    lines.push(format!(
        "To have the mean within {:.0} % with {:.0} % confidence takes {asked}: {} if the plot is even, {} if it is not{widest}.",
        ask.error_percent,
        ask.confidence_percent,
        said(numbers.asked_low),
        said(numbers.asked_high)
    ));
    lines.push(format!(
        "{} places leave an error of {:.0} % if the plot is even, {:.0} % if it is not; the laboratory's own error comes on top.",
        numbers.places, numbers.error_low_percent, numbers.error_high_percent
    ));
    let probe = ask.purpose == SamplingPurpose::Structure;
    if !ask.apart || probe {
        let of = if probe { "pushes of the probe" } else { "cores in a bag" };
        lines.push(format!(
            "Usual advice for this purpose: {} to {} {of}.",
            numbers.advice_low, numbers.advice_high
        ));
    }
    if numbers.falls_short {
        lines.push("That is fewer than the error asks. Bear a larger error, part the plot into evener pieces, or sample it year after year at the same points: a change shows sooner than a level.".to_owned());
    }
    if spread.skewed {
        lines.push(format!("A few high spots pull the mean of {what} up: take the number as the least."));
    }
    if numbers.bags < 2 && !probe {
        lines.push(
            "One mixed bag gives a mean but no measure of its error; two or three bags would show it."
                .to_owned(),
        );
    }
    lines
}

fn depth(report: &SamplingReport, units: UnitSystem) -> Vec<String> {
    let mut lines: Vec<String> = report
        .layers
        .iter()
        .map(|row| {
            let own = if row.provenance == Provenance::Read { "" } else { " (common practice)" };
            format!(
                "{} to {}: {}{own}.",
                words::depth(row.from_cm, units),
                words::depth(row.to_cm, units),
                row.why
            )
        })
        .collect();
    if report.layers.len() > 1 {
        lines.push("Bag each layer apart, from the same holes.".to_owned());
    }
    lines.push("If your laboratory or the rates you follow name another depth, take that one: their tables were made for it. Always the same depth, or years cannot be compared.".to_owned());
    lines
}

fn when(report: &SamplingReport) -> Vec<String> {
    let mut lines = vec![match report.ask.purpose {
        SamplingPurpose::Nitrate => "When the crop is about a foot high and before it is fed again; nitrate moves with every heavy rain, so an old result tells nothing.",
        SamplingPurpose::Salts => "At the end of the crop, before the beds are watered through, when salts stand highest.",
        SamplingPurpose::Texture => "Any time the ground is moist. Once is enough, unless soil is brought in or washed away.",
        SamplingPurpose::Structure => "A day or two after a good rain, at field moisture: dry ground is hard whatever its structure.",
        SamplingPurpose::Fertility => "In the same month every time; autumn leaves time for lime to work. Before lime, compost or fertilizer, or two months after, and not in wet ground.",
        SamplingPurpose::OrganicMatter => "In the same month every time, before compost or a cover is worked in.",
    }
    .to_owned()];
    match (report.last_on, report.due_on) {
        (Some(last), Some(due)) => lines.push(format!(
            "The last results for this are of {}; by the usual interval it is due again from {}.",
            words::day(last),
            words::day(due)
        )),
        (Some(last), None) => lines.push(format!("The last results for this are of {}.", words::day(last))),
        (None, _) => lines.push("No results of this plot for this are in the book yet.".to_owned()),
    }
    lines
}

fn place(report: &SamplingReport, units: UnitSystem) -> Vec<String> {
    let mut lines = Vec::new();
    if report.outline == OutlineFrom::Nothing {
        return report.remarks.clone();
    }
    lines.push(match report.ask.design {
        Design::StratifiedRandom => "The plot is parted into compact parts of equal area, with two places or more drawn by chance in each: spread out, and honest about the error.".to_owned(),
        Design::Zigzag => "Points at equal steps along a zigzag walk, from a start drawn by chance.".to_owned(),
        Design::SpatialCoverage => "Points spread so that no spot lies far from one: best for a map. They are not drawn by chance, so their error cannot be worked out from them alone.".to_owned(),
        Design::Repeat => "The points of the earlier plan again, so that a change is not mistaken for a difference between places.".to_owned(),
        Design::ByHand => "Points set by hand.".to_owned(),
    });
    lines.push(format!("It stays {} from the edges of the plot.", far(report.margin_m, units)));
    if !report.keeps_off.is_empty() {
        let told: Vec<String> = report
            .keeps_off
            .iter()
            .map(|line| {
                line.rsplit_once(": ")
                    .and_then(|(what, away)| Some((what, away.trim_end_matches(" m").parse::<f64>().ok()?)))
                    .map_or_else(|| line.clone(), |(what, away)| format!("{what}, {}", far(away, units)))
            })
            .collect();
        lines.push(format!("It keeps away from: {}.", told.join("; ")));
    }
    if report.walk_m > 0.0 {
        lines.push(format!(
            "The walk from the first point to the last is {} in straight lines.",
            far(report.walk_m, units)
        ));
    }
    if report.outline == OutlineFrom::Sides {
        lines.push("The plot is not drawn on the plan, so it is taken as a rectangle of its sides, and places are counted from one corner along the longer side.".to_owned());
    }
    lines.extend(report.remarks.iter().cloned());
    lines
}

/// What the steps of a walk hang on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Walk {
    /// What the soil is wanted for.
    pub purpose: SamplingPurpose,
    /// Has every point a bag of its own?
    pub apart: bool,
    /// Cores in a bag.
    pub cores_per_bag: u16,
    /// Are there points to walk to?
    pub points: bool,
    /// Top of the layer.
    pub from_cm: f64,
    /// Its bottom.
    pub to_cm: f64,
}

impl Walk {
    /// That of a plan.
    #[must_use]
    pub fn of(plan: &SamplingPlan) -> Self {
        Self {
            purpose: plan.purpose,
            apart: plan.bags > 1 && usize::from(plan.bags) == plan.points.len(),
            cores_per_bag: plan.cores_per_bag,
            points: !plan.points.is_empty(),
            from_cm: plan.from_cm.get(),
            to_cm: plan.to_cm.get(),
        }
    }
}

/// A kept plan in a line: places, depth, bags and the way between.
#[must_use]
pub fn kept(told: &ToldPlan, units: UnitSystem) -> String {
    let plan = &told.plan;
    let layer = layer(plan.from_cm.get(), plan.to_cm.get(), units);
    let bags = if plan.bags == 1 { "one bag".to_owned() } else { format!("{} bags", plan.bags) };
    let places = told.points.len();
    let walk = format!("The walk is {} in straight lines.", far(told.walk_m, units));
    match (plan.purpose, places) {
        (SamplingPurpose::Structure, 0) => {
            let pushes = usize::from(plan.cores_per_bag) * usize::from(plan.bags);
            format!("Push the probe at {}, {layer} deep, where you choose.", points(pushes))
        }
        (SamplingPurpose::Structure, _) => {
            format!("Push the probe at {}, {layer} deep. {walk}", points(places))
        }
        (_, 0) => format!(
            "{} to a bag, {layer} deep, {bags}, at places of your choice.",
            cores(plan.cores_per_bag.into())
        ),
        _ if told.apart => format!(
            "{} with {} about each, {layer} deep, a bag for each.",
            points(places),
            cores(plan.cores_per_bag.into())
        ),
        _ => format!("{}, {layer} deep, into {bags}. {walk}", cores(places as u64)),
    }
}

/// "1 point", "12 points".
pub(crate) fn points(count: usize) -> String {
    if count == 1 { "1 point".to_owned() } else { format!("{count} points") }
}

fn cores(count: u64) -> String {
    if count == 1 { "1 core".to_owned() } else { format!("{count} cores") }
}

/// Step by step; for the sheet too.
#[must_use]
pub fn steps(walk: &Walk, units: UnitSystem) -> Vec<String> {
    let line = |text: &str| text.to_owned();
    let depth = |cm: f64| words::depth(cm, units);
    if walk.purpose == SamplingPurpose::Structure {
        return vec![
            line(
                "Go a day or two after the whole depth was wetted: dry ground is hard whatever its structure.",
            ),
            line(
                "At each point push the probe straight down, slowly and evenly, and write down the depth at which it first goes hard; where it slides all the way, \u{201c}none\u{201d} and the depth it reached.",
            ),
            line("Where it stops at once, step a hand's width aside and push again: one stone is no pan."),
        ];
    }
    let cores = match (walk.points, walk.apart, walk.cores_per_bag) {
        (false, ..) => {
            format!("Take {} cores for each bag on a zigzag over the whole plot.", walk.cores_per_bag)
        }
        (true, true, 0 | 1) => line("Walk the points in their order and take one core at each."),
        (true, true, cores) => {
            format!("Walk the points in their order and take {cores} cores within two paces of each.")
        }
        (true, false, _) => line("Walk the points in their order and take one core at each."),
    };
    let core = if walk.from_cm > 0.0 {
        format!(
            "Dig or bore to {}, clean the hole, and take a core of equal thickness down to {}.",
            depth(walk.from_cm),
            depth(walk.to_cm)
        )
    } else {
        format!(
            "Push the probe straight down to {}; with a spade cut a V and take a slice of equal thickness down its side. The same amount every time.",
            depth(walk.to_cm)
        )
    };
    let mix = if walk.apart {
        "Mix the cores about one point in the bucket, break the lumps, pick out stones and roots, and fill its own bag. Wipe the bucket before the next."
    } else {
        "Put the core into the bucket of its bag. After the last one break the lumps, pick out stones and roots, mix well, and fill a bag with one or two cups; the rest goes back."
    };
    let dry = match walk.purpose {
        SamplingPurpose::Nitrate => {
            "Keep it cool and send it within a day or two, or spread it thin to dry at once: nitrate changes in a warm bag."
        }
        _ => "Let it dry in the air, spread on paper; never in an oven.",
    };
    vec![
        format!(
            "{cores} If one falls on a post, a path, a drip line, a burnt spot or a dropping, step aside two paces and note it."
        ),
        line("Scrape plants and litter off; do not scrape soil away."),
        core,
        line(mix),
        line("Put its label on the bag, or write plot, depth, day and bag number on it, before you go on."),
        line(dry),
    ]
}

/// What to bring.
#[must_use]
pub fn bring(purpose: SamplingPurpose, apart: bool) -> Vec<String> {
    let mut lines: Vec<&str> = if purpose == SamplingPurpose::Structure {
        vec!["Penetrometer or a pointed rod with depths marked on it", "Spade"]
    } else {
        vec![
            "Soil probe of steel, or a spade and a trowel",
            "Clean plastic bucket, one for each bag that is filled at the same time; no zinc, brass or rubber where trace elements are tested",
            "Bags, their labels, and a pen that stands wet",
        ]
    };
    if purpose == SamplingPurpose::Nitrate {
        lines.push("Cool box");
    }
    if apart {
        lines.push("Cloth to wipe the bucket between bags");
    }
    lines.extend([
        "The field sheet, or the points on a phone",
        "Tape or stakes to find the points by",
        "Gloves, and water to wash hands",
    ]);
    lines.into_iter().map(str::to_owned).collect()
}
