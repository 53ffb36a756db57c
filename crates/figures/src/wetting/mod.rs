//! Water going down through the ground over the hours of one irrigation, for two grounds side by side.
//!
//! [`wetting_frames`] sets a few moments one after the other, for print and for a page without a
//! script; [`wetting_film`] holds every moment as a group of its own, one of them shown, so that a
//! script can show another.

mod panel;

use ground::kit::units::UnitSystem;
use svg::node::element::Group;

use crate::canvas::{Canvas, LETTER, SMALL, Side, WIDE, WIDTH, px};
use crate::chart::{self, Entry, Scale};
use crate::figure::{Figure, Table};
use crate::measures::{Shown, is_depth, is_water};
use crate::palette::Stuff;
use crate::words::{number, wrapped};
use panel::Panel;

pub use crate::season::Size;

/// Moments that [`wetting_frames`] shows at most.
pub const MOST_FRAMES: usize = 6;
/// Moments that [`wetting_film`] holds at most.
pub const MOST_FILM: usize = 120;

/// One layer of a ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Its top below the surface.
    pub top_cm: f64,
    /// Its bottom below the surface.
    pub bottom_cm: f64,
    /// Water content when drained.
    pub field_capacity_m3_m3: f64,
    /// Water content when every pore is full.
    pub saturation_m3_m3: f64,
}

/// The water in a ground at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment<'a> {
    /// Since the water was turned on.
    pub hours: f64,
    /// Water content at each depth of the ground.
    pub water_m3_m3: &'a [f64],
    /// Water that has gone in so far.
    pub in_mm: f64,
    /// Water that has gone below the roots so far.
    pub below_roots_mm: f64,
}

/// One ground over the hours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ground<'a> {
    /// What it is: "this ground", "after compost".
    pub name: &'a str,
    /// Its layers.
    pub layers: &'a [Layer],
    /// Depths of the water contents, in ascending order.
    pub depths_cm: &'a [f64],
    /// How deep roots draw.
    pub root_depth_cm: Option<f64>,
    /// Moments in order.
    pub moments: &'a [Moment<'a>],
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wetting<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// One ground or two, whose moments are the same hours.
    pub grounds: &'a [Ground<'a>],
    /// How large; the film is always small.
    pub size: Size,
    /// Units.
    pub system: UnitSystem,
}

impl<'a> Wetting<'a> {
    fn shown(&self) -> &'a [Ground<'a>] {
        &self.grounds[..self.grounds.len().min(2)]
    }

    /// How many moments every ground has.
    fn moments(&self) -> usize {
        self.shown().iter().map(|ground| ground.moments.len()).min().unwrap_or(0)
    }

    /// Deepest place drawn.
    fn bottom_cm(&self) -> f64 {
        let of = |ground: &Ground<'_>| {
            let layers = ground.layers.iter().map(|layer| layer.bottom_cm);
            let all = layers.chain(ground.depths_cm.iter().copied());
            all.filter(|at| is_depth(*at)).fold(0.0, f64::max)
        };
        self.shown().iter().map(of).fold(0.0, f64::max)
    }

    fn content(&self, start: f64, end: f64) -> Scale {
        let full = self.shown().iter().flat_map(|ground| ground.layers).map(|layer| layer.saturation_m3_m3);
        let most = full.filter(|full| *full <= 1.0).fold(0.0, f64::max);
        Scale { from: 0.0, to: chart::content_top(most), start, end }
    }

    /// Width of a panel where the grounds stand side by side.
    fn panel_width(&self) -> f64 {
        let count = self.shown().len().max(1) as f64;
        (WIDTH - GUTTER - 8.0 + GAP) / count - GAP
    }

    fn hours(&self, moment: usize) -> f64 {
        self.shown().first().and_then(|ground| ground.moments.get(moment)).map_or(f64::NAN, |at| at.hours)
    }
}

/// "40 min", "1.5 h".
fn time(hours: f64) -> String {
    if !hours.is_finite() || hours.abs() > 1e6 {
        "time not known".to_owned()
    } else if hours > 0.0 && hours < 0.95 {
        format!("{:.0} min", hours * 60.0)
    } else {
        format!("{} h", number((hours * 10.0).round() / 10.0))
    }
}

