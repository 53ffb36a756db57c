//! One property over the years: values with their error bars, the places where the series was cut, and the slope of
//! the years where it is firm.

use crate::canvas::{Canvas, LETTER, SMALL, Side, WIDTH, path};
use crate::chart::{Entry, KEY_LINE, Scale, key};
use crate::figure::{Figure, Table};
use crate::palette::{INK, PAPER};
use crate::words::{measure, number};
use svg::node::element::Circle;

/// One reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point<'a> {
    /// When, in years: 2024.29 is the middle of April.
    pub year: f64,
    /// The day in words, for the table.
    pub day: &'a str,
    /// The value.
    pub value: f64,
    /// The range that holds nine times in ten.
    pub range: [f64; 2],
    /// How it was made, for the table.
    pub how: &'a str,
    /// Why the series is cut before it; empty where it is not.
    pub cut: &'a str,
}

/// A straight line through the years.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slope {
    /// Where it begins: year and value.
    pub from: (f64, f64),
    /// Where it ends.
    pub to: (f64, f64),
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Series<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// What is followed: "organic matter".
    pub what: &'a str,
    /// Unit as written after a number; may be empty.
    pub unit: &'a str,
    /// Earliest first.
    pub points: &'a [Point<'a>],
    /// The slope, where it is firm.
    pub slope: Option<Slope>,
}

const TOP: f64 = 22.0;
const FLOOR: f64 = 168.0;
const LEFT: f64 = 40.0;
const RIGHT: f64 = WIDTH - 12.0;

/// The readings over time.
#[must_use]
pub fn series(of: &Series<'_>) -> Figure {
    let title = format!("{} over the years", crate::words::sentence(of.what));
    let mut table = Table::new(["Day", "Value", "90 % range", "How", "Cut"]);
    let points: Vec<&Point<'_>> = of
        .points
        .iter()
        .filter(|point| point.year.is_finite() && point.value.is_finite() && point.year.abs() < 1e5)
        .collect();
    let mut said = Vec::new();
    for point in &points {
        let range = format!("{} to {}", number(point.range[0]), measure(point.range[1], of.unit));
        table.row([
            point.day.to_owned(),
            measure(point.value, of.unit),
            range.clone(),
            point.how.to_owned(),
            if point.cut.is_empty() { String::new() } else { format!("cut: {}", point.cut) },
        ]);
        let cut = if point.cut.is_empty() { String::new() } else { format!("Cut, since {}. ", point.cut) };
        said.push(format!("{cut}{}: {} ({range}).", point.day, measure(point.value, of.unit)));
    }
    if points.is_empty() {
        let mut canvas = Canvas::new(of.id, "series", WIDTH, 24.0);
        canvas.text((0.0, 16.0), Side::Start, LETTER, "Nothing was read yet");
        return canvas.finish(title, "Nothing was read yet.".to_owned(), table);
    }
    if let Some(slope) = sound(of.slope) {
        said.push(format!(
            "The slope of the years runs from {} to {}.",
            number(slope.from.1),
            measure(slope.to.1, of.unit)
        ));
    }
    let (years, values) = (year_scale(&points), value_scale(&points, of.slope));
    let mut canvas = Canvas::new(of.id, "series", WIDTH, FLOOR + 40.0);
    axes(&mut canvas, &years, &values, of.unit);
    let mut stretch = Vec::new();
    for (place, point) in points.iter().enumerate() {
        let at = (years.at(point.year), values.at(point.value));
        if !point.cut.is_empty() && place > 0 {
            let before = years.at(points[place - 1].year);
            let x = f64::midpoint(before, at.0);
            canvas.dashed((x, TOP - 6.0), (x, FLOOR), 1.2, "2 3");
            canvas.trace(path(&stretch, false), 1.0);
            stretch.clear();
        }
        stretch.push(at);
        bar(&mut canvas, at.0, &values, point.range);
    }
    canvas.trace(path(&stretch, false), 1.0);
    for point in &points {
        dot(&mut canvas, (years.at(point.year), values.at(point.value)));
    }
    if let Some(slope) = sound(of.slope) {
        let ends = [slope.from, slope.to].map(|(year, value)| (years.at(year), values.at(value)));
        canvas.dashed(ends[0], ends[1], 2.2, "7 3");
    }
    let bottom = legend(&mut canvas, points.iter().any(|point| !point.cut.is_empty()), of.slope.is_some());
    canvas.tall(bottom + 2.0);
    canvas.finish(title, said.join(" "), table)
}

fn sound(slope: Option<Slope>) -> Option<Slope> {
    slope.filter(|slope| {
        [slope.from.0, slope.from.1, slope.to.0, slope.to.1].iter().all(|value| value.is_finite())
    })
}

