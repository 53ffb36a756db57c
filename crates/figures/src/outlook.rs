//! The days ahead: the odds that watering is due, and the chance of rain.

use ground::kit::units::UnitSystem;
use svg::node::element::Path;

use crate::canvas::{At, Canvas, LETTER, SMALL, Side, WIDTH, px, rectangle};
use crate::figure::{Figure, Table};
use crate::measures::{Shown, is_water};
use crate::palette::{INK, Stuff};
use crate::words::{percent, short_percent, wrapped};

/// Days that one strip holds.
pub const MOST_DAYS: usize = 7;

/// One day ahead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ahead<'a> {
    /// What it is called: "Mon".
    pub label: &'a str,
    /// Its date as written below: "3 May"; may be empty.
    pub date: &'a str,
    /// Odds, as a share of 1, that watering is due by the end of this day.
    pub due_odds: f64,
    /// Chance of rain, as a share of 1.
    pub rain_odds: Option<f64>,
    /// Rain that is expected.
    pub rain_mm: Option<f64>,
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outlook<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// The days, today or tomorrow first; [`MOST_DAYS`] of them are drawn.
    pub days: &'a [Ahead<'a>],
    /// The day on which watering is due, counted from 0; `None` where it is none of them.
    pub due_day: Option<usize>,
    /// Units.
    pub system: UnitSystem,
}

const NAMES: f64 = 34.0;
const TOP: f64 = 50.0;
const TALL: f64 = 100.0;
const BASE: f64 = TOP + TALL;

/// Seven columns: the odds that watering is due as a bar from 0 to 100 %, the due day framed and
/// flagged, and below it the chance and the amount of rain. Odds that are not between 0 and 1 are
/// written as not known.
#[must_use]
pub fn week_outlook(outlook: &Outlook<'_>) -> Figure {
    let days = &outlook.days[..outlook.days.len().min(MOST_DAYS)];
    let title = "When watering is due".to_owned();
    let water = Shown::water(outlook.system);
    let rain = format!("Rain, {}", water.unit);
    let mut table = Table::new(["Day", "Odds that watering is due", "Chance of rain", &rain]);
    for day in days {
        table.row([
            format!("{} {}", day.label, day.date).trim().to_owned(),
            odds(day.due_odds).map_or_else(unknown, percent),
            day.rain_odds.and_then(odds).map_or_else(unknown, percent),
            day.rain_mm.filter(|mm| is_water(*mm)).map_or_else(unknown, |mm| water.number(mm)),
        ]);
    }
    let description = describe(days, outlook.due_day);
    if days.is_empty() {
        let mut canvas = Canvas::new(outlook.id, "outlook", WIDTH, 24.0);
        canvas.text((0.0, 16.0), Side::Start, LETTER, "Nothing is known yet");
        return canvas.finish(title, description, table);
    }
    let has_rain = days.iter().any(|day| day.rain_odds.or(day.rain_mm).is_some());
    let mut canvas = Canvas::new(outlook.id, "outlook", WIDTH, BASE + if has_rain { 62.0 } else { 28.0 });
    let wide = (WIDTH - NAMES) / days.len().max(5) as f64;
    axis(&mut canvas);
    if has_rain {
        canvas.text((0.0, BASE + 37.0), Side::Start, SMALL, "rain");
        canvas.text((0.0, BASE + 53.0), Side::Start, SMALL, water.unit);
    }
    for (at, day) in days.iter().enumerate() {
        let left = NAMES + wide * at as f64;
        let due = outlook.due_day == Some(at);
        if due {
            flag(&mut canvas, left, wide);
        }
        column(&mut canvas, day, left, wide, due);
        rain_of(&mut canvas, day, left + wide / 2.0, wide, water);
    }
    canvas.line((NAMES, BASE), (NAMES + wide * days.len() as f64, BASE), 1.4);
    canvas.finish(title, description, table)
}

fn odds(share: f64) -> Option<f64> {
    (0.0..=1.0).contains(&share).then_some(share)
}

fn unknown() -> String {
    "not known".to_owned()
}

