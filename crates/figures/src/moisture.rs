//! What a moisture reading means on this plot: at each water content, the odds that the ground is
//! too dry for roots, holds usable water, or is wetter than it can keep.

use crate::canvas::{At, Canvas, LETTER, SMALL, Side, WIDTH, path, text_width};
use crate::figure::{Figure, Table};
use crate::palette::Stuff;
use crate::tank::WaterDraws;
use crate::words::percent;

/// Steps of the strip, one percentage point of water content each.
const STEPS: usize = 60;
const LEFT: f64 = 36.0;
const RIGHT: f64 = WIDTH - 10.0;
const TOP: f64 = 26.0;
const DEEP: f64 = 120.0;

/// Odds at one water content. They add to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoistureOdds {
    /// Drier than the wilting point.
    pub too_dry: f64,
    /// Between the wilting point and field capacity.
    pub usable: f64,
    /// At field capacity or above: some of it will drain away.
    pub draining: f64,
    /// More than the ground has room for: the reading, or the belief, is wrong.
    pub no_room: f64,
}

/// The odds at `water_m3_m3`, of the soil without stones, over the ensemble; `None` when no draw has a value.
#[must_use]
pub fn odds_at(draws: &WaterDraws<'_>, water_m3_m3: f64) -> Option<MoistureOdds> {
    let (mut odds, mut total) = ([0.0; 4], 0.0);
    for (dry, wet, full, weight) in values(draws) {
        let place = if water_m3_m3 < dry {
            0
        } else if water_m3_m3 < wet {
            1
        } else if water_m3_m3 <= full {
            2
        } else {
            3
        };
        odds[place] += weight;
        total += weight;
    }
    (total > 0.0).then(|| {
        let [too_dry, usable, draining, no_room] = odds.map(|share| share / total);
        MoistureOdds { too_dry, usable, draining, no_room }
    })
}

fn values<'a>(draws: &WaterDraws<'a>) -> impl Iterator<Item = (f64, f64, f64, f64)> + use<'a> {
    let WaterDraws { wilting_point, field_capacity, saturation, weights, .. } = *draws;
    wilting_point
        .iter()
        .zip(field_capacity)
        .zip(saturation)
        .zip(weights)
        .map(|(((dry, wet), full), weight)| (*dry, *wet, *full, *weight))
        .filter(|(dry, wet, full, weight)| {
            [dry, wet, full].iter().all(|value| value.is_finite()) && *weight > 0.0
        })
}

/// A strip over water contents from 0 to 60 %: how the odds of too dry, usable and draining share
/// each. `reading_m3_m3` marks a reading and tells its odds.
#[must_use]
pub fn moisture_odds(id: &str, draws: &WaterDraws<'_>, reading_m3_m3: Option<f64>) -> Figure {
    let title = "What a moisture reading means here".to_owned();
    let mut table = Table::new(["Water content", "Too dry", "Usable", "Draining", "No room"]);
    let at_each: Vec<MoistureOdds> =
        (0..=STEPS).filter_map(|step| odds_at(draws, step as f64 / 100.0)).collect();
    if at_each.len() <= STEPS {
        let mut canvas = Canvas::new(id, "moisture", WIDTH, 24.0);
        canvas.text((0.0, 16.0), Side::Start, LETTER, "Nothing is known yet");
        return canvas.finish(title, "What a reading means here is not known yet.".to_owned(), table);
    }
    for (step, odds) in at_each.iter().enumerate().step_by(5) {
        table.row([
            format!("{step} %"),
            percent(odds.too_dry),
            percent(odds.usable),
            percent(odds.draining),
            percent(odds.no_room),
        ]);
    }

    let mut canvas = Canvas::new(id, "moisture", WIDTH, TOP + DEEP + 40.0);
    let x = |percent: f64| LEFT + (RIGHT - LEFT) * percent / STEPS as f64;
    let y = |share: f64| TOP + DEEP * (1.0 - share);
    // Stacked from below in the order in which water fills the ground.
    let levels: [Vec<f64>; 4] = [
        vec![0.0; STEPS + 1],
        at_each.iter().map(|odds| odds.too_dry).collect(),
        at_each.iter().map(|odds| odds.too_dry + odds.usable).collect(),
        at_each.iter().map(|odds| odds.too_dry + odds.usable + odds.draining).collect(),
    ];
    let parts = [(Stuff::Unusable, "too dry"), (Stuff::Usable, "usable"), (Stuff::Draining, "draining")];
    for (pair, (stuff, _)) in levels.windows(2).zip(parts) {
        let outline: Vec<At> = (0..=STEPS)
            .map(|step| (x(step as f64), y(pair[1][step])))
            .chain((0..=STEPS).rev().map(|step| (x(step as f64), y(pair[0][step]))))
            .collect();
        canvas.shape(path(&outline, true), stuff, 1.0);
    }
    for (pair, (_, name)) in levels.windows(2).zip(parts) {
        let wide = text_width(name, LETTER) / 2.0 + 3.0;
        if let Some((step, share)) = roomiest(&pair[0], &pair[1], wide / (x(1.0) - x(0.0)), reading_m3_m3) {
            canvas.rimmed((x(step), y(share) + 4.0), Side::Middle, LETTER, name);
        }
    }
    frame(&mut canvas, &x, &y);

    let mut description = describe(&at_each);
    if let Some(reading) = reading_m3_m3.filter(|reading| (0.0..=0.6).contains(reading)) {
        let at = x(reading * 100.0);
        canvas.line((at, TOP - 6.0), (at, TOP + DEEP), 2.2);
        let side = if at > f64::midpoint(LEFT, RIGHT) { Side::End } else { Side::Start };
        let words = format!("reading {:.0} %", reading * 100.0);
        canvas.bold((at, TOP - 10.0), side, LETTER, &words);
        if let Some(odds) = odds_at(draws, reading) {
            description.push_str(&format!(
                " A reading of {:.0} % is too dry with odds of {}, usable with {}, draining with {}.",
                reading * 100.0,
                percent(odds.too_dry),
                percent(odds.usable),
                percent(odds.draining)
            ));
        }
    }
    canvas.finish(title, description, table)
}

