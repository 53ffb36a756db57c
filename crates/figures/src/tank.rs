//! The ground as a water tank: what roots cannot pull off, what crops can use, what drains away.

use ground::kit::Spread;
use ground::kit::units::UnitSystem;
use ground::water::ensemble::WaterEnsemble;

use crate::callout::{self, Callout};
use crate::canvas::{Canvas, LETTER, SMALL, Side, WIDTH, path, rectangle};
use crate::figure::{Figure, Table};
use crate::palette::{PAPER, Stuff};
use crate::words::{number, round_steps};

/// Water contents over the ensemble, m³/m³, one value a draw.
#[derive(Debug, Clone, Copy)]
pub struct WaterDraws<'a> {
    /// At the wilting point, of the soil without stones.
    pub wilting_point: &'a [f64],
    /// At field capacity, of the soil without stones.
    pub field_capacity: &'a [f64],
    /// At saturation, of the soil without stones.
    pub saturation: &'a [f64],
    /// Available water of the whole soil: stones hold none.
    pub available: &'a [f64],
    /// Weight of each draw.
    pub weights: &'a [f64],
}

impl<'a> From<&'a WaterEnsemble> for WaterDraws<'a> {
    fn from(water: &'a WaterEnsemble) -> Self {
        Self {
            wilting_point: &water.wilting_point,
            field_capacity: &water.field_capacity,
            saturation: &water.saturation,
            available: &water.available,
            weights: &water.weights,
        }
    }
}

/// Spreads over the ensemble, in the shown unit, of the whole soil.
struct Levels {
    wilting: Spread,
    capacity: Spread,
    full: Spread,
    usable: Spread,
    draining: Spread,
}

impl Levels {
    fn of(draws: &WaterDraws<'_>, scale: f64) -> Option<Self> {
        let at = |values: &[f64], place: usize| values.get(place).copied().unwrap_or(f64::NAN);
        let of = |value: &dyn Fn(f64, f64, f64) -> f64| {
            let each = |n: usize| {
                let (dry, wet) = (at(draws.wilting_point, n), at(draws.field_capacity, n));
                // Available water of the whole soil is that of the fine earth times its share.
                let share = at(draws.available, n) / (wet - dry);
                scale * share * value(dry, wet, at(draws.saturation, n))
            };
            let values: Vec<f64> = (0..draws.weights.len()).map(each).collect();
            Spread::of(&values, draws.weights)
        };
        Some(Self {
            wilting: of(&|dry, _, _| dry)?,
            capacity: of(&|_, wet, _| wet)?,
            full: of(&|_, _, full| full)?,
            usable: of(&|dry, wet, _| wet - dry)?,
            draining: of(&|_, wet, full| full - wet)?,
        })
    }
}

/// One part of the tank.
struct Part {
    name: &'static str,
    meaning: &'static str,
    stuff: Stuff,
    /// Water in it, in the shown unit.
    amount: Spread,
    /// Median bottom and top, in the shown unit.
    from: f64,
    to: f64,
}

const TOP: f64 = 24.0;
const TANK: f64 = 220.0;
const LEFT: f64 = 44.0;
const RIGHT: f64 = 150.0;
const LABELS: f64 = 186.0;