fn axis(canvas: &mut Canvas) {
    for share in [0.0, 0.5, 1.0] {
        let y = BASE - TALL * share;
        canvas.add(crate::canvas::line((NAMES - 4.0, y), (WIDTH, y), 0.6).set("stroke-opacity", 0.35));
        canvas.text((NAMES - 6.0, y + 4.0), Side::End, SMALL, &format!("{:.0}", share * 100.0));
    }
    canvas.text((0.0, 11.0), Side::Start, SMALL, "odds, %");
}

/// The due day: a heavy frame and its name on top.
fn flag(canvas: &mut Canvas, left: f64, wide: f64) {
    let frame = Path::new().set("d", rectangle(left + 1.5, TOP - 34.0, wide - 3.0, TALL + 56.0));
    canvas.add(frame.set("fill", "none").set("stroke", INK).set("stroke-width", 2.4));
    let middle = left + wide / 2.0;
    let words = "due";
    canvas.bold((middle, TOP - 38.0), Side::Middle, LETTER, words);
}

fn column(canvas: &mut Canvas, day: &Ahead<'_>, left: f64, wide: f64, due: bool) {
    let middle = left + wide / 2.0;
    for (words, y, bold) in [(day.label, TOP - 20.0, true), (day.date, BASE + 16.0, false)] {
        let words = wrapped(words, wide - 4.0, SMALL, 1).join("");
        if bold {
            canvas.bold((middle, y), Side::Middle, SMALL, &words);
        } else {
            canvas.text((middle, y), Side::Middle, SMALL, &words);
        }
    }
    let Some(share) = odds(day.due_odds) else {
        canvas.text((middle, BASE - 5.0), Side::Middle, SMALL, "?");
        return;
    };
    let tall = TALL * share;
    let bar = (wide - 16.0).min(34.0);
    if tall > 0.3 {
        let edge = if due { 2.0 } else { 0.9 };
        canvas.shape(rectangle(middle - bar / 2.0, BASE - tall, bar, tall), Stuff::Belief, edge);
    }
    canvas.rimmed((middle, BASE - tall - 4.0), Side::Middle, LETTER, &short_percent(share));
}

fn rain_of(canvas: &mut Canvas, day: &Ahead<'_>, middle: f64, wide: f64, water: Shown) {
    if let Some(share) = day.rain_odds.and_then(odds) {
        let words = short_percent(share);
        let room = wide - 13.0;
        drop(canvas, (middle - room / 2.0 - 1.0, BASE + 33.0), share);
        canvas.text((middle + 5.0, BASE + 37.0), Side::Middle, SMALL, &words);
    }
    if let Some(mm) = day.rain_mm.filter(|mm| is_water(*mm)) {
        canvas.text((middle, BASE + 53.0), Side::Middle, SMALL, &water.number(mm));
    }
}

/// A drop, fuller with the chance.
fn drop(canvas: &mut Canvas, at: At, share: f64) {
    let (x, y) = (px(at.0), px(at.1));
    let shape = format!(
        "M{x} {}C{} {y} {} {} {x} {}C{} {} {} {y} {x} {}Z",
        y - 6.0,
        px(x + 5.0),
        px(x + 4.5),
        y + 5.0,
        y + 5.0,
        px(x - 4.5),
        y + 5.0,
        px(x - 5.0),
        y - 6.0
    );
    if share >= 0.5 {
        canvas.shape(shape, Stuff::Watering, 1.0);
    } else {
        canvas.trace(shape, 1.0);
    }
}

fn describe(days: &[Ahead<'_>], due_day: Option<usize>) -> String {
    if days.is_empty() {
        return "When watering is due is not known.".to_owned();
    }
    let called = |day: &Ahead<'_>| format!("{} {}", day.label, day.date).trim().to_owned();
    let mut text = match due_day.and_then(|at| days.get(at)) {
        Some(day) => format!("Watering is due on {}.", called(day)),
        None => "Watering is not due on any of these days.".to_owned(),
    };
    let each: Vec<String> = days
        .iter()
        .map(|day| {
            let due = odds(day.due_odds).map_or_else(unknown, percent);
            match day.rain_odds.and_then(odds) {
                Some(rain) => format!("{} {due}, rain {}", called(day), percent(rain)),
                None => format!("{} {due}", called(day)),
            }
        })
        .collect();
    text.push_str(&format!(" Odds that it is due by the end of each day: {}.", each.join("; ")));
    text
}
