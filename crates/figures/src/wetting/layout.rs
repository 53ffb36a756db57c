//! How the panels stand on the paper.

use svg::node::element::Group;

use super::panel::Panel;
use super::{Ground, Wetting, balance, time};
use crate::canvas::{At, Canvas, LETTER, SMALL, Side, WIDE, WIDTH, px};
use crate::chart::{self, Entry, Scale};
use crate::measures::Shown;
use crate::palette::Stuff;
use crate::words::wrapped;

const GUTTER: f64 = 34.0;
const GAP: f64 = 22.0;

/// Width of a panel where the grounds stand side by side.
fn panel_width(wetting: &Wetting<'_>) -> f64 {
    let count = wetting.shown().len().max(1) as f64;
    (WIDTH - GUTTER - 8.0 + GAP) / count - GAP
}

/// A moment a row, the grounds side by side.
pub(super) fn rows(wetting: &Wetting<'_>, moments: &[usize], bottom: f64) -> Canvas {
    const TALL: f64 = 92.0;
    const ROW: f64 = TALL + 42.0;
    const TOP: f64 = 20.0;
    let grounds = wetting.shown();
    let wide = panel_width(wetting);
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

/// A moment a column, the grounds one below the other.
pub(super) fn columns(wetting: &Wetting<'_>, moments: &[usize], bottom: f64) -> Canvas {
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

fn name(canvas: &mut Canvas, ground: &Ground<'_>, at: At, width: f64) {
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
    let held = |canvas: &mut Canvas, at: At| chart::swatch(canvas, at, Stuff::Usable);
    let moving = |canvas: &mut Canvas, at: At| chart::swatch(canvas, at, Stuff::Draining);
    let capacity = |canvas: &mut Canvas, (x, y): At| {
        canvas.dashed((x + 8.0, y - 2.0), (x + 8.0, y + 12.0), 1.3, "4 2.5")
    };
    let full = |canvas: &mut Canvas, (x, y): At| canvas.line((x + 8.0, y - 2.0), (x + 8.0, y + 12.0), 1.3);
    let roots =
        |canvas: &mut Canvas, (x, y): At| canvas.dashed((x, y + 5.0), (x + 16.0, y + 5.0), 2.0, "6 3");
    let entries = [
        Entry { sign: &held, words: "held" },
        Entry { sign: &moving, words: "moving down" },
        Entry { sign: &capacity, words: "field capacity" },
        Entry { sign: &full, words: "full" },
        Entry { sign: &roots, words: "root depth" },
    ];
    chart::key(canvas, &entries, 0.0, width, top)
}

/// Every moment as a group over the same panels.
pub(super) fn film(wetting: &Wetting<'_>, moments: &[usize], bottom: f64) -> Canvas {
    const TALL: f64 = 210.0;
    const TOP: f64 = 48.0;
    let wide = panel_width(wetting);
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
    canvas
}