/// Where between two curves a name reaching `half` steps to each side has most room, clear of the
/// reading's line if it can be; step and share. `None` where no line of text fits.
fn roomiest(low: &[f64], high: &[f64], half: f64, reading: Option<f64>) -> Option<(f64, f64)> {
    let reach = half.ceil() as usize;
    let mut best: Option<(f64, f64, f64)> = None;
    for step in reach..=STEPS.saturating_sub(reach) {
        let window = step - reach..=step + reach;
        let floor = low[window.clone()].iter().copied().fold(0.0, f64::max);
        let ceiling = high[window].iter().copied().fold(1.0, f64::min);
        let on_line = reading.is_some_and(|reading| (reading * 100.0 - step as f64).abs() < half + 0.5);
        let room = ceiling - floor - if on_line { 0.5 } else { 0.0 };
        if (ceiling - floor) * DEEP > LETTER && best.is_none_or(|best| room > best.0 + 1e-9) {
            best = Some((room, step as f64, f64::midpoint(floor, ceiling)));
        }
    }
    best.map(|(_, step, share)| (step, share))
}

fn frame(canvas: &mut Canvas, x: &dyn Fn(f64) -> f64, y: &dyn Fn(f64) -> f64) {
    canvas.line((LEFT, TOP), (LEFT, TOP + DEEP), 1.0);
    canvas.line((LEFT, TOP + DEEP), (RIGHT, TOP + DEEP), 1.0);
    for share in [0.0, 0.5, 1.0] {
        canvas.line((LEFT - 4.0, y(share)), (LEFT, y(share)), 1.0);
        canvas.text((LEFT - 6.0, y(share) + 4.0), Side::End, SMALL, &format!("{:.0}", share * 100.0));
    }
    canvas.text((0.0, 11.0), Side::Start, SMALL, "odds, %");
    for percent in (0..=STEPS).step_by(10) {
        let at = x(percent as f64);
        canvas.line((at, TOP + DEEP), (at, TOP + DEEP + 4.0), 1.0);
        canvas.text((at, TOP + DEEP + 16.0), Side::Middle, SMALL, &percent.to_string());
    }
    canvas.text(
        (f64::midpoint(LEFT, RIGHT), TOP + DEEP + 34.0),
        Side::Middle,
        SMALL,
        "water content, % by volume",
    );
}

fn describe(at_each: &[MoistureOdds]) -> String {
    let last = |test: &dyn Fn(&MoistureOdds) -> bool| at_each.iter().rposition(test);
    let dry = last(&|odds| odds.too_dry >= 0.95);
    let first_usable = at_each.iter().position(|odds| odds.usable >= 0.5);
    let last_usable = last(&|odds| odds.usable >= 0.5);
    let mut said = match dry {
        Some(step) if step > 0 => {
            format!("Up to {step} % water the ground is almost surely too dry for roots.")
        }
        _ => "No reading above nought is surely too dry.".to_owned(),
    };
    match (first_usable, last_usable) {
        (Some(from), Some(to)) => {
            said.push_str(&format!(" From {from} to {to} % it more likely than not holds usable water."));
        }
        _ => said.push_str(" At no water content are the odds of usable water above one half."),
    }
    said
}