/// The tank of one foot (US customary: inches of water) or one metre (metric: mm of water) of
/// ground with its stones, with the medians as levels and the 90 % range of each level as a bracket.
///
/// `id` is the picture's own id on its page. Draws without a value are left out; with none left
/// the picture says that nothing is known.
#[must_use]
pub fn water_tank(id: &str, draws: &WaterDraws<'_>, system: UnitSystem) -> Figure {
    let (scale, unit, per, places) = match system {
        UnitSystem::UsCustomary => (12.0, "in", "foot", 1),
        UnitSystem::Metric => (1000.0, "mm", "metre", 0),
    };
    let said = |amount: f64| format!("{amount:.places$}");
    let title = format!("Water held by one {per} of ground");
    let mut table = Table::new(["Part", "Median", "90 % from", "90 % to"]);
    let Some(Levels { wilting, capacity, full, usable, draining }) = Levels::of(draws, scale) else {
        let mut canvas = Canvas::new(id, "tank", WIDTH, 24.0);
        canvas.text((0.0, 16.0), Side::Start, LETTER, "Nothing is known yet");
        return canvas.finish(title, "How much water this ground holds is not known.".to_owned(), table);
    };
    let parts = [
        Part {
            name: "Drains away",
            meaning: "gone in a day or three",
            stuff: Stuff::Draining,
            amount: draining,
            from: capacity.median,
            to: full.median,
        },
        Part {
            name: "Usable",
            meaning: "held for the crop",
            stuff: Stuff::Usable,
            amount: usable,
            from: wilting.median,
            to: capacity.median,
        },
        Part {
            name: "Unusable",
            meaning: "held too tightly",
            stuff: Stuff::Unusable,
            amount: wilting,
            from: 0.0,
            to: wilting.median,
        },
    ];

    let mut canvas = Canvas::new(id, "tank", WIDTH, TOP + TANK + 12.0);
    let (step, count) = round_steps(full.high.max(full.median), 6.0);
    let top = step * count as f64;
    let y = |amount: f64| TOP + TANK * (1.0 - (amount / top).clamp(0.0, 1.0));
    canvas.text((0.0, 13.0), Side::Start, SMALL, &format!("{unit} of water in one {per} of ground"));
    for n in 0..=count {
        let value = step * n as f64;
        canvas.line((LEFT - 5.0, y(value)), (LEFT, y(value)), 1.0);
        canvas.text((LEFT - 8.0, y(value) + 4.0), Side::End, SMALL, &number(value));
    }
    let mut labels = Vec::new();
    for part in &parts {
        let depth = (y(part.from) - y(part.to)).max(0.0);
        canvas.shape(rectangle(LEFT, y(part.to), RIGHT - LEFT, depth), part.stuff, 0.0);
        canvas.line((LEFT, y(part.to)), (RIGHT, y(part.to)), 1.4);
        labels.push(Callout {
            at: (RIGHT, f64::midpoint(y(part.from), y(part.to))),
            name: format!("{}: {} {unit}", part.name, said(part.amount.median)),
            more: vec![
                format!("90 %: {} to {}", said(part.amount.low), said(part.amount.high)),
                part.meaning.to_owned(),
            ],
        });
        table.row([
            format!("{} ({unit} per {per})", part.name),
            said(part.amount.median),
            said(part.amount.low),
            said(part.amount.high),
        ]);
    }
    // The brackets stand side by side, so that they stay apart where the ranges overlap.
    for (level, share) in [(wilting, 0.22), (capacity, 0.5), (full, 0.78)] {
        let x = LEFT + (RIGHT - LEFT) * share;
        bracket(&mut canvas, x, y(level.low), y(level.high));
    }
    canvas.trace(
        path(&[(LEFT, TOP - 4.0), (LEFT, TOP + TANK), (RIGHT, TOP + TANK), (RIGHT, TOP - 4.0)], false),
        1.8,
    );
    callout::draw(&mut canvas, labels, LABELS, TOP, TOP + TANK + 8.0);

    let description = format!(
        "One {per} of this ground holds {} {unit} of usable water (90 %: {} to {}), above {} {unit} that roots \
         cannot pull off (90 %: {} to {}). A further {} {unit} drains away after soaking (90 %: {} to {}).",
        said(usable.median),
        said(usable.low),
        said(usable.high),
        said(wilting.median),
        said(wilting.low),
        said(wilting.high),
        said(draining.median),
        said(draining.low),
        said(draining.high),
    );
    canvas.finish(title, description, table)
}

fn bracket(canvas: &mut Canvas, x: f64, low: f64, high: f64) {
    use crate::canvas::line;
    let strokes =
        [((x, low), (x, high)), ((x - 5.0, low), (x + 5.0, low)), ((x - 5.0, high), (x + 5.0, high))];
    for (from, to) in strokes {
        canvas.add(line(from, to, 4.5).set("stroke", PAPER).set("class", "figure-rim"));
    }
    for (from, to) in strokes {
        canvas.line(from, to, 1.8);
    }
}
