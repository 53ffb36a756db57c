//! Acidity: the pH now and the pH to reach among the ranges of the crops, and lime needs side by side.

use ground::kit::Spread;

use crate::canvas::{Canvas, LETTER, SMALL, Side, WIDTH, px, rectangle, text_width};
use crate::figure::{Figure, Table};
use crate::palette::Stuff;
use crate::words::{measure, number, round_steps, wrapped};

const ROW: f64 = 20.0;
const TOP: f64 = 40.0;
const NAMES: f64 = 108.0;
const RIGHT: f64 = WIDTH - 14.0;
/// Crops beyond these are left to the table.
const MOST_CROPS: usize = 14;

/// A crop's range of pH.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CropBand<'a> {
    /// Its name.
    pub name: &'a str,
    /// Lower end.
    pub low_ph: f64,
    /// Upper end.
    pub high_ph: f64,
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhScale<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// pH in water, where it was measured.
    pub now_ph: Option<f64>,
    /// pH to reach.
    pub target_ph: f64,
    /// The crops of the rotation.
    pub crops: &'a [CropBand<'a>],
}

/// The pH now and the pH to reach on a scale, over a bar for each crop's range.
#[must_use]
pub fn ph_scale(scale: &PhScale<'_>) -> Figure {
    let now = scale.now_ph.filter(|ph| ph.is_finite());
    let sound = |crop: &&CropBand<'_>| crop.low_ph.is_finite() && crop.high_ph > crop.low_ph;
    let crops: Vec<&CropBand<'_>> = scale.crops.iter().filter(sound).collect();
    let shown = &crops[..crops.len().min(MOST_CROPS)];
    let mut table = Table::new(["", "pH"]);
    table.row(["Now".to_owned(), now.map_or("not measured".to_owned(), number)]);
    table.row(["To reach".to_owned(), number(scale.target_ph)]);
    for crop in &crops {
        table.row([crop.name.to_owned(), format!("{} to {}", number(crop.low_ph), number(crop.high_ph))]);
    }
    let every = crops.iter().flat_map(|crop| [crop.low_ph, crop.high_ph]).chain(now);
    let (least, most) = every
        .chain([scale.target_ph].into_iter().filter(|ph| ph.is_finite()))
        .filter(|ph| (0.0..=14.0).contains(ph))
        .fold((5.0_f64, 7.5_f64), |(low, high), ph| (low.min(ph), high.max(ph)));
    let (from, to) = ((2.0 * (least - 0.2)).floor() / 2.0, (2.0 * (most + 0.2)).ceil() / 2.0);
    let x = |ph: f64| NAMES + (RIGHT - NAMES) * ((ph - from) / (to - from)).clamp(0.0, 1.0);
    let bottom = TOP + ROW * shown.len().max(1) as f64;
    let mut canvas = Canvas::new(scale.id, "acidity", WIDTH, bottom + 34.0);

    for (row, crop) in shown.iter().enumerate() {
        let y = TOP + ROW * row as f64;
        let name = wrapped(crop.name, NAMES - 10.0, SMALL, 1).join("");
        canvas.text((NAMES - 8.0, y + 13.0), Side::End, SMALL, &name);
        let width = (x(crop.high_ph) - x(crop.low_ph)).max(1.0);
        canvas.shape(rectangle(x(crop.low_ph), y + 3.0, px(width), ROW - 7.0), Stuff::Belief, 0.8);
    }
    if shown.is_empty() {
        canvas.text((NAMES, TOP + 13.0), Side::Start, SMALL, "no crops recorded here");
    }
    canvas.line((NAMES, bottom), (RIGHT, bottom), 1.0);
    let mut tick = from.ceil();
    while tick <= to + 1e-9 {
        canvas.line((x(tick), bottom), (x(tick), bottom + 4.0), 1.0);
        canvas.text((x(tick), bottom + 16.0), Side::Middle, SMALL, &number(tick));
        tick += 1.0;
    }
    canvas.text((NAMES, bottom + 30.0), Side::Start, SMALL, "sour");
    canvas.text((RIGHT, bottom + 30.0), Side::End, SMALL, "sweet");
    let target = Some(scale.target_ph).filter(|ph| ph.is_finite());
    // The lower of the two carries its label to its left, the higher to its right: neither line meets a label.
    let target_is_lower = target.zip(now).is_some_and(|(target, now)| target < now);
    if let Some(ph) = target {
        canvas.dashed((x(ph), TOP - 20.0), (x(ph), bottom), 1.6, "4 2");
        label(&mut canvas, x(ph), target_is_lower, &format!("to reach {}", number(ph)));
    }
    if let Some(ph) = now {
        canvas.line((x(ph), TOP - 20.0), (x(ph), bottom), 2.6);
        label(&mut canvas, x(ph), !target_is_lower, &format!("now {}", number(ph)));
    }
    let below = now.map_or(String::new(), |ph| {
        let step = scale.target_ph - ph;
        match step {
            s if s > 0.05 => format!(", {} below", number(s)),
            s if s < -0.05 => format!(", {} above", number(-s)),
            _ => ", where it should be".to_owned(),
        }
    });
    let mut description = format!(
        "pH now {}{below}; pH to reach {}.",
        now.map_or("not measured".to_owned(), number),
        number(scale.target_ph)
    );
    for crop in &crops {
        description.push_str(&format!(
            " {}: {} to {}.",
            crop.name,
            number(crop.low_ph),
            number(crop.high_ph)
        ));
    }
    canvas.finish("pH now, pH to reach, and what the crops bear".to_owned(), description, table)
}

