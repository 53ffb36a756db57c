//! A jar of settled soil, drawn from its reading: layers to scale, the doubt about each boundary,
//! the water, what floats. What was not seen is drawn as such, and a jar on its first day shows
//! what has come down so far.

mod glass;
mod layers;
mod ruler;

use ground::kit::units::{Dimension, UnitSystem, show};
use ground::kit::{Bounded, Refusal};
use ground::texture::jar::{Clarity, JarReading, Top};

use crate::callout::{self, Callout};
use crate::canvas::{At, Canvas, SMALL, Side, WIDTH, path};
use crate::figure::{Figure, Table};
use crate::palette::Stuff;
use crate::words::sentence;
use glass::{FLOOR, JAR_MIDDLE, Outline, Scale};
use layers::Layer;

const LABELS: f64 = 190.0;

/// Draws a jar from its reading.
///
/// Heights are to scale; the widths are too where the jar's shape is known. A boundary read as a
/// range is a pale band, one that was not seen a torn edge half way between its neighbours.
/// `id` is the picture's own id on its page.
///
/// # Errors
/// A reading that contradicts itself, named by its field.
pub fn jar(id: &str, reading: &JarReading, system: UnitSystem) -> Result<Figure, Refusal> {
    let length = |mm: f64| show(mm, Dimension::SmallLength, system);
    let water = reading.water_height_mm.map(|height| height.get()).filter(|height| *height > 0.0);
    let float = reading.floating_organic_mm.map_or(0.0, |thickness| thickness.get());
    let layers = layers::layers(reading)?;
    let soil = layers.iter().map(highest).fold(0.0, f64::max);
    let surface = water.unwrap_or(soil * 1.6 + float).max(soil + float);
    let jar_mm = outline_top(reading, surface);
    let scale = Scale::of(Outline::of(&reading.shape, jar_mm), jar_mm, soil, jar_mm - surface + float + 4.0);

    let mut canvas = Canvas::new(id, "jar", WIDTH, 276.0);
    ruler::draw(&mut canvas, &scale, system);
    let mut labels = Vec::new();

    let above = above_the_soil(reading);
    let soil_top = layers.last().map_or(0.0, |layer| layer.drawn.1);
    if surface - float > soil_top {
        canvas.shape(scale.fill(soil_top, surface - float), above.0, 0.0);
        labels.push(label(
            &scale,
            (soil_top, surface - float),
            above.1.to_owned(),
            match water {
                Some(height) => vec![format!("surface at {}", length(height))],
                None => vec!["height not given".to_owned()],
            },
        ));
    }
    if float > 0.0 {
        canvas.shape(scale.fill(surface - float, surface), Stuff::Float, 0.8);
        let more = vec![format!("{}, left out", length(float))];
        labels.push(label(&scale, (surface - float, surface), "Floating".to_owned(), more));
    }
    for layer in &layers {
        canvas.shape(scale.fill(layer.drawn.0, layer.drawn.1), layer.stuff, 0.0);
    }
    for (at, layer) in layers.iter().enumerate() {
        edge(&mut canvas, &scale, layer);
        let below = at.checked_sub(1).map(|below| &layers[below]);
        labels.push(label(&scale, layer.drawn, sentence(layer.name), told_of(layer, below, &length)));
    }
    if water.is_some() {
        let y = scale.y(surface);
        canvas.line((scale.left(surface), y), (scale.right(surface), y), 1.2);
    }
    glass(&mut canvas, &scale);
    callout::draw(&mut canvas, labels, LABELS, 12.0, FLOOR + 8.0);
    Ok(finish(canvas, &layers, reading, &scale, above.1, &length))
}

/// The jar reaches above everything in it.
fn outline_top(reading: &JarReading, surface: f64) -> f64 {
    let known = Outline::of(&reading.shape, 1.0).tallest();
    (surface * 1.08).max(known).max(20.0)
}

fn highest(layer: &Layer) -> f64 {
    match layer.top {
        Top::Between { high_mm, .. } => high_mm.max(layer.drawn.1),
        Top::At { .. } | Top::Unseen { .. } => layer.drawn.1,
    }
}

