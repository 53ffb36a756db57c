//! A season of one bed: what fell and was put on, and how far the ground is short of full.

mod bars;
mod deficit;
mod told;

use ground::kit::Spread;
use ground::kit::units::UnitSystem;

use crate::canvas::{Canvas, LETTER, SMALL, Side, WIDE, WIDTH};
use crate::chart::Scale;
use crate::figure::{Figure, Table};
use crate::measures::{Shown, is_water, is_water_spread};
use crate::words::round_steps;

/// Days that one picture holds.
pub const MOST_DAYS: usize = 750;

/// One day of the balance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Day {
    /// Water the root zone lacks of field capacity at the end of the day.
    pub deficit_mm: Spread,
    /// The deficit at which watering is due.
    pub allowable_mm: f64,
    /// All the water the roots could use.
    pub total_available_mm: f64,
    /// Rain of the day.
    pub rain_mm: f64,
    /// Water put on.
    pub watering_mm: f64,
}

/// A look at the ground that put the balance right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observation<'a> {
    /// The day, counted from 0 along the days.
    pub day: usize,
    /// The deficit the balance had.
    pub before_mm: f64,
    /// The deficit after the look.
    pub after_mm: f64,
    /// What was looked at: "by feel".
    pub label: &'a str,
}

/// A mark on the axis of days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tick<'a> {
    /// The day, counted from 0 along the days.
    pub day: usize,
    /// What is written there: "1 May".
    pub label: &'a str,
}

/// How large the picture is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Size {
    /// For a narrow page, drawn 340 wide.
    #[default]
    Small,
    /// For a wide page or a sheet of paper, drawn 720 wide.
    Wide,
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Season<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// The bed: "bed 4, carrots".
    pub name: &'a str,
    /// The days in order, without a gap, at most [`MOST_DAYS`].
    pub days: &'a [Day],
    /// Marks on the axis of days.
    pub ticks: &'a [Tick<'a>],
    /// Looks at the ground.
    pub observations: &'a [Observation<'a>],
    /// Today, counted from 0 along the days; what comes after is forecast.
    pub today: Option<usize>,
    /// How large.
    pub size: Size,
    /// Units.
    pub system: UnitSystem,
}

/// Where things stand.
struct Plot<'a> {
    season: &'a Season<'a>,
    days: &'a [Day],
    shown: Shown,
    /// Edges of the plotting area.
    left: f64,
    right: f64,
    /// Rain and watering, upwards.
    bars: Scale,
    /// Deficit, downwards.
    deficit: Scale,
}

impl Plot<'_> {
    /// Width of one day.
    fn step(&self) -> f64 {
        (self.right - self.left) / self.days.len().max(1) as f64
    }

    /// The middle of a day: its bars, its tick.
    fn middle(&self, day: usize) -> f64 {
        self.left + self.step() * (day as f64 + 0.5)
    }

    /// The end of a day: its deficit.
    fn end(&self, day: usize) -> f64 {
        self.left + self.step() * (day as f64 + 1.0)
    }

    /// Where today's line stands.
    fn today(&self) -> Option<f64> {
        self.season.today.filter(|today| *today < self.days.len()).map(|today| self.end(today))
    }

    /// Whether a day is forecast.
    fn is_forecast(&self, day: usize) -> bool {
        self.season.today.is_some_and(|today| day > today)
    }
}

const TOP: f64 = 20.0;

