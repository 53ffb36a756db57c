//! The retention curve: how much water the ground still holds at each suction.

use ground::kit::Spread;
use ground::kit::units::UnitSystem;
use svg::node::element::Circle;

use crate::canvas::{At, Canvas, LETTER, SMALL, Side, WIDTH, path, rectangle, text_width};
use crate::chart::{self, Scale};
use crate::figure::{Figure, Table};
use crate::measures::{by_volume, is_content};
use crate::palette::{INK, PAPER, Stuff};
use crate::words::number;

/// Suction at field capacity.
pub const FIELD_CAPACITY_KPA: f64 = 33.0;
/// Suction at the wilting point.
pub const WILTING_POINT_KPA: f64 = 1500.0;

/// Suctions outside these are not drawn: near 0 a scale of tens has no end, and 1e5 kPa is air-dry.
const LEAST_KPA: f64 = 0.1;
const MOST_KPA: f64 = 1e5;

/// Water held at one suction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// The suction; above 0.
    pub suction_kpa: f64,
    /// Water content by volume.
    pub water_m3_m3: Spread,
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RetentionCurve<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// The curve at suctions in ascending order.
    pub curve: &'a [Held],
    /// What a tensiometer shows.
    pub reading_kpa: Option<f64>,
    /// Units: suction is read in cbar or in kPa, which are the same.
    pub system: UnitSystem,
}

const LEFT: f64 = 36.0;
const RIGHT: f64 = WIDTH - 12.0;
const TOP: f64 = 24.0;
const TALL: f64 = 170.0;
const BOTTOM: f64 = TOP + TALL;
const STRIP: f64 = 12.0;

/// Water content against suction on a scale of tens: the median as a line in its 90 % band, with
/// field capacity (33 kPa), the wilting point (1500 kPa) and a tensiometer reading.
///
/// Points that are not in ascending order, or whose water contents are not, are left out. With
/// fewer than two the picture says that nothing is known.
#[must_use]
pub fn retention_curve(retention: &RetentionCurve<'_>) -> Figure {
    let unit = match retention.system {
        UnitSystem::UsCustomary => "cbar",
        UnitSystem::Metric => "kPa",
    };
    let title = "How tightly the ground holds its water".to_owned();
    let mut table = Table::new(["Suction", "Water, % by volume", "90 % from", "90 % to"]);
    let points = sound(retention.curve);
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return nothing(retention.id, title, table);
    };
    if points.len() < 2 {
        return nothing(retention.id, title, table);
    }
    let reading = retention.reading_kpa.filter(|at| (LEAST_KPA..=MOST_KPA).contains(at));
    let from = first.suction_kpa.max(LEAST_KPA).log10().floor().min(0.0);
    let to = last.suction_kpa.log10().ceil().max(4.0);
    let scale = Scale { from, to, start: LEFT, end: RIGHT };
    let x = |kpa: f64| scale.at(kpa.log10());
    let most = points.iter().map(|held| held.water_m3_m3.high).fold(0.0, f64::max);
    let y = Scale { from: 0.0, to: chart::content_top(most), start: BOTTOM, end: TOP };

    let mut canvas = Canvas::new(retention.id, "retention", WIDTH, BOTTOM + STRIP + 64.0);
    let line = |part: fn(&Spread) -> f64| -> Vec<At> {
        points.iter().map(|held| (x(held.suction_kpa), y.at(part(&held.water_m3_m3)))).collect()
    };
    if let Some(kpa) = reading {
        canvas.line((x(kpa), TOP), (x(kpa), BOTTOM + STRIP + 46.0), 0.9);
    }
    chart::band(&mut canvas, &line(|s| s.high), &line(|s| s.low), Stuff::Range, 0.6);
    canvas.trace(path(&line(|s| s.median), false), 2.4);
    axes(&mut canvas, &scale, &y, unit);
    strip(&mut canvas, &x);

    let mut description = String::from("Median water content by volume with its 90 % range.");
    let marks = [("field capacity", FIELD_CAPACITY_KPA), ("wilting point", WILTING_POINT_KPA)];
    for (name, kpa) in marks {
        if let Some(held) = at(&points, kpa) {
            mark(&mut canvas, (x(kpa), y.at(held.median)));
            let words = format!("{} %", by_volume(held.median));
            // Above the falling curve, unless the reading's line stands there: then below it.
            let taken = reading.is_some_and(|at| (0.0..46.0).contains(&(x(at) - x(kpa))));
            let (place, side) = if taken { ((-7.0, 16.0), Side::End) } else { ((6.0, -7.0), Side::Start) };
            canvas.rimmed((x(kpa) + place.0, y.at(held.median) + place.1), side, LETTER, &words);
            told(&mut description, &mut table, name, kpa, unit, held);
        }
        canvas.text((x(kpa), TOP - 8.0), Side::Middle, SMALL, name);
        canvas.dashed((x(kpa), TOP - 4.0), (x(kpa), BOTTOM + STRIP), 1.2, "3 2");
    }
    if let Some(kpa) = reading {
        let held = at(&points, kpa);
        canvas.line((x(kpa), TOP), (x(kpa), BOTTOM + STRIP + 4.0), 2.2);
        let mut words = format!("reading {} {unit}", number(kpa));
        if let Some(held) = held {
            mark(&mut canvas, (x(kpa), y.at(held.median)));
            words.push_str(&format!(": {} %", by_volume(held.median)));
            told(&mut description, &mut table, "the reading", kpa, unit, held);
        }
        let half = text_width(&words, LETTER) / 2.0;
        let middle = x(kpa).clamp(LEFT + half, RIGHT - half);
        canvas.bold((middle, BOTTOM + STRIP + 58.0), Side::Middle, LETTER, &words);
    }
    for held in sampled(&points) {
        row(&mut table, format!("{} {unit}", number(held.suction_kpa)), held.water_m3_m3);
    }
    canvas.finish(title, description, table)
}