/// What stands above the soil.
fn above_the_soil(reading: &JarReading) -> (Stuff, &'static str) {
    match reading.water_after_a_day {
        _ if layers::is_settling(reading) => (Stuff::Cloud, "Still settling"),
        Clarity::Cloudy => (Stuff::Cloud, "Cloudy water"),
        Clarity::Clear => (Stuff::Water, "Clear water"),
        Clarity::NotLooked => (Stuff::Water, "Water"),
    }
}

fn label(scale: &Scale, (low, high): (f64, f64), name: String, more: Vec<String>) -> Callout {
    // Where a piece is left out, the label points at the larger of what is drawn.
    let pieces = scale.pieces(low, high);
    let (low, high) =
        pieces.into_iter().max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0))).unwrap_or((low, high));
    let mm = f64::midpoint(low, high);
    Callout { at: (scale.right(mm) - 3.0, scale.y(mm)), name, more }
}

/// Lines under a layer's name: how thick, and how its top was seen.
fn told_of(layer: &Layer, below: Option<&Layer>, length: &dyn Fn(f64) -> String) -> Vec<String> {
    let mut told = Vec::new();
    told.push(thickness(layer, below, length));
    match layer.top {
        Top::At { .. } => {}
        Top::Between { low_mm: low, high_mm: high } => {
            told.push(format!("top {} to {}", length(low), length(high)))
        }
        Top::Unseen { .. } => told.push("top not seen".to_owned()),
    }
    if let Some(after) = layer.after_s {
        told.push(format!("marked after {}", show(after, Dimension::Duration, UnitSystem::Metric)));
    }
    told
}

fn thickness(layer: &Layer, below: Option<&Layer>, length: &dyn Fn(f64) -> String) -> String {
    let floor = below.map_or(Top::At { mm: 0.0 }, |layer| layer.top);
    match (floor, layer.top) {
        (Top::Unseen { .. }, _) | (_, Top::Unseen { .. }) => "thickness not known".to_owned(),
        (Top::At { .. }, Top::At { .. }) => length(layer.drawn.1 - layer.drawn.0),
        _ => format!("about {}", length(layer.drawn.1 - layer.drawn.0)),
    }
}

/// The top of a layer: a line, a pale band, or a torn edge.
fn edge(canvas: &mut Canvas, scale: &Scale, layer: &Layer) {
    let top = layer.drawn.1;
    match layer.top {
        Top::At { .. } => canvas.line((scale.left(top), scale.y(top)), (scale.right(top), scale.y(top)), 1.4),
        Top::Between { low_mm: low, high_mm: high } => {
            canvas.shape(scale.fill(low, high), Stuff::Doubt, 0.0);
            for mm in [low, high] {
                let y = scale.y(mm);
                canvas.dashed((scale.left(mm), y), (scale.right(mm), y), 1.0, "4 2");
            }
        }
        Top::Unseen { .. } => torn(canvas, scale, top),
    }
}

/// A torn edge: two ragged lines with paper between.
fn torn(canvas: &mut Canvas, scale: &Scale, mm: f64) {
    let (left, right, y) = (scale.left(mm), scale.right(mm), scale.y(mm));
    let ragged = |shift: f64| -> Vec<At> {
        let teeth = 14;
        (0..=teeth)
            .map(|tooth| {
                let x = left + (right - left) * f64::from(tooth) / f64::from(teeth);
                // Uneven teeth, the same each time.
                let jag = [0.0, 3.0, -1.0, 2.0, -3.0, 1.0, -2.0][tooth as usize % 7];
                (x, y + jag + shift)
            })
            .collect()
    };
    let (upper, lower) = (ragged(-2.5), ragged(2.5));
    let gap: Vec<At> = upper.iter().copied().chain(lower.iter().rev().copied()).collect();
    canvas.add(
        svg::node::element::Path::new()
            .set("d", path(&gap, true))
            .set("class", "figure-paper")
            .set("fill", crate::palette::PAPER),
    );
    canvas.trace(path(&upper, false), 1.0);
    canvas.trace(path(&lower, false), 1.0);
}

