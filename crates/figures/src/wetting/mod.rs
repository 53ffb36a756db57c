//! Water going down through the ground over the hours of one irrigation, for two grounds side by side.
//!
//! [`wetting_frames`] sets a few moments one after the other, for print and for a page without a
//! script; [`wetting_film`] holds every moment as a group of its own, one of them shown, so that a
//! script can show another.

mod layout;
mod panel;

use ground::kit::units::UnitSystem;

use crate::canvas::{Canvas, LETTER, Side, WIDTH};
use crate::chart::{self, Scale};
use crate::figure::{Figure, Table};
use crate::measures::{Shown, is_depth, is_water};
use crate::words::number;

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
        Size::Small => layout::rows(wetting, &moments, bottom),
        Size::Wide => layout::columns(wetting, &moments, bottom),
    };
    canvas.finish(TITLE.to_owned(), describe(wetting, all), table(wetting, &moments))
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
    let (all, bottom) = (wetting.moments(), wetting.bottom_cm());
    if all == 0 || bottom <= 0.0 {
        return nothing(wetting.id);
    }
    let moments = picked(all, MOST_FILM);
    let canvas = layout::film(wetting, &moments, bottom);
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
