//! A probe transect by depth: each push as a line, the limits of roots, and the pan marked.

use ground::kit::units::UnitSystem;
use ground::structure::probe::push::Level;
use ground::structure::probe::strength::{HINDERED_MPA, MPA_PER_PSI, STOPPED_MPA};
use svg::node::element::Circle;

use crate::canvas::{At, Canvas, LETTER, SMALL, Side, WIDTH, line, path, px, rectangle};
use crate::chart::{Entry, Scale, key, swatch};
use crate::figure::{Figure, Table};
use crate::measures::{Shown, is_depth};
use crate::palette::{INK, Stuff};
use crate::words::{number, percent, round_steps};

/// A hard layer to mark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MarkedPan {
    /// Depth at which it begins.
    pub top_cm: f64,
    /// Depth at which it ends; `None` where no push came out below it.
    pub bottom_cm: Option<f64>,
    /// Share of the pushes that were stopped, 0 to 1.
    pub stopped_share: f64,
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ProbeChart<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// Readings of each push, top first; at most [`MOST_PUSHES`] are drawn.
    pub pushes: &'a [&'a [Level]],
    /// The pan, where one was found.
    pub pan: Option<MarkedPan>,
    /// Was the ground moist enough to put the readings to the limits?
    pub comparable: bool,
    /// Units.
    pub system: UnitSystem,
}

/// Pushes that one chart holds.
pub const MOST_PUSHES: usize = 40;

const LEFT: f64 = 40.0;
const RIGHT: f64 = WIDTH - 12.0;
const TOP: f64 = 40.0;
const BOTTOM: f64 = 250.0;
/// No cone reads more; no rod reaches deeper than 2 m.
const HARDEST_MPA: f64 = 20.0;
const DEEPEST_CM: f64 = 200.0;

/// Resistance to the right, depth downwards: a line for each push, upright lines where roots are hindered and
/// stopped, and the pan as a band with its depth. Readings that are no numbers are left out.
#[must_use]
pub fn probe_chart(chart: &ProbeChart<'_>) -> Figure {
    let pushes: Vec<Vec<Level>> = chart
        .pushes
        .iter()
        .take(MOST_PUSHES)
        .map(|push| push.iter().copied().filter(sound).collect::<Vec<_>>())
        .filter(|push| !push.is_empty())
        .collect();
    let depth = Shown::depth(chart.system);
    let (per, unit) = pressure(chart.system);
    let title = "How hard the ground is by depth".to_owned();
    let table = table(&pushes, depth, per, unit);
    let pan = chart.pan.filter(|pan| {
        (0.0..=1.0).contains(&pan.stopped_share)
            && is_depth(pan.top_cm)
            && pan.bottom_cm.is_none_or(|bottom| is_depth(bottom) && bottom >= pan.top_cm)
    });
    let description = describe(chart, pan.as_ref(), pushes.len(), depth);
    if pushes.is_empty() {
        let mut canvas = Canvas::new(chart.id, "probe", WIDTH, 24.0);
        canvas.text((0.0, 16.0), Side::Start, LETTER, "No push was recorded yet");
        return canvas.finish(title, description, table);
    }
    let levels = || pushes.iter().flatten();
    let hardest = levels().map(|level| level.resistance_mpa).fold(1.4 * STOPPED_MPA, f64::max);
    let deepest = levels().map(|level| level.depth_cm).fold(30.0, f64::max);
    let across = Scale { from: 0.0, to: hardest, start: LEFT, end: RIGHT };
    let down = Scale { from: 0.0, to: deepest * 1.04, start: TOP, end: BOTTOM };
    let mut canvas = Canvas::new(chart.id, "probe", WIDTH, BOTTOM);
    if let Some(pan) = &pan {
        band(&mut canvas, pan, &down, deepest, depth);
    }
    axes(&mut canvas, &across, &down, depth, (per, unit));
    limits(&mut canvas, &across, chart.comparable);
    for push in &pushes {
        let points: Vec<At> =
            push.iter().map(|level| (across.at(level.resistance_mpa), down.at(level.depth_cm))).collect();
        canvas.trace(path(&points, false), 1.2);
        for (x, y) in points {
            canvas.add(Circle::new().set("cx", px(x)).set("cy", px(y)).set("r", 2.2).set("fill", INK));
        }
    }
    let bottom = legend(&mut canvas, pan.is_some());
    canvas.tall(bottom + 4.0);
    canvas.finish(title, description, table)
}

fn sound(level: &Level) -> bool {
    (0.0..=DEEPEST_CM).contains(&level.depth_cm) && (0.0..=HARDEST_MPA).contains(&level.resistance_mpa)
}

fn pressure(system: UnitSystem) -> (f64, &'static str) {
    match system {
        UnitSystem::UsCustomary => (1.0 / MPA_PER_PSI, "psi"),
        UnitSystem::Metric => (1.0, "MPa"),
    }
}

fn shown(mpa: f64, per: f64) -> String {
    // Whole psi; a hundredth of a MPa.
    if per > 1.0 { format!("{:.0}", mpa * per) } else { format!("{mpa:.2}") }
}