/// Walls, floor and lip; broken lines where a piece of the water is left out.
fn glass(canvas: &mut Canvas, scale: &Scale) {
    for (left, right) in scale.walls() {
        canvas.trace(path(&left, false), 2.4);
        canvas.trace(path(&right, false), 2.4);
    }
    let (left, right) = (scale.left(0.0), scale.right(0.0));
    canvas.trace(
        path(&[(left, FLOOR), (left + 4.0, FLOOR + 3.0), (right - 4.0, FLOOR + 3.0), (right, FLOOR)], false),
        2.4,
    );
    let (top, rim) = (scale.y(scale.jar_mm), scale.jar_mm);
    canvas.line((scale.left(rim) - 4.0, top), (scale.left(rim) + 1.2, top), 2.4);
    canvas.line((scale.right(rim) - 1.2, top), (scale.right(rim) + 4.0, top), 2.4);
    if let Some((low, high)) = scale.left_out {
        for (mm, y) in [(low, scale.y(low)), (high, scale.y(high))] {
            let (from, to) = (scale.left(mm) - 5.0, scale.right(mm) + 5.0);
            let wave: Vec<At> = (0..=12)
                .map(|n| {
                    (from + (to - from) * f64::from(n) / 12.0, y + [0.0, 2.5, 0.0, -2.5][n as usize % 4])
                })
                .collect();
            canvas.trace(path(&wave, false), 0.9);
        }
        let middle = f64::midpoint(scale.y(low), scale.y(high));
        canvas.text((JAR_MIDDLE, middle + 3.6), Side::Middle, SMALL - 1.0, "water left out");
    }
}

fn finish(
    canvas: Canvas,
    layers: &[Layer],
    reading: &JarReading,
    scale: &Scale,
    above: &str,
    length: &dyn Fn(f64) -> String,
) -> Figure {
    let mut table = Table::new(["Layer", "Thickness", "Top above the jar floor", "Marked after"]);
    let mut said = if layers.is_empty() {
        "No layer has been marked yet.".to_owned()
    } else {
        "From the floor up:".to_owned()
    };
    for (at, layer) in layers.iter().enumerate() {
        let below = at.checked_sub(1).map(|below| &layers[below]);
        let thick = thickness(layer, below, length);
        let top = match layer.top {
            Top::At { mm } => length(mm),
            Top::Between { low_mm: low, high_mm: high } => format!("{} to {}", length(low), length(high)),
            Top::Unseen { .. } => "not seen".to_owned(),
        };
        let after =
            layer.after_s.map_or_else(String::new, |s| show(s, Dimension::Duration, UnitSystem::Metric));
        said.push_str(&format!(
            " {}, {thick}, top {top}{};",
            layer.name,
            if after.is_empty() { String::new() } else { format!(", marked after {after}") }
        ));
        table.row([sentence(layer.name), thick, top, after]);
    }
    if said.ends_with(';') {
        said.pop();
        said.push('.');
    }
    if let Some(float) = reading.floating_organic_mm {
        let thick = length(float.get());
        said.push_str(&format!(" Floating organic matter, {thick}, is left out of the layers."));
        table.row(["Floating organic matter (left out)".to_owned(), thick, String::new(), String::new()]);
    }
    said.push_str(&format!(" Above the soil: {}", above.to_lowercase()));
    match reading.water_height_mm {
        Some(height) => {
            said.push_str(&format!(", surface at {}.", length(height.get())));
            table.row([above.to_owned(), String::new(), length(height.get()), String::new()]);
        }
        None => said.push_str(", height not given."),
    }
    if scale.left_out.is_some() {
        said.push_str(" A piece of the water column is left out of the drawing.");
    }
    if !scale.is_to_scale_across() {
        said.push_str(" Heights are to scale, the width is not.");
    }
    canvas.finish("The jar".to_owned(), said, table)
}
