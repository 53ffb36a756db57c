//! The deficit with its range, the limits, and the looks at the ground.

use svg::node::element::{Circle, Path};

use super::{Day, Plot};
use crate::canvas::{At, Canvas, SMALL, Side, line, path, px, rim, text, text_width};
use crate::chart;
use crate::measures::{is_water, is_water_spread};
use crate::palette::{INK, PAPER, Stuff};
use crate::words::{number, round_steps};

pub(super) fn draw(canvas: &mut Canvas, plot: &Plot<'_>) {
    axis(canvas, plot);
    for forecast in [false, true] {
        let stuff = if forecast { Stuff::Forecast } else { Stuff::Range };
        for run in runs(plot, |day, one| is_water_spread(&one.deficit_mm) && on_side(plot, day, forecast)) {
            // Today alone is no forecast.
            if !forecast || run.iter().any(|day| plot.is_forecast(*day)) {
                spread(canvas, plot, &run, stuff);
            }
        }
    }
    limits(canvas, plot);
    observations(canvas, plot);
}

/// The day of today belongs to both sides, so that the lines meet.
fn on_side(plot: &Plot<'_>, day: usize, forecast: bool) -> bool {
    if forecast { plot.is_forecast(day + 1) } else { !plot.is_forecast(day) }
}

/// Stretches of days that hold to a condition.
fn runs(plot: &Plot<'_>, keep: impl Fn(usize, &Day) -> bool) -> Vec<Vec<usize>> {
    let mut runs: Vec<Vec<usize>> = Vec::new();
    let mut open = false;
    for (day, one) in plot.days.iter().enumerate() {
        let kept = keep(day, one);
        match runs.last_mut() {
            Some(run) if kept && open => run.push(day),
            _ if kept => runs.push(vec![day]),
            _ => {}
        }
        open = kept;
    }
    runs
}

fn spread(canvas: &mut Canvas, plot: &Plot<'_>, run: &[usize], stuff: Stuff) {
    let step = plot.step();
    let of = |part: fn(&Day) -> f64| -> Vec<At> {
        let mut points: Vec<At> =
            run.iter().map(|day| (plot.end(*day), plot.deficit.at(part(&plot.days[*day])))).collect();
        // A single day is as wide as its day.
        if let [(x, y)] = points[..] {
            points = vec![(x - step, y), (x, y)];
        }
        points
    };
    chart::band(canvas, &of(|d| d.deficit_mm.low), &of(|d| d.deficit_mm.high), stuff, 0.6);
    let data = path(&of(|d| d.deficit_mm.median), false);
    let line = Path::new().set("d", data).set("fill", "none").set("stroke", INK).set("stroke-width", 2.2);
    canvas.add(match stuff {
        Stuff::Forecast => line.set("stroke-dasharray", "2 2.5"),
        _ => line.set("stroke-linejoin", "round"),
    });
}

fn axis(canvas: &mut Canvas, plot: &Plot<'_>) {
    let scale = &plot.deficit;
    canvas.text((0.0, scale.start - 9.0), Side::Start, SMALL, &format!("short of full, {}", plot.shown.unit));
    canvas.line((plot.left, scale.start), (plot.left, scale.end), 1.0);
    canvas.line((plot.left, scale.at(0.0)), (plot.right, scale.at(0.0)), 1.4);
    let unit = plot.shown.convert(1.0);
    let step = round_steps(scale.to * unit, 4.0).0;
    let first = (scale.from * unit / step).ceil() as i64;
    let last = (scale.to * unit / step + 1e-6).floor() as i64;
    for n in (first..=last).take(40) {
        let value = step * n as f64;
        let y = scale.at(value / unit);
        canvas.line((plot.left - 4.0, y), (plot.left, y), 1.0);
        canvas.text((plot.left - 7.0, y + 4.0), Side::End, SMALL, &number(value));
    }
}

/// One number of a day.
type Part = fn(&Day) -> f64;

