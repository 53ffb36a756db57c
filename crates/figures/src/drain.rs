//! A cross-section of two drains or ditches with the water table between them.

use ground::kit::units::UnitSystem;
use svg::node::element::{Circle, Path};

use crate::canvas::{At, Canvas, LETTER, SMALL, Side, WIDTH, path, px, rectangle};
use crate::chart::{dimension, swatch};
use crate::figure::{Figure, Table};
use crate::measures::{Shown, is_depth};
use crate::palette::{INK, PAPER, Stuff};

/// What carries the water away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Pipes in the ground.
    Pipe,
    /// Open ditches.
    Ditch,
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrainSection<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// Pipes or ditches.
    pub kind: Kind,
    /// Depth of the pipe's middle, or of the water in the ditch, below the surface.
    pub depth_cm: f64,
    /// From drain to drain.
    pub spacing_m: f64,
    /// Depth of the water table halfway between drains; at most `depth_cm`.
    pub midspan_water_table_cm: f64,
    /// Depth of the layer that water hardly passes; `None` where none was met.
    pub impermeable_cm: Option<f64>,
    /// Units.
    pub system: UnitSystem,
}

const LEFT: f64 = 6.0;
const RIGHT: f64 = WIDTH - 6.0;
const SURFACE: f64 = 46.0;
const BOTTOM: f64 = 236.0;
/// Places of the two drains.
const DRAINS: [f64; 2] = [84.0, 256.0];
const MIDDLE: f64 = WIDTH / 2.0;

/// Places down the picture. Depths are to scale down to the drains; a tight layer farther below
/// than the drains are deep is drawn nearer, with a broken dimension line.
struct Down {
    per_cm: f64,
    drain: f64,
    tight: Option<f64>,
    broken: bool,
}

impl Down {
    fn of(section: &DrainSection<'_>, tight_cm: Option<f64>) -> Self {
        let drawn = tight_cm.map_or(section.depth_cm * 1.5, |tight| tight.min(section.depth_cm * 2.0));
        // Room for the tight layer itself and for a name between it and the drains.
        let per_cm = (BOTTOM - SURFACE - 30.0) / drawn.max(section.depth_cm * 1.25);
        let broken = tight_cm.is_some_and(|tight| tight > drawn);
        let drain = SURFACE + section.depth_cm * per_cm;
        Self { per_cm, drain, tight: tight_cm.map(|_| SURFACE + drawn * per_cm), broken }
    }

    fn at(&self, depth_cm: f64) -> f64 {
        SURFACE + depth_cm.max(0.0) * self.per_cm
    }
}

/// Two drains across the slope, the water table between and beyond them, and the tight layer
/// below, with depths and spacing written in.
///
/// The water table is drawn as a part of an ellipse, the shape that steady drainage has in the
/// theory of level flow to drains on a tight layer (Hooghoudt; from memory). Depths are to scale
/// among themselves, widths are not. Where depth and spacing are not above 0, or the water table
/// lies below the drains, the picture says what is wrong.
#[must_use]
pub fn drain_section(section: &DrainSection<'_>) -> Figure {
    let what = match section.kind {
        Kind::Pipe => "Drains",
        Kind::Ditch => "Ditches",
    };
    let title = format!("{what} across the ground");
    let table = Table::new(["", "Value"]);
    let DrainSection { depth_cm, spacing_m, midspan_water_table_cm: midspan, .. } = *section;
    let wrong = if !(is_depth(depth_cm) && depth_cm > 0.0) {
        Some("the depth of the drains is not known")
    } else if !(spacing_m > 0.0 && spacing_m <= 1e4) {
        Some("the spacing of the drains is not known")
    } else if !is_depth(midspan) {
        Some("the depth of the water table is not known")
    } else if midspan > depth_cm {
        Some("the water table lies below the drains")
    } else {
        None
    };
    if let Some(wrong) = wrong {
        let mut canvas = Canvas::new(section.id, "drain", WIDTH, 24.0);
        let said = format!("Not drawn: {wrong}.");
        canvas.text((0.0, 16.0), Side::Start, LETTER, &said);
        return canvas.finish(title, said, table);
    }
    let tight = section.impermeable_cm.filter(|at| is_depth(*at) && *at >= depth_cm);
    let down = Down::of(section, tight);
    let mut canvas = Canvas::new(section.id, "drain", WIDTH, BOTTOM + 26.0);
    matter(&mut canvas, section, &down);
    for x in DRAINS {
        match section.kind {
            Kind::Pipe => pipe(&mut canvas, (x, down.drain)),
            Kind::Ditch => ditch(&mut canvas, (x, down.drain)),
        }
    }
    let (description, table) = written(&mut canvas, section, &down, tight, table);
    canvas.finish(title, description, table)
}

