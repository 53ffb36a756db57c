//! Small pictures in text: the texture triangle with what is believed on it, and bars.

use advice::words::odds;
use ground::texture::{Class, Composition, polygons};

use crate::terminal::Terminal;

/// Rows of the triangle, and the characters along its base: near enough equal sides in a terminal,
/// where a character is about twice as high as wide.
const ROWS: usize = 17;
const BASE: usize = 41;

/// Clay at the top, sand at the lower left, silt at the lower right. Weights need not add to one.
/// One make-up is a dot; many are a cloud: dark where half of the weight lies, light up to 90 %.
pub(crate) fn triangle(soils: &[(Composition, f64)], unicode: bool) -> String {
    let mut cells: Vec<Vec<char>> = (0..ROWS)
        .map(|row| (0..width_of(row)).map(|column| background(row, column, unicode)).collect())
        .collect();
    shade(&mut cells, soils, unicode);
    for polygon in polygons() {
        let count = polygon.corners.len() as f64;
        let mean = |part: fn(&Composition) -> f64| polygon.corners.iter().map(part).sum::<f64>() / count;
        let (row, column) = cell_of(Composition::from_parts(
            mean(|soil| soil.sand),
            mean(|soil| soil.silt),
            mean(|soil| soil.clay),
        ));
        label(&mut cells[row], column, short(polygon.class));
    }
    if let [(only, _)] = soils {
        let (row, column) = cell_of(*only);
        cells[row][column] = if unicode { '●' } else { 'O' };
    }
    let mut lines = vec![format!("{}clay", " ".repeat(BASE / 2 + 2))];
    for (row, cells) in cells.iter().enumerate() {
        let indent = (BASE - width_of(row)) / 2 + 3;
        lines.push(format!("{}/{}\\", " ".repeat(indent), cells.iter().collect::<String>()));
    }
    lines.push(format!("sand{}silt", " ".repeat(BASE)));
    lines.join("\n")
}

/// Odd at every row, so that the rows stay centred.
fn width_of(row: usize) -> usize {
    let width = BASE as f64 * (row as f64 + 0.5) / ROWS as f64;
    2 * (width / 2.0).floor() as usize + 1
}

fn soil_at(row: usize, column: usize) -> Composition {
    let clay = 100.0 * (1.0 - (row as f64 + 0.5) / ROWS as f64);
    let from_left = (column as f64 + 0.5) / width_of(row) as f64;
    Composition { sand: (100.0 - clay) * (1.0 - from_left), silt: (100.0 - clay) * from_left, clay }
}

fn cell_of(soil: Composition) -> (usize, usize) {
    let row = ((1.0 - soil.clay / 100.0) * ROWS as f64).floor().clamp(0.0, ROWS as f64 - 1.0) as usize;
    let rest = soil.sand + soil.silt;
    let from_left = if rest > 0.0 { soil.silt / rest } else { 0.5 };
    let width = width_of(row);
    (row, ((from_left * width as f64).floor() as usize).min(width - 1))
}

/// A dot where the class changes to the right or downwards.
fn background(row: usize, column: usize, unicode: bool) -> char {
    let here = Class::of(soil_at(row, column));
    let right = column + 1 < width_of(row) && Class::of(soil_at(row, column + 1)) != here;
    let below = row + 1 < ROWS && {
        let shift = (width_of(row + 1) - width_of(row)) / 2;
        Class::of(soil_at(row + 1, column + shift)) != here
    };
    match (right || below, unicode) {
        (true, true) => '·',
        (true, false) => '.',
        _ => ' ',
    }
}

fn shade(cells: &mut [Vec<char>], soils: &[(Composition, f64)], unicode: bool) {
    if soils.len() < 2 {
        return;
    }
    let mut weights = std::collections::BTreeMap::<(usize, usize), f64>::new();
    for (soil, weight) in soils {
        *weights.entry(cell_of(*soil)).or_default() += weight;
    }
    let total: f64 = weights.values().sum();
    let mut heaviest: Vec<_> = weights.into_iter().collect();
    heaviest.sort_by(|a, b| b.1.total_cmp(&a.1));
    let mut before = 0.0;
    for ((row, column), weight) in heaviest {
        if before >= 0.9 * total {
            break;
        }
        cells[row][column] = match (before < 0.5 * total, unicode) {
            (true, true) => '▓',
            (true, false) => '#',
            (false, true) => '░',
            (false, false) => '+',
        };
        before += weight;
    }
}

fn label(row: &mut [char], centre: usize, text: &str) {
    let start = centre.saturating_sub(text.len() / 2).min(row.len().saturating_sub(text.len()));
    for (cell, letter) in row.iter_mut().skip(start).zip(text.chars()) {
        *cell = letter;
    }
}

/// The short names of the Soil Survey Manual.
fn short(class: Class) -> &'static str {
    match class {
        Class::Sand => "S",
        Class::LoamySand => "LS",
        Class::SandyLoam => "SL",
        Class::Loam => "L",
        Class::SiltLoam => "SIL",
        Class::Silt => "SI",
        Class::SandyClayLoam => "SCL",
        Class::ClayLoam => "CL",
        Class::SiltyClayLoam => "SICL",
        Class::SandyClay => "SC",
        Class::SiltyClay => "SIC",
        Class::Clay => "C",
    }
}

/// One bar for each name, shares from 0 to 1, with the odds in percent after it.
pub(crate) fn bars(rows: &[(String, f64)], terminal: &Terminal) -> String {
    /// The longest bar, and the columns taken by spaces and the odds.
    const LENGTH: usize = 30;
    const BESIDE: usize = 14;
    let unicode = terminal.unicode;
    let longest = rows.iter().map(|row| row.0.chars().count()).max().unwrap_or_default();
    let length = terminal.width.saturating_sub(longest + BESIDE).clamp(8, LENGTH);
    rows.iter()
        .map(|(name, share)| {
            let filled =
                ((share.clamp(0.0, 1.0) * length as f64).round() as usize).max(usize::from(*share >= 0.005));
            let bar = if unicode { "█" } else { "#" }.repeat(filled);
            let rest = if unicode { "·" } else { "." }.repeat(length - filled);
            format!("  {name:longest$}  {bar}{rest} {}", odds(*share))
        })
        .collect::<Vec<_>>()
        .join("\n")
}

/// The make-up in the middle of each cell of the triangle, to weigh a cloud by.
pub(crate) fn cells() -> impl Iterator<Item = Composition> {
    (0..ROWS).flat_map(|row| (0..width_of(row)).map(move |column| soil_at(row, column)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_cell_is_found_again() {
        for row in 0..ROWS {
            for column in 0..width_of(row) {
                assert_eq!(cell_of(soil_at(row, column)), (row, column));
            }
        }
        for corner in [(100.0, 0.0, 0.0), (0.0, 100.0, 0.0), (0.0, 0.0, 100.0)] {
            let (row, column) = cell_of(Composition { sand: corner.0, silt: corner.1, clay: corner.2 });
            assert!(column < width_of(row));
        }
    }
}
