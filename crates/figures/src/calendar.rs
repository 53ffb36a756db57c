//! Covers against the rotation: a row a bed, bars for crops and covers, and the frosts across them.

use ground::climate::weather::MONTH_DAYS;

use crate::canvas::{At, Canvas, LETTER, SMALL, Side, WIDE, line, rectangle, text_width};
use crate::chart::{Entry, Scale, key, swatch};
use crate::figure::{Figure, Table};
use crate::palette::Stuff;
use crate::words::wrapped;

/// What stands on the bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// A crop.
    Crop,
    /// A cover that grows.
    Cover,
    /// A cover that frost or winter has killed: mulch.
    Mulch,
}

impl Standing {
    fn stuff(self) -> Stuff {
        match self {
            Self::Crop => Stuff::Belief,
            Self::Cover => Stuff::Float,
            Self::Mulch => Stuff::Doubt,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Crop => "crop",
            Self::Cover => "cover growing",
            Self::Mulch => "cover killed, lying as mulch",
        }
    }
}

/// One bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bar<'a> {
    /// What it is called.
    pub label: &'a str,
    /// What stands there.
    pub standing: Standing,
    /// First day, counted from the first day of the calendar.
    pub from_d: f64,
    /// Day after the last.
    pub to_d: f64,
}

/// One row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row<'a> {
    /// Its bed or plan.
    pub label: &'a str,
    /// Its bars.
    pub bars: &'a [Bar<'a>],
}

/// A date across all rows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark<'a> {
    /// What it is: "first frost, even odds".
    pub label: &'a str,
    /// Its day, counted from the first day of the calendar.
    pub day: f64,
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoverCalendar<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// Month with whose first day it begins, 1 to 12.
    pub first_month: u8,
    /// Months it shows, 1 to 24.
    pub months: u8,
    /// Rows, at most [`MOST_ROWS`].
    pub rows: &'a [Row<'a>],
    /// Dates across, such as frosts; at most four.
    pub marks: &'a [Mark<'a>],
}

/// Rows that one calendar holds.
pub const MOST_ROWS: usize = 30;

const NAMES: f64 = 110.0;
const RIGHT: f64 = WIDE - 4.0;
const TALL: f64 = 30.0;
const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/// Month and length of each month shown.
fn months(calendar: &CoverCalendar<'_>) -> Vec<(usize, f64)> {
    let first = usize::from(calendar.first_month.clamp(1, 12)) - 1;
    (0..usize::from(calendar.months.clamp(1, 24)))
        .map(|at| ((first + at) % 12, f64::from(MONTH_DAYS[(first + at) % 12])))
        .collect()
}

/// A day of the calendar as people write it.
fn date(months: &[(usize, f64)], day: f64) -> String {
    let mut left = day;
    for (month, length) in months {
        if left < *length {
            return format!("{} {}", left.floor() + 1.0, MONTHS[*month]);
        }
        left -= length;
    }
    "after the end".to_owned()
}