/// The allowable deficit broken, all the usable water unbroken; each with its name where it is
/// least in the way.
fn limits(canvas: &mut Canvas, plot: &Plot<'_>) {
    let limits: [(Part, &str, bool); 2] = [
        (|day| day.allowable_mm, "watering is due", true),
        (|day| day.total_available_mm, "nothing left to use", false),
    ];
    let mut taken: Vec<(At, f64)> = Vec::new();
    for (part, name, broken) in limits {
        let mut known: Vec<At> = Vec::new();
        for run in runs(plot, |_, day| is_water(part(day))) {
            let at = |day: usize, by: f64| (plot.end(day) + by, plot.deficit.at(part(&plot.days[day])));
            // The first day begins a day before its end.
            let mut points: Vec<At> = run.iter().map(|day| at(*day, 0.0)).collect();
            if let Some(first) = run.first() {
                points.insert(0, at(*first, -plot.step()));
            }
            let limit = Path::new()
                .set("d", path(&thinned(&points), false))
                .set("fill", "none")
                .set("stroke", INK)
                .set("stroke-width", if broken { 1.8 } else { 1.4 });
            canvas.add(if broken { limit.set("stroke-dasharray", "7 4") } else { limit });
            known.extend(points);
        }
        let width = text_width(name, SMALL);
        if let Some((x, y)) = quiet_place(plot, &known, width, &taken) {
            taken.push(((x, y), width));
            canvas.add(rim(text((x, y), Side::Start, SMALL, name)).set("font-style", "italic"));
        }
    }
}

/// Corners only: a step line of hundreds of days has few.
fn thinned(points: &[At]) -> Vec<At> {
    let mut kept: Vec<At> = Vec::new();
    for point in points {
        if let [.., a, b] = kept[..]
            && (a.1 - b.1).abs() < 1e-9
            && (b.1 - point.1).abs() < 1e-9
        {
            kept.pop();
        }
        kept.push(*point);
    }
    kept
}

/// Where a name of this width over a limit lies farthest from the median line and the looks.
fn quiet_place(plot: &Plot<'_>, limit: &[At], width: f64, taken: &[(At, f64)]) -> Option<At> {
    let first = limit.first()?.0.max(plot.left + 6.0);
    let last = limit.last()?.0;
    let mut best: Option<(f64, At)> = None;
    for n in 0..24 {
        let x = first + (last - width - first).max(0.0) * f64::from(n) / 23.0;
        let x = x.min(plot.right - width);
        let corners = limit.iter().filter(|at| at.0 > x && at.0 < x + width).map(|at| at.1);
        let ends = [x, x + width].into_iter().filter_map(|x| height_at(limit, x));
        let under: Vec<f64> = corners.chain(ends).collect();
        if under.is_empty() {
            continue;
        }
        let top = under.iter().copied().fold(f64::INFINITY, f64::min);
        let bottom = under.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let (above, beneath) = (top - 5.0, bottom + 12.0);
        for y in [above, beneath] {
            if y > plot.deficit.end - 3.0 || y < plot.deficit.start + 10.0 {
                continue;
            }
            let covers = |((left, line), wide): &(At, f64)| {
                (line - y).abs() < 14.0 && x < left + wide + 8.0 && *left < x + width + 8.0
            };
            let room =
                if taken.iter().any(covers) { f64::NEG_INFINITY } else { clearance(plot, (x, y), width) };
            // Along a steep line a name stands far off.
            let room = room - (bottom - top);
            if best.is_none_or(|(most, _)| room > most + 0.5) {
                best = Some((room, (x, y)));
            }
        }
    }
    best.map(|(_, at)| at)
}

fn height_at(line: &[At], x: f64) -> Option<f64> {
    let pair = line.windows(2).find(|pair| pair[0].0 <= x && x <= pair[1].0)?;
    let share = (x - pair[0].0) / (pair[1].0 - pair[0].0).max(1e-9);
    Some(pair[0].1 + (pair[1].1 - pair[0].1) * share)
}

