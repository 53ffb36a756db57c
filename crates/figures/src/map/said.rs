//! What a map says: its key, the table behind it, and its description.

use svg::node::element::{Circle, Path};

use super::ground::STEPS;
use super::{MapPicture, MapPoint};
use crate::canvas::{At, Canvas, SMALL, Side, rectangle};
use crate::chart::{Entry, key};
use crate::figure::Table;
use crate::palette::INK;
use crate::plan::PlanKind;

pub(super) fn legend(canvas: &mut Canvas, picture: &MapPicture<'_>, dots: bool, width: f64, top: f64) -> f64 {
    let mut y = top;
    if !picture.figures_are.is_empty() {
        for line in crate::words::wrapped(picture.figures_are, width - 20.0, SMALL, 3) {
            canvas.text((10.0, y + 9.0), Side::Start, SMALL, &line);
            y += 15.0;
        }
    }
    let swatch = |colour: &'static str| {
        move |canvas: &mut Canvas, (x, y): At| {
            canvas.add(
                Path::new()
                    .set("d", rectangle(x, y, 16.0, 10.0))
                    .set("fill", colour)
                    .set("stroke", INK)
                    .set("stroke-width", 0.8),
            );
        }
    };
    let signs: Vec<_> = STEPS.iter().map(|colour| swatch(colour)).collect();
    let mut entries: Vec<Entry<'_>> =
        picture.words().iter().zip(&signs).map(|(words, sign)| Entry { sign, words }).collect();
    let blank = |canvas: &mut Canvas, (x, y): At| {
        canvas.add(
            Path::new()
                .set("d", rectangle(x, y, 16.0, 10.0))
                .set("fill", "none")
                .set("stroke", INK)
                .set("stroke-width", 0.8)
                .set("stroke-dasharray", "2 2"),
        );
    };
    if let Some(words) = picture.without() {
        entries.push(Entry { sign: &blank, words });
    }
    let dot = |canvas: &mut Canvas, (x, y): At| {
        canvas.add(Circle::new().set("cx", x + 8.0).set("cy", y + 5.0).set("r", 3).set("fill", INK));
    };
    if dots {
        entries.push(Entry { sign: &dot, words: "reading" });
    }
    key(canvas, &entries, 10.0, width - 8.0, y)
}

pub(super) fn table(picture: &MapPicture<'_>, points: &[&MapPoint]) -> Table {
    let mut table = Table::new(["Figure", "Where and when"]);
    for point in points {
        table.row([point.label.clone(), point.note.clone()]);
    }
    if let Some(cells) = picture.cells {
        let all = cells.tints.iter().flatten().count().max(1);
        for (tint, words) in cells.words.iter().enumerate() {
            let held = cells.tints.iter().filter(|one| **one == Some(tint)).count();
            let share = 100.0 * held as f64 / all as f64;
            table.row([words.clone(), format!("{share:.0} % of the mapped ground")]);
        }
    }
    if let Some(tints) = picture.tints {
        for (shape, tint) in picture.shapes.iter().zip(&tints.shapes) {
            let figure = tint.as_ref().map_or(tints.without, |tint| tint.label.as_str());
            if matches!(shape.kind, PlanKind::Plot | PlanKind::Zone) && !figure.is_empty() {
                table.row([figure.to_owned(), shape.name.clone()]);
            }
        }
    }
    table
}

pub(super) fn description(picture: &MapPicture<'_>, points: &[&MapPoint], bar: &str) -> String {
    let mut said = match points.len() {
        0 => "The map shows no readings.".to_owned(),
        1 => format!("The map shows one reading, {}.", points[0].label),
        count => format!("The map shows {count} readings."),
    };
    if let Some(cells) = picture.cells {
        said.push_str(&format!(
            " Between them a surface in {} steps from {} to {}.",
            cells.words.len(),
            cells.words.first().map_or("", String::as_str),
            cells.words.last().map_or("", String::as_str)
        ));
        if cells.tints.iter().any(Option::is_none) {
            said.push_str(" Ground left blank is off the plot, too far from a reading, or not known.");
        }
    } else if let Some(tints) = picture.tints {
        let tinted = tints.shapes.iter().flatten().count();
        let areas = if tinted == 1 { "One area is".to_owned() } else { format!("{tinted} areas are") };
        said.push_str(&format!(" {areas} tinted, each as a whole."));
    } else {
        said.push_str(" Nothing is drawn between them.");
    }
    said.push_str(if picture.north_up { " North is up." } else { " Where north lies is not known." });
    said.push_str(&format!(" The scale bar stands for {bar}."));
    said
}