/// A label beside the head of its line; one that finds no room to the right stands above it.
fn label(canvas: &mut Canvas, at: f64, leftward: bool, words: &str) {
    const GAP: f64 = 5.0;
    if leftward {
        canvas.bold((at - GAP, TOP - 10.0), Side::End, LETTER, words);
    } else if at + GAP + text_width(words, LETTER) < WIDTH {
        canvas.bold((at + GAP, TOP - 10.0), Side::Start, LETTER, words);
    } else {
        canvas.bold((WIDTH - 1.0, TOP - 25.0), Side::End, LETTER, words);
    }
}

/// The lime need by one method.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MethodNeed<'a> {
    /// Its name.
    pub name: &'a str,
    /// Is it the farm's method?
    pub chosen: bool,
    /// The need.
    pub need: Spread,
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LimeNeeds<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// Unit as written after a number.
    pub unit: &'a str,
    /// The methods.
    pub methods: &'a [MethodNeed<'a>],
}

/// Lime needs by method, each a bar for its 90 % range with a stroke at its median.
#[must_use]
pub fn lime_needs(needs: &LimeNeeds<'_>) -> Figure {
    const TALL: f64 = 36.0;
    let sound = |one: &&MethodNeed<'_>| {
        [one.need.low, one.need.median, one.need.high].iter().all(|value| value.is_finite())
    };
    let methods: Vec<&MethodNeed<'_>> = needs.methods.iter().filter(sound).collect();
    let mut table = Table::new(["Method", "Median", "90 % range"]);
    let mut description = String::new();
    for one in &methods {
        let mark = if one.chosen { " (the farm's method)" } else { "" };
        let range = format!("{} to {}", number(one.need.low), measure(one.need.high, needs.unit));
        table.row([format!("{}{mark}", one.name), measure(one.need.median, needs.unit), range.clone()]);
        description.push_str(&format!(
            "{}{mark}: {}, 90 % range {range}. ",
            one.name,
            measure(one.need.median, needs.unit)
        ));
    }
    let title = format!("Lime need by method, pure calcium carbonate, {}", needs.unit);
    if methods.is_empty() {
        let mut canvas = Canvas::new(needs.id, "acidity", WIDTH, 24.0);
        canvas.text((0.0, 16.0), Side::Start, LETTER, "No method gives a need");
        return canvas.finish(title, "No method gives a lime need.".to_owned(), table);
    }
    let (left, right) = (10.0, WIDTH - 14.0);
    let most = methods.iter().map(|one| one.need.high).fold(0.0, f64::max);
    let (step, count) = round_steps(most, 5.0);
    let top = step * count.max(1) as f64;
    let x = |value: f64| left + (right - left) * (value / top).clamp(0.0, 1.0);
    let bottom = TALL * methods.len() as f64 + 4.0;
    let mut canvas = Canvas::new(needs.id, "acidity", WIDTH, bottom + 22.0);
    for (row, one) in methods.iter().enumerate() {
        let y = TALL * row as f64;
        let value = number(one.need.median);
        let room = right - left - text_width(&value, SMALL) - 14.0;
        let name = wrapped(one.name, room, SMALL, 1).join("");
        if one.chosen {
            canvas.bold((left, y + 13.0), Side::Start, SMALL, &name);
            canvas.bold((right, y + 13.0), Side::End, SMALL, &value);
        } else {
            canvas.text((left, y + 13.0), Side::Start, SMALL, &name);
            canvas.text((right, y + 13.0), Side::End, SMALL, &value);
        }
        let (from, to) = (x(one.need.low.max(0.0)), x(one.need.high.max(0.0)));
        let stuff = if one.chosen { Stuff::Belief } else { Stuff::Range };
        canvas.shape(rectangle(from, y + 18.0, px((to - from).max(1.0)), 11.0), stuff, 0.8);
        let middle = x(one.need.median.max(0.0));
        canvas.line((middle, y + 15.0), (middle, y + 32.0), 2.4);
    }
    canvas.line((left, bottom), (right, bottom), 1.0);
    for at in 0..=count.max(1) {
        let value = step * at as f64;
        canvas.line((x(value), bottom), (x(value), bottom + 4.0), 1.0);
        let side = if at == 0 { Side::Start } else { Side::Middle };
        canvas.text((x(value), bottom + 16.0), side, SMALL, &number(value));
    }
    canvas.finish(title, description.trim_end().to_owned(), table)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_text_says_what_the_picture_shows() {
        let crops = [CropBand { name: "tomato", low_ph: 5.5, high_ph: 6.8 }];
        let scale = PhScale { id: "ph", now_ph: Some(5.4), target_ph: 6.3, crops: &crops };
        let figure = ph_scale(&scale);
        assert!(
            figure.description.starts_with("pH now 5.4, 0.9 below; pH to reach 6.3."),
            "{}",
            figure.description
        );
        assert_eq!(figure.table.rows.len(), 3);
        let spread = Spread { low: 1.0, median: 2.0, high: 3.0 };
        let methods = [MethodNeed { name: "Ontario: SMP buffer", chosen: true, need: spread }];
        let figure = lime_needs(&LimeNeeds { id: "needs", unit: "lb/100 ft²", methods: &methods });
        assert!(figure.description.contains("the farm's method") && figure.svg.contains("Ontario"));
    }

    #[test]
    fn nothing_and_nonsense_are_told_and_not_drawn() {
        let none = PhScale { id: "ph", now_ph: Some(f64::NAN), target_ph: f64::INFINITY, crops: &[] };
        assert!(!ph_scale(&none).svg.contains("NaN") && !ph_scale(&none).svg.contains("inf"));
        let empty = lime_needs(&LimeNeeds { id: "needs", unit: "g/m²", methods: &[] });
        assert_eq!(empty.description, "No method gives a lime need.");
        let zero = Spread { low: 0.0, median: 0.0, high: 0.0 };
        let flat = [MethodNeed { name: "x", chosen: false, need: zero }];
        assert!(!lime_needs(&LimeNeeds { id: "needs", unit: "g/m²", methods: &flat }).svg.contains("NaN"));
    }
}
