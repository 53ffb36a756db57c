//! `water`: the water of one plot, and a watering followed down into it.

use std::path::PathBuf;

use advice::water::{PlotWater, Wetting, WhatIf, plot_water, tell, wetting};
use advice::{Options, plot_report};
use clap::Args;
use ground::kit::Refusal;
use ground::kit::units::{UnitSystem, in_units};
use jiff::ZonedDateTime;
use serde_json::json;

use crate::args::Global;
use crate::near::nearest;
use crate::report::{Report, columns, part, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `water`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework water a.farmbook \"Lower field\"
  spadework water a.farmbook \"Lower field\" --what-if loosened
  spadework water a.farmbook \"Lower field\" --json")]
pub(crate) struct Water {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    /// Follow a watering on the ground as it is and with one change: organic-matter, loosened, no-stones or
    /// pulsed
    #[arg(long, value_name = "CHANGE")]
    what_if: Option<String>,
}

impl Water {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let what_if = self.what_if.as_deref().map(change).transpose()?;
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let id = shelf::plot(&snapshot, &self.plot)?.id;
        let report = plot_report(&snapshot, id, &Options { weigh_measurements: false, ..Options::default() })
            .ok_or_else(|| Trouble::other("the plot was withdrawn"))?;
        let water = plot_water(&snapshot, &report, ZonedDateTime::now().date()).filter(|water| water.known);
        let Some(water) = water else {
            let text = format!(
                "{}\n{}",
                report.name,
                wrapped(
                    "Nothing that was recorded here tells what the ground is, so nothing can be said of its water.",
                    terminal.width,
                    ""
                )
            );
            return Report::new(&json!({ "name": report.name, "water": null, "wetting": null }), text);
        };
        let followed = what_if.and_then(|what_if| wetting(&snapshot, &water, what_if));
        let system = global.system_or(snapshot.farm.body.units);
        let text = told(&water, followed.as_ref(), what_if, system, terminal);
        Report::new(&json!({ "name": report.name, "water": water, "wetting": followed }), text)
    }
}

fn change(text: &str) -> Result<WhatIf, Refusal> {
    WhatIf::of_key(text.trim()).ok_or_else(|| {
        let keys = WhatIf::ALL.map(WhatIf::key);
        Refusal::new("what_if", format!("no change is called {text:?}"))
            .given(text)
            .accepted(keys.join(", "))
            .example(nearest(text, keys).unwrap_or(keys[0]))
    })
}

fn told(
    water: &PlotWater,
    followed: Option<&Wetting>,
    what_if: Option<WhatIf>,
    system: UnitSystem,
    terminal: &Terminal,
) -> String {
    let said = tell::sentences(water, system);
    let mut text = format!("Water, {}\n\n{}", water.name, picture(water, system, terminal));
    let mut part = |title: &str, lines: &[String]| part(&mut text, terminal.width, title, lines);
    part("What it holds", &said.holds);
    part("Layers", &tell::layer_lines(&water.holds, system));
    part("How it takes water", &said.takes);
    let showers: Vec<String> = water
        .intake
        .showers
        .iter()
        .map(|shower| {
            let name = if shower.sprinkler {
                format!("your sprinklers, {}", advice::words::rate(shower.rate_mm_h, system))
            } else {
                format!(
                    "{} of rain in an hour",
                    advice::words::water(shower.rate_mm_h * shower.hours, system)
                )
            };
            format!(
                "{name}: water stands with odds of {} on drained ground, {} on ground half dry",
                advice::words::odds(shower.stands_when_drained),
                advice::words::odds(shower.stands_when_dry)
            )
        })
        .collect();
    part("Showers", &showers);
    let mut stands = said.stands;
    let reasons = &water.drainage;
    stands.extend(
        reasons.reasons_for.iter().map(|reason| format!("For it ({}): {}", reason.weight, reason.text)),
    );
    stands.extend(
        reasons
            .reasons_against
            .iter()
            .map(|reason| format!("Against it ({}): {}", reason.weight, reason.text)),
    );
    stands.push(format!("What would settle it: {}", reasons.look));
    part("Where water stands", &stands);
    let mut to_do = said.to_do;
    to_do.extend(reasons.cautions.iter().map(|caution| format!("Caution: {}", in_units(caution, system))));
    part("What to do", &to_do);
    let mut salts = said.salts;
    salts
        .extend(water.salts.cautions.iter().map(|caution| format!("Caution: {}", in_units(caution, system))));
    part("Salts", &salts);
    match (followed, what_if) {
        (Some(followed), _) => part("A watering, followed down", &tell::wetting_lines(followed, system)),
        (None, Some(_)) => part(
            "A watering, followed down",
            &["For this ground the equations give no flow that could be followed.".to_owned()],
        ),
        (None, None) => {}
    }
    part("Notes", &water.notes);
    let rests: Vec<String> = water.rests_on.iter().map(|line| (*line).to_owned()).collect();
    part("What this rests on", &rests);
    text
}

/// The ground from the side: a row each four inches (10 cm), with what is in it by volume when it has drained.
fn picture(water: &PlotWater, system: UnitSystem, terminal: &Terminal) -> String {
    const ROW_CM: f64 = 10.0;
    const LENGTH: f64 = 40.0;
    let marks = if terminal.unicode { ["▓", "▒", "░", "·"] } else { ["#", "=", "-", "."] };
    let bottom = water.holds.layers.last().map_or(0.0, |layer| layer.to_cm);
    let mut rows = Vec::new();
    let mut at = 0.0;
    while at < bottom - 0.5 * ROW_CM && rows.len() < 20 {
        let middle = at + 0.5 * ROW_CM;
        if let Some(layer) = water.holds.layers.iter().find(|layer| middle < layer.to_cm) {
            let (dry, held, full) = (
                layer.wilting_point_m3_m3.median,
                layer.field_capacity_m3_m3.median,
                layer.saturation_m3_m3.median,
            );
            let cells = |share: f64| (share.clamp(0.0, 1.0) * LENGTH).round() as usize;
            let ends = [cells(1.0 - full), cells(1.0 - full + dry), cells(1.0 - full + held), cells(1.0)];
            let mut bar = String::new();
            let mut from = 0;
            for (mark, end) in marks.into_iter().zip(ends) {
                bar.push_str(&mark.repeat(end.saturating_sub(from)));
                from = end.max(from);
            }
            let begins = layer.from_cm >= at - 0.01 && layer.from_cm < at + ROW_CM;
            let name = if begins { layer.class_words } else { "" };
            let root = at < water.holds.root_depth_cm && water.holds.root_depth_cm <= at + ROW_CM;
            rows.push(vec![
                advice::words::depth(at, system),
                bar,
                format!("{name}{}", if root { "  (roots end here)" } else { "" }),
            ]);
        }
        at += ROW_CM;
    }
    format!(
        "{}\n  {} earth and stones  {} water no root can pull off  {} water crops can use  {} air when drained",
        columns(&rows, "  "),
        marks[0],
        marks[1],
        marks[2],
        marks[3]
    )
}