/// The season's balance: rain and watering as bars on top; below them the deficit, drawn downwards
/// from field capacity, as a median line in its 90 % band, with the allowable deficit, all the
/// water the crop could use, the looks at the ground (an arrow from the balance before to the
/// balance after), today, and the forecast paler and hatched.
///
/// A day whose deficit is not finite and in order leaves a gap; so does a line that is not finite.
/// Days beyond [`MOST_DAYS`], and marks that are not on a day, are left out.
#[must_use]
pub fn season_balance(season: &Season<'_>) -> Figure {
    let days = &season.days[..season.days.len().min(MOST_DAYS)];
    let title =
        format!("Water balance of {}", if season.name.trim().is_empty() { "the bed" } else { season.name });
    let (width, bars_tall, deficit_tall) = match season.size {
        Size::Small => (WIDTH, 52.0, 150.0),
        Size::Wide => (WIDE, 64.0, 190.0),
    };
    let shown = Shown::water(season.system);
    if !days.iter().any(|day| is_water_spread(&day.deficit_mm)) {
        let mut canvas = Canvas::new(season.id, "season", width, 24.0);
        canvas.text((0.0, 16.0), Side::Start, LETTER, "Nothing is known yet");
        return canvas.finish(title, "No balance of this bed is known yet.".to_owned(), Table::new(["", ""]));
    }
    let split = TOP + bars_tall;
    let below = split + 24.0;
    let plot = Plot {
        season,
        days,
        shown,
        left: 38.0,
        right: width - 8.0,
        bars: Scale { from: 0.0, to: most_bar(days, shown), start: split, end: TOP },
        deficit: deficit_scale(days, season.observations, shown, below, below + deficit_tall),
    };
    let mut canvas = Canvas::new(season.id, "season", width, below + deficit_tall);
    if season.size == Size::Wide {
        canvas.class("figure-wide");
    }
    bars::draw(&mut canvas, &plot);
    deficit::draw(&mut canvas, &plot);
    days_axis(&mut canvas, &plot);
    today(&mut canvas, &plot);
    let end = told::key(&mut canvas, &plot, below + deficit_tall + 28.0);
    canvas.tall(end);
    canvas.finish(title, told::describe(&plot), told::table(&plot))
}

/// Top of the bars' scale, in mm.
fn most_bar(days: &[Day], shown: Shown) -> f64 {
    let amount = |mm: f64| if is_water(mm) { mm } else { 0.0 };
    let amounts = days.iter().map(|day| amount(day.rain_mm) + amount(day.watering_mm));
    rounded(amounts.fold(0.0, f64::max).max(5.0), 5.0, shown)
}

/// The least round number of the shown unit that holds `most`, back in mm.
fn rounded(most_mm: f64, steps: f64, shown: Shown) -> f64 {
    let (step, count) = round_steps(shown.convert(most_mm), steps);
    step * count as f64 / shown.convert(1.0)
}

/// From the wettest shown (at most field capacity) down to the driest.
fn deficit_scale(days: &[Day], looks: &[Observation<'_>], shown: Shown, start: f64, end: f64) -> Scale {
    let ranges = days.iter().map(|day| day.deficit_mm).filter(is_water_spread);
    let (wet, dry) = ranges.fold((0.0_f64, 1.0_f64), |(wet, dry), s| (wet.min(s.low), dry.max(s.high)));
    let lines = days.iter().flat_map(|day| [day.allowable_mm, day.total_available_mm]);
    let looked = looks.iter().flat_map(|look| [look.before_mm, look.after_mm]);
    let dry = lines.chain(looked).filter(|mm| is_water(*mm)).fold(dry, f64::max);
    Scale { from: wet * 1.04, to: rounded(dry * 1.04, 9.0, shown), start, end }
}

/// Ticks that fit, the first ones first.
fn days_axis(canvas: &mut Canvas, plot: &Plot<'_>) {
    let y = plot.deficit.end;
    canvas.line((plot.left, y), (plot.right, y), 1.0);
    let mut ticks: Vec<&Tick<'_>> =
        plot.season.ticks.iter().filter(|tick| tick.day < plot.days.len()).collect();
    ticks.sort_by_key(|tick| tick.day);
    let mut free = f64::NEG_INFINITY;
    for tick in ticks {
        let x = plot.middle(tick.day);
        canvas.line((x, y), (x, y + 4.0), 1.0);
        let half = crate::canvas::text_width(tick.label, SMALL) / 2.0;
        let middle = x.min(plot.right + 6.0 - half);
        if middle - half > free {
            canvas.text((middle, y + 16.0), Side::Middle, SMALL, tick.label);
            free = middle + half + 6.0;
        }
    }
}

fn today(canvas: &mut Canvas, plot: &Plot<'_>) {
    let Some(x) = plot.today() else { return };
    canvas.line((x, TOP - 4.0), (x, plot.deficit.end), 2.0);
    // Right of the name of the bars, and not off the paper.
    let place = x.clamp(plot.left + 110.0, plot.right - 16.0);
    let words = if place > x + 20.0 { "\u{2190} today" } else { "today" };
    canvas.bold((place, 11.0), Side::Middle, LETTER, words);
}