/// At most `most` of `all` moments: the first, the last, and the others evenly between.
fn picked(all: usize, most: usize) -> Vec<usize> {
    if all <= most || most < 2 {
        return (0..all.min(most)).collect();
    }
    (0..most).map(|n| (n * (all - 1) + (most - 1) / 2) / (most - 1)).collect()
}

const TITLE: &str = "Water going down, hour by hour";

fn nothing(id: &str) -> Figure {
    let mut canvas = Canvas::new(id, "wetting", WIDTH, 24.0);
    canvas.text((0.0, 16.0), Side::Start, LETTER, "Nothing is known yet");
    let said = "How water goes down in this ground is not known.".to_owned();
    canvas.finish(TITLE.to_owned(), said, Table::new(["", ""]))
}

/// Up to [`MOST_FRAMES`] moments as small pictures of the same scale: small, a moment a row with
/// the grounds side by side; wide, a moment a column with the grounds one below the other.
///
/// Each shows water content (across) down to the depth given, with field capacity broken, the full
/// content unbroken, layer boundaries and the root depth. Water contents that are not between 0 and
/// 1 are left out; without a moment or a depth the picture says that nothing is known.
#[must_use]
pub fn wetting_frames(wetting: &Wetting<'_>) -> Figure {
    let (all, bottom) = (wetting.moments(), wetting.bottom_cm());
    if all == 0 || bottom <= 0.0 {
        return nothing(wetting.id);
    }
    let moments = picked(all, MOST_FRAMES);
    let canvas = match wetting.size {
        Size::Small => rows(wetting, &moments, bottom),
        Size::Wide => columns(wetting, &moments, bottom),
    };
    canvas.finish(TITLE.to_owned(), describe(wetting, all), table(wetting, &moments))
}

const GUTTER: f64 = 34.0;
const GAP: f64 = 22.0;

fn rows(wetting: &Wetting<'_>, moments: &[usize], bottom: f64) -> Canvas {
    const TALL: f64 = 92.0;
    const ROW: f64 = TALL + 42.0;
    const TOP: f64 = 20.0;
    let grounds = wetting.shown();
    let wide = wetting.panel_width();
    let end = TOP + moments.len() as f64 * ROW;
    let mut canvas = Canvas::new(wetting.id, "wetting", WIDTH, end);
    for (column, ground) in grounds.iter().enumerate() {
        let left = GUTTER + column as f64 * (wide + GAP);
        name(&mut canvas, ground, (left, 12.0), wide);
        for (row, moment) in moments.iter().enumerate() {
            let top = TOP + row as f64 * ROW + 16.0;
            let panel = Panel {
                x: wetting.content(left, left + wide),
                y: Scale { from: 0.0, to: bottom, start: top, end: top + TALL },
                system: wetting.system,
            };
            if column == 0 {
                canvas.bold((GUTTER, top - 4.0), Side::Start, LETTER, &time(wetting.hours(*moment)));
                panel.depths(&mut canvas, 3.0);
            }
            panel.draw(&mut canvas, ground, *moment, None);
            if let Some(at) = ground.moments.get(*moment) {
                canvas.text((left, top + TALL + 13.0), Side::Start, SMALL, &balance(at, wetting.system));
            }
        }
    }
    let mut y = end;
    y = content_axis_note(&mut canvas, wetting, y);
    let end = key(&mut canvas, y, WIDTH);
    canvas.tall(end);
    canvas
}