/// The water table from the left edge to the right edge.
fn water_table(section: &DrainSection<'_>, down: &Down) -> Vec<At> {
    let rise = down.drain - down.at(section.midspan_water_table_cm);
    let half = (DRAINS[1] - DRAINS[0]) / 2.0;
    let height = |x: f64| {
        // Beyond the drains the next spans begin.
        let centre = if x < DRAINS[0] {
            MIDDLE - 2.0 * half
        } else if x > DRAINS[1] {
            MIDDLE + 2.0 * half
        } else {
            MIDDLE
        };
        let off = ((x - centre) / half).clamp(-1.0, 1.0);
        down.drain - rise * (1.0 - off * off).sqrt()
    };
    // Finer near the drains, where the curve is steep.
    let mut xs: Vec<f64> =
        (0..=40).map(|n| MIDDLE - half * (f64::from(n) / 40.0 * std::f64::consts::PI).cos()).collect();
    let steep = |n: i32| (f64::from(n) / 16.0).powi(2) * (DRAINS[0] - LEFT);
    xs.extend((1..=16).map(|n| DRAINS[0] - steep(n)));
    xs.extend((1..=16).map(|n| DRAINS[1] + steep(n)));
    xs.sort_by(f64::total_cmp);
    xs.into_iter().map(|x| (x, height(x))).collect()
}

fn matter(canvas: &mut Canvas, section: &DrainSection<'_>, down: &Down) {
    let floor = down.tight.unwrap_or(BOTTOM);
    canvas.shape(rectangle(LEFT, SURFACE, RIGHT - LEFT, floor - SURFACE), Stuff::Ground, 0.0);
    let table = water_table(section, down);
    let wet: Vec<At> = table.iter().copied().chain([(RIGHT, floor), (LEFT, floor)]).collect();
    canvas.shape(path(&wet, true), Stuff::Usable, 0.0);
    canvas.trace(path(&table, false), 2.4);
    if let Some(tight) = down.tight {
        canvas.shape(rectangle(LEFT, tight, RIGHT - LEFT, BOTTOM - tight), Stuff::Tight, 0.0);
        canvas.line((LEFT, tight), (RIGHT, tight), 2.0);
    }
    canvas.line((LEFT, SURFACE), (RIGHT, SURFACE), 2.4);
}

fn pipe(canvas: &mut Canvas, at: At) {
    let ring = Circle::new().set("cx", px(at.0)).set("cy", px(at.1)).set("r", 8);
    canvas.add(
        ring.set("fill", PAPER).set("class", "figure-paper").set("stroke", INK).set("stroke-width", 2.4),
    );
    let half = format!("M{} {}A6.5 6.5 0 0 0 {} {}Z", px(at.0 - 6.5), px(at.1), px(at.0 + 6.5), px(at.1));
    canvas.shape(half, Stuff::Watering, 0.0);
}

fn ditch(canvas: &mut Canvas, at: At) {
    let (x, water) = at;
    let bed = water + 7.0;
    let cut = [(x - 26.0, SURFACE - 2.0), (x - 7.0, bed), (x + 7.0, bed), (x + 26.0, SURFACE - 2.0)];
    canvas.add(Path::new().set("d", path(&cut, true)).set("fill", PAPER).set("class", "figure-paper"));
    let slope = 19.0 / (bed - SURFACE + 2.0);
    let half = 7.0 + slope * 7.0;
    let held = [(x - half, water), (x - 7.0, bed), (x + 7.0, bed), (x + half, water)];
    canvas.shape(path(&held, true), Stuff::Watering, 0.0);
    canvas
        .trace(path(&[(x - 26.0, SURFACE), (x - 7.0, bed), (x + 7.0, bed), (x + 26.0, SURFACE)], false), 2.4);
}

