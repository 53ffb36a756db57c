//! The posts of a structure on one page: what to dig or drive, how deep, what holds, and what to look at first.

use advice::posts::tell;
use advice::posts::{PostReport, Spot};
use ground::kit::units::{UnitSystem, in_units};
use serde::Serialize;

use crate::error::SheetError;
use crate::options::SheetOptions;
use crate::render::render;
use crate::sheet::{Caution, Cautions, Sheet};
use crate::templates::Template;

/// The post sheet.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct PostSheet {
    /// Its title: "Posts: New tunnel".
    pub title: String,
    /// Sentences above the rest.
    pub lead: Vec<String>,
    /// The post in figures: what, and how much.
    pub figures: Vec<[String; 2]>,
    /// The ways to set it: way, pull that may be counted on, wind at which it lets go, concrete.
    pub ways: Vec<[String; 4]>,
    /// Parts with their sentences.
    pub parts: Vec<PostPart>,
    /// What to tick off, in order.
    pub ticks: Vec<String>,
    /// Cautions; all of them belong to everything here.
    pub cautions: Vec<Caution>,
}

/// A part of the sheet.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct PostPart {
    /// Its heading.
    pub heading: String,
    /// Its sentences.
    pub lines: Vec<String>,
}

impl Sheet for PostSheet {
    const TEMPLATE: Template = Template::POSTS;

    fn title(&self) -> &str {
        &self.title
    }
}

/// The post sheet as PDF.
///
/// # Errors
/// A fault of the program, never of what the report says.
pub fn posts_pdf(
    report: &PostReport,
    units: UnitSystem,
    options: &SheetOptions,
) -> Result<Vec<u8>, SheetError> {
    render(&post_sheet(report, units), options)
}

/// The report in words for its sheet.
#[must_use]
pub fn post_sheet(report: &PostReport, units: UnitSystem) -> PostSheet {
    let said = tell::sentences(report, units);
    let mut cautions = Cautions::default();
    for caution in report.cautions {
        cautions.sign(&in_units(caution, units));
    }
    let part = |heading: &str, lines: Vec<String>| {
        (!lines.is_empty()).then(|| PostPart { heading: heading.to_owned(), lines })
    };
    PostSheet {
        title: format!("Posts: {}", report.name),
        lead: vec![said.lead.clone(), said.post.clone()],
        figures: figures(report, units),
        ways: report
            .feet
            .iter()
            .map(|foot| {
                let chosen = if foot.chosen { " (chosen)" } else { "" };
                [
                    format!(
                        "{}, {}{chosen}",
                        advice::words::capital(foot.words),
                        tell::foot_size(foot, units)
                    ),
                    tell::force_spread(foot.counted_kn, units),
                    foot.lets_go_m_s.map(|speed| tell::speed_spread(speed, units)).unwrap_or_default(),
                    tell::bags(&foot.bags, units),
                ]
            })
            .collect(),
        parts: [
            part("The wind at which it lets go", said.wind),
            part("Concrete", said.concrete),
            part("The ends", said.ends),
        ]
        .into_iter()
        .flatten()
        .collect(),
        ticks: ticks(report, units),
        cautions: cautions.into_list(),
    }
}

fn figures(report: &PostReport, units: UnitSystem) -> Vec<[String; 2]> {
    let mut rows = vec![["Depth of the foot".to_owned(), tell::depth(report.depth_m, units)]];
    let mut row = |what: &str, value: Option<String>| {
        if let Some(value) = value {
            rows.push([what.to_owned(), value]);
        }
    };
    row("Collar", report.collar_m.map(|collar| tell::width(collar, units)));
    row("Bell", report.bell_m.map(|bell| tell::width(bell, units)));
    row("Posts", report.posts.map(|count| count.to_string()));
    row("Not counted at the top", report.ground.top_m.map(|top| tell::depth_spread(top, units)));
    row(
        "Frost depth of the code",
        report.frost.as_ref().and_then(|frost| frost.depth_m).map(|depth| tell::depth(depth, units)),
    );
    row("Gust of the code", report.wind_m_s.map(|speed| tell::speed(speed, units)));
    if let Some(worst) = report.worst() {
        row("Depth for 90 % odds", worst.for_90_m.map(|depth| tell::depth(depth, units)));
        row("Odds that the depth suffices", Some(advice::words::odds(worst.suffices)));
    }
    let side = report.depths.iter().find(|one| one.push.spot == Spot::Side);
    row(
        "Pull up on a post along the side",
        side.and_then(|one| one.push.up_kn).map(|kn| tell::force(kn, units)),
    );
    rows
}

fn ticks(report: &PostReport, units: UnitSystem) -> Vec<String> {
    let mut ticks = vec![
        "Buried services located and marked; own pipes and cables found; no power line above".to_owned(),
        "Permit asked for; the maker's anchoring instructions at hand".to_owned(),
        "Lines and corners set out and squared".to_owned(),
        format!(
            "First hole or post to {}; what came up from its foot looked at and felt",
            tell::depth(report.depth_m, units)
        ),
        "Water in the hole noted, and where bar or auger stopped".to_owned(),
        "All posts set and plumb; those that stopped short marked, not cut".to_owned(),
    ];
    if report.concrete.is_some() {
        ticks.push(
            "Concrete poured with gloves and goggles on, domed, and left to cure before the cover goes on"
                .to_owned(),
        );
    }
    ticks.push("Open holes covered whenever nobody works at them".to_owned());
    ticks
}