fn columns(wetting: &Wetting<'_>, moments: &[usize], bottom: f64) -> Canvas {
    const TALL: f64 = 120.0;
    const ROW: f64 = TALL + 52.0;
    const TOP: f64 = 22.0;
    let grounds = wetting.shown();
    let count = moments.len().max(4) as f64;
    let wide = (WIDE - GUTTER - 4.0 + 12.0) / count - 12.0;
    let end = TOP + grounds.len() as f64 * ROW;
    let mut canvas = Canvas::new(wetting.id, "wetting", WIDE, end);
    canvas.class("figure-wide");
    for (column, moment) in moments.iter().enumerate() {
        let left = GUTTER + column as f64 * (wide + 12.0);
        canvas.bold((left, 12.0), Side::Start, LETTER, &time(wetting.hours(*moment)));
        for (row, ground) in grounds.iter().enumerate() {
            let top = TOP + row as f64 * ROW + 16.0;
            let panel = Panel {
                x: wetting.content(left, left + wide),
                y: Scale { from: 0.0, to: bottom, start: top, end: top + TALL },
                system: wetting.system,
            };
            if column == 0 {
                name(&mut canvas, ground, (GUTTER, top - 6.0), WIDE - GUTTER);
                panel.depths(&mut canvas, 4.0);
            }
            panel.draw(&mut canvas, ground, *moment, None);
            if let Some(at) = ground.moments.get(*moment) {
                let words = balance(at, wetting.system);
                for (line, words) in words.split(", ").enumerate() {
                    canvas.text((left, top + TALL + 13.0 * (line + 1) as f64), Side::Start, SMALL, words);
                }
            }
        }
    }
    let y = content_axis_note(&mut canvas, wetting, end);
    let end = key(&mut canvas, y, WIDE);
    canvas.tall(end);
    canvas
}

fn name(canvas: &mut Canvas, ground: &Ground<'_>, at: crate::canvas::At, width: f64) {
    let words = wrapped(ground.name, width, LETTER, 1).join("");
    canvas.bold(at, Side::Start, LETTER, if words.is_empty() { "ground" } else { &words });
}

fn content_axis_note(canvas: &mut Canvas, wetting: &Wetting<'_>, y: f64) -> f64 {
    let to = wetting.content(0.0, 1.0).to * 100.0;
    let unit = Shown::depth(wetting.system).unit;
    let words = format!("Across: water, 0 to {to:.0} % by volume. Down: depth, {unit}.");
    canvas.text((0.0, y + 10.0), Side::Start, SMALL, &words);
    canvas.text((0.0, y + 24.0), Side::Start, SMALL, "Lost: gone below the roots.");
    y + 34.0
}

fn key(canvas: &mut Canvas, top: f64, width: f64) -> f64 {
    let held = |canvas: &mut Canvas, at: crate::canvas::At| chart::swatch(canvas, at, Stuff::Usable);
    let moving = |canvas: &mut Canvas, at: crate::canvas::At| chart::swatch(canvas, at, Stuff::Draining);
    let capacity = |canvas: &mut Canvas, (x, y): crate::canvas::At| {
        canvas.dashed((x + 8.0, y - 2.0), (x + 8.0, y + 12.0), 1.3, "4 2.5")
    };
    let full = |canvas: &mut Canvas, (x, y): crate::canvas::At| {
        canvas.line((x + 8.0, y - 2.0), (x + 8.0, y + 12.0), 1.3)
    };
    let roots = |canvas: &mut Canvas, (x, y): crate::canvas::At| {
        canvas.dashed((x, y + 5.0), (x + 16.0, y + 5.0), 2.0, "6 3")
    };
    let entries = [
        Entry { sign: &held, words: "held" },
        Entry { sign: &moving, words: "moving down" },
        Entry { sign: &capacity, words: "field capacity" },
        Entry { sign: &full, words: "full" },
        Entry { sign: &roots, words: "root depth" },
    ];
    chart::key(canvas, &entries, 0.0, width, top)
}

/// "in 0.42 in, lost 0.05 in": gone in, and gone below the roots.
fn balance(at: &Moment<'_>, system: UnitSystem) -> String {
    let water = Shown::water(system);
    let say = |mm: f64| if is_water(mm) { water.say(mm) } else { "not known".to_owned() };
    format!("gone in {}, lost {}", say(at.in_mm), say(at.below_roots_mm))
}