fn band(canvas: &mut Canvas, pan: &MarkedPan, down: &Scale, deepest: f64, depth: Shown) {
    let (top, bottom) = (down.at(pan.top_cm), down.at(pan.bottom_cm.unwrap_or(deepest)));
    canvas.shape(rectangle(LEFT, top, RIGHT - LEFT, (bottom - top).max(2.0)), Stuff::Tight, 0.0);
    for y in [Some(top), pan.bottom_cm.map(|_| bottom)].into_iter().flatten() {
        canvas.line((LEFT, y), (RIGHT, y), 1.4);
    }
    let words = match pan.bottom_cm {
        Some(bottom) => format!("pan {} to {}", depth.number(pan.top_cm), depth.say(bottom)),
        None => format!("pan from {} down", depth.say(pan.top_cm)),
    };
    canvas.plated((LEFT + 6.0, top + 14.0), Side::Start, LETTER, &words);
}

fn axes(canvas: &mut Canvas, across: &Scale, down: &Scale, depth: Shown, (per, unit): (f64, &str)) {
    canvas.line((LEFT, TOP), (RIGHT, TOP), 1.4);
    canvas.line((LEFT, TOP), (LEFT, BOTTOM), 1.4);
    canvas.text((LEFT, 11.0), Side::Start, SMALL, &format!("resistance, {unit}"));
    canvas.text((0.0, TOP - 7.0), Side::Start, SMALL, &format!("depth, {}", depth.unit));
    let (step, count) = round_steps(across.to * per, 4.0);
    for value in (0..=count).map(|n| step * n as f64).filter(|value| *value <= across.to * per * 1.001) {
        let x = across.at(value / per);
        canvas.line((x, TOP - 4.0), (x, TOP), 1.0);
        if value > 0.0 {
            canvas.text((x, TOP - 7.0), Side::Middle, SMALL, &number(value));
        }
    }
    let one = depth.convert(1.0);
    let (step, count) = round_steps(down.to * one, 5.0);
    for value in (1..=count).map(|n| step * n as f64).filter(|value| *value <= down.to * one) {
        let y = down.at(value / one);
        canvas.line((LEFT - 4.0, y), (LEFT, y), 1.0);
        canvas.text((LEFT - 7.0, y + 4.0), Side::End, SMALL, &number(value));
    }
}

fn limits(canvas: &mut Canvas, across: &Scale, comparable: bool) {
    for (mpa, dashes, width) in [(HINDERED_MPA, "2 3", 1.0), (STOPPED_MPA, "7 4", 1.8)] {
        let x = across.at(mpa);
        let limit = line((x, TOP), (x, BOTTOM), width).set("stroke-dasharray", dashes);
        // Limits do not hold in dry ground: shown faint.
        canvas.add(if comparable { limit } else { limit.set("stroke-opacity", 0.4) });
    }
}

fn legend(canvas: &mut Canvas, pan: bool) -> f64 {
    let dashed = |dashes: &'static str, width: f64| {
        move |canvas: &mut Canvas, (x, y): At| {
            canvas.dashed((x, y + 5.0), (x + 16.0, y + 5.0), width, dashes);
        }
    };
    let push = |canvas: &mut Canvas, (x, y): At| canvas.line((x, y + 5.0), (x + 16.0, y + 5.0), 1.2);
    let tight = |canvas: &mut Canvas, at: At| swatch(canvas, at, Stuff::Tight);
    let (hindered, stopped) = (dashed("2 3", 1.0), dashed("7 4", 1.8));
    let mut entries = vec![
        Entry { sign: &push, words: "one push" },
        Entry { sign: &hindered, words: "roots hindered" },
        Entry { sign: &stopped, words: "roots stopped" },
    ];
    if pan {
        entries.push(Entry { sign: &tight, words: "pan" });
    }
    key(canvas, &entries, LEFT, RIGHT, BOTTOM + 12.0)
}

fn table(pushes: &[Vec<Level>], depth: Shown, per: f64, unit: &str) -> Table {
    let mut table = Table::new(["Push", &format!("Depth, {}", depth.unit), &format!("Resistance, {unit}")]);
    for (at, push) in pushes.iter().enumerate() {
        for level in push {
            table.row([(at + 1).to_string(), depth.number(level.depth_cm), shown(level.resistance_mpa, per)]);
        }
    }
    table
}

fn describe(chart: &ProbeChart<'_>, pan: Option<&MarkedPan>, pushes: usize, depth: Shown) -> String {
    if pushes == 0 {
        return "No push was recorded yet.".to_owned();
    }
    let mut text = match pan {
        Some(pan) => {
            let ends = match pan.bottom_cm {
                Some(bottom) => format!("and ends at {}", depth.say(bottom)),
                None => "and no push came out below it".to_owned(),
            };
            format!(
                "A hard layer begins at {} {ends}; it stopped {} of {pushes} pushes.",
                depth.say(pan.top_cm),
                percent(pan.stopped_share)
            )
        }
        None => format!("No hard layer was found in {pushes} pushes."),
    };
    if !chart.comparable {
        text.push_str(" The ground was drier than field capacity: the readings show where a layer lies, not how bad it is.");
    }
    text
}
