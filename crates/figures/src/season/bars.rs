//! Rain and watering, a bar a day.

use super::{Plot, TOP};
use crate::canvas::{Canvas, SMALL, Side, rectangle};
use crate::measures::is_water;
use crate::palette::Stuff;
use crate::words::{number, round_steps};

pub(super) fn draw(canvas: &mut Canvas, plot: &Plot<'_>) {
    let base = plot.bars.start;
    canvas.text((0.0, 11.0), Side::Start, SMALL, &format!("rain and watering, {}", plot.shown.unit));
    let step = plot.step();
    let wide = (step * 0.8).max(0.8);
    for (day, one) in plot.days.iter().enumerate() {
        let mut floor = base;
        // Watering stands on the rain of the same day.
        for (amount, stuff) in [(one.rain_mm, Stuff::Rain), (one.watering_mm, Stuff::Watering)] {
            if !is_water(amount) || amount <= 0.0 {
                continue;
            }
            let tall = (base - plot.bars.at(amount)).max(1.0).min(floor - TOP);
            let x = plot.middle(day) - wide / 2.0;
            canvas.shape(rectangle(x, floor - tall, wide, tall), stuff, if wide > 3.0 { 0.8 } else { 0.5 });
            floor -= tall;
        }
    }
    canvas.line((plot.left, base), (plot.right, base), 1.0);
    canvas.line((plot.left, TOP), (plot.left, base), 1.0);
    let unit = plot.shown.convert(1.0);
    let most = plot.bars.to * unit;
    let (step, count) = round_steps(most, 2.0);
    for value in (1..=count).map(|n| step * n as f64).filter(|value| *value <= most * 1.001) {
        let y = plot.bars.at(value / unit);
        canvas.line((plot.left - 4.0, y), (plot.left, y), 1.0);
        canvas.text((plot.left - 7.0, y + 4.0), Side::End, SMALL, &number(value));
    }
}