fn clearance(plot: &Plot<'_>, at: At, width: f64) -> f64 {
    let middle = at.1 - 4.0;
    // A day more on either side: between two days the lines run straight.
    let off = 4.0 + plot.step();
    let within = |day: usize| (at.0 - off..=at.0 + width + off).contains(&plot.end(day));
    let days =
        plot.days.iter().enumerate().filter(|(day, one)| within(*day) && is_water_spread(&one.deficit_mm));
    let lines = days.flat_map(|(_, one)| {
        let y = |mm: f64| plot.deficit.at(mm);
        [y(one.deficit_mm.median), y(one.allowable_mm), y(one.total_available_mm)]
    });
    let looks = plot.season.observations.iter().filter(|look| within(look.day));
    let looks = looks.flat_map(|look| [plot.deficit.at(look.before_mm), plot.deficit.at(look.after_mm)]);
    let crossed = plot.today().is_some_and(|x| (at.0 - 4.0..=at.0 + width + 4.0).contains(&x));
    lines.chain(looks).map(|y| (y - middle).abs()).fold(if crossed { 4.0 } else { 40.0 }, f64::min)
}

/// A hollow ring where the balance stood, an arrow, a dot where the look put it.
fn observations(canvas: &mut Canvas, plot: &Plot<'_>) {
    for look in plot.season.observations {
        if look.day >= plot.days.len() || !look.after_mm.is_finite() {
            continue;
        }
        let x = plot.end(look.day);
        let after = (x, plot.deficit.at(look.after_mm));
        if look.before_mm.is_finite() {
            correction(canvas, (x, plot.deficit.at(look.before_mm)), after);
        } else {
            ring(canvas, after, true);
        }
    }
}

/// The sign of one correction.
pub(super) fn correction(canvas: &mut Canvas, before: At, after: At) {
    let gap = (before.1 - after.1).abs();
    if gap > 9.0 {
        canvas.add(line(before, after, 4.5).set("stroke", PAPER).set("class", "figure-rim"));
        let to = (after.0, after.1 + 3.5 * (before.1 - after.1).signum());
        ring(canvas, before, false);
        let from = (before.0, before.1 - 3.5 * (before.1 - after.1).signum());
        chart::arrow(canvas, from, to, 1.6, 6.0);
    } else if gap > 2.0 {
        ring(canvas, before, false);
    }
    ring(canvas, after, true);
}

fn ring(canvas: &mut Canvas, at: At, filled: bool) {
    let ring = Circle::new().set("cx", px(at.0)).set("cy", px(at.1)).set("r", 3.5);
    canvas.add(if filled {
        ring.set("fill", INK)
    } else {
        ring.set("fill", PAPER).set("class", "figure-paper").set("stroke", INK).set("stroke-width", 1.6)
    });
}

/// The sign of a line in the key.
pub(super) fn line_sign(canvas: &mut Canvas, at: At) {
    chart::swatch(canvas, at, Stuff::Range);
    canvas.line((at.0, at.1 + 5.0), (at.0 + chart::SWATCH, at.1 + 5.0), 2.2);
}

/// The sign of a forecast line in the key.
pub(super) fn forecast_sign(canvas: &mut Canvas, at: At) {
    chart::swatch(canvas, at, Stuff::Forecast);
    canvas.dashed((at.0, at.1 + 5.0), (at.0 + chart::SWATCH, at.1 + 5.0), 2.2, "2 2.5");
}

/// The sign of a look in the key, on its side.
pub(super) fn look_sign(canvas: &mut Canvas, at: At) {
    let y = at.1 + 5.0;
    ring(canvas, (at.0, y), false);
    chart::arrow(canvas, (at.0 + 4.0, y), (at.0 + 12.0, y), 1.6, 5.5);
    ring(canvas, (at.0 + 14.5, y), true);
}