fn nothing(id: &str, title: String, table: Table) -> Figure {
    let mut canvas = Canvas::new(id, "retention", WIDTH, 24.0);
    canvas.text((0.0, 16.0), Side::Start, LETTER, "Nothing is known yet");
    canvas.finish(title, "How tightly this ground holds its water is not known.".to_owned(), table)
}

fn sound(curve: &[Held]) -> Vec<Held> {
    let mut points: Vec<Held> = Vec::with_capacity(curve.len());
    for held in curve {
        let after = points.last().is_none_or(|last| held.suction_kpa > last.suction_kpa);
        if after && (LEAST_KPA..=MOST_KPA).contains(&held.suction_kpa) && is_content(&held.water_m3_m3) {
            points.push(*held);
        }
    }
    points
}

/// Between the points round it, straight on the scale of tens; `None` outside the curve.
fn at(points: &[Held], kpa: f64) -> Option<Spread> {
    let pair = points.windows(2).find(|pair| (pair[0].suction_kpa..=pair[1].suction_kpa).contains(&kpa))?;
    let [before, after] = [pair[0], pair[1]];
    let share = (kpa / before.suction_kpa).log10() / (after.suction_kpa / before.suction_kpa).log10();
    let between = |a: f64, b: f64| a + (b - a) * share;
    let (a, b) = (before.water_m3_m3, after.water_m3_m3);
    let spread = Spread {
        low: between(a.low, b.low),
        median: between(a.median, b.median),
        high: between(a.high, b.high),
    };
    is_content(&spread).then_some(spread)
}

/// About a dozen points for the table.
fn sampled(points: &[Held]) -> impl Iterator<Item = &Held> {
    points.iter().step_by(points.len().div_ceil(12).max(1))
}

fn row(table: &mut Table, name: String, held: Spread) {
    table.row([name, by_volume(held.median), by_volume(held.low), by_volume(held.high)]);
}

fn told(description: &mut String, table: &mut Table, name: &str, kpa: f64, unit: &str, held: Spread) {
    let place = format!("{name} ({} {unit})", number(kpa));
    description.push_str(&format!(
        " At {place}: {} % (90 %: {} to {}).",
        by_volume(held.median),
        by_volume(held.low),
        by_volume(held.high)
    ));
    row(table, place, held);
}

fn mark(canvas: &mut Canvas, at: At) {
    canvas.add(
        Circle::new()
            .set("cx", crate::canvas::px(at.0))
            .set("cy", crate::canvas::px(at.1))
            .set("r", 4)
            .set("fill", PAPER)
            .set("class", "figure-paper")
            .set("stroke", INK)
            .set("stroke-width", 2),
    );
}

fn axes(canvas: &mut Canvas, x: &Scale, y: &Scale, unit: &str) {
    canvas.text((0.0, 11.0), Side::Start, SMALL, "water, %");
    canvas.trace(path(&[(LEFT, TOP), (LEFT, BOTTOM), (RIGHT, BOTTOM)], false), 1.2);
    let by = if y.to > 0.6 { 20 } else { 10 };
    for percent in (0..=(y.to * 100.0).round() as usize).step_by(by) {
        let at = y.at(percent as f64 / 100.0);
        canvas.line((LEFT - 4.0, at), (LEFT, at), 1.0);
        canvas.text((LEFT - 7.0, at + 4.0), Side::End, SMALL, &percent.to_string());
    }
    for power in x.from as i32..=x.to as i32 {
        let at = x.at(f64::from(power));
        canvas.line((at, BOTTOM + STRIP), (at, BOTTOM + STRIP + 4.0), 1.0);
        let words = grouped(10_f64.powi(power));
        let side = if power == x.to as i32 { Side::End } else { Side::Middle };
        canvas.text(
            (if side == Side::End { RIGHT + 8.0 } else { at }, BOTTOM + STRIP + 16.0),
            side,
            SMALL,
            &words,
        );
    }
    canvas.text((LEFT, BOTTOM + STRIP + 32.0), Side::Start, SMALL, "wet");
    canvas.text((RIGHT, BOTTOM + STRIP + 32.0), Side::End, SMALL, "dry");
    let middle = f64::midpoint(LEFT, RIGHT);
    canvas.rimmed((middle, BOTTOM + STRIP + 32.0), Side::Middle, SMALL, &format!("suction, {unit}"));
}

/// 10000 as "10 000".
fn grouped(value: f64) -> String {
    if value >= 10_000.0 { format!("{:.0} 000", value / 1000.0) } else { number(value) }
}

/// What the water at each suction is to a crop, as a strip below the curve.
fn strip(canvas: &mut Canvas, x: &dyn Fn(f64) -> f64) {
    let ends = [LEFT, x(FIELD_CAPACITY_KPA), x(WILTING_POINT_KPA), RIGHT];
    let parts = [Stuff::Draining, Stuff::Usable, Stuff::Unusable];
    for (pair, stuff) in ends.windows(2).zip(parts) {
        if pair[1] > pair[0] {
            canvas.shape(rectangle(pair[0], BOTTOM, pair[1] - pair[0], STRIP), stuff, 1.0);
        }
    }
    let names = ["drains away", "crops can use", "too tight"];
    for (pair, name) in ends.windows(2).zip(names) {
        if pair[1] - pair[0] > text_width(name, SMALL) {
            canvas.rimmed((f64::midpoint(pair[0], pair[1]), BOTTOM - 4.0), Side::Middle, SMALL, name);
        }
    }
}
