//! One quantity with how surely it is known: the 90 % range as a bar, the median as a stroke.

use ground::kit::Spread;

use crate::canvas::{Canvas, LETTER, SMALL, Side, WIDTH, rectangle, text_width};
use crate::figure::{Figure, Table};
use crate::palette::Stuff;
use crate::words::{measure, number, round_steps};

const LEFT: f64 = 14.0;
const RIGHT: f64 = WIDTH - 14.0;
const BAR_TOP: f64 = 30.0;
const BAR: f64 = 16.0;
const AXIS: f64 = 56.0;

/// How the axis runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Scale {
    /// From nought, in equal steps.
    #[default]
    Even,
    /// In powers of ten, for what spans several (conductivity). Falls back to [`Scale::Even`]
    /// where a value is not above nought.
    Tens,
}

/// A value worth comparing with: a limit, a rate the farm uses.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Where, in the quantity's unit.
    pub value: f64,
    /// What it is.
    pub label: String,
}

/// What to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct SpreadBar<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// The quantity: "Usable water".
    pub name: &'a str,
    /// Its unit as written after a number; empty for a pure number.
    pub unit: &'a str,
    /// The values.
    pub spread: Spread,
    /// How the axis runs.
    pub scale: Scale,
    /// Greatest value of the axis, so that several bars can be compared; at least the range is shown.
    pub top: Option<f64>,
    /// Values to compare with.
    pub marks: &'a [Mark],
}

/// The axis: maps a value to x.
struct Axis {
    ticks: Vec<f64>,
    from: f64,
    to: f64,
    tens: bool,
}

impl Axis {
    fn of(bar: &SpreadBar<'_>) -> Self {
        let marks = bar.marks.iter().map(|mark| mark.value).filter(|value| value.is_finite());
        let known = [bar.spread.low, bar.spread.median, bar.spread.high].into_iter().chain(marks);
        let known: Vec<f64> = known.chain(bar.top).filter(|value| value.is_finite()).collect();
        let most = known.iter().copied().fold(0.0, f64::max);
        let least = known.iter().copied().fold(f64::INFINITY, f64::min);
        if bar.scale == Scale::Tens && least > 0.0 && least.is_finite() {
            let low = least.log10().floor() as i32;
            let high = (most.log10().ceil() as i32).max(low + 1);
            let ticks = (low..=high).map(|power| 10_f64.powi(power)).collect();
            return Self { ticks, from: f64::from(low), to: f64::from(high), tens: true };
        }
        // Few quantities here go below nought; where one does, the axis starts there.
        let floor = least.min(0.0);
        let (step, count) = round_steps(most - floor, 5.0);
        let first = (floor / step).floor() * step;
        let ticks: Vec<f64> =
            (0..=count + usize::from(first < floor)).map(|n| first + step * n as f64).collect();
        let last = ticks.last().copied().unwrap_or(1.0);
        Self { ticks, from: first, to: last, tens: false }
    }

    fn x(&self, value: f64) -> f64 {
        let place = if self.tens { value.max(f64::MIN_POSITIVE).log10() } else { value };
        LEFT + (RIGHT - LEFT) * ((place - self.from) / (self.to - self.from)).clamp(0.0, 1.0)
    }
}

/// Draws one quantity with its 90 % range, its median, and values to compare with.
///
/// The description gives the numbers; a spread that is not finite is told as not known.
#[must_use]
pub fn spread_bar(bar: &SpreadBar<'_>) -> Figure {
    let Spread { low, median, high } = bar.spread;
    let mut table = Table::new(["", "Value"]);
    table.row(["5 % are below".to_owned(), measure(low, bar.unit)]);
    table.row(["Median".to_owned(), measure(median, bar.unit)]);
    table.row(["5 % are above".to_owned(), measure(high, bar.unit)]);
    for mark in bar.marks {
        table.row([mark.label.clone(), measure(mark.value, bar.unit)]);
    }
    let title = bar.name.to_owned();
    if ![low, median, high].iter().all(|value| value.is_finite()) {
        let mut canvas = Canvas::new(bar.id, "spread", WIDTH, 24.0);
        canvas.text((LEFT, 16.0), Side::Start, LETTER, &format!("{}: not known", bar.name));
        return canvas.finish(title, format!("{} is not known.", bar.name), table);
    }
    let height = AXIS + 20.0 + bar.marks.len() as f64 * 15.0;
    let mut canvas = Canvas::new(bar.id, "spread", WIDTH, height);
    let axis = Axis::of(bar);
    let said = format!("{} (90 %: {} to {})", measure(median, bar.unit), number(low), number(high));
    canvas.bold((LEFT, 14.0), Side::Start, LETTER, &said);

    canvas.line((LEFT, AXIS), (RIGHT, AXIS), 1.0);
    let mut free = f64::NEG_INFINITY;
    for tick in &axis.ticks {
        let x = axis.x(*tick);
        canvas.line((x, AXIS), (x, AXIS + 4.0), 1.0);
        let words = number(*tick);
        let half = text_width(&words, SMALL) / 2.0;
        if x - half > free {
            canvas.text((x, AXIS + 16.0), Side::Middle, SMALL, &words);
            free = x + half + 6.0;
        }
    }
    let (from, to) = (axis.x(low), axis.x(high));
    canvas.shape(rectangle(from, BAR_TOP, (to - from).max(1.5), BAR), Stuff::Belief, 0.8);
    canvas.line((axis.x(median), BAR_TOP - 5.0), (axis.x(median), BAR_TOP + BAR + 5.0), 3.0);
    for (row, mark) in bar.marks.iter().enumerate().filter(|(_, mark)| mark.value.is_finite()) {
        let y = AXIS + 31.0 + row as f64 * 15.0;
        let x = axis.x(mark.value);
        canvas.dashed((x, BAR_TOP - 5.0), (x, y - 11.0), 1.2, "3 2");
        let words = format!("{}: {}", mark.label, measure(mark.value, bar.unit));
        let half = text_width(&words, SMALL) / 2.0;
        let side = if x - half < 0.0 {
            Side::Start
        } else if x + half > WIDTH {
            Side::End
        } else {
            Side::Middle
        };
        canvas.rimmed((x, y), side, SMALL, &words);
    }

    let mut description = format!(
        "{}: median {}, 90 % range {} to {}.",
        bar.name,
        measure(median, bar.unit),
        number(low),
        measure(high, bar.unit)
    );
    for mark in bar.marks {
        description.push_str(&format!(" {}: {}.", mark.label, measure(mark.value, bar.unit)));
    }
    canvas.finish(title, description, table)
}