/// Rows of bars over the months, upright lines for the frosts. A bar without length, or outside the months, is left
/// out; one that sticks out is cut.
#[must_use]
pub fn cover_calendar(calendar: &CoverCalendar<'_>) -> Figure {
    let months = months(calendar);
    let days: f64 = months.iter().map(|month| month.1).sum();
    let rows = &calendar.rows[..calendar.rows.len().min(MOST_ROWS)];
    let title = "Crops and covers through the year".to_owned();
    let kept = |bar: &&Bar<'_>| {
        bar.from_d.is_finite() && bar.to_d.is_finite() && bar.to_d > bar.from_d.max(0.0) && bar.from_d < days
    };
    let mut table = Table::new(["Row", "What", "Stands as", "From", "To"]);
    for row in rows {
        for bar in row.bars.iter().filter(kept) {
            table.row([
                row.label.to_owned(),
                bar.label.to_owned(),
                bar.standing.words().to_owned(),
                date(&months, bar.from_d.max(0.0)),
                date(&months, (bar.to_d - 1.0).clamp(0.0, days - 1.0)),
            ]);
        }
    }
    let marks: Vec<&Mark<'_>> =
        calendar.marks.iter().filter(|mark| (0.0..days).contains(&mark.day)).take(4).collect();
    let description = describe(&table, &marks, &months);
    let head = 24.0 + 15.0 * marks.len() as f64;
    let base = head + TALL * rows.len().max(1) as f64;
    let across = Scale { from: 0.0, to: days, start: NAMES, end: RIGHT };
    let mut canvas = Canvas::new(calendar.id, "calendar", WIDE, base);
    grid(&mut canvas, &months, &across, head, base);
    for (at, row) in rows.iter().enumerate() {
        let top = head + TALL * at as f64;
        let name = wrapped(row.label, NAMES - 8.0, LETTER, 1).join("");
        canvas.text((0.0, top + 20.0), Side::Start, LETTER, &name);
        for bar in row.bars.iter().filter(kept) {
            let (left, right) = (across.at(bar.from_d), across.at(bar.to_d));
            canvas.shape(
                rectangle(left, top + 4.0, (right - left).max(1.0), TALL - 8.0),
                bar.standing.stuff(),
                1.0,
            );
            let words = wrapped(bar.label, right - left - 6.0, SMALL, 1).join("");
            if words.chars().count() > 2 {
                canvas.plated((f64::midpoint(left, right), top + 19.0), Side::Middle, SMALL, &words);
            }
        }
    }
    if rows.is_empty() {
        canvas.text((NAMES + 6.0, head + 20.0), Side::Start, LETTER, "Nothing is planned yet");
    }
    for (at, mark) in marks.iter().enumerate() {
        let x = across.at(mark.day);
        let y = 21.0 + 15.0 * at as f64 + 9.0;
        canvas.add(line((x, y - 4.0), (x, base), 1.6).set("stroke-dasharray", "6 3"));
        let words = format!("{}: {}", mark.label, date(&months, mark.day));
        let side = if x + text_width(&words, SMALL) + 6.0 > RIGHT { Side::End } else { Side::Start };
        let shift = if side == Side::End { -5.0 } else { 5.0 };
        canvas.rimmed((x + shift, y), side, SMALL, &words);
    }
    let sign = |stuff: Stuff| move |canvas: &mut Canvas, at: At| swatch(canvas, at, stuff);
    let all = [Standing::Crop, Standing::Cover, Standing::Mulch];
    let signs = all.map(|standing| sign(standing.stuff()));
    let entries: Vec<Entry<'_>> =
        all.iter().zip(&signs).map(|(one, sign)| Entry { sign, words: one.words() }).collect();
    let bottom = key(&mut canvas, &entries, NAMES, RIGHT, base + 10.0);
    canvas.tall(bottom + 2.0);
    canvas.finish(title, description, table)
}

fn grid(canvas: &mut Canvas, months: &[(usize, f64)], across: &Scale, head: f64, base: f64) {
    let mut from = 0.0;
    for (month, length) in months {
        let (x, next) = (across.at(from), across.at(from + length));
        canvas.add(line((x, 4.0), (x, base), 0.6).set("stroke-opacity", 0.4));
        // Two years leave room for one letter.
        let name = MONTHS[*month];
        let name = if next - x < 26.0 { &name[..1] } else { name };
        canvas.text((f64::midpoint(x, next), 13.0), Side::Middle, SMALL, name);
        from += length;
    }
    canvas.line((NAMES, head), (RIGHT, head), 1.2);
    canvas.line((NAMES, base), (RIGHT, base), 1.2);
}

fn describe(table: &Table, marks: &[&Mark<'_>], months: &[(usize, f64)]) -> String {
    if table.rows.is_empty() {
        return "Nothing is planned yet.".to_owned();
    }
    let bars: Vec<String> = table
        .rows
        .iter()
        .map(|row| format!("{}: {} ({}), {} to {}", row[0], row[1], row[2], row[3], row[4]))
        .collect();
    let mut text = format!("{}.", bars.join("; "));
    for mark in marks {
        text.push_str(&format!(" {} on {}.", crate::words::sentence(mark.label), date(months, mark.day)));
    }
    text
}