/// The dimensions in the picture, in words and as a table.
fn written(
    canvas: &mut Canvas,
    section: &DrainSection<'_>,
    down: &Down,
    tight_cm: Option<f64>,
    mut table: Table,
) -> (String, Table) {
    let (deep, across) = (Shown::deep(section.system), Shown::distance(section.system));
    let (drain, drains) = match section.kind {
        Kind::Pipe => ("drain", "drains"),
        Kind::Ditch => ("ditch", "ditches"),
    };
    let spacing = across.say(section.spacing_m);
    canvas.text((MIDDLE, 14.0), Side::Middle, LETTER, &format!("{spacing} from {drain} to {drain}"));
    for x in DRAINS {
        canvas.line((x, 18.0), (x, SURFACE - 4.0), 0.7);
    }
    dimension(canvas, (DRAINS[0], 26.0), (DRAINS[1], 26.0));

    let depth = deep.say(section.depth_cm);
    let (x, side) = match section.kind {
        Kind::Pipe => (DRAINS[0] - 24.0, Side::End),
        Kind::Ditch => (LEFT + 6.0, Side::Start),
    };
    dimension(canvas, (x, SURFACE), (x, down.drain));
    canvas.line((x - 5.0, down.drain), (DRAINS[0] - 8.0, down.drain), 0.7);
    let off = if side == Side::End { -6.0 } else { 6.0 };
    canvas.plated((x + off, SURFACE + 18.0), side, LETTER, &depth);

    let table_at = down.at(section.midspan_water_table_cm);
    let water = deep.say(section.midspan_water_table_cm);
    let mut name = "water table".to_owned();
    if table_at - SURFACE > 24.0 {
        dimension(canvas, (MIDDLE, SURFACE), (MIDDLE, table_at));
        canvas.plated((MIDDLE + 7.0, f64::midpoint(SURFACE, table_at) + 4.0), Side::Start, LETTER, &water);
    } else {
        name.push_str(&if section.midspan_water_table_cm < 1.0 {
            " at the surface".to_owned()
        } else {
            format!(" {water} down")
        });
    }
    canvas.plated((MIDDLE, table_at + 17.0), Side::Middle, SMALL, &name);

    let mut said = format!(
        "{} {depth} deep, {spacing} apart. Halfway between them the water table stands {water} below the surface.",
        crate::words::sentence(drains)
    );
    table.row([format!("Depth of {drains}"), depth]);
    table.row(["Spacing".to_owned(), spacing]);
    table.row(["Water table halfway".to_owned(), water]);
    if let (Some(cm), Some(tight)) = (tight_cm, down.tight) {
        let words = deep.say(cm);
        let x = DRAINS[1] + 32.0;
        if down.broken {
            broken(canvas, (x, SURFACE), (x, tight));
        } else {
            dimension(canvas, (x, SURFACE), (x, tight));
        }
        canvas.plated((x + 6.0, down.drain + 4.0), Side::Start, LETTER, &words);
        canvas.plated((LEFT + 8.0, BOTTOM - 9.0), Side::Start, LETTER, "water hardly passes");
        said.push_str(&format!(" A layer that water hardly passes lies {words} down."));
        table.row(["Tight layer".to_owned(), words]);
    } else {
        said.push_str(" No layer that stops water is known below.");
    }
    swatch(canvas, (LEFT, BOTTOM + 10.0), Stuff::Ground);
    canvas.text((LEFT + 22.0, BOTTOM + 19.0), Side::Start, SMALL, "air in the pores");
    swatch(canvas, (LEFT + 122.0, BOTTOM + 10.0), Stuff::Usable);
    canvas.text((LEFT + 144.0, BOTTOM + 19.0), Side::Start, SMALL, "full of water");
    canvas.text((RIGHT, BOTTOM + 19.0), Side::End, SMALL, "widths not to scale");
    (said, table)
}

/// A dimension line with a break: the distance is longer than drawn.
fn broken(canvas: &mut Canvas, from: At, to: At) {
    let middle = from.1 + (to.1 - from.1) * 0.72;
    crate::chart::arrow(canvas, (from.0, middle - 4.0), from, 0.9, 6.0);
    crate::chart::arrow(canvas, (to.0, middle + 4.0), to, 0.9, 6.0);
    for y in [middle - 4.0, middle + 4.0] {
        canvas.line((from.0 - 5.0, y + 2.5), (from.0 + 5.0, y - 2.5), 1.2);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_water_table_between_drains_is_half_an_ellipse() {
        let section = DrainSection {
            id: "d",
            kind: Kind::Pipe,
            depth_cm: 100.0,
            spacing_m: 12.0,
            midspan_water_table_cm: 40.0,
            impermeable_cm: Some(180.0),
            system: UnitSystem::Metric,
        };
        let down = Down::of(&section, Some(180.0));
        let (half, rise) = ((DRAINS[1] - DRAINS[0]) / 2.0, 60.0 * down.per_cm);
        let between =
            water_table(&section, &down).into_iter().filter(|(x, _)| (DRAINS[0]..=DRAINS[1]).contains(x));
        for (x, y) in between {
            // x²/a² + y²/b² = 1.
            let sum = ((x - MIDDLE) / half).powi(2) + ((down.drain - y) / rise).powi(2);
            assert!((sum - 1.0).abs() < 1e-9, "{x}, {y}: {sum}");
        }
    }
}