/// Whole years about the readings.
fn year_scale(points: &[&Point<'_>]) -> Scale {
    let first = points.iter().map(|point| point.year).fold(f64::INFINITY, f64::min).floor();
    let last = points.iter().map(|point| point.year).fold(f64::NEG_INFINITY, f64::max).floor() + 1.0;
    Scale { from: first, to: last, start: LEFT, end: RIGHT }
}

/// From a round number below every bar to one above.
fn value_scale(points: &[&Point<'_>], slope: Option<Slope>) -> Scale {
    let slopes = sound(slope).into_iter().flat_map(|slope| [slope.from.1, slope.to.1]);
    let all = points.iter().flat_map(|point| [point.range[0], point.value, point.range[1]]).chain(slopes);
    let (low, high) = all
        .filter(|value| value.is_finite() && value.abs() < 1e12)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
    let (low, high) = if low <= high { (low, high) } else { (0.0, 1.0) };
    let step = step(high - low);
    let from = (low / step).floor() * step;
    let to = ((high / step).ceil() * step).max(from + step);
    Scale { from, to, start: FLOOR, end: TOP }
}

/// A round step that parts a span into about four.
fn step(span: f64) -> f64 {
    crate::words::round_steps(if span > 0.0 { span } else { 1.0 }, 4.0).0
}

fn axes(canvas: &mut Canvas, years: &Scale, values: &Scale, unit: &str) {
    canvas.text((0.0, 11.0), Side::Start, SMALL, if unit.is_empty() { "value" } else { unit });
    let step = step(values.to - values.from);
    let count = ((values.to - values.from) / step).round().clamp(1.0, 12.0) as usize;
    for tick in 0..=count {
        let value = values.from + step * tick as f64;
        let y = values.at(value);
        canvas.line((LEFT - 4.0, y), (LEFT, y), 1.0);
        canvas.text((LEFT - 6.0, y + 4.0), Side::End, SMALL, &number(value));
    }
    canvas.line((LEFT, TOP), (LEFT, FLOOR), 1.0);
    canvas.line((LEFT, FLOOR), (RIGHT, FLOOR), 1.0);
    let span = years.to - years.from;
    // A name takes 34 of width; where many years are shown only some are named.
    let every = (span * 34.0 / (RIGHT - LEFT)).ceil().max(1.0);
    let mut year = years.from;
    while year < years.to && span < 1000.0 {
        let (x, next) = (years.at(year), years.at(year + 1.0));
        canvas.line((x, FLOOR), (x, FLOOR + 5.0), 1.0);
        if ((year - years.from) / every).fract() == 0.0 {
            let middle = if every > 1.0 { x } else { f64::midpoint(x, next) };
            let side = if every > 1.0 { Side::Start } else { Side::Middle };
            canvas.text((middle, FLOOR + 16.0), side, SMALL, &format!("{year:.0}"));
        }
        year += 1.0;
    }
    canvas.line((RIGHT, FLOOR), (RIGHT, FLOOR + 5.0), 1.0);
}

/// An error bar with its two caps.
fn bar(canvas: &mut Canvas, x: f64, values: &Scale, range: [f64; 2]) {
    if range.iter().all(|end| end.is_finite()) {
        let [low, high] = range.map(|end| values.at(end));
        canvas.line((x, low), (x, high), 1.2);
        canvas.line((x - 4.0, low), (x + 4.0, low), 1.2);
        canvas.line((x - 4.0, high), (x + 4.0, high), 1.2);
    }
}

fn dot(canvas: &mut Canvas, at: (f64, f64)) {
    canvas.add(
        Circle::new()
            .set("cx", crate::canvas::px(at.0))
            .set("cy", crate::canvas::px(at.1))
            .set("r", 3.6)
            .set("fill", INK)
            .set("stroke", PAPER)
            .set("stroke-width", 1),
    );
}

fn legend(canvas: &mut Canvas, cut: bool, slope: bool) -> f64 {
    let bar_sign = |canvas: &mut Canvas, at: (f64, f64)| {
        canvas.line((at.0 + 8.0, at.1 - 1.0), (at.0 + 8.0, at.1 + 11.0), 1.2);
        dot(canvas, (at.0 + 8.0, at.1 + 5.0));
    };
    let cut_sign = |canvas: &mut Canvas, at: (f64, f64)| {
        canvas.dashed((at.0 + 8.0, at.1 - 1.0), (at.0 + 8.0, at.1 + 11.0), 1.2, "2 3");
    };
    let slope_sign = |canvas: &mut Canvas, at: (f64, f64)| {
        canvas.dashed((at.0, at.1 + 5.0), (at.0 + 16.0, at.1 + 5.0), 2.2, "7 3");
    };
    let mut entries = vec![Entry { sign: &bar_sign, words: "reading, nine times in ten within" }];
    if cut {
        entries.push(Entry { sign: &cut_sign, words: "cut: read otherwise" });
    }
    if slope {
        entries.push(Entry { sign: &slope_sign, words: "slope of the years" });
    }
    key(canvas, &entries, 0.0, WIDTH, FLOOR + KEY_LINE + 8.0)
}