/// Every moment (at most [`MOST_FILM`]) as a group `<g class="frame" data-frame="N" data-hours="H">`,
/// N from 0, drawn over the same panels. All but the first carry `display="none"`: to show another,
/// a script moves that attribute. Two grounds stand side by side.
///
/// Left out is what [`wetting_frames`] leaves out.
#[must_use]
pub fn wetting_film(wetting: &Wetting<'_>) -> Figure {
    const TALL: f64 = 210.0;
    const TOP: f64 = 48.0;
    let (all, bottom) = (wetting.moments(), wetting.bottom_cm());
    if all == 0 || bottom <= 0.0 {
        return nothing(wetting.id);
    }
    let moments = picked(all, MOST_FILM);
    let wide = wetting.panel_width();
    let mut canvas = Canvas::new(wetting.id, "wetting", WIDTH, TOP + TALL + 40.0);
    canvas.class("figure-film");
    let panel = |column: usize| {
        let left = GUTTER + column as f64 * (wide + GAP);
        Panel {
            x: wetting.content(left, left + wide),
            y: Scale { from: 0.0, to: bottom, start: TOP, end: TOP + TALL },
            system: wetting.system,
        }
    };
    panel(0).depths(&mut canvas, 6.0);
    for (column, ground) in wetting.shown().iter().enumerate() {
        let panel = panel(column);
        name(&mut canvas, ground, (panel.x.start, 36.0), wide);
        panel.ticks(&mut canvas);
    }
    for (frame, moment) in moments.iter().enumerate() {
        let hours = wetting.hours(*moment);
        let group = Group::new().set("class", "frame").set("data-frame", frame).set("data-hours", px(hours));
        canvas.open(if frame == 0 { group } else { group.set("display", "none") });
        canvas.bold((GUTTER, 14.0), Side::Start, 14.0, &time(hours));
        for (column, ground) in wetting.shown().iter().enumerate() {
            let panel = panel(column);
            panel.draw(&mut canvas, ground, *moment, Some(bottom / 90.0));
            if let Some(at) = ground.moments.get(*moment) {
                for (line, words) in balance(at, wetting.system).split(", ").enumerate() {
                    let y = TOP + TALL + 34.0 + 14.0 * line as f64;
                    canvas.text((panel.x.start, y), Side::Start, LETTER, words);
                }
            }
        }
        canvas.close();
    }
    let y = content_axis_note(&mut canvas, wetting, TOP + TALL + 66.0);
    let end = key(&mut canvas, y, WIDTH);
    canvas.tall(end);
    canvas.finish(TITLE.to_owned(), describe(wetting, all), table(wetting, &moments))
}

fn describe(wetting: &Wetting<'_>, all: usize) -> String {
    let depth = Shown::depth(wetting.system);
    let mut text = String::new();
    for ground in wetting.shown() {
        let Some(last) = ground.moments.get(all - 1) else { continue };
        let name = crate::words::sentence(ground.name);
        text.push_str(&format!("{name}: after {} {}", time(last.hours), balance(last, wetting.system)));
        if let Some(front) = panel::wetted_to(ground, last) {
            text.push_str(&format!("; wet to field capacity down to {}", depth.say(front)));
        }
        text.push_str(". ");
    }
    text.push_str("Lost is what has gone below the roots.");
    text
}

fn table(wetting: &Wetting<'_>, moments: &[usize]) -> Table {
    let water = Shown::water(wetting.system);
    let (gone_in, lost) = (format!("Gone in, {}", water.unit), format!("Below the roots, {}", water.unit));
    let depth = Shown::depth(wetting.system);
    let front = format!("At field capacity down to, {}", depth.unit);
    let mut table = Table::new(["Ground and time", &gone_in, &lost, &front]);
    for ground in wetting.shown() {
        for at in moments.iter().filter_map(|moment| ground.moments.get(*moment)) {
            table.row([
                format!("{}, {}", ground.name, time(at.hours)),
                water.number(at.in_mm),
                water.number(at.below_roots_mm),
                panel::wetted_to(ground, at).map_or_else(|| "none".to_owned(), |front| depth.number(front)),
            ]);
        }
    }
    table
}
